//! Outlines of lenses: a closed curve about the boxed centre that fills its box exactly, prepared for integration and
//! search.
//!
//! Units: mm and mm². x to the observer's right, y up, origin at the boxed centre; anticlockwise.

mod curve;
mod enclosing;
mod form;
mod measured;
mod shape;
mod shapes;
mod trace;

pub use curve::{Curve, CurveJet, Turn};
pub use form::Form;
pub use measured::Measured;
pub use shape::Shape;
pub use trace::{LEAST_RADII, MOST_RADII, Reading, Trace, TraceFault, Traced};

use crate::eye::Eye;
use crate::math::periodic::{Peaks, Sample, Scan};
use crate::math::{angle, quadrature, roots};
use curve::Cubic;
use kurbo::Vec2;
use std::f64::consts::TAU;

/// A point of the outline at which it is integrated over and searched.
#[derive(Clone, Copy, Debug)]
pub struct Node {
    /// Parameter.
    pub u: f64,
    /// Share of the parameter that it stands for.
    pub weight: f64,
    /// Position and derivatives.
    pub jet: CurveJet,
    /// Speed, outward normal and curvature there.
    pub turn: Turn,
}

/// How densely an outline is sampled. Steep surfaces want more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Density {
    /// Enough for every ordinary lens.
    Plain,
    /// Surfaces that stand steeply at the outline.
    Fine,
    /// Surfaces that end hardly beyond the outline.
    Finest,
}

impl Node {
    fn new(curve: &Curve, u: f64, weight: f64) -> Node {
        let jet = curve.jet(u);
        Node { u, weight, jet, turn: jet.turn() }
    }
}

/// A closed outline in its box, with all that hangs on it alone worked out once.
#[derive(Clone, Debug)]
pub struct Outline {
    curve: Curve,
    nodes: [Vec<Node>; 3],
    width_mm: f64,
    depth_mm: f64,
    area_mm2: f64,
    perimeter_mm: f64,
    longest_radius_mm: f64,
    cardinal: Cardinal,
}

/// A stretch of the outline along which it is smooth to any order.
#[derive(Clone, Copy, Debug)]
pub struct Piece<'a> {
    /// Parameter at its start.
    pub from: f64,
    /// Parameter at its end.
    pub to: f64,
    /// Its nodes.
    pub nodes: &'a [Node],
}

/// How a point lies in an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distances {
    /// The outward unit normal at the nearest point of the outline.
    pub normal: Vec2,
    /// How deep inside: the distance to that point, negative outside.
    pub inside_mm: f64,
    /// The point of the outline that is farthest away.
    pub farthest: Vec2,
    /// The distance to it.
    pub farthest_mm: f64,
}

/// Points of the outline on the horizontal and the vertical line through the boxed centre, the outermost on each side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cardinal {
    /// Toward the observer's right.
    pub right: Vec2,
    /// Upward.
    pub top: Vec2,
    /// Toward the observer's left.
    pub left: Vec2,
    /// Downward.
    pub bottom: Vec2,
}

impl Cardinal {
    /// Those toward the nose and toward the temple of this eye.
    #[must_use]
    pub fn nasal_and_temporal(&self, eye: Eye) -> (Vec2, Vec2) {
        match eye {
            Eye::Right => (self.right, self.left),
            Eye::Left => (self.left, self.right),
        }
    }
}

impl Outline {
    /// An outline of this curve, which must fill its box of `width_mm` × `depth_mm`.
    #[must_use]
    pub(crate) fn new(curve: Curve, width_mm: f64, depth_mm: f64) -> Outline {
        let nodes = [Density::Plain, Density::Fine, Density::Finest].map(|density| nodes_of(&curve, density));
        let area_mm2 = curve.area();
        let perimeter_mm = curve.perimeter();
        let cardinal = cardinal_points(&curve, &nodes[0]);
        let mut outline =
            Outline { curve, nodes, width_mm, depth_mm, area_mm2, perimeter_mm, longest_radius_mm: 0.0, cardinal };
        outline.longest_radius_mm = outline.farthest_mm(Vec2::ZERO);
        outline
    }

