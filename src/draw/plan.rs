//! Plan section of a pair of lenses: cut along the horizontal centre line, seen from above; fronts below, eyes above,
//! the right lens on the left.
//!
//! Units: mm. x in the frame from the middle of the bridge, to the observer's right; z toward the eye, nought at the
//! front surface on the axis through each reference point. Wrap is left out, as in the boxed layout.

use super::cut::{self, Cut, End, Reference};
use super::dimension::{self, Gauge};
use super::font;
use super::label::{self, Wanted};
use super::number::figure;
use super::picture::Picture;
use super::style::{DIMENSION, GHOST, LETTER_MM, TEXT_MM};
use super::svg::{Anchor, Canvas, Grid, PLAIN, View};
use crate::eye::{Eye, Eyes};
use crate::rim::Rim;
use kurbo::{BezPath, Point, Vec2};

/// One lens of the section.
#[derive(Clone, Debug)]
pub struct PlanLens {
    /// The cut, u being x in the frame.
    pub cut: Cut,
    /// The reference point, where it lies inside the shape.
    pub reference: Option<Reference>,
    /// Thickness at the nasal end.
    pub nasal_mm: f64,
    /// Thickness at the temporal end.
    pub temporal_mm: f64,
}

/// All that a plan section shows.
#[derive(Clone, Debug)]
pub struct Plan<'a> {
    /// What it shows, of what.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Both lenses.
    pub lenses: Eyes<PlanLens>,
    /// How the frame holds them.
    pub rim: Rim,
    /// Front to back, where known.
    pub rim_depth_mm: Option<f64>,
    /// Millimetres on paper for one of the frame.
    pub scale: f64,
}

/// Space at the rim of the sheet.
const MARGIN_MM: f64 = 2.0;
/// Between the highest part and the shelves of the gauges.
const HEADROOM_MM: f64 = 4.4;
/// Between a rim (or an end without one) and its gauge line, in the drawing.
const TO_GAUGE_MM: f64 = 2.0;
/// What stands beside the scale.
const SEEN: &str = "seen from above, fronts below";
/// The same where a reference point lies off the section.
const SEEN_PROJECTED: &str = "seen from above, fronts below; centres projected";

/// An end of a lens on its side.
#[derive(Clone, Copy)]
struct Side {
    eye: Eye,
    nasal: bool,
}

impl Side {
    const ALL: [Side; 4] = [
        Side { eye: Eye::Right, nasal: false },
        Side { eye: Eye::Right, nasal: true },
        Side { eye: Eye::Left, nasal: true },
        Side { eye: Eye::Left, nasal: false },
    ];

    /// +1 where the end is the lens's right end on the sheet.
    fn outward(self) -> f64 {
        if self.nasal { self.eye.nasal_sign() } else { -self.eye.nasal_sign() }
    }

    fn end(self) -> End {
        if self.outward() > 0.0 { End::High } else { End::Low }
    }
}

