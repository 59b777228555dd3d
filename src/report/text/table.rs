//! The table of `compare`: one row a combination, what one notices first.
//!
//! Units: in the heads of the columns.

use super::super::notes::Notes;
use super::super::number::{figure, grams, mm, size};
use super::super::words;
use super::grid::{Entry, Grid, Holds};
use crate::assess::{Fit, Pair};
use crate::eye::Eye;
use crate::job::NOW;
use crate::study::compare::{Comparison, EQUAL_G, EQUAL_MM, Lead};

/// Stands behind a figure that is best, or equal to it.
const BEST: char = '*';
/// Stands in its place behind the others, so that decimal points stay under each other.
const BLANK: char = '\u{a0}';
/// Stands for a figure that there is none of.
pub(super) const NONE: &str = "–";

/// A column of figures: its head in two lines, and what it shows of a pair.
struct Column {
    head: [&'static str; 2],
    value: fn(&Pair) -> Option<f64>,
    best: Best,
}

/// Which figure of a column is marked.
#[derive(Clone, Copy, PartialEq)]
enum Best {
    No,
    /// This thickness of this eye, where it leads.
    Lead(Lead, Eye),
    Mass,
}

const EDGES: [Column; 2] = [
    Column {
        head: ["Edge", "R mm"],
        value: |p| Some(p.eyes.right.thickness.edges.max.thickness_mm),
        best: Best::Lead(Lead::Edge, Eye::Right),
    },
    Column {
        head: ["Edge", "L mm"],
        value: |p| Some(p.eyes.left.thickness.edges.max.thickness_mm),
        best: Best::Lead(Lead::Edge, Eye::Left),
    },
];
const CENTRES: [Column; 2] = [
    Column {
        head: ["Centre", "R mm"],
        value: |p| p.eyes.right.thickness.centre_mm,
        best: Best::Lead(Lead::Centre, Eye::Right),
    },
    Column {
        head: ["Centre", "L mm"],
        value: |p| p.eyes.left.thickness.centre_mm,
        best: Best::Lead(Lead::Centre, Eye::Left),
    },
];
const BULGE: Column =
    Column { head: ["Bulge", "mm"], value: |p| Some(p.eyes.right.bulge_mm.max(p.eyes.left.bulge_mm)), best: Best::No };
const PAIR: Column = Column { head: ["Pair", "g"], value: |p| Some(p.mass_g()), best: Best::Mass };
const WORN: Column = Column { head: ["With", "frame g"], value: Pair::with_frame_g, best: Best::No };

impl Column {
    /// The columns of a comparison, what one notices first; without those that no pair has a figure for.
    fn of(comparison: &Comparison<'_>) -> Vec<Column> {
        let [edge_right, edge_left] = EDGES;
        let [centre_right, centre_left] = CENTRES;
        let mut columns = match comparison.lead {
            Lead::Edge => vec![edge_right, edge_left, centre_right, centre_left, PAIR, WORN],
            Lead::Centre => vec![centre_right, centre_left, BULGE, edge_right, edge_left, PAIR, WORN],
        };
        columns.retain(|column| comparison.fits.iter().filter_map(Fit::pair).any(|p| (column.value)(p).is_some()));
        columns
    }

    fn can_be_best(&self, lead: Lead) -> bool {
        match self.best {
            Best::No => false,
            Best::Mass => true,
            Best::Lead(own, _) => own == lead,
        }
    }

    fn head(&self, lead: Lead) -> String {
        let [name, unit] = self.head;
        if self.can_be_best(lead) { format!("{name}{BLANK}\n{unit}{BLANK}") } else { format!("{name}\n{unit}") }
    }

    fn entry(&self, comparison: &Comparison<'_>, index: usize) -> Entry {
        let pair = comparison.fits.get(index).and_then(Fit::pair);
        let value = pair.and_then(self.value);
        let best = pair.is_some_and(|pair| self.is_best(comparison, index, pair));
        let mut text = value.map_or(NONE.to_owned(), |value| figure(value, 1));
        if self.can_be_best(comparison.lead) {
            text.push(if best { BEST } else { BLANK });
        }
        (text, best)
    }

    /// Is this the figure that makes the pair best: the larger of the two eyes, or the mass?
    fn is_best(&self, comparison: &Comparison<'_>, index: usize, pair: &Pair) -> bool {
        match self.best {
            Best::No => false,
            Best::Mass => comparison.is_lightest(index),
            Best::Lead(lead, _) => {
                let larger = (self.value)(pair) == lead.of(pair);
                lead == comparison.lead && larger && comparison.is_thinnest(index)
            }
        }
    }
}

/// The table, with the numbers of its notes.
pub(super) fn table(comparison: &Comparison<'_>, notes: &Notes, styled: bool) -> String {
    let columns = Column::of(comparison);
    let mut heads = vec![
        ("Frame".to_owned(), Holds::Text),
        ("Size\nmm".to_owned(), Holds::Figures),
        ("Lens".to_owned(), Holds::Text),
    ];
    heads.extend(columns.iter().map(|column| (column.head(comparison.lead), Holds::Figures)));
    if !notes.notes.is_empty() {
        heads.push(("Note".to_owned(), Holds::Text));
    }
    let mut grid = Grid::new(&heads, styled);
    for (i, fit) in comparison.fits.iter().enumerate() {
        let mut row = first_entries(comparison, i, fit);
        row.extend(columns.iter().map(|column| column.entry(comparison, i)));
        row.push((notes.mark(i), false));
        grid.row(row);
    }
    grid.finish()
}

/// Frame and size are said once for the rows that share them.
fn first_entries(comparison: &Comparison<'_>, index: usize, fit: &Fit<'_>) -> Vec<Entry> {
    let now = comparison.is_now(index);
    let before = index.checked_sub(1).filter(|before| !comparison.is_now(*before)).and_then(|i| comparison.fits.get(i));
    let same_frame = before.is_some_and(|before| std::ptr::eq(before.mounting.frame, fit.mounting.frame));
    let same_size = same_frame && before.is_some_and(|before| before.mounting.boxing == fit.mounting.boxing);
    let frame = if now { NOW } else { fit.mounting.frame.name.as_str() };
    let lens = if now { words::material(fit.option) } else { fit.option.name.clone() };
    let unless = |same: bool, text: String| if same { String::new() } else { text };
    vec![
        (unless(same_frame, frame.to_owned()), false),
        (unless(same_size, size(fit.mounting.boxing.eye_size_mm)), false),
        (lens, false),
    ]
}

/// What the marks mean.
pub(super) fn legend(lead: Lead) -> String {
    let what = match lead {
        Lead::Edge => "Edge: the thickest place of it",
        Lead::Centre => "Edge: the thickest place of it. Bulge: how far the front stands out",
    };
    let least = match lead {
        Lead::Edge => "thinnest",
        Lead::Centre => "thinnest in the middle",
    };
    format!(
        "{what}. {BEST} {least} or within {} of it; lightest or within {}, before rounding.",
        mm(EQUAL_MM),
        grams(EQUAL_G)
    )
}
