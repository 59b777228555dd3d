//! Bars side by side: one quantity of many things, each named before its bar and with its number behind it.
//!
//! Units: mm on the sheet; the quantity is in whatever the title says. Bars begin at nought and share one scale.

use super::font;
use super::picture::Picture;
use super::style::{Pen, TEXT_MM, Tone};
use super::svg::{Anchor, Canvas, MARGIN_MM, PLAIN, SOFT};
use kurbo::{Point, Rect};

/// One bar.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// What it is of.
    pub name: String,
    /// How much: nought or more.
    pub value: f64,
    /// The same in figures, as it is written behind the bar.
    pub text: String,
}

/// Bars, one below the other.
#[derive(Clone, Debug)]
pub struct BarChart {
    /// What it shows, of what.
    pub title: String,
    /// The finding in words.
    pub description: String,
    /// What is counted or weighed, with its unit.
    pub label: String,
    /// From the top down.
    pub bars: Vec<Bar>,
    /// Width of the picture.
    pub width_mm: f64,
}

/// From bar to bar.
const PITCH_MM: f64 = 6.0;
/// Height of a bar.
const BAR_MM: f64 = 4.0;
/// Between a bar and the words on both sides of it.
const TO_TEXT_MM: f64 = 1.5;
/// Room for names is at most this share of the width.
const NAMES_SHARE: f64 = 0.4;

impl BarChart {
    /// Draws it, as the picture of this kind (`chart-…`).
    #[must_use]
    pub fn draw(&self, kind: &'static str) -> Picture {
        let rows = self.bars.len().max(1) as f64;
        let top = MARGIN_MM + 1.7 * TEXT_MM;
        let mut canvas = Canvas::new(self.width_mm, top + PITCH_MM * rows + MARGIN_MM);
        canvas.text(Point::new(MARGIN_MM, MARGIN_MM + font::CAP_HEIGHT * TEXT_MM), &self.label, &SOFT);
        let widest = |texts: &mut dyn Iterator<Item = &String>| {
            texts.map(|text| font::width_mm(text, TEXT_MM)).fold(0.0, f64::max)
        };
        let names = widest(&mut self.bars.iter().map(|bar| &bar.name)).min(NAMES_SHARE * self.width_mm);
        let figures = widest(&mut self.bars.iter().map(|bar| &bar.text));
        let left = MARGIN_MM + names + TO_TEXT_MM;
        let room = (self.width_mm - left - figures - TO_TEXT_MM - MARGIN_MM).max(0.0);
        let most = self.bars.iter().map(|bar| bar.value).fold(0.0, f64::max);
        for (i, bar) in self.bars.iter().enumerate() {
            let middle = top + PITCH_MM * (i as f64 + 0.5);
            let length = if most > 0.0 { room * bar.value / most } else { 0.0 };
            if length > 0.0 {
                let span = Rect::new(left, middle - 0.5 * BAR_MM, left + length, middle + 0.5 * BAR_MM);
                canvas.rect(span, &Pen::filled(Tone::Accent.into()));
            }
            let base = middle + PLAIN.drop_mm();
            let name = font::cut_short(&bar.name, TEXT_MM, names);
            canvas.text(Point::new(left - TO_TEXT_MM, base), &name, &PLAIN.anchored(Anchor::End));
            canvas.text(Point::new(left + length + TO_TEXT_MM, base), &bar.text, &PLAIN);
        }
        canvas.line(Point::new(left, top), Point::new(left, top + PITCH_MM * rows), &Pen::line(Tone::Soft, 0.25));
        canvas.finish(kind, &self.title, &self.description)
    }
}
