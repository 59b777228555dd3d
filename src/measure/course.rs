//! The way that the tip of a bevel, or the middle of a groove, takes round the edge: where it is wished, and whether the
//! edge has room for it there.
//!
//! Units: mm, curvatures in 1/mm. Points from the boxed centre; z from the vertex of the front, toward the eye.

use super::Mounted;
use crate::lens::TOOLING_INDEX;
use crate::math::least_squares::Normal;
use crate::outline::{Density, Outline, direction_deg};
use crate::rim::{Edging, Position, Rim, Seat};
use kurbo::Vec2;

/// Rounds in which the height of a ball of known curvature is settled; each leaves a tenth of the error or so.
const ROUNDS: usize = 60;
/// The last step of its curvature, 1/mm.
const SETTLED: f64 = 1e-14;
/// Rounds in which the worst place is narrowed down between two samples, to about a millionth of their distance.
const NARROWED: usize = 30;
/// What half the squared distance from the middle must vary by (root mean square, mm²) round an outline for it to have a
/// curve: with less a dioptre makes less than 0.01 mm, and the outline is as good as round.
const ROUND_MM2: f64 = 5.0;

/// A sphere in any place, or a plane in any tilt: z = d + a x + b y + c (h² + z²)/2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ball {
    d: f64,
    a: f64,
    b: f64,
    c: f64,
}

impl Ball {
    /// z at a point; `None` beyond it.
    #[must_use]
    pub fn z(&self, p: Vec2) -> Option<f64> {
        let m = self.d + self.a * p.x + self.b * p.y + 0.5 * self.c * p.hypot2();
        let under = 1.0 - 2.0 * self.c * m;
        (under > 0.0).then(|| 2.0 * m / (1.0 + under.sqrt()))
    }

    /// Its curvature, hollow toward the eye as positive.
    #[must_use]
    pub fn curvature(&self) -> f64 {
        self.c / (1.0 + self.a * self.a + self.b * self.b - 2.0 * self.d * self.c).sqrt()
    }

    fn moved(&self, by_mm: f64) -> Ball {
        // z − by in the place of z; what is left over by² is taken into d.
        let Ball { d, a, b, c } = *self;
        let scale = 1.0 + c * by_mm;
        Ball { d: (d + by_mm + 0.5 * c * by_mm * by_mm) / scale, a: a / scale, b: b / scale, c: c / scale }
    }

    /// Of this curvature, nearest to points in the square of what lies between along z; `None` where it ends before them.
    fn nearest(curvature: f64, points: impl Iterator<Item = (f64, Vec2, f64)> + Clone) -> Option<Ball> {
        let mut c = curvature;
        for _ in 0..ROUNDS {
            let mut normal = Normal::default();
            for (weight, p, z) in points.clone() {
                normal.add(weight, [1.0, p.x, p.y], z - 0.5 * c * (p.hypot2() + z * z));
            }
            let ([d, a, b], _) = normal.solve()?;
            let ball = Ball { d, a, b, c };
            let stretch = 1.0 + a * a + b * b - 2.0 * d * c;
            if stretch <= 0.0 {
                return None;
            }
            let settled = curvature * stretch.sqrt();
            if (settled - c).abs() <= SETTLED {
                return Some(ball);
            }
            c = settled;
        }
        None
    }

    /// Of whatever curvature comes nearest to points; `None` where they lie all but in a plane circle, which is of no curve.
    fn through(points: impl Iterator<Item = (f64, Vec2, f64)>) -> Option<Ball> {
        let (mut normal, mut weights) = (Normal::default(), 0.0);
        for (weight, p, z) in points {
            normal.add(weight, [1.0, p.x, p.y, 0.5 * (p.hypot2() + z * z)], z);
            weights += weight;
        }
        let ([d, a, b, c], left) = normal.solve()?;
        (left > weights * ROUND_MM2 * ROUND_MM2).then_some(Ball { d, a, b, c })
    }
}

/// The way of bevel or groove round one lens.
#[derive(Clone, Copy, Debug)]
pub struct Course<'a> {
    mounted: Mounted<'a>,
    rim: Rim,
    way: Way,
}

#[derive(Clone, Copy, Debug)]
enum Way {
    Told(Position),
    On(Ball),
}

/// One place of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Passed {
    /// Where on the outline.
    pub point: Vec2,
    /// z of the edge's front corner.
    pub front_z: f64,
    /// z of its back corner.
    pub back_z: f64,
    /// Where bevel or groove are wished, behind the front corner.
    pub wanted_mm: f64,
    /// Where they come to lie.
    pub seat: Seat,
}

