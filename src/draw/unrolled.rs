//! The edge of a lens unrolled: its front and back corner, and between them bevel or groove, over the direction from the
//! boxed centre.
//!
//! Units: mm and degrees, anticlockwise from the observer's right; z toward the eye, up on the sheet.

use super::font;
use super::number::figure;
use super::picture::Picture;
use super::smooth;
use super::style::{Colour, DIMENSION, Dash, GLASS, GRID, LETTER_MM, OUTLINE, Pen, TEXT_MM, Tone};
use super::svg::{Anchor, Canvas, Grid, PLAIN, SOFT, TextStyle};
use crate::eye::Eye;
use kurbo::{BezPath, Point, Vec2};

/// The edge in one direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Direction from the boxed centre, rising from one to the next.
    pub deg: f64,
    /// Front corner.
    pub front_z: f64,
    /// Back corner.
    pub back_z: f64,
    /// Tip of the bevel or middle of the groove; `None` where there is none.
    pub tip_z: Option<f64>,
    /// The rim on its own curve, where known.
    pub rim_z: Option<f64>,
}

/// All that is shown.
#[derive(Clone, Debug)]
pub struct Unrolled<'a> {
    /// What it shows, of what.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Which eye.
    pub eye: Eye,
    /// Once round from 0° to 360°, both ends among them.
    pub round: &'a [Stand],
    /// What goes round: bevel or groove.
    pub tip: &'a str,
    /// What is to be said, a line each.
    pub said: &'a [String],
}

/// Width and most height of the field.
const WIDTH_MM: f64 = 120.0;
const MOST_HEIGHT_MM: f64 = 60.0;
/// Between lines of words, and between names beside the field.
const PITCH_MM: f64 = 1.4 * TEXT_MM;
/// Between the field and what stands under it.
const APART_MM: f64 = 1.6;
/// Between the field and the names of its lines.
const LEADER_MM: f64 = 6.0;
/// Scales of z that are chosen from.
const SCALES: [f64; 5] = [10.0, 5.0, 4.0, 2.5, 2.0];
/// The line of bevel or groove, and the rim's own curve.
const TIP: Pen = Pen::line(Tone::Accent, 0.5);
const RIM: Pen = Pen { dash: Dash::Dashed, ..Pen::line(Tone::Second, 0.35) };

/// Where a place of the edge comes to stand.
struct Field {
    scale: f64,
    /// z at the top.
    high_z: f64,
}

impl Field {
    fn of(round: &[Stand]) -> Field {
        let all = round.iter().flat_map(|s| [Some(s.front_z), Some(s.back_z), s.rim_z]).flatten();
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), z| (low.min(z), high.max(z)));
        let fits = |scale: &f64| scale * (high - low) <= MOST_HEIGHT_MM;
        Field { scale: SCALES.into_iter().find(fits).unwrap_or(1.0), high_z: high }
    }

    fn at(&self, deg: f64, z: f64) -> Point {
        Point::new(WIDTH_MM * deg / 360.0, self.scale * (self.high_z - z))
    }

    fn line(&self, points: impl Iterator<Item = (f64, f64)>) -> BezPath {
        let points: Vec<Point> = points.map(|(deg, z)| self.at(deg, z)).collect();
        smooth::through(&points, smooth::NEAR_MM)
    }
}

