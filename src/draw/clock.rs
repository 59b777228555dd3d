//! Edge thickness round the rim, seen like a clock: the direction is that of the point from the boxed centre, as the
//! observer facing the wearer sees it, and the thickness is the distance from the middle; both lenses on one scale.
//!
//! Units: mm and degrees, anticlockwise from the observer's right.

use super::dimension::scale_bar;
use super::font;
use super::label::Labels;
use super::number::figure;
use super::picture::Picture;
use super::smooth;
use super::style::{Colour, DIMENSION, GRID, LETTER_MM, OUTLINE, TEXT_MM, Tone};
use super::svg::{self, Anchor, Canvas, Grid, PLAIN, SOFT, TextStyle};
use crate::eye::{Eye, Eyes};
use kurbo::{BezPath, Circle, Point, Rect, Vec2};

/// A thickness in a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hand {
    /// Direction from the boxed centre.
    pub deg: f64,
    /// Thickness of the edge there.
    pub thickness_mm: f64,
}

/// One lens of the chart.
#[derive(Clone, Debug)]
pub struct ClockLens {
    /// Round the rim, in rising or falling direction, dense enough to be joined.
    pub round: Vec<Hand>,
    /// The thickest point of the edge.
    pub thickest: Hand,
    /// The thinnest point of the edge.
    pub thinnest: Hand,
    /// Toward the nose.
    pub nasal_mm: f64,
    /// Toward the temple.
    pub temporal_mm: f64,
    /// Above.
    pub top_mm: f64,
    /// Below.
    pub bottom_mm: f64,
}

/// The rings that clocks share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rings {
    /// Between two rings.
    pub step_mm: f64,
    /// How many.
    pub count: u32,
    /// Millimetres on paper for one of thickness.
    pub scale: f64,
}

/// All that a clock shows.
#[derive(Clone, Debug)]
pub struct Clock<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Both lenses.
    pub lenses: Eyes<ClockLens>,
    /// The rings, shared with the other clocks.
    pub rings: Rings,
}

/// The outermost ring is no larger than this on paper.
const MOST_RADIUS_MM: f64 = 26.0;
/// The scales that are chosen from.
const SCALES: [f64; 9] = [20.0, 10.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0];
/// Rings are at least so far apart on paper that their numbers have room.
const LEAST_APART_MM: f64 = 3.9;
/// Room beside the outermost ring for the name of a side.
const SIDE_MM: f64 = 13.5;
/// Directions in which rings may be numbered.
const NUMBERED_DEG: [f64; 8] = [62.0, 118.0, 298.0, 242.0, 50.0, 130.0, 310.0, 230.0];

impl Rings {
    /// Rings that hold thicknesses up to this.
    #[must_use]
    pub fn holding(most_mm: f64) -> Rings {
        let fits = |scale: &f64| scale * most_mm.ceil() <= MOST_RADIUS_MM;
        let scale = SCALES.into_iter().find(fits).unwrap_or(1.0);
        let step_mm = [1.0, 2.0, 5.0].into_iter().find(|step| step * scale >= LEAST_APART_MM).unwrap_or(5.0);
        // The cast saturates.
        Rings { step_mm, count: (most_mm / step_mm).ceil().clamp(1.0, 40.0) as u32, scale }
    }

    fn radius_mm(&self) -> f64 {
        self.scale * self.step_mm * f64::from(self.count)
    }
}

/// How the rings are numbered.
const NUMBER: TextStyle = TextStyle { halo: Some(Colour::Tone(Tone::Paper)), anchor: Anchor::Middle, ..SOFT };

/// From the middle, on paper.
fn toward(deg: f64) -> Vec2 {
    let (sin, cos) = deg.to_radians().sin_cos();
    Vec2::new(cos, -sin)
}

