//! The power of a surface: from its radius, and from what a lens measure reads on it; the index of a lens by its readings;
//! the curve variation factor; the base curve by Vogel's rule.

use super::super::exercise::Scale;
use super::super::{Chance, Exercise, Form, Given, Mistake, Takes};
use super::{AXIS, CYLINDER, INDEX, SPHERE, as_given, bracketed, dioptres, written};
use crate::choose::base::vogel_d;
use crate::draw::number::{figure, power};
use crate::figures::radius_mm;
use crate::lens::{Recipe, TOOLING_INDEX};
use crate::light::ReferenceLine;
use crate::material::Glass;
use crate::rx::{Power, Prism};
use crate::study::gauge::Readings;

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

/// "Of which index is a thin lens with these readings and this power?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IndexByReadings {
    /// On front and back; a hollow surface reads minus.
    pub readings_d: [f64; 2],
    /// As read on a focimeter.
    pub power_d: f64,
    /// For which the lens measure is made.
    pub measure_index: f64,
}

/// "By how much are the curves flatter than in crown glass?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurveVariation {
    /// Of the lens.
    pub index: f64,
}

/// "Which base curve does Vogel's rule ask for?"
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vogel {
    /// Sphere, cylinder, axis.
    pub rx: [f64; 3],
}

/// Against which the curve variation factor is counted.
const CROWN: f64 = 1.523;
/// Thin enough for its thickness to count for nothing, mm.
const THIN_MM: f64 = 1e-9;

pub(super) static FORMS: &[Form] = &[
    Form {
        find: "power",
        takes: &[Takes::number("radius_mm", "mm", [5.0, 9000.0], 2), INDEX],
        pose: |given| Ok(OfRadius { radius_mm: given.number("radius_mm"), index: given.number("index") }.exercise()),
    },
    Form { find: "power", takes: &[dioptres("reading_d", 0.25, 30.0), INDEX], pose: |given| reading(given, false) },
    Form {
        find: "radius",
        takes: &[dioptres("reading_d", 0.25, 30.0), INDEX.or("1.53")],
        pose: |given| reading(given, true),
    },
    Form {
        find: "index",
        takes: &[
            dioptres("front_reading_d", -30.0, 30.0),
            dioptres("back_reading_d", -30.0, 30.0),
            dioptres("power_d", -30.0, 30.0),
            Takes::number("lens_measure_index", "", [1.4, 2.0], 3).or("1.53"),
        ],
        pose: |given| {
            let readings_d = ["front_reading_d", "back_reading_d"].map(|key| given.number(key));
            let [power_d, measure_index] = ["power_d", "lens_measure_index"].map(|key| given.number(key));
            Ok(IndexByReadings { readings_d, power_d, measure_index }.exercise())
        },
    },
    Form {
        find: "base-curve",
        takes: &[SPHERE, CYLINDER.or("0"), AXIS.or("180")],
        pose: |given| Ok(Vogel { rx: given.power("") }.exercise()),
    },
    Form {
        find: "curve-variation",
        takes: &[INDEX],
        pose: |given| Ok(CurveVariation { index: given.number("index") }.exercise()),
    },
];

fn reading(given: &Given, radius: bool) -> Result<Exercise, String> {
    Ok(FromReading { reading_d: given.number("reading_d"), index: given.number("index"), radius }.exercise())
}

/// Readings of a lens whose index comes out near one of the trade's.
fn readings(chance: &mut Chance) -> Exercise {
    let (front, back) = (chance.on_grid(4.0, 8.0, 0.25), -chance.on_grid(0.5, 1.5, 0.25));
    let index = chance.one_of(&[1.5, 1.6, 1.67, 1.74]);
    let power_d = (4.0 * (front + back) * (index - 1.0) / (TOOLING_INDEX - 1.0)).round() / 4.0;
    IndexByReadings { readings_d: [front, back], power_d, measure_index: TOOLING_INDEX }.exercise()
}

