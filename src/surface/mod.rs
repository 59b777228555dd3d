//! Lens surfaces behind one small promise: sag, gradient and second derivatives at a point.
//!
//! A surface is z(x, y) with its vertex at the origin and its axis along z; z grows toward the wearer's eye, so a
//! convex front and a concave back both have positive curvature. Units: mm, curvature 1/mm. Axes are left-handed
//! (x to the observer's right, y up, z away from the observer). `None` means that the surface does not reach that far.

mod conicoid;
mod torus;
mod turned;

pub use conicoid::Conicoid;
pub use torus::Torus;
pub use turned::Turned;

use kurbo::Vec2;

/// Sag, gradient and second derivatives of a surface at a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jet {
    /// Depth below the vertex plane.
    pub z: f64,
    /// ∂z/∂x.
    pub zx: f64,
    /// ∂z/∂y.
    pub zy: f64,
    /// ∂²z/∂x².
    pub zxx: f64,
    /// ∂²z/∂x∂y.
    pub zxy: f64,
    /// ∂²z/∂y².
    pub zyy: f64,
}

impl Jet {
    /// The gradient as a vector.
    #[must_use]
    pub fn gradient(&self) -> Vec2 {
        Vec2::new(self.zx, self.zy)
    }
}

/// Sag and gradient alone, for the searches that want no more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// Depth below the vertex plane.
    pub z: f64,
    /// (∂z/∂x, ∂z/∂y).
    pub gradient: Vec2,
}

/// A surface at a point of an outline: its jet, and what it takes to integrate it over the shape by going round it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rim {
    /// Sag and derivatives.
    pub jet: Jet,
    /// The integrand of ∬ z dA = ∮ (…) du (Green), per unit of the outline's parameter.
    pub below: f64,
}

/// A surface that stands upright on its vertex.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Upright {
    /// A sphere (a plane where its curvature is zero) or a conicoid.
    Conicoid(Conicoid),
    /// A swept torus.
    Torus(Torus),
}

/// Any surface of a lens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surface {
    /// Upright on its vertex.
    Upright(Upright),
    /// Turned about its vertex, as prism is ground.
    Turned(Turned),
}

impl Upright {
    /// A sphere of curvature `c` (0: a plane).
    #[must_use]
    pub fn sphere(c: f64) -> Upright {
        Upright::Conicoid(Conicoid { c, k: 0.0 })
    }

    /// Sag at a point.
    #[must_use]
    pub fn sag(&self, p: Vec2) -> Option<f64> {
        match self {
            Upright::Conicoid(conicoid) => conicoid.sag(p),
            Upright::Torus(torus) => torus.sag(p),
        }
    }

    /// Sag and gradient at a point.
    #[must_use]
    pub fn slope(&self, p: Vec2) -> Option<Slope> {
        match self {
            Upright::Conicoid(conicoid) => conicoid.slope(p),
            Upright::Torus(torus) => torus.slope(p),
        }
    }

    /// Sag, gradient and second derivatives at a point.
    #[must_use]
    pub fn jet(&self, p: Vec2) -> Option<Jet> {
        match self {
            Upright::Conicoid(conicoid) => conicoid.jet(p),
            Upright::Torus(torus) => torus.jet(p),
        }
    }

    /// ∫₀¹ z(s p) s ds: the fan of the surface from its vertex to p. With it ∬ z dA over any shape is
    /// ∮ fan(p) (p × dp).
    #[must_use]
    pub fn fan(&self, p: Vec2) -> Option<f64> {
        match self {
            Upright::Conicoid(conicoid) => conicoid.fan(p),
            Upright::Torus(torus) => torus.fan(p),
        }
    }

    /// The mean of the two curvatures at the vertex, 1/mm.
    #[must_use]
    pub fn mean_curvature(&self) -> f64 {
        match self {
            Upright::Conicoid(conicoid) => conicoid.c,
            Upright::Torus(torus) => torus.mean_curvature(),
        }
    }

    /// The larger of the two curvatures, whatever their sign, 1/mm.
    #[must_use]
    pub fn steepest(&self) -> f64 {
        match self {
            Upright::Conicoid(conicoid) => conicoid.steepest(),
            Upright::Torus(torus) => torus.steepest(),
        }
    }
}

