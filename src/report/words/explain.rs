//! Words of the worked calculation.
//!
//! Units: behind every number.

use super::super::formula::{Shown, Writer, Written, like, value};
use super::super::number::{figure, size, with_unit};
use crate::choose::centre::SetBy;
use crate::explain::{Explained, Expr, HandRule, How, Line, Section};
use kurbo::Vec2;

/// The head of a part of the calculation.
#[must_use]
pub fn explain_section(section: Section) -> &'static str {
    match section {
        Section::Layout => "Where the eye looks through",
        Section::Prescription => "What is prescribed",
        Section::Front => "The front",
        Section::Prism => "How prism turns the back",
        Section::Back => "The back that goes with it",
        Section::Points => "Sags and thickness, point by point",
        Section::Demand => "What set the thickness",
        Section::Mass => "Volume and mass",
        Section::Blank => "What it is cut from",
        Section::Through => "Through the lens, by hand",
    }
}

/// What is to be said at the head of a part, where anything is.
#[must_use]
pub fn explain_lead(section: Section) -> Option<&'static str> {
    match section {
        Section::Layout => Some("x runs to the observer's right, y up; toward the nose counts as positive."),
        Section::Prism => Some("The back is turned about its vertex, as a laboratory turns it."),
        Section::Back => Some(
            "Thickness and back depend on each other and are solved together. The lines show them where they have settled.",
        ),
        Section::Points => Some("Sags are depths below the vertex of each surface, parallel to the axis."),
        Section::Mass => {
            Some("Integrals are sums of weight × value over nodes round the outline; the JSON holds every node.")
        }
        Section::Through => {
            Some("Rules of the hand: no ray is traced. What a ray does at the edge of a strong lens differs.")
        }
        Section::Prescription | Section::Front | Section::Demand | Section::Blank => None,
    }
}

/// The finding, in a sentence.
#[must_use]
pub fn explain_answer(explained: &Explained<'_>) -> String {
    let thickness = &explained.made.thickness;
    let edge = with_unit(thickness.edges.max.thickness_mm, 1, "mm");
    let by = match thickness.set_by {
        SetBy::Centre => "the least thickness at the centre",
        SetBy::LowestPoint => "the least thickness where it is thinnest inside",
        SetBy::Edge => "the least thickness at the edge",
    };
    let centre = match thickness.centre_mm {
        Some(centre_mm) => format!("{} at the centre, ", with_unit(centre_mm, 1, "mm")),
        None => String::new(),
    };
    format!(
        "{}, {}: {centre}{edge} at the thickest edge, {}. Its thickness is set by {by}.",
        super::capital(super::eye(explained.eye)),
        explain_subject(explained),
        with_unit(explained.made.mass_g, 1, "g"),
    )
}

/// The lens that is explained: frame, size, lens option.
#[must_use]
pub fn explain_subject(explained: &Explained<'_>) -> String {
    let mounting = &explained.fit.mounting;
    format!(
        "{} {} with {}",
        mounting.frame.name,
        size(mounting.boxing.eye_size_mm),
        super::quoted(explained.fit.option)
    )
}

/// How a line that no formula gives comes about.
#[must_use]
pub fn explain_marked(line: &Line) -> Option<String> {
    match &line.how {
        How::Given | How::Worked(_) => None,
        How::Searched { at: Some(at) } => Some(format!("searched, at {} from the boxed centre", place(*at))),
        How::Searched { at: None } => Some("searched".to_owned()),
        How::Integrated(nodes) => Some(format!("integrated over {} nodes", nodes.len())),
    }
}

fn place(at: Vec2) -> String {
    format!("({}, {})\u{202f}mm", figure(at.x, 3), figure(at.y, 3))
}

/// The rule of the hand beside a line: its name, what it gives, how far that is off.
#[must_use]
pub fn explain_by_hand(line: &Line, rule: &HandRule, lines: &[Line]) -> String {
    let writer = Writer { lines, shown: Shown::Symbols, written: Written::Plain };
    format!(
        "By hand, {}: {} ≈ {}, {}.",
        rule.name,
        writer.write(&rule.formula),
        like(line, rule.value),
        explain_off(line, rule)
    )
}

/// "0.090 mm too little, 2.3 %."
#[must_use]
pub fn explain_off(line: &Line, rule: &HandRule) -> String {
    let error = rule.error(line.value);
    let shown = like(line, error.abs());
    if shown == like(line, 0.0) {
        return "as exact as it is shown".to_owned();
    }
    let way = if error > 0.0 { "too much" } else { "too little" };
    let share = (100.0 * error / line.value).abs();
    if share.is_finite() && share < 1000.0 {
        format!("{shown} {way}, {}", with_unit(share, 1, "%"))
    } else {
        format!("{shown} {way}")
    }
}

/// A worked line in one row: symbol, formula, numbers, result.
#[must_use]
pub fn explain_row(line: &Line, lines: &[Line]) -> String {
    let writer = |shown| Writer { lines, shown, written: Written::Plain };
    let symbol = super::super::formula::symbol(&line.head.symbol, Written::Plain);
    let result = value(line);
    match &line.how {
        How::Worked(formula @ Expr::Line(_)) => {
            format!("{symbol} = {} = {result}", writer(Shown::Symbols).write(formula))
        }
        How::Worked(formula) => {
            let (symbols, numbers) = (writer(Shown::Symbols).write(formula), writer(Shown::Numbers).write(formula));
            format!("{symbol} = {symbols} = {numbers} = {result}")
        }
        How::Integrated(_) => format!("{symbol} = Σ w·f = {result}"),
        How::Given | How::Searched { .. } => format!("{symbol} = {result}"),
    }
}

/// What is said of every calculation.
pub const EXPLAIN_METHOD: &str = "Every line is worked from the lines above it, with all digits; what is shown is rounded. \
     Lines marked as searched tell the point that was found, lines marked as integrated have their nodes in the JSON.";
