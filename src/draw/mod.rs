//! Pictures: plain numbers in, SVG out.
//!
//! Units: mm. Each picture has a file of its own and takes plain numbers, so that it depends on nothing that computes;
//! [`svg`] is the one writer, [`style`] the one place of colours and line kinds.

mod backend;
pub mod chart;
pub mod contours;
pub mod cut;
pub mod dimension;
pub mod font;
pub mod label;
pub mod map;
pub mod number;
pub mod picture;
pub mod plan;
mod smooth;
pub mod style;
pub mod svg;

pub use picture::Picture;