/// A worst place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// How much it is, never below nought.
    pub mm: f64,
    /// Its direction from the boxed centre.
    pub deg: f64,
}

impl Passed {
    /// z of the tip of the bevel or the middle of the groove.
    #[must_use]
    pub fn tip_z(&self) -> f64 {
        self.front_z + self.seat.tip_mm
    }

    /// How far from where it is wished it has to lie, so that it stays within the edge.
    #[must_use]
    pub fn moved_mm(&self) -> f64 {
        (self.seat.tip_mm - self.wanted_mm).abs()
    }
}

/// Curvature of a power marked at index 1.530.
fn curvature(marked_d: f64) -> f64 {
    marked_d / (1000.0 * (TOOLING_INDEX - 1.0))
}

impl<'a> Mounted<'a> {
    /// The way of bevel or groove; `None` where a surface or the rim's curve ends too soon.
    #[must_use]
    pub fn course(&self, rim: Rim, position: Position) -> Option<Course<'a>> {
        let told = |position| Course { mounted: *self, rim, way: Way::Told(position) };
        match position {
            Position::RimCurve { rim_curve_d } => told(Position::Usual).onto(curvature(rim_curve_d)),
            other => Some(told(other)),
        }
    }
}

impl<'a> Course<'a> {
    /// What it is wished at a point of the outline, and what comes of it; `None` where a surface ends too soon.
    #[must_use]
    pub fn at(&self, point: Vec2, rim_depth_mm: Option<f64>) -> Option<Passed> {
        let front_z = self.mounted.lens.front().sag(point - self.mounted.reference)?;
        let edge_mm = self.mounted.thickness(point)?;
        let wanted_mm = match self.way {
            Way::Told(position) => position.behind_mm(edge_mm)?,
            Way::On(ball) => ball.z(point)? - front_z,
        };
        let seat = self.rim.seat(edge_mm, wanted_mm, rim_depth_mm);
        Some(Passed { point, front_z, back_z: front_z + edge_mm, wanted_mm, seat })
    }

