//! What is told to people and to other programs: text, pages, JSON. Values in, text out: no file, no standard output.

pub mod findings;
pub mod materials;
