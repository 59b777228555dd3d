//! Smooth curves through points: few cubic pieces through some of them, in the directions that all of them show.
//!
//! Units: those of the points, mm in pictures. A piece turns by 0.8 radian at the most: against a circle it is then
//! off by less than 1e-5 of the radius.

use kurbo::{BezPath, CubicBez, Line, ParamCurve, ParamCurveDeriv, Point, Vec2};

/// A piece turns no further than this, in radians.
const MOST_TURN: f64 = 0.8;
/// A sharper turn between two neighbours is a corner, in radians.
const CORNER: f64 = 1.0;
/// Lines of surfaces and outlines pass by no point farther than this.
pub(super) const TRUE_MM: f64 = 0.01;
/// Lines that have no length to be measured pass by no point farther than this: less than they are wide.
pub(super) const NEAR_MM: f64 = 0.06;
/// Rings of fewer points have no corners.
const FEW: usize = 10;

/// A closed ring without points that stand nearer than this to the one before.
pub(super) fn thinned(ring: impl Iterator<Item = Point>, nearest: f64) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for point in ring {
        if kept.last().is_none_or(|last| (point - *last).hypot() >= nearest) {
            kept.push(point);
        }
    }
    while kept.len() > 1 && kept.last().is_some_and(|last| (*last - kept[0]).hypot() < nearest) {
        kept.pop();
    }
    kept
}

/// Adds a smooth closed curve through a ring of points, its corners kept, passing by none of them farther than `off_mm`.
pub(super) fn append(path: &mut BezPath, ring: &[Point], off_mm: f64) {
    let n = ring.len();
    if n < 3 {
        return;
    }
    let sharp = |i: usize| {
        let (before, after) = (ring[i] - ring[(i + n - 1) % n], ring[(i + 1) % n] - ring[i]);
        turn(before, after) > CORNER
    };
    let corners: Vec<usize> = if n < FEW { Vec::new() } else { (0..n).filter(|&i| sharp(i)).collect() };
    let first = corners.first().copied().unwrap_or(0);
    path.move_to(ring[first]);
    if corners.is_empty() {
        let mut round: Vec<Point> = ring.to_vec();
        round.push(ring[0]);
        pieces(path, &round, true, off_mm);
    } else {
        for (k, &from) in corners.iter().enumerate() {
            let to = corners[(k + 1) % corners.len()];
            let length = (to + n - from - 1) % n + 1;
            let run: Vec<Point> = (0..=length).map(|i| ring[(from + i) % n]).collect();
            pieces(path, &run, false, off_mm);
        }
    }
    path.close_path();
}

/// An open smooth curve through points in order, passing by none of them farther than `off_mm`.
pub(super) fn through(points: &[Point], off_mm: f64) -> BezPath {
    let mut path = BezPath::new();
    if let Some(&first) = points.first() {
        path.move_to(first);
        pieces(&mut path, points, false, off_mm);
    }
    path
}

fn turn(one: Vec2, other: Vec2) -> f64 {
    one.cross(other).atan2(one.dot(other)).abs()
}

/// Unit direction at each point: along the parabola through it and its neighbours, from three points at the ends of an
/// open run too.
fn directions(points: &[Point], closed: bool) -> Vec<Vec2> {
    let last = points.len() - 1;
    let at = |i: usize| {
        let (a, b, c) = match (closed, i) {
            (true, i) => (points[(i + last - 1) % last], points[i % last], points[(i + 1) % last]),
            (false, 0) => (points[0], points[1], points[2.min(last)]),
            (false, i) if i == last => (points[last.saturating_sub(2)], points[last - 1], points[last]),
            (false, i) => (points[i - 1], points[i], points[i + 1]),
        };
        let (before, after) = (b - a, c - b);
        let (s, t) = (before.hypot().max(1e-9), after.hypot().max(1e-9));
        // Slopes of the two chords; the parabola's at b weighs each with the other's length.
        let (p, q) = (before / s, after / t);
        let middle = (p * t + q * s) / (s + t);
        let way = match (closed, i) {
            (false, 0) if last > 1 => 2.0 * p - middle,
            (false, i) if i == last && last > 1 => 2.0 * q - middle,
            (false, _) if last == 1 => points[1] - points[0],
            _ => middle,
        };
        if way.hypot() > 1e-9 { way.normalize() } else { q }
    };
    (0..=last).map(at).collect()
}

/// Cubic pieces from the first point, where the path stands, to the last: each as long as it turns no further than it may
/// and passes by no point.
fn pieces(path: &mut BezPath, points: &[Point], closed: bool, off_mm: f64) {
    if points.len() < 2 {
        return;
    }
    let ways = directions(points, closed);
    let last = points.len() - 1;
    let mut from = 0;
    while from < last {
        let (mut to, mut turned) = (from + 1, turn(ways[from], ways[from + 1]));
        while to < last && turned + turn(ways[to], ways[to + 1]) <= MOST_TURN {
            turned += turn(ways[to], ways[to + 1]);
            to += 1;
        }
        let mut piece = Piece::of(points, &ways, from, to);
        while to > from + 1 && piece.off(&points[from..=to]) > off_mm {
            to = from + (to - from).div_ceil(2);
            piece = Piece::of(points, &ways, from, to);
        }
        match piece {
            Piece::Line(line) => path.line_to(line.p1),
            Piece::Bend(bend) => path.curve_to(bend.p1, bend.p2, bend.p3),
        }
        from = to;
    }
}

