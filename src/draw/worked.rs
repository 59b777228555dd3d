//! One lens with the points of its calculation, each under its letter, and below it the section along the horizontal
//! centre line with the sags at both ends.
//!
//! Units: mm. x to the observer's right and y up from the boxed centre, z toward the eye. The section is seen from above,
//! its front downward, at the same scale as the view and under it.

use super::dimension::{self, Beyond, Dimension, Run};
use super::label::Labels;
use super::number::figure;
use super::picture::Picture;
use super::style::{CENTRE, GLASS, HIDDEN, Tone};
use super::svg::{self, Anchor, Canvas, Grid, PLAIN, SOFT, TextStyle, View};
use crate::eye::Eye;
use crate::outline::Outline;
use kurbo::{Point, Vec2};

/// A point that the calculation uses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tie<'a> {
    /// Its letter.
    pub letter: &'a str,
    /// From the boxed centre.
    pub at: Vec2,
}

/// A place along the section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// From the boxed centre.
    pub x: f64,
    /// Front surface, from its vertex plane.
    pub front_z: f64,
    /// Back surface, from the front's vertex plane.
    pub back_z: f64,
}

/// All that the drawing shows.
#[derive(Clone, Debug)]
pub struct Worked<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Of the lens.
    pub outline: &'a Outline,
    /// Which lens.
    pub eye: Eye,
    /// The reference point, from the boxed centre.
    pub reference: Vec2,
    /// Between the vertices of both surfaces.
    pub centre_mm: f64,
    /// The points.
    pub ties: Vec<Tie<'a>>,
    /// Along the horizontal centre line, from left to right, two or more.
    pub stations: Vec<Station>,
    /// Millimetres on paper for one of the lens.
    pub scale: f64,
}

/// Points closer than this share their letters.
const SAME_MM: f64 = 0.3;
/// Points nearer to a centre line than this have their letters beside it.
const ON_LINE_MM: f64 = 2.0;
/// From a point to its letter, on paper.
const LETTER_FROM_MM: f64 = 4.0;
/// Between the view and the section, on paper.
const GAP_MM: f64 = 14.0;
/// From the ends of the section to the dimensions of front and back.
const ROWS_MM: [f64; 2] = [8.0, 22.0];
/// From the section down to the letters under it, on paper.
const UNDER_MM: f64 = 7.0;
/// Sags that print as nought are not drawn.
const LEAST_MM: f64 = 0.05;

