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
