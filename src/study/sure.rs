//! How sure a promise is: what 1 mm of pd, a step of the base curve and 0.3 mm of centre would change.
//!
//! Units: mm, dioptres and grams in the names. A change is after less before: positive is thicker or heavier.

use crate::assess::{Fit, Made, make};
use crate::choose::base::{Base, listed_bases};
use crate::choose::{LensOption, Supply};
use crate::eye::{Eye, Eyes};
use crate::measure::Mounted;
use crate::rx::EyeRx;
use kurbo::Vec2;

/// A pd is measured to this at best, and frames are adjusted to no better (common practice, no source).
pub const PD_MM: f64 = 1.0;
/// How much thicker than asked for a lab's centre may come out: the tolerance of ISO 8980-1.
pub const CENTRE_MM: f64 = 0.3;
/// Bases nearer than this are one, D.
const SAME_D: f64 = 1e-9;

/// What may come out otherwise than planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// Each pd, [`PD_MM`] less or more.
    Pd,
    /// The base curve, one listed step flatter or steeper.
    Base,
    /// The centre, [`CENTRE_MM`] more.
    Centre,
}

impl Doubt {
    /// The word used in JSON.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Doubt::Pd => "pd",
            Doubt::Base => "base",
            Doubt::Centre => "centre",
        }
    }
}

/// The least and the most that a doubt changes; both 0 where it changes nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The doubt.
    pub doubt: Doubt,
    /// At the thickest edge of the pair.
    pub edge_mm: [f64; 2],
    /// Of the mass of the pair.
    pub mass_g: [f64; 2],
}

/// Edge and mass of a pair, and how sure they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Sure {
    /// Thickest edge of the pair.
    pub edge_max_mm: f64,
    /// Mass of both lenses.
    pub mass_g: f64,
    /// What each doubt changes; without those that do not arise.
    pub spreads: Vec<Spread>,
}

impl Sure {
    /// Of a fit that can be made: `None` where it cannot.
    #[must_use]
    pub fn of(fit: &Fit<'_>) -> Option<Sure> {
        let pair = fit.pair()?;
        let nominal = Outcome { edge_mm: pair.edge_max_mm(), mass_g: pair.mass_g() };
        let spreads = [
            (Doubt::Pd, pd(fit, &pair.eyes)),
            (Doubt::Base, base(fit, &pair.eyes)),
            (Doubt::Centre, centre(fit, &pair.eyes)),
        ];
        let spreads = spreads.into_iter().filter(|(_, outcomes)| !outcomes.is_empty());
        Some(Sure {
            edge_max_mm: nominal.edge_mm,
            mass_g: nominal.mass_g,
            spreads: spreads.map(|(doubt, outcomes)| nominal.spread(doubt, &outcomes)).collect(),
        })
    }

    /// Give or take this at the thickest edge: the largest changes of each doubt, as independent ones (ours).
    #[must_use]
    pub fn give_or_take_mm(&self) -> f64 {
        together(self.spreads.iter().map(|spread| spread.edge_mm))
    }

    /// Give or take this of the mass.
    #[must_use]
    pub fn give_or_take_g(&self) -> f64 {
        together(self.spreads.iter().map(|spread| spread.mass_g))
    }
}

/// The root of the sum of squares.
fn together(changes: impl Iterator<Item = [f64; 2]>) -> f64 {
    changes.map(|[low, high]| high.abs().max(low.abs()).powi(2)).sum::<f64>().sqrt()
}

/// A pair that came out otherwise.
#[derive(Clone, Copy)]
struct Outcome {
    edge_mm: f64,
    mass_g: f64,
}

impl Outcome {
    fn of_pair(right: Outcome, left: Outcome) -> Outcome {
        Outcome { edge_mm: right.edge_mm.max(left.edge_mm), mass_g: right.mass_g + left.mass_g }
    }

    fn of_lens(made: &Made) -> Outcome {
        Outcome { edge_mm: made.thickness.edges.max.thickness_mm, mass_g: made.mass_g }
    }

