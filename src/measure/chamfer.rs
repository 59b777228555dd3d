//! The safety chamfer: the sharp corners of an edge, front and back, taken off at 45°.
//!
//! Units: mm, mm³. Along the inward normal both faces are taken as straight, over a few tenths of a millimetre.

use super::{Course, Mounted, Passed};
use crate::outline::{Density, Turn};
use kurbo::Vec2;
use std::f64::consts::FRAC_1_SQRT_2;

/// What a chamfer leaves of a corner: how far it reaches along the edge and along the face inward.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Corner {
    /// Along the edge, parallel to z.
    pub along_mm: f64,
    /// Inward.
    pub inward_mm: f64,
}

/// Both corners of an edge at one place of the outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corners {
    /// How far inside the outline they stand: at the shoulder of a bevel.
    pub inset_mm: f64,
    /// The front one.
    pub front: Corner,
    /// The back one.
    pub back: Corner,
}

impl Corner {
    /// `rise` is how fast the face turns away from the edge's own side, outward: 0 where they meet at a right angle.
    fn of(along_mm: f64, rise: f64) -> Option<Corner> {
        // A face that falls at 45° itself has no corner to be taken off.
        let (along_mm, open) = (along_mm.max(0.0), 1.0 - rise);
        (open > 0.0).then(|| Corner { along_mm, inward_mm: along_mm / open })
    }

    /// What is taken off a millimetre of outline, when the corner stands `inset_mm` inside it.
    fn area_mm2(&self, turn: &Turn, inset_mm: f64) -> f64 {
        // The triangle's middle lies a third inward.
        let run = (1.0 - turn.curvature * (inset_mm + self.inward_mm / 3.0)).max(0.0);
        0.5 * self.along_mm * self.inward_mm * run
    }
}

impl Mounted<'_> {
    /// What a chamfer of this face width comes to at a place of the edge: the whole width where the edge has room for it
    /// beside bevel or groove, else what room there is. `None` where a surface ends too soon.
    #[must_use]
    pub fn corners(&self, passed: &Passed, normal: Vec2, inset_mm: f64, face_mm: f64) -> Option<Corners> {
        let at = passed.point - inset_mm * normal - self.reference;
        let (front, back) = (self.lens.front().slope(at)?, self.lens.back().slope(at)?);
        let back_z = self.lens.centre_mm() + back.z;
        let (tip_z, half) = (passed.tip_z(), passed.seat.half_mm);
        let along = FRAC_1_SQRT_2 * face_mm;
        Some(Corners {
            inset_mm,
            front: Corner::of(along.min(tip_z - half - front.z), front.gradient.dot(normal))?,
            back: Corner::of(along.min(back_z - tip_z - half), -back.gradient.dot(normal))?,
        })
    }
}

impl Course<'_> {
    /// What chamfers of this face width take off both corners, all round; `None` where a surface ends too soon.
    #[must_use]
    pub fn chamfered_mm3(&self, face_mm: f64) -> Option<f64> {
        let mounted = self.mounted();
        let mut sum = 0.0;
        for node in mounted.outline.nodes(Density::Finest) {
            let passed = self.at(node.jet.p, None)?;
            let corners = mounted.corners(&passed, node.turn.normal, self.inset_mm(&passed), face_mm)?;
            let area = |corner: &Corner| corner.area_mm2(&node.turn, corners.inset_mm);
            sum += node.weight * node.turn.speed * (area(&corners.front) + area(&corners.back));
        }
        Some(sum)
    }
}
