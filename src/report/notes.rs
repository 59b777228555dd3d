//! Numbered notes to the rows of a table: what cannot be made and why, and the cautions of each fit. What differs only in
//! its numbers shares a note, which names the worst.

use super::words;
use crate::advice::{self, Caution, Severity};
use crate::assess::{Fit, Impossible};
use crate::study::compare::Comparison;
use std::mem::{Discriminant, discriminant};

/// A note below a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// How much it weighs; `None` where it says why something cannot be made.
    pub severity: Option<Severity>,
    /// Sentences.
    pub text: String,
    /// The same for the wearer, where it is a caution.
    pub wearer: Option<String>,
}

/// The notes of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Notes {
    /// In the order of their numbers, which begin at 1.
    pub notes: Vec<Note>,
    /// The numbers at each fit.
    pub at: Vec<Vec<usize>>,
    /// Does any note stand for lenses that differ in their numbers?
    pub worst: bool,
}

/// Said once where [`Notes::worst`].
pub const WORST: &str = "Where a note stands at several options, its numbers are those of the worst lens among them.";

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Rule(&'static str),
    Impossible(Discriminant<Impossible>),
}

struct Gathered {
    kind: Kind,
    severity: Option<Severity>,
    text: String,
    wearer: Option<String>,
    lack: f64,
    count: usize,
    same: bool,
}

impl Notes {
    /// The notes of all fits.
    #[must_use]
    pub fn of(comparison: &Comparison<'_>) -> Notes {
        let mut gathered: Vec<Gathered> = Vec::new();
        let at = comparison.fits.iter().map(|fit| numbers(fit, &mut gathered)).collect();
        let worst = gathered.iter().any(|one| !one.same);
        Notes { notes: gathered.into_iter().map(Gathered::note).collect(), at, worst }
    }

    /// The number of a fit's notes as printed: "1 3".
    #[must_use]
    pub fn mark(&self, fit: usize) -> String {
        let numbers = self.at.get(fit).map_or(&[][..], Vec::as_slice);
        numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
    }
}

impl Note {
    /// The word it begins with: note, caution, warning, or that something cannot be made.
    #[must_use]
    pub fn head(&self) -> &'static str {
        match self.severity {
            Some(severity) => words::severity(severity),
            None => "cannot be made",
        }
    }
}

fn numbers(fit: &Fit<'_>, gathered: &mut Vec<Gathered>) -> Vec<usize> {
    match &fit.outcome {
        Err(why) => {
            let kind = Kind::Impossible(discriminant(&why.why));
            let text = words::pair_impossible(why, fit);
            let lack = lack(&why.why);
            vec![put(gathered, Gathered { kind, severity: None, text, wearer: None, lack, count: 1, same: true })]
        }
        Ok(_) => {
            let mut numbers: Vec<usize> = advice::cautions(fit)
                .iter()
                .filter(|caution| !caution.rule.judged)
                .map(|caution| put(gathered, Gathered::of(caution)))
                .collect();
            numbers.sort_unstable();
            numbers.dedup();
            numbers
        }
    }
}

/// Adds one to those of its kind; the number of that kind.
fn put(gathered: &mut Vec<Gathered>, next: Gathered) -> usize {
    let Some(index) = gathered.iter().position(|one| one.kind == next.kind) else {
        gathered.push(next);
        return gathered.len();
    };
    let one = &mut gathered[index];
    let (count, same) = (one.count + 1, one.same && one.text == next.text);
    if next.lack > one.lack {
        *one = next;
    }
    (one.count, one.same) = (count, same);
    index + 1
}

fn off(caution: &Caution) -> f64 {
    (caution.found.value - caution.found.limit).abs()
}

fn lack(why: &Impossible) -> f64 {
    match *why {
        Impossible::TooShort { reach_mm, wanted_mm, .. } => wanted_mm - reach_mm,
        Impossible::NoBlank { wanted_mm, largest_mm, .. } => wanted_mm - largest_mm,
        Impossible::BlankTooThin { blank_mm, wanted_mm, .. } => wanted_mm - blank_mm,
        Impossible::StockTooThin { found_mm, wanted_mm, .. } => wanted_mm - found_mm,
        Impossible::FocusInside { centre_mm } => centre_mm,
        Impossible::StockPrism { amount_pd } => amount_pd,
        Impossible::Unsettled | Impossible::BlankEnds { .. } | Impossible::NoStockPower { .. } => 0.0,
    }
}

impl Gathered {
    fn of(caution: &Caution) -> Gathered {
        Gathered {
            kind: Kind::Rule(caution.rule.id),
            severity: Some(caution.rule.severity),
            text: words::caution(caution),
            wearer: Some(words::caution_for_wearer(caution)),
            lack: off(caution),
            count: 1,
            same: true,
        }
    }

    fn note(self) -> Note {
        Note { severity: self.severity, text: self.text, wearer: self.wearer }
    }
}
