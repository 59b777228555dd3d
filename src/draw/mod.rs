//! Pictures: plain numbers in, SVG out.
//!
//! Units: mm. Each picture has a file of its own and takes plain numbers and an outline, so that it depends on nothing
//! that computes, and draws on a [`svg::Canvas`], the one writer of SVG. What it gives back is a [`Picture`]: a file of
//! its own, or a part of a page whose style sheet holds [`style::rules`], [`style::variables`] and [`font::face_rule`].
//!
//! | file | what it draws |
//! |---|---|
//! | [`plan`] | plan section of a pair; the cut itself is [`cut`] |
//! | [`vertical`] | vertical section of one lens |
//! | [`detail`] | the edge at its thickest point, enlarged |
//! | [`edges`] | the thickest edges of many lenses |
//! | [`clock`] | edge thickness round the rim of both lenses |
//! | [`over`] | the plan sections of two pairs laid over each other |
//! | [`front`] | front view of a pair as worn, with boxes, centres, reaches and blanks |
//! | [`layout`] | the outline of a lens laid in its blank |
//! | [`outlines`] | the outlines of a pair at true size |
//! | [`ruler`] | a ruler and a card, to check a printer |
//! | [`view`] | the frame front from a three-quarter view, with the edge that is seen |
//! | [`map`] | thickness map of one lens, and the key that maps share; lines and bands are [`contours`] |
//! | [`chart`] | lines over a quantity that varies |
//! | [`field`] | contours of a quantity over two others that vary |
//! | [`worked`] | one lens with the points of its calculation, and a section with the sags |
//! | [`strip`] | how sure a number is |
//! | [`bars`] | one quantity of many things, a bar each |
//!
//! To add a picture: a file with a struct of all it shows and a `draw` that returns a [`Picture`], and its specimens in
//! `tests/it/pictures.rs`, which draws them to pixels in `target/tmp/pictures`. Look at them.

mod backend;
pub mod bars;
pub mod chart;
pub mod clock;
pub mod contours;
pub mod cut;
pub mod detail;
pub mod dimension;
pub mod edges;
pub mod field;
pub mod font;
pub mod front;
pub mod label;
pub mod layout;
pub mod map;
pub mod number;
pub mod outlines;
pub mod over;
pub mod picture;
pub mod plan;
#[cfg(feature = "cli")]
pub mod png;
pub mod ruler;
mod smooth;
pub mod strip;
pub mod style;
pub mod svg;
pub mod unrolled;
pub mod vertical;
pub mod view;
pub mod worked;

pub use picture::Picture;
