//! A cylinder off its axis: what is left over, and how far off it may be.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::CYLINDER;
use crate::draw::number::{figure, power, size};
use crate::rx::Power;

/// "How much cylinder is left over?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeftOver {
    /// D, of either sign.
    pub cylinder: f64,
    /// Its axis is so far off, degrees.
    pub off_deg: f64,
}

/// "How far off may the axis be?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MostOff {
    /// D, of either sign.
    pub cylinder: f64,
    /// So much cylinder may be left over, D.
    pub left_d: f64,
}

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "cylinder",
        takes: &[CYLINDER, Takes::number("off_deg", "°", [0.5, 90.0], 1)],
        pose: |given: &Given| {
            Ok(LeftOver { cylinder: given.number("cylinder"), off_deg: given.number("off_deg") }.exercise())
        },
    },
    Form {
        find: "angle",
        takes: &[CYLINDER, Takes::number("left_d", "D", [0.01, 6.0], 2)],
        pose: |given: &Given| {
            Ok(MostOff { cylinder: given.number("cylinder"), left_d: given.number("left_d") }.exercise())
        },
    },
];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let sign = chance.one_of(&[-1.0, 1.0]);
    match level {
        1 => LeftOver { cylinder: sign * chance.on_grid(0.5, 6.0, 0.25), off_deg: 30.0 }.exercise(),
        2 => LeftOver { cylinder: sign * chance.on_grid(1.0, 5.0, 0.25), off_deg: chance.on_grid(3.0, 12.0, 1.0) }
            .exercise(),
        _ => {
            MostOff { cylinder: sign * chance.on_grid(0.5, 4.0, 0.25), left_d: chance.one_of(&[0.12, 0.25]) }.exercise()
        }
    }
}

impl LeftOver {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let LeftOver { cylinder, off_deg } = *self;
        let minus = -cylinder.abs();
        let asked = Power::new(0.0, minus, 90.0).matrix() - Power::new(0.0, minus, 90.0 + off_deg).matrix();
        let right = Power::from_matrix(&asked).cylinder().abs();
        let strong = cylinder.abs();
        let sine = off_deg.to_radians().sin();
        let question = format!(
            "A cylinder of {} D is mounted {}° off its axis. How strong is the cylinder that is left over? To two decimals.",
            power(cylinder),
            size(off_deg)
        );
        Exercise::number(question, Scale::plain("D", 2).within(0.01), right)
            .step("2 × cylinder, without its sign", format!("2 × {}", figure(strong, 2)), 2.0 * strong, (2, "D"))
            .slip(Mistake::ResidualOnce, strong * sine)
            .step(
                "left over = 2 × cylinder × sin of the error",
                format!("{} × sin({})", figure(2.0 * strong, 2), size(off_deg)),
                right,
                (2, "D"),
            )
            .slip(Mistake::SineSquared, 2.0 * strong * sine * sine)
    }
}

impl MostOff {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let (strong, left) = (self.cylinder.abs(), self.left_d);
        let share = left / (2.0 * strong);
        let right = share.asin().to_degrees();
        let question = format!(
            "A cylinder of {} D: by how much may its axis be off, if no more than {} D of cylinder is to be left over? To one \
             decimal.",
            power(self.cylinder),
            figure(left, 2)
        );
        Exercise::number(question, Scale::plain("°", 1).within(0.15), right)
            .step(
                "sin of the error = left over / (2 × cylinder)",
                format!("{} / (2 × {})", figure(left, 2), figure(strong, 2)),
                share,
                (4, ""),
            )
            .slip(Mistake::ResidualOnce, (left / strong).asin().to_degrees())
            .step("the angle of that sine", format!("asin({})", figure(share, 4)), right, (1, "°"))
            .slip(Mistake::SineSquared, share.sqrt().asin().to_degrees())
    }
}
