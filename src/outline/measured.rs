//! A lens shape that was measured: the curves of both lenses, to be scaled into any box.
//!
//! Units: mm.

use super::trace::Traced;
use super::{Curve, Outline};
use crate::eye::{Eye, Eyes};
use kurbo::CubicBez;

/// An eye size is told to this, mm: no tracer reads finer, and a lens cannot tell.
const TOLD_MM: f64 = 0.001;

/// A measured lens shape, prepared once for any number of lenses.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The lens that the box belongs to, and its curve.
    first: (Eye, Vec<CubicBez>),
    /// The curve of the other, where it was measured too.
    second: Option<Vec<CubicBez>>,
    width_mm: f64,
    depth_mm: f64,
    bridge_mm: Option<f64>,
}

impl Measured {
    /// The shape of both lenses; `None` of neither. One that was not measured is the mirror image of the other. The box is
    /// that of the right lens where it was measured. `bridge_mm` is what was measured between the two, where known.
    #[must_use]
    pub fn new(traced: Eyes<Option<Traced>>, bridge_mm: Option<f64>) -> Option<Measured> {
        let (eye, first, second) = match (traced.right, traced.left) {
            (Some(right), left) => (Eye::Right, right, left),
            (None, Some(left)) => (Eye::Left, left, None),
            (None, None) => return None,
        };
        let [width_mm, depth_mm] = first.box_mm();
        let second = second.map(|second| second.pieces);
        Some(Measured { first: (eye, first.pieces), second, width_mm, depth_mm, bridge_mm })
    }

    /// The width of its box as it was measured, to a thousandth of a millimetre.
    #[must_use]
    pub fn eye_size_mm(&self) -> f64 {
        // Divided, so that the number is the one that people write.
        (self.width_mm / TOLD_MM).round() / (1.0 / TOLD_MM)
    }

    /// Height over width of its box, so that its height at that eye size is the one measured.
    #[must_use]
    pub fn depth_ratio(&self) -> f64 {
        self.depth_mm / self.eye_size_mm()
    }

    /// What was measured between the two lenses.
    #[must_use]
    pub fn bridge_mm(&self) -> Option<f64> {
        self.bridge_mm
    }

    /// The outline of this eye's lens, brought into its box.
    #[must_use]
    pub fn outline(&self, eye: Eye, width_mm: f64, depth_mm: f64) -> Outline {
        let boxed = |pieces: &[CubicBez]| Curve::boxed(pieces, width_mm, depth_mm);
        let (measured, first) = &self.first;
        let curve = match &self.second {
            _ if eye == *measured => boxed(first),
            Some(second) => boxed(second),
            None => boxed(first).mirrored(),
        };
        Outline::new(curve, width_mm, depth_mm)
    }
}
