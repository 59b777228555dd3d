//! Transposition, and the sum of two powers in contact whose axes are the same or at right angles.

use super::super::{Answer, Chance, Exercise, Form, Given, Mistake, Takes};
use super::{AXIS, CYLINDER, OTHER_AXIS, OTHER_CYLINDER, OTHER_SPHERE, SPHERE, bracketed};
use crate::draw::number::{axis, figure, size};
use crate::rx::Power;

/// Powers go in eighths at the finest: half of 0.01 and the last printed digit of 0.125 (D).
const TOLERANCE_D: f64 = 0.006;

/// "Write with the other sign of cylinder."
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transposition {
    /// D.
    pub sphere: f64,
    /// D, of either sign, not nought.
    pub cylinder: f64,
    /// Degrees.
    pub axis: f64,
}

/// "Two thin lenses in contact."
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sum {
    /// Sphere, cylinder, axis.
    pub one: [f64; 3],
    /// The same, its axis that of the first or at right angles to it.
    pub other: [f64; 3],
}

/// Axes no farther from one another, or from a right angle, are that, degrees.
const SAME_DEG: f64 = 1e-9;

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "other-form",
        // Eighths are wanted to a third decimal.
        takes: &[
            Takes::number("sphere", "D", [-40.0, 30.0], 3),
            Takes::number("cylinder", "D", [-12.0, 12.0], 3),
            AXIS,
        ],
        pose: |given: &Given| {
            let [sphere, cylinder, axis] = given.power("");
            if cylinder == 0.0 {
                return Err("cylinder=0: a sphere has no other form".to_owned());
            }
            Ok(Transposition { sphere, cylinder, axis }.exercise())
        },
    },
    Form {
        find: "sum",
        takes: &[SPHERE, CYLINDER, AXIS, OTHER_SPHERE, OTHER_CYLINDER, OTHER_AXIS],
        pose: |given: &Given| {
            let asked = Sum { one: given.power(""), other: given.power("other_") };
            let apart = (asked.one[2] - asked.other[2]).rem_euclid(90.0);
            if apart.min(90.0 - apart) > SAME_DEG {
                return Err("the axes are neither the same nor at right angles: that is --topic crossed".to_owned());
            }
            Ok(asked.exercise())
        },
    },
];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let axis = match level {
        1 => chance.one_of(&[90.0, 180.0, 45.0, 135.0]),
        _ => chance.on_grid(5.0, 180.0, 5.0),
    };
    let sphere = chance.on_grid(-6.0, 6.0, if level == 1 { 0.5 } else { 0.25 });
    let sign = if chance.yes() { 1.0 } else { -1.0 };
    let cylinder = sign * chance.on_grid(0.5, if level == 1 { 2.0 } else { 3.0 }, if level == 1 { 0.5 } else { 0.25 });
    if level < 3 {
        return Transposition { sphere, cylinder, axis }.exercise();
    }
    let across = if axis > 90.0 { axis - 90.0 } else { axis + 90.0 };
    // The second cylinder is unlike the first, so that the sum has one.
    let second = -0.25 * cylinder.signum() + 0.5 * cylinder + chance.on_grid(-0.25, 0.25, 0.25);
    let second = (4.0 * second).round() / 4.0;
    let second = if second == 0.0 { 0.25 * cylinder.signum() } else { second };
    Sum { one: [sphere, cylinder, axis], other: [chance.on_grid(-2.0, 2.0, 0.25), second, across] }.exercise()
}

fn written([sphere, cylinder, deg]: [f64; 3]) -> String {
    format!("{} {} × {}", power(sphere), power(cylinder), axis(deg))
}

/// A power as prescriptions write it, an eighth to its third decimal.
fn power(value: f64) -> String {
    let hundredths = 100.0 * value;
    match (hundredths - hundredths.round()).abs() > 1e-6 {
        true if value > 0.0 => format!("+{}", figure(value, 3)),
        true => figure(value, 3),
        false => crate::draw::number::power(value),
    }
}

/// The same power with the other sign of cylinder.
fn transposed([sphere, cylinder, deg]: [f64; 3]) -> [f64; 3] {
    let minus = Power::new(sphere, cylinder, deg);
    if cylinder > 0.0 {
        [minus.sphere(), minus.cylinder(), minus.axis()]
    } else {
        let (sphere, cylinder, deg) = minus.plus_form();
        [sphere, cylinder, deg]
    }
}

