//! Layout card: the outline of one lens laid in its blank, seen from the front, with all that whoever blocks it needs.
//!
//! Units: mm, x to the observer's right, y up, from the boxed centre.

use super::dimension::{self, Beyond, Dimension, Rise, Run};
use super::font;
use super::label::Labels;
use super::map::{boxed_centre, reference_point};
use super::number::figure;
use super::picture::Picture;
use super::style::{CENTRE, GHOST, GLASS, HATCHING, HIDDEN, LETTER_MM, TEXT_MM, THIN, Tone};
use super::svg::{self, Anchor, Canvas, Grid, PLAIN, SOFT, View};
use crate::eye::Eye;
use crate::frame::Centration;
use crate::outline::Outline;
use kurbo::{Circle, Point, Rect, Vec2};

/// All that a layout card shows.
#[derive(Clone, Debug)]
pub struct Layout<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Which eye.
    pub eye: Eye,
    /// The outline, from the boxed centre.
    pub outline: &'a Outline,
    /// Where the reference point lies in it.
    pub centration: Centration,
    /// The blank's middle, from the boxed centre.
    pub middle: Vec2,
    /// Diameter of the blank.
    pub blank_mm: f64,
    /// The figure that it is: that of the listed blank, or of the least one where none is listed.
    pub blank_figure: &'a str,
    /// What edging wants beyond the outline, all round.
    pub allowance_mm: f64,
    /// To which diameter the uncut is cribbed, where it is.
    pub crib_mm: Option<f64>,
    /// What is to be said, a line or two each.
    pub said: &'a [String],
    /// Millimetres on paper for one of the lens.
    pub scale: f64,
}

/// Between the blank and the nearest row of dimensions, and between rows, on paper.
const ROW_MM: f64 = 6.0;
/// Between lines of words.
const PITCH_MM: f64 = 1.45 * TEXT_MM;
/// Between the lines that shade the waste.
const HATCH_MM: f64 = 2.4;
/// Lengths that print as nought are not drawn.
const LEAST_MM: f64 = 0.05;
/// What is less than this beside the reference point is at it.
const SAME_MM: f64 = 0.05;

