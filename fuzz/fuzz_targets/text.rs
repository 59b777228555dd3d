//! Any bytes as a job file: told what is wrong with it, or worked.
#![no_main]

use libfuzzer_sys::fuzz_target;
use rimwise::material::Shelf;
use rimwise::read::{self, messages};

#[path = "../jobs.rs"]
#[expect(dead_code, reason = "the other targets write jobs")]
mod jobs;

fuzz_target!(|bytes: &[u8]| {
    let _ = jobs::worked(bytes, false);
    let findings = read::job(bytes, &Shelf::built_in()).findings;
    let text = String::from_utf8_lossy(bytes);
    let _ = messages::print(messages::Source { name: "job.toml", text: &text }, &findings);
});
