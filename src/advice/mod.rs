//! Advice: rules over a fit, a row each. A rule has an id that stays put, a severity, a condition that finds the numbers,
//! a sentence for the dispenser and one for the wearer, and a source. To add one: a row in [`RULES`].
//!
//! Units in the names. Whether a lens can be made is not advice: see `assess::Impossible`.

use crate::assess::{Fit, Made};
use crate::choose::base::{self, ChosenBy};
use crate::choose::{LensOption, Substance, Supply};
use crate::eye::{Eye, Eyes};
use crate::rim::Rim;
use serde::Serialize;

/// How much a caution weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
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

/// What a lens is to be put into and made of.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// How the frame holds it.
    pub rim: Rim,
    /// What it is made of, and the wishes.
    pub option: &'a LensOption,
}

/// A rule.
#[derive(Debug)]
pub struct Rule {
    /// Stays put.
    pub id: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// The numbers where it applies to a lens.
    pub applies: fn(&Subject<'_>, &Made) -> Option<Found>,
    /// For the dispenser; `{value}` and `{limit}` stand for the numbers at one decimal.
    pub dispenser: &'static str,
    /// For the wearer.
    pub wearer: &'static str,
    /// Where the rule comes from.
    pub source: &'static str,
    /// The judge of the job says the same, once for all fits: lists for people leave it out.
    pub judged: bool,
}

/// A rule that applies to a fit: to one eye, or to both alike.
#[derive(Clone, Copy, Debug)]
pub struct Caution {
    /// The rule.
    pub rule: &'static Rule,
    /// Which eye; `None` where it applies to both with the same numbers.
    pub eye: Option<Eye>,
    /// The numbers.
    pub found: Found,
}

const PRACTICE: &str = "common practice, no source";
const NO_NUMBERS: Found = Found { value: 0.0, limit: 0.0 };

/// All rules, in the order in which their cautions are listed.
pub const RULES: &[Rule] = &[
    Rule {
        id: "fit.reference-outside",
        severity: Severity::Warning,
        applies: |_, made| {
            let c = made.centration;
            made.thickness.centre_mm.is_none().then(|| Found { value: c.in_mm.hypot(c.up_mm), limit: 0.0 })
        },
        dispenser: "The reference point lies outside the lens shape, {value} mm from the boxed centre: everywhere in \
                    the lens there is prism that was not prescribed. Check the pd and the size.",
        wearer: "This frame does not sit in front of the eye.",
        source: "geometry",
        judged: false,
    },
    Rule {
        id: "fit.blank-decentred",
        severity: Severity::Caution,
        applies: |_, made| {
            let blank = &made.blank;
            let limit = blank.diameter_mm.unwrap_or(crate::material::INLINE_DIAMETERS_MM[3]);
            blank.decentred.then_some(Found { value: blank.minimum_mm, limit })
        },
        dispenser: "Wants a blank of {value} mm and the largest is {limit} mm: the lab must surface it with the \
                    reference point off the middle of the blank.",
        wearer: "The lens nearly outgrows the largest blank it can be cut from.",
        source: "geometry; allowance of 1 mm all round is common practice, no source",
        judged: false,
    },
    Rule {
        id: "fit.base-unlisted",
        severity: Severity::Caution,
        applies: |subject, made| {
            let base = made.base.base_curve_d;
            let near = base::nearest(base::listed_bases(subject.option), base);
            (made.base.chosen_by == ChosenBy::Job && near != base).then_some(Found { value: base, limit: near })
        },
        dispenser: "The material does not come in base {value}; the nearest is {limit}.",
        wearer: "This front curve may not be to be had.",
        source: "the material's list of blanks",
        judged: true,
    },
    Rule {
        id: "fit.centre-below-usual",
        severity: Severity::Caution,
        applies: |_, made| below_usual(made.minima.kept.centre_mm, made.minima.usual.centre_mm),
        dispenser: "The job asks for a centre minimum of {value} mm; {limit} mm is usual for this material and rim.",
        wearer: "Thinner in the middle than is usual, and so less strong.",
        source: PRACTICE,
        judged: true,
    },
    Rule {
        id: "fit.edge-below-usual",
        severity: Severity::Caution,
        applies: |_, made| below_usual(made.minima.kept.edge_mm, made.minima.usual.edge_mm),
        dispenser: "The job asks for an edge minimum of {value} mm; {limit} mm is usual for this material and rim.",
        wearer: "Thinner at the edge than is usual, so it chips more easily.",
        source: PRACTICE,
        judged: true,
    },
    Rule {
        id: "fit.groove-unsuited",
        severity: Severity::Caution,
        applies: |subject, _| {
            let grooved = matches!(subject.rim, Rim::Supra | Rim::ReverseSupra);
            (grooved && !listed(subject, |material| material.grooved)).then_some(NO_NUMBERS)
        },
        dispenser: "This material is not advised for a groove: it may chip along the cord.",
        wearer: "This material may chip where the cord holds it.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.drilling-unsuited",
        severity: Severity::Caution,
        applies: |subject, _| {
            let drilled = subject.rim == Rim::Rimless;
            (drilled && !listed(subject, |material| material.drilled)).then_some(NO_NUMBERS)
        },
        dispenser: "This material is not advised for drilling: it may crack from the holes.",
        wearer: "This material may crack where it is drilled.",
        source: PRACTICE,
        judged: false,
    },
    Rule {
        id: "fit.stock-thicker",
        severity: Severity::Note,
        applies: |subject, made| {
            let plus = made.recipe.power.spherical_equivalent() > 0.0;
            let least = made.thickness.edges.min.thickness_mm;
            let (spare, needed) = (least - made.minima.kept.edge_mm, made.minima.kept.edge_mm);
            (subject.option.supply == Supply::Stock && plus && spare > 0.5)
                .then_some(Found { value: least, limit: needed })
        },
        dispenser: "Cut from a finished uncut its thinnest edge is {value} mm where {limit} mm would do: surfaced to the \
                    frame it would be thinner.",
        wearer: "A lens made for this frame would be thinner than one off the shelf.",
        source: "geometry",
        judged: false,
    },
];

fn below_usual(kept: f64, usual: f64) -> Option<Found> {
    (kept < usual - 1e-9).then_some(Found { value: kept, limit: usual })
}

fn listed(subject: &Subject<'_>, may: fn(&crate::material::Material) -> bool) -> bool {
    match &subject.option.substance {
        Substance::Listed(material) => may(material),
        Substance::Inline(_) => true,
    }
}

/// The cautions of a fit, in the order of the rules; none where it cannot be made. Those that the judge says at once
/// are among them.
#[must_use]
pub fn cautions(fit: &Fit<'_>) -> Vec<Caution> {
    let Some(pair) = fit.pair() else { return Vec::new() };
    let subject = Subject { rim: fit.mounting.frame.rim, option: fit.option };
    RULES.iter().flat_map(|rule| of_rule(rule, &pair.eyes.map(|made| (rule.applies)(&subject, made)))).collect()
}

/// The cautions of one lens, in the order of the rules.
#[must_use]
pub fn of_lens(subject: &Subject<'_>, made: &Made) -> Vec<Caution> {
    RULES
        .iter()
        .filter_map(|rule| (rule.applies)(subject, made).map(|found| Caution { rule, eye: None, found }))
        .collect()
}

fn of_rule(rule: &'static Rule, found: &Eyes<Option<Found>>) -> Vec<Caution> {
    match (found.right, found.left) {
        (Some(right), Some(left)) if right == left => vec![Caution { rule, eye: None, found: right }],
        _ => {
            found.iter().filter_map(|(eye, found)| found.map(|found| Caution { rule, eye: Some(eye), found })).collect()
        }
    }
}
