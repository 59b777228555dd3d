//! How sure a promise is: what 1 mm of pd, a step of the base curve and 0.3 mm of centre would change.
//!
//! Units: mm, dioptres and grams in the names. A change is after less before: positive is thicker or heavier.

use super::compare::Lead;
use crate::assess::{Fit, Made, Pair, make};
use crate::choose::base::{Base, listed_bases};
use crate::choose::{LensOption, Supply};
use crate::eye::{Eye, Eyes};
use crate::measure::Mounted;
use crate::rx::EyeRx;

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
    /// All doubts.
    pub const ALL: [Doubt; 3] = [Doubt::Pd, Doubt::Base, Doubt::Centre];

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
    /// Of the centre, the larger of the pair; `None` where a reference point lies or comes to lie outside its shape.
    pub centre_mm: Option<[f64; 2]>,
    /// Of the mass of the pair.
    pub mass_g: [f64; 2],
}

impl Spread {
    /// What is changed in the leading thickness.
    #[must_use]
    pub fn of(&self, lead: Lead) -> Option<[f64; 2]> {
        match lead {
            Lead::Edge => Some(self.edge_mm),
            Lead::Centre => self.centre_mm,
        }
    }
}

/// Edge, centre and mass of a pair, and how sure they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Sure {
    /// Thickest edge of the pair.
    pub edge_max_mm: f64,
    /// Centre, the larger of the pair; `None` where a reference point lies outside its shape.
    pub centre_mm: Option<f64>,
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
        let nominal = Outcome::of_made(pair);
        let spreads = Doubt::ALL.into_iter().filter_map(|doubt| {
            let outcomes: Vec<Outcome> = outcomes(fit, pair, doubt).into_iter().flatten().collect();
            (!outcomes.is_empty()).then(|| nominal.spread(doubt, &outcomes))
        });
        Some(Sure {
            edge_max_mm: nominal.edge_mm,
            centre_mm: nominal.centre_mm,
            mass_g: nominal.mass_g,
            spreads: spreads.collect(),
        })
    }

    /// Give or take this at the thickest edge: the largest changes of each doubt, as independent ones (ours).
    #[must_use]
    pub fn give_or_take_mm(&self) -> f64 {
        together(self.spreads.iter().map(|spread| spread.edge_mm))
    }

    /// The leading thickness, and give or take what; `None` where a reference point lies or comes to lie outside its shape.
    #[must_use]
    pub fn leading(&self, lead: Lead) -> Option<(f64, f64)> {
        match lead {
            Lead::Edge => Some((self.edge_max_mm, self.give_or_take_mm())),
            Lead::Centre => {
                let changes: Option<Vec<[f64; 2]>> = self.spreads.iter().map(|spread| spread.centre_mm).collect();
                Some((self.centre_mm?, together(changes?.into_iter())))
            }
        }
    }

    /// Give or take this of the mass.
    #[must_use]
    pub fn give_or_take_g(&self) -> f64 {
        together(self.spreads.iter().map(|spread| spread.mass_g))
    }
}

/// The largest changes, as independent ones: the root of the sum of squares.
pub(super) fn together(changes: impl Iterator<Item = [f64; 2]>) -> f64 {
    changes.map(|[low, high]| high.abs().max(low.abs()).powi(2)).sum::<f64>().sqrt()
}

/// The least and the most of these changes; 0 where there are none.
pub(super) fn reach(changes: impl Iterator<Item = f64>) -> [f64; 2] {
    changes.fold([0.0, 0.0], |[low, high]: [f64; 2], change| [low.min(change), high.max(change)])
}

/// A pair that came out otherwise.
#[derive(Clone, Copy)]
pub(super) struct Outcome {
    edge_mm: f64,
    centre_mm: Option<f64>,
    mass_g: f64,
}

/// What may come of a doubt, in an order that is the same for every fit; `None` where it cannot be made.
pub(super) fn outcomes(fit: &Fit<'_>, pair: &Pair, doubt: Doubt) -> Vec<Option<Outcome>> {
    match doubt {
        Doubt::Pd => pd(fit, &pair.eyes),
        Doubt::Base => base(fit, &pair.eyes),
        Doubt::Centre => vec![centre(fit, &pair.eyes)],
    }
}

