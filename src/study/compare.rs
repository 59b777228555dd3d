//! Every frame, eye size and lens option of a job, and which are best.
//!
//! Units: mm and grams in the names.

use crate::assess::{Fit, Mounting, Pair};
use crate::job::Job;
use crate::rx::Prescription;

/// Options closer than this in thickness are equal.
pub const EQUAL_MM: f64 = 0.2;
/// Options closer than this in mass are equal.
pub const EQUAL_G: f64 = 0.3;

/// What leads a comparison: what one notices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// A minus pair: the thickest edge.
    Edge,
    /// A plus pair: the centre.
    Centre,
}

impl Lead {
    /// What leads for a prescription.
    #[must_use]
    pub fn for_pair(prescription: &Prescription) -> Lead {
        if prescription.is_plus() { Lead::Centre } else { Lead::Edge }
    }

    /// The leading thickness of a pair, mm.
    #[must_use]
    pub fn of(self, pair: &Pair) -> Option<f64> {
        match self {
            Lead::Edge => Some(pair.edge_max_mm()),
            Lead::Centre => pair.centre_max_mm(),
        }
    }
}

/// All fits of a job.
#[derive(Clone, Debug)]
pub struct Comparison<'a> {
    /// The job.
    pub job: &'a Job,
    /// `now` first where given, then frame, size, lens in the order of the job.
    pub fits: Vec<Fit<'a>>,
    /// Is the first of the fits the present spectacles?
    pub has_now: bool,
    /// What leads.
    pub lead: Lead,
    best_mm: Option<f64>,
    best_g: Option<f64>,
}

impl<'a> Comparison<'a> {
    /// Works out every combination of the job.
    #[must_use]
    pub fn of(job: &'a Job) -> Comparison<'a> {
        let mut fits = Vec::with_capacity(job.combinations());
        if let Some(present) = &job.present
            && let Some(&boxing) = present.frame.sizes.first()
        {
            let prescription = present.prescription.as_ref().unwrap_or(&job.prescription);
            fits.push(Fit::new(&Mounting::new(&present.frame, boxing), prescription, &present.lens));
        }
        let has_now = !fits.is_empty();
        for frame in &job.frames {
            for &boxing in &frame.sizes {
                let mounting = Mounting::new(frame, boxing);
                fits.extend(job.lenses.iter().map(|option| Fit::new(&mounting, &job.prescription, option)));
            }
        }
        let lead = Lead::for_pair(&job.prescription);
        let offered = fits.iter().skip(usize::from(has_now)).filter_map(Fit::pair);
        let best_mm = offered.clone().filter_map(|pair| lead.of(pair)).reduce(f64::min);
        let best_g = offered.map(Pair::mass_g).reduce(f64::min);
        Comparison { job, fits, has_now, lead, best_mm, best_g }
    }

    /// Is this fit the present spectacles?
    #[must_use]
    pub fn is_now(&self, index: usize) -> bool {
        self.has_now && index == 0
    }

    /// The fits on offer, with their index: all but the present spectacles.
    pub fn offered(&self) -> impl Iterator<Item = (usize, &Fit<'a>)> + Clone {
        self.fits.iter().enumerate().skip(usize::from(self.has_now))
    }

    /// Is this fit best, or equal to it, in the leading thickness? Never the present spectacles.
    #[must_use]
    pub fn is_thinnest(&self, index: usize) -> bool {
        self.is_best(index, self.best_mm, EQUAL_MM, |pair| self.lead.of(pair))
    }

    /// Is this fit lightest, or equal to it? Never the present spectacles.
    #[must_use]
    pub fn is_lightest(&self, index: usize) -> bool {
        self.is_best(index, self.best_g, EQUAL_G, |pair| Some(pair.mass_g()))
    }

    fn is_best(&self, index: usize, best: Option<f64>, equal: f64, of: impl Fn(&Pair) -> Option<f64>) -> bool {
        let value = self.fits.get(index).and_then(Fit::pair).and_then(of);
        !self.is_now(index) && matches!((value, best), (Some(value), Some(best)) if value <= best + equal)
    }

    /// The fit with the least leading thickness, the present spectacles left out.
    #[must_use]
    pub fn thinnest(&self) -> Option<(usize, &Fit<'a>)> {
        self.least(|pair| self.lead.of(pair))
    }

    /// The fit with the most leading thickness, the present spectacles left out.
    #[must_use]
    pub fn thickest(&self) -> Option<(usize, &Fit<'a>)> {
        self.least(|pair| self.lead.of(pair).map(|value| -value))
    }

    /// The lightest fit, the present spectacles left out.
    #[must_use]
    pub fn lightest(&self) -> Option<(usize, &Fit<'a>)> {
        self.least(|pair| Some(pair.mass_g()))
    }

    fn least(&self, of: impl Fn(&Pair) -> Option<f64>) -> Option<(usize, &Fit<'a>)> {
        self.offered()
            .filter_map(|(index, fit)| Some((fit.pair().and_then(&of)?, index, fit)))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, index, fit)| (index, fit))
    }
}