impl Transposition {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let Transposition { sphere, cylinder, axis: deg } = *self;
        let [s, c, a] = transposed([sphere, cylinder, deg]);
        let other = if cylinder > 0.0 { "minus" } else { "plus" };
        let turn = if deg > 90.0 { "−" } else { "+" };
        let question = format!("Write {} with a {other} cylinder.", written([sphere, cylinder, deg]));
        // Eighths want a third decimal.
        let places = if [sphere, cylinder].iter().all(|power| (4.0 * power).fract() == 0.0) { 2 } else { 3 };
        let wrong = |sphere, cylinder, deg| Answer::Power([sphere, cylinder, deg]);
        Exercise::power(question, TOLERANCE_D, [s, c, a])
            .step(
                "new sphere = sphere + cylinder",
                format!("{} + {}", bracketed(sphere, places), bracketed(cylinder, places)),
                s,
                (places, "D"),
            )
            .wrong(Mistake::SphereKept, wrong(sphere, c, a))
            .wrong(Mistake::CylinderTakenOff, wrong(sphere - cylinder, c, a))
            .step(
                "new cylinder = the old one with the other sign",
                format!("0 − {}", bracketed(cylinder, places)),
                c,
                (places, "D"),
            )
            .wrong(Mistake::CylinderSign, wrong(s, cylinder, a))
            .step("new axis = axis + 90, or − 90 where it passes 180", format!("{} {turn} 90", size(deg)), a, (0, "°"))
            .wrong(Mistake::AxisKept, wrong(s, c, deg))
    }
}

impl Sum {
    /// The question with its answer, written with the first one's sign of cylinder.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let Sum { one, other } = *self;
        let of = |[sphere, cylinder, deg]: [f64; 3]| Power::new(sphere, cylinder, deg);
        let sum = of(one).plus(&of(other));
        let minus = [sum.sphere(), sum.cylinder(), sum.axis()];
        let aligned = if (one[2] - other[2]).rem_euclid(180.0) < 1e-9 { other } else { transposed(other) };
        // Of the same axis as the first, with whatever sign of cylinder that gives.
        let along_first = [one[0] + aligned[0], one[1] + aligned[1], one[2]];
        let question = format!(
            "Two thin lenses in contact: {} and {}. Which one power do they make? Write it with a minus cylinder.",
            written(one),
            written(other)
        );
        let mut made = Exercise::power(question, TOLERANCE_D, minus)
            .step(
                "sphere, the second transposed to the first one's axis",
                format!("{} + {}", bracketed(one[0], 2), bracketed(aligned[0], 2)),
                along_first[0],
                (2, "D"),
            )
            .wrong(Mistake::NotAlongOneAxis, Answer::Power([one[0] + other[0], one[1] + other[1], one[2]]))
            .step(
                "cylinder",
                format!("{} + {}", bracketed(one[1], 2), bracketed(aligned[1], 2)),
                along_first[1],
                (2, "D"),
            );
        if along_first[1] > 0.0 {
            made = Sum::turned(made, along_first, minus);
        }
        made.wrong(Mistake::AxisKept, Answer::Power([minus[0], minus[1], transposed(minus)[2]]))
            .wrong(Mistake::CylinderSign, Answer::Power([minus[0], -minus[1], minus[2]]))
    }

    /// The lines that turn a sum with a plus cylinder into the minus form.
    fn turned(made: Exercise, [sphere, cylinder, deg]: [f64; 3], minus: [f64; 3]) -> Exercise {
        let turned = if deg > 90.0 { deg - 90.0 } else { deg + 90.0 };
        let added = format!("{} + {}", bracketed(sphere, 2), bracketed(cylinder, 2));
        made.step("transposed to minus: sphere + cylinder", added, minus[0], (2, "D"))
            .wrong(Mistake::SphereKept, Answer::Power([sphere, minus[1], minus[2]]))
            .wrong(Mistake::AxisKept, Answer::Power([minus[0], minus[1], deg]))
            .wrong(Mistake::CylinderSign, Answer::Power([sphere, -cylinder, deg]))
            .step("its sign changed", format!("0 − {}", bracketed(cylinder, 2)), minus[1], (2, "D"))
            .step("axis turned by 90", format!("{turned}"), turned, (0, "°"))
    }
}
