//! Dimensions as ISO 129-1 has them, scale bars and leaders.
//!
//! Units: mm on the sheet, y down. Numbers come as text: whoever draws has rounded them.

use super::font;
use super::number::figure;
use super::style::{Colour, DIMENSION, Pen, TEXT_MM, Tone};
use super::svg::{Anchor, Canvas, PLAIN, SOFT, TextStyle};
use kurbo::{Circle, Point, Rect, Vec2};

/// Length of an arrowhead.
pub const ARROW_MM: f64 = 2.2;
/// Half its width.
const ARROW_HALF_MM: f64 = 0.36;
/// Between the thing and its extension line.
const GAP_MM: f64 = 0.8;
/// How far extension lines go beyond the dimension line.
const BEYOND_MM: f64 = 1.2;
/// How far a dimension line goes on where its arrows stand outside.
const TAIL_MM: f64 = 2.0;
/// Between a number and the line under it.
pub const ABOVE_MM: f64 = 0.9;

/// Which way a dimension runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// Left to right; its line at a height.
    Across,
    /// Bottom to top; its line at a place from the left.
    Upward,
}

/// Beyond which end of a dimension its number stands where there is no room between its arrows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beyond {
    /// To the left of a length across, below an upward one.
    Low,
    /// To the right, or above.
    High,
}

/// A length between two points of the thing, measured across or upward.
#[derive(Clone, Copy, Debug)]
pub struct Dimension<'a> {
    /// One point of the thing.
    pub from: Point,
    /// The other.
    pub to: Point,
    /// Which way the length runs.
    pub run: Run,
    /// Height (across) or place from the left (upward) of the dimension line.
    pub line_at: f64,
    /// The number.
    pub text: &'a str,
    /// The figure that it is, by the name that the line and the number carry in the file; may be empty.
    pub figure: &'a str,
    /// Where the number stands if it must stand outside.
    pub beyond: Beyond,
    /// Whether lines may run behind the number, so that it wants a border that keeps them off.
    pub bordered: bool,
}