impl Unrolled<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let field = Field::of(self.round);
        self.edge(&mut canvas, &field);
        self.names(&mut canvas, &field);
        self.directions(&mut canvas);
        self.words(&mut canvas, &field);
        canvas.finish("unrolled", self.title, self.description)
    }

    fn edge(&self, canvas: &mut Canvas, field: &Field) {
        let mut glass = field.line(self.round.iter().map(|s| (s.deg, s.front_z)));
        let back = field.line(self.round.iter().rev().map(|s| (s.deg, s.back_z)));
        if let Some(kurbo::PathEl::MoveTo(start)) = back.elements().first() {
            glass.line_to(*start);
        }
        glass.extend(back.into_iter().skip(1));
        glass.close_path();
        canvas.path(&glass, Grid::Fine, &Pen { fill: GLASS.fill, ..OUTLINE });
        for (z, pen) in [(Stand::rim as fn(&Stand) -> Option<f64>, RIM), (Stand::tip, TIP)] {
            let points: Option<Vec<(f64, f64)>> = self.round.iter().map(|s| Some((s.deg, z(s)?))).collect();
            if let Some(points) = points {
                canvas.path(&field.line(points.into_iter()), Grid::Fine, &pen);
            }
        }
    }

    /// Degrees under the field, and which way they point.
    fn directions(&self, canvas: &mut Canvas) {
        let foot = canvas.inked().y1 + APART_MM;
        let (nose, temple) = if self.eye.nasal_sign() > 0.0 { (0, 180) } else { (180, 0) };
        for deg in (0..=360).step_by(45) {
            let x = WIDTH_MM * f64::from(deg) / 360.0;
            canvas.line(Point::new(x, foot), Point::new(x, foot + 1.2), &DIMENSION);
            let mut at = Point::new(x, foot + 2.0 + font::CAP_HEIGHT * TEXT_MM);
            canvas.text(at, &format!("{}°", figure(f64::from(deg), 0)), &SOFT.anchored(Anchor::Middle));
            at.y += PITCH_MM;
            let way = match deg % 360 {
                90 => "top",
                270 => "bottom",
                side if side == nose => "nose",
                side if side == temple => "temple",
                _ => continue,
            };
            canvas.text(at, way, &SOFT.anchored(Anchor::Middle));
        }
        canvas.line(Point::new(0.0, foot), Point::new(WIDTH_MM, foot), &GRID);
    }

    /// The lines' names at their right ends, kept apart.
    fn names(&self, canvas: &mut Canvas, field: &Field) {
        let Some(last) = self.round.last() else { return };
        let named = [
            ("back, toward the eye", Some(last.back_z), Tone::Ink),
            (self.tip, last.tip_z, Tone::Accent),
            ("rim’s own curve", last.rim_z, Tone::Second),
            ("front", Some(last.front_z), Tone::Ink),
        ];
        let mut names: Vec<(&str, f64, Tone)> =
            named.into_iter().filter_map(|(name, z, tone)| Some((name, field.at(0.0, z?).y, tone))).collect();
        names.sort_by(|a, b| a.1.total_cmp(&b.1));
        let mut lowest = f64::NEG_INFINITY;
        for (name, y, tone) in names {
            let at = y.max(lowest + PITCH_MM);
            lowest = at;
            let out = WIDTH_MM + LEADER_MM;
            canvas.line(Point::new(WIDTH_MM + 0.6, y), Point::new(out - 0.6, at), &Pen::line(tone, 0.18));
            let style = TextStyle { colour: Colour::Tone(tone), ..PLAIN };
            canvas.text(Point::new(out, at + PLAIN.drop_mm()), name, &style);
        }
    }

    fn words(&self, canvas: &mut Canvas, field: &Field) {
        let inked = canvas.inked();
        let mut at = Point::new(inked.x0, inked.y1 + 1.5 + PITCH_MM);
        canvas.text(at, self.eye.letter(), &PLAIN.strong().sized(LETTER_MM));
        let decimals = usize::from(field.scale.fract() != 0.0);
        let scale =
            format!("Up the sheet {} times enlarged; along it the whole way round.", figure(field.scale, decimals));
        let lines = self.said.iter().chain([&scale]);
        for line in lines.flat_map(|said| font::wrapped(said, TEXT_MM, inked.width() - 5.5)) {
            canvas.text(at + Vec2::new(5.5, 0.0), &line, &PLAIN);
            at.y += PITCH_MM;
        }
    }
}

impl Stand {
    fn tip(&self) -> Option<f64> {
        self.tip_z
    }

    fn rim(&self) -> Option<f64> {
        self.rim_z
    }
}