pub(super) fn any(level: u8, chance: &mut Chance) -> Exercise {
    match level {
        1 if chance.yes() => {
            let sphere = chance.quarters(-8.0, 4.0);
            let cylinder = -chance.on_grid(0.5, 3.0, 0.5);
            Vogel { rx: [sphere, cylinder, chance.on_grid(5.0, 180.0, 5.0)] }.exercise()
        }
        1 => {
            let index = chance.one_of(&[1.5, 1.6, 1.7, 1.8]);
            // So that the power comes out in halves.
            let power = chance.on_grid(2.0, 10.0, 0.5);
            OfRadius { radius_mm: (1e5 * (index - 1.0) / power).round() / 100.0, index }.exercise()
        }
        2 if chance.yes() => CurveVariation { index: chance.on_grid(1.54, 1.9, 0.01) }.exercise(),
        3 if chance.yes() => readings(chance),
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
        let question = format!(
            "A surface of radius {} mm on a lens of index {}. How strong is it?",
            figure(r, 2),
            as_given(index)
        );
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

impl IndexByReadings {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let IndexByReadings { readings_d: [front, back], power_d, measure_index } = *self;
        let readings = Readings {
            front_d: front,
            back_d: back,
            measure_index,
            centre_mm: THIN_MM,
            edge: None,
            power_d: Some(power_d),
            index: None,
        };
        let right = readings.gauged().index.map_or(f64::NAN, |index| index.value);
        let by = |measure: f64, sum: f64| 1.0 + (measure - 1.0) * power_d / sum;
        let question = format!(
            "A thin lens has a power of {}. A lens measure made for {} reads {} on its front and {} on its back. What is its index? \
             To three decimals.",
            power(power_d),
            figure(measure_index, 3),
            power(front),
            power(back)
        );
        Exercise::number(question, Scale::plain("", 3).within(0.001), right)
            .step("both readings", format!("{} + {}", bracketed(front, 2), bracketed(back, 2)), front + back, (2, "D"))
            .slip(Mistake::BackSign, by(measure_index, front - back))
            .step(
                "n − 1 = (n of the lens measure − 1) × F / both readings",
                format!(
                    "({} − 1) × {} / {}",
                    figure(measure_index, 3),
                    bracketed(power_d, 2),
                    bracketed(front + back, 2)
                ),
                right - 1.0,
                (4, ""),
            )
            .slip(Mistake::FactorUpsideDown, 1.0 + (measure_index - 1.0) * (front + back) / power_d)
            .step("n", format!("1 + {}", figure(right - 1.0, 4)), right, (3, ""))
            .slip(Mistake::MinusOneForIndex, right - 1.0)
    }
}

impl CurveVariation {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let n = self.index;
        // Neither the Abbe number nor the density bears on it.
        let right = Glass::new(n, 40.0, 1.3, ReferenceLine::D).curve_variation_factor();
        let question = format!(
            "What is the curve variation factor of index {} against crown glass, 1.523? To three decimals.",
            as_given(n)
        );
        Exercise::number(question, Scale::plain("", 3).within(0.002), right)
            .step("n − 1", format!("{} − 1", as_given(n)), n - 1.0, (3, ""))
            .slip(Mistake::IndexForIndexMinusOne, CROWN / n)
            .step("factor = 0.523 / (n − 1)", format!("0.523 / {}", figure(n - 1.0, 3)), right, (3, ""))
            .slip(Mistake::FactorUpsideDown, (n - 1.0) / (CROWN - 1.0))
    }
}

impl Vogel {
    /// The question with its answer.
    #[must_use]
    pub fn exercise(&self) -> Exercise {
        let [sphere, cylinder, deg] = self.rx;
        let mean = Power::new(sphere, cylinder, deg).spherical_equivalent();
        let right = vogel_d(mean);
        let question = format!("{}: which base curve does Vogel’s rule ask for?", written(self.rx));
        let made = Exercise::number(question, Scale::plain("D", 2).within(0.02), right)
            .step(
                "M = sphere + half the cylinder",
                format!("{} + {} / 2", bracketed(sphere, 2), bracketed(cylinder, 2)),
                mean,
                (3, "D"),
            )
            .slip(Mistake::WholeCylinder, vogel_d(sphere + cylinder))
            .slip(Mistake::CylinderSign, vogel_d(sphere - 0.5 * cylinder));
        let shown = bracketed(mean, 3);
        match mean > 0.0 {
            true => made
                .step("plus: base curve = M + 6.00", format!("{shown} + 6.00"), right, (2, "D"))
                .slip(Mistake::RuleOfOtherSign, 0.5 * mean + 6.0),
            false => made
                .step("minus: base curve = M / 2 + 6.00", format!("{shown} / 2 + 6.00"), right, (2, "D"))
                .slip(Mistake::RuleOfOtherSign, mean + 6.0),
        }
    }
}
