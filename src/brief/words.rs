//! Meanings that a brief and JSON write as one of a few words, from one list of each.

/// Makes a type of the meanings in a list, each with its word, in the order in which they are shown.
macro_rules! words {
    ($(#[$about:meta])* $of:ident { $($(#[doc = $doc:literal])+ $meaning:ident = $word:literal,)+ }) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
        pub enum $of {
            $($(#[doc = $doc])+ #[serde(rename = $word)] $meaning,)+
        }

        impl $of {
            /// All of them, in the order in which they are shown.
            pub const ALL: [Self; [$($word),+].len()] = [$(Self::$meaning),+];

            /// The word in a brief and in JSON.
            pub fn keyword(self) -> &'static str {
                match self {
                    $(Self::$meaning => $word,)+
                }
            }

            /// What a word of a brief names.
            pub fn from_keyword(word: &str) -> Option<Self> {
                Self::ALL.into_iter().find(|meaning| meaning.keyword() == word)
            }
        }

        impl AsRef<str> for $of {
            fn as_ref(&self) -> &str {
                self.keyword()
            }
        }
    };
}
pub(crate) use words;
