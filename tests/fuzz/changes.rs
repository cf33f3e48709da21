//! Any text as settings and swaps of the starter brief, a line each, and its first line as a key to sweep.
#![no_main]

use libfuzzer_sys::fuzz_target;
use washline::read::starter;
use washline_fuzz::hold;
use washline_fuzz::mutator::checks;

fuzz_target!(|text: &str| {
    hold(checks::changed(starter().as_bytes(), &checks::changes(text)));
    hold(checks::key(text.lines().next().unwrap_or_default()));
});
