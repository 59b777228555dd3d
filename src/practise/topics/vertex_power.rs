//! Back curves and back vertex power.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Mistake};
use super::bracketed;
use crate::draw::number::{figure, power, size};
use crate::figures::radius_mm;
use crate::lens::{Recipe, TOOLING_INDEX};
use crate::rx::{Power, Prism};

/// "Which back curve goes with this front?" of a thin lens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackCurve {
    /// True power of the front, D.
    pub front_d: f64,
    /// Sphere and cylinder.
    pub rx: [f64; 2],
    /// Is the curve across the axis asked for?
    pub across: bool,
}

/// "What is the back vertex power?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackVertexPower {
    /// True powers of front and back, D.
    pub surfaces_d: [f64; 2],
    /// mm.
    pub centre_mm: f64,
    /// Of the lens.
    pub index: f64,
}

/// "Which radius must the back have?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackRadius {
    /// Wanted, D.
    pub back_vertex_d: f64,
    /// True power of the front, D.
    pub front_d: f64,
    /// mm.
    pub centre_mm: f64,
    /// Of the lens.
    pub index: f64,
}

/// Thin enough for its thickness to count for nothing, mm.
const THIN_MM: f64 = 1e-9;

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let index = chance.one_of(&[1.5, 1.6, 1.7]);
    match level {
        1 => {
            let cylinder = if chance.yes() { -chance.on_grid(0.5, 3.0, 0.25) } else { 0.0 };
            let front_d = chance.on_grid(4.0, 8.0, 0.25);
            BackCurve { front_d, rx: [chance.quarters(-6.0, 3.0), cylinder], across: cylinder != 0.0 && chance.yes() }
                .exercise()
        }
        2 => {
            let front = chance.on_grid(6.0, 12.0, 0.5);
            let surfaces_d = [front, -chance.on_grid(1.0, 5.0, 0.5)];
            BackVertexPower { surfaces_d, centre_mm: chance.on_grid(3.0, 9.0, 0.5), index }.exercise()
        }
        _ => BackRadius {
            back_vertex_d: chance.on_grid(2.0, 6.0, 0.25),
            front_d: chance.on_grid(8.0, 11.0, 0.5),
            centre_mm: chance.on_grid(3.0, 8.0, 0.5),
            index,
        }
        .exercise(),
    }
}

/// The lens of this back vertex power on a front of this true power.
fn recipe(back_vertex_d: f64, front_d: f64, index: f64) -> Recipe {
    let base_curve_d = front_d * (TOOLING_INDEX - 1.0) / (index - 1.0);
    Recipe { power: Power::spherical(back_vertex_d), prism: Prism::default(), index, base_curve_d }
}

/// Power of its back at this thickness; NaN where the front focuses inside.
fn back_d(back_vertex_d: f64, front_d: f64, index: f64, centre_mm: f64) -> f64 {
    recipe(back_vertex_d, front_d, index).at_centre(centre_mm).map_or(f64::NAN, |lens| lens.back_powers_d()[0])
}

/// What the front's light has come to at the back.
fn arriving_d(front_d: f64, index: f64, centre_mm: f64) -> f64 {
    -back_d(0.0, front_d, index, centre_mm)
}

impl BackCurve {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let BackCurve { front_d, rx: [sphere, cylinder], across } = *self;
        let wanted = if across { sphere + cylinder } else { sphere };
        let right = back_d(wanted, front_d, TOOLING_INDEX, THIN_MM);
        let (lens, which) = match (cylinder, across) {
            (0.0, _) => (power(sphere), "the back"),
            (cylinder, across) => (
                format!("{} with cylinder {}", power(sphere), power(cylinder)),
                if across { "the back across the axis" } else { "the back along the axis" },
            ),
        };
        let question = format!("A thin lens of {lens} on a front of {}. How strong is {which}?", power(front_d));
        let made = Exercise::number(question, Scale::plain("D", 2).within(0.02).signed(), right);
        let made = match across {
            true => made.step(
                "power across the axis = S + C",
                format!("{} + {}", bracketed(sphere, 2), bracketed(cylinder, 2)),
                wanted,
                (2, "D"),
            ),
            false => made,
        };
        let made = if cylinder != 0.0 {
            let other = if across { sphere } else { sphere + cylinder };
            let made =
                made.slip(if across { Mistake::CylinderIgnored } else { Mistake::CylinderInFull }, other - front_d);
            if across { made.slip(Mistake::CylinderSign, sphere - cylinder - front_d) } else { made }
        } else {
            made
        };
        made.step("F2 = F − F1", format!("{} − {}", bracketed(wanted, 2), figure(front_d, 2)), right, (2, "D"))
            .slip(Mistake::BackSign, -right)
            .slip(Mistake::SumForDifference, wanted + front_d)
            .slip(Mistake::FrontForgotten, wanted)
    }
}

