//! Power in a meridian, by the sin² law.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{AXIS, CYLINDER, SPHERE, bracketed};
use crate::draw::number::{axis, figure, power, size};
use crate::math::angle::cos_sin_deg;
use crate::rx::Power;

/// "How strong is it along this meridian?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meridian {
    /// D.
    pub sphere: f64,
    /// D, of either sign.
    pub cylinder: f64,
    /// Degrees.
    pub axis: f64,
    /// Degrees.
    pub along: f64,
}

pub(super) static FORMS: &[Form] = &[Form {
    find: "power",
    takes: &[SPHERE, CYLINDER, AXIS, Takes::number("meridian", "°", [0.0, 180.0], 1)],
    pose: |given: &Given| {
        let ([sphere, cylinder, axis], along) = (given.power(""), given.number("meridian"));
        Ok(Meridian { sphere, cylinder, axis, along }.exercise())
    },
}];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let (sphere, cylinder) = (chance.quarters(-8.0, 6.0), -chance.on_grid(0.5, 3.0, 0.5));
    let (axis, along) = match level {
        1 => (chance.one_of(&[45.0, 90.0, 135.0, 180.0]), chance.one_of(&[90.0, 180.0])),
        2 => (chance.one_of(&[30.0, 60.0, 120.0, 150.0]), chance.one_of(&[90.0, 180.0])),
        _ => (chance.on_grid(1.0, 179.0, 1.0), chance.one_of(&[90.0, 180.0])),
    };
    Meridian { sphere, cylinder, axis, along }.exercise()
}

impl Meridian {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let Meridian { sphere, cylinder, axis: deg, along } = *self;
        let right = Power::new(sphere, cylinder, deg).along(along);
        let off = (along - deg).abs();
        let (cosine, sine) = cos_sin_deg(off);
        let question = format!(
            "{} {} × {}: what is its power along the meridian {}? To two decimals.",
            power(sphere),
            power(cylinder),
            axis(deg),
            axis(along)
        );
        Exercise::number(question, Scale::plain("D", 2).within(0.01).signed(), right)
            .step("a = meridian − axis", format!("{} − {}", size(along.max(deg)), size(along.min(deg))), off, (0, "°"))
            .step("sin² a", format!("sin²({})", size(off)), sine * sine, (5, ""))
            .step(
                "F = sphere + cylinder × sin² a",
                format!("{} + {} × {}", bracketed(sphere, 2), bracketed(cylinder, 2), figure(sine * sine, 5)),
                right,
                (2, "D"),
            )
            .slip(Mistake::SineNotSquared, sphere + cylinder * sine.abs())
            .slip(Mistake::CylinderSign, sphere - cylinder * sine * sine)
            .slip(Mistake::CylinderInFull, sphere + cylinder)
            .slip(Mistake::CylinderIgnored, sphere)
            .slip(Mistake::CosineForSine, sphere + cylinder * cosine * cosine)
    }
}
