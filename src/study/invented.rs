//! Invented orders for demonstrations, tests and benchmarks: pupils, refractions, frames and dates as a laboratory sees
//! them over a year. The same seed gives the same orders.
//!
//! Units: mm, dioptres, degrees, prism dioptres in the names.

use crate::choose::Supply;
use crate::eye::Eye;
use crate::keys::{self, Key};
use crate::outline::Shape;
use crate::rim::Rim;
use rand::rngs::ChaCha8Rng;
use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, Exp, Normal};

/// Mean and spread of the distance between adult pupils, mm: the US Army's survey as told by Dodgson, Proc. SPIE 5291
/// (2004) 36 (the mean of about 63 from its abstract, the digits from memory).
const PD_BOTH_MM: (f64, f64) = (63.36, 3.83);
/// An invented pd keeps within these of the mean (ours).
const PD_SPREADS: f64 = 3.0;
/// How unevenly the pupils stand about the bridge, mm (common practice, no source).
const PD_UNEVEN_MM: f64 = 0.6;
/// Shares, means and spreads of the spherical equivalents that a laboratory is sent, D (common practice, no source).
const REFRACTIONS: [(f64, f64, f64); 3] = [(0.55, -2.75, 2.0), (0.33, 1.75, 1.1), (0.12, -0.25, 0.5)];
/// No stronger sphere is invented, D.
const SPHERES_D: (f64, f64) = (-12.0, 8.0);
/// Both eyes differ by a spread of this, D; one in twenty by four times that (common practice, no source).
const UNEQUAL_D: f64 = 0.5;
/// Share of eyes with a cylinder, and its mean and most, D (common practice, no source).
const CYLINDER: (f64, f64, f64) = (0.65, 0.9, 4.0);
/// Share of orders with a prism: more than in practice, so that it is seen.
const PRISM_SHARE: f64 = 0.1;
/// Share of orders for one lens only (common practice, no source).
const ONE_LENS_SHARE: f64 = 0.06;
/// Frames that the orders choose from.
const FRAMES: usize = 150;
/// The year in which all orders fall, and its days.
const YEAR: (u16, usize) = (2025, 365);

/// Shapes and how often they are seen (common practice, no source).
const SHAPES: [(&str, u32); 10] = [
    ("oval", 20),
    ("soft-rectangle", 20),
    ("rectangle", 14),
    ("panto", 14),
    ("square", 10),
    ("pilot", 6),
    ("cat-eye", 6),
    ("circle", 4),
    ("hexagon", 3),
    ("half-eye", 3),
];
/// Rims and how often they are seen (common practice, no source).
const RIMS: [(Rim, u32); 5] =
    [(Rim::Plastic, 45), (Rim::Metal, 35), (Rim::Supra, 12), (Rim::Rimless, 7), (Rim::ReverseSupra, 1)];

/// What is asked in an invented row.
static ASKED: [&Key; 17] = [
    &keys::ORDER,
    &keys::DATE,
    &keys::EYE,
    &keys::SPHERE,
    &keys::CYLINDER,
    &keys::AXIS,
    &keys::AMOUNT,
    &keys::BASE,
    &keys::PD,
    &keys::SHAPE,
    &keys::EYE_SIZES,
    &keys::DEPTH,
    &keys::BRIDGE,
    &keys::RIM,
    &keys::HEIGHT,
    &keys::MATERIAL,
    &keys::SUPPLY,
];

/// The columns of an invented row.
#[must_use]
pub fn columns() -> [&'static str; ASKED.len()] {
    ASKED.map(|key| key.column().unwrap_or(key.name))
}

/// A row, a field for each of the [`columns`].
pub type Row = [String; ASKED.len()];

/// A frame of the invented collection.
#[derive(Clone, Debug)]
struct Invented {
    shape: &'static str,
    eye_size_mm: f64,
    depth_mm: f64,
    bridge_mm: f64,
    rim: Rim,
}

/// What one eye is invented to need.
#[derive(Clone, Copy, Debug)]
struct Needed {
    sphere: f64,
    cylinder: f64,
    axis: f64,
}

/// Rows of invented orders, in the order of their dates.
#[derive(Debug)]
pub struct Orders {
    chance: ChaCha8Rng,
    frames: Vec<Invented>,
    lenses: u64,
    done: u64,
    number: u64,
    waiting: Option<Row>,
}

impl Orders {
    /// So many lenses, of this seed.
    #[must_use]
    pub fn new(lenses: u64, seed: u64) -> Orders {
        let mut chance = ChaCha8Rng::seed_from_u64(seed);
        let frames = (0..FRAMES).map(|_| Invented::any(&mut chance)).collect();
        Orders { chance, frames, lenses, done: 0, number: 0, waiting: None }
    }
}

impl Iterator for Orders {
    type Item = Row;

