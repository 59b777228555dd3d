//! The other way round for a comparison: the largest eye size of the frame that the answer names, for each lens option and
//! several wishes for the leading thickness.
//!
//! Units: mm. The walk is that of `largest`; what cannot be made passes any wish.

use super::compare::Lead;
use super::largest::{excess, sized, sizes_to_look_at};
use crate::choose::LensOption;
use crate::job::Addressed;
use crate::math::change::last_before_change;
use rayon::prelude::*;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// From wish to wish.
const STEP_MM: f64 = 0.5;
/// So many below that nearest to the answer, and so many above: other options are mostly thicker.
const BESIDE: (i32, i32) = (1, 3);
/// More lens options than these are left out.
pub const MOST_OPTIONS: usize = 8;

/// Up to which eye size a thickness stays within a wish.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Within {
    /// Up to this one.
    UpTo(f64),
    /// At every size that is looked at.
    Every,
    /// Not even at the smallest that is looked at.
    No,
}

/// The largest eye sizes of one frame.
#[derive(Clone, Debug)]
pub struct Wishes<'a> {
    /// The wishes, whole half millimetres, rising.
    pub wishes_mm: Vec<f64>,
    /// The lens options, the first [`MOST_OPTIONS`] of the job, with a size for each wish.
    pub rows: Vec<(&'a LensOption, Vec<Within>)>,
}

impl<'a> Wishes<'a> {
    /// For wishes round this thickness.
    #[must_use]
    pub fn of(at: &Addressed<'a>, options: &'a [LensOption], lead: Lead, round_mm: f64) -> Wishes<'a> {
        let nearest = (round_mm / STEP_MM).round();
        let wish = |step: i32| (nearest + f64::from(step)) * STEP_MM;
        let wishes_mm: Vec<f64> = (-BESIDE.0..=BESIDE.1).map(wish).filter(|wish| *wish >= STEP_MM).collect();
        let row = |option| (option, row(&Addressed { option, ..*at }, lead, &wishes_mm));
        let rows = options.par_iter().take(MOST_OPTIONS).map(row).collect();
        Wishes { rows, wishes_mm }
    }
}

fn row(at: &Addressed<'_>, lead: Lead, wishes_mm: &[f64]) -> Vec<Within> {
    // Each size is worked once for all wishes.
    let seen: RefCell<BTreeMap<u64, Option<f64>>> = RefCell::default();
    let thickness = |size: f64| {
        let known = seen.borrow().get(&size.to_bits()).copied();
        known.unwrap_or_else(|| {
            let found = sized(at, size).pair().and_then(|pair| lead.of(pair));
            seen.borrow_mut().insert(size.to_bits(), found);
            found
        })
    };
    let places = sizes_to_look_at(at);
    let within = |wish_mm: &f64| {
        let beyond = excess(&thickness, *wish_mm);
        match places.first() {
            Some(smallest) if beyond(*smallest) <= 0.0 => {
                last_before_change(beyond, &places).map_or(Within::Every, Within::UpTo)
            }
            _ => Within::No,
        }
    };
    wishes_mm.iter().map(within).collect()
}
