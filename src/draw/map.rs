//! Thickness map of one lens in its outline, as the observer facing the wearer sees it; and the key that maps share.
//!
//! Units: mm, from the boxed centre, x to the observer's right, y up. Thickness is parallel to z.

use super::contours::{self, Field, Scale};
use super::dimension;
use super::font;
use super::label::Labels;
use super::number::figure;
use super::picture::Picture;
use super::style::{self, Colour, LETTER_MM, OUTLINE, Pen, Rgb, TEXT_MM, Tone};
use super::svg::{self, Anchor, Canvas, PLAIN, SOFT, TextStyle, View};
use crate::eye::Eye;
use crate::outline::{Density, Outline};
use kurbo::{Circle, Point, Rect, Vec2};

/// A point of the edge and how thick the lens is there.
#[derive(Clone, Copy, Debug)]
pub struct EdgePoint {
    /// Where, from the boxed centre.
    pub x: f64,
    /// Where, from the boxed centre.
    pub y: f64,
    /// Thickness there.
    pub thickness_mm: f64,
}

/// All that a thickness map shows.
pub struct ThicknessMap<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Which eye.
    pub eye: Eye,
    /// The outline.
    pub outline: &'a Outline,
    /// Thickness at a point from the boxed centre; asked up to 2 mm outside of the outline's box, where it need not be
    /// known.
    pub thickness: &'a dyn Fn(f64, f64) -> Option<f64>,
    /// The reference point from the boxed centre.
    pub reference: (f64, f64),
    /// The thickest point of the edge.
    pub thickest: EdgePoint,
    /// The thinnest point of the edge.
    pub thinnest: EdgePoint,
    /// The levels, shared with the other maps.
    pub levels: &'a Scale,
    /// Millimetres on paper for one of the lens.
    pub scale: f64,
}

/// Room for a number beside the outline.
const SIDE_MM: f64 = 10.0;
/// Room for a number above it.
const TOP_MM: f64 = 5.0;
/// Pitch of the rows below.
const ROW_MM: f64 = 1.6 * TEXT_MM;
/// Space at the rim of the sheet.
const MARGIN_MM: f64 = 2.0;
/// Between the outline's edge and the middle of a mark's number, besides half of the number.
const OFF_MM: f64 = 1.8;

/// The number at a mark, and where it stands.
struct Number {
    place: Point,
    text: String,
    style: TextStyle,
}

