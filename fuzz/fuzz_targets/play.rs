#![no_main]
use libfuzzer_sys::{fuzz_mutator, fuzz_target};

fuzz_target!(|bytes: &[u8]| swardplay_fuzz::play(bytes));
fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    swardplay_fuzz::mutate::toml(data, size, max_size, seed)
});
