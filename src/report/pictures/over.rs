//! An option laid over the pair that all are compared with.
//!
//! Units: mm.

use super::super::number::{difference, mm};
use super::super::words;
use super::{SCALE, section, subject};
use crate::assess::{Fit, Pair};
use crate::draw::Picture;
use crate::draw::dimension::scale_words;
use crate::draw::over::{Laid, Over};
use crate::eye::{Eye, Eyes};
use crate::study::compare::{Comparison, Lead};

/// The fit that options are laid over: the spectacles worn now, else the thickest of all.
#[must_use]
pub fn reference(comparison: &Comparison<'_>) -> Option<usize> {
    let now = comparison.has_now && comparison.fits.first().is_some_and(|fit| fit.pair().is_some());
    if now { Some(0) } else { comparison.thickest().map(|(index, _)| index) }
}

/// Draws it; `None` for the spectacles worn now and for what is itself the reference.
pub(super) fn over(comparison: &Comparison<'_>, index: usize) -> Option<Picture> {
    let under = reference(comparison)?;
    if index == under || comparison.is_now(index) {
        return None;
    }
    let (option, reference) = (&comparison.fits[index], &comparison.fits[under]);
    let over = Over {
        title: &format!("{} laid over {}, {}", subject(option), subject(reference), scale_words(SCALE)),
        description: &in_words(comparison.lead, option, reference)?,
        option: laid(comparison.lead, option)?,
        reference: laid(comparison.lead, reference)?,
        counts: counts(comparison.lead),
        verdict: &verdict(comparison.lead, option, reference)?,
        scale: SCALE,
    };
    Some(over.draw())
}

fn counts(lead: Lead) -> &'static str {
    match lead {
        Lead::Edge => "thickest edge",
        Lead::Centre => "centre",
    }
}

fn laid(lead: Lead, fit: &Fit<'_>) -> Option<Laid> {
    let pair = fit.pair()?;
    let cuts = section::plan_lenses(fit, pair)?.map(|lens| lens.cut.clone());
    let half = 0.5 * fit.mounting.boxing.centre_distance_mm();
    let reference_x = Eyes::from_fn(|eye| -half * eye.nasal_sign() + pair.eyes.of(eye).centration.point(eye).x);
    let (eye, thickest_mm) = leading(lead, pair)?;
    let figure = match lead {
        Lead::Edge => "edge_max_mm",
        Lead::Centre => "centre_mm",
    };
    let name = words::capital(&subject(fit));
    Some(Laid { name, cuts, reference_x, thickest_mm, figure: format!("{}.thickness.{figure}", eye.word()) })
}

/// The leading thickness of a pair, and the eye that has it.
fn leading(lead: Lead, pair: &Pair) -> Option<(Eye, f64)> {
    let of = |eye: Eye| {
        let thickness = &pair.eyes.of(eye).thickness;
        match lead {
            Lead::Edge => Some(thickness.edges.max.thickness_mm),
            Lead::Centre => thickness.centre_mm,
        }
    };
    let (right, left) = (of(Eye::Right)?, of(Eye::Left)?);
    Some(if right >= left { (Eye::Right, right) } else { (Eye::Left, left) })
}

/// "5.3 mm thinner".
fn verdict(lead: Lead, option: &Fit<'_>, reference: &Fit<'_>) -> Option<String> {
    let of = |fit: &Fit<'_>| lead.of(fit.pair()?);
    let saved = difference(of(reference)?, of(option)?, 1);
    Some(match saved {
        saved if saved.abs() < 0.05 => "the same".to_owned(),
        saved if saved > 0.0 => format!("{} thinner", mm(saved)),
        saved => format!("{} thicker", mm(-saved)),
    })
}

/// "The thickest edge is 5.7 mm where that of the spectacles worn now (…) is 11.0 mm: 5.3 mm less."
fn in_words(lead: Lead, option: &Fit<'_>, reference: &Fit<'_>) -> Option<String> {
    let of = |fit: &Fit<'_>| lead.of(fit.pair()?);
    let (new, old) = (of(option)?, of(reference)?);
    let change = if new <= old { "less" } else { "more" };
    let apart = mm(difference(new, old, 1).abs());
    Some(format!(
        "{} is {} where that of {} is {}: {apart} {change}.",
        words::capital(words::lead(lead)),
        mm(new),
        subject(reference),
        mm(old),
    ))
}