    fn spread(&self, doubt: Doubt, outcomes: &[Outcome]) -> Spread {
        let reach = |of: fn(&Outcome) -> f64| {
            let changes = outcomes.iter().map(|outcome| of(outcome) - of(self));
            changes.fold([0.0, 0.0], |[low, high]: [f64; 2], change| [low.min(change), high.max(change)])
        };
        Spread { doubt, edge_mm: reach(|outcome| outcome.edge_mm), mass_g: reach(|outcome| outcome.mass_g) }
    }
}

/// Both pds less or more, each by itself.
fn pd(fit: &Fit<'_>, eyes: &Eyes<Made>) -> Vec<Outcome> {
    let moved = |eye: Eye| {
        let rx = fit.prescription.eyes.of(eye);
        let base = eyes.of(eye).base;
        [-PD_MM, PD_MM].map(|by| lens(fit, eye, &EyeRx { pd_mm: rx.pd_mm + by, ..*rx }, base))
    };
    let (right, left) = (moved(Eye::Right), moved(Eye::Left));
    let pairs = right.into_iter().flatten().flat_map(|right| left.into_iter().flatten().map(move |left| (right, left)));
    pairs.map(|(right, left)| Outcome::of_pair(right, left)).collect()
}

/// Both bases one step flatter, then one steeper. A ready-made lens has the one it comes with.
fn base(fit: &Fit<'_>, eyes: &Eyes<Made>) -> Vec<Outcome> {
    if fit.option.supply == Supply::Stock {
        return Vec::new();
    }
    let stepped = |step: fn(&LensOption, f64) -> Option<f64>| {
        let of = |eye: Eye| {
            let base = eyes.of(eye).base;
            let base_curve_d = step(fit.option, base.base_curve_d)?;
            lens(fit, eye, fit.prescription.eyes.of(eye), Base { base_curve_d, ..base })
        };
        Some(Outcome::of_pair(of(Eye::Right)?, of(Eye::Left)?))
    };
    [stepped(flatter_d), stepped(steeper_d)].into_iter().flatten().collect()
}

fn flatter_d(option: &LensOption, base_curve_d: f64) -> Option<f64> {
    listed_bases(option).filter(|listed| *listed < base_curve_d - SAME_D).reduce(f64::max)
}

fn steeper_d(option: &LensOption, base_curve_d: f64) -> Option<f64> {
    listed_bases(option).filter(|listed| *listed > base_curve_d + SAME_D).reduce(f64::min)
}

fn lens(fit: &Fit<'_>, eye: Eye, rx: &EyeRx, base: Base) -> Option<Outcome> {
    let ask = fit.mounting.ask(eye, rx, fit.prescription.reference_line, fit.option, Some(base));
    make(&ask).ok().map(|made| Outcome::of_lens(&made))
}

/// Both lenses thicker.
fn centre(fit: &Fit<'_>, eyes: &Eyes<Made>) -> Vec<Outcome> {
    let of = |eye| thicker(fit, eye, eyes.of(eye));
    let pair = of(Eye::Right).zip(of(Eye::Left));
    pair.map(|(right, left)| Outcome::of_pair(right, left)).into_iter().collect()
}

fn thicker(fit: &Fit<'_>, eye: Eye, made: &Made) -> Option<Outcome> {
    let lens = made.recipe.at_centre(made.lens.centre_mm() + CENTRE_MM).ok()?;
    let reference = Vec2::new(made.centration.x_mm(eye), made.centration.up_mm);
    let mounted = Mounted { lens: &lens, outline: fit.mounting.outlines.of(eye), reference };
    let density = mounted.density();
    let edge_mm = mounted.thickest_edge(&mounted.scan_edge(density)?)?.thickness_mm;
    let cut = mounted.cut_out(fit.mounting.frame.rim.edging(), density)?;
    let grams_per_mm3 = fit.option.substance.glass(fit.prescription.reference_line).density / 1000.0;
    Some(Outcome { edge_mm, mass_g: grams_per_mm3 * (cut.volume_mm3 - cut.removed_mm3) })
}
