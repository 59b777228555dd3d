//! The power of a surface: from its radius, and from what a lens measure reads on it.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Mistake};
use crate::draw::number::{figure, size};
use crate::figures::radius_mm;
use crate::lens::{Recipe, TOOLING_INDEX};
use crate::rx::{Power, Prism};

/// "How strong is a surface of this radius?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OfRadius {
    /// mm.
    pub radius_mm: f64,
    /// Of the lens.
    pub index: f64,
}

/// "What does this reading come to?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FromReading {
    /// On the lens measure, made for 1.530.
    pub reading_d: f64,
    /// Of the lens.
    pub index: f64,
    /// Is the radius asked for, and not the power?
    pub radius: bool,
}

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    match level {
        1 => {
            let index = chance.one_of(&[1.5, 1.6, 1.7, 1.8]);
            // So that the power comes out in halves.
            let power = chance.on_grid(2.0, 10.0, 0.5);
            OfRadius { radius_mm: (1e5 * (index - 1.0) / power).round() / 100.0, index }.exercise()
        }
        _ => FromReading {
            reading_d: chance.on_grid(2.0, 10.0, if level == 2 { 0.5 } else { 0.25 }),
            index: chance.one_of(&[1.498, 1.56, 1.586, 1.6, 1.67, 1.74]),
            radius: level == 3 && chance.yes(),
        }
        .exercise(),
    }
}

/// A front of this curve at 1.530, in this index.
fn front(base_curve_d: f64, index: f64) -> Recipe {
    Recipe { power: Power::spherical(0.0), prism: Prism::default(), index, base_curve_d }
}

/// What a lens measure reads on a radius.
fn reading_of(radius_mm: f64) -> f64 {
    1000.0 * (TOOLING_INDEX - 1.0) / radius_mm
}

impl OfRadius {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let OfRadius { radius_mm: r, index } = *self;
        let power = |index| front(reading_of(r), index).front_power_d();
        let question =
            format!("A surface of radius {} mm on a lens of index {}. How strong is it?", figure(r, 2), size(index));
        Exercise::number(question, Scale::plain("D", 2).within(0.02), power(index))
            .step("n − 1", format!("{index} − 1"), index - 1.0, (3, ""))
            .slip(Mistake::IndexForIndexMinusOne, power(index + 1.0))
            .slip(Mistake::ToolingIndex, power(TOOLING_INDEX))
            .step(
                "F = 1000 (n − 1) / r",
                format!("1000 × {} / {}", figure(index - 1.0, 3), figure(r, 2)),
                power(index),
                (2, "D"),
            )
    }
}

impl FromReading {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        if self.radius { self.radius() } else { self.power() }
    }

    fn power(&self) -> Exercise {
        let FromReading { reading_d, index, .. } = *self;
        let right = front(reading_d, index).front_power_d();
        let question = format!(
            "A lens measure made for 1.530 reads {} on a surface of a lens of index {index}. How strong is the surface in truth?",
            figure(reading_d, 2)
        );
        Exercise::number(question, Scale::plain("D", 2).within(0.02), right)
            .step("n − 1", format!("{index} − 1"), index - 1.0, (3, ""))
            .slip(Mistake::IndexForIndexMinusOne, front(reading_d, index + 1.0).front_power_d())
            .step(
                "F = reading × (n − 1) / 0.530",
                format!("{} × {} / 0.530", figure(reading_d, 2), figure(index - 1.0, 3)),
                right,
                (2, "D"),
            )
            .slip(Mistake::ReadingForPower, reading_d)
            .slip(Mistake::Reversed, reading_d * reading_d / right)
    }

    fn radius(&self) -> Exercise {
        let FromReading { reading_d, index, .. } = *self;
        let of = |recipe: Recipe| radius_mm(recipe.front_curvature()).unwrap_or(f64::NAN);
        let right = of(front(reading_d, index));
        let question = format!(
            "A lens measure made for 1.530 reads {} on a surface of a lens of index {index}. Which radius has the surface?",
            figure(reading_d, 2)
        );
        Exercise::number(question, Scale::plain("mm", 1).within(0.2), right)
            .step(
                "r = 1000 × 0.530 / reading, whatever the lens is made of",
                format!("1000 × 0.530 / {}", figure(reading_d, 2)),
                right,
                (1, "mm"),
            )
            .slip(Mistake::OwnIndexForClock, right * (index - 1.0) / (TOOLING_INDEX - 1.0))
            .slip(Mistake::IndexForIndexMinusOne, right * TOOLING_INDEX / (TOOLING_INDEX - 1.0))
    }
}