/// Draws dimensions: extension lines, arrows inside where there is room, else from outside, numbers above the lines. All
/// of a kind together, which keeps the file small.
pub fn draw_all(canvas: &mut Canvas, dimensions: &[Dimension<'_>]) {
    let ends: Vec<(Point, Point)> =
        dimensions.iter().flat_map(|d| [d.from, d.to].map(|feature| (feature, d.on_line(feature)))).collect();
    for (i, &(feature, end)) in ends.iter().enumerate() {
        if !ends.iter().enumerate().any(|(k, other)| k != i && covers(*other, (feature, end), k < i)) {
            extension(canvas, feature, end);
        }
    }
    for dimension in dimensions {
        dimension.lines(canvas);
    }
    for dimension in dimensions {
        dimension.arrows(canvas);
    }
    for dimension in dimensions {
        dimension.number(canvas);
    }
}

/// Does one extension line hold all of another from the same feature? Of two equal ones the first does.
fn covers(one: (Point, Point), other: (Point, Point), first: bool) -> bool {
    let (long, short) = (one.1 - one.0, other.1 - other.0);
    let same_way = one.0 == other.0 && long.cross(short).abs() < 1e-9 && long.dot(short) > 0.0;
    same_way && (long.hypot() > short.hypot() || first && long == short)
}

impl Dimension<'_> {
    /// The space along its line that a dimension with this number needs if it is to stand inside.
    #[must_use]
    pub fn roomy_mm(text: &str) -> f64 {
        font::width_mm(text, TEXT_MM).max(2.0 * ARROW_MM) + 1.0
    }

    /// Draws it alone.
    pub fn draw(&self, canvas: &mut Canvas) {
        draw_all(canvas, &[*self]);
    }

    fn is_roomy(&self) -> bool {
        let (low, high) = self.ends();
        (high - low).hypot() >= Dimension::roomy_mm(self.text)
    }

    fn lines(&self, canvas: &mut Canvas) {
        let (low, high) = self.ends();
        canvas.length(self.figure, low, high, &DIMENSION);
        if !self.is_roomy() {
            let shelf = TAIL_MM.max(font::width_mm(self.text, TEXT_MM) + 1.0);
            let (below, above) = match self.beyond {
                Beyond::Low => (shelf, TAIL_MM),
                Beyond::High => (TAIL_MM, shelf),
            };
            canvas.line(low, low - (ARROW_MM + below) * self.along(), &DIMENSION);
            canvas.line(high, high + (ARROW_MM + above) * self.along(), &DIMENSION);
        }
    }

    fn arrows(&self, canvas: &mut Canvas) {
        let (low, high) = self.ends();
        let outward = if self.is_roomy() { self.along() } else { -self.along() };
        arrow(canvas, low, -outward);
        arrow(canvas, high, outward);
    }

    fn number(&self, canvas: &mut Canvas) {
        let (low, high) = self.ends();
        let off = (ARROW_MM + 0.8) * self.along();
        let (at, anchor) = match (self.is_roomy(), self.beyond) {
            (true, _) => (low.midpoint(high), Anchor::Middle),
            (false, Beyond::Low) => (low - off, Anchor::End),
            (false, Beyond::High) => (high + off, Anchor::Start),
        };
        let halo = self.bordered.then_some(Colour::Tone(Tone::Paper));
        let style = TextStyle { halo, ..PLAIN.anchored(anchor) };
        match self.run {
            Run::Across => canvas.figure(self.figure, at - Vec2::new(0.0, ABOVE_MM), self.text, &style),
            Run::Upward => canvas.figure_upward(self.figure, at - Vec2::new(ABOVE_MM, 0.0), self.text, &style),
        }
    }

    fn along(&self) -> Vec2 {
        match self.run {
            Run::Across => Vec2::new(1.0, 0.0),
            Run::Upward => Vec2::new(0.0, -1.0),
        }
    }

    fn on_line(&self, feature: Point) -> Point {
        match self.run {
            Run::Across => Point::new(feature.x, self.line_at),
            Run::Upward => Point::new(self.line_at, feature.y),
        }
    }

    fn ends(&self) -> (Point, Point) {
        let (one, other) = (self.on_line(self.from), self.on_line(self.to));
        if (other - one).dot(self.along()) >= 0.0 { (one, other) } else { (other, one) }
    }
}

/// An upward length with its number lying beside its line.
#[derive(Clone, Copy, Debug)]
pub struct Rise<'a> {
    /// Place of the line from the left.
    pub x: f64,
    /// One end.
    pub from: f64,
    /// The other.
    pub to: f64,
    /// The number.
    pub text: &'a str,
    /// The figure that it is, as for a [`Dimension`].
    pub figure: &'a str,
    /// On which side of the line the number stands.
    pub beside: Beyond,
    /// What it stands on, to keep lines away from it.
    pub on: Tone,
}

impl Rise<'_> {
    /// Draws it: arrows inside where there is room, else from outside.
    pub fn draw(&self, canvas: &mut Canvas) {
        let (top, bottom) = (Point::new(self.x, self.from.min(self.to)), Point::new(self.x, self.from.max(self.to)));
        let up = Vec2::new(0.0, -1.0);
        let roomy = bottom.y - top.y >= 2.0 * ARROW_MM + 0.5;
        let outward = if roomy { up } else { -up };
        canvas.length(self.figure, bottom, top, &DIMENSION);
        if !roomy {
            canvas.line(top, top + (ARROW_MM + TAIL_MM) * up, &DIMENSION);
            canvas.line(bottom, bottom - (ARROW_MM + TAIL_MM) * up, &DIMENSION);
        }
        arrow(canvas, top, outward);
        arrow(canvas, bottom, -outward);
        let style = self.style();
        canvas.figure(self.figure, self.at(), self.text, &style);
    }

    /// Where its number comes to stand.
    #[must_use]
    pub fn number(&self) -> Rect {
        self.style().bounds(self.at(), self.text)
    }

    fn style(&self) -> TextStyle {
        let anchor = if self.beside == Beyond::High { Anchor::Start } else { Anchor::End };
        TextStyle { halo: Some(Colour::Tone(self.on)), ..PLAIN.anchored(anchor) }
    }

    fn at(&self) -> Point {
        let off = if self.beside == Beyond::High { ABOVE_MM } else { -ABOVE_MM };
        Point::new(self.x + off, 0.5 * (self.from + self.to) + PLAIN.drop_mm())
    }
}

