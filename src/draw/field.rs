//! Contours of a quantity over two others that vary: bands and lines over a frame with two axes, a key beside it.
//!
//! Units: mm on the sheet; the quantities are in whatever their labels say. Between the points of the grid the quantity is
//! taken as straight; where one of the four points round a place has none, the place stays white.

use super::chart::Axis;
use super::contours::{self, Field, Scale};
use super::font;
use super::label::Labels;
use super::number::figure;
use super::picture::Picture;
use super::style::{self, Colour, DIMENSION, OUTLINE, Pen, TEXT_MM, Tone};
use super::svg::{self, Anchor, Canvas, PLAIN, SOFT, TextStyle, View};
use kurbo::{Point, Rect, Shape as _, Vec2};

/// A point worth a word.
#[derive(Clone, Debug)]
pub struct Spot {
    /// Where along x.
    pub x: f64,
    /// Where along y.
    pub y: f64,
    /// How much there.
    pub value: f64,
    /// The word.
    pub text: String,
}

/// A quantity over two others.
#[derive(Clone, Debug)]
pub struct FieldChart {
    /// What it shows, of what.
    pub title: String,
    /// The finding in words.
    pub description: String,
    /// What runs along x, with its unit.
    pub x_label: String,
    /// What runs along y, with its unit.
    pub y_label: String,
    /// The quantity, with its unit.
    pub label: String,
    /// Rising, two or more.
    pub xs: Vec<f64>,
    /// Rising, two or more.
    pub ys: Vec<f64>,
    /// For each of `ys` the quantity at each of `xs`; `None` where there is none.
    pub values: Vec<Vec<Option<f64>>>,
    /// What the dot and white places mean; may be empty.
    pub legend: String,
    /// A point worth a word.
    pub spot: Option<Spot>,
    /// Width of the picture.
    pub width_mm: f64,
    /// Height of the picture.
    pub height_mm: f64,
}

const MARGIN_MM: f64 = 2.0;
const ROW_MM: f64 = 1.7 * TEXT_MM;
/// Width of the bands in the key.
const KEY_MM: f64 = 5.0;
/// Between the frame and the key, and between the key and its numbers.
const TO_KEY_MM: f64 = 4.0;
const TO_NUMBER_MM: f64 = 1.4;
/// What is white goes so far over the bands beside it, so that no line shines through between two.
const OVER_MM: f64 = 0.1;

impl FieldChart {
    /// Draws it, as the picture of this kind (`chart-…`).
    #[must_use]
    pub fn draw(&self, kind: &'static str) -> Picture {
        let mut canvas = Canvas::new(self.width_mm, self.height_mm);
        let some = || self.values.iter().flatten().flatten().copied();
        let (low, high) = (some().fold(f64::INFINITY, f64::min), some().fold(f64::NEG_INFINITY, f64::max));
        let levels = Scale::covering(low, high);
        let frame = self.frame(&levels);
        let (x, y) = (axis(&self.xs, frame.width() / 14.0), axis(&self.ys, frame.height() / 9.0));
        let at = |p: (f64, f64)| {
            Point::new(frame.x0 + x.share(p.0) * frame.width(), frame.y1 - y.share(p.1) * frame.height())
        };
        self.name_axes(&mut canvas, frame);
        ticks(&mut canvas, frame, &x, &y, &at);
        let missing = self.missing(&at);
        let mut labels = Labels::new();
        for place in &missing {
            labels.take(*place);
        }
        let spot = self.spot.as_ref().map(|spot| (at((spot.x, spot.y)), spot));
        let named = spot.and_then(|(point, spot)| name(&mut labels, frame, &levels, point, spot));
        self.bands(&mut canvas, frame, &levels, &mut labels);
        let paper = Pen::filled(Colour::Tone(Tone::Paper));
        for place in &missing {
            canvas.rect(place.inflate(OVER_MM, OVER_MM).intersect(frame), &paper);
        }
        canvas.rect(frame, &Pen { width_mm: style::NARROW_MM, ..OUTLINE });
        if let Some((point, _)) = spot {
            svg::dot(&mut canvas, point, true, Tone::Ink);
        }
        if let Some((place, text, style)) = named {
            canvas.text(place, text, &style);
        }
        self.key(&mut canvas, frame, &levels);
        canvas.finish(kind, &self.title, &self.description)
    }

    /// Where the bands go.
    fn frame(&self, levels: &Scale) -> Rect {
        let number = numbers(levels).map(|text| font::width_mm(&text, TEXT_MM)).fold(0.0, f64::max);
        let left = MARGIN_MM + font::width_mm("−00.00", TEXT_MM) + 2.0;
        let right = self.width_mm - MARGIN_MM - number - TO_NUMBER_MM - KEY_MM - TO_KEY_MM;
        let rows = if self.legend.is_empty() { 2.0 } else { 3.0 };
        let bottom = self.height_mm - MARGIN_MM - rows * ROW_MM;
        Rect::new(left, MARGIN_MM + 1.2 * ROW_MM, right.max(left + 20.0), bottom.max(MARGIN_MM + ROW_MM + 20.0))
    }

