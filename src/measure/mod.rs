//! What is there: the thickness field of a lens in its outline, its edge, volume and edging. Nothing is decided here.
//!
//! Units: mm, mm³, degrees. Points in the outline's own coordinates: from the boxed centre, x to the observer's right,
//! y up.

mod across;
mod beside_rim;
mod chamfer;
mod course;
mod cut_out;
mod depth_of_cut;
mod field;

pub use beside_rim::{BesideRim, Shoulder};
pub use chamfer::{Corner, Corners};
pub use course::{Ball, Course, Passed, Worst};
pub use cut_out::{CutOut, Integral, IntegralNode};
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lens::Recipe;
    use crate::rx::{Power, Prism};

    /// A front of 53 mm radius and a flatter back: the front stands the steeper.
    fn steep() -> Lens {
        let recipe = Recipe { power: Power::spherical(6.0), prism: Prism::default(), index: 1.53, base_curve_d: 10.0 };
        recipe.at_centre(9.0).expect("a lens")
    }

    /// Plain up to a squared sine of 0.72, fine to 0.8: what the promise of 1e-7 of the volume wants.
    #[test]
    fn the_steeper_a_surface_stands_the_denser_it_is_looked_at() {
        let lens = steep();
        let circle = Outline::ellipse(50.0, 50.0);
        let mounted = Mounted { lens: &lens, outline: &circle, reference: Vec2::ZERO };
        let at = |squared: f64| mounted.density_within(53.0 * squared.sqrt());
        let tried = [(0.1, Density::Plain), (0.719, Density::Plain), (0.721, Density::Fine), (0.799, Density::Fine)];
        for (squared, wanted) in tried.into_iter().chain([(0.801, Density::Finest), (0.99, Density::Finest)]) {
            assert_eq!(at(squared), wanted, "{squared}");
        }
        assert_eq!(mounted.density(), Density::Plain);
    }

    /// An oval 120 mm wide, 6 mm to the right of the reference point: the front ends at 53 mm on both sides, and is
    /// missed most at 66 mm.
    #[test]
    fn what_ends_too_soon_is_told_where_it_is_missed_most() {
        let lens = steep();
        let oval = Outline::ellipse(120.0, 60.0);
        let found = Mounted { lens: &lens, outline: &oval, reference: Vec2::new(-6.0, 0.0) }.too_short();
        let TooShort { side, reach_mm, wanted_mm } = found.expect("the front ends");
        assert_eq!(side, Side::Front);
        assert!((reach_mm - 53.0).abs() < 1e-9 && (wanted_mm - 66.0).abs() < 0.1, "{reach_mm} of {wanted_mm}");
        let small = Outline::ellipse(50.0, 40.0);
        assert_eq!(Mounted { lens: &lens, outline: &small, reference: Vec2::ZERO }.too_short(), None);
    }
}