/// An extension line from a point of the thing to a dimension line, and a little beyond.
pub fn extension(canvas: &mut Canvas, feature: Point, end: Point) {
    let run = end - feature;
    if run.hypot() > GAP_MM {
        let unit = run.normalize();
        canvas.line(feature + GAP_MM * unit, end + BEYOND_MM * unit, &DIMENSION);
    }
}

/// An arrowhead with its tip here, pointing along `toward` (a unit vector).
pub fn arrow(canvas: &mut Canvas, tip: Point, toward: Vec2) {
    let (back, side) = (tip - ARROW_MM * toward, ARROW_HALF_MM * Vec2::new(-toward.y, toward.x));
    canvas.polygon(&[tip, back + side, back - side], &Pen::filled(Colour::Tone(Tone::Soft)));
}

/// A thickness gauged between two points one above the other, as with a calliper: arrows from outside, the upper one's
/// line led up to a shelf that carries the number.
#[derive(Clone, Copy, Debug)]
pub struct Gauge<'a> {
    /// Place of the gauge line from the left.
    pub x: f64,
    /// Upper side of the thing.
    pub top: f64,
    /// Lower side of the thing.
    pub bottom: f64,
    /// Height of the shelf.
    pub shelf: f64,
    /// Middle of the number, from the left.
    pub text_x: f64,
    /// The number.
    pub text: &'a str,
    /// The figure that it is, as for a [`Dimension`].
    pub figure: &'a str,
}

impl Gauge<'_> {
    /// Width that its number takes up on the shelf.
    #[must_use]
    pub fn shelf_mm(text: &str) -> f64 {
        font::width_mm(text, TEXT_MM) + 1.0
    }

    /// Draws it.
    pub fn draw(&self, canvas: &mut Canvas) {
        let half = 0.5 * Gauge::shelf_mm(self.text);
        let up = Vec2::new(0.0, -1.0);
        let (top, bottom) = (Point::new(self.x, self.top), Point::new(self.x, self.bottom));
        canvas.length(self.figure, bottom, top, &DIMENSION);
        canvas.line(top, Point::new(self.x, self.shelf), &DIMENSION);
        canvas.line(bottom, bottom - (ARROW_MM + TAIL_MM) * up, &DIMENSION);
        canvas.line(
            Point::new(self.x.min(self.text_x - half), self.shelf),
            Point::new(self.x.max(self.text_x + half), self.shelf),
            &DIMENSION,
        );
        arrow(canvas, top, -up);
        arrow(canvas, bottom, up);
        let at = Point::new(self.text_x, self.shelf - ABOVE_MM);
        canvas.figure(self.figure, at, self.text, &PLAIN.anchored(Anchor::Middle));
    }

    /// How far it reaches below the thing.
    pub const BELOW_MM: f64 = ARROW_MM + TAIL_MM;
}

/// A line from a point of the thing, where it ends in a dot, to its label.
pub fn leader(canvas: &mut Canvas, target: Point, label: Point, text: &str, style: &TextStyle) {
    canvas.circle(Circle::new(target, 0.45), &Pen::filled(Colour::Tone(Tone::Soft)));
    canvas.line(target, label, &DIMENSION);
    let side = if label.x >= target.x { 0.6 } else { -0.6 };
    let anchor = if side > 0.0 { Anchor::Start } else { Anchor::End };
    canvas.text(label + Vec2::new(side, style.drop_mm()), text, &style.anchored(anchor));
}

