//! How much of an option stands on the page; the rest is in the files beside it.

use super::super::words::{self, Choosing};
use crate::study::compare::Comparison;
use std::collections::BTreeSet;

/// More options than this and those that another one beats have their figures alone: cards with pictures go two to a
/// sheet, and more than twenty sheets of them nobody looks through (ours, no source).
pub(super) const MOST_PICTURED: usize = 40;

/// What is shown of which.
#[derive(Clone, Debug)]
pub(super) struct Shown {
    /// Their plan sections stand with the answer: the spectacles worn now and what the answer names.
    pub(super) above: Vec<usize>,
    /// These have every drawing on the page: those above, and what is left to choose between.
    whole: BTreeSet<usize>,
    /// Have all others section and maps?
    pub(super) all_pictured: bool,
}

impl Shown {
    /// For a comparison.
    pub(super) fn of(comparison: &Comparison<'_>, choosing: Option<&Choosing>) -> Shown {
        let now = comparison.has_now.then_some(0);
        let above: Vec<usize> = now.into_iter().chain(words::named(comparison)).collect();
        let left = choosing.into_iter().flat_map(|choosing| choosing.left.iter().map(|left| left.index));
        Shown {
            whole: left.chain(above.iter().copied()).collect(),
            above,
            all_pictured: comparison.fits.len() <= MOST_PICTURED,
        }
    }

    /// Has it every drawing?
    pub(super) fn is_whole(&self, index: usize) -> bool {
        self.whole.contains(&index)
    }

    /// Has it section and maps?
    pub(super) fn is_pictured(&self, index: usize) -> bool {
        self.all_pictured || self.is_whole(index)
    }

    /// Has every option all drawings?
    pub(super) fn all_whole(&self, count: usize) -> bool {
        self.whole.len() == count
    }
}
