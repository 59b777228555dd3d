//! Advice: rules over a fit, a row each. A rule has an id that stays put, a severity, a condition that finds the numbers,
//! a sentence for the dispenser and one for the wearer, a mend and a source. To add one: a row in [`RULES`].
//!
//! Units in the names. Whether a lens can be made is not advice: see `assess::Impossible`.

mod rules;

pub use rules::RULES;

use crate::assess::{Fit, Made, Pair};
use crate::choose::LensOption;
use crate::eye::{Eye, Eyes};
use crate::frame::Frame;
use crate::light::ReferenceLine;
use crate::outline::Outline;
use serde::Serialize;

/// How much a caution weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Good to know.
    Note,
    /// Think again.
    Caution,
    /// Do not, unless you know why.
    Warning,
}

/// What a rule found: the numbers that its sentences name.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// The figure that set it off.
    pub value: f64,
    /// What it was held against.
    pub limit: f64,
}

/// One lens as it was asked for: what holds it, and what it is made of.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The frame that holds it.
    pub frame: &'a Frame,
    /// Its outline.
    pub outline: &'a Outline,
    /// For which eye.
    pub eye: Eye,
    /// What it is made of, and the wishes.
    pub option: &'a LensOption,
    /// The line at which index and Abbe number are meant.
    pub line: ReferenceLine,
}

/// What a rule looks at.
#[derive(Clone, Copy, Debug)]
pub enum Applies {
    /// One lens and what it is put into: the numbers where the rule applies.
    ToLens(fn(&Subject<'_>, &Made) -> Option<Found>),
    /// The edge of one lens in its frame: the numbers where the rule applies, and the direction from the boxed centre.
    ToEdge(fn(&Subject<'_>, &Made) -> Option<(Found, f64)>),
    /// Both lenses together: the numbers where the rule applies.
    ToPair(fn(&Pair) -> Option<Found>),
}

/// How the numbers of a rule are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// With as many decimals as tell the value from the limit, one at least.
    Apart,
    /// With so many decimals.
    Decimals(usize),
}

/// A rule.
#[derive(Debug)]
pub struct Rule {
    /// Stays put.
    pub id: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// Where it applies.
    pub applies: Applies,
    /// How its numbers are printed.
    pub shown: Shown,
    /// For the dispenser; `{value}` and `{limit}` stand for the numbers, `{where}` for the place on the edge.
    pub dispenser: &'static str,
    /// For the wearer, who knows no term of the trade; with the same numbers.
    pub wearer: &'static str,
    /// What would help.
    pub mend: &'static str,
    /// Where the rule and its limit come from.
    pub source: &'static str,
    /// The judge of the job says the same, once for all fits: lists for people leave it out.
    pub judged: bool,
}

/// A rule that applies to a fit: to one eye, or to both alike.
#[derive(Clone, Copy, Debug)]
pub struct Caution {
    /// The rule.
    pub rule: &'static Rule,
    /// Which eye; `None` where it applies to both with the same numbers, or to the pair.
    pub eye: Option<Eye>,
    /// The numbers.
    pub found: Found,
    /// Where on the edge, from the boxed centre; `None` where that is no question.
    pub at_deg: Option<f64>,
}

/// The cautions of a fit, in the order of the rules; none where it cannot be made. Those that the judge says at once
/// are among them.
#[must_use]
pub fn cautions(fit: &Fit<'_>) -> Vec<Caution> {
    let Some(pair) = fit.pair() else { return Vec::new() };
    let Fit { mounting, prescription, option, .. } = fit;
    let subject = |eye| Subject {
        frame: mounting.frame,
        outline: mounting.outlines.of(eye),
        eye,
        option,
        line: prescription.reference_line,
    };
    RULES.iter().flat_map(|rule| of_rule(rule, &Eyes::from_fn(subject), pair)).collect()
}

/// The cautions of one lens, in the order of the rules.
#[must_use]
pub fn of_lens(subject: &Subject<'_>, made: &Made) -> Vec<Caution> {
    let found = |rule: &Rule| match rule.applies {
        Applies::ToLens(applies) => applies(subject, made).map(|found| (found, None)),
        Applies::ToEdge(applies) => applies(subject, made).map(|(found, deg)| (found, Some(deg))),
        Applies::ToPair(_) => None,
    };
    let caution = |rule| found(rule).map(|(found, at_deg)| Caution { rule, eye: None, found, at_deg });
    RULES.iter().filter_map(caution).collect()
}

fn of_rule(rule: &'static Rule, subjects: &Eyes<Subject<'_>>, pair: &Pair) -> Vec<Caution> {
    let caution = |eye, (found, at_deg)| Caution { rule, eye, found, at_deg };
    let found = match rule.applies {
        Applies::ToPair(applies) => {
            return applies(pair).map(|found| caution(None, (found, None))).into_iter().collect();
        }
        Applies::ToLens(applies) => {
            Eyes::from_fn(|eye| applies(subjects.of(eye), pair.eyes.of(eye)).map(|found| (found, None)))
        }
        Applies::ToEdge(applies) => {
            Eyes::from_fn(|eye| applies(subjects.of(eye), pair.eyes.of(eye)).map(|(found, deg)| (found, Some(deg))))
        }
    };
    match found {
        Eyes { right: Some(right), left: Some(left) } if right == left => vec![caution(None, right)],
        _ => found.iter().filter_map(|(eye, found)| found.map(|found| caution(Some(eye), found))).collect(),
    }
}