impl Layout<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let view = View { origin: Point::ORIGIN, scale: self.scale };
        self.blank(&mut canvas, &view);
        self.datum(&mut canvas, &view);
        let mut labels = Labels::new();
        self.marks(&mut canvas, &view, &mut labels);
        self.rise(&mut canvas, &view, &mut labels);
        self.letter(&mut canvas, &view, &mut labels);
        self.sides(&mut canvas, &view);
        self.lengths(&mut canvas, &view);
        self.words(&mut canvas);
        canvas.finish("layout", self.title, self.description)
    }

    fn reference(&self) -> Vec2 {
        self.centration.point(self.eye)
    }

    fn is_off_middle(&self) -> bool {
        (self.middle - self.reference()).hypot() > SAME_MM
    }

    fn figure_name(&self, of: &str) -> String {
        format!("{}.{of}", self.eye.word())
    }

    fn circle(&self, view: &View, diameter_mm: f64) -> Circle {
        Circle::new(view.at(self.middle.x, self.middle.y), 0.5 * self.scale * diameter_mm)
    }

    /// The blank with its waste shaded, what of it can be used, the crib, and the lens.
    fn blank(&self, canvas: &mut Canvas, view: &View) {
        let whole = self.circle(view, self.blank_mm);
        self.waste(canvas, whole);
        canvas.path(&(view.affine() * self.outline.curve().path(0.001)), Grid::Coarse, &GLASS);
        canvas.diameter(&self.figure_name(self.blank_figure), whole, &THIN);
        canvas.circle(self.circle(view, self.blank_mm - 2.0 * self.allowance_mm), &HIDDEN);
        if let Some(crib_mm) = self.crib_mm {
            canvas.diameter(&self.figure_name("surfacing.crib_mm"), self.circle(view, crib_mm), &GHOST);
        }
    }

    /// Lines at 45° across the blank: what is not covered by the lens afterwards is waste.
    fn waste(&self, canvas: &mut Canvas, whole: Circle) {
        let Circle { center, radius } = whole;
        let way = Vec2::new(0.5f64.sqrt(), -0.5f64.sqrt());
        let across = Vec2::new(way.y, -way.x);
        for line in 1..(2.0 * radius / HATCH_MM).ceil() as i32 {
            let off = HATCH_MM * f64::from(line) - radius;
            let half = (radius * radius - off * off).max(0.0).sqrt();
            let at = center + off * across;
            canvas.line(at - half * way, at + half * way, &HATCHING);
        }
    }

    /// The horizontal centre line of the box, and the upright through the blank's middle.
    fn datum(&self, canvas: &mut Canvas, view: &View) {
        let reach = 0.5 * self.blank_mm + 2.0;
        let (left, right) = (self.middle.x - reach, self.middle.x + reach);
        canvas.line(view.at(left, 0.0), view.at(right, 0.0), &CENTRE);
        let (low, high) = (self.middle.y - reach, self.middle.y + reach);
        canvas.line(view.at(self.middle.x, low), view.at(self.middle.x, high), &CENTRE);
    }

    fn marks(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        let (centre, reference) = (view.at(0.0, 0.0), view.at(self.reference().x, self.reference().y));
        boxed_centre(canvas, centre, Tone::Ink.into());
        reference_point(canvas, reference, Tone::Ink.into());
        labels.take(Rect::from_center_size(centre, (2.0, 2.0)));
        labels.take(Rect::from_center_size(reference, (5.0, 5.0)));
        if self.is_off_middle() {
            let middle = view.at(self.middle.x, self.middle.y);
            svg::dot(canvas, middle, false, Tone::Ink);
            labels.take(Rect::from_center_size(middle, (2.4, 2.4)));
        }
    }

    /// How far the reference point lies above or below the boxed centre, temporal of both.
    fn rise(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        let up_mm = self.centration.up_mm;
        if up_mm.abs() < LEAST_MM {
            return;
        }
        let outward = -self.eye.nasal_sign() * if self.centration.in_mm < 0.0 { -1.0 } else { 1.0 };
        let ends = [0.0, self.reference().x, if self.is_off_middle() { self.middle.x } else { 0.0 }];
        let beyond = ends.into_iter().fold(0.0, |a: f64, b| if outward > 0.0 { a.max(b) } else { a.min(b) });
        let x = view.at(beyond, 0.0).x + 4.5 * outward;
        let mark = view.at(self.reference().x, self.reference().y);
        dimension::extension(canvas, mark + Vec2::new(1.6 * outward, 0.0), Point::new(x, mark.y));
        let rise = Rise {
            x,
            from: view.at(0.0, 0.0).y,
            to: mark.y,
            text: &figure(up_mm, 1),
            figure: &self.figure_name("reference_point.up_mm"),
            beside: if outward > 0.0 { Beyond::High } else { Beyond::Low },
            on: Tone::Glass,
        };
        rise.draw(canvas);
        labels.take(rise.number());
    }

    fn letter(&self, canvas: &mut Canvas, view: &View, labels: &mut Labels) {
        let style = PLAIN.anchored(Anchor::Middle).sized(LETTER_MM).strong();
        let (a, b) = (self.outline.width_mm(), self.outline.depth_mm());
        let spots = [(-0.27, 0.24), (-0.27, -0.24), (0.27, 0.24), (0.27, -0.24), (0.0, 0.3), (0.0, -0.3)];
        let places = spots
            .map(|(across, up)| view.at(across * a * self.eye.nasal_sign(), up * b) + Vec2::new(0.0, style.drop_mm()));
        if let Some(place) = labels.place(self.eye.letter(), &style, places) {
            canvas.text(place, self.eye.letter(), &style);
        }
    }

    /// Which side is which, outside the blank at the horizontal line.
    fn sides(&self, canvas: &mut Canvas, view: &View) {
        let reach = 0.5 * self.blank_mm + 3.0;
        for (way, name) in [(self.eye.nasal_sign(), "nose"), (-self.eye.nasal_sign(), "temple")] {
            let anchor = if way > 0.0 { Anchor::Start } else { Anchor::End };
            let style = SOFT.anchored(anchor);
            canvas.text(view.at(self.middle.x + way * reach, 0.0) + Vec2::new(0.0, style.drop_mm()), name, &style);
        }
    }

    /// The blank's diameter, and how far the reference point is decentred, under the blank.
    fn lengths(&self, canvas: &mut Canvas, view: &View) {
        let radius = 0.5 * self.blank_mm;
        let foot = view.at(0.0, self.middle.y - radius).y;
        let ends = [-radius, radius].map(|out| view.at(self.middle.x + out, self.middle.y));
        let (in_mm, centre, reference) = (self.centration.in_mm, view.at(0.0, 0.0), self.reference());
        let decentred = in_mm.abs() >= LEAST_MM;
        let (in_text, text) = (figure(in_mm, 1), format!("⌀ {}", figure(self.blank_mm, 1)));
        let (in_name, name) = (self.figure_name("reference_point.in_mm"), self.figure_name(self.blank_figure));
        let outward = reference.x >= 0.0;
        let of_in = Dimension {
            from: centre,
            to: view.at(reference.x, reference.y),
            run: Run::Across,
            line_at: foot + ROW_MM,
            text: &in_text,
            figure: &in_name,
            beyond: if outward { Beyond::High } else { Beyond::Low },
            bordered: true,
        };
        let whole = Dimension {
            from: ends[0],
            to: ends[1],
            run: Run::Across,
            line_at: foot + if decentred { 2.0 } else { 1.0 } * ROW_MM,
            text: &text,
            figure: &name,
            beyond: Beyond::High,
            bordered: true,
        };
        let all = [of_in, whole];
        dimension::draw_all(canvas, if decentred { &all } else { &all[1..] });
    }

    /// What is said of it, the key and the scale, below all.
    fn words(&self, canvas: &mut Canvas) {
        let inked = canvas.inked();
        let mut at = Point::new(inked.x0, inked.y1 + 1.0 + PITCH_MM);
        for line in self.said.iter().flat_map(|said| font::wrapped(said, TEXT_MM, inked.width())) {
            canvas.text(at, &line, &PLAIN);
            at.y += PITCH_MM;
        }
        at.y += 1.0;
        self.key(canvas, &mut at, inked.width());
        dimension::scale_bar(canvas, Point::new(inked.x0, at.y), self.scale, "seen from the front");
    }

    fn key(&self, canvas: &mut Canvas, at: &mut Point, width_mm: f64) {
        let from = at.x;
        let crib = self.crib_mm.map(|crib| format!("crib ⌀ {}", figure(crib, 1)));
        let marks = [
            Some("reference point"),
            Some("boxed centre"),
            self.is_off_middle().then_some("blank’s middle"),
            Some("waste"),
            Some("less what edging wants"),
            crib.as_deref(),
        ];
        for (i, text) in marks.into_iter().enumerate().filter_map(|(i, text)| Some((i, text?))) {
            let run = 5.6 + font::width_mm(text, TEXT_MM) + 4.0;
            if at.x > from && at.x + run - 4.0 > from + width_mm {
                *at = Point::new(from, at.y + PITCH_MM);
            }
            let mark = *at + Vec2::new(2.2, -PLAIN.drop_mm());
            let half = Vec2::new(2.2, 0.0);
            match i {
                0 => reference_point(canvas, mark, Tone::Ink.into()),
                1 => boxed_centre(canvas, mark, Tone::Ink.into()),
                2 => svg::dot(canvas, mark, false, Tone::Ink),
                3 => hatched(canvas, mark),
                4 => canvas.line(mark - half, mark + half, &HIDDEN),
                _ => canvas.line(mark - half, mark + half, &GHOST),
            }
            canvas.text(*at + Vec2::new(5.6, 0.0), text, &SOFT);
            at.x += run;
        }
        *at = Point::new(from, at.y + 1.35 * PITCH_MM);
    }
}

/// A piece of the shading.
fn hatched(canvas: &mut Canvas, middle: Point) {
    for off in [-1.5, 0.0, 1.5] {
        let at = middle + Vec2::new(off, 0.0);
        canvas.line(at + Vec2::new(-1.1, 1.1), at + Vec2::new(1.1, -1.1), &HATCHING);
    }
}
