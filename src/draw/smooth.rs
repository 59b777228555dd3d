//! Smooth curves through points: few cubic pieces through some of them, in the directions that all of them show.
//!
//! Units: those of the points, mm in pictures. A piece turns by 0.8 radian at the most: against a circle it is then
//! off by less than 1e-5 of the radius.

use kurbo::{BezPath, Point, Vec2};

/// A piece turns no further than this, in radians.
const MOST_TURN: f64 = 0.8;
/// A sharper turn between two neighbours is a corner, in radians.
const CORNER: f64 = 1.0;
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

/// Adds a smooth closed curve through a ring of points, its corners kept.
pub(super) fn append(path: &mut BezPath, ring: &[Point]) {
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
        pieces(path, &round, true);
    } else {
        for (k, &from) in corners.iter().enumerate() {
            let to = corners[(k + 1) % corners.len()];
            let length = (to + n - from - 1) % n + 1;
            let run: Vec<Point> = (0..=length).map(|i| ring[(from + i) % n]).collect();
            pieces(path, &run, false);
        }
    }
    path.close_path();
}

/// An open smooth curve through points in order.
pub(super) fn through(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    if let Some(&first) = points.first() {
        path.move_to(first);
        pieces(&mut path, points, false);
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

/// Cubic pieces from the first point, where the path stands, to the last.
fn pieces(path: &mut BezPath, points: &[Point], closed: bool) {
    if points.len() < 2 {
        return;
    }
    let ways = directions(points, closed);
    let last = points.len() - 1;
    let (mut from, mut turned, mut length) = (0, 0.0, 0.0);
    for i in 0..last {
        turned += turn(ways[i], ways[i + 1]);
        length += (points[i + 1] - points[i]).hypot();
        let ends = i + 1 == last || turned + turn(ways[i + 1], ways[i + 2]) > MOST_TURN;
        if ends {
            add(path, (points[from], ways[from]), (points[i + 1], ways[i + 1]), length);
            (from, turned, length) = (i + 1, 0.0, 0.0);
        }
    }
}

/// One piece: handles of a third of the way, lengthened as a circle's are; a line where it hardly bends.
fn add(path: &mut BezPath, (from, out): (Point, Vec2), (to, into): (Point, Vec2), length: f64) {
    let chord = to - from;
    let bend = out.cross(chord).abs().max(into.cross(chord).abs());
    if bend < 0.004 * chord.hypot() && bend < 0.02 {
        path.line_to(to);
        return;
    }
    let angle = turn(out, into);
    // For a circle: 4/3 tan(angle/4) radii, and the arc is angle radii long.
    let share = if angle > 1e-3 { 4.0 / 3.0 * (angle / 4.0).tan() / angle } else { 1.0 / 3.0 };
    let arc = if angle > 1e-3 { chord.hypot() * 0.5 * angle / (0.5 * angle).sin() } else { length };
    path.curve_to(from + share * arc * out, to - share * arc * into, to);
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{ParamCurve, PathSeg};
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
        append(&mut path, &thinned(ring.into_iter(), 0.2));
        let off = farthest_off(&path, 20.0);
        assert!(off < 0.002, "{off}");
        assert!(path.elements().len() < 20, "{}", path.elements().len());
    }

    #[test]
    fn corners_stay() {
        let side = |from: Point, to: Point| (0..10).map(move |i| from.lerp(to, f64::from(i) / 10.0));
        let at = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)].map(Point::from);
        let ring: Vec<Point> = (0..4).flat_map(|k| side(at[k], at[(k + 1) % 4])).collect();
        let mut path = BezPath::new();
        append(&mut path, &ring);
        assert_eq!(kurbo::Shape::bounding_box(&path), kurbo::Rect::new(0.0, 0.0, 10.0, 10.0));
        assert_eq!(path.elements().len(), 6);
        assert!((kurbo::Shape::area(&path) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn an_open_curve_goes_through_its_ends_in_their_direction() {
        let arc: Vec<Point> = (0..=20).map(|i| Point::ORIGIN + 60.0 * Vec2::from_angle(0.02 * f64::from(i))).collect();
        let path = through(&arc);
        assert!(farthest_off(&path, 60.0) < 0.002, "{}", farthest_off(&path, 60.0));
        assert!(path.elements().len() <= 3, "{}", path.elements().len());
        assert_eq!(through(&arc[..1]).elements().len(), 1);
        assert_eq!(through(&arc[..2]).elements().len(), 2);
    }
}
