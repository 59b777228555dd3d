//! Back curves and back vertex power.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{CENTRE, INDEX, as_given, bracketed, dioptres};
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

/// "What is its vertex power?" of a thick lens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VertexPower {
    /// True powers of front and back, D.
    pub surfaces_d: [f64; 2],
    /// mm.
    pub centre_mm: f64,
    /// Of the lens.
    pub index: f64,
    /// Which power.
    pub wants: Wants,
}

/// Which power of a thick lens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wants {
    /// Back vertex power.
    Back,
    /// Front vertex power.
    Front,
    /// Equivalent power.
    Equivalent,
}

/// "What is the back vertex power?" of two thin lenses apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Separated {
    /// Front and back lens, D.
    pub lenses_d: [f64; 2],
    /// mm.
    pub apart_mm: f64,
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

const THICK: &[Takes] = &[dioptres("front_d", -30.0, 30.0), dioptres("back_d", -30.0, 30.0), CENTRE, INDEX];

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "back-curve",
        takes: &[
            dioptres("front_d", 0.0, 30.0),
            dioptres("sphere", -40.0, 30.0),
            dioptres("cylinder", -12.0, 12.0).or("0"),
            Takes::word("meridian", &["along", "across"]).or("along"),
        ],
        pose: |given| {
            let rx = ["sphere", "cylinder"].map(|key| given.number(key));
            let across = given.is("meridian", "across");
            if across && rx[1] == 0.0 {
                return Err("meridian=across: without a cylinder the back is the same all round".to_owned());
            }
            Ok(BackCurve { front_d: given.number("front_d"), rx, across }.exercise())
        },
    },
    Form { find: "back-vertex", takes: THICK, pose: |given| thick(given, Wants::Back) },
    Form { find: "front-vertex", takes: THICK, pose: |given| thick(given, Wants::Front) },
    Form { find: "equivalent", takes: THICK, pose: |given| thick(given, Wants::Equivalent) },
    Form {
        find: "radius",
        takes: &[dioptres("back_vertex_d", -40.0, 30.0), dioptres("front_d", 0.0, 30.0), CENTRE, INDEX],
        pose: |given| {
            let [back_vertex_d, front_d, centre_mm, index] =
                ["back_vertex_d", "front_d", "centre_mm", "index"].map(|key| given.number(key));
            Ok(BackRadius { back_vertex_d, front_d, centre_mm, index }.exercise())
        },
    },
    Form {
        find: "separated",
        takes: &[
            dioptres("front_d", -30.0, 30.0),
            dioptres("back_d", -30.0, 30.0),
            Takes::number("apart_mm", "mm", [1.0, 1000.0], 1),
        ],
        pose: |given| {
            let lenses_d = ["front_d", "back_d"].map(|key| given.number(key));
            Ok(Separated { lenses_d, apart_mm: given.number("apart_mm") }.exercise())
        },
    },
];

fn thick(given: &Given, wants: Wants) -> Result<Exercise, String> {
    let surfaces_d = ["front_d", "back_d"].map(|key| given.number(key));
    let [centre_mm, index] = ["centre_mm", "index"].map(|key| given.number(key));
    Ok(VertexPower { surfaces_d, centre_mm, index, wants }.exercise())
}

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
            let centre_mm = chance.on_grid(3.0, 9.0, 0.5);
            match chance.one_of(&[0, 1, 2, 3]) {
                0 => Separated { lenses_d: [0.5 * front, surfaces_d[1]], apart_mm: chance.on_grid(20.0, 80.0, 10.0) }
                    .exercise(),
                1 => VertexPower { surfaces_d, centre_mm, index, wants: Wants::Front }.exercise(),
                2 => VertexPower { surfaces_d, centre_mm, index, wants: Wants::Equivalent }.exercise(),
                _ => VertexPower { surfaces_d, centre_mm, index, wants: Wants::Back }.exercise(),
            }
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
pub(super) fn recipe(back_vertex_d: f64, front_d: f64, index: f64) -> Recipe {
    let base_curve_d = front_d * (TOOLING_INDEX - 1.0) / (index - 1.0);
    Recipe { power: Power::spherical(back_vertex_d), prism: Prism::default(), index, base_curve_d }
}

/// Power of its back at this thickness; NaN where the front focuses inside.
fn back_d(back_vertex_d: f64, front_d: f64, index: f64, centre_mm: f64) -> f64 {
    recipe(back_vertex_d, front_d, index).at_centre(centre_mm).map_or(f64::NAN, |lens| lens.back_powers_d()[0])
}

