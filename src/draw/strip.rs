//! How sure a number is: one bar for each doubt about the value planned, and one for all together, on one scale.
//!
//! Units: mm on the sheet; the value and its changes are in whatever the label says, all in one unit.

use super::chart::Axis;
use super::font;
use super::number::figure;
use super::picture::Picture;
use super::style::{DIMENSION, Dash, GRID, Pen, TEXT_MM, Tone};
use super::svg::{Anchor, Canvas, Grid, PLAIN, SOFT};
use kurbo::{Point, Rect};

/// What one doubt may change.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// What is in doubt.
    pub name: String,
    /// The least and the most that it adds.
    pub change: [f64; 2],
    /// The same in figures; nothing is written where a text is empty.
    pub texts: [String; 2],
    /// Is it that of all doubts together?
    pub whole: bool,
}

/// A value and its bars.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// What it shows, of what.
    pub title: String,
    /// The finding in words.
    pub description: String,
    /// What runs along, with its unit.
    pub label: String,
    /// The value as planned.
    pub planned: f64,
    /// The bars, from above.
    pub bars: Vec<Bar>,
    /// Width of the picture.
    pub width_mm: f64,
}

const MARGIN_MM: f64 = 2.0;
/// From bar to bar, and how thick one is.
const PITCH_MM: f64 = 5.6;
const BAR_MM: f64 = 2.4;
/// Of the row with the value planned, of the one with ticks, and of the one with the label.
const HEAD_MM: f64 = 5.4;
const TICKS_MM: f64 = 5.4;
const LABEL_MM: f64 = 4.6;
/// Between names and scale, and between a bar and its figure.
const APART_MM: f64 = 4.0;
const TO_FIGURE_MM: f64 = 1.0;
/// The scale reaches at least this far to both sides.
const LEAST_REACH: f64 = 0.5;

impl Strip {
    /// Draws it.
    #[must_use]
    pub fn draw(&self, kind: &'static str) -> Picture {
        let height = 2.0 * MARGIN_MM + HEAD_MM + PITCH_MM * self.bars.len() as f64 + TICKS_MM + LABEL_MM;
        let mut canvas = Canvas::new(self.width_mm, height);
        let names = self.bars.iter().map(|bar| font::width_mm(&bar.name, TEXT_MM)).fold(0.0, f64::max);
        // Figures stand outside the bars.
        let figures = self.bars.iter().flat_map(|bar| &bar.texts).map(|text| font::width_mm(text, TEXT_MM));
        let room = figures.fold(0.0, f64::max) + TO_FIGURE_MM;
        let left = MARGIN_MM + names + APART_MM + room;
        let right = (self.width_mm - MARGIN_MM - room).max(left + 10.0);
        let reach = self.bars.iter().flat_map(|bar| bar.change).fold(LEAST_REACH, |most, by| most.max(by.abs()));
        let axis = Axis::over(self.planned - reach, self.planned + reach, ((right - left) / 9.0) as usize, false);
        let x = |value: f64| left + axis.share(value) * (right - left);
        let top = MARGIN_MM + HEAD_MM;
        let foot = top + PITCH_MM * self.bars.len() as f64;
        self.scale(&mut canvas, &axis, (left, right), (top, foot), &x);
        for (i, bar) in self.bars.iter().enumerate() {
            bar.draw(&mut canvas, top + PITCH_MM * (i as f64 + 0.5), &|change| x(self.planned + change));
        }
        let planned = [Point::new(x(self.planned), top - 0.6), Point::new(x(self.planned), foot)];
        canvas.polyline(&planned, Grid::Fine, &Pen::line(Tone::Ink, 0.35));
        let head = Point::new(x(self.planned), MARGIN_MM + font::CAP_HEIGHT * TEXT_MM);
        canvas.text(head, &figure(self.planned, 1), &PLAIN.strong().anchored(Anchor::Middle));
        canvas.finish(kind, &self.title, &self.description)
    }

    fn scale(
        &self,
        canvas: &mut Canvas,
        axis: &Axis,
        (left, right): (f64, f64),
        (top, foot): (f64, f64),
        x: &dyn Fn(f64) -> f64,
    ) {
        for &tick in &axis.ticks {
            canvas.line(Point::new(x(tick), top), Point::new(x(tick), foot), &GRID);
        }
        canvas.line(Point::new(left, foot), Point::new(right, foot), &DIMENSION.dashed(Dash::Solid));
        for &tick in &axis.ticks {
            let below = Point::new(x(tick), foot + 1.4 + font::CAP_HEIGHT * TEXT_MM);
            canvas.text(below, &figure(tick, axis.decimals), &SOFT.anchored(Anchor::Middle));
        }
        let label = Point::new(0.5 * (left + right), foot + TICKS_MM + LABEL_MM - font::DESCENT * TEXT_MM);
        canvas.text(label, &self.label, &SOFT.anchored(Anchor::Middle));
    }
}

impl Bar {
    fn draw(&self, canvas: &mut Canvas, middle: f64, x: &dyn Fn(f64) -> f64) {
        let style = if self.whole { PLAIN.coloured(Tone::Accent).strong() } else { PLAIN };
        let baseline = middle + style.drop_mm();
        let [low, high] = self.change.map(x);
        let tone = if self.whole { Tone::Accent } else { Tone::Soft };
        // What changes nothing is still seen.
        let (from, to) = (low.min(high - 0.3), high.max(low + 0.3));
        canvas.rect(Rect::new(from, middle - 0.5 * BAR_MM, to, middle + 0.5 * BAR_MM), &Pen::filled(tone.into()));
        canvas.text(Point::new(MARGIN_MM, baseline), &self.name, &style);
        let [less, more] = &self.texts;
        if !less.is_empty() {
            canvas.text(Point::new(from - TO_FIGURE_MM, baseline), less, &style.anchored(Anchor::End));
        }
        if !more.is_empty() {
            canvas.text(Point::new(to + TO_FIGURE_MM, baseline), more, &style);
        }
    }
}
