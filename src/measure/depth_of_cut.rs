//! How deep the wheel goes into the blank: from the blank's edge to the outline, on rays from the boxed centre, about
//! which the lens is taken to turn.
//!
//! Units: mm and degrees. Points from the boxed centre.

use super::course::{Worst, worst};
use crate::outline::{Density, Outline};
use kurbo::Vec2;
use std::f64::consts::TAU;

/// The depth of cut round an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthOfCut {
    /// The greatest, and where.
    pub most: Worst,
    /// Its mean over the turn of the lens.
    pub mean_mm: f64,
}

/// Of a round blank whose middle lies there; `None` where the blank does not hold the outline.
#[must_use]
pub fn depth_of_cut(outline: &Outline, middle: Vec2, diameter_mm: f64) -> Option<DepthOfCut> {
    let radius = 0.5 * diameter_mm;
    let depth = |p: Vec2| {
        let out = p.normalize();
        let across = out.cross(middle);
        let under = radius * radius - across * across;
        let depth = out.dot(middle) + under.max(0.0).sqrt() - p.hypot();
        (under >= 0.0 && depth >= -1e-6).then_some(depth)
    };
    let mut sum = 0.0;
    for node in outline.nodes(Density::Finest) {
        let p = node.jet.p;
        sum += node.weight * depth(p)? * p.cross(node.jet.d1) / p.hypot2();
    }
    Some(DepthOfCut { most: worst(outline, depth)?, mean_mm: sum / TAU })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From a round blank to a round outline in its middle the wheel goes equally deep all round; beside the middle the
    /// most is the difference of the radii and the decentration.
    #[test]
    fn from_a_circle_to_a_circle() {
        let outline = Outline::ellipse(44.0, 44.0);
        let centred = depth_of_cut(&outline, Vec2::ZERO, 65.0).expect("held");
        assert!((centred.most.mm - 10.5).abs() < 1e-9 && (centred.mean_mm - 10.5).abs() < 1e-9, "{centred:?}");
        let beside = depth_of_cut(&outline, Vec2::new(0.0, 4.0), 65.0).expect("held");
        assert!((beside.most.mm - 14.5).abs() < 1e-9 && (beside.most.deg - 90.0).abs() < 1e-3, "{beside:?}");
        // The mean distance from a point at e from the middle of a circle is R (1 − e²/4R² − …): an elliptic integral.
        let steps = 20_000;
        let along = (0..steps)
            .map(|i| TAU * f64::from(i) / f64::from(steps))
            .map(|t| 4.0 * t.sin() + (32.5 * 32.5 - (4.0 * t.cos()).powi(2)).sqrt() - 22.0);
        let mean = along.sum::<f64>() / f64::from(steps);
        assert!((beside.mean_mm - mean).abs() < 1e-9, "{} and {mean}", beside.mean_mm);
        assert!(depth_of_cut(&outline, Vec2::new(0.0, 12.0), 65.0).is_none());
    }
}
