//! What a comparison teaches: what the smaller eye size, the higher index and the better centration change here, and
//! where nothing helps. Numbers only; the words are the report's.
//!
//! Units: mm and grams in the names. A change is what the better option saves: positive is less.

use super::compare::{Comparison, EQUAL_G, EQUAL_MM, Lead};
use crate::assess::{Fit, Mounting, Pair};
use crate::choose::{LensOption, Supply};
use crate::eye::{Eye, Eyes};
use crate::frame::{Boxing, Frame, Reach};
use crate::material::Glass;
use crate::rx::Power;

/// All options within this of each other look alike even side by side (ours, no source).
const VISIBLE_MM: f64 = 0.5;
/// A bridge this much wider is tried where the nasal edge is the thickest.
const WIDER_BRIDGE_MM: f64 = 2.0;
/// Decentration below this is not worth a sentence.
const NOTABLE_DECENTRATION_MM: f64 = 1.0;

/// From one pair to another: the leading thickness and the mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// Leading thickness before.
    pub from_mm: f64,
    /// Leading thickness after.
    pub to_mm: f64,
    /// Mass of the pair before.
    pub from_g: f64,
    /// Mass of the pair after.
    pub to_g: f64,
}

impl Change {
    fn between(lead: Lead, from: &Pair, to: &Pair) -> Option<Change> {
        Some(Change { from_mm: lead.of(from)?, to_mm: lead.of(to)?, from_g: from.mass_g(), to_g: to.mass_g() })
    }

    /// Thickness saved.
    #[must_use]
    pub fn saved_mm(&self) -> f64 {
        self.from_mm - self.to_mm
    }

    /// Mass saved.
    #[must_use]
    pub fn saved_g(&self) -> f64 {
        self.from_g - self.to_g
    }

    /// Could anyone tell?
    #[must_use]
    pub fn is_notable(&self) -> bool {
        self.saved_mm().abs() >= EQUAL_MM || self.saved_g().abs() >= EQUAL_G
    }
}

/// Which side of the reference point the thickest edge lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeSide {
    /// Toward the nose.
    Nasal,
    /// Toward the temple.
    Temporal,
}

/// From the largest eye size of a frame to its smallest.
#[derive(Clone, Copy, Debug)]
pub struct SizeStep<'a> {
    /// The frame.
    pub frame: &'a Frame,
    /// The lens option that was looked at.
    pub option: &'a LensOption,
    /// The largest size offered and the smallest.
    pub sizes: [Boxing; 2],
    /// What the smallest saves.
    pub change: Change,
    /// The eye with the thickest edge at the largest size.
    pub eye: Eye,
    /// Its reach at both sizes.
    pub reach: [Reach; 2],
}

/// One thing learned.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub enum Lesson<'a> {
    /// All options look alike.
    Alike {
        /// From the thickest to the thinnest, from the heaviest to the lightest.
        change: Change,
    },
    /// A smaller eye size of the same frame.
    EyeSize(SizeStep<'a>),
    /// A smaller eye size does not help, since the thickest edge is toward the nose.
    NasalEdge {
        /// What the smallest size saves: next to nothing.
        step: SizeStep<'a>,
        /// The same at the smallest size on a wider bridge, and what that saves.
        wider_bridge: Option<(f64, Change)>,
    },
    /// A higher index in the same frame.
    Index {
        /// The fit's frame.
        frame: &'a Frame,
        /// At this size.
        boxing: Boxing,
        /// The thicker option and the thinner.
        options: [&'a LensOption; 2],
        /// Their index, Abbe number and density.
        glasses: [Glass; 2],
        /// What the second saves.
        change: Change,
    },
    /// A lens made to order in place of a ready-made one of the same material.
    Supply {
        /// The fit's frame.
        frame: &'a Frame,
        /// At this size.
        boxing: Boxing,
        /// The ready-made option and the one made to order.
        options: [&'a LensOption; 2],
        /// What the second saves.
        change: Change,
    },
    /// Lenses whose pupils sit in the boxed centres.
    Centration {
        /// The frame.
        frame: &'a Frame,
        /// At this size.
        boxing: Boxing,
        /// The lens option.
        option: &'a LensOption,
        /// How far in the reference points lie.
        in_mm: Eyes<f64>,
        /// What no decentration would save.
        change: Change,
    },
}

/// What a comparison teaches, most useful first.
#[must_use]
pub fn lessons<'a>(comparison: &Comparison<'a>) -> Vec<Lesson<'a>> {
    if let Some(alike) = alike(comparison) {
        return vec![alike];
    }
    let mut sizes: Vec<Lesson<'a>> =
        comparison.job.frames.iter().filter_map(|frame| eye_size(comparison, frame)).collect();
    sizes.sort_by(|a, b| saved_mm(b).total_cmp(&saved_mm(a)));
    let mut found = sizes;
    found.extend(index(comparison));
    found.extend(supply(comparison));
    found.extend(centration(comparison));
    found
}

