//! Any text as an amount, a price, a currency and the line of a spec.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use washline::brief::Brief;
use washline_fuzz::hold;
use washline_fuzz::mutator::checks;

static PLAIN: LazyLock<Brief> = LazyLock::new(checks::plain);

fuzz_target!(|text: &str| {
    hold(checks::word(text));
    hold(checks::line(&PLAIN, text));
});
