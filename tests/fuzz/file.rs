//! Any bytes as a file.
#![no_main]

use libfuzzer_sys::fuzz_target;
use washline_fuzz::hold;
use washline_fuzz::mutator::checks;

fuzz_target!(|bytes: &[u8]| hold(checks::file(bytes)));