impl BackVertexPower {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let BackVertexPower { surfaces_d: [front, back], centre_mm, index } = *self;
        let arriving = arriving_d(front, index, centre_mm);
        let right = arriving + back;
        let reduced = centre_mm / 1000.0 / index;
        let question = format!(
            "Front {}, back {}, centre {} mm, index {index}. What is the back vertex power? To two decimals.",
            power(front),
            power(back),
            size(centre_mm)
        );
        Exercise::number(question, Scale::plain("D", 2).within(0.01).signed(), right)
            .step("t / n, in metres", format!("{} / 1000 / {index}", size(centre_mm)), reduced, (6, "m"))
            .slip(Mistake::ThicknessNotReduced, arriving_d(front, 1.0 + 1e-12, centre_mm * (1.0 + 1e-12)) + back)
            .step("F1′ = F1 / (1 − t/n F1)", format!("{front} / (1 − {reduced:.6} × {front})"), arriving, (3, "D"))
            .slip(Mistake::ThicknessForgotten, front + back)
            .slip(Mistake::FrontVertexPower, front + arriving_d(back, index, centre_mm))
            .step("F′v = F1′ + F2", format!("{} + {}", figure(arriving, 3), bracketed(back, 2)), right, (2, "D"))
            .slip(Mistake::BackSign, arriving - back)
    }
}

impl BackRadius {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let BackRadius { back_vertex_d, front_d, centre_mm, index } = *self;
        let arriving = arriving_d(front_d, index, centre_mm);
        let back = back_d(back_vertex_d, front_d, index, centre_mm);
        let lens = recipe(back_vertex_d, front_d, index).at_centre(centre_mm);
        let right = lens.ok().and_then(|lens| radius_mm(lens.back_curvatures()[0])).unwrap_or(f64::NAN).abs();
        let radius = |back: f64, index: f64| (1000.0 * (index - 1.0) / back).abs();
        let reduced = centre_mm / 1000.0 / index;
        let question = format!(
            "Wanted: back vertex power {} on a front of {}, centre {} mm, index {index}. Which radius must the back have?",
            power(back_vertex_d),
            power(front_d),
            size(centre_mm)
        );
        // The last place of the back curve moves the radius by a thousandth of its square.
        let tolerance = (0.005 * right / back.abs()).max(0.1);
        Exercise::number(question, Scale::plain("mm", 1).within(tolerance), right)
            .step("t / n, in metres", format!("{} / 1000 / {index}", size(centre_mm)), reduced, (6, "m"))
            .step("F1′ = F1 / (1 − t/n F1)", format!("{front_d} / (1 − {reduced:.6} × {front_d})"), arriving, (4, "D"))
            .slip(Mistake::ThicknessForgotten, radius(back_vertex_d - front_d, index))
            .step(
                "F2 = F′v − F1′",
                format!("{} − {}", bracketed(back_vertex_d, 2), figure(arriving, 4)),
                back,
                (4, "D"),
            )
            .slip(Mistake::WrongRadius, radius(front_d, index))
            .step(
                "r = 1000 (n − 1) / F2, without its sign",
                format!("1000 × ({index} − 1) / {}", figure(back.abs(), 4)),
                right,
                (1, "mm"),
            )
            .slip(Mistake::IndexForIndexMinusOne, radius(back, index + 1.0))
            .slip(Mistake::ToolingIndex, radius(back, TOOLING_INDEX))
    }
}
