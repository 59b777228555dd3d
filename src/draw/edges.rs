//! Small multiples: the last millimetres of many lenses at their thickest edge, side by side on one scale, so that the
//! eye finds the thin one.
//!
//! Units: mm. u along the outward normal, nought at the outline; z toward the eye, which is above.

use super::cut::{Cut, End};
use super::dimension::{self, Beyond, Rise};
use super::font;
use super::number::figure;
use super::picture::Picture;
use super::style::{TEXT_MM, Tone};
use super::svg::{Canvas, PLAIN, SOFT};
use kurbo::{Affine, Point};

/// One lens of many.
#[derive(Clone, Debug)]
pub struct EdgeCell {
    /// Its cut: the high end is the edge, the low end is broken off.
    pub cut: Cut,
    /// Thickness of the edge at the outline.
    pub edge_mm: f64,
    /// The figure that it is, by the name that it carries in the file.
    pub figure: String,
    /// What it is called.
    pub name: String,
    /// The same more closely.
    pub also: String,
    /// Is it what the others are compared with?
    pub compared: bool,
}

/// All that is shown.
#[derive(Clone, Debug)]
pub struct EdgeCells<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// The lenses, in the order in which they are read: along the rows.
    pub cells: &'a [EdgeCell],
    /// What is to be said of all.
    pub note: &'a str,
    /// Millimetres on paper for one of a lens.
    pub scale: f64,
}

/// In a row.
const COLUMNS: usize = 5;
/// From cell to cell in a row, and how much of that words may take.
const CELL_MM: (f64, f64) = (35.5, 33.0);
/// Between lines of words.
const PITCH_MM: f64 = 1.3 * TEXT_MM;
/// Between rows.
const ROW_APART_MM: f64 = 2.5;
/// Between an edge and the line of its dimension.
const TO_LINE_MM: f64 = 2.0;
/// What stands beside the scale.
const SEEN: &str = "outward to the right, the eye above";

impl EdgeCells<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, kind: &'static str) -> Picture {
        let mut canvas = Canvas::endless();
        let inside = self.cells.iter().map(|cell| cell.cut.end(End::High).u - cell.cut.end(End::Low).u);
        let left = self.scale * inside.fold(0.0, f64::max);
        let mut top = 0.0;
        for row in self.cells.chunks(COLUMNS) {
            top = self.row(&mut canvas, row, left, top) + ROW_APART_MM;
        }
        let mut at = Point::new(0.0, canvas.inked().y1 + PITCH_MM + 1.0);
        for line in font::wrapped(self.note, TEXT_MM, CELL_MM.0 * COLUMNS as f64) {
            canvas.text(at, &line, &SOFT);
            at.y += PITCH_MM;
        }
        dimension::scale_bar(&mut canvas, Point::new(0.0, at.y + 1.0), self.scale, SEEN);
        canvas.finish(kind, self.title, self.description)
    }

    /// Cells side by side, their front corners at one height; gives back where they end.
    fn row(&self, canvas: &mut Canvas, row: &[EdgeCell], left: f64, top: f64) -> f64 {
        let (lowest, highest) = row.iter().map(range).fold((0.0_f64, 0.0_f64), |a, b| (a.0.min(b.0), a.1.max(b.1)));
        let base = top + self.scale * highest + dimension::Gauge::BELOW_MM;
        let words = base - self.scale * lowest + 1.5 + font::CAP_HEIGHT * TEXT_MM;
        let mut most_lines = 0;
        for (i, cell) in row.iter().enumerate() {
            let x = CELL_MM.0 * i as f64;
            self.cell(canvas, Point::new(x + left, base), cell);
            most_lines = most_lines.max(words_of(canvas, Point::new(x, words), cell));
        }
        words + PITCH_MM * f64::from(most_lines)
    }

    /// A lens with its front corner at this point.
    fn cell(&self, canvas: &mut Canvas, at: Point, cell: &EdgeCell) {
        let corner = cell.cut.end(End::High);
        let scale = self.scale;
        let place = Affine::new([scale, 0.0, 0.0, -scale, at.x, at.y + scale * corner.front_z]);
        cell.cut.draw_broken(canvas, place);
        let x = at.x + TO_LINE_MM;
        let ends = [corner.front_z, corner.back_z].map(|z| place * Point::new(corner.u, z));
        for end in ends {
            dimension::extension(canvas, end, Point::new(x, end.y));
        }
        let rise = Rise {
            x,
            from: ends[0].y,
            to: ends[1].y,
            text: &figure(cell.edge_mm, 1),
            figure: &cell.figure,
            beside: Beyond::High,
            on: Tone::Paper,
        };
        rise.draw(canvas);
    }
}

/// Least and most z of a cut, from its front corner.
fn range(cell: &EdgeCell) -> (f64, f64) {
    let (low, high) = cell.cut.range();
    let corner = cell.cut.end(End::High).front_z;
    (low - corner, high - corner)
}

/// Writes what a cell is called; gives back in how many lines.
fn words_of(canvas: &mut Canvas, mut at: Point, cell: &EdgeCell) -> u32 {
    let name = if cell.compared { PLAIN.coloured(Tone::Second) } else { PLAIN };
    let mut lines = 0;
    for (text, style) in [(&cell.name, name), (&cell.also, SOFT)] {
        for line in font::wrapped(text, TEXT_MM, CELL_MM.1) {
            canvas.text(at, &font::cut_short(&line, TEXT_MM, CELL_MM.1), &style);
            at.y += PITCH_MM;
            lines += 1;
        }
    }
    lines
}