    /// An ellipse that fills its box.
    #[must_use]
    pub fn ellipse(width_mm: f64, depth_mm: f64) -> Outline {
        Outline::new(Curve::Ellipse { a: 0.5 * width_mm, b: 0.5 * depth_mm }, width_mm, depth_mm)
    }

    /// The curve.
    #[must_use]
    pub fn curve(&self) -> &Curve {
        &self.curve
    }

    /// Its nodes at this density, in rising order of u.
    #[must_use]
    pub fn nodes(&self, density: Density) -> &[Node] {
        &self.nodes[density as usize]
    }

    /// The same nodes, by the stretches along which the outline is smooth: all of an ellipse, each cubic piece.
    pub fn pieces(&self, density: Density) -> impl Iterator<Item = Piece<'_>> {
        let length = match &self.curve {
            Curve::Ellipse { .. } => TAU,
            Curve::Pieces(_) => 1.0,
        };
        let same = move |a: &Node, b: &Node| (a.u / length).floor() == (b.u / length).floor();
        self.nodes(density).chunk_by(same).map(move |nodes| {
            let from = length * (nodes[0].u / length).floor();
            Piece { from, to: from + length, nodes }
        })
    }

    /// Width of the box.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        self.width_mm
    }

    /// Height of the box.
    #[must_use]
    pub fn depth_mm(&self) -> f64 {
        self.depth_mm
    }

    /// Area inside.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.area_mm2
    }

    /// Length once round.
    #[must_use]
    pub fn perimeter_mm(&self) -> f64 {
        self.perimeter_mm
    }

    /// Twice the longest radius from the boxed centre.
    #[must_use]
    pub fn effective_diameter_mm(&self) -> f64 {
        2.0 * self.longest_radius_mm
    }

    /// The outermost points on the lines through the boxed centre.
    #[must_use]
    pub fn cardinal(&self) -> &Cardinal {
        &self.cardinal
    }

    /// A function given by value and gradient at a point, sampled round the outline; `None` where it is not defined.
    pub fn scan(&self, density: Density, field: impl Fn(Vec2) -> Option<(f64, Vec2)>) -> Option<Scan> {
        Scan::new(self.nodes(density).iter().map(|node| along(node.u, &node.jet, &field)), self.curve.period())
    }

    /// The same function as one of the outline's parameter, to settle what a scan has found.
    pub fn along(&self, field: impl Fn(Vec2) -> Option<(f64, Vec2)>) -> impl Fn(f64) -> Option<Sample> {
        move |u| along(u, &self.curve.jet(u), &field)
    }

    /// The longest distance from a point to the outline.
    #[must_use]
    pub fn farthest_mm(&self, from: Vec2) -> f64 {
        self.distances(from).farthest_mm
    }

    /// How deep a point lies inside: its distance from the outline, negative outside.
    #[must_use]
    pub fn depth_inside_mm(&self, point: Vec2) -> f64 {
        self.distances(point).inside_mm
    }

    /// How a point lies in the outline.
    #[must_use]
    pub fn distances(&self, from: Vec2) -> Distances {
        let square = |p: Vec2| Some(((p - from).hypot2(), 2.0 * (p - from)));
        let scan = self.scan(Density::Plain, square);
        let peak = |peaks: Option<Peaks>| peaks.and_then(|peaks| peaks.all().first().map(|peak| peak.u));
        let along = self.along(square);
        let far = scan.as_ref().and_then(|scan| peak(scan.max(&along)));
        let near = self.curve.jet(scan.as_ref().and_then(|scan| peak(scan.min(&along))).unwrap_or(0.0));
        let farthest = far.map_or(self.cardinal.right, |u| self.curve.jet(u).p);
        let normal = near.turn().normal;
        let inside = (near.p - from).dot(normal) >= 0.0;
        let nearest_mm = (near.p - from).hypot();
        Distances {
            normal,
            inside_mm: if inside { nearest_mm } else { -nearest_mm },
            farthest,
            farthest_mm: (farthest - from).hypot(),
        }
    }

    /// The outermost point of the outline in a direction from the boxed centre; `None` for a direction that is no number.
    #[must_use]
    pub fn at_deg(&self, deg: f64) -> Option<Vec2> {
        let (cos, sin) = angle::cos_sin_deg(deg);
        let way = Vec2::new(cos, sin);
        let off = |u: f64| way.cross(self.curve.jet(u).p);
        let nodes = &self.nodes[Density::Finest as usize];
        let next = nodes.iter().skip(1).map(|node| node.u).chain([nodes[0].u + self.curve.period()]);
        let crossings = nodes.iter().map(|node| node.u).zip(next).filter_map(|(from, to)| {
            let (before, after) = ((from, off(from)), (to, off(to)));
            let crosses = (before.1 > 0.0) != (after.1 > 0.0);
            let span = 1e-13 * self.curve.period();
            let found =
                crosses.then(|| roots::between(off, before, after, span).unwrap_or_else(|unsettled| unsettled.at));
            found.map(|u| self.curve.jet(u).p).filter(|p| way.dot(*p) > 0.0)
        });
        crossings.reduce(|a, b| if b.hypot2() > a.hypot2() { b } else { a })
    }

    /// Radius of the smallest circle that holds the outline.
    #[must_use]
    pub fn enclosing_radius_mm(&self) -> f64 {
        enclosing::circle(|from| self.distances(from).farthest).1
    }

    /// The middle of that circle.
    #[must_use]
    pub fn enclosing_middle(&self) -> Vec2 {
        enclosing::circle(|from| self.distances(from).farthest).0
    }
}

