//! Vertex distance: the power that does the same for the eye elsewhere.

use super::super::exercise::Scale;
use super::super::{Answer, Chance, Exercise, Form, Mistake, Takes};
use super::{AXIS, CYLINDER, SPHERE, as_given, bracketed, written};
use crate::draw::number::size;
use crate::rx::Power;

/// "Which power does the same at another distance?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Sphere, cylinder, axis as tested.
    pub rx: [f64; 3],
    /// Tested so far before the eye.
    pub tested_mm: f64,
    /// Worn so far before it; 0 is a contact lens.
    pub worn_mm: f64,
}

pub(super) static FORMS: &[Form] = &[Form {
    find: "power",
    takes: &[
        SPHERE,
        CYLINDER.or("0"),
        AXIS.or("180"),
        Takes::number("tested_mm", "mm", [0.0, 40.0], 1),
        Takes::number("worn_mm", "mm", [0.0, 40.0], 1).or("0"),
    ],
    pose: |given| {
        let [tested_mm, worn_mm] = ["tested_mm", "worn_mm"].map(|key| given.number(key));
        if tested_mm == worn_mm {
            return Err("tested_mm and worn_mm are the same: the power stays as it is".to_owned());
        }
        let [sphere, cylinder, axis] = given.power("");
        if cylinder > 0.0 {
            return Err("write it with a minus cylinder; --topic transposition shows how".to_owned());
        }
        Ok(Vertex { rx: [sphere, cylinder, axis], tested_mm, worn_mm }.exercise())
    },
}];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let minus = -chance.on_grid(4.5, 14.0, 0.5);
    let sphere = if chance.yes() { minus } else { chance.on_grid(4.5, 13.0, 0.5) };
    let tested_mm = chance.on_grid(10.0, 14.0, 1.0);
    let worn_mm = match level {
        2 => tested_mm + chance.one_of(&[-4.0, -3.0, 3.0, 4.0, 5.0]),
        _ => 0.0,
    };
    let cylinder = if level == 3 { -chance.on_grid(1.0, 4.0, 0.5) } else { 0.0 };
    Vertex {
        rx: [sphere, cylinder, if level == 3 { chance.on_grid(5.0, 180.0, 5.0) } else { 180.0 }],
        tested_mm,
        worn_mm,
    }
    .exercise()
}

impl Vertex {
    fn asked(&self) -> String {
        let tested = written(self.rx);
        let worn = match self.worn_mm {
            0.0 => "as a contact lens".to_owned(),
            worn => format!("{} mm before the eye", size(worn)),
        };
        format!(
            "Tested {} mm before the eye: {tested}. Which power does the same {worn}? To two decimals.",
            size(self.tested_mm)
        )
    }

    fn moved(&self, power: f64, closer_mm: f64) -> f64 {
        Power::spherical(power).moved_toward_eye(closer_mm).map_or(f64::NAN, |moved| moved.sphere())
    }

    /// The line of working for one power.
    fn line(&self, made: Exercise, formula: &'static str, power: f64, closer_m: f64) -> Exercise {
        let numbers = format!("{} / (1 − {} × {})", bracketed(power, 2), as_given(closer_m), bracketed(power, 2));
        made.step(formula, numbers, self.moved(power, 1000.0 * closer_m), (2, "D"))
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        if self.rx[1] == 0.0 { self.spherical() } else { self.toric() }
    }

    /// Toward the eye.
    fn closer_mm(&self) -> f64 {
        self.tested_mm - self.worn_mm
    }

    /// The first line of working.
    fn distance(&self, made: Exercise) -> Exercise {
        let numbers = format!("({} − {}) / 1000", size(self.tested_mm), size(self.worn_mm));
        made.step("d, toward the eye, in metres", numbers, self.closer_mm() / 1000.0, (3, "m"))
    }

    fn spherical(&self) -> Exercise {
        let ([sphere, ..], closer_mm) = (self.rx, self.closer_mm());
        let right = self.moved(sphere, closer_mm);
        let made = Exercise::number(self.asked(), Scale::plain("D", 2).within(0.02).signed(), right);
        let made = self.distance(made).slip(Mistake::VertexInCm, self.moved(sphere, 10.0 * closer_mm));
        let made = match self.worn_mm {
            0.0 => made,
            worn => made.slip(Mistake::WholeVertex, self.moved(sphere, worn)),
        };
        self.line(made, "F′ = F / (1 − d F)", sphere, closer_mm / 1000.0)
            .slip(Mistake::VertexWrongWay, self.moved(sphere, -closer_mm))
            .slip(Mistake::VertexNotChanged, sphere)
    }

    fn toric(&self) -> Exercise {
        let ([sphere, cylinder, deg], closer_mm) = (self.rx, self.closer_mm());
        let form = |closer_mm: f64| {
            let along = self.moved(sphere, closer_mm);
            Answer::Power([along, self.moved(sphere + cylinder, closer_mm) - along, deg])
        };
        let moved = Power::new(sphere, cylinder, deg).moved_toward_eye(closer_mm);
        let right = moved.map_or([f64::NAN; 3], |moved| [moved.sphere(), moved.cylinder(), moved.axis()]);
        let made = self.distance(Exercise::power(self.asked(), 0.02, right));
        let made = self
            .line(made, "along the axis: F′ = F / (1 − d F)", sphere, closer_mm / 1000.0)
            .wrong(Mistake::VertexWrongWay, form(-closer_mm))
            .wrong(Mistake::VertexNotChanged, Answer::Power(self.rx));
        let made = self.line(made, "across it, with sphere + cylinder", sphere + cylinder, closer_mm / 1000.0);
        let (along, across) = (right[0], right[0] + right[1]);
        let numbers = format!("{} − {}", bracketed(across, 2), bracketed(along, 2));
        made.step("new cylinder = across − along", numbers, right[1], (2, "D"))
            .wrong(Mistake::VertexNotChanged, Answer::Power([along, cylinder, deg]))
            .wrong(Mistake::CylinderSign, Answer::Power([along, -right[1], deg]))
            .wrong(Mistake::AcrossForCylinder, Answer::Power([along, across, deg]))
    }
}
