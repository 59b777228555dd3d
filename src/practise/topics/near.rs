//! Near vision: how far apart the eyes look through their lenses, prism thinning, the width of a corridor. Lenses for near
//! and varifocals are not made here; these are the sums about them that a trainee meets.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{ADD, mm};
use crate::draw::number::{figure, power, size};

/// "How much prism thins a pair of varifocals?" by the usual two thirds of the addition (common practice, no source).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thinning {
    /// D.
    pub add: f64,
}

/// "How far apart do the eyes look through the lenses?" by similar triangles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NearPd {
    /// Of both eyes, for distance.
    pub both_pd_mm: f64,
    /// From the lenses to what is looked at.
    pub object_mm: f64,
    /// From the lenses back to the centres of rotation.
    pub rotation_mm: f64,
}

/// "How wide is the corridor?" by Minkwitz's theorem (1963): beside the line astigmatism grows twice as fast as the power
/// does along it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corridor {
    /// D.
    pub add: f64,
    /// Over which the power grows by the addition.
    pub length_mm: f64,
    /// So much astigmatism is suffered, D.
    pub limit_d: f64,
}

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "thinning",
        takes: &[ADD],
        pose: |given: &Given| Ok(Thinning { add: given.number("add") }.exercise()),
    },
    Form {
        find: "near-pd",
        takes: &[mm("both_pd_mm", 40.0, 80.0), mm("object_mm", 100.0, 6000.0), mm("rotation_mm", 15.0, 40.0).or("27")],
        pose: |given: &Given| {
            let [both_pd_mm, object_mm, rotation_mm] =
                ["both_pd_mm", "object_mm", "rotation_mm"].map(|key| given.number(key));
            Ok(NearPd { both_pd_mm, object_mm, rotation_mm }.exercise())
        },
    },
    Form {
        find: "corridor",
        takes: &[ADD, mm("corridor_mm", 5.0, 30.0), Takes::number("limit_d", "D", [0.05, 2.0], 2).or("0.5")],
        pose: |given: &Given| {
            let [add, length_mm, limit_d] = ["add", "corridor_mm", "limit_d"].map(|key| given.number(key));
            Ok(Corridor { add, length_mm, limit_d }.exercise())
        },
    },
];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let add = chance.on_grid(0.75, 4.0, 0.25);
    match level {
        1 => Thinning { add }.exercise(),
        2 => NearPd {
            both_pd_mm: chance.on_grid(56.0, 70.0, 1.0),
            object_mm: chance.one_of(&[330.0, 350.0, 400.0, 450.0, 500.0]),
            rotation_mm: 27.0,
        }
        .exercise(),
        _ => {
            let length_mm = chance.on_grid(10.0, 18.0, 1.0);
            Corridor { add: add.min(3.0), length_mm, limit_d: chance.one_of(&[0.5, 0.75, 1.0]) }.exercise()
        }
    }
}

impl Thinning {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let add = self.add;
        let question = format!(
            "A pair of varifocals with the addition {} is thinned by prism, as usual by two thirds of the addition. How much \
             prism has each lens, and where is its base?",
            power(add)
        );
        Exercise::number(question, Scale::plain("Δ", 2).within(0.02).toward(["down", "up"]), 2.0 * add / 3.0)
            .step("prism = 2/3 × addition", format!("2 × {} / 3", figure(add, 2)), 2.0 * add / 3.0, (2, "Δ"))
            .slip(Mistake::WholeAddition, add)
            .slip(Mistake::SharedBetweenEyes, add / 3.0)
            .slip(Mistake::WrongWay, -2.0 * add / 3.0)
    }
}

impl NearPd {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let NearPd { both_pd_mm: pd, object_mm: object, rotation_mm: back } = *self;
        let right = pd * object / (object + back);
        let question = format!(
            "Pd of both eyes {} mm for distance. What is looked at lies {} mm before the lenses, and these stand {} mm before the \
             eyes’ centres of rotation. How far apart do the eyes look through the lenses? To one decimal.",
            size(pd),
            size(object),
            size(back)
        );
        Exercise::number(question, Scale::plain("mm", 1).within(0.1), right)
            .step(
                "from the centres of rotation to what is looked at",
                format!("{} + {}", size(object), size(back)),
                object + back,
                (1, "mm"),
            )
            .slip(Mistake::FromTheLens, pd * (object - back) / object)
            .step(
                "near pd = pd × distance before the lenses / that",
                format!("{} × {} / {}", size(pd), size(object), size(object + back)),
                right,
                (1, "mm"),
            )
            .slip(Mistake::NotConverged, pd)
            .slip(Mistake::InsetForPd, pd - right)
    }
}

impl Corridor {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let Corridor { add, length_mm, limit_d } = *self;
        let grows = add / length_mm;
        let half = limit_d / (2.0 * grows);
        let question = format!(
            "The power of a varifocal grows by {} over a corridor of {} mm. By Minkwitz’s theorem, over which width does the \
             astigmatism stay within {} D? To one decimal.",
            power(add),
            size(length_mm),
            figure(limit_d, 2)
        );
        Exercise::number(question, Scale::plain("mm", 1).within(0.1), 2.0 * half)
            .step(
                "down the corridor the power grows, a mm",
                format!("{} / {}", figure(add, 2), size(length_mm)),
                grows,
                (4, "D"),
            )
            .step(
                "sideways astigmatism grows twice as fast",
                format!("2 × {}", figure(grows, 4)),
                2.0 * grows,
                (4, "D"),
            )
            .slip(Mistake::MinkwitzOnce, 4.0 * half)
            .step("half the width", format!("{} / {}", figure(limit_d, 2), figure(2.0 * grows, 4)), half, (2, "mm"))
            .slip(Mistake::OneSideAlone, half)
            .step("the width, to both sides", format!("2 × {}", figure(half, 2)), 2.0 * half, (1, "mm"))
    }
}