impl ThicknessMap<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let size = self.scale * Vec2::new(self.outline.width_mm(), self.outline.depth_mm());
        let width = (size.x + 2.0 * SIDE_MM).max(self.key_mm() + 2.0 * MARGIN_MM).max(self.row_mm() + 2.0 * MARGIN_MM);
        let below = TOP_MM + size.y;
        let mut canvas = Canvas::new(width, below + 2.0 * ROW_MM + 0.6 + MARGIN_MM);
        let view = View { origin: Point::new(0.5 * width, TOP_MM + 0.5 * size.y), scale: self.scale };
        let mut labels = Labels::new();
        self.sides(&mut canvas, width, below + ROW_MM, &mut labels);
        let bar = Point::new(0.5 * (width - self.bar_mm()), below + ROW_MM);
        labels.take(Rect::from_points(bar - Vec2::new(1.0, ROW_MM), bar + Vec2::new(self.bar_mm() + 1.0, 0.6)));
        // The two numbers that matter take their places before the contours' numbers do.
        let extremes = self.extremes(canvas.size_mm(), &view, &mut labels);
        self.lens(&mut canvas, &view, &mut labels);
        for (at, full, number) in extremes {
            if let Some(Number { place, text, style }) = number {
                canvas.text(place, &text, &style);
            }
            svg::dot(&mut canvas, at, full, Tone::Ink);
        }
        dimension::scale_bar(&mut canvas, bar, self.scale, "");
        self.key(&mut canvas, Point::new(MARGIN_MM, below + 2.0 * ROW_MM));
        canvas.finish("map", self.title, self.description)
    }

    /// R or L, and where nose and temple are.
    fn sides(&self, canvas: &mut Canvas, width: f64, base: f64, labels: &mut Labels) {
        let letter = PLAIN.sized(LETTER_MM).strong();
        let at = Point::new(MARGIN_MM, MARGIN_MM + font::CAP_HEIGHT * LETTER_MM);
        canvas.text(at, self.eye.letter(), &letter);
        labels.take(letter.bounds(at, self.eye.letter()));
        let [left, right] = self.side_texts();
        for (text, x, anchor) in [(left, MARGIN_MM, Anchor::Start), (right, width - MARGIN_MM, Anchor::End)] {
            let style = SOFT.anchored(anchor);
            canvas.text(Point::new(x, base), text, &style);
            labels.take(style.bounds(Point::new(x, base), text));
        }
    }

    fn lens(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        let outline = self.outline.curve().path(0.001);
        let reference = view.at(self.reference.0, self.reference.1);
        let centre = view.at(0.0, 0.0);
        labels.take(Rect::from_center_size(reference, (5.0, 5.0)));
        labels.take(Rect::from_center_size(centre, (2.0, 2.0)));
        let field = Field { outline: &outline, value: self.thickness };
        let drawn = contours::draw(canvas, view, &field, self.levels, labels);
        canvas.again(drawn, &OUTLINE);
        boxed_centre(canvas, centre, self.colour_at(0.0, 0.0));
        reference_point(canvas, reference, self.colour_at(self.reference.0, self.reference.1));
    }

    /// What stands out on the map at a point; outside of the outline too.
    fn colour_at(&self, x: f64, y: f64) -> Colour {
        if self.outline.depth_inside_mm(kurbo::Vec2::new(x, y)) < 0.0 {
            return Colour::Tone(Tone::Ink);
        }
        let band: Rgb = (self.thickness)(x, y).map_or([255; 3], |t| self.levels.rgb(self.levels.band_of(t)));
        Colour::Fixed(style::on(band))
    }

    /// Thickest and thinnest: where the mark goes, whether it is full, and its number.
    fn extremes(&self, sheet: Vec2, view: &View, labels: &mut Labels) -> [(Point, bool, Option<Number>); 2] {
        let edge: Vec<Point> =
            self.outline.nodes(Density::Fine).iter().map(|node| view.at(node.jet.p.x, node.jet.p.y)).collect();
        for point in [self.thickest, self.thinnest] {
            labels.take(Rect::from_center_size(view.at(point.x, point.y), (2.2, 2.2)));
        }
        [(self.thickest, true), (self.thinnest, false)].map(|(point, full)| {
            let at = view.at(point.x, point.y);
            let number =
                self.number(&point, full, Rect::from_origin_size(Point::ORIGIN, sheet.to_size()), view, &edge, labels);
            (at, full, number)
        })
    }

    /// The number at a mark: outside as near as there is room, else inside on a patch of the map's colour.
    fn number(
        &self,
        point: &EdgePoint,
        full: bool,
        sheet: Rect,
        view: &View,
        edge: &[Point],
        labels: &mut Labels,
    ) -> Option<Number> {
        let at = view.at(point.x, point.y);
        let text = figure(point.thickness_mm, 1);
        let plain = if full { PLAIN.strong() } else { PLAIN }.anchored(Anchor::Middle);
        let half = 0.5 * Vec2::new(font::width_mm(&text, TEXT_MM), font::CAP_HEIGHT * TEXT_MM);
        let outward = (at - view.origin).atan2();
        let is_inside = |place: Rect| {
            let from_centre = (place.center() - view.origin) / view.scale;
            self.outline.depth_inside_mm(Vec2::new(from_centre.x, -from_centre.y)) > 0.0
        };
        let clear = |place: Rect, inside: bool| {
            let free = sheet.contains_rect(place) && !edge.iter().any(|&p| place.inflate(0.5, 0.5).contains(p));
            free && is_inside(place) == inside
        };
        let band = self.levels.rgb(self.levels.band_of(point.thickness_mm));
        let patch = TextStyle { halo: Some(Colour::Fixed(band)), ..plain.coloured(Colour::Fixed(style::on(band))) };
        // Outside and then inside; farther off only where nearer is taken.
        let rounds = [(0.0, 1.0, plain), (2.5, 1.0, plain), (0.0, -1.0, patch), (2.5, -1.0, patch)];
        rounds.into_iter().find_map(|(farther, side, style)| {
            let places = (0..24).map(|i| {
                // Straight out first, then turning away to both sides in turn.
                let turn = f64::from((i + 1) / 2) * 0.13 * if i % 2 == 0 { 1.0 } else { -1.0 };
                let toward = Vec2::from_angle(outward + turn) * side;
                let reach = OFF_MM + farther + half.x * toward.x.abs() + half.y * toward.y.abs();
                at + reach * toward + Vec2::new(0.0, half.y)
            });
            let places: Vec<Point> = places.filter(|&p| clear(style.bounds(p, &text), side < 0.0)).collect();
            labels.place(&text, &style, places).map(|place| Number { place, text: text.clone(), style })
        })
    }

    fn key_texts(&self) -> [String; 2] {
        [
            format!("thickest edge {}", figure(self.thickest.thickness_mm, 1)),
            format!("thinnest edge {}", figure(self.thinnest.thickness_mm, 1)),
        ]
    }

    fn key_mm(&self) -> f64 {
        self.key_texts().iter().map(|text| KEY_MARK_MM + font::width_mm(text, TEXT_MM)).sum::<f64>() + KEY_APART_MM
    }

    fn side_texts(&self) -> [&'static str; 2] {
        match self.eye {
            Eye::Right => ["← temple", "nose →"],
            Eye::Left => ["← nose", "temple →"],
        }
    }

    /// The scale bar between the names of the sides.
    fn row_mm(&self) -> f64 {
        let widest = self.side_texts().iter().map(|text| font::width_mm(text, TEXT_MM)).fold(0.0, f64::max);
        self.bar_mm() + 2.0 * (widest + 2.0)
    }

    fn bar_mm(&self) -> f64 {
        dimension::scale_bar_mm(self.scale, "")
    }

    fn key(&self, canvas: &mut Canvas, mut at: Point) {
        for (text, full) in self.key_texts().iter().zip([true, false]) {
            let mark = at + Vec2::new(0.9, -PLAIN.drop_mm());
            svg::dot(canvas, mark, full, Tone::Ink);
            at.x += KEY_MARK_MM;
            canvas.text(at, text, &PLAIN);
            at.x += font::width_mm(text, TEXT_MM) + KEY_APART_MM;
        }
    }
}

