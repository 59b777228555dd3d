//! A lens cut by a plane that holds the direction z: its two surfaces, and at both ends what edging makes of them.
//!
//! Units: mm. u runs along the cut (x in a plan section, y in a vertical one), z toward the eye; both are the drawing's,
//! u to the right and z up.

use super::smooth;
use super::style::{DIMENSION, GHOST, GLASS, HATCHING, HIDDEN, Pen, THIN, Tone};
use super::svg::{Canvas, Grid};
use crate::measure::{Corner, Corners};
use crate::rim::{Edging, Position, Rim, Seat};
use kurbo::{Affine, BezPath, Point, Vec2};

/// Both surfaces at one place along the cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slice {
    /// Where.
    pub u: f64,
    /// Front surface.
    pub front_z: f64,
    /// Back surface.
    pub back_z: f64,
}

/// A lens cut from outline to outline. At least two slices, u rising; some thirty make the curves right to 0.002 mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    slices: Vec<Slice>,
    rim: Rim,
    through_holes: bool,
    behind_mm: [f64; 2],
    chamfer: Option<Corners>,
}

/// Which end of a cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// Where u is least.
    Low,
    /// Where u is most.
    High,
}

/// The reference point of a lens in a section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reference {
    /// Where along the cut.
    pub u: f64,
    /// Centre thickness; its front lies at z = 0.
    pub centre_mm: f64,
    /// Whether it lies beside the section, and so is projected onto it.
    pub off_plane: bool,
}

/// How thick the rims that go all round are drawn across: nothing is known of it.
#[must_use]
pub fn rim_across_mm(rim: Rim) -> Option<f64> {
    match rim {
        Rim::Metal => Some(1.2),
        Rim::Plastic => Some(2.4),
        Rim::Supra | Rim::ReverseSupra | Rim::Rimless => None,
    }
}

/// The thickness at a reference point in a section: a line through the glass, or, where the point lies beside the
/// section, its projection dashed, with both faces.
pub fn reference_mark(canvas: &mut Canvas, front: Point, back: Point, off_plane: bool) {
    if !off_plane {
        canvas.line(front, back, &DIMENSION);
        return;
    }
    canvas.line(front, back, &HIDDEN);
    let along = back - front;
    let across = 2.3 / along.hypot().max(1e-9) * Vec2::new(-along.y, along.x);
    for at in [front, back] {
        canvas.line(at - across, at + across, &HIDDEN);
    }
}

impl Cut {
    /// A cut lens; `None` for fewer than two slices.
    #[must_use]
    pub fn new(slices: Vec<Slice>, rim: Rim) -> Option<Cut> {
        let usual = |slice: &Slice| Position::Usual.behind_mm(slice.back_z - slice.front_z).unwrap_or(0.0);
        let [low, high] = [slices.first()?, slices.last()?].map(usual);
        (slices.len() > 1).then_some(Cut { slices, rim, through_holes: true, behind_mm: [low, high], chamfer: None })
    }

    /// The same with bevel or groove wished so far behind the front corners, at the low and at the high end.
    #[must_use]
    pub fn seated_at(self, behind_mm: [f64; 2]) -> Cut {
        Cut { behind_mm, ..self }
    }

    /// The same with chamfered corners where it is drawn broken off.
    #[must_use]
    pub fn chamfered(self, chamfer: Option<Corners>) -> Cut {
        Cut { chamfer, ..self }
    }

    /// The same where the cut does not run along the horizontal centre line, on which alone lenses are drilled.
    #[must_use]
    pub fn beside_holes(self) -> Cut {
        Cut { through_holes: false, ..self }
    }

    /// The slice at an end, at the outline, before edging.
    #[must_use]
    pub fn end(&self, end: End) -> Slice {
        let slice = match end {
            End::Low => self.slices.first(),
            End::High => self.slices.last(),
        };
        slice.copied().unwrap_or(Slice { u: 0.0, front_z: 0.0, back_z: 0.0 })
    }

    /// The slice at a place, straight between its neighbours.
    #[must_use]
    pub fn at(&self, u: f64) -> Slice {
        let after = self.slices.partition_point(|slice| slice.u < u).clamp(1, self.slices.len() - 1);
        let (a, b) = (self.slices[after - 1], self.slices[after]);
        let share = if b.u > a.u { (u - a.u) / (b.u - a.u) } else { 0.0 };
        let between = |one: f64, other: f64| one + share * (other - one);
        Slice { u, front_z: between(a.front_z, b.front_z), back_z: between(a.back_z, b.back_z) }
    }

