//! What a comparison promises of the option that it comes to, and how sure that is.
//!
//! Units: mm and grams in the names.

use super::pictures::compared_with;
use super::words;
use crate::assess::Fit;
use crate::study::compare::{Comparison, Lead};
use crate::study::saving::Saving;
use crate::study::sure::Sure;

/// The promise.
#[derive(Clone, Debug)]
pub struct Promise<'c, 'a> {
    /// Place of the option among the fits.
    pub index: usize,
    /// The option.
    pub fit: &'c Fit<'a>,
    /// What leads.
    pub lead: Lead,
    /// How sure it is.
    pub sure: Sure,
    /// What it is compared with, that one's place, and what is saved; none where it is that itself.
    pub saving: Option<(usize, &'c Fit<'a>, Saving)>,
}

impl<'c, 'a> Promise<'c, 'a> {
    /// That of a comparison; `None` where nothing can be made.
    #[must_use]
    pub fn of(comparison: &'c Comparison<'a>) -> Option<Promise<'c, 'a>> {
        let (index, fit) = words::choice(comparison)?;
        let under = compared_with(comparison).filter(|under| *under != index);
        let saving = under.and_then(|under| {
            let from = &comparison.fits[under];
            Some((under, from, Saving::of(from, fit, comparison.lead)?))
        });
        Some(Promise { index, fit, lead: comparison.lead, sure: Sure::of(fit)?, saving })
    }

    /// In sentences; `None` where a doubt leaves no leading thickness.
    #[must_use]
    pub fn told(&self, comparison: &Comparison<'_>) -> Option<String> {
        let saving = self.saving.as_ref().map(|(under, from, saving)| {
            let than = if comparison.is_now(*under) { "the spectacles worn now".to_owned() } else { words::fit(from) };
            (saving, than)
        });
        words::promise(&self.sure, self.lead, saving.as_ref().map(|(saving, than)| (*saving, than.as_str())))
    }
}
