//! The outlines of a pair at true size, to be laid on a frame, a lens or a blank: with reference points, boxed centres,
//! the lines on which the pupils stand, and the least blanks.
//!
//! Units: mm, at 1 : 1. Seen from the front, as worn: right lens on the left.

use super::font;
use super::label::Labels;
use super::map::{boxed_centre, reference_point};
use super::number::figure;
use super::picture::Picture;
use super::style::{CENTRE, GHOST, HIDDEN, LETTER_MM, TEXT_MM, THIN, Tone};
use super::svg::{Anchor, Canvas, Grid, PLAIN, SOFT, View};
use crate::eye::{Eye, Eyes};
use crate::frame::{Boxing, Centration};
use crate::outline::Outline;
use kurbo::{Circle, Point, Rect, Vec2};

/// One lens.
#[derive(Clone, Copy, Debug)]
pub struct OutlinedLens<'a> {
    /// Its outline, from the boxed centre.
    pub outline: &'a Outline,
    /// Where its reference point lies.
    pub centration: Centration,
    /// From the middle of the bridge to the pupil.
    pub pd_mm: f64,
    /// Diameter of the least blank round the reference point.
    pub blank_mm: f64,
}

/// All that is shown.
#[derive(Clone, Debug)]
pub struct Outlines<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// The boxes.
    pub boxing: Boxing,
    /// Both lenses.
    pub lenses: Eyes<OutlinedLens<'a>>,
}

/// A blank that reaches farther than this from the middle of the bridge is not drawn: the sheet would be cut.
const FARTHEST_MM: f64 = 90.0;
/// Between lines of words.
const PITCH_MM: f64 = 1.45 * TEXT_MM;

impl Outlines<'_> {
    /// Draws them.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let view = View { origin: Point::ORIGIN, scale: 1.0 };
        self.datum(&mut canvas, &view);
        for (eye, lens) in self.lenses.iter() {
            let centre = self.centre(eye);
            let moved = View { origin: view.at(centre.x, centre.y), scale: 1.0 };
            let outline = moved.affine() * lens.outline.curve().path(0.001);
            canvas.group(eye.word(), |canvas| canvas.path(&outline, Grid::Fine, &THIN));
        }
        let drawn = Eye::BOTH.map(|eye| self.blank(&mut canvas, &view, eye));
        self.marks(&mut canvas, &view);
        self.words(&mut canvas, drawn.contains(&true));
        canvas.finish("outlines", self.title, self.description)
    }

    /// The boxed centre of a lens, from the middle of the bridge.
    fn centre(&self, eye: Eye) -> Vec2 {
        Vec2::new(-0.5 * self.boxing.centre_distance_mm() * eye.nasal_sign(), 0.0)
    }

    fn reference(&self, eye: Eye) -> Vec2 {
        let centration = &self.lenses.of(eye).centration;
        self.centre(eye) + centration.point(eye)
    }

    /// Horizontal centre line, middle of the bridge, and the lines of the pupils.
    fn datum(&self, canvas: &mut Canvas, view: &View) {
        let half = 0.5 * self.boxing.depth_mm;
        let end = 0.5 * self.boxing.centre_distance_mm() + 0.5 * self.boxing.eye_size_mm + 2.0;
        canvas.line(view.at(-end, 0.0), view.at(end, 0.0), &CENTRE);
        canvas.line(view.at(0.0, half), view.at(0.0, -half), &CENTRE);
        for (eye, lens) in self.lenses.iter() {
            let x = -lens.pd_mm * eye.nasal_sign();
            canvas.line(view.at(x, half + 2.0), view.at(x, -half - 2.0), &HIDDEN);
        }
    }

    /// The least blank, where it stays on the sheet.
    fn blank(&self, canvas: &mut Canvas, view: &View, eye: Eye) -> bool {
        let (at, radius) = (self.reference(eye), 0.5 * self.lenses.of(eye).blank_mm);
        let stays = at.x.abs() + radius <= FARTHEST_MM;
        if stays {
            canvas.circle(Circle::new(view.at(at.x, at.y), radius), &GHOST);
        }
        stays
    }

    fn marks(&self, canvas: &mut Canvas, view: &View) {
        let mut labels = Labels::new();
        let (half_width, half_depth) = (0.5 * self.boxing.eye_size_mm, 0.5 * self.boxing.depth_mm);
        for (eye, lens) in self.lenses.iter() {
            let (centre, reference) = (self.centre(eye), self.reference(eye));
            let (centre, reference) = (view.at(centre.x, centre.y), view.at(reference.x, reference.y));
            boxed_centre(canvas, centre, Tone::Ink.into());
            reference_point(canvas, reference, Tone::Ink.into());
            let pupil = view.at(-lens.pd_mm * eye.nasal_sign(), 0.0);
            labels.take(Rect::from_center_size(centre, (3.0, 3.0)));
            labels.take(Rect::from_center_size(reference, (5.0, 5.0)));
            labels.take(Rect::from_center_size(pupil, (1.0, 2.0 * half_depth)));
            let style = PLAIN.anchored(Anchor::Middle).sized(LETTER_MM).strong();
            let spots = [(-0.5, 0.5), (0.5, 0.5), (-0.5, -0.5), (0.5, -0.5), (0.0, 0.5)];
            let places = spots.map(|(across, up)| {
                centre + Vec2::new(across * half_width * eye.nasal_sign(), style.drop_mm() - up * half_depth)
            });
            if let Some(place) = labels.place(eye.letter(), &style, places) {
                canvas.text(place, eye.letter(), &style);
            }
        }
    }

    /// The blanks' diameters and what the marks mean, below all.
    fn words(&self, canvas: &mut Canvas, blanks_drawn: bool) {
        let inked = canvas.inked();
        let mut at = Point::new(inked.x0, inked.y1 + 1.0 + PITCH_MM);
        let blanks = self.lenses.iter().map(|(eye, lens)| format!("{} ⌀ {}", eye.letter(), figure(lens.blank_mm, 1)));
        let least = blanks.collect::<Vec<_>>().join(", ");
        let ghost =
            if blanks_drawn { format!("least blank, {least}") } else { format!("least blank {least}, not drawn") };
        let marks = ["reference point", "boxed centre", "the pupil stands on this line", &ghost];
        for (i, text) in marks.into_iter().enumerate() {
            let run = 5.6 + font::width_mm(text, TEXT_MM) + 4.0;
            if at.x > inked.x0 && at.x + run - 4.0 > inked.x0 + inked.width().max(120.0) {
                at = Point::new(inked.x0, at.y + PITCH_MM);
            }
            let mark = at + Vec2::new(2.2, -PLAIN.drop_mm());
            let ends = (mark - Vec2::new(2.2, 0.0), mark + Vec2::new(2.2, 0.0));
            match i {
                0 => reference_point(canvas, mark, Tone::Ink.into()),
                1 => boxed_centre(canvas, mark, Tone::Ink.into()),
                2 => canvas.line(ends.0, ends.1, &HIDDEN),
                _ => canvas.line(ends.0, ends.1, &GHOST),
            }
            canvas.text(at + Vec2::new(5.6, 0.0), text, &SOFT);
            at.x += run;
        }
    }
}
