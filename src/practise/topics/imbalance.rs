//! Vertical imbalance of a pair below its optical centres.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{bracketed, dioptres, written};
use crate::draw::number::size;
use crate::rx::Power;

/// "By how much do the eyes' vertical prisms differ at the reading level?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Imbalance {
    /// Sphere, cylinder, axis of the right and the left eye.
    pub eyes: [[f64; 3]; 2],
    /// So far below the optical centres.
    pub below_mm: f64,
}

const fn axis(key: &'static str) -> Takes {
    Takes::number(key, "°", [0.0, 180.0], 1).or("180")
}

pub(super) static FORMS: &[Form] = &[Form {
    find: "difference",
    takes: &[
        dioptres("right_sphere", -40.0, 30.0),
        dioptres("right_cylinder", -12.0, 12.0).or("0"),
        axis("right_axis"),
        dioptres("left_sphere", -40.0, 30.0),
        dioptres("left_cylinder", -12.0, 12.0).or("0"),
        axis("left_axis"),
        Takes::number("below_mm", "mm", [0.5, 30.0], 1),
    ],
    pose: |given: &Given| {
        let eyes = ["right_", "left_"].map(|begin| given.power(begin));
        Ok(Imbalance { eyes, below_mm: given.number("below_mm") }.exercise())
    },
}];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let below_mm = chance.on_grid(6.0, 12.0, 1.0);
    let sphere = chance.quarters(-7.0, 5.0);
    let other = sphere + chance.on_grid(1.0, 4.0, 0.25) * chance.one_of(&[-1.0, 1.0]);
    let mut eye = |sphere| match level {
        1 => [sphere, 0.0, 180.0],
        2 => [sphere, -chance.on_grid(0.5, 2.5, 0.5), chance.one_of(&[90.0, 180.0])],
        _ => [sphere, -chance.on_grid(0.5, 2.5, 0.5), chance.one_of(&[30.0, 45.0, 60.0, 120.0, 135.0, 150.0])],
    };
    Imbalance { eyes: [eye(sphere), eye(other)], below_mm }.exercise()
}

impl Imbalance {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let below = self.below_mm;
        let of = |[sphere, cylinder, deg]: [f64; 3]| Power::new(sphere, cylinder, deg);
        let up = |rx: [f64; 3]| of(rx).prentice_pd(0.0, -below).1;
        let [one, other] = self.eyes.map(up);
        let spheres = self.eyes.map(|[sphere, _, _]| up([sphere, 0.0, 180.0]));
        let right = (one - other).abs();
        let question = format!(
            "Right {}, left {}. By how many prism dioptres do the vertical prisms differ {} mm below the optical centres?",
            written(self.eyes[0]),
            written(self.eyes[1]),
            size(below)
        );
        let mut made = Exercise::number(question, Scale::plain("Δ", 2).within(0.05), right);
        for (formula, rx) in ["F along 90, right", "F along 90, left"].into_iter().zip(self.eyes) {
            let [sphere, cylinder, deg] = rx;
            let off = size((90.0 - deg).abs());
            let numbers = match cylinder {
                0.0 => bracketed(sphere, 2),
                cylinder => format!("{} + {} × sin²({off})", bracketed(sphere, 2), bracketed(cylinder, 2)),
            };
            made = made.step(formula, numbers, of(rx).along(90.0), (3, "D"));
        }
        made = made.slip(Mistake::CylinderIgnored, (spheres[0] - spheres[1]).abs());
        let strengths = self.eyes.map(|rx| of(rx).along(90.0));
        for (formula, (strength, prism)) in ["right, base up where plus", "left, base up where plus"]
            .into_iter()
            .zip(strengths.into_iter().zip([one, other]))
        {
            made = made.step(formula, format!("{} × {}", size(below / 10.0), bracketed(strength, 3)), prism, (3, "Δ"));
        }
        made.slip(Mistake::CmForMm, 10.0 * right)
            .slip(Mistake::OneEyeAlone, one.abs().max(other.abs()))
            .step(
                "difference, without its sign",
                format!("{} − {}", bracketed(one.max(other), 3), bracketed(one.min(other), 3)),
                right,
                (2, "Δ"),
            )
            .slip(Mistake::SumForDifference, (one + other).abs())
    }
}
