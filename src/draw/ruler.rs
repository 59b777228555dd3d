//! A ruler and a card, to prove that a printer keeps the size of what it prints.
//!
//! Units: mm.

use super::picture::Picture;
use super::style::{OUTLINE, THIN};
use super::svg::{Anchor, Canvas, PLAIN, SOFT};
use kurbo::{Point, Rect, Vec2};

/// Length of the ruler.
pub const RULER_MM: u32 = 100;
/// Width and height of any bank card: format ID-1 of ISO/IEC 7810.
pub const CARD_MM: [f64; 2] = [85.60, 53.98];
/// From the ruler down to the card.
const APART_MM: f64 = 12.0;

/// Draws both.
#[must_use]
pub fn draw(title: &str, description: &str) -> Picture {
    let mut canvas = Canvas::endless();
    let start = Point::ORIGIN;
    let at = |mm: u32| start + Vec2::new(f64::from(mm), 0.0);
    canvas.group("ruler", |canvas| canvas.line(at(0), at(RULER_MM), &THIN));
    canvas.group("ticks", |canvas| {
        for mm in 0..=RULER_MM {
            let height = if mm % 10 == 0 { 5.0 } else { [2.0, 3.5][usize::from(mm % 5 == 0)] };
            canvas.line(at(mm), at(mm) - Vec2::new(0.0, height), &THIN);
        }
    });
    for mm in (0..=RULER_MM).step_by(10) {
        canvas.text(at(mm) - Vec2::new(0.0, 6.0), &mm.to_string(), &PLAIN.anchored(Anchor::Middle));
    }
    canvas.text(at(RULER_MM) + Vec2::new(4.5, -6.0), "mm", &PLAIN);
    let [width, height] = CARD_MM;
    let card = Rect::new(0.0, APART_MM, width, APART_MM + height);
    canvas.group("bank-card", |canvas| canvas.rect(card, &OUTLINE));
    let middle = card.center();
    let words = ["Any bank card covers this box exactly", "85.60 × 53.98 mm (ISO/IEC 7810, ID-1)"];
    for (i, line) in words.into_iter().enumerate() {
        canvas.text(middle + Vec2::new(0.0, 5.0 * i as f64 - 1.5), line, &SOFT.anchored(Anchor::Middle));
    }
    canvas.finish("ruler", title, description)
}
