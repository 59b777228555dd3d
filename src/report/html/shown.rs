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
    all_pictured: bool,
    /// In words: "of the spectacles worn now, of what the answer names and of …".
    which: String,
    /// How many have not every drawing on the page.
    others: usize,
}

impl Shown {
    /// For a comparison.
    pub(super) fn of(comparison: &Comparison<'_>, choosing: Option<&Choosing>) -> Shown {
        let now = comparison.has_now.then_some(0);
        let above: Vec<usize> = now.into_iter().chain(words::named(comparison)).collect();
        let left = choosing.into_iter().flat_map(|choosing| choosing.left.iter().map(|left| left.index));
        let whole: BTreeSet<usize> = left.chain(above.iter().copied()).collect();
        let of = [
            now.map(|_| "of the spectacles worn now"),
            Some("of what the answer names"),
            choosing.map(|_| "of what is left to choose between"),
        ];
        let others = comparison.fits.iter().enumerate().filter(|(i, fit)| fit.pair().is_some() && !whole.contains(i));
        Shown {
            which: words::list(&of.into_iter().flatten().map(str::to_owned).collect::<Vec<_>>()),
            others: others.count(),
            above,
            whole,
            all_pictured: comparison.fits.len() <= MOST_PICTURED,
        }
    }

    /// What the page shows of which, and where the rest is; empty where it shows all.
    pub(super) fn in_words(&self) -> String {
        let which = &self.which;
        match (self.others, self.all_pictured) {
            (0, _) => String::new(),
            (_, true) => format!(
                "Every drawing stands here {which}; those of the others are files beside this page, and each card links to \
                 its own."
            ),
            (_, false) => format!(
                "Drawings stand here {which}. All others have their figures alone; their drawings are files beside this \
                 page, and each card links to its own."
            ),
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
}