fn saved_mm(lesson: &Lesson<'_>) -> f64 {
    match lesson {
        Lesson::Alike { change }
        | Lesson::EyeSize(SizeStep { change, .. })
        | Lesson::NasalEdge { step: SizeStep { change, .. }, .. }
        | Lesson::Index { change, .. }
        | Lesson::Supply { change, .. }
        | Lesson::Centration { change, .. } => change.saved_mm(),
    }
}

/// No principal power beyond this is called mild (ours, no source).
const MILD_D: f64 = 2.0;

fn is_mild(power: &Power) -> bool {
    power.sphere().abs().max((power.sphere() + power.cylinder()).abs()) <= MILD_D
}

fn alike<'a>(comparison: &Comparison<'a>) -> Option<Lesson<'a>> {
    let pairs = || comparison.offered().filter_map(|(_, fit)| fit.pair());
    let values = || pairs().filter_map(|pair| comparison.lead.of(pair));
    let masses = || pairs().map(Pair::mass_g);
    let change = Change {
        from_mm: values().reduce(f64::max)?,
        to_mm: values().reduce(f64::min)?,
        from_g: masses().reduce(f64::max)?,
        to_g: masses().reduce(f64::min)?,
    };
    let mild = comparison.job.prescription.eyes.iter().all(|(_, rx)| is_mild(&rx.power));
    (mild && pairs().count() > 1 && change.saved_mm() < VISIBLE_MM).then_some(Lesson::Alike { change })
}

/// The eye with the thickest edge of a pair, and the side it is on.
fn thickest_edge(fit: &Fit<'_>, pair: &Pair) -> (Eye, EdgeSide) {
    let edge = |eye: Eye| pair.eyes.of(eye).thickness.edges.max;
    let eye = if edge(Eye::Left).thickness_mm > edge(Eye::Right).thickness_mm { Eye::Left } else { Eye::Right };
    let reference = fit.mounting.centration(eye, fit.prescription.eyes.of(eye).pd_mm).x_mm(eye);
    let toward_nose = (edge(eye).point.x - reference) * eye.nasal_sign();
    (eye, if toward_nose > 0.0 { EdgeSide::Nasal } else { EdgeSide::Temporal })
}

fn eye_size<'a>(comparison: &Comparison<'a>, frame: &'a Frame) -> Option<Lesson<'a>> {
    let by_size = |a: &&Boxing, b: &&Boxing| a.eye_size_mm.total_cmp(&b.eye_size_mm);
    let (large, small) = (*frame.sizes.iter().max_by(by_size)?, *frame.sizes.iter().min_by(by_size)?);
    if large == small {
        return None;
    }
    let job = comparison.job;
    // A lens made to order follows the frame; a ready-made one does not.
    let to_order = |option: &&'a LensOption| option.supply == Supply::Surfaced;
    let options = job.lenses.iter().filter(to_order).chain(&job.lenses);
    let (option, before, after) = options.into_iter().find_map(|option| {
        let fit = |boxing| Fit::new(&Mounting::new(frame, boxing), &job.prescription, option);
        let (before, after) = (fit(large), fit(small));
        (before.pair().is_some() && after.pair().is_some()).then_some((option, before, after))
    })?;
    let (pair_before, pair_after) = (before.pair()?, after.pair()?);
    let change = Change::between(comparison.lead, pair_before, pair_after)?;
    let (eye, side) = thickest_edge(&before, pair_before);
    let reach = [pair_before, pair_after].map(|pair| pair.eyes.of(eye).centration.reach);
    let step = SizeStep { frame, option, sizes: [large, small], change, eye, reach };
    let nasal = comparison.lead == Lead::Edge && side == EdgeSide::Nasal && change.saved_mm() < EQUAL_MM;
    Some(if nasal {
        Lesson::NasalEdge { step, wider_bridge: wider_bridge(comparison, frame, small, option, pair_after) }
    } else {
        Lesson::EyeSize(step)
    })
}