    /// Least and most z of all.
    #[must_use]
    pub fn range(&self) -> (f64, f64) {
        let all = self.slices.iter().flat_map(|slice| [slice.front_z, slice.back_z]);
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), z| (low.min(z), high.max(z)))
    }

    /// Draws the cut glass, with the corners that edging takes away as thin lines. `place` puts (u, z) on the sheet.
    pub fn draw(&self, canvas: &mut Canvas, place: Affine) {
        let edges = [End::Low, End::High].map(|end| Edge::of(self, end));
        canvas.path(&(place * self.glass(&edges)), Grid::Fine, &GLASS);
        self.draw_edging(canvas, place, &edges, &[End::Low, End::High]);
    }

    /// Draws the cut glass toward its high end only: at the other it is broken off, and has no line there.
    pub fn draw_broken(&self, canvas: &mut Canvas, place: Affine) {
        let edge = Edge::of(self, End::High);
        canvas.path(&(place * self.broken(&edge)), Grid::Fine, &GLASS);
        self.draw_edging(canvas, place, &[edge], &[End::High]);
    }

    /// The closed outline of the cut glass, edged, u to the right and z up.
    #[must_use]
    pub fn edged(&self) -> BezPath {
        self.glass(&[End::Low, End::High].map(|end| Edge::of(self, end)))
    }

    fn draw_edging(&self, canvas: &mut Canvas, place: Affine, edges: &[Edge], ends: &[End]) {
        for (edge, &end) in edges.iter().zip(ends) {
            let (corner, at) = (self.end(end), |u: f64, z: f64| place * Point::new(u, z));
            if let Edge::Bevel { shoulder, tip: _, half: _ } = edge {
                let points = [
                    at(shoulder.u, shoulder.front_z),
                    at(corner.u, corner.front_z),
                    at(corner.u, corner.back_z),
                    at(shoulder.u, shoulder.back_z),
                ];
                canvas.polyline(&points, Grid::Fine, &Pen { width_mm: 0.18, ..DIMENSION });
            }
            if let Edge::Hole { corner: _, from, to } = edge {
                let around =
                    [at(from.u, from.front_z), at(from.u, from.back_z), at(to.u, to.back_z), at(to.u, to.front_z)];
                canvas.polygon(&around, &Pen::filled(Tone::Paper.into()));
                canvas.line(around[0], around[1], &THIN);
                canvas.line(around[2], around[3], &THIN);
            }
        }
    }

    /// The same broken off at its low end: an open line round the other.
    fn broken(&self, edge: &Edge) -> BezPath {
        let shoulder = edge.shoulder();
        let none = Corner::default();
        let (before, after) = self.chamfer.as_ref().map_or((&none, &none), |corners| (&corners.front, &corners.back));
        let upto = |corner: &Corner| {
            let u = shoulder.u - corner.inward_mm;
            let before = self.slices.iter().copied().filter(move |slice| slice.u < u - 1e-3);
            before.chain([self.at(u)])
        };
        let front: Vec<Point> = upto(before).map(|slice| Point::new(slice.u, slice.front_z)).collect();
        let mut back: Vec<Point> = upto(after).map(|slice| Point::new(slice.u, slice.back_z)).collect();
        back.reverse();
        let mut path = smooth::through(&front, smooth::TRUE_MM);
        path.line_to(Point::new(shoulder.u, shoulder.front_z + before.along_mm));
        for point in edge.cut() {
            path.line_to(point);
        }
        path.line_to(Point::new(shoulder.u, shoulder.back_z - after.along_mm));
        path.line_to(back[0]);
        path.extend(smooth::through(&back, smooth::TRUE_MM).into_iter().skip(1));
        path
    }

    /// The closed outline of the cut, edged.
    fn glass(&self, edges: &[Edge; 2]) -> BezPath {
        let [low, high] = edges.each_ref().map(|edge| edge.shoulder());
        let between: Vec<Slice> =
            self.slices.iter().copied().filter(|slice| low.u + 1e-3 < slice.u && slice.u < high.u - 1e-3).collect();
        let all: Vec<Slice> = std::iter::once(low).chain(between).chain([high]).collect();
        let front: Vec<Point> = all.iter().map(|slice| Point::new(slice.u, slice.front_z)).collect();
        let back: Vec<Point> = all.iter().rev().map(|slice| Point::new(slice.u, slice.back_z)).collect();
        let mut path = smooth::through(&front, smooth::TRUE_MM);
        for point in edges[1].cut() {
            path.line_to(point);
        }
        path.line_to(back[0]);
        path.extend(smooth::through(&back, smooth::TRUE_MM).into_iter().skip(1));
        for point in edges[0].cut().into_iter().rev() {
            path.line_to(point);
        }
        path.close_path();
        path
    }

    /// z of the middle of bevel, groove and rim.
    #[must_use]
    pub fn seat(&self, end: End) -> f64 {
        self.end(end).front_z + self.seated(end, None).tip_mm
    }

    fn seated(&self, end: End, depth_mm: Option<f64>) -> Seat {
        let slice = self.end(end);
        let [low, high] = self.behind_mm;
        self.rim.seat(slice.back_z - slice.front_z, if end == End::Low { low } else { high }, depth_mm)
    }

    /// Draws the rim round an end, cut: `depth_mm` from front to back where that is known (else a usual one, as a
    /// ghost), `across_mm` thick. Nothing where the lens has no rim there.
    pub fn draw_rim(&self, canvas: &mut Canvas, place: Affine, end: End, depth_mm: Option<f64>, across_mm: f64) {
        let Edge::Bevel { shoulder, tip, half } = Edge::of(self, end) else { return };
        let seat = self.seated(end, depth_mm);
        let [front, back] = [seat.rim_front_mm, seat.rim_back_mm].map(|mm| self.end(end).front_z + mm);
        let outer = tip.x + (tip.x - shoulder.u).signum() * across_mm;
        let around = [
            (outer, front),
            (shoulder.u, front),
            (shoulder.u, tip.y - half),
            (tip.x, tip.y),
            (shoulder.u, tip.y + half),
            (shoulder.u, back),
            (outer, back),
        ]
        .map(|(u, z)| place * Point::new(u, z));
        if depth_mm.is_none() {
            canvas.polygon(&around, &GHOST);
            return;
        }
        for (from, to) in hatching(&around, 0.8) {
            canvas.line(from, to, &HATCHING);
        }
        canvas.polygon(&around, &Pen { width_mm: 0.35, ..THIN });
    }

    /// Highest z that a rim of this depth reaches.
    #[must_use]
    pub fn rim_back_z(&self, end: End, depth_mm: Option<f64>) -> f64 {
        self.end(end).front_z + self.seated(end, depth_mm).rim_back_mm
    }
}

