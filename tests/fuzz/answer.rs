//! Drawn briefs of every feature, with accidents to their values, answered as a whole.
#![no_main]

use std::time::Duration;

use libfuzzer_sys::{Corpus, fuzz_target};
use washline_fuzz::mutator::{shown, values};

/// A search that needs longer is given up.
const PATIENCE: Duration = Duration::from_secs(1);

fuzz_target!(|bytes: &[u8]| -> Corpus {
    match shown::answer(&values::spelt(bytes), PATIENCE) {
        // Nothing is learnt from what the reader refuses: the other targets look at that.
        Ok("refused") => Corpus::Reject,
        Ok(_) => Corpus::Keep,
        Err(fault) => panic!("{fault}"),
    }
});
