//! Sphere and conicoid of revolution.
//!
//! Units: mm, curvature 1/mm; k is the conic constant (0: sphere).

use super::{Jet, Slope};
use kurbo::Vec2;

/// z = c h / (1 + √(1 − (1 + k) c² h)), h = x² + y². The form keeps its digits as c goes to 0, so a plane is no
/// special case.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conicoid {
    /// Curvature at the vertex.
    pub c: f64,
    /// Conic constant.
    pub k: f64,
}

impl Conicoid {
    fn root(&self, h: f64) -> Option<f64> {
        let under = 1.0 - (1.0 + self.k) * self.c * self.c * h;
        (under > 0.0).then(|| under.sqrt())
    }

    pub(super) fn sag(&self, p: Vec2) -> Option<f64> {
        let h = p.hypot2();
        self.root(h).map(|w| self.c * h / (1.0 + w))
    }

    pub(super) fn slope(&self, p: Vec2) -> Option<Slope> {
        let h = p.hypot2();
        self.root(h).map(|w| Slope { z: self.c * h / (1.0 + w), gradient: p * (self.c / w) })
    }

    pub(super) fn jet(&self, p: Vec2) -> Option<Jet> {
        let h = p.hypot2();
        self.root(h).map(|w| {
            // dz/dh = c/(2w), d²z/dh² = (1+k) c³/(4w³).
            let first = self.c / w;
            let second = (1.0 + self.k) * self.c.powi(3) / (w * w * w);
            Jet {
                z: self.c * h / (1.0 + w),
                zx: first * p.x,
                zy: first * p.y,
                zxx: first + second * p.x * p.x,
                zxy: second * p.x * p.y,
                zyy: first + second * p.y * p.y,
            }
        })
    }

    /// ∫₀¹ z(s p) s ds in closed form: c h (1 + 2w)/(6 (1 + w)²).
    pub(super) fn fan(&self, p: Vec2) -> Option<f64> {
        let h = p.hypot2();
        self.root(h).map(|w| self.c * h * (1.0 + 2.0 * w) / (6.0 * (1.0 + w) * (1.0 + w)))
    }

    pub(super) fn steepest(&self) -> f64 {
        self.c.abs() * (1.0 + self.k).max(0.0).sqrt().max(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Beyond the reciprocal of how steep it is at most there is no surface, or for a paraboloid and a hyperboloid nothing
    /// ends; at the vertex it is never less.
    #[test]
    fn a_conicoid_ends_where_it_is_steepest() {
        for k in [0.0, 0.6, 3.0] {
            let surface = Conicoid { c: -0.02, k };
            let end = 1.0 / surface.steepest();
            assert!(surface.sag(Vec2::new(end * (1.0 - 1e-12), 0.0)).is_some(), "k = {k}");
            assert!(surface.sag(Vec2::new(end * (1.0 + 1e-12), 0.0)).is_none(), "k = {k}");
        }
        for k in [-0.5, -1.0, -4.0] {
            assert_eq!(Conicoid { c: -0.02, k }.steepest(), 0.02);
        }
    }
}
