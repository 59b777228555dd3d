//! The frame front from a three-quarter view, as others see it: each lens in its rim with the edge that stays to be
//! seen, by parallel projection.
//!
//! Units: mm. x in the frame from the middle of the bridge, to the observer's right, y up, z toward the eye. Glass is
//! drawn opaque: what lies behind a front is hidden. A front that falls away from its vertex by more than 40° would hide
//! a part of its own rim; none that is made does. Bevels, grooves and the sides of the frame are left out.

use super::cut::rim_across_mm;
use super::dimension;
use super::font;
use super::picture::Picture;
use super::smooth;
use super::style::{Colour, GHOST, LETTER_MM, OUTLINE, Pen, TEXT_MM, THIN, Tone};
use super::svg::{Anchor, Canvas, Grid, PLAIN};
use crate::eye::{Eye, Eyes};
use crate::rim::Rim;
use kurbo::{BezPath, Point, Vec2};

/// A place on the outline of a lens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// Where, in the frame.
    pub at: Vec2,
    /// Outward unit normal of the outline.
    pub normal: Vec2,
    /// Front surface.
    pub front_z: f64,
    /// Back surface.
    pub back_z: f64,
    /// Where bevel or groove are wished, behind the front corner.
    pub behind_mm: f64,
}

/// All that is seen.
#[derive(Clone, Debug)]
pub struct Seen<'a> {
    /// What it shows, of what, at which scale.
    pub title: &'a str,
    /// The finding in words.
    pub description: &'a str,
    /// Round each lens, anticlockwise, dense enough to be joined.
    pub lenses: Eyes<Vec<Station>>,
    /// From which wearer's side it is seen.
    pub side: Eye,
    /// How the frame holds the lenses.
    pub rim: Rim,
    /// Front to back, where known.
    pub rim_depth_mm: Option<f64>,
    /// What is to be said, a line each.
    pub said: &'a [String],
    /// Millimetres on paper for one across the line of sight.
    pub scale: f64,
}

/// The line of sight turns so far from the straight view of the front, toward a side …
const ASIDE_DEG: f64 = 50.0;
/// … and so far down from above.
const ABOVE_DEG: f64 = 6.0;
/// Between lines of words.
const PITCH_MM: f64 = 1.4 * TEXT_MM;
/// What stands beside the scale.
const SEEN: &str = "across the line of sight, 40° from the side and 6° from above";
/// The edge of a lens.
const EDGE: Pen = Pen { fill: Some(Colour::Tone(Tone::Paper)), ..OUTLINE };
/// Its front.
const FACE: Pen = Pen { fill: Some(Colour::Tone(Tone::Glass)), ..OUTLINE };
/// A rim, of known depth.
const RIM: Pen = Pen { fill: Some(Colour::Tone(Tone::Grid)), width_mm: 0.3, ..THIN };

/// A parallel projection onto the sheet.
#[derive(Clone, Copy)]
struct Sight {
    right: [f64; 3],
    up: [f64; 3],
    /// Toward the viewer, in the plane of the frame.
    toward: Vec2,
    scale: f64,
}

impl Sight {
    fn from_side(side: Eye, scale: f64) -> Sight {
        // The wearer's right is on the observer's left.
        let left = side.nasal_sign();
        let (sin_a, cos_a) = ASIDE_DEG.to_radians().sin_cos();
        let (sin_b, cos_b) = ABOVE_DEG.to_radians().sin_cos();
        Sight {
            right: [cos_a, 0.0, -left * sin_a],
            up: [left * sin_a * sin_b, cos_b, cos_a * sin_b],
            toward: Vec2::new(-left * sin_a * cos_b, sin_b),
            scale,
        }
    }

    fn at(&self, p: Vec2, z: f64) -> Point {
        let along = |way: &[f64; 3]| self.scale * (way[0] * p.x + way[1] * p.y + way[2] * z);
        Point::new(along(&self.right), -along(&self.up))
    }

    /// Is an edge with this outward normal turned to the viewer?
    fn faces(&self, normal: Vec2) -> f64 {
        normal.dot(self.toward)
    }
}

