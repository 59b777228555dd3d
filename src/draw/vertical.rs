//! Vertical section of a lens: cut through its boxed centre, the front to the left, the top above.
//!
//! Units: mm. y in the lens from the boxed centre, upward; z toward the eye, nought at the front surface on the axis
//! through the reference point.

use super::cut::{self, Cut, End, Reference};
use super::dimension::{self, Beyond, Dimension, Run};
use super::font;
use super::number::figure;
use super::picture::Picture;
use super::style::{LETTER_MM, TEXT_MM};
use super::svg::{Anchor, Canvas, PLAIN, SOFT};
use crate::eye::Eye;
use crate::rim::Rim;
use kurbo::{Affine, Point, Rect, Vec2};

/// All that a vertical section shows.
#[derive(Clone, Debug)]
pub struct Vertical<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Which eye.
    pub eye: Eye,
    /// The cut, u being y.
    pub cut: Cut,
    /// The reference point, where it lies inside the shape.
    pub reference: Option<Reference>,
    /// Thickness at the upper end.
    pub top_mm: f64,
    /// Thickness at the lower end.
    pub bottom_mm: f64,
    /// What the front curve is, in lines.
    pub front: &'a [String],
    /// What the back curves are, in lines.
    pub back: &'a [String],
    /// How the frame holds it.
    pub rim: Rim,
    /// Front to back, where known.
    pub rim_depth_mm: Option<f64>,
    /// Millimetres on paper for one of the lens.
    pub scale: f64,
}

/// Between a rim (or an end without one) and its dimension line.
const TO_LINE_MM: f64 = 3.5;
/// What the number over the lower line takes up.
const NUMBER_MM: f64 = font::CAP_HEIGHT * TEXT_MM + 0.6;
/// Between lines of words.
const PITCH_MM: f64 = 1.3 * TEXT_MM;
/// How far down the lens curves are named, in halves of it.
const NAMED_AT: f64 = -0.5;
/// Between the lens and the names of its curves, before and behind it: behind it stand the numbers.
const TO_NAMES_MM: (f64, f64) = (6.0, 11.0);

impl Vertical<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let place = Affine::new([0.0, -self.scale, self.scale, 0.0, 0.0, 0.0]);
        let across = cut::rim_across_mm(self.rim);
        if let Some(across) = across {
            for end in [End::Low, End::High] {
                self.cut.draw_rim(&mut canvas, place, end, self.rim_depth_mm, across);
            }
        }
        self.cut.draw(&mut canvas, place);
        let lens = canvas.inked();
        self.edges(&mut canvas, place, self.scale * across.unwrap_or(0.0) + TO_LINE_MM);
        self.names(&mut canvas, place, lens);
        let inked = canvas.inked();
        let letter = PLAIN.sized(LETTER_MM).strong();
        let at = Point::new(inked.x0, inked.y0 + font::CAP_HEIGHT * LETTER_MM);
        canvas.text(at, self.eye.letter(), &letter);
        let bar = Point::new(inked.x0, inked.y1 + 1.2 * PITCH_MM + 1.0);
        dimension::scale_bar(&mut canvas, bar, self.scale, "front to the left");
        canvas.finish("vertical", self.title, self.description)
    }

    /// Both ends and the centre.
    fn edges(&self, canvas: &mut Canvas, place: Affine, beyond: f64) {
        let at = |u: f64, z: f64| place * Point::new(u, z);
        let (high, low) = (self.cut.end(End::High), self.cut.end(End::Low));
        let mut lengths = vec![
            (at(high.u, high.front_z), at(high.u, high.back_z), -beyond, self.top_mm, "top"),
            (at(low.u, low.front_z), at(low.u, low.back_z), beyond + NUMBER_MM, self.bottom_mm, "bottom"),
        ];
        if let Some(Reference { u, centre_mm, off_plane }) = self.reference {
            let (front, back) = (at(u, 0.0), at(u, centre_mm));
            cut::reference_mark(canvas, front, back, off_plane);
            lengths.push((front, back, 0.0, centre_mm, "centre"));
        }
        let words: Vec<(String, String)> = lengths
            .iter()
            .map(|(.., mm, name)| (figure(*mm, 1), format!("{}.thickness.{name}_mm", self.eye.word())))
            .collect();
        let dimensions: Vec<Dimension<'_>> = lengths
            .iter()
            .zip(&words)
            .map(|(&(from, to, off, ..), (text, figure))| Dimension {
                from,
                to,
                run: Run::Across,
                line_at: from.y + off,
                text,
                figure,
                beyond: Beyond::High,
                bordered: false,
            })
            .collect();
        dimension::draw_all(canvas, &dimensions);
    }

    /// The curves, each beside its surface.
    fn names(&self, canvas: &mut Canvas, place: Affine, lens: Rect) {
        let (low, high) = (self.cut.end(End::Low).u, self.cut.end(End::High).u);
        let slice = self.cut.at(0.5 * (low + high) + 0.5 * NAMED_AT * (high - low));
        let sides = [
            (slice.front_z, self.front, lens.x0 - TO_NAMES_MM.0, Anchor::End, -1.0),
            (slice.back_z, self.back, lens.x1 + TO_NAMES_MM.1, Anchor::Start, 1.0),
        ];
        for (z, lines, x, anchor, side) in sides {
            let target = place * Point::new(slice.u, z);
            let label = Point::new(x, target.y);
            let (first, rest) = lines.split_first().map_or(("", lines), |(first, rest)| (first.as_str(), rest));
            dimension::leader(canvas, target, label, first, &PLAIN);
            for (i, line) in rest.iter().enumerate() {
                let down = PITCH_MM * (i + 1) as f64 + SOFT.drop_mm();
                canvas.text(label + Vec2::new(0.6 * side, down), line, &SOFT.anchored(anchor));
            }
        }
    }
}