    fn name_axes(&self, canvas: &mut Canvas, frame: Rect) {
        let top = MARGIN_MM + font::CAP_HEIGHT * TEXT_MM;
        canvas.text(Point::new(MARGIN_MM, top), &self.y_label, &SOFT);
        let right = Point::new(self.width_mm - MARGIN_MM, top);
        canvas.text(right, &self.label, &PLAIN.anchored(Anchor::End));
        let base = frame.y1 + 2.0 * ROW_MM - font::DESCENT * TEXT_MM;
        canvas.text(Point::new(frame.center().x, base), &self.x_label, &SOFT.anchored(Anchor::Middle));
        if !self.legend.is_empty() {
            let base = self.height_mm - MARGIN_MM - font::DESCENT * TEXT_MM;
            canvas.text(Point::new(frame.center().x, base), &self.legend, &SOFT.anchored(Anchor::Middle));
        }
    }

    fn bands(&self, canvas: &mut Canvas, frame: Rect, levels: &Scale, labels: &mut Labels) {
        let outline = Rect::new(0.0, 0.0, frame.width(), frame.height()).to_path(0.01);
        let value = |across: f64, up: f64| {
            let along = |values: &[f64], share: f64| values[0] + share * (values[values.len() - 1] - values[0]);
            self.between(along(&self.xs, across / frame.width()), along(&self.ys, up / frame.height()))
        };
        let view = View { origin: Point::new(frame.x0, frame.y1), scale: 1.0 };
        contours::draw(canvas, &view, &Field { outline: &outline, value: &value }, levels, labels);
    }

    /// The quantity at a place, straight between the four points round it.
    fn between(&self, x: f64, y: f64) -> Option<f64> {
        let (i, u) = cell(&self.xs, x)?;
        let (j, v) = cell(&self.ys, y)?;
        let value = |i: usize, j: usize| *self.values.get(j)?.get(i)?;
        let (below, above) = ((value(i, j)?, value(i + 1, j)?), (value(i, j + 1)?, value(i + 1, j + 1)?));
        let across = |(a, b): (f64, f64)| a + u * (b - a);
        Some(across(below) + v * (across(above) - across(below)))
    }

    /// The cells that have no value, those beside each other as one.
    fn missing(&self, at: &dyn Fn((f64, f64)) -> Point) -> Vec<Rect> {
        let mut places: Vec<Rect> = Vec::new();
        for (j, y) in self.ys.windows(2).enumerate() {
            let none = |i: usize| {
                let value = |i: usize, j: usize| self.values.get(j).and_then(|row| row.get(i).copied().flatten());
                [value(i, j), value(i + 1, j), value(i, j + 1), value(i + 1, j + 1)].iter().any(Option::is_none)
            };
            let mut i = 0;
            while i + 1 < self.xs.len() {
                let from = i;
                while i + 1 < self.xs.len() && none(i) {
                    i += 1;
                }
                if i > from {
                    places.push(Rect::from_points(at((self.xs[from], y[0])), at((self.xs[i], y[1]))));
                }
                i += 1;
            }
        }
        places
    }

    fn key(&self, canvas: &mut Canvas, frame: Rect, levels: &Scale) {
        let (left, bands) = (frame.x1 + TO_KEY_MM, levels.bands() as f64);
        let height = |i: usize| frame.y1 - frame.height() * i as f64 / bands;
        for i in 0..levels.bands() {
            let band = Rect::new(left, height(i + 1), left + KEY_MM, height(i));
            canvas.rect(band, &Pen::filled(Colour::Fixed(levels.rgb(i))));
        }
        canvas.rect(Rect::new(left, frame.y0, left + KEY_MM, frame.y1), &DIMENSION);
        // Where bands are lower than a line of text, every second limit is numbered.
        let every = (1.3 * TEXT_MM / (frame.height() / bands)).ceil().max(1.0) as usize;
        for (i, text) in numbers(levels).enumerate().filter(|(i, _)| i % every == 0) {
            let place = Point::new(left + KEY_MM + TO_NUMBER_MM, height(i) + PLAIN.drop_mm());
            canvas.line(Point::new(left + KEY_MM, height(i)), Point::new(left + KEY_MM + 0.8, height(i)), &DIMENSION);
            canvas.text(place, &text, &PLAIN);
        }
    }
}

fn axis(values: &[f64], count: f64) -> Axis {
    let (low, high) = (values.first().copied().unwrap_or(0.0), values.last().copied().unwrap_or(1.0));
    // The cast saturates.
    Axis::over(low, high, count as usize, false)
}

/// The limits of the bands, from the lowest.
fn numbers(levels: &Scale) -> impl Iterator<Item = String> + '_ {
    let limit = |i: usize| if i == 0 { levels.band(0).0 } else { levels.band(i - 1).1 };
    (0..=levels.bands()).map(move |i| figure(limit(i), 1))
}