impl Plan<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let sides = Side::ALL.map(|side| (side, self.gauge_x(side)));
        let half = 0.5 * Gauge::shelf_mm("00.0") / self.scale;
        let low = sides.iter().map(|(_, x)| x - half).fold(f64::INFINITY, f64::min);
        let high = sides.iter().map(|(_, x)| x + half).fold(f64::NEG_INFINITY, f64::max);
        let (front, back) = self.range();
        let rows = 1.7 * TEXT_MM;
        let shelf = MARGIN_MM + font::CAP_HEIGHT * TEXT_MM + dimension::ABOVE_MM + 0.4;
        let origin = Point::new(MARGIN_MM - self.scale * low, shelf + HEADROOM_MM + self.scale * back);
        let below = origin.y - self.scale * front + Gauge::BELOW_MM;
        let width = (self.scale * (high - low)).max(dimension::scale_bar_mm(self.scale, self.seen())) + 2.0 * MARGIN_MM;
        let letters = below + 1.2 + font::CAP_HEIGHT * LETTER_MM;
        let mut canvas = Canvas::new(width, letters + rows + MARGIN_MM);
        let view = View { origin, scale: self.scale };
        self.frame(&mut canvas, &view);
        for (eye, lens) in self.lenses.iter() {
            lens.cut.draw(&mut canvas, view.affine());
            let middle = 0.5 * (lens.cut.end(End::Low).u + lens.cut.end(End::High).u);
            let at = Point::new(view.at(middle, 0.0).x, letters);
            canvas.text(at, eye.letter(), &PLAIN.anchored(Anchor::Middle).sized(LETTER_MM).strong());
        }
        self.gauges(&mut canvas, &view, shelf);
        let bar = Point::new(MARGIN_MM, letters + rows - 0.6);
        dimension::scale_bar(&mut canvas, bar, self.scale, self.seen());
        canvas.finish("plan", self.title, self.description)
    }

    fn seen(&self) -> &'static str {
        let off = self.lenses.iter().any(|(_, lens)| lens.reference.is_some_and(|reference| reference.off_plane));
        if off { SEEN_PROJECTED } else { SEEN }
    }

    /// Least and most z of lenses and rims.
    fn range(&self) -> (f64, f64) {
        let mut range = (0.0, 0.0);
        for (_, lens) in self.lenses.iter() {
            let (front, back) = lens.cut.range();
            range = (f64::min(range.0, front), f64::max(range.1, back));
            if self.across_mm().is_some() {
                let rims = [End::Low, End::High].map(|end| lens.cut.rim_back_z(end, self.rim_depth_mm));
                range.1 = range.1.max(rims[0]).max(rims[1]);
            }
        }
        range
    }

    /// Between the nasal ends.
    fn gap_mm(&self) -> f64 {
        (self.lenses.left.cut.end(End::Low).u - self.lenses.right.cut.end(End::High).u).max(0.0)
    }

    /// How thick the rim is drawn across, where there is one at the horizontal centre line.
    fn across_mm(&self) -> Option<f64> {
        Some(cut::rim_across_mm(self.rim)?.min(0.2 * self.gap_mm()))
    }

    /// Where the gauge of an end stands.
    fn gauge_x(&self, side: Side) -> f64 {
        let beyond = self.across_mm().unwrap_or(0.0) + TO_GAUGE_MM / self.scale;
        let most = if side.nasal { 0.5 * self.gap_mm() - 0.6 } else { f64::INFINITY };
        self.lenses.of(side.eye).cut.end(side.end()).u + side.outward() * beyond.min(most)
    }

    /// Rims and bridge.
    fn frame(&self, canvas: &mut Canvas, view: &View) {
        let across = self.across_mm();
        if let Some(across) = across {
            for side in Side::ALL {
                self.lenses.of(side.eye).cut.draw_rim(canvas, view.affine(), side.end(), self.rim_depth_mm, across);
            }
        }
        let from = &self.lenses.right.cut;
        let to = &self.lenses.left.cut;
        let out = across.unwrap_or(0.0);
        let start = Point::new(from.end(End::High).u + out, from.seat(End::High));
        let end = Point::new(to.end(End::Low).u - out, to.seat(End::Low));
        let bow = Vec2::new(0.0, -0.16 * (end.x - start.x));
        let mut bridge = BezPath::new();
        bridge.move_to(start);
        bridge.curve_to(start.lerp(end, 0.25) + bow, start.lerp(end, 0.75) + bow, end);
        canvas.path(&(view.affine() * bridge), Grid::Fine, &GHOST);
    }

    fn gauges(&self, canvas: &mut Canvas, view: &View, shelf: f64) {
        let mut gauges: Vec<(Point, Point, String, String)> = Vec::new();
        for side in Side::ALL {
            let lens = self.lenses.of(side.eye);
            let slice = lens.cut.end(side.end());
            let x = self.gauge_x(side);
            let value = if side.nasal { lens.nasal_mm } else { lens.temporal_mm };
            let ends = [slice.front_z, slice.back_z].map(|z| (view.at(slice.u, z), view.at(x, z)));
            for (from, to) in ends {
                self.extension(canvas, from, to);
            }
            let name = if side.nasal { "nasal" } else { "temporal" };
            let name = format!("{}.thickness.{name}_mm", side.eye.word());
            gauges.push((ends[1].1, ends[0].1, figure(value, 1), name));
        }
        for (eye, lens) in self.lenses.iter() {
            if let Some(reference) = lens.reference {
                let (front, back) = (view.at(reference.u, 0.0), view.at(reference.u, reference.centre_mm));
                cut::reference_mark(canvas, front, back, reference.off_plane);
                let name = format!("{}.thickness.centre_mm", eye.word());
                gauges.push((back, front, figure(reference.centre_mm, 1), name));
            }
        }
        let wanted: Vec<Wanted> = gauges
            .iter()
            .map(|(top, _, text, _)| Wanted { at: top.x, size: Gauge::shelf_mm(text) + label::APART_MM })
            .collect();
        let middles = label::spread(&wanted, 0.0, canvas.size_mm().x);
        for ((top, bottom, text, figure), text_x) in gauges.iter().zip(middles) {
            Gauge { x: top.x, top: top.y, bottom: bottom.y, shelf, text_x, text, figure }.draw(canvas);
        }
    }

    /// An extension line out to a gauge: from beyond the rim.
    fn extension(&self, canvas: &mut Canvas, from: Point, to: Point) {
        let unit = Vec2::new((to.x - from.x).signum(), 0.0);
        let start = self.across_mm().unwrap_or(0.0) * self.scale + 0.5;
        canvas.line(from + start * unit, to + 0.8 * unit, &DIMENSION);
    }
}