/// What edging makes of an end.
#[derive(Clone, Copy, Debug)]
enum Edge {
    Bevel { shoulder: Slice, tip: Point, half: f64 },
    Groove { corner: Slice, inward: f64, depth: f64, middle: f64, half: f64 },
    Hole { corner: Slice, from: Slice, to: Slice },
    Plain { corner: Slice },
}

impl Edge {
    fn of(cut: &Cut, end: End) -> Edge {
        let corner = cut.end(end);
        let inward = match end {
            End::Low => 1.0,
            End::High => -1.0,
        };
        let seat = cut.seated(end, None);
        let Seat { tip_mm, half_mm, rim_front_mm: _, rim_back_mm: _ } = seat;
        let middle = corner.front_z + tip_mm;
        match cut.rim.edging() {
            Edging::Bevel { height_mm: _ } => {
                let shoulder = cut.at(corner.u + inward * seat.inset_mm());
                Edge::Bevel { shoulder, tip: Point::new(corner.u, middle), half: half_mm }
            }
            Edging::Groove { width_mm: _, depth_mm } => {
                Edge::Groove { corner, inward, depth: depth_mm, middle, half: half_mm }
            }
            Edging::Holes { .. } if !cut.through_holes => Edge::Plain { corner },
            Edging::Holes { diameter_mm, inset_mm } => {
                let [near, far] = [-0.5, 0.5].map(|part| corner.u + inward * (inset_mm + part * diameter_mm));
                Edge::Hole { corner, from: cut.at(near), to: cut.at(far) }
            }
        }
    }

    /// The last slice whose surfaces stand.
    fn shoulder(&self) -> Slice {
        match *self {
            Edge::Bevel { shoulder, tip: _, half: _ } => shoulder,
            Edge::Groove { corner, inward: _, depth: _, middle: _, half: _ } => corner,
            Edge::Hole { corner, from: _, to: _ } | Edge::Plain { corner } => corner,
        }
    }