impl Surface {
    /// A sphere of curvature `c` (0: a plane).
    #[must_use]
    pub fn sphere(c: f64) -> Surface {
        Surface::Upright(Upright::sphere(c))
    }

    /// Sag at a point.
    #[must_use]
    pub fn sag(&self, p: Vec2) -> Option<f64> {
        match self {
            Surface::Upright(upright) => upright.sag(p),
            Surface::Turned(turned) => turned.foot(p).map(|foot| foot.z),
        }
    }

    /// Sag and gradient at a point.
    #[must_use]
    pub fn slope(&self, p: Vec2) -> Option<Slope> {
        match self {
            Surface::Upright(upright) => upright.slope(p),
            Surface::Turned(turned) => turned.slope(p),
        }
    }

    /// Sag, gradient and second derivatives at a point.
    #[must_use]
    pub fn jet(&self, p: Vec2) -> Option<Jet> {
        match self {
            Surface::Upright(upright) => upright.jet(p),
            Surface::Turned(turned) => turned.jet(p),
        }
    }

    /// The surface at a point `p` of an outline that moves by `d1` per unit of its parameter.
    #[must_use]
    pub fn rim(&self, p: Vec2, d1: Vec2) -> Option<Rim> {
        match self {
            Surface::Upright(upright) => Some(Rim { jet: upright.jet(p)?, below: upright.fan(p)? * p.cross(d1) }),
            Surface::Turned(turned) => turned.rim(p, d1),
        }
    }

    /// The larger of the two curvatures at the vertex, whatever their sign, 1/mm.
    #[must_use]
    pub fn steepest(&self) -> f64 {
        match self {
            Surface::Upright(upright) => upright.steepest(),
            Surface::Turned(turned) => turned.upright().steepest(),
        }
    }

    /// At the most, the sine of the angle at which the surface stands `far` from its vertex: one where it may end before.
    #[must_use]
    pub fn steepness(&self, far: f64) -> f64 {
        let sine = self.steepest() * far;
        match self {
            Surface::Upright(_) => sine.min(1.0),
            Surface::Turned(turned) => {
                // The sine of the sum of this angle and that of the turn.
                let cos = turned.matrix()[(2, 2)];
                if sine < cos { sine * cos + ((1.0 - sine * sine) * (1.0 - cos * cos)).sqrt() } else { 1.0 }
            }
        }
    }

    /// How far the surface reaches from its vertex in the direction of `p`, mm; `None` where it reaches beyond `p`.
    #[must_use]
    pub fn reach_toward(&self, p: Vec2) -> Option<f64> {
        if self.sag(p).is_some() {
            return None;
        }
        let (mut inside, mut outside) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = 0.5 * (inside + outside);
            if self.sag(p * middle).is_some() {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        Some(inside * p.hypot())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sphere turned by an angle stands, at the most, at the sum of both angles; beyond a right angle it may end.
    #[test]
    fn a_turned_sphere_stands_at_the_sum_of_two_angles() {
        let sphere = Upright::Conicoid(Conicoid { c: 0.01, k: 0.0 });
        for turn_deg in [0.0_f64, 1.5, 6.0, 20.0] {
            let turned = Surface::Turned(Turned::new(sphere, Vec2::new(turn_deg.to_radians().tan(), 0.0)));
            for far in [0.0_f64, 5.0, 30.0, 70.0, 92.0] {
                let sum = (0.01 * far).asin() + turn_deg.to_radians();
                let wanted = if sum < std::f64::consts::FRAC_PI_2 { sum.sin() } else { 1.0 };
                let found = turned.steepness(far);
                assert!((found - wanted).abs() < 1e-12, "{far} mm, turned by {turn_deg}°: {found} for {wanted}");
            }
            assert_eq!(turned.steepness(130.0), 1.0);
        }
        assert_eq!(Surface::Upright(sphere).steepness(40.0), 0.4);
        assert_eq!(Surface::Upright(sphere).steepness(140.0), 1.0);
    }
}