/// A scale in words: "2 : 1", "1 : 2", "1 : 1".
#[must_use]
pub fn scale_words(scale: f64) -> String {
    let plain = |value: f64| figure(value, usize::from((value - value.round()).abs() > 0.05));
    if scale >= 1.0 { format!("{} : 1", plain(scale)) } else { format!("1 : {}", plain(1.0 / scale)) }
}

/// A scale bar with its caption to the right, its line through `at` (its left end): "10 mm, scale 2 : 1" and what else
/// is to be said there.
pub fn scale_bar(canvas: &mut Canvas, at: Point, scale: f64, also: &str) {
    let (length, caption) = bar(scale, also);
    let end = at + Vec2::new(length * scale, 0.0);
    canvas.line(at, end, &DIMENSION);
    for (part, tick) in [(0.0, 1.2), (0.5, 0.7), (1.0, 1.2)] {
        let foot = at.lerp(end, part);
        canvas.line(foot, foot - Vec2::new(0.0, tick), &DIMENSION);
    }
    canvas.text(end + Vec2::new(1.4, 0.6), &caption, &SOFT);
}

/// Width of a scale bar with its caption.
#[must_use]
pub fn scale_bar_mm(scale: f64, also: &str) -> f64 {
    let (length, caption) = bar(scale, also);
    length * scale + 1.4 + font::width_mm(&caption, TEXT_MM)
}

fn bar(scale: f64, also: &str) -> (f64, String) {
    let length = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0].into_iter().find(|length| length * scale >= 10.0).unwrap_or(100.0);
    let comma = if also.is_empty() { "" } else { ", " };
    (length, format!("{} mm, scale {}{comma}{also}", figure(length, 0), scale_words(scale)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::label::meet;

    #[test]
    fn scales_in_words() {
        for (scale, words) in [(1.0, "1 : 1"), (2.0, "2 : 1"), (0.5, "1 : 2"), (1.5, "1.5 : 1"), (5.0, "5 : 1")] {
            assert_eq!(scale_words(scale), words);
        }
    }

    #[test]
    fn a_number_stands_inside_where_there_is_room() {
        let mut canvas = Canvas::new(100.0, 100.0);
        let mut drawn = |to: f64| {
            let (from, to) = (Point::new(10.0, 50.0), Point::new(to, 50.0));
            Dimension {
                from,
                to,
                run: Run::Across,
                line_at: 60.0,
                text: "12.3",
                figure: "",
                beyond: Beyond::High,
                bordered: false,
            }
            .draw(&mut canvas);
            canvas.texts().last().map(|text| text.center().x)
        };
        let wide = drawn(40.0).expect("a number");
        assert!((wide - 25.0).abs() < 1e-9, "{wide}");
        let narrow = drawn(12.0).expect("a number");
        assert!(narrow > 12.0 + ARROW_MM, "{narrow}");
    }

    #[test]
    fn an_upward_number_reads_from_the_right() {
        let mut canvas = Canvas::new(100.0, 100.0);
        let (from, to) = (Point::new(50.0, 80.0), Point::new(50.0, 20.0));
        Dimension {
            from,
            to,
            run: Run::Upward,
            line_at: 60.0,
            text: "60.0",
            figure: "",
            beyond: Beyond::High,
            bordered: false,
        }
        .draw(&mut canvas);
        let text = canvas.texts()[0];
        assert!(text.x1 < 60.0 && (text.center().y - 50.0).abs() < 1e-9, "{text:?}");
        assert!(text.height() > text.width());
    }

    #[test]
    fn gauges_side_by_side_do_not_meet() {
        let mut canvas = Canvas::new(100.0, 100.0);
        for text_x in [20.0, 20.0 + Gauge::shelf_mm("5.4")] {
            Gauge { x: 22.0, top: 40.0, bottom: 45.0, shelf: 20.0, text_x, text: "5.4", figure: "" }.draw(&mut canvas);
        }
        assert!(!meet(canvas.texts()[0], canvas.texts()[1]));
    }
}