/// A field's value and its slope along a curve.
fn along(u: f64, jet: &CurveJet, field: &impl Fn(Vec2) -> Option<(f64, Vec2)>) -> Option<Sample> {
    field(jet.p).map(|(value, gradient)| Sample { u, value, slope: gradient.dot(jet.d1) })
}

/// Of a shape in more pieces than this, those shorter than these shares of the way round need fewer nodes; the fewest
/// only where they hardly turn.
const MOST_LONG: usize = 20;
const SHORT: f64 = 1.0 / 20.0;
const SHORTER: f64 = 1.0 / 60.0;
const STRAIGHT_RAD: f64 = 0.2;

/// Nodes of an ellipse stand for equal steps of the angle (the rule that converges fastest on a closed smooth curve),
/// those of pieces are Gauss nodes of each piece.
fn nodes_of(curve: &Curve, density: Density) -> Vec<Node> {
    match curve {
        Curve::Ellipse { .. } => {
            let count = [32, 72, 240][density as usize];
            let step = TAU / f64::from(count);
            (0..count).map(|i| Node::new(curve, f64::from(i) * step, step)).collect()
        }
        Curve::Pieces(pieces) => {
            let round_mm: f64 = pieces.iter().map(Cubic::rough_length).sum();
            let nodes = |(i, piece): (usize, &Cubic)| {
                let counts = match piece.rough_length() / round_mm {
                    share if pieces.len() <= MOST_LONG || share > SHORT => [5, 8, 24],
                    share if share > SHORTER || piece.turn_rad() > STRAIGHT_RAD => [3, 5, 12],
                    _ => [2, 4, 8],
                };
                let rule = quadrature::gauss(counts[density as usize]);
                rule.iter().map(move |node| Node::new(curve, i as f64 + node.at, node.weight))
            };
            pieces.iter().enumerate().flat_map(nodes).collect()
        }
    }
}