    fn next(&mut self) -> Option<Row> {
        if self.done == self.lenses {
            return None;
        }
        let row = self.waiting.take().unwrap_or_else(|| self.order());
        self.done += 1;
        Some(row)
    }
}

impl Orders {
    /// The first row of a new order; the second waits.
    fn order(&mut self) -> Row {
        self.number += 1;
        let day = (u128::from(self.done) * YEAR.1 as u128 / u128::from(self.lenses.max(1))) as usize;
        let (order, date) = (format!("A{:07}", self.number), date(day));
        let chance = &mut self.chance;
        // Some frames are ordered often: the square of chance crowds toward the first.
        let share: f64 = chance.random();
        let frame = &self.frames[((share * share * FRAMES as f64) as usize).min(FRAMES - 1)];
        let right = Needed::any(chance);
        let left = right.other(chance);
        let pd_mm = pupils(chance);
        let up_mm = chance.random_bool(0.6).then(|| half(chance.random_range(0.0..4.0)));
        let prism = chance.random_bool(PRISM_SHARE).then(|| prism(chance));
        let strongest = right.strongest().abs().max(left.strongest().abs());
        let material = material(strongest, frame.rim, chance);
        let supply = supply(prism.is_some(), [right, left], frame, chance);
        let one = chance.random_bool(ONE_LENS_SHARE);
        let row = |eye: Eye, needed: &Needed, pd_mm: f64| {
            let (amount, base_deg) =
                prism.map_or((None, None), |(amount, base)| (Some(amount), Some(base_of(base, eye))));
            let number = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
            let cylinder = (needed.cylinder != 0.0).then_some(needed.cylinder);
            [
                order.clone(),
                date.clone(),
                eye.word().to_owned(),
                format!("{:.2}", needed.sphere),
                cylinder.map(|cylinder| format!("{cylinder:.2}")).unwrap_or_default(),
                number(cylinder.map(|_| needed.axis)),
                number(amount),
                number(base_deg),
                pd_mm.to_string(),
                frame.shape.to_owned(),
                frame.eye_size_mm.to_string(),
                frame.depth_mm.to_string(),
                frame.bridge_mm.to_string(),
                frame.rim.word().to_owned(),
                number(up_mm.map(|up| half(0.5 * frame.depth_mm) + up)),
                material.to_owned(),
                supply.word().to_owned(),
            ]
        };
        let rows = [row(Eye::Right, &right, pd_mm[0]), row(Eye::Left, &left, pd_mm[1])];
        let [first, second] = rows;
        if one && chance.random_bool(0.5) {
            return second;
        }
        self.waiting = (!one).then_some(second);
        first
    }
}

impl Invented {
    fn any(chance: &mut ChaCha8Rng) -> Invented {
        let shape = weighted(&SHAPES, chance);
        let eye_size_mm = f64::from(chance.random_range(46..=56));
        let ratio = Shape::from_word(shape).map_or(0.8, |shape| shape.depth_ratio());
        let depth_mm = match shape {
            "circle" => eye_size_mm,
            _ => half(eye_size_mm * ratio * chance.random_range(0.94..1.06)),
        };
        let bridge_mm = f64::from(chance.random_range(15..=21));
        Invented { shape, eye_size_mm, depth_mm, bridge_mm, rim: weighted(&RIMS, chance) }
    }
}

impl Needed {
    fn any(chance: &mut ChaCha8Rng) -> Needed {
        let mut share: f64 = chance.random();
        let mut equivalent_d = 0.0;
        for (of, mean, spread) in REFRACTIONS {
            if share < of {
                equivalent_d = normal(mean, spread, chance);
                break;
            }
            share -= of;
        }
        Needed::of(equivalent_d, chance)
    }

    fn of(equivalent_d: f64, chance: &mut ChaCha8Rng) -> Needed {
        let (with, mean, most) = CYLINDER;
        let cylinder =
            if chance.random_bool(with) { -quarter(exponential(mean, chance)).clamp(0.25, most) } else { 0.0 };
        let sphere = quarter(equivalent_d - 0.5 * cylinder).clamp(SPHERES_D.0, SPHERES_D.1);
        // With the rule, against it, or oblique (common practice, no source).
        let about = *[180.0, 180.0, 180.0, 90.0, 90.0, 45.0].choose(chance).unwrap_or(&180.0);
        let axis = (5.0 * (normal(about, 15.0, chance) / 5.0).round()).rem_euclid(180.0);
        Needed { sphere, cylinder, axis: if axis == 0.0 { 180.0 } else { axis } }
    }