/// Between the left end of a mark in a key and its word.
const KEY_MARK_MM: f64 = 2.9;
/// Between two words of a key.
const KEY_APART_MM: f64 = 4.5;

/// The mark of the reference point: a cross in a ring.
pub fn reference_point(canvas: &mut Canvas, at: Point, colour: Colour) {
    let pen = Pen { stroke: Some(colour), ..Pen::line(Tone::Ink, 0.3) };
    svg::cross(canvas, at, 2.2, &pen);
    canvas.circle(Circle::new(at, 1.1), &pen);
}

/// The mark of the boxed centre: a small plus.
pub fn boxed_centre(canvas: &mut Canvas, at: Point, colour: Colour) {
    svg::cross(canvas, at, 0.8, &Pen { stroke: Some(colour), ..Pen::line(Tone::Ink, 0.25) });
}

/// Width of a band in the key.
const BAND_MM: f64 = 9.0;
/// Height of the bands in the key.
const STRIP_MM: f64 = 4.5;

/// The key that maps of these levels share: bands with their limits, and the marks.
#[must_use]
pub fn legend(levels: &Scale) -> Picture {
    let marks = ["thickest edge", "thinnest edge", "reference point", "boxed centre"];
    let row: f64 = marks.iter().map(|text| 5.2 + font::width_mm(text, TEXT_MM) + KEY_APART_MM).sum();
    let left = MARGIN_MM + 3.0;
    let strip = BAND_MM * levels.bands() as f64;
    let width = (left + strip + 5.0).max(row + 2.0 * MARGIN_MM);
    let mut canvas = Canvas::new(width, MARGIN_MM + 3.6 * ROW_MM + STRIP_MM);
    canvas.text(Point::new(MARGIN_MM, MARGIN_MM + font::CAP_HEIGHT * TEXT_MM), "Thickness, mm: dark is thick", &PLAIN);
    let top = MARGIN_MM + font::CAP_HEIGHT * TEXT_MM + 2.2;
    for i in 0..levels.bands() {
        let x = left + BAND_MM * i as f64;
        let fill = Pen::filled(Colour::Fixed(levels.rgb(i)));
        canvas.rect(Rect::new(x, top, x + BAND_MM, top + STRIP_MM), &fill);
    }
    canvas.rect(Rect::new(left, top, left + strip, top + STRIP_MM), &style::DIMENSION);
    let base = top + STRIP_MM + font::CAP_HEIGHT * TEXT_MM + 1.6;
    for i in 0..=levels.bands() {
        let value = if i == 0 { levels.band(0).0 } else { levels.band(i - 1).1 };
        let x = left + BAND_MM * i as f64;
        canvas.line(Point::new(x, top + STRIP_MM), Point::new(x, top + STRIP_MM + 1.0), &style::DIMENSION);
        canvas.text(Point::new(x, base), &figure(value, 1), &PLAIN.anchored(Anchor::Middle));
    }
    let mut at = Point::new(MARGIN_MM, base + 1.5 * ROW_MM);
    for (i, text) in marks.iter().enumerate() {
        let mark = at + Vec2::new(2.3, -PLAIN.drop_mm());
        match i {
            0 => svg::dot(&mut canvas, mark, true, Tone::Ink),
            1 => svg::dot(&mut canvas, mark, false, Tone::Ink),
            2 => reference_point(&mut canvas, mark, Tone::Ink.into()),
            _ => boxed_centre(&mut canvas, mark, Tone::Ink.into()),
        }
        at.x += 5.2;
        canvas.text(at, text, &PLAIN);
        at.x += font::width_mm(text, TEXT_MM) + KEY_APART_MM;
    }
    let description = format!(
        "Bands of {} mm from {} to {} mm; the darker, the thicker.",
        figure(levels.band(0).1 - levels.band(0).0, 1),
        figure(levels.band(0).0, 1),
        figure(levels.band(levels.bands() - 1).1, 1)
    );
    canvas.finish("key", "Key of the thickness maps", &description)
}