impl Station {
    /// The place between two where `share` of the way is done.
    fn between(one: &Station, other: &Station, share: f64) -> Station {
        let mix = |a: f64, b: f64| a + share * (b - a);
        Station {
            at: one.at.lerp(other.at, share),
            normal: one.normal.lerp(other.normal, share).normalize(),
            front_z: mix(one.front_z, other.front_z),
            back_z: mix(one.back_z, other.back_z),
            behind_mm: mix(one.behind_mm, other.behind_mm),
        }
    }
}

impl Seen<'_> {
    /// Draws it.
    #[must_use]
    pub fn draw(&self) -> Picture {
        let mut canvas = Canvas::endless();
        let sight = Sight::from_side(self.side, self.scale);
        let (near, far) = match self.side {
            Eye::Right => (Eye::Right, Eye::Left),
            Eye::Left => (Eye::Left, Eye::Right),
        };
        self.lens(&mut canvas, &sight, self.lenses.of(far));
        self.bridge(&mut canvas, &sight);
        self.lens(&mut canvas, &sight, self.lenses.of(near));
        let below = canvas.inked().y1 + 1.5 + font::CAP_HEIGHT * LETTER_MM;
        for (eye, lens) in self.lenses.iter() {
            let middle = lens.iter().map(|s| sight.at(s.at, s.front_z).x).sum::<f64>() / lens.len().max(1) as f64;
            let style = PLAIN.sized(LETTER_MM).strong().anchored(Anchor::Middle);
            canvas.text(Point::new(middle, below), eye.letter(), &style);
        }
        self.words(&mut canvas);
        canvas.finish("view", self.title, self.description)
    }

    /// A lens from back to front: its edge, the rim round it, its front.
    fn lens(&self, canvas: &mut Canvas, sight: &Sight, lens: &[Station]) {
        for arc in facing(sight, lens) {
            let (front, back) =
                (joined(&arc, |s| sight.at(s.at, s.front_z)), joined(&arc, |s| sight.at(s.at, s.back_z)));
            canvas.path(&band(&front, &back), Grid::Coarse, &EDGE);
        }
        if let Some(across) = rim_across_mm(self.rim) {
            self.rim(canvas, sight, lens, across);
        }
        canvas.path(&ring(lens, |s| sight.at(s.at, s.front_z)), Grid::Coarse, &FACE);
    }

    /// The rim: its outside as far as it is turned to the viewer, then its front.
    fn rim(&self, canvas: &mut Canvas, sight: &Sight, lens: &[Station], across: f64) {
        let pen = if self.rim_depth_mm.is_some() { RIM } else { Pen { fill: RIM.fill, ..GHOST } };
        let at = |s: &Station, back: bool| {
            let seat = self.rim.seat(s.back_z - s.front_z, s.behind_mm, self.rim_depth_mm);
            let z = s.front_z + if back { seat.rim_back_mm } else { seat.rim_front_mm };
            sight.at(s.at + across * s.normal, z)
        };
        for arc in facing(sight, lens) {
            let (front, back) = (joined(&arc, |s| at(s, false)), joined(&arc, |s| at(s, true)));
            canvas.path(&band(&front, &back), Grid::Coarse, &pen);
        }
        canvas.path(&ring(lens, |s| at(s, false)), Grid::Coarse, &pen);
    }

    /// Between the lenses: nothing is known of it.
    fn bridge(&self, canvas: &mut Canvas, sight: &Sight) {
        let end = |eye: Eye| {
            let nasal = |s: &&Station| s.at.x * eye.nasal_sign() - 0.3 * (s.at.y - NOSE_PIECE_MM).abs();
            self.lenses.of(eye).iter().max_by(|a, b| nasal(a).total_cmp(&nasal(b)))
        };
        let (Some(from), Some(to)) = (end(Eye::Right), end(Eye::Left)) else { return };
        let bow = |share: f64| {
            let (at, z) = (from.at.lerp(to.at, share), from.front_z + share * (to.front_z - from.front_z));
            sight.at(at + Vec2::new(0.0, 0.2 * (to.at.x - from.at.x)), z)
        };
        let mut path = BezPath::new();
        path.move_to(sight.at(from.at, from.front_z));
        path.curve_to(bow(0.25), bow(0.75), sight.at(to.at, to.front_z));
        canvas.path(&path, Grid::Coarse, &GHOST);
    }

    fn words(&self, canvas: &mut Canvas) {
        let inked = canvas.inked();
        let mut at = Point::new(inked.x0, inked.y1 + PITCH_MM + 1.0);
        for line in self.said.iter().flat_map(|said| font::wrapped(said, TEXT_MM, inked.width().max(100.0))) {
            canvas.text(at, &line, &PLAIN);
            at.y += PITCH_MM;
        }
        dimension::scale_bar(canvas, Point::new(at.x, at.y + 0.3 * PITCH_MM), self.scale, SEEN);
    }
}