    /// The other eye: like this one, its axis mirrored.
    fn other(&self, chance: &mut ChaCha8Rng) -> Needed {
        let spread = if chance.random_bool(0.05) { 4.0 * UNEQUAL_D } else { UNEQUAL_D };
        let other = Needed::of(normal(self.sphere + 0.5 * self.cylinder, spread, chance), chance);
        let axis = (180.0 - self.axis + 5.0 * normal(0.0, 2.0, chance).round()).rem_euclid(180.0);
        Needed { axis: if axis == 0.0 { 180.0 } else { axis }, ..other }
    }

    /// The stronger meridian.
    fn strongest(&self) -> f64 {
        let across = self.sphere + self.cylinder;
        if across.abs() > self.sphere.abs() { across } else { self.sphere }
    }
}

/// The pd of both eyes.
fn pupils(chance: &mut ChaCha8Rng) -> [f64; 2] {
    let (mean, spread) = PD_BOTH_MM;
    let both = normal(mean, spread, chance).clamp(mean - PD_SPREADS * spread, mean + PD_SPREADS * spread);
    let right = half(0.5 * both + normal(0.0, PD_UNEVEN_MM, chance).clamp(-2.0, 2.0));
    [right, half(both) - right]
}

/// A prism shared by both eyes: amount in each, and which way.
fn prism(chance: &mut ChaCha8Rng) -> (f64, &'static str) {
    (
        f64::from(chance.random_range(2..=12)) / 4.0,
        ["in", "in", "out", "out", "vertical"].choose(chance).unwrap_or(&"in"),
    )
}

/// The base in degrees: toward the nose it is 0 for the right eye and 180 for the left.
fn base_of(way: &str, eye: Eye) -> f64 {
    match (way, eye) {
        ("in", Eye::Right) | ("out", Eye::Left) => 0.0,
        ("in" | "out", _) => 180.0,
        (_, Eye::Right) => 90.0,
        (_, Eye::Left) => 270.0,
    }
}

/// The stronger the power, the higher the index (common practice, no source).
fn material(strongest_d: f64, rim: Rim, chance: &mut ChaCha8Rng) -> &'static str {
    let choice: &[(&str, u32)] = match (strongest_d, rim) {
        (_, Rim::Rimless) => &[("resin-1.53", 30), ("polycarbonate", 20), ("resin-1.60", 30), ("resin-1.67", 20)],
        (d, _) if d < 2.5 => &[("resin-1.50", 65), ("resin-1.56", 15), ("resin-1.60", 15), ("polycarbonate", 5)],
        (d, _) if d < 5.0 => &[("resin-1.50", 25), ("resin-1.56", 15), ("resin-1.60", 45), ("resin-1.67", 15)],
        (d, _) if d < 8.0 => &[("resin-1.60", 40), ("resin-1.67", 50), ("resin-1.74", 10)],
        _ => &[("resin-1.67", 45), ("resin-1.74", 50), ("glass-1.80", 5)],
    };
    weighted(choice, chance)
}

/// Ready-made where it usually is to be had: weak powers without prism, in frames of usual width (ours).
fn supply(prism: bool, eyes: [Needed; 2], frame: &Invented, chance: &mut ChaCha8Rng) -> Supply {
    let weak = |needed: &Needed| (-4.0..=0.0).contains(&needed.sphere) && needed.cylinder >= -2.0;
    let rimmed = matches!(frame.rim, Rim::Metal | Rim::Plastic);
    if !prism && rimmed && frame.eye_size_mm <= 52.0 && eyes.iter().all(weak) && chance.random_bool(0.8) {
        Supply::Stock
    } else {
        Supply::Surfaced
    }
}

fn weighted<T: Copy>(choice: &[(T, u32)], chance: &mut ChaCha8Rng) -> T {
    let mut at = chance.random_range(0..choice.iter().map(|(_, weight)| weight).sum());
    let found = choice.iter().find(|(_, weight)| {
        let here = at < *weight;
        at = at.saturating_sub(*weight);
        here
    });
    found.unwrap_or(&choice[0]).0
}

fn normal(mean: f64, spread: f64, chance: &mut ChaCha8Rng) -> f64 {
    Normal::new(mean, spread).map_or(mean, |normal| normal.sample(chance))
}

fn exponential(mean: f64, chance: &mut ChaCha8Rng) -> f64 {
    Exp::new(1.0 / mean).map_or(mean, |exponential| exponential.sample(chance))
}

/// Powers go in quarters. Nought has no sign.
fn quarter(value: f64) -> f64 {
    (4.0 * value).round() / 4.0 + 0.0
}

fn half(value: f64) -> f64 {
    (2.0 * value).round() / 2.0
}

/// Year-month-day of a day of the year, counted from 0.
fn date(day: usize) -> String {
    let mut left = day;
    let months = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    for (month, days) in (1..).zip(months) {
        if left < days {
            return format!("{}-{month:02}-{:02}", YEAR.0, left + 1);
        }
        left -= days;
    }
    format!("{}-12-31", YEAR.0)
}