impl Outcome {
    fn of_pair(right: Outcome, left: Outcome) -> Outcome {
        Outcome {
            edge_mm: right.edge_mm.max(left.edge_mm),
            centre_mm: right.centre_mm.zip(left.centre_mm).map(|(right, left)| right.max(left)),
            mass_g: right.mass_g + left.mass_g,
        }
    }

    pub(super) fn of_made(pair: &Pair) -> Outcome {
        Outcome { edge_mm: pair.edge_max_mm(), centre_mm: pair.centre_max_mm(), mass_g: pair.mass_g() }
    }

    pub(super) fn leading_mm(&self, lead: Lead) -> Option<f64> {
        match lead {
            Lead::Edge => Some(self.edge_mm),
            Lead::Centre => self.centre_mm,
        }
    }

    fn of_lens(made: &Made) -> Outcome {
        let thickness = &made.thickness;
        Outcome { edge_mm: thickness.edges.max.thickness_mm, centre_mm: thickness.centre_mm, mass_g: made.mass_g }
    }

    fn spread(&self, doubt: Doubt, outcomes: &[Outcome]) -> Spread {
        let changed = |of: fn(&Outcome) -> Option<f64>| {
            let changes: Option<Vec<f64>> = outcomes.iter().map(|outcome| Some(of(outcome)? - of(self)?)).collect();
            changes.map(|changes| reach(changes.into_iter()))
        };
        // Edge and mass are those of every lens.
        let always = |of| changed(of).unwrap_or([0.0, 0.0]);
        Spread {
            doubt,
            edge_mm: always(|outcome| Some(outcome.edge_mm)),
            centre_mm: changed(|outcome| outcome.centre_mm),
            mass_g: always(|outcome| Some(outcome.mass_g)),
        }
    }
}

/// Both pds less or more, each by itself.
fn pd(fit: &Fit<'_>, eyes: &Eyes<Made>) -> Vec<Option<Outcome>> {
    let moved = |eye: Eye| {
        let rx = fit.prescription.eyes.of(eye);
        let base = eyes.of(eye).base;
        [-PD_MM, PD_MM].map(|by| lens(fit, eye, &EyeRx { pd_mm: rx.pd_mm + by, ..*rx }, base))
    };
    let (right, left) = (moved(Eye::Right), moved(Eye::Left));
    let pairs = right.into_iter().flat_map(|right| left.into_iter().map(move |left| right.zip(left)));
    pairs.map(|pair| pair.map(|(right, left)| Outcome::of_pair(right, left))).collect()
}

/// Both bases one step flatter, then one steeper. A ready-made lens has the one it comes with.
fn base(fit: &Fit<'_>, eyes: &Eyes<Made>) -> Vec<Option<Outcome>> {
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
    vec![stepped(flatter_d), stepped(steeper_d)]
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
fn centre(fit: &Fit<'_>, eyes: &Eyes<Made>) -> Option<Outcome> {
    let of = |eye| thicker(fit, eye, eyes.of(eye));
    Some(Outcome::of_pair(of(Eye::Right)?, of(Eye::Left)?))
}

fn thicker(fit: &Fit<'_>, eye: Eye, made: &Made) -> Option<Outcome> {
    let lens = made.recipe.at_centre(made.lens.centre_mm() + CENTRE_MM).ok()?;
    let reference = made.centration.point(eye);
    let mounted = Mounted { lens: &lens, outline: fit.mounting.outlines.of(eye), reference };
    let density = mounted.density();
    let edge_mm = mounted.thickest_edge(&mounted.scan_edge(density)?)?.thickness_mm;
    let cut = mounted.cut_out(fit.mounting.frame.rim.edging(), density)?;
    let grams_per_mm3 = fit.option.substance.glass(fit.prescription.reference_line).density / 1000.0;
    Some(Outcome {
        edge_mm,
        centre_mm: made.thickness.centre_mm.map(|centre_mm| centre_mm + CENTRE_MM),
        mass_g: grams_per_mm3 * (cut.volume_mm3 - cut.removed_mm3),
    })
}