fn ticks(canvas: &mut Canvas, frame: Rect, x: &Axis, y: &Axis, at: &dyn Fn((f64, f64)) -> Point) {
    for &value in &x.ticks {
        let point = Point::new(at((value, 0.0)).x, frame.y1);
        canvas.line(point, point + Vec2::new(0.0, 1.0), &DIMENSION);
        let base = point + Vec2::new(0.0, 2.2 + font::CAP_HEIGHT * TEXT_MM);
        canvas.text(base, &figure(value, x.decimals), &SOFT.anchored(Anchor::Middle));
    }
    for &value in &y.ticks {
        let point = Point::new(frame.x0, at((0.0, value)).y);
        canvas.line(point, point - Vec2::new(1.0, 0.0), &DIMENSION);
        let base = point + Vec2::new(-1.8, SOFT.drop_mm());
        canvas.text(base, &figure(value, y.decimals), &SOFT.anchored(Anchor::End));
    }
}

/// Where a value lies among rising ones: the one below it, and the share of the way to the next.
fn cell(values: &[f64], value: f64) -> Option<(usize, f64)> {
    let span = values.last()? - values.first()?;
    let value = value.clamp(*values.first()?, *values.last()?);
    let next = values.iter().position(|&there| there >= value - 1e-12 * span)?.max(1);
    let (low, high) = (values[next - 1], *values.get(next)?);
    Some((next - 1, ((value - low) / (high - low)).clamp(0.0, 1.0)))
}

/// Where the word at a point goes, on a patch of the map's colour.
fn name<'s>(
    labels: &mut Labels,
    frame: Rect,
    levels: &Scale,
    point: Point,
    spot: &'s Spot,
) -> Option<(Point, &'s str, TextStyle)> {
    labels.take(Rect::from_center_size(point, (2.2, 2.2)));
    let band = levels.rgb(levels.band_of(spot.value));
    let style = TextStyle { halo: Some(Colour::Fixed(band)), ..PLAIN.coloured(Colour::Fixed(style::on(band))) };
    let width = font::width_mm(&spot.text, TEXT_MM);
    let places =
        [(2.0, 1.1), (-2.0 - width, 1.1), (-0.5 * width, -2.2), (-0.5 * width, 4.6), (2.0, 4.6), (-2.0 - width, 4.6)];
    let places = places.map(|(x, y)| point + Vec2::new(x, y));
    let inside = places.into_iter().filter(|&p| frame.inset(-0.6).contains_rect(style.bounds(p, &spot.text)));
    let place = labels.place(&spot.text, &style, inside.collect::<Vec<Point>>())?;
    Some((place, &spot.text, style))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chart(value: impl Fn(f64, f64) -> Option<f64>) -> FieldChart {
        let (xs, ys): (Vec<f64>, Vec<f64>) = ((40..=56).map(f64::from).collect(), (14..=22).map(f64::from).collect());
        FieldChart {
            title: "A quantity".to_owned(),
            description: "It rises.".to_owned(),
            x_label: "x, mm".to_owned(),
            y_label: "y, mm".to_owned(),
            label: "quantity, mm".to_owned(),
            values: ys.iter().map(|&y| xs.iter().map(|&x| value(x, y)).collect()).collect(),
            legend: "White: none.".to_owned(),
            spot: Some(Spot { x: 48.0, y: 18.0, value: 6.0, text: "here".to_owned() }),
            xs,
            ys,
            width_mm: 120.0,
            height_mm: 80.0,
        }
    }

    #[test]
    fn a_plane_is_itself_between_its_points() {
        let plane = |x: f64, y: f64| Some(0.1 * x + 0.3 * y);
        let chart = chart(plane);
        for (x, y) in [(40.0, 14.0), (47.3, 15.9), (56.0, 22.0), (55.99, 14.01)] {
            let (ours, wanted) = (chart.between(x, y).expect("inside"), 0.1 * x + 0.3 * y);
            assert!((ours - wanted).abs() < 1e-12, "{ours} for {wanted}");
        }
    }

    #[test]
    fn what_has_no_value_is_white_and_said() {
        let chart = chart(|x, y| (x + y < 70.0).then_some(0.1 * x));
        assert!(chart.between(55.5, 21.5).is_none() && chart.between(45.5, 15.5).is_some());
        let places = chart.missing(&|(x, y)| Point::new(x, -y));
        // In every row of cells the last ones: x + y of the far corner is 70 or more.
        let cells: f64 = places.iter().map(Rect::width).sum();
        let wanted = (14..22).map(|y| (40..56).filter(|x| x + y + 2 >= 70).count()).sum::<usize>();
        assert_eq!(cells.round() as usize, wanted);
        assert!(chart.draw("chart-test").to_file().contains("White: none."));
    }
}
