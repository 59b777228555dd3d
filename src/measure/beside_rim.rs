//! What of a bevelled edge stands before and behind its rim.
//!
//! Units: mm. z from the vertex of the front, toward the eye.

use super::{EdgePoint, Mounted};
use crate::rim::Seat;

/// The shoulder of a bevel at a point of the edge: the flat of the lens that the rim touches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shoulder {
    /// z of the edge's front corner before it is bevelled, from which a [`Seat`] is counted.
    pub corner_z: f64,
    /// z of the shoulder's front corner.
    pub front_z: f64,
    /// z of its back corner.
    pub back_z: f64,
}

/// What of an edge shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BesideRim {
    /// Before the rim; negative where the rim stands before the lens.
    pub before_mm: f64,
    /// Behind the rim; negative where the rim hides the edge.
    pub behind_mm: f64,
}

impl Mounted<'_> {
    /// The shoulder at a point of the edge for a bevel that sits so; `None` where a surface ends too soon.
    #[must_use]
    pub fn shoulder(&self, edge: &EdgePoint, seat: &Seat) -> Option<Shoulder> {
        let normal = self.outline.distances(edge.point).normal;
        let inside = edge.point - seat.inset_mm() * normal;
        let corner_z = self.lens.front().sag(edge.point - self.reference)?;
        let front_z = self.lens.front().sag(inside - self.reference)?;
        Some(Shoulder { corner_z, front_z, back_z: front_z + self.thickness(inside)? })
    }
}

impl Shoulder {
    /// Thickness of the shoulder.
    #[must_use]
    pub fn thickness_mm(&self) -> f64 {
        self.back_z - self.front_z
    }

    /// What of it shows beside a rim.
    #[must_use]
    pub fn beside_rim(&self, seat: &Seat) -> BesideRim {
        BesideRim {
            before_mm: self.corner_z + seat.rim_front_mm - self.front_z,
            behind_mm: self.back_z - self.corner_z - seat.rim_back_mm,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lens::Recipe;
    use crate::outline::Outline;
    use crate::rim::Rim;
    use crate::rx::{Power, Prism};
    use kurbo::Vec2;

    /// A −4.00 on a sphere of 530/4 mm in a 50 mm circle, the reference point in its middle or 2 mm toward the place looked
    /// at, by plain radii: the bevel is 0.5 mm high with flanks of 55°.
    #[test]
    fn a_shoulder_on_a_circle_by_hand() {
        let recipe = Recipe { power: Power::spherical(-4.0), prism: Prism::default(), index: 1.53, base_curve_d: 4.0 };
        let lens = recipe.at_centre(2.0).expect("a lens");
        let outline = Outline::ellipse(50.0, 50.0);
        let sag = |radius: f64, y: f64| radius - (radius * radius - y * y).sqrt();
        let (front, back) = (530.0 / 4.0, 1.0 / lens.back_curvatures()[0]);
        for off in [0.0, 2.0] {
            let mounted = Mounted { lens: &lens, outline: &outline, reference: Vec2::new(off, 0.0) };
            let (corner, inside) = (25.0 - off, 24.5 - off);
            let edge_mm = 2.0 + sag(back, corner) - sag(front, corner);
            let edge = EdgePoint { point: Vec2::new(25.0, 0.0), deg: 0.0, thickness_mm: edge_mm };
            // The rim is 2.2 mm deep and its groove in its middle; the bevel's tip is 1 mm behind the front corner.
            let seat = Rim::Metal.seat(edge_mm, 1.0, Some(2.2));
            let shoulder = mounted.shoulder(&edge, &seat).expect("whole");
            assert!((seat.inset_mm() - 0.5).abs() < 1e-12);
            assert!((shoulder.corner_z - sag(front, corner)).abs() < 1e-12);
            assert!((shoulder.front_z - sag(front, inside)).abs() < 1e-12);
            assert!((shoulder.back_z - (2.0 + sag(back, inside))).abs() < 1e-12);
            let thick = 2.0 + sag(back, inside) - sag(front, inside);
            assert!((shoulder.thickness_mm() - thick).abs() < 1e-12, "{} for {thick}", shoulder.thickness_mm());
            let beside = shoulder.beside_rim(&seat);
            let before = sag(front, corner) + seat.rim_front_mm - sag(front, inside);
            let behind = 2.0 + sag(back, inside) - sag(front, corner) - seat.rim_back_mm;
            assert!(
                (beside.before_mm - before).abs() < 1e-12 && (beside.behind_mm - behind).abs() < 1e-12,
                "{beside:?}"
            );
            // Before, in and behind the rim: the whole shoulder.
            let sum = beside.before_mm + (seat.rim_back_mm - seat.rim_front_mm) + beside.behind_mm;
            assert!((sum - thick).abs() < 1e-12 && behind > 0.5, "{sum} for {thick}");
        }
    }
}