    /// The corners between the shoulders, front to back.
    fn cut(&self) -> Vec<Point> {
        match *self {
            Edge::Bevel { shoulder, tip, half } => vec![
                Point::new(shoulder.u, (tip.y - half).max(shoulder.front_z)),
                tip,
                Point::new(shoulder.u, (tip.y + half).min(shoulder.back_z)),
            ],
            Edge::Groove { corner, inward, depth, middle, half } => {
                let floor = corner.u + inward * depth;
                [(corner.u, -half), (floor, -half), (floor, half), (corner.u, half)]
                    .map(|(u, off)| Point::new(u, middle + off))
                    .to_vec()
            }
            Edge::Hole { corner: _, from: _, to: _ } | Edge::Plain { corner: _ } => Vec::new(),
        }
    }
}

/// Lines at 45° that fill a polygon on the sheet, this far apart.
fn hatching(around: &[Point], pitch: f64) -> Vec<(Point, Point)> {
    // Along a line rising to the right x + y is constant.
    let height = |p: Point| (p.x + p.y) / std::f64::consts::SQRT_2;
    let heights = around.iter().map(|&p| height(p));
    let (low, high) = heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), h| (a.min(h), b.max(h)));
    let count = ((high - low) / pitch).floor().clamp(0.0, 500.0) as usize;
    let mut lines = Vec::new();
    for i in 0..=count {
        let level = low + (i as f64 + 0.5) * pitch;
        let mut crossings: Vec<Point> = around
            .iter()
            .zip(around.iter().cycle().skip(1))
            .filter(|(a, b)| (height(**a) > level) != (height(**b) > level))
            .map(|(a, b)| a.lerp(*b, (level - height(*a)) / (height(*b) - height(*a))))
            .collect();
        crossings.sort_by(|a, b| a.x.total_cmp(&b.x));
        lines.extend(crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    /// A plate 3 mm thick, bent to a radius of 100 mm.
    fn bent(rim: Rim) -> Cut {
        let slices = (0..=40)
            .map(|i| f64::from(i) - 20.0)
            .map(|u| {
                let z = 100.0 - (100.0_f64 * 100.0 - u * u).sqrt();
                Slice { u, front_z: z, back_z: z + 3.0 }
            })
            .collect();
        Cut::new(slices, rim).expect("enough slices")
    }

    fn glass(cut: &Cut) -> BezPath {
        cut.glass(&[Edge::of(cut, End::Low), Edge::of(cut, End::High)])
    }

    #[test]
    fn every_rim_has_its_edge() {
        let flank = 55_f64.to_radians().tan();
        for rim in Rim::ALL {
            let cut = bent(rim);
            let away = match rim.edging() {
                // Two flanks at each end: what stands over the V, less the V itself.
                Edging::Bevel { height_mm: h } => 2.0 * (3.0 * h - h * h * flank),
                Edging::Groove { width_mm, depth_mm } => 2.0 * width_mm * depth_mm,
                Edging::Holes { .. } => 0.0,
            };
            let area = glass(&cut).area().abs();
            assert!((area - (120.0 - away)).abs() < 0.02, "{rim:?}: {area} of {}", 120.0 - away);
            let bounds = glass(&cut).bounding_box();
            assert!((bounds.x0 + 20.0).abs() < 1e-9 && (bounds.x1 - 20.0).abs() < 1e-9, "{rim:?}: {bounds:?}");
        }
    }

    #[test]
    fn a_thin_edge_gets_a_smaller_bevel() {
        let slices = [-20.0, 0.0, 20.0].map(|u| Slice { u, front_z: 0.0, back_z: 0.6 });
        let cut = Cut::new(slices.to_vec(), Rim::Metal).expect("enough slices");
        let Edge::Bevel { shoulder, tip, half } = Edge::of(&cut, End::Low) else { panic!("a bevel") };
        assert!((half - 0.3).abs() < 1e-12 && (tip.y - 0.3).abs() < 1e-12);
        assert!((shoulder.u - (-20.0 + 0.3 / 55_f64.to_radians().tan())).abs() < 1e-12);
    }

    #[test]
    fn hatching_stays_inside() {
        let around = [(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 1.0), (0.0, 2.0)].map(Point::from);
        let lines = hatching(&around, 0.4);
        assert!(lines.len() > 8, "{}", lines.len());
        let path = super::super::svg::through(&around, true);
        for (from, to) in lines {
            assert_ne!(path.winding(from.midpoint(to)), 0);
            assert!(((to - from).x + (to - from).y).abs() < 1e-9, "at 45°");
        }
    }
}
