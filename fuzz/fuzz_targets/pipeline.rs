//! Jobs written from the catalogue of keys, through to table and JSON.
#![no_main]

use arbitrary::Unstructured;
use libfuzzer_sys::fuzz_target;

#[path = "../jobs.rs"]
mod jobs;

fuzz_target!(|bytes: &[u8]| {
    if let Ok(text) = jobs::written(&mut Unstructured::new(bytes)) {
        let _ = jobs::worked(text.as_bytes(), false);
    }
});
