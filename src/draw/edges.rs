//! Small multiples: the last millimetres of many lenses at their thickest edge, side by side on one scale, so that the
//! eye finds the thin one.
//!
//! Units: mm. u along the outward normal, nought at the outline; z toward the eye, which is above.

use super::cut::{Cut, End};
use super::dimension::{self, Beyond, Gauge, Rise};
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
const ROW_APART_MM: f64 = 3.0;
/// Rows together are no higher than this: with its heading and its notes the picture stands on one sheet.
const MOST_MM: f64 = 195.0;
/// Between an edge and the line of its dimension.
const TO_LINE_MM: f64 = 2.0;
/// What stands beside the scale.
const SEEN: &str = "outward to the right, the eye above";

impl EdgeCells<'_> {
    /// How many of these cells, from the first, stand on one sheet.
    #[must_use]
    pub fn fitting(cells: &[EdgeCell], scale: f64) -> usize {
        let mut height = 0.0;
        let rows = cells.chunks(COLUMNS).take_while(|row| {
            height += Row::of(row, scale).height_mm() + ROW_APART_MM;
            height <= MOST_MM
        });
        rows.map(<[EdgeCell]>::len).sum()
    }

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
    fn row(&self, canvas: &mut Canvas, cells: &[EdgeCell], left: f64, top: f64) -> f64 {
        let row = Row::of(cells, self.scale);
        for (i, cell) in cells.iter().enumerate() {
            let x = CELL_MM.0 * i as f64;
            self.cell(canvas, Point::new(x + left, top + row.base), cell);
            let style = if cell.compared { PLAIN.coloured(Tone::Second) } else { PLAIN };
            for (k, line) in words_of(cell).iter().enumerate() {
                canvas.text(Point::new(x, top + row.words + PITCH_MM * k as f64), line, &style);
            }
        }
        top + row.height_mm()
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

/// Heights in a row, from its top.
struct Row {
    /// Of the front corners.
    base: f64,
    /// Of the first line of words.
    words: f64,
    /// Lines of words.
    lines: usize,
}

impl Row {
    fn of(cells: &[EdgeCell], scale: f64) -> Row {
        let ranges = cells.iter().map(range);
        let (lowest, highest) = ranges.fold((0.0_f64, 0.0_f64), |a, b| (a.0.min(b.0), a.1.max(b.1)));
        // Arrows from outside want room above.
        let roomy = cells.iter().all(|cell| scale * cell.edge_mm > Gauge::BELOW_MM + 1.0);
        let base = scale * highest + if roomy { 0.0 } else { Gauge::BELOW_MM };
        let words = base + scale * -lowest + 1.5 + font::CAP_HEIGHT * TEXT_MM;
        Row { base, words, lines: cells.iter().map(|cell| words_of(cell).len()).max().unwrap_or(0) }
    }

    fn height_mm(&self) -> f64 {
        self.words + PITCH_MM * self.lines.saturating_sub(1) as f64 + font::DESCENT * TEXT_MM
    }
}

/// Least and most z of a cut, from its front corner.
fn range(cell: &EdgeCell) -> (f64, f64) {
    let (low, high) = cell.cut.range();
    let corner = cell.cut.end(End::High).front_z;
    (low - corner, high - corner)
}

/// What a cell is called, in lines.
fn words_of(cell: &EdgeCell) -> Vec<String> {
    let lines = font::wrapped(&cell.name, TEXT_MM, CELL_MM.1);
    lines.iter().map(|line| font::cut_short(line, TEXT_MM, CELL_MM.1)).collect()
}
