//! Any text as a file of materials.
#![no_main]

use libfuzzer_sys::fuzz_target;
use rimwise::material::Material;

fuzz_target!(|text: &str| {
    let _ = Material::read("glass", text);
});
