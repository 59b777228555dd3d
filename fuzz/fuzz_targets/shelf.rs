//! Any text as a file of materials.
#![no_main]

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let judged = rimwise::read::material(text.as_bytes(), "glass");
    let sound = !judged.findings.iter().any(rimwise::finding::Finding::is_fault);
    assert_eq!(judged.value.is_some(), sound);
});
