//! The swept torus: the circle of the steeper curvature carried round with the flatter one (tyre; capstan when the
//! signs differ).
//!
//! Units: mm, curvature 1/mm. u runs along the flatter meridian, w along the steeper.

use super::{Jet, Slope};
use crate::math::{angle, quadrature};
use kurbo::Vec2;

/// z = (2s − c_f s² + c_f u²)/(1 + √(q² − c_f² u²)) with s the sag of the steep circle at w and q = 1 − c_f s: exact
/// for every sign of the curvatures, and a sphere when they are equal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Torus {
    flat: f64,
    steep: f64,
    /// Direction of u.
    along: Vec2,
}

/// What every value at a point is made of.
struct Parts {
    u: f64,
    s: f64,
    s_w: f64,
    q: f64,
    d: f64,
    /// √(1 − c_s² w²).
    v: f64,
}

impl Torus {
    /// A torus with curvature `along` in the meridian at `axis_deg` and `across` at right angles to it.
    #[must_use]
    pub fn new(along: f64, across: f64, axis_deg: f64) -> Torus {
        let (c, s) = angle::cos_sin_deg(axis_deg);
        if along.abs() <= across.abs() {
            Torus { flat: along, steep: across, along: Vec2::new(c, s) }
        } else {
            Torus { flat: across, steep: along, along: Vec2::new(-s, c) }
        }
    }

    fn local(&self, p: Vec2) -> (f64, f64) {
        (p.dot(self.along), self.along.cross(p))
    }

    #[inline]
    fn parts(&self, p: Vec2) -> Option<Parts> {
        let (u, w) = self.local(p);
        let under = 1.0 - self.steep * self.steep * w * w;
        if under <= 0.0 {
            return None;
        }
        let v = under.sqrt();
        let s = self.steep * w * w / (1.0 + v);
        let q = 1.0 - self.flat * s;
        let under = q * q - self.flat * self.flat * u * u;
        (under > 0.0 && q > 0.0).then(|| Parts { u, s, s_w: self.steep * w / v, q, d: under.sqrt(), v })
    }

    fn height(&self, parts: &Parts) -> f64 {
        let Parts { u, s, d, s_w: _, q: _, v: _ } = parts;
        (2.0 * s - self.flat * s * s + self.flat * u * u) / (1.0 + d)
    }

    pub(super) fn sag(&self, p: Vec2) -> Option<f64> {
        self.parts(p).map(|parts| self.height(&parts))
    }

    pub(super) fn slope(&self, p: Vec2) -> Option<Slope> {
        self.parts(p).map(|parts| {
            let zu = self.flat * parts.u / parts.d;
            let zw = parts.q * parts.s_w / parts.d;
            Slope { z: self.height(&parts), gradient: self.turn_out(zu, zw) }
        })
    }

    /// A gradient along u and w, as one along x and y.
    fn turn_out(&self, zu: f64, zw: f64) -> Vec2 {
        Vec2::new(zu * self.along.x - zw * self.along.y, zu * self.along.y + zw * self.along.x)
    }

    pub(super) fn jet(&self, p: Vec2) -> Option<Jet> {
        let parts = self.parts(p)?;
        let Parts { u, s_w, q, d, v, s: _ } = parts;
        // From (1 − c_f z)² + c_f² u² = q² by implicit differentiation.
        let zu = self.flat * u / d;
        let zw = q * s_w / d;
        let s_ww = self.steep / (v * v * v);
        let zuu = self.flat * (1.0 + zu * zu) / d;
        let zuw = self.flat * zu * zw / d;
        let zww = (q * s_ww - self.flat * s_w * s_w + self.flat * zw * zw) / d;
        let (c, s) = (self.along.x, self.along.y);
        let gradient = self.turn_out(zu, zw);
        Some(Jet {
            z: self.height(&parts),
            zx: gradient.x,
            zy: gradient.y,
            zxx: zuu * c * c - 2.0 * zuw * c * s + zww * s * s,
            zxy: (zuu - zww) * c * s + zuw * (c * c - s * s),
            zyy: zuu * s * s + 2.0 * zuw * c * s + zww * c * c,
        })
    }

    /// ∫₀¹ z(s p) s ds. The sag is even about the vertex, so that with v = s² the integrand is smooth in v and few Gauss
    /// nodes do; their number follows how near p is to where the surface ends.
    pub(super) fn fan(&self, p: Vec2) -> Option<f64> {
        let steepness = self.steep * self.steep * p.hypot2();
        let size = match steepness {
            s if s < 0.12 => 3,
            s if s < 0.3 => 4,
            s if s < 0.55 => 6,
            s if s < 0.75 => 8,
            s if s < 0.88 => 12,
            s if s < 0.96 => 20,
            _ => 32,
        };
        let mut sum = 0.0;
        for node in quadrature::gauss(size) {
            sum += node.weight * self.sag(p * node.at.sqrt())?;
        }
        Some(0.5 * sum)
    }

    pub(super) fn mean_curvature(&self) -> f64 {
        0.5 * (self.flat + self.steep)
    }

    pub(super) fn steepest(&self) -> f64 {
        self.steep.abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// At the vertex, half the sum of the second derivatives, whichever way the torus lies.
    #[test]
    fn the_mean_curvature_is_half_the_laplacian_at_the_vertex() {
        for (along, across) in [(0.004, 0.011), (-0.012, -0.002), (0.0, 0.01), (-0.003, 0.008)] {
            let torus = Torus::new(along, across, 35.0);
            let jet = torus.jet(Vec2::ZERO).expect("the vertex");
            assert!((torus.mean_curvature() - 0.5 * (jet.zxx + jet.zyy)).abs() < 1e-15);
        }
    }
}