fn wider_bridge(
    comparison: &Comparison<'_>,
    frame: &Frame,
    boxing: Boxing,
    option: &LensOption,
    before: &Pair,
) -> Option<(f64, Change)> {
    let bridge_mm = boxing.bridge_mm + WIDER_BRIDGE_MM;
    let wider = Mounting::new(frame, Boxing { bridge_mm, ..boxing });
    let fit = Fit::new(&wider, &comparison.job.prescription, option);
    let change = Change::between(comparison.lead, before, fit.pair()?)?;
    Some((bridge_mm, change))
}

/// The fits in the frame and size of the thinnest option.
fn beside_thinnest<'c, 'a>(comparison: &'c Comparison<'a>) -> Option<(&'c Fit<'a>, Vec<&'c Fit<'a>>)> {
    let (_, best) = comparison.thinnest()?;
    let same_place = |fit: &&'c Fit<'a>| {
        std::ptr::eq(fit.mounting.frame, best.mounting.frame) && fit.mounting.boxing == best.mounting.boxing
    };
    Some((best, comparison.offered().map(|(_, fit)| fit).filter(same_place).collect()))
}

/// From the thickest lens option of lower index, the same supply and the same bases to the thinnest.
fn index<'a>(comparison: &Comparison<'a>) -> Option<Lesson<'a>> {
    let (best, beside) = beside_thinnest(comparison)?;
    let line = comparison.job.prescription.reference_line;
    let glass = |fit: &Fit<'a>| fit.option.substance.glass(line);
    let bases = |fit: &Fit<'a>| fit.pair().map(|pair| pair.eyes.map(|made| made.base.base_curve_d));
    let (_, worst) = beside
        .into_iter()
        .filter(|fit| fit.option.supply == best.option.supply)
        .filter(|fit| glass(fit).index < glass(best).index - 1e-9 && bases(fit) == bases(best))
        .filter_map(|fit| Some((comparison.lead.of(fit.pair()?)?, fit)))
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(Lesson::Index {
        frame: best.mounting.frame,
        boxing: best.mounting.boxing,
        options: [worst.option, best.option],
        glasses: [glass(worst), glass(best)],
        change: Change::between(comparison.lead, worst.pair()?, best.pair()?)?,
    })
}

/// What making to order saves over ready-made, in the material where it saves most.
fn supply<'a>(comparison: &Comparison<'a>) -> Option<Lesson<'a>> {
    let (best, beside) = beside_thinnest(comparison)?;
    let made = |supply| beside.iter().filter(move |fit| fit.option.supply == supply);
    let (change, options) = made(Supply::Stock)
        .flat_map(|stock| made(Supply::Surfaced).map(move |surfaced| (stock, surfaced)))
        .filter(|(stock, surfaced)| stock.option.substance == surfaced.option.substance)
        .filter_map(|(stock, surfaced)| {
            let change = Change::between(comparison.lead, stock.pair()?, surfaced.pair()?)?;
            change.is_notable().then_some((change, [stock.option, surfaced.option]))
        })
        .max_by(|a, b| a.0.saved_mm().total_cmp(&b.0.saved_mm()))?;
    Some(Lesson::Supply { frame: best.mounting.frame, boxing: best.mounting.boxing, options, change })
}

/// What the decentration of the thickest option costs.
fn centration<'a>(comparison: &Comparison<'a>) -> Option<Lesson<'a>> {
    let (_, fit) = comparison.thickest()?;
    let pair = fit.pair()?;
    let in_mm = pair.eyes.map(|made| made.centration.in_mm);
    if in_mm.right.abs().max(in_mm.left.abs()) < NOTABLE_DECENTRATION_MM {
        return None;
    }
    let mut centred = comparison.job.prescription.clone();
    let middle_mm = 0.5 * fit.mounting.boxing.centre_distance_mm();
    centred.eyes.right.pd_mm = middle_mm;
    centred.eyes.left.pd_mm = middle_mm;
    let without = Fit::new(&fit.mounting, &centred, fit.option);
    let change = Change::between(comparison.lead, pair, without.pair()?)?;
    Some(Lesson::Centration {
        frame: fit.mounting.frame,
        boxing: fit.mounting.boxing,
        option: fit.option,
        in_mm,
        change,
    })
}
