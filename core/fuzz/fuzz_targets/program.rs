//! See `tests/src/fuzz`.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| jigless_tests::fuzz::texts::program(bytes));
