//! The answer in the JSON of `compare`: which option, how sure it is, and what it saves.
//!
//! Units: mm and grams, each in the key's name.

use super::{SureWire, finite, sure};
use crate::job::NOW;
use crate::report::promise::Promise;
use crate::study::compare::{Comparison, Lead};
use serde::Serialize;

/// The option that a comparison comes to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AnswerWire {
    /// FRAME/SIZE/LENS.
    pub option: String,
    /// How sure it is.
    pub sure: SureWire,
    /// What it saves; null where there is nothing to compare it with.
    pub saving: Option<SavingWire>,
}

/// A difference in what leads the comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SavingWire {
    /// What it is compared with: FRAME/SIZE/LENS, or now.
    pub from: String,
    /// edge_max_mm or centre_mm.
    pub figure: &'static str,
    /// Positive where the option is thinner.
    pub saved_mm: f64,
    /// Give or take this.
    pub give_or_take_mm: f64,
}

pub(super) fn answer(comparison: &Comparison<'_>, promise: &Promise<'_, '_>) -> AnswerWire {
    let figure = match promise.lead {
        Lead::Edge => "edge_max_mm",
        Lead::Centre => "centre_mm",
    };
    let saving = promise.saving.as_ref().map(|(under, from, saving)| SavingWire {
        from: if comparison.is_now(*under) { NOW.to_owned() } else { from.address() },
        figure,
        saved_mm: finite(saving.saved_mm),
        give_or_take_mm: finite(saving.give_or_take_mm),
    });
    AnswerWire { option: promise.fit.address(), sure: sure(&promise.sure), saving }
}
