//! The JSON of `sweep`.
//!
//! Units: those of the keys and figures.

use super::super::number::plain;
use super::super::words;
use super::{FORMAT, OutcomeWire, finite, outcome, text};
use crate::advice::Severity;
use crate::eye::Eye;
use crate::study::sweep::{Cautioned, Row, Sweep, Value};
use serde::Serialize;

/// The answer to `sweep`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweepWire {
    /// The number of this format.
    pub format: i64,
    /// Name of the frame.
    pub frame: String,
    /// Its size, where that is not what varies.
    pub eye_size_mm: f64,
    /// Name of the lens option.
    pub lens: String,
    /// The eye in which powers and pupil distance vary; null for both.
    pub eye: Option<Eye>,
    /// What varies.
    pub vary: Vec<&'static str>,
    /// For each value of the first thing each of the second.
    pub rows: Vec<SweepRowWire>,
    /// The cautions, each once.
    pub cautions: Vec<SweepCautionWire>,
}

/// A caution and the rows that it is about.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweepCautionWire {
    /// Of the rule.
    pub id: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// Places in `rows`, counted from 0.
    pub rows: Vec<usize>,
    /// What it says at the first of them.
    pub text: String,
}

/// A row.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SweepRowWire {
    /// One for each thing that varies.
    pub values: Vec<ValueWire>,
    /// Both lenses, or why not.
    #[serde(flatten)]
    pub outcome: OutcomeWire,
}

/// A value: a number in the unit of the key, or a word.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
#[non_exhaustive]
pub enum ValueWire {
    /// In the key's unit.
    Number(f64),
    /// The id of a material; surfaced or stock.
    Word(String),
}

/// A sweep, for other programs.
#[must_use]
pub fn sweep(of: &Sweep<'_>) -> SweepWire {
    let at = &of.asked.at;
    SweepWire {
        format: FORMAT,
        frame: at.frame.name.clone(),
        eye_size_mm: finite(at.boxing.eye_size_mm),
        lens: at.option.name.clone(),
        eye: of.asked.eye,
        vary: of.asked.vary.iter().map(|vary| vary.what.word).collect(),
        rows: of.rows.iter().map(row).collect(),
        cautions: of.cautions().iter().map(caution).collect(),
    }
}

fn caution(of: &Cautioned) -> SweepCautionWire {
    let (rule, rows) = (of.first.rule, of.rows.clone());
    SweepCautionWire { id: rule.id, severity: rule.severity, rows, text: plain(&words::caution(&of.first)) }
}

fn row(of: &Row) -> SweepRowWire {
    SweepRowWire { values: of.values.iter().map(value).collect(), outcome: outcome(&of.fit()) }
}

fn value(of: &Value) -> ValueWire {
    match of {
        Value::Number(number) => ValueWire::Number(finite(*number)),
        Value::Material(material) => ValueWire::Word(material.id.clone()),
        Value::Supply(supply) => ValueWire::Word(supply.word().to_owned()),
    }
}

/// The same as text.
#[must_use]
pub fn sweep_text(of: &Sweep<'_>) -> String {
    text(&sweep(of))
}
