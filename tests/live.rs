//! The page that is alive, asked over a real socket: who may ask, what is written, and what is answered.

mod live {
    pub mod plays;
    pub mod safe;
    pub mod served;
}