    /// The lens in its outline that it goes round.
    #[must_use]
    pub fn mounted(&self) -> &Mounted<'a> {
        &self.mounted
    }

    /// How far inside the outline the edge's corners stand: at the shoulder of a bevel, else on the outline.
    #[must_use]
    pub fn inset_mm(&self, passed: &Passed) -> f64 {
        match self.rim.edging() {
            Edging::Bevel { .. } => passed.seat.inset_mm(),
            Edging::Groove { .. } | Edging::Holes { .. } => 0.0,
        }
    }

    /// How far behind the front corner it comes to lie, least and most.
    #[must_use]
    pub fn behind_mm(&self) -> Option<[f64; 2]> {
        let behind = |p: Vec2| self.seat(p, None).map(|seat| seat.tip_mm);
        let outline = self.mounted.outline;
        Some([lowest(outline, behind)?, highest(outline, behind)?.0])
    }

    /// The seat at a point of the outline.
    #[must_use]
    pub fn seat(&self, point: Vec2, rim_depth_mm: Option<f64>) -> Option<Seat> {
        self.at(point, rim_depth_mm).map(|passed| passed.seat)
    }

    /// The curve of the tip as it comes out, as marked at index 1.530: of the sphere that lies nearest to it. `None` where
    /// the outline is as good as round, for a plane circle lies on spheres of any curve.
    #[must_use]
    pub fn curve_d(&self) -> Option<f64> {
        let ball = Ball::through(self.points(Passed::tip_z).collect::<Option<Vec<_>>>()?.into_iter())?;
        Some(1000.0 * (TOOLING_INDEX - 1.0) * ball.curvature())
    }

    /// Where bevel or groove have to leave the place that is wished for them most, so that they stay within the edge.
    #[must_use]
    pub fn most_moved(&self) -> Option<Worst> {
        self.worst(|point| self.at(point, None).map(|passed| passed.moved_mm()))
    }

    /// How far, along z, the tip lies from a rim of this curve where it lies farthest from it. The lens is put into the rim,
    /// tilted and shifted, as it fits best (least squares along the outline).
    #[must_use]
    pub fn off_rim(&self, rim_curve_d: f64) -> Option<Worst> {
        self.off(rim_curve_d, Passed::tip_z)
    }

    /// The same of the front surface.
    #[must_use]
    pub fn front_off_rim(&self, rim_curve_d: f64) -> Option<Worst> {
        self.off(rim_curve_d, |passed| passed.front_z)
    }

    /// The sphere that a rim of this curve lies on when the tip fits it best.
    #[must_use]
    pub fn rim(&self, rim_curve_d: f64) -> Option<Ball> {
        self.nearest(rim_curve_d, Passed::tip_z)
    }

    fn nearest(&self, rim_curve_d: f64, z: fn(&Passed) -> f64) -> Option<Ball> {
        let points = self.points(z).collect::<Option<Vec<_>>>()?;
        Ball::nearest(curvature(rim_curve_d), points.iter().copied())
    }

    fn off(&self, rim_curve_d: f64, z: fn(&Passed) -> f64) -> Option<Worst> {
        let ball = self.nearest(rim_curve_d, z)?;
        self.worst(|point| Some((z(&self.at(point, None)?) - ball.z(point)?).abs()))
    }

    /// The same lens with its bevel on a sphere of this curvature: tilted as it follows the usual course best, and so far
    /// back that it keeps its usual distance behind the front everywhere, if the edge has room for that; else as far, and
    /// where there is no such place at all, midway between what the front and what the back allow.
    fn onto(&self, curvature: f64) -> Option<Course<'a>> {
        let nodes = self.mounted.outline.nodes(Density::Finest).iter();
        let points = nodes.clone().map(|node| (node.weight * node.turn.speed, node.jet.p));
        // Not to allocate, each round walks the edge anew; where a surface ends there is no course.
        let usual = |point: Vec2| self.at(point, None);
        if points.clone().any(|(_, p)| usual(p).is_none()) {
            return None;
        }
        let ball = Ball::nearest(
            curvature,
            points.clone().filter_map(|(weight, p)| usual(p).map(|passed| (weight, p, passed.tip_z()))),
        )?;
        // How far this sphere would have to go back for what is asked of it, and how far it may.
        let outline = self.mounted.outline;
        let above = |z: fn(&Passed) -> f64| move |p: Vec2| Some(z(&usual(p)?) - ball.z(p)?);
        let least = highest(outline, above(|passed| passed.front_z + passed.seat.half_mm))?.0;
        let wished = highest(outline, above(Passed::tip_z))?.0;
        let most = lowest(outline, above(|passed| passed.back_z - passed.seat.half_mm))?;
        let by_mm = if least <= most { wished.min(most) } else { 0.5 * (least + most) };
        Some(Course { way: Way::On(ball.moved(by_mm)), ..*self })
    }

    fn points(&self, z: fn(&Passed) -> f64) -> impl Iterator<Item = Option<(f64, Vec2, f64)>> + Clone {
        let nodes = self.mounted.outline.nodes(Density::Finest).iter();
        nodes.map(move |node| {
            self.at(node.jet.p, None).map(|passed| (node.weight * node.turn.speed, node.jet.p, z(&passed)))
        })
    }

    fn worst(&self, of: impl Fn(Vec2) -> Option<f64>) -> Option<Worst> {
        worst(self.mounted.outline, of)
    }
}

/// The most of something that is never below nought round an outline, and its direction.
pub(super) fn worst(outline: &Outline, of: impl Fn(Vec2) -> Option<f64>) -> Option<Worst> {
    let (most, place) = highest(outline, of)?;
    Some(Worst { mm: most.max(0.0), deg: direction_deg(place) })
}

/// The least of something round an outline.
fn lowest(outline: &Outline, of: impl Fn(Vec2) -> Option<f64>) -> Option<f64> {
    Some(-highest(outline, |p| of(p).map(|value| -value))?.0)
}

/// The most of something round an outline, and where: the samples that are larger than their neighbours, each narrowed down.
fn highest(outline: &Outline, of: impl Fn(Vec2) -> Option<f64>) -> Option<(f64, Vec2)> {
    let (curve, nodes) = (outline.curve(), outline.nodes(Density::Finest));
    let at = |u: f64| {
        let p = curve.jet(u).p;
        of(p).map(|value| (value, p))
    };
    let period = curve.period();
    let before = nodes.last().map(|node| node.u - period);
    let after = nodes.first().map(|node| node.u + period);
    let places = before.into_iter().chain(nodes.iter().map(|node| node.u)).chain(after);
    let mut most = (f64::NEG_INFINITY, Vec2::ZERO);
    let mut last: [Option<(f64, f64)>; 2] = [None; 2];
    for u in places {
        let (value, p) = at(u)?;
        if value > most.0 {
            most = (value, p);
        }
        if let [Some((low, first)), Some((_, middle))] = last
            && middle >= first
            && middle >= value
        {
            let found = narrowed(&at, low, u)?;
            if found.0 > most.0 {
                most = found;
            }
        }
        last = [last[1], Some((u, value))];
    }
    Some(most)
}

