//! A closed plane curve about the boxed centre: an ellipse, or smooth cubic pieces.
//!
//! Units: mm; the parameter u is an angle in radians on an ellipse and counts pieces otherwise. Anticlockwise with y
//! up, so the outward normal lies to the right of the direction of travel.

use super::shapes::Drawn;
use kurbo::{BezPath, CubicBez, ParamCurve, ParamCurveArclen, ParamCurveArea, ParamCurveExtrema, Point, Vec2};
use std::f64::consts::TAU;

/// A point of the curve with its first two derivatives by the parameter.
#[derive(Clone, Copy, Debug)]
pub struct CurveJet {
    /// Position, mm.
    pub p: Vec2,
    /// First derivative.
    pub d1: Vec2,
    /// Second derivative.
    pub d2: Vec2,
}

/// How the curve runs at a point.
#[derive(Clone, Copy, Debug)]
pub struct Turn {
    /// mm per unit of the parameter.
    pub speed: f64,
    /// Outward unit normal.
    pub normal: Vec2,
    /// Signed curvature, 1/mm: positive where the outline bulges outward.
    pub curvature: f64,
}

impl CurveJet {
    /// Speed, outward normal and curvature.
    #[must_use]
    pub fn turn(&self) -> Turn {
        let speed = self.d1.hypot();
        Turn {
            speed,
            normal: Vec2::new(self.d1.y, -self.d1.x) / speed,
            curvature: self.d1.cross(self.d2) / (speed * speed * speed),
        }
    }
}

/// The curve itself.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// Half axes along x and y; u is the eccentric angle from +x.
    Ellipse {
        /// Half the width.
        a: f64,
        /// Half the height.
        b: f64,
    },
    /// Cubic pieces that join smoothly; piece i is u = i … i + 1.
    Pieces(Vec<Cubic>),
}

/// A cubic piece by its coefficients: p(t) = k0 + k1 t + k2 t² + k3 t³.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cubic {
    k: [Vec2; 4],
}

impl Cubic {
    fn jet(&self, t: f64) -> CurveJet {
        let [k0, k1, k2, k3] = self.k;
        CurveJet {
            p: k0 + (k1 + (k2 + k3 * t) * t) * t,
            d1: k1 + (2.0 * k2 + 3.0 * t * k3) * t,
            d2: 2.0 * k2 + 6.0 * t * k3,
        }
    }

    /// Its length, mm, to 1e-10.
    pub(super) fn length(&self) -> f64 {
        self.bezier().arclen(1e-10)
    }

    /// Its length, mm, to a hundredth or so.
    pub(super) fn rough_length(&self) -> f64 {
        self.bezier().arclen(1e-2)
    }

    /// By how much it turns from its start to its end.
    pub(super) fn turn_rad(&self) -> f64 {
        let (start, end) = (self.jet(0.0).d1, self.jet(1.0).d1);
        start.cross(end).atan2(start.dot(end)).abs()
    }

    fn from_bezier(bezier: &CubicBez) -> Cubic {
        let [p0, p1, p2, p3] = [bezier.p0, bezier.p1, bezier.p2, bezier.p3].map(Point::to_vec2);
        Cubic { k: [p0, 3.0 * (p1 - p0), 3.0 * (p0 - 2.0 * p1 + p2), p3 - p0 + 3.0 * (p1 - p2)] }
    }

    fn bezier(&self) -> CubicBez {
        let [k0, k1, k2, k3] = self.k;
        let p1 = k0 + k1 / 3.0;
        let p2 = k0 + k1 * (2.0 / 3.0) + k2 / 3.0;
        CubicBez::new(k0.to_point(), p1.to_point(), p2.to_point(), (k0 + k1 + k2 + k3).to_point())
    }
}

impl Curve {
    /// A drawn shape of the right lens in its box of `width` × `height`, exactly.
    pub(super) fn drawn(shape: &Drawn, width: f64, height: f64) -> Curve {
        let points: Vec<Vec2> = shape.points.iter().map(|&(x, y)| Vec2::new(x, y)).collect();
        Curve::boxed(&b_spline(&points), width, height)
    }

