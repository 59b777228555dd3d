//! The JSON of `explain`.
//!
//! Units: of each line, in it; places in mm from the boxed centre.

use super::{EyeWire, FORMAT, eye, finite, text};
use crate::explain::{Explained, HandRule, How, Line};
use crate::eye::Eye;
use crate::report::formula::{Shown, Writer, Written, symbol};
use crate::report::number::plain;
use serde::Serialize;

/// The answer to `explain`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ExplainWire {
    /// The number of this format.
    pub format: i64,
    /// Name of the frame.
    pub frame: String,
    /// Width of the box round one lens.
    pub eye_size_mm: f64,
    /// Name of the lens option.
    pub lens: String,
    /// Which lens.
    pub eye: Eye,
    /// The same as in the JSON of `compare`.
    pub result: EyeWire,
    /// The points that the lines use.
    pub points: Vec<SpotWire>,
    /// The calculation.
    pub lines: Vec<LineWire>,
}

/// A point of the lens.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpotWire {
    /// Below the symbols of its lines.
    pub letter: &'static str,
    /// In words.
    pub name: &'static str,
    /// To the observer's right of the boxed centre.
    pub x_mm: f64,
    /// Above it.
    pub y_mm: f64,
    /// There.
    pub thickness_mm: f64,
}

/// A line of the calculation.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LineWire {
    /// Stays put.
    pub id: String,
    /// In formulas.
    pub symbol: String,
    /// In words.
    pub meaning: String,
    /// In symbols; null where no formula gives it.
    pub formula: Option<String>,
    /// The same with numbers, rounded.
    pub numbers: Option<String>,
    /// The same in symbols, as LaTeX.
    pub latex: Option<String>,
    /// With all its digits.
    pub value: f64,
    /// Of the value; empty for a bare number.
    pub unit: &'static str,
    /// The ids of the lines above that it is worked from.
    pub from: Vec<String>,
    /// Where formula or number is from.
    pub source: &'static str,
    /// given, worked, searched or integrated.
    pub marked: &'static str,
    /// Where it was found: x and y from the boxed centre.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_mm: Option<[f64; 2]>,
    /// Of an integral: the sum of weight × value is the line's value.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub nodes: Vec<NodeWire>,
    /// The figure of the result that it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub figure: Option<&'static str>,
    /// The same by a rule of the hand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_hand: Option<HandWire>,
}

/// A node of an integral.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct NodeWire {
    /// To the observer's right of the boxed centre.
    pub x_mm: f64,
    /// Above it.
    pub y_mm: f64,
    /// How much of the way round it stands for.
    pub weight: f64,
    /// The integrand there.
    pub value: f64,
}

/// A rule of the hand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HandWire {
    /// What it is called.
    pub rule: &'static str,
    /// In symbols.
    pub formula: String,
    /// The ids of the lines above that it is worked from.
    pub from: Vec<String>,
    /// What it gives.
    pub value: f64,
    /// That, less the exact value.
    pub error: f64,
}

/// One lens that cannot be made.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct NotMadeWire<'a> {
    format: i64,
    eye: Eye,
    impossible: &'a str,
}

/// The calculation, for other programs.
#[must_use]
pub fn explain(explained: &Explained<'_>) -> ExplainWire {
    let mounting = &explained.fit.mounting;
    let spot = |spot: &crate::explain::Spot| SpotWire {
        letter: spot.letter,
        name: spot.name,
        x_mm: finite(spot.at.x),
        y_mm: finite(spot.at.y),
        thickness_mm: finite(spot.thickness_mm),
    };
    ExplainWire {
        format: FORMAT,
        frame: mounting.frame.name.clone(),
        eye_size_mm: finite(mounting.boxing.eye_size_mm),
        lens: explained.fit.option.name.clone(),
        eye: explained.eye,
        result: eye(explained.made, &explained.fit.lab_work(explained.eye, explained.made)),
        points: explained.spots.iter().map(spot).collect(),
        lines: explained.lines.iter().map(|one| line(one, &explained.lines)).collect(),
    }
}

fn line(line: &Line, lines: &[Line]) -> LineWire {
    let ids = |places: Vec<usize>| places.into_iter().map(|place| lines[place].head.id.clone()).collect();
    let written = |shown, written| match &line.how {
        How::Worked(formula) => Some(plain(&Writer { lines, shown, written }.write(formula))),
        How::Given | How::Searched { .. } | How::Integrated(_) => None,
    };
    let (marked, at, from) = match &line.how {
        How::Given => ("given", None, Vec::new()),
        How::Worked(formula) => ("worked", None, ids(formula.lines())),
        How::Searched { at } => ("searched", *at, Vec::new()),
        How::Integrated(_) => ("integrated", None, Vec::new()),
    };
    LineWire {
        id: line.head.id.clone(),
        symbol: symbol(&line.head.symbol, Written::Plain),
        meaning: line.head.meaning.clone(),
        formula: written(Shown::Symbols, Written::Plain),
        numbers: written(Shown::Numbers, Written::Plain),
        latex: written(Shown::Symbols, Written::Tex),
        value: finite(line.value),
        unit: line.head.unit,
        from,
        source: line.head.source,
        marked,
        at_mm: at.map(|at| [finite(at.x), finite(at.y)]),
        nodes: nodes(line),
        figure: line.figure,
        by_hand: line.by_hand.as_ref().map(|rule| by_hand(line, rule, lines)),
    }
}

fn nodes(line: &Line) -> Vec<NodeWire> {
    let How::Integrated(nodes) = &line.how else { return Vec::new() };
    let node = |node: &crate::explain::Node| NodeWire {
        x_mm: finite(node.at.x),
        y_mm: finite(node.at.y),
        weight: finite(node.weight),
        value: finite(node.value),
    };
    nodes.iter().map(node).collect()
}

fn by_hand(line: &Line, rule: &HandRule, lines: &[Line]) -> HandWire {
    let from = rule.formula.lines();
    HandWire {
        rule: rule.name,
        formula: Writer { lines, shown: Shown::Symbols, written: Written::Plain }.write(&rule.formula),
        from: from.into_iter().map(|place| lines[place].head.id.clone()).collect(),
        value: finite(rule.value),
        error: finite(rule.error(line.value)),
    }
}

/// The calculation as text.
#[must_use]
pub fn explain_text(explained: &Explained<'_>) -> String {
    text(&explain(explained))
}

/// Why there is none, as text.
#[must_use]
pub fn not_explained_text(eye: Eye, impossible: &str) -> String {
    text(&NotMadeWire { format: FORMAT, eye, impossible: &plain(impossible) })
}