/// The largest value that a search by thirds comes past.
fn narrowed(at: &impl Fn(f64) -> Option<(f64, Vec2)>, mut low: f64, mut high: f64) -> Option<(f64, Vec2)> {
    let mut most = (f64::NEG_INFINITY, Vec2::ZERO);
    for _ in 0..NARROWED {
        let [left, right] = [1.0 / 3.0, 2.0 / 3.0].map(|share| low + share * (high - low));
        let (a, b) = (at(left)?, at(right)?);
        for found in [a, b] {
            if found.0 > most.0 {
                most = found;
            }
        }
        if a.0 < b.0 {
            low = left;
        } else {
            high = right;
        }
    }
    Some(most)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(z: impl Fn(Vec2) -> f64) -> Vec<(f64, Vec2, f64)> {
        let at = |i: i32| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 40.0).sin_cos();
            Vec2::new(25.0 * cos, 18.0 * sin)
        };
        (0..40).map(at).map(|p| (1.0, p, z(p))).collect()
    }

    /// A sphere whose vertex lies beside the middle is found again, tilted as it is, with its curvature given or not; and
    /// moved along z it is the same sphere moved.
    #[test]
    fn a_sphere_through_points_of_a_sphere_is_that_sphere() {
        for curvature in [0.0, 4.0 / 530.0, -2.0 / 530.0, 9.0 / 530.0] {
            let vertex = Vec2::new(3.0, -1.5);
            let sag = |p: Vec2| {
                let h2 = (p - vertex).hypot2();
                curvature * h2 / (1.0 + (1.0 - curvature * curvature * h2).sqrt()) + 0.7
            };
            let points = ring(sag);
            for ball in [Ball::nearest(curvature, points.iter().copied()), Ball::through(points.iter().copied())] {
                let ball = ball.expect("a ball");
                assert!((ball.curvature() - curvature).abs() < 1e-12, "{} of {curvature}", ball.curvature());
                for p in [Vec2::ZERO, Vec2::new(20.0, 9.0)] {
                    assert!((ball.z(p).expect("z") - sag(p)).abs() < 1e-10);
                    assert!((ball.moved(1.3).z(p).expect("z") - sag(p) - 1.3).abs() < 1e-10);
                }
            }
        }
    }

    #[test]
    fn a_plane_circle_has_no_curve() {
        let round = |i: i32| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 40.0).sin_cos();
            (1.0, Vec2::new(22.0 * cos, 22.0 * sin), 1.0 + 0.02 * cos)
        };
        assert!(Ball::through((0..40).map(round)).is_none());
    }

    /// Half the squared distance from the middle of an ellipse varies by (a² − b²)/4 · cos 2φ: by (a² − b²)/(4√2) in the
    /// root mean square. Whatever the points weigh, it is as good as round up to the limit.
    #[test]
    fn how_round_is_as_good_as_round() {
        for (share, is_round) in [(0.9, true), (1.1, false)] {
            let wide = (22.0 * 22.0 + 4.0 * 2f64.sqrt() * share * ROUND_MM2).sqrt();
            for weight in [0.01, 1.0, 300.0] {
                let at = |i: i32| {
                    let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 60.0).sin_cos();
                    let p = Vec2::new(wide * cos, 22.0 * sin);
                    (weight, p, 0.01 * p.hypot2())
                };
                assert_eq!(Ball::through((0..60).map(at)).is_none(), is_round, "{share} of the limit, weight {weight}");
            }
        }
    }

    /// Between whichever nodes the worst place lies, between the last and the first too.
    #[test]
    fn the_worst_place_is_found_wherever_it_lies() {
        let outline = Outline::ellipse(50.0, 50.0);
        for i in 0..3600 {
            let deg = 0.1 * f64::from(i);
            let toward = Vec2::from_angle(deg.to_radians());
            let found = worst(&outline, |p| Some(p.dot(toward) - 20.0)).expect("a worst place");
            let off = (found.deg - deg + 180.0).rem_euclid(360.0) - 180.0;
            assert!((found.mm - 5.0).abs() < 1e-9 && off.abs() < 1e-3, "{found:?} for {deg}°");
        }
    }
}