    /// Pieces moved and stretched so that their exact box is ±width/2, ±height/2.
    pub(super) fn boxed(pieces: &[CubicBez], width: f64, height: f64) -> Curve {
        let bounds = pieces.iter().map(ParamCurveExtrema::bounding_box).reduce(|a, b| a.union(b)).unwrap_or_default();
        let centre = bounds.center().to_vec2();
        let (sx, sy) = (width / bounds.width(), height / bounds.height());
        let fit = |p: Point| {
            let p = p.to_vec2() - centre;
            Point::new(p.x * sx, p.y * sy)
        };
        Curve::Pieces(
            pieces
                .iter()
                .map(|c| Cubic::from_bezier(&CubicBez::new(fit(c.p0), fit(c.p1), fit(c.p2), fit(c.p3))))
                .collect(),
        )
    }

    /// The mirror image left to right, still anticlockwise.
    #[must_use]
    pub fn mirrored(&self) -> Curve {
        match self {
            Curve::Ellipse { a, b } => Curve::Ellipse { a: *a, b: *b },
            Curve::Pieces(pieces) => {
                let flip = |p: Point| Point::new(-p.x, p.y);
                Curve::Pieces(
                    pieces
                        .iter()
                        .rev()
                        .map(|piece| {
                            let c = piece.bezier();
                            Cubic::from_bezier(&CubicBez::new(flip(c.p3), flip(c.p2), flip(c.p1), flip(c.p0)))
                        })
                        .collect(),
                )
            }
        }
    }

    /// How far the parameter runs once round.
    #[must_use]
    pub fn period(&self) -> f64 {
        match self {
            Curve::Ellipse { .. } => TAU,
            Curve::Pieces(pieces) => pieces.len() as f64,
        }
    }

    /// Position and derivatives at u (any u: the curve is closed).
    #[must_use]
    pub fn jet(&self, u: f64) -> CurveJet {
        match self {
            Curve::Ellipse { a, b } => {
                let (s, c) = u.sin_cos();
                CurveJet { p: Vec2::new(a * c, b * s), d1: Vec2::new(-a * s, b * c), d2: Vec2::new(-a * c, -b * s) }
            }
            Curve::Pieces(pieces) => {
                let turned = u.rem_euclid(pieces.len() as f64);
                let index = (turned as usize).min(pieces.len() - 1);
                pieces[index].jet(turned - index as f64)
            }
        }
    }

    /// Area inside, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        match self {
            Curve::Ellipse { a, b } => std::f64::consts::PI * a * b,
            Curve::Pieces(pieces) => pieces.iter().map(|piece| piece.bezier().signed_area()).sum(),
        }
    }

    /// Length once round, mm, to 1e-9.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        match self {
            Curve::Ellipse { a, b } => kurbo::Shape::perimeter(&kurbo::Ellipse::new((0.0, 0.0), (*a, *b), 0.0), 1e-9),
            Curve::Pieces(pieces) => pieces.iter().map(Cubic::length).sum(),
        }
    }

    /// As a path, right to `accuracy` mm, for drawing.
    #[must_use]
    pub fn path(&self, accuracy: f64) -> BezPath {
        match self {
            Curve::Ellipse { a, b } => kurbo::Shape::to_path(&kurbo::Ellipse::new((0.0, 0.0), (*a, *b), 0.0), accuracy),
            Curve::Pieces(pieces) => {
                let mut path = BezPath::new();
                for (i, piece) in pieces.iter().enumerate() {
                    let c = piece.bezier();
                    if i == 0 {
                        path.move_to(c.start());
                    }
                    path.curve_to(c.p1, c.p2, c.p3);
                }
                path.close_path();
                path
            }
        }
    }
}

/// The pieces of a closed uniform cubic B-spline of these control points.
fn b_spline(points: &[Vec2]) -> Vec<CubicBez> {
    let n = points.len();
    (0..n)
        .map(|i| {
            let [a, b, c, d] = [0, 1, 2, 3].map(|k| points[(i + k) % n]);
            let start = (a + 4.0 * b + c) / 6.0;
            let end = (b + 4.0 * c + d) / 6.0;
            CubicBez::new(
                start.to_point(),
                ((2.0 * b + c) / 3.0).to_point(),
                ((b + 2.0 * c) / 3.0).to_point(),
                end.to_point(),
            )
        })
        .collect()
}
