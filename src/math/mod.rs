//! Plain numerical tools: angles, roots, quadrature, shares. Not a word of optics.
//!
//! Units: whatever the caller's are; angles say `deg` or `rad` in their names.

pub mod angle;
pub mod change;
pub mod least_squares;
pub mod periodic;
pub mod quadrature;
pub mod roots;
pub mod shapley;
pub mod spline;
