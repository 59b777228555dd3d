//! What one option saves against another in the leading thickness, and how sure that is.
//!
//! Units: mm.

use super::compare::Lead;
use super::sure::{Doubt, Outcome, outcomes, reach, together};
use crate::assess::{Fit, Pair};

/// A difference of two pairs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saving {
    /// The leading thickness of the one, less that of the other: positive where the other is thinner.
    pub saved_mm: f64,
    /// Give or take this.
    pub give_or_take_mm: f64,
}

impl Saving {
    /// What `to` saves against `from`. A pd that is wrong is wrong in both where they are made for one prescription, and a
    /// base that is another is so in both where they are of one lens option; each centre is its own lens's. `None` where
    /// one cannot be made or has no such thickness.
    #[must_use]
    pub fn of(from: &Fit<'_>, to: &Fit<'_>, lead: Lead) -> Option<Saving> {
        let (old, new) = (from.pair()?, to.pair()?);
        let saved_mm = lead.of(old)? - lead.of(new)?;
        let mut changes = Vec::new();
        for doubt in Doubt::ALL {
            let [of_old, of_new] = [changes_of(from, old, doubt, lead)?, changes_of(to, new, doubt, lead)?];
            if is_shared(from, to, doubt) {
                changes.push(reach(of_old.iter().zip(&of_new).filter_map(|(a, b)| Some((*a)? - (*b)?))));
            } else {
                changes.extend([of_old, of_new].map(|of| reach(of.into_iter().flatten())));
            }
        }
        Some(Saving { saved_mm, give_or_take_mm: together(changes.into_iter()) })
    }
}

fn is_shared(from: &Fit<'_>, to: &Fit<'_>, doubt: Doubt) -> bool {
    match doubt {
        Doubt::Pd => std::ptr::eq(from.prescription, to.prescription),
        Doubt::Base => std::ptr::eq(from.option, to.option),
        Doubt::Centre => false,
    }
}

/// What each outcome of a doubt changes; the inner `None` is one that cannot be made, the outer a centre that is none.
fn changes_of(fit: &Fit<'_>, pair: &Pair, doubt: Doubt, lead: Lead) -> Option<Vec<Option<f64>>> {
    let planned_mm = lead.of(pair)?;
    let change = |outcome: Option<Outcome>| match outcome {
        Some(outcome) => Some(Some(outcome.leading_mm(lead)? - planned_mm)),
        None => Some(None),
    };
    outcomes(fit, pair, doubt).into_iter().map(change).collect()
}