fn cardinal_points(curve: &Curve, nodes: &[Node]) -> Cardinal {
    if let Curve::Ellipse { a, b } = curve {
        return Cardinal {
            right: Vec2::new(*a, 0.0),
            top: Vec2::new(0.0, *b),
            left: Vec2::new(-*a, 0.0),
            bottom: Vec2::new(0.0, -*b),
        };
    }
    let mut cardinal = Cardinal { right: Vec2::ZERO, top: Vec2::ZERO, left: Vec2::ZERO, bottom: Vec2::ZERO };
    let period = curve.period();
    for (i, node) in nodes.iter().enumerate() {
        let next = &nodes[(i + 1) % nodes.len()];
        let end = if i + 1 < nodes.len() { next.u } else { next.u + period };
        let crossing = |coordinate: fn(Vec2) -> f64| {
            let (from, to) = (coordinate(node.jet.p), coordinate(next.jet.p));
            ((from < 0.0) != (to < 0.0)).then(|| {
                let u = roots::between(|u| coordinate(curve.jet(u).p), (node.u, from), (end, to), 1e-14)
                    .unwrap_or_else(|unsettled| unsettled.at);
                curve.jet(u).p
            })
        };
        if let Some(p) = crossing(|p| p.y) {
            if p.x > cardinal.right.x {
                cardinal.right = Vec2::new(p.x, 0.0);
            }
            if p.x < cardinal.left.x {
                cardinal.left = Vec2::new(p.x, 0.0);
            }
        }
        if let Some(p) = crossing(|p| p.x) {
            if p.y > cardinal.top.y {
                cardinal.top = Vec2::new(0.0, p.y);
            }
            if p.y < cardinal.bottom.y {
                cardinal.bottom = Vec2::new(0.0, p.y);
            }
        }
    }
    cardinal
}

/// Direction of a point from the boxed centre, 0 ≤ deg < 360.
#[must_use]
pub fn direction_deg(point: Vec2) -> f64 {
    angle::direction_deg(point.x, point.y)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{CubicBez, ParamCurve, Point};

    /// A 50 mm square whose corners are arcs of 10 mm radius, each side and each corner cut into so many equal pieces.
    fn rounded_square(cuts: [usize; 8]) -> Curve {
        // What an arc of a quarter wants of a cubic.
        let hand = 10.0 * 0.552_284_75;
        let mut pieces = Vec::new();
        for (i, pair) in cuts.chunks(2).enumerate() {
            let turned = |x: f64, y: f64| match i {
                0 => Point::new(x, y),
                1 => Point::new(-y, x),
                2 => Point::new(-x, -y),
                _ => Point::new(y, -x),
            };
            let corner = CubicBez::new(
                turned(25.0, 15.0),
                turned(25.0, 15.0 + hand),
                turned(15.0 + hand, 25.0),
                turned(15.0, 25.0),
            );
            let side = CubicBez::new(turned(15.0, 25.0), turned(5.0, 25.0), turned(-5.0, 25.0), turned(-15.0, 25.0));
            for (whole, cuts) in [(corner, pair[0]), (side, pair[1])] {
                let cut = |k: usize| k as f64 / cuts as f64;
                pieces.extend((0..cuts).map(|k| whole.subsegment(cut(k)..cut(k + 1))));
            }
        }
        Curve::boxed(&pieces, 50.0, 50.0)
    }

    /// Nodes by piece: many on a long piece or where all are few; fewer on a short one; fewest on one that is very short
    /// and hardly turns.
    #[test]
    fn short_pieces_take_fewer_nodes() {
        let by_piece = |curve: &Curve, density: Density| {
            let mut counts = vec![0; 8];
            for node in nodes_of(curve, density) {
                counts.resize(counts.len().max(node.u as usize + 1), 0);
                counts[node.u as usize] += 1;
            }
            counts
        };
        let few = rounded_square([1; 8]);
        assert_eq!(by_piece(&few, Density::Plain), [5; 8]);
        // Of 183 mm: corners of 2.6 mm, 1/70, that turn by 15°, of 1.6 mm that turn by 9°, of 5.2 and 15.7 mm; sides of
        // 30 mm, 1/6, and of 5 mm, 1/37, 1.5 mm, 1/122, and 7.5 mm, 1/24, all straight.
        let cuts = [6, 1, 10, 6, 3, 20, 1, 4];
        let many = rounded_square(cuts);
        for (density, [most, fewer, fewest]) in
            [(Density::Plain, [5, 3, 2]), (Density::Fine, [8, 5, 4]), (Density::Finest, [24, 12, 8])]
        {
            let each = [fewer, most, fewest, fewer, fewer, fewest, most, fewer];
            let wanted: Vec<usize> = cuts.iter().zip(each).flat_map(|(n, each)| vec![each; *n]).collect();
            assert_eq!(by_piece(&many, density), wanted);
        }
    }
}
