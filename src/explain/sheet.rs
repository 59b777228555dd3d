//! The sheet that a calculation is written on: lines, one under the other, each from those above it.
//!
//! Units: of each line, in it.

use super::expr::Expr;
use kurbo::Vec2;

/// What a quantity is called in a formula: a letter, and letters and figures below it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Symbol {
    /// A letter, with a prime where it has one.
    pub letter: &'static str,
    /// Below it; empty where nothing is.
    pub below: String,
}

/// A part of the calculation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// Frame and pupil.
    Layout,
    /// What is prescribed.
    Prescription,
    /// The front curve.
    Front,
    /// How the back is turned for prism.
    Prism,
    /// The back that goes with the thickness.
    Back,
    /// Sags and thickness at a point.
    Points,
    /// What set the centre thickness.
    Demand,
    /// Area, volume, mass.
    Mass,
    /// What it is cut from.
    Blank,
    /// Through the lens, by hand.
    Through,
}

/// What a line is about.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// Stays put.
    pub id: String,
    /// In formulas.
    pub symbol: Symbol,
    /// In words.
    pub meaning: String,
    /// Of the value; empty for a bare number.
    pub unit: &'static str,
    /// Where the formula or the number is from.
    pub source: &'static str,
}

/// How the value of a line comes about.
#[derive(Clone, Debug, PartialEq)]
pub enum How {
    /// It was given, or read in a list.
    Given,
    /// By a formula from lines above.
    Worked(Expr),
    /// By a search.
    Searched {
        /// Where it was found, from the boxed centre; `None` where it is no place in the outline.
        at: Option<Vec2>,
    },
    /// As a sum of weight × value over nodes round the outline.
    Integrated(Vec<Node>),
}

/// A node of an integral.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Node {
    /// Where, from the boxed centre, mm.
    pub at: Vec2,
    /// How much of the way round it stands for.
    pub weight: f64,
    /// The integrand there.
    pub value: f64,
}

/// The same quantity by a rule of the hand.
#[derive(Clone, Debug, PartialEq)]
pub struct HandRule {
    /// What the rule is called.
    pub name: &'static str,
    /// The rule, from lines above.
    pub formula: Expr,
    /// What it gives.
    pub value: f64,
}

/// A line.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The part that it belongs to.
    pub section: Section,
    /// What it is about.
    pub head: Head,
    /// How its value comes about.
    pub how: How,
    /// The value: the program's own, with all its digits.
    pub value: f64,
    /// The figure of the result that it is, where it is one.
    pub figure: Option<&'static str>,
    /// The same by hand, where there is a rule.
    pub by_hand: Option<HandRule>,
}

/// Lines as they are written.
#[derive(Debug)]
pub(super) struct Sheet {
    pub(super) lines: Vec<Line>,
    pub(super) section: Section,
}

impl Symbol {
    pub(super) fn new(letter: &'static str, below: impl Into<String>) -> Symbol {
        Symbol { letter, below: below.into() }
    }
}

impl Head {
    pub(super) fn new(
        id: impl Into<String>,
        (letter, below): (&'static str, &str),
        meaning: impl Into<String>,
        unit: &'static str,
        source: &'static str,
    ) -> Head {
        Head { id: id.into(), symbol: Symbol::new(letter, below), meaning: meaning.into(), unit, source }
    }
}

impl HandRule {
    /// What it gives, less the exact value.
    #[must_use]
    pub fn error(&self, exact: f64) -> f64 {
        self.value - exact
    }
}

impl Sheet {
    pub(super) fn new() -> Sheet {
        Sheet { lines: Vec::new(), section: Section::Layout }
    }

    fn write(&mut self, head: Head, how: How, value: f64) -> Expr {
        self.lines.push(Line { section: self.section, head, how, value, figure: None, by_hand: None });
        Expr::Line(self.lines.len() - 1)
    }

    /// A number that is given.
    pub(super) fn given(&mut self, head: Head, value: f64) -> Expr {
        self.write(head, How::Given, value)
    }

    /// A line by a formula.
    pub(super) fn worked(&mut self, head: Head, formula: Expr) -> Expr {
        let value = self.value(&formula);
        self.write(head, How::Worked(formula), value)
    }

    /// A line by a formula whose value the program has by its own way.
    pub(super) fn known(&mut self, head: Head, formula: Expr, value: f64) -> Expr {
        self.write(head, How::Worked(formula), value)
    }

    /// A value that was searched for.
    pub(super) fn searched(&mut self, head: Head, at: Option<Vec2>, value: f64) -> Expr {
        self.write(head, How::Searched { at }, value)
    }

    /// A value that was integrated.
    pub(super) fn integrated(&mut self, head: Head, nodes: Vec<Node>, value: f64) -> Expr {
        self.write(head, How::Integrated(nodes), value)
    }

    /// The value of a formula over the lines that stand so far.
    pub(super) fn value(&self, formula: &Expr) -> f64 {
        formula.value(&|place| self.lines[place].value)
    }

    /// Says which figure of the result the last line is.
    pub(super) fn figure(&mut self, id: &'static str) {
        if let Some(line) = self.lines.last_mut() {
            line.figure = Some(id);
        }
    }

    /// Puts a rule of the hand beside the last line.
    pub(super) fn by_hand(&mut self, name: &'static str, formula: Expr) {
        let value = self.value(&formula);
        if let Some(line) = self.lines.last_mut() {
            line.by_hand = Some(HandRule { name, formula, value });
        }
    }
}