impl Clock<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let apart = self.rings.radius_mm() + SIDE_MM;
        for (eye, lens) in self.lenses.iter() {
            let middle = Point::new(-apart * eye.nasal_sign(), 0.0);
            let mut labels = Labels::new();
            self.rings(&mut canvas, middle, lens, &mut labels);
            self.sides(&mut canvas, middle, eye, lens);
            for &text in canvas.texts() {
                labels.take(text);
            }
            self.lens(&mut canvas, middle, eye, lens, &mut labels);
        }
        let bar = Point::new(canvas.inked().x0, canvas.inked().y1 + 5.5);
        scale_bar(
            &mut canvas,
            bar,
            self.rings.scale,
            "seen from the front; the distance from the middle is the thickness",
        );
        canvas.finish("clock", self.title, self.description)
    }

    fn rings(&self, canvas: &mut Canvas, middle: Point, lens: &ClockLens, labels: &mut Labels) {
        let radius = |i: u32| self.rings.scale * self.rings.step_mm * f64::from(i);
        for i in 1..=self.rings.count {
            canvas.circle(Circle::new(middle, radius(i)), &GRID);
        }
        let arm = self.rings.radius_mm();
        for way in [Vec2::new(arm, 0.0), Vec2::new(0.0, arm)] {
            canvas.line(middle - way, middle + way, &GRID);
        }
        // Of equally free directions the first.
        let struck = self.struck(middle, lens);
        let numbers = NUMBERED_DEG.map(|deg| self.numbers(middle, deg, &struck));
        for (at, text) in numbers.into_iter().rev().max_by_key(Vec::len).unwrap_or_default() {
            labels.take(NUMBER.bounds(at, &text));
            canvas.text(at, &text, &NUMBER);
        }
    }

    /// The numbers of the rings in a direction, but for those that the edge's line or a hand would strike.
    fn numbers(&self, middle: Point, deg: f64, struck: &[Point]) -> Vec<(Point, String)> {
        let number = |i: u32| {
            let value = self.rings.step_mm * f64::from(i);
            let at = middle + self.rings.scale * value * toward(deg) + Vec2::new(0.0, NUMBER.drop_mm());
            (at, figure(value, 0))
        };
        let free = |(at, text): &(Point, String)| {
            let place = NUMBER.bounds(*at, text).inflate(0.4, 0.4);
            !struck.iter().any(|&p| place.contains(p))
        };
        (1..=self.rings.count).map(number).filter(free).collect()
    }

    /// Where the edge's line and the two hands run, a point every half millimetre or so.
    fn struck(&self, middle: Point, lens: &ClockLens) -> Vec<Point> {
        let at = |hand: &Hand| middle + self.rings.scale * hand.thickness_mm * toward(hand.deg);
        let edge: Vec<Point> = lens.round.iter().map(at).collect();
        let pieces = edge.iter().copied().zip(edge.iter().copied().cycle().skip(1));
        let hands = [&lens.thickest, &lens.thinnest].map(|hand| (middle, at(hand)));
        let points = |(from, to): (Point, Point)| {
            let steps = ((to - from).hypot() / 0.5).ceil().clamp(1.0, 200.0);
            (0..=steps as usize).map(move |i| from.lerp(to, i as f64 / steps))
        };
        pieces.chain(hands).flat_map(points).collect()
    }

    /// The four sides with the thickness there, and the eye.
    fn sides(&self, canvas: &mut Canvas, middle: Point, eye: Eye, lens: &ClockLens) {
        let out = self.rings.radius_mm() + 1.8;
        let nose = eye.nasal_sign();
        for (name, key, value, way) in
            [("nose", "nasal", lens.nasal_mm, nose), ("temple", "temporal", lens.temporal_mm, -nose)]
        {
            let at = middle + Vec2::new(out * way, 0.0);
            let anchor = if way > 0.0 { Anchor::Start } else { Anchor::End };
            canvas.text(at - Vec2::new(0.0, 0.9), name, &SOFT.anchored(anchor));
            let below = at + Vec2::new(0.0, 0.9 + font::CAP_HEIGHT * TEXT_MM);
            let figured = format!("{}.thickness.{key}_mm", eye.word());
            canvas.figure(&figured, below, &figure(value, 1), &PLAIN.anchored(anchor));
        }
        let cap = font::CAP_HEIGHT * TEXT_MM;
        for (name, value, base) in [("top", lens.top_mm, -out), ("bottom", lens.bottom_mm, out + cap)] {
            let at = middle + Vec2::new(0.0, base);
            canvas.text(at - Vec2::new(0.8, 0.0), name, &SOFT.anchored(Anchor::End));
            let figured = format!("{}.thickness.{name}_mm", eye.word());
            canvas.figure(&figured, at + Vec2::new(0.8, 0.0), &figure(value, 1), &PLAIN);
        }
        let corner = middle + Vec2::new(-out, -out);
        canvas.text(corner, eye.letter(), &PLAIN.sized(LETTER_MM).strong().anchored(Anchor::Middle));
    }

    fn lens(&self, canvas: &mut Canvas, middle: Point, eye: Eye, lens: &ClockLens, labels: &mut Labels) {
        let at = |hand: &Hand| middle + self.rings.scale * hand.thickness_mm * toward(hand.deg);
        let ring: Vec<Point> = smooth::thinned(lens.round.iter().map(at), 0.05);
        let mut curve = BezPath::new();
        smooth::append(&mut curve, &ring, smooth::NEAR_MM);
        let hands = [(lens.thickest, true, "edge_max"), (lens.thinnest, false, "edge_min")];
        for (hand, _, name) in &hands {
            canvas.length(&format!("{}.thickness.{name}_mm", eye.word()), middle, at(hand), &DIMENSION);
        }
        canvas.path(&curve, Grid::Fine, &OUTLINE);
        for (hand, _, _) in &hands {
            labels.take(Rect::from_center_size(at(hand), (2.6, 2.6)));
        }
        for (hand, full, name) in hands {
            let (text, tip) = (figure(hand.thickness_mm, 1), at(&hand));
            let style = if full { PLAIN.strong() } else { PLAIN };
            let style = TextStyle { halo: Some(Colour::Tone(Tone::Paper)), ..style.anchored(Anchor::Middle) };
            let places = (0..60_u32).map(|i| {
                let side = if i.is_multiple_of(2) { 1.0 } else { -1.0 };
                let way = toward(hand.deg + side * f64::from((i % 20).div_ceil(2)) * 11.0);
                let half = Vec2::new(0.5 * font::width_mm(&text, TEXT_MM), 0.5 * font::CAP_HEIGHT * TEXT_MM);
                let reach = 1.8 + half.x * way.x.abs() + half.y * way.y.abs() + 2.0 * f64::from(i / 20);
                tip + reach * way + Vec2::new(0.0, style.drop_mm())
            });
            if let Some(place) = labels.place(&text, &style, places) {
                canvas.figure(&format!("{}.thickness.{name}_mm", eye.word()), place, &text, &style);
            }
            svg::dot(canvas, tip, full, Tone::Ink);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rings_hold_what_they_must() {
        for most_mm in [0.9, 1.0, 2.4, 5.7, 9.1, 11.0, 17.3, 25.0] {
            let rings = Rings::holding(most_mm);
            assert!(rings.step_mm * f64::from(rings.count) >= most_mm, "{most_mm}: {rings:?}");
            assert!(rings.radius_mm() <= MOST_RADIUS_MM + 5.0, "{most_mm}: {rings:?}");
            assert!(rings.step_mm * rings.scale >= LEAST_APART_MM, "{most_mm}: {rings:?}");
        }
    }
}
