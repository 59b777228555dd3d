//! The sag of a spherical surface.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Mistake, Takes};
use super::{DIAMETER, INDEX, as_given, dioptres};
use crate::draw::number::{figure, size};
use crate::lens::TOOLING_INDEX;
use crate::surface::{Conicoid, Surface, Upright};
use kurbo::Vec2;

/// How the surface is given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spoken {
    /// By its radius, mm.
    Radius(f64),
    /// By its true power and the index.
    Power(f64, f64),
    /// By a lens-measure reading, and the index, which does not matter.
    Reading(f64, f64),
}

/// "How deep is it over this diameter?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sag {
    /// The surface.
    pub surface: Spoken,
    /// mm.
    pub diameter_mm: f64,
}

/// "How deep is a conicoid?" Its p is one more than its conic constant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ConicSag {
    /// At the vertex, mm.
    pub radius_mm: f64,
    /// 1 is a sphere, 0 a paraboloid.
    pub p: f64,
    /// mm.
    pub diameter_mm: f64,
}

const RADIUS: Takes = Takes::number("radius_mm", "mm", [5.0, 9000.0], 4);

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "sag",
        takes: &[RADIUS, DIAMETER],
        pose: |given| {
            let surface = Spoken::Radius(given.number("radius_mm"));
            Ok(Sag { surface, diameter_mm: given.number("diameter_mm") }.exercise())
        },
    },
    Form {
        find: "sag",
        takes: &[dioptres("power_d", 0.25, 30.0), INDEX, DIAMETER],
        pose: |given| {
            let surface = Spoken::Power(given.number("power_d"), given.number("index"));
            Ok(Sag { surface, diameter_mm: given.number("diameter_mm") }.exercise())
        },
    },
    Form {
        find: "sag",
        takes: &[dioptres("reading_d", 0.25, 30.0), INDEX.or("1.53"), DIAMETER],
        pose: |given| {
            let surface = Spoken::Reading(given.number("reading_d"), given.number("index"));
            Ok(Sag { surface, diameter_mm: given.number("diameter_mm") }.exercise())
        },
    },
    Form {
        find: "sag",
        takes: &[RADIUS, Takes::number("p", "", [-50.0, 50.0], 2), DIAMETER],
        pose: |given| {
            let [radius_mm, p, diameter_mm] = ["radius_mm", "p", "diameter_mm"].map(|key| given.number(key));
            Ok(ConicSag { radius_mm, p, diameter_mm }.exercise())
        },
    },
];

/// Radius and half the diameter at which the root comes out well, mm.
pub(super) const TRIPLES: [(f64, f64); 12] = [
    (65.0, 25.0),
    (65.0, 16.0),
    (85.0, 36.0),
    (85.0, 13.0),
    (50.0, 14.0),
    (100.0, 28.0),
    (75.0, 21.0),
    (125.0, 35.0),
    (82.0, 18.0),
    (101.0, 20.0),
    (73.0, 48.0 / 2.0),
    (62.5, 17.5),
];

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    let diameter_mm = chance.on_grid(40.0, 60.0, 2.0);
    let index = chance.one_of(&[1.5, 1.6, 1.67, 1.74]);
    if level == 3 && chance.yes() {
        let (radius_mm, p) = (chance.on_grid(60.0, 110.0, 5.0), chance.one_of(&[-1.0, 0.0, 0.5]));
        return ConicSag { radius_mm, p, diameter_mm }.exercise();
    }
    match level {
        1 => {
            let (radius, half) = chance.one_of(&TRIPLES);
            Sag { surface: Spoken::Radius(radius), diameter_mm: 2.0 * half }
        }
        2 => Sag { surface: Spoken::Power(chance.on_grid(4.0, 8.0, 0.5), index), diameter_mm },
        _ => Sag { surface: Spoken::Reading(chance.on_grid(3.0, 8.0, 0.25), index), diameter_mm },
    }
    .exercise()
}

/// Of a sphere; NaN where it does not reach so far.
pub(super) fn sag(radius_mm: f64, y_mm: f64) -> f64 {
    Surface::sphere(1.0 / radius_mm).sag(Vec2::new(y_mm, 0.0)).unwrap_or(f64::NAN)
}

