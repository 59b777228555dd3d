//! Many fits: what a job asks to be compared, and what is learned from it.

pub mod compare;
pub mod lessons;
pub mod size_curve;