impl Worked<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let view = View { origin: Point::ORIGIN, scale: self.scale };
        self.view(&mut canvas, &view);
        self.letters(&mut canvas, &view);
        self.section(&mut canvas);
        let below = canvas.inked();
        dimension::scale_bar(&mut canvas, Point::new(below.x0, below.y1 + 8.0), self.scale, "section seen from above");
        canvas.finish("worked", self.title, self.description)
    }

    fn view(&self, canvas: &mut Canvas, view: &View) {
        canvas.path(&(view.affine() * self.outline.curve().path(0.001)), Grid::Coarse, &GLASS);
        let (across, up) = (0.5 * self.outline.width_mm() + 3.0, 0.5 * self.outline.depth_mm() + 3.0);
        canvas.line(view.at(-across, 0.0), view.at(across, 0.0), &CENTRE);
        canvas.line(view.at(0.0, -up), view.at(0.0, up), &CENTRE);
    }

    /// The points with their letters: those in one place together, outward of it where there is room.
    fn letters(&self, canvas: &mut Canvas, view: &View) {
        let mut places: Vec<(Vec2, String)> = vec![(self.reference, "r".to_owned())];
        for tie in &self.ties {
            match places.iter_mut().find(|(at, _)| (*at - tie.at).hypot() < SAME_MM) {
                Some((_, letters)) => letters.push_str(&format!(", {}", tie.letter)),
                None => places.push((tie.at, tie.letter.to_owned())),
            }
        }
        let style = PLAIN.strong().anchored(Anchor::Middle);
        let mut labels = Labels::new();
        for (at, letters) in &places {
            let point = view.at(at.x, at.y);
            if *at == self.reference {
                svg::cross(canvas, point, 2.0, &super::style::THIN);
            } else {
                svg::dot(canvas, point, true, Tone::Ink);
            }
            labels.take(style.bounds(point + Vec2::new(0.0, style.drop_mm()), "r"));
            let outward = if at.hypot() > 1e-9 { at.angle() } else { 0.0 };
            // On a centre line a letter stands beside it.
            let straight = if at.x.abs().min(at.y.abs()) < ON_LINE_MM { 0.6 } else { 0.0 };
            let around = [straight, 0.6, -0.6, 1.0, -1.0, 1.6, -1.6, 2.4, -2.4].map(|turn| {
                let far = LETTER_FROM_MM + if letters.len() > 1 { 1.5 } else { 0.0 };
                let to = Vec2::from_angle(outward + turn) * far;
                point + Vec2::new(to.x, -to.y + style.drop_mm())
            });
            let found = labels.place(letters, &style, around).unwrap_or(around[0]);
            canvas.text(found, letters, &style);
        }
    }

    fn section(&self, canvas: &mut Canvas) {
        let highest = self.stations.iter().map(|s| s.back_z).fold(self.centre_mm, f64::max);
        let top = canvas.inked().y1 + GAP_MM;
        let place = |x: f64, z: f64| Point::new(self.scale * x, top + self.scale * (highest - z));
        let front = self.stations.iter().map(|s| place(s.x, s.front_z));
        let back = self.stations.iter().rev().map(|s| place(s.x, s.back_z));
        let round: Vec<Point> = front.chain(back).collect();
        canvas.polygon(&round, &GLASS);
        let (Some(left), Some(right)) = (self.stations.first(), self.stations.last()) else { return };
        // The planes from which the sags are measured.
        for (z, reach) in [(0.0, ROWS_MM[0]), (self.centre_mm, ROWS_MM[1])] {
            let out = Vec2::new(reach + 2.0, 0.0);
            canvas.line(place(left.x, z) - out, place(right.x, z) + out, &HIDDEN);
        }
        let (x, over) = (self.reference.x, Vec2::new(0.0, 3.0));
        canvas.line(place(x, 0.0) + over, place(x, self.centre_mm.max(highest)) - over, &CENTRE);
        let letter = PLAIN.strong().anchored(Anchor::Middle);
        canvas.text(place(x, 0.0) + Vec2::new(0.0, UNDER_MM), "r", &letter);
        let (left_letter, right_letter) = match self.eye {
            Eye::Right => ("t", "n"),
            Eye::Left => ("n", "t"),
        };
        self.end(canvas, left, (-1.0, left_letter), &place);
        self.end(canvas, right, (1.0, right_letter), &place);
    }

    /// The sags at one end: of the front from its plane, of the back from its own.
    fn end(&self, canvas: &mut Canvas, at: &Station, (side, letter): (f64, &str), place: &impl Fn(f64, f64) -> Point) {
        let sags = [(0.0, at.front_z, "s1"), (self.centre_mm, at.back_z, "s2")];
        let soft: TextStyle = SOFT.anchored(Anchor::Middle);
        for ((plane, z, name), row) in sags.into_iter().zip(ROWS_MM) {
            let sag = z - plane;
            let from = place(at.x, plane);
            if sag.abs() < LEAST_MM {
                continue;
            }
            let to = place(at.x, z);
            let line_at = from.x + side * row;
            let text = figure(sag, 2);
            let shown = Dimension {
                from,
                to,
                run: Run::Upward,
                line_at,
                text: &text,
                figure: "",
                beyond: Beyond::High,
                bordered: true,
            };
            dimension::draw_all(canvas, &[shown]);
            let below = from.y.max(to.y) + UNDER_MM + 1.0;
            canvas.text(Point::new(line_at, below), &format!("{name}{letter}"), &soft);
        }
        let foot = place(at.x, at.front_z.min(at.back_z).min(0.0));
        canvas.text(foot + Vec2::new(-side * 3.0, UNDER_MM), letter, &PLAIN.strong().anchored(Anchor::Middle));
    }
}