/// A piece: handles of a third of the way, lengthened as a circle's are; a line where it hardly bends.
#[derive(Clone, Copy)]
enum Piece {
    Line(Line),
    Bend(CubicBez),
}

impl Piece {
    fn of(points: &[Point], ways: &[Vec2], from: usize, to: usize) -> Piece {
        let (start, out, end, into) = (points[from], ways[from], points[to], ways[to]);
        let chord = end - start;
        let bend = out.cross(chord).abs().max(into.cross(chord).abs());
        if bend < 0.004 * chord.hypot() && bend < 0.02 {
            return Piece::Line(Line::new(start, end));
        }
        let angle = turn(out, into);
        // For a circle: 4/3 tan(angle/4) radii, and the arc is angle radii long.
        let (share, arc) = if angle > 1e-3 {
            (4.0 / 3.0 * (angle / 4.0).tan() / angle, chord.hypot() * 0.5 * angle / (0.5 * angle).sin())
        } else {
            (1.0 / 3.0, chord.hypot())
        };
        Piece::Bend(CubicBez::new(start, start + share * arc * out, end - share * arc * into, end))
    }

    /// How far it passes by the points that it joins, at the most: across itself, where it is as far along as they are.
    fn off(&self, points: &[Point]) -> f64 {
        let steps = || points.windows(2).map(|pair| (pair[1] - pair[0]).hypot());
        let length: f64 = steps().sum();
        let along = steps().scan(0.0, |sum, step| {
            *sum += step;
            Some(*sum / length)
        });
        let off = |(t, point): (f64, &Point)| {
            let (at, way) = match self {
                Piece::Line(line) => (line.eval(t), line.p1 - line.p0),
                Piece::Bend(bend) => (bend.eval(t), bend.deriv().eval(t).to_vec2()),
            };
            way.cross(*point - at).abs() / way.hypot().max(1e-9)
        };
        along.zip(&points[1..]).map(off).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{ParamCurveNearest, PathSeg};
    use std::f64::consts::TAU;

    fn farthest_off(path: &BezPath, radius: f64) -> f64 {
        let points =
            path.segments().flat_map(|segment: PathSeg| (0..=20).map(move |i| segment.eval(f64::from(i) / 20.0)));
        points.map(|p| (p.to_vec2().hypot() - radius).abs()).fold(0.0, f64::max)
    }

    #[test]
    fn a_ring_of_uneven_points_becomes_a_circle_in_few_pieces() {
        let ring: Vec<Point> = (0..90)
            .map(|i| (f64::from(i) + 0.3 * f64::from(i % 3)) / 90.0 * TAU)
            .map(|angle| Point::ORIGIN + 20.0 * Vec2::from_angle(angle))
            .collect();
        let mut path = BezPath::new();
        append(&mut path, &thinned(ring.into_iter(), 0.2), TRUE_MM);
        let off = farthest_off(&path, 20.0);
        assert!(off < 0.002, "{off}");
        assert!(path.elements().len() < 20, "{}", path.elements().len());
    }

    #[test]
    fn an_uneven_bend_is_followed() {
        // A flat side that turns into a narrow corner.
        let at = |u: f64| Point::new(20.0 * u.cos().abs().powf(0.6) * u.cos().signum(), 12.0 * u.sin());
        let ring: Vec<Point> = (0..160).map(|i| at((f64::from(i) + 0.5) / 160.0 * TAU)).collect();
        let mut path = BezPath::new();
        append(&mut path, &ring, TRUE_MM);
        let near = |p: &Point| path.segments().map(|s| s.nearest(*p, 1e-6).distance_sq).fold(f64::INFINITY, f64::min);
        let off = ring.iter().map(near).fold(0.0, f64::max).sqrt();
        assert!(off < 1.5 * TRUE_MM, "{off}");
    }

    #[test]
    fn corners_stay() {
        let side = |from: Point, to: Point| (0..10).map(move |i| from.lerp(to, f64::from(i) / 10.0));
        let at = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(Point::from);
        let ring: Vec<Point> = (0..4).flat_map(|k| side(at[k], at[(k + 1) % 4])).collect();
        let mut path = BezPath::new();
        append(&mut path, &ring, TRUE_MM);
        assert_eq!(kurbo::Shape::bounding_box(&path), kurbo::Rect::new(0.0, 0.0, 10.0, 10.0));
        assert_eq!(path.elements().len(), 6);
        assert!((kurbo::Shape::area(&path) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn an_open_curve_goes_through_its_ends_in_their_direction() {
        let arc: Vec<Point> = (0..=20).map(|i| Point::ORIGIN + 60.0 * Vec2::from_angle(0.02 * f64::from(i))).collect();
        let path = through(&arc, TRUE_MM);
        assert!(farthest_off(&path, 60.0) < 0.002, "{}", farthest_off(&path, 60.0));
        assert!(path.elements().len() <= 3, "{}", path.elements().len());
        assert_eq!(through(&arc[..1], TRUE_MM).elements().len(), 1);
        assert_eq!(through(&arc[..2], TRUE_MM).elements().len(), 2);
    }
}
