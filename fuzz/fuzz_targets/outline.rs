//! Any bytes as an outline file: told what is wrong with it, or worked.
#![no_main]

use libfuzzer_sys::fuzz_target;

#[path = "../jobs.rs"]
#[expect(dead_code, reason = "the other targets write jobs")]
mod jobs;
#[path = "../outlines.rs"]
#[expect(dead_code, reason = "the tests write outlines")]
mod outlines;

fuzz_target!(|bytes: &[u8]| {
    let _ = outlines::worked(bytes, false);
});