/// What the front's light has come to at the back.
pub(super) fn arriving_d(front_d: f64, index: f64, centre_mm: f64) -> f64 {
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

impl VertexPower {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let [front, back] = self.surfaces_d;
        match self.wants {
            Wants::Back => self.seen("back", [front, back]),
            // The same, with the lens turned round.
            Wants::Front => self.seen("front", [back, front]),
            Wants::Equivalent => self.equivalent(),
        }
    }

    fn question(&self, which: &str) -> String {
        let [front, back] = self.surfaces_d;
        format!(
            "Front {}, back {}, centre {} mm, index {}. What is the {which} power? To two decimals.",
            power(front),
            power(back),
            size(self.centre_mm),
            self.index
        )
    }

    fn reduced(&self, made: Exercise) -> (Exercise, f64) {
        let reduced = self.centre_mm / 1000.0 / self.index;
        (
            made.step(
                "t / n, in metres",
                format!("{} / 1000 / {}", size(self.centre_mm), self.index),
                reduced,
                (6, "m"),
            ),
            reduced,
        )
    }

    /// The vertex power on one side: of the light that comes in through the other.
    fn seen(&self, side: &str, [enters, leaves]: [f64; 2]) -> Exercise {
        let VertexPower { centre_mm, index, .. } = *self;
        let arriving = arriving_d(enters, index, centre_mm);
        let right = arriving + leaves;
        let back = side == "back";
        let made = Exercise::number(
            self.question(&format!("{side} vertex")),
            Scale::plain("D", 2).within(0.01).signed(),
            right,
        );
        let (made, reduced) = self.reduced(made);
        let (bent, sum, mistake) = match back {
            true => ("F1′ = F1 / (1 − t/n F1)", "F′v = F1′ + F2", Mistake::FrontVertexPower),
            false => ("F2′ = F2 / (1 − t/n F2)", "Fv = F2′ + F1", Mistake::BackVertexPower),
        };
        let entering = bracketed(enters, 2);
        made.slip(Mistake::ThicknessNotReduced, arriving_d(enters, 1.0 + 1e-12, centre_mm * (1.0 + 1e-12)) + leaves)
            .step(bent, format!("{entering} / (1 − {reduced:.6} × {entering})"), arriving, (3, "D"))
            .slip(Mistake::ThicknessForgotten, enters + leaves)
            .slip(mistake, enters + arriving_d(leaves, index, centre_mm))
            .step(sum, format!("{} + {}", bracketed(arriving, 3), bracketed(leaves, 2)), right, (2, "D"))
            .slip(Mistake::BackSign, if back { arriving - leaves } else { leaves - arriving })
    }

    fn equivalent(&self) -> Exercise {
        let VertexPower { surfaces_d: [front, back], centre_mm, index, .. } = *self;
        let vertex = arriving_d(front, index, centre_mm) + back;
        let right = vertex * (1.0 - centre_mm / 1000.0 / index * front);
        let made = Exercise::number(self.question("equivalent"), Scale::plain("D", 2).within(0.01).signed(), right);
        let (made, reduced) = self.reduced(made);
        made.slip(Mistake::ThicknessNotReduced, front + back - centre_mm / 1000.0 * front * back)
            .step(
                "t/n F1 F2",
                format!("{reduced:.6} × {} × {}", bracketed(front, 2), bracketed(back, 2)),
                reduced * front * back,
                (3, "D"),
            )
            .slip(Mistake::ThicknessForgotten, front + back)
            .slip(Mistake::BackVertexPower, vertex)
            .step(
                "F = F1 + F2 − t/n F1 F2",
                format!("{} + {} − {}", bracketed(front, 2), bracketed(back, 2), bracketed(reduced * front * back, 3)),
                right,
                (2, "D"),
            )
            .slip(Mistake::BackSign, front - back + reduced * front * back)
    }
}

impl Separated {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let Separated { lenses_d: [front, back], apart_mm } = *self;
        let moved =
            |closer_mm: f64| Power::spherical(front).moved_toward_eye(closer_mm).map_or(f64::NAN, |at| at.sphere());
        let (arriving, apart_m) = (moved(apart_mm), apart_mm / 1000.0);
        let right = arriving + back;
        let question = format!(
            "Two thin lenses, {} in front and {} behind it, {} mm apart in air. What is their back vertex power? To two decimals.",
            power(front),
            power(back),
            size(apart_mm)
        );
        Exercise::number(question, Scale::plain("D", 2).within(0.02).signed(), right)
            .step("d in metres", format!("{} / 1000", size(apart_mm)), apart_m, (4, "m"))
            .slip(Mistake::VertexInCm, moved(10.0 * apart_mm) + back)
            .step(
                "F1′ = F1 / (1 − d F1)",
                format!("{} / (1 − {} × {})", bracketed(front, 2), as_given(apart_m), bracketed(front, 2)),
                arriving,
                (3, "D"),
            )
            .slip(Mistake::SeparationForgotten, front + back)
            .slip(Mistake::VertexWrongWay, moved(-apart_mm) + back)
            .step("F′v = F1′ + F2", format!("{} + {}", bracketed(arriving, 3), bracketed(back, 2)), right, (2, "D"))
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
