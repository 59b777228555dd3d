//! What is told to people and to other programs: text, pages, JSON. Values in, text out: no file, no standard output.

pub mod findings;
pub mod folder;
pub mod formula;
#[cfg(feature = "cli")]
pub mod holding;
pub mod html;
pub mod materials;
pub mod names;
pub mod notes;
pub mod number;
#[cfg(feature = "cli")]
pub mod one_more;
pub mod orders;
pub mod pictures;
pub mod promise;
pub mod sweep_rows;
#[cfg(feature = "cli")]
pub mod text;
pub mod wire;
pub mod words;