/// How far above the horizontal centre line bridges usually stand (ours, for the drawing).
const NOSE_PIECE_MM: f64 = 4.0;

/// The stretches of an outline whose edge is turned to the viewer, each with the points where it turns away.
fn facing(sight: &Sight, lens: &[Station]) -> Vec<Vec<Station>> {
    let n = lens.len();
    let turn = |i: usize| {
        let (one, other) = (&lens[i % n], &lens[(i + 1) % n]);
        let (a, b) = (sight.faces(one.normal), sight.faces(other.normal));
        ((a > 0.0) != (b > 0.0)).then(|| (b > 0.0, Station::between(one, other, a / (a - b))))
    };
    let starts = (0..n).filter_map(|i| turn(i).filter(|(toward, _)| *toward).map(|(_, station)| (i, station)));
    starts
        .map(|(start, station)| {
            let mut arc = vec![station];
            for i in start + 1..start + n {
                arc.push(lens[i % n]);
                if let Some((false, end)) = turn(i) {
                    arc.push(end);
                    break;
                }
            }
            arc
        })
        .collect()
}

fn joined(arc: &[Station], at: impl Fn(&Station) -> Point) -> Vec<Point> {
    smooth::thinned(arc.iter().map(at), 0.02)
}

fn ring(lens: &[Station], at: impl Fn(&Station) -> Point) -> BezPath {
    let mut path = BezPath::new();
    smooth::append(&mut path, &joined(lens, at), smooth::NEAR_MM);
    path
}

/// What lies between two lines that run the same way.
fn band(front: &[Point], back: &[Point]) -> BezPath {
    let mut path = smooth::through(front, smooth::NEAR_MM);
    let returned: Vec<Point> = back.iter().rev().copied().collect();
    if let Some(&first) = returned.first() {
        path.line_to(first);
    }
    path.extend(smooth::through(&returned, smooth::NEAR_MM).into_iter().skip(1));
    path.close_path();
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sight_is_a_projection() {
        for side in Eye::BOTH {
            let sight = Sight::from_side(side, 1.0);
            let dot = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
            let (right, up) = (sight.right, sight.up);
            assert!((dot(right, right) - 1.0).abs() < 1e-12 && (dot(up, up) - 1.0).abs() < 1e-12);
            assert!(dot(right, up).abs() < 1e-12);
            // Toward the viewer is at right angles to both.
            let (a, b) = (ASIDE_DEG.to_radians(), ABOVE_DEG.to_radians());
            let toward = [sight.toward.x, sight.toward.y, -a.cos() * b.cos()];
            assert!(dot(toward, right).abs() < 1e-12 && dot(toward, up).abs() < 1e-12);
            // The temporal edge of the near lens is seen.
            assert!(sight.faces(Vec2::new(-side.nasal_sign(), 0.0)) > 0.0);
        }
    }

    #[test]
    fn half_of_a_round_edge_is_seen() {
        let lens: Vec<Station> = (0..72)
            .map(|i| Vec2::from_angle(f64::from(i).to_radians() * 5.0))
            .map(|normal| Station { at: 20.0 * normal, normal, front_z: 0.0, back_z: 5.0, behind_mm: 1.0 })
            .collect();
        for side in Eye::BOTH {
            let sight = Sight::from_side(side, 1.0);
            let arcs = facing(&sight, &lens);
            assert_eq!(arcs.len(), 1);
            let (first, last) = (arcs[0][0], arcs[0][arcs[0].len() - 1]);
            assert!(sight.faces(first.normal).abs() < 1e-3 && sight.faces(last.normal).abs() < 1e-3);
            assert!((arcs[0].len() as i32 - 38).abs() <= 1, "{}", arcs[0].len());
        }
    }
}
