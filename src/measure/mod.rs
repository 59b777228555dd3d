//! What is there: the thickness field of a lens in its outline, its edge, volume and edging. Nothing is decided here.
//!
//! Units: mm, mm³, degrees. Points in the outline's own coordinates: from the boxed centre, x to the observer's right,
//! y up.

mod beside_rim;
mod chamfer;
mod course;
mod cut_out;
mod depth_of_cut;
mod field;

pub use beside_rim::{BesideRim, Shoulder};
pub use chamfer::{Corner, Corners};
pub use course::{Ball, Course, Passed, Worst};
pub use cut_out::CutOut;
pub use depth_of_cut::{DepthOfCut, depth_of_cut};
pub use field::{EdgePoint, Edges, LowestPoint};

use crate::lens::Lens;
use crate::outline::{Density, Outline};
use crate::surface::{Jet, Slope};
use kurbo::Vec2;

/// Which surface of a lens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Toward the observer.
    Front,
    /// Toward the eye.
    Back,
}

/// A surface that ends before the outline does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TooShort {
    /// Which surface.
    pub side: Side,
    /// How far it reaches from the reference point, in the direction where it is wanted most.
    pub reach_mm: f64,
    /// How far it ought to.
    pub wanted_mm: f64,
}

/// A lens in its outline.
#[derive(Clone, Copy, Debug)]
pub struct Mounted<'a> {
    /// The lens, measured from the reference point.
    pub lens: &'a Lens,
    /// The outline, measured from the boxed centre.
    pub outline: &'a Outline,
    /// The reference point, from the boxed centre.
    pub reference: Vec2,
}

impl Mounted<'_> {
    /// Thickness at a point; `None` beyond a surface.
    #[must_use]
    pub fn thickness(&self, p: Vec2) -> Option<f64> {
        self.lens.thickness(p - self.reference)
    }

    /// Thickness and its gradient at a point.
    #[must_use]
    pub fn slope(&self, p: Vec2) -> Option<Slope> {
        self.lens.slope(p - self.reference)
    }

    /// Thickness with first and second derivatives at a point.
    #[must_use]
    pub fn jet(&self, p: Vec2) -> Option<Jet> {
        self.lens.jet(p - self.reference)
    }

    /// How densely the outline must be sampled: by how steeply the steeper surface may stand at its farthest point.
    #[must_use]
    pub fn density(&self) -> Density {
        self.density_within(self.outline.farthest_mm(self.reference))
    }

    /// The same where it is known that the outline reaches this far from the reference point.
    #[must_use]
    pub(crate) fn density_within(&self, farthest_mm: f64) -> Density {
        let steepness = self.lens.front().steepness(farthest_mm).max(self.lens.back().steepness(farthest_mm));
        match steepness * steepness {
            s if s < 0.72 => Density::Plain,
            s if s < 0.8 => Density::Fine,
            _ => Density::Finest,
        }
    }

    /// Which surface ends too soon, if one does, at the farthest point of the outline that it does not reach.
    #[must_use]
    pub fn too_short(&self) -> Option<TooShort> {
        let nodes = self.outline.nodes(Density::Finest).iter().map(|node| node.jet.p - self.reference);
        let missed = nodes.filter(|&p| self.lens.thickness(p).is_none());
        let farthest = missed.reduce(|a, b| if b.hypot2() > a.hypot2() { b } else { a })?;
        TooShort::toward(self.lens, farthest)
    }
}

impl TooShort {
    /// Which surface of a lens does not reach the point `at` (from the reference point), if one does not.
    #[must_use]
    pub fn toward(lens: &Lens, at: Vec2) -> Option<TooShort> {
        [(Side::Front, lens.front()), (Side::Back, lens.back())].into_iter().find_map(|(side, surface)| {
            surface.reach_toward(at).map(|reach_mm| TooShort { side, reach_mm, wanted_mm: at.hypot() })
        })
    }
}
