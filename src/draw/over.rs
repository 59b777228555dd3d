//! The plan sections of two pairs laid over each other, each lens on the front vertex at its reference point; what the
//! one has and the other has not is shaded, and both are stood side by side where it counts most.
//!
//! Units: mm. x in the frame from the middle of the bridge, z toward the eye; fronts below, as in the plan section.

use super::cut::{Cut, End};
use super::dimension::{self, Beyond, Rise};
use super::font;
use super::number::{difference, figure};
use super::picture::Picture;
use super::style::{Colour, DIMENSION, GLASS, LETTER_MM, Pen, TEXT_MM, Tone};
use super::svg::{Anchor, Canvas, Grid, PLAIN, SOFT};
use crate::eye::{Eye, Eyes};
use kurbo::{Affine, Point, Rect, Vec2};

/// One of the two pairs.
#[derive(Clone, Debug)]
pub struct Laid {
    /// What it is called.
    pub name: String,
    /// The cuts along the horizontal centre line, u being x in its own frame.
    pub cuts: Eyes<Cut>,
    /// x of the reference points in its own frame.
    pub reference_x: Eyes<f64>,
    /// The thickness that counts most.
    pub thickest_mm: f64,
    /// The figure that it is, by the name that it carries in the file.
    pub figure: String,
}

/// All that is laid over each other.
#[derive(Clone, Debug)]
pub struct Over<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// What is shown.
    pub option: Laid,
    /// What it is laid over.
    pub reference: Laid,
    /// What counts most: "thickest edge".
    pub counts: &'a str,
    /// What comes of it: "5.3 mm thinner".
    pub verdict: &'a str,
    /// Millimetres on paper for one of the frame.
    pub scale: f64,
}

/// What the option saves, filled.
const SAVED: Pen = Pen::filled(Colour::Tone(Tone::Tint));
/// The pair that the option is laid over.
const REFERENCE: Pen = Pen::line(Tone::Second, 0.35);
/// Width of a bar.
const BAR_MM: f64 = 7.0;
/// Between sections and bars, and between the bars.
const APART_MM: (f64, f64) = (9.0, 3.0);
/// Between lines of words.
const PITCH_MM: f64 = 1.5 * TEXT_MM;
/// Less than this prints as nought.
const LEAST_MM: f64 = 0.05;
/// What stands beside the scale.
const SEEN: &str = "seen from above, fronts below, laid on the fronts at the reference points";

impl Over<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let place = Affine::new([self.scale, 0.0, 0.0, -self.scale, 0.0, 0.0]);
        for (eye, cut) in self.option.cuts.iter() {
            let moved = self.option.reference_x.of(eye) - self.reference.reference_x.of(eye);
            let under = place * Affine::translate((moved, 0.0)) * self.reference.cuts.of(eye).edged();
            let under = canvas.shape(&under, Grid::Fine, &SAVED);
            canvas.path(&(place * cut.edged()), Grid::Fine, &GLASS);
            canvas.again(under, &REFERENCE);
        }
        let lenses = canvas.inked();
        self.bars(&mut canvas, lenses);
        for (eye, cut) in self.option.cuts.iter() {
            self.letter(&mut canvas, eye, cut, lenses.y1);
        }
        self.words(&mut canvas);
        canvas.finish("over", self.title, self.description)
    }

    fn letter(&self, canvas: &mut Canvas, eye: Eye, cut: &Cut, below: f64) {
        let middle = 0.5 * self.scale * (cut.end(End::Low).u + cut.end(End::High).u);
        let at = Point::new(middle, below + 1.6 + font::CAP_HEIGHT * LETTER_MM);
        canvas.text(at, eye.letter(), &PLAIN.sized(LETTER_MM).strong().anchored(Anchor::Middle));
    }

    /// Both thicknesses on one base, and the difference.
    fn bars(&self, canvas: &mut Canvas, lenses: Rect) {
        let (left, base) = (lenses.x1 + APART_MM.0, lenses.y1);
        let bars = [(&self.reference, "reference.", left), (&self.option, "", left + BAR_MM + APART_MM.1)];
        let top = |laid: &Laid| base - self.scale * laid.thickest_mm;
        for (laid, _, x) in bars {
            let of_reference = std::ptr::eq(laid, &self.reference);
            let pen = if of_reference { Pen { fill: SAVED.fill, ..REFERENCE } } else { GLASS };
            canvas.rect(Rect::new(x, top(laid), x + BAR_MM, base), &pen);
        }
        for (laid, whose, x) in bars {
            let (middle, figured) = (x + 0.5 * BAR_MM, format!("{whose}{}", laid.figure));
            canvas.length(&figured, Point::new(middle, base), Point::new(middle, top(laid)), &DIMENSION);
        }
        for (laid, whose, x) in bars {
            let at = Point::new(x + 0.5 * BAR_MM, base + 1.4 + font::CAP_HEIGHT * TEXT_MM);
            let text = figure(laid.thickest_mm, 1);
            canvas.figure(&format!("{whose}{}", laid.figure), at, &text, &PLAIN.anchored(Anchor::Middle));
        }
        let end = bars[1].2 + BAR_MM;
        let saved = self.reference.thickest_mm - self.option.thickest_mm;
        if saved.abs() >= LEAST_MM {
            let x = end + 4.0;
            for (laid, _, from) in bars {
                dimension::extension(canvas, Point::new(from + BAR_MM, top(laid)), Point::new(x, top(laid)));
            }
            let rise = Rise {
                x,
                from: top(&self.option),
                to: top(&self.reference),
                text: &figure(difference(self.reference.thickest_mm, self.option.thickest_mm, 1).abs(), 1),
                figure: "saved_mm",
                beside: Beyond::High,
                on: Tone::Paper,
            };
            rise.draw(canvas);
        }
        let above = top(&self.reference).min(top(&self.option)) - 7.0;
        canvas.text(Point::new(left, above), self.counts, &SOFT);
        canvas.text(
            Point::new(left, base + 1.4 + font::CAP_HEIGHT * TEXT_MM + PITCH_MM),
            self.verdict,
            &PLAIN.strong(),
        );
    }

    /// Which is which, and the scale.
    fn words(&self, canvas: &mut Canvas) {
        let inked = canvas.inked();
        let mut at = Point::new(inked.x0, inked.y1 + 2.0 + PITCH_MM);
        let names = [(&self.option, GLASS), (&self.reference, Pen { fill: SAVED.fill, ..REFERENCE })];
        for (laid, pen) in names {
            canvas.rect(Rect::from_origin_size(at - Vec2::new(0.0, 2.4), (5.0, 2.6)), &pen);
            for line in font::wrapped(&laid.name, TEXT_MM, inked.width() - 8.0) {
                canvas.text(at + Vec2::new(7.0, 0.0), &line, &PLAIN);
                at.y += PITCH_MM;
            }
        }
        at.y += 0.4 * PITCH_MM;
        dimension::scale_bar(canvas, at, self.scale, SEEN);
    }
}
