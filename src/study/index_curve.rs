//! One frame at one size over the refractive index: thickest edge and centre, made to order, from the true solve.
//!
//! Units: mm in the names. Base curve and least thicknesses are those of one lens option; blanks are left out.

use super::tip::Varied;
use crate::eye::Eye;
use crate::job::Addressed;

/// The range that curves run over at the least.
const INDEX: (f64, f64) = (1.50, 1.90);
/// Steps of a curve.
const STEPS: u32 = 20;

/// A pair of one index.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IndexPoint {
    /// The index.
    pub index: f64,
    /// The larger thickest edge of the two.
    pub edge_max_mm: f64,
    /// The larger centre of the two; `None` where a reference point lies outside its shape.
    pub centre_mm: Option<f64>,
}

/// The curve, rising, wide enough to hold `also`; what cannot be made is left out.
#[must_use]
pub fn index_curve(at: &Addressed<'_>, also: &[f64]) -> Vec<IndexPoint> {
    let varied = Varied::new(at);
    let (low, high) = also.iter().fold(INDEX, |(low, high), &index| (low.min(index), high.max(index)));
    let indices = (0..=STEPS).map(|i| low + (high - low) * f64::from(i) / f64::from(STEPS));
    let point = |index: f64| {
        let [right, left] = [varied.of_index(Eye::Right, index)?, varied.of_index(Eye::Left, index)?];
        let centre =
            |lens: &crate::choose::centre::Settled| (lens.reference_inside_mm >= 0.0).then(|| lens.lens.centre_mm());
        Some(IndexPoint {
            index,
            edge_max_mm: right.edges.max.thickness_mm.max(left.edges.max.thickness_mm),
            centre_mm: centre(&right).zip(centre(&left)).map(|(a, b)| a.max(b)),
        })
    };
    indices.filter_map(point).collect()
}