impl ConicSag {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let ConicSag { radius_mm: r, p, diameter_mm } = *self;
        let y = 0.5 * diameter_mm;
        let at = |p: f64, y: f64| {
            let surface = Upright::Conicoid(Conicoid { c: 1.0 / r, k: p - 1.0 });
            surface.sag(Vec2::new(y, 0.0)).unwrap_or(f64::NAN)
        };
        let (right, root) = (at(p, y), (r * r - p * y * y).sqrt());
        let question = format!(
            "An aspheric surface, a conicoid with radius {} mm at its vertex and p = {}: how deep is it over a diameter of {} mm? \
             To three decimals.",
            as_given(r),
            figure(p, 2),
            size(diameter_mm)
        );
        Exercise::number(question, Scale::plain("mm", 3).within(0.005), right)
            .step("y = half the diameter", format!("{} / 2", size(diameter_mm)), y, (2, "mm"))
            .slip(Mistake::DiameterForHalf, at(p, 2.0 * y))
            .step("√(r² − p y²)", format!("√({}² − {} × {}²)", as_given(r), as_given(p), size(y)), root, (4, "mm"))
            .slip(Mistake::AsASphere, at(1.0, y))
            .step(
                "sag = y² / (r + √(r² − p y²))",
                format!("{}² / ({} + {})", size(y), as_given(r), figure(root, 4)),
                right,
                (3, "mm"),
            )
    }
}

impl Sag {
    fn radius_mm(&self) -> f64 {
        match self.surface {
            Spoken::Radius(radius) => radius,
            Spoken::Power(power, index) => 1000.0 * (index - 1.0) / power,
            Spoken::Reading(reading, _) => 1000.0 * (TOOLING_INDEX - 1.0) / reading,
        }
    }

    /// The radius in its line of working.
    fn radius(&self, made: Exercise) -> Exercise {
        let r = self.radius_mm();
        match self.surface {
            Spoken::Radius(_) => made,
            Spoken::Power(power, index) => {
                made.step("r = 1000 (n − 1) / F", format!("1000 × ({index} − 1) / {}", figure(power, 2)), r, (3, "mm"))
            }
            Spoken::Reading(reading, _) => made.step(
                "r = 1000 × 0.530 / reading, whatever the lens is made of",
                format!("1000 × 0.530 / {}", figure(reading, 2)),
                r,
                (3, "mm"),
            ),
        }
    }

    /// Radii that come of a mistake.
    fn wrong_radii(&self, made: Exercise) -> Exercise {
        let y = 0.5 * self.diameter_mm;
        match self.surface {
            Spoken::Radius(_) => made,
            Spoken::Power(power, index) => made
                .slip(Mistake::IndexForIndexMinusOne, sag(1000.0 * index / power, y))
                .slip(Mistake::WrongRadius, sag(1000.0 * (TOOLING_INDEX - 1.0) / power, y)),
            Spoken::Reading(reading, index) => made
                .slip(Mistake::OwnIndexForClock, sag(1000.0 * (index - 1.0) / reading, y))
                .slip(Mistake::IndexForIndexMinusOne, sag(1000.0 * TOOLING_INDEX / reading, y)),
        }
    }

    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let (r, y) = (self.radius_mm(), 0.5 * self.diameter_mm);
        let right = sag(r, y);
        let surface = match self.surface {
            Spoken::Radius(radius) => format!("A surface of radius {} mm", as_given(radius)),
            Spoken::Power(power, index) => format!("A surface of {} D on index {index}", figure(power, 2)),
            Spoken::Reading(reading, index) => {
                format!(
                    "A lens measure made for 1.530 reads {} on a surface of a lens of index {index}. The surface",
                    figure(reading, 2)
                )
            }
        };
        let question =
            format!("{surface}: how deep is it over a diameter of {} mm? To two decimals.", size(self.diameter_mm));
        let made = Exercise::number(question, Scale::plain("mm", 2).within(0.02), right);
        let made = self.radius(made);
        let made = self.wrong_radii(made);
        made.step("y = half the diameter", format!("{} / 2", size(self.diameter_mm)), y, (2, "mm"))
            .slip(Mistake::DiameterForHalf, sag(r, 2.0 * y))
            .step("√(r² − y²)", format!("√({}² − {}²)", figure(r, 3), size(y)), r - right, (3, "mm"))
            .slip(Mistake::ShortForm, y * y / (2.0 * r))
            .step("sag = r − √(r² − y²)", format!("{} − {}", figure(r, 3), figure(r - right, 3)), right, (2, "mm"))
    }
}
