//! Prentice's rule.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{AXIS, CYLINDER, EYE, SPHERE, bracketed, written};
use crate::draw::number::{figure, size};
use crate::eye::Eye;
use crate::rx::Power;

/// Where the eye looks, from the optical centre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Toward {
    /// Below it.
    Below,
    /// Above it.
    Above,
    /// Toward the nose.
    Nasal,
    /// Toward the temple.
    Temporal,
}

/// "Which prism is met so far from the optical centre?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prentice {
    /// Sphere, cylinder, axis.
    pub rx: [f64; 3],
    /// Which eye.
    pub eye: Eye,
    /// Where it looks.
    pub toward: Toward,
    /// And how far.
    pub off_mm: f64,
}

pub(super) static FORMS: &[Form] = &[Form {
    find: "prism",
    takes: &[
        SPHERE,
        CYLINDER.or("0"),
        AXIS.or("180"),
        Takes::word("toward", &["below", "above", "nasal", "temporal"]),
        Takes::number("off_mm", "mm", [0.1, 40.0], 1),
        EYE,
    ],
    pose: |given: &Given| {
        let words = [("below", Toward::Below), ("above", Toward::Above), ("nasal", Toward::Nasal)];
        let toward =
            words.into_iter().find(|(word, _)| given.is("toward", word)).map_or(Toward::Temporal, |(_, way)| way);
        Ok(Prentice { rx: given.power(""), eye: given.eye(), toward, off_mm: given.number("off_mm") }.exercise())
    },
}];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let all = [Toward::Below, Toward::Above, Toward::Nasal, Toward::Temporal];
    let sphere = chance.quarters(-8.0, 7.0);
    let cylinder = -chance.on_grid(0.5, 3.0, 0.5);
    let (rx, toward) = match level {
        1 => ([chance.on_grid(1.0, 8.0, 0.5) * chance.one_of(&[-1.0, 1.0]), 0.0, 180.0], chance.one_of(&all)),
        2 => ([sphere, cylinder, chance.one_of(&[90.0, 180.0])], chance.one_of(&all)),
        _ => ([sphere, cylinder, chance.one_of(&[30.0, 45.0, 60.0, 120.0, 135.0, 150.0])], chance.one_of(&all[..2])),
    };
    let (eye, off_mm) = (chance.one_of(&Eye::BOTH), chance.on_grid(2.0, 10.0, 1.0));
    Prentice { rx, eye, toward, off_mm }.exercise()
}

impl Prentice {
    fn is_vertical(&self) -> bool {
        matches!(self.toward, Toward::Below | Toward::Above)
    }

    /// Along the line of the displacement, positive with its base up or in.
    fn prism_pd(&self, rx: [f64; 3], off_mm: f64) -> f64 {
        let nose = self.eye.nasal_sign();
        let (x, y) = match self.toward {
            Toward::Below => (0.0, -off_mm),
            Toward::Above => (0.0, off_mm),
            Toward::Nasal => (nose * off_mm, 0.0),
            Toward::Temporal => (-nose * off_mm, 0.0),
        };
        let (along, up) = Power::new(rx[0], rx[1], rx[2]).prentice_pd(x, y);
        if self.is_vertical() { up } else { nose * along }
    }

    fn question(&self) -> String {
        let place = match self.toward {
            Toward::Below => "below",
            Toward::Above => "above",
            Toward::Nasal => "on the nasal side of",
            Toward::Temporal => "on the temporal side of",
        };
        let line = if self.is_vertical() { "vertical" } else { "horizontal" };
        format!(
            "{} eye, {}. It looks {} mm {place} the optical centre. Which {line} prism does it meet? Amount and base.",
            if self.eye == Eye::Right { "Right" } else { "Left" },
            written(self.rx),
            size(self.off_mm)
        )
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let [sphere, cylinder, deg] = self.rx;
        let right = self.prism_pd(self.rx, self.off_mm);
        let meridian = if self.is_vertical() { 90.0 } else { 180.0 };
        let strength = Power::new(sphere, cylinder, deg).along(meridian);
        let ways = if self.is_vertical() { ["up", "down"] } else { ["in", "out"] };
        let cm = self.off_mm / 10.0;
        let mut made = Exercise::number(self.question(), Scale::plain("Δ", 2).within(0.05).toward(ways), right);
        if cylinder != 0.0 {
            made = made
                .step(
                    if self.is_vertical() {
                        "F along 90 = S + C sin²(90 − axis)"
                    } else {
                        "F along 180 = S + C sin²(180 − axis)"
                    },
                    format!(
                        "{} + {} × sin²({})",
                        bracketed(sphere, 2),
                        bracketed(cylinder, 2),
                        size((meridian - deg).abs())
                    ),
                    strength,
                    (3, "D"),
                )
                .slip(Mistake::CylinderIgnored, self.prism_pd([sphere, 0.0, 180.0], self.off_mm))
                .slip(Mistake::CylinderInFull, self.prism_pd([sphere + cylinder, 0.0, 180.0], self.off_mm))
                .slip(Mistake::CylinderSign, self.prism_pd([sphere, -cylinder, deg], self.off_mm))
                .slip(Mistake::CosineForSine, self.prism_pd([sphere, cylinder, deg + 90.0], self.off_mm));
        }
        made = made.step("c in cm", format!("{} / 10", size(self.off_mm)), cm, (2, "cm"));
        made.slip(Mistake::CmForMm, 10.0 * right)
            .step(
                "P = c × F, without its sign",
                format!("{} × {}", size(cm), figure(strength.abs(), 3)),
                right.abs(),
                (2, "Δ"),
            )
            .slip(Mistake::WrongWay, -right)
    }
}
