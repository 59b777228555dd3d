//! The edge at one point of the outline, enlarged: cut along the normal there, outward to the right, the eye above.
//!
//! Units: mm. u along the outward normal, nought at the outline; z toward the eye.

use super::cut::{self, Cut, End};
use super::dimension::{self, Beyond, Rise};
use super::font;
use super::number::figure;
use super::picture::Picture;
use super::style::{LETTER_MM, Pen, TEXT_MM, Tone};
use super::svg::{Canvas, Grid, PLAIN, SOFT};
use crate::eye::Eye;
use crate::rim::Rim;
use kurbo::{Affine, Point, Vec2};

/// What of a bevelled edge shows: measured at the bevel's shoulder, which the rim touches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shows {
    /// z of the shoulder's front corner.
    pub front_z: f64,
    /// z of its back corner.
    pub back_z: f64,
    /// Before the rim; negative where the rim stands before the lens.
    pub before_mm: f64,
    /// Behind the rim; negative where the rim hides the edge.
    pub behind_mm: f64,
}

/// All that a detail shows.
#[derive(Clone, Debug)]
pub struct Detail<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Which eye.
    pub eye: Eye,
    /// The cut: its high end is the edge, its low end is broken off.
    pub cut: Cut,
    /// Thickness of the edge at the outline.
    pub edge_mm: f64,
    /// The figure that this is; empty where results hold none of it.
    pub edge_figure: &'a str,
    /// Is what shows a figure of the results?
    pub shows_figures: bool,
    /// What of it shows, where the depth of the rim is known.
    pub shows: Option<Shows>,
    /// How the frame holds it.
    pub rim: Rim,
    /// Front to back, where known.
    pub rim_depth_mm: Option<f64>,
    /// What is to be said, a line each.
    pub said: &'a [String],
    /// Millimetres on paper for one of the lens.
    pub scale: f64,
}

/// Between the rim and the first column of dimensions.
const TO_LINE_MM: f64 = 5.0;
/// Between the columns.
const COLUMN_MM: f64 = 13.0;
/// Between lines of words.
const PITCH_MM: f64 = 1.4 * TEXT_MM;
/// Shorter lengths print as nought and are not drawn.
const LEAST_MM: f64 = 0.05;
/// Where something is broken off.
const BREAK: Pen = Pen::line(Tone::Soft, 0.25);

impl Detail<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, kind: &'static str) -> Picture {
        let mut canvas = Canvas::endless();
        let place = Affine::new([self.scale, 0.0, 0.0, -self.scale, 0.0, 0.0]);
        let across = cut::rim_across_mm(self.rim);
        if let Some(across) = across {
            self.cut.draw_rim(&mut canvas, place, End::High, self.rim_depth_mm, across);
        }
        self.cut.draw_broken(&mut canvas, place);
        self.sides(&mut canvas, place);
        self.lengths(&mut canvas, place, self.scale * across.unwrap_or(0.0));
        self.words(&mut canvas);
        canvas.finish(kind, self.title, self.description)
    }

    /// The broken end, and which side is which.
    fn sides(&self, canvas: &mut Canvas, place: Affine) {
        let slice = self.cut.end(End::Low);
        let (front, back) = (place * Point::new(slice.u, slice.front_z), place * Point::new(slice.u, slice.back_z));
        let half = 0.5 * (back - front);
        let (middle, out) = (front + half, Vec2::new(1.2, 0.0));
        let step = 1.2 * half.normalize();
        let zigzag = [
            front - step,
            middle - step,
            middle - 0.4 * step + out,
            middle + 0.4 * step - out,
            middle + step,
            back + step,
        ];
        canvas.polyline(&zigzag, Grid::Fine, &BREAK);
        let inked = canvas.inked();
        canvas.text(Point::new(inked.x0, inked.y0 - 1.4), "back, toward the eye", &SOFT);
        canvas.text(Point::new(inked.x0, inked.y1 + 1.4 + font::CAP_HEIGHT * TEXT_MM), "front", &SOFT);
    }

    /// The edge, and what of it shows before and behind the rim.
    fn lengths(&self, canvas: &mut Canvas, place: Affine, beyond: f64) {
        let slice = self.cut.end(End::High);
        let y = |z: f64| (place * Point::new(0.0, z)).y;
        let near = beyond + TO_LINE_MM;
        let mut rises = Vec::new();
        if let Some(Shows { front_z, back_z, before_mm, behind_mm }) = self.shows {
            let shown = [("before_rim", front_z, front_z + before_mm), ("behind_rim", back_z - behind_mm, back_z)];
            rises.extend(shown.into_iter().filter(|(_, from, to)| to - from >= LEAST_MM));
        }
        let column = near + if rises.is_empty() { 0.0 } else { COLUMN_MM };
        for &(_, from, to) in &rises {
            for z in [from, to] {
                dimension::extension(canvas, Point::new(beyond, y(z)), Point::new(near, y(z)));
            }
        }
        for z in [slice.front_z, slice.back_z] {
            dimension::extension(canvas, place * Point::new(slice.u, z), Point::new(column, y(z)));
        }
        rises.push((self.edge_figure, slice.front_z, slice.back_z));
        let last = rises.len() - 1;
        for (i, (name, from, to)) in rises.into_iter().enumerate() {
            let (x, value) = if i == last { (column, self.edge_mm) } else { (near, to - from) };
            let named = !name.is_empty() && (i == last || self.shows_figures);
            let rise = Rise {
                x,
                from: y(from),
                to: y(to),
                text: &figure(value, 1),
                figure: &if named { format!("{}.thickness.{name}_mm", self.eye.word()) } else { String::new() },
                beside: Beyond::High,
                on: Tone::Paper,
            };
            rise.draw(canvas);
        }
    }

    fn words(&self, canvas: &mut Canvas) {
        let inked = canvas.inked();
        let mut at = Point::new(inked.x0, inked.y1 + 1.5 + PITCH_MM);
        canvas.text(at, self.eye.letter(), &PLAIN.strong().sized(LETTER_MM));
        for line in self.said.iter().flat_map(|said| font::wrapped(said, TEXT_MM, (inked.width() - 5.5).max(60.0))) {
            canvas.text(at + Vec2::new(5.5, 0.0), &line, &PLAIN);
            at.y += PITCH_MM;
        }
        at.y += 0.4 * PITCH_MM;
        dimension::scale_bar(canvas, at, self.scale, "outward to the right");
    }
}
