//! A surface turned about its vertex by the least turn that gives it a wanted gradient there: how prism is ground.
//!
//! Units: mm. The turned surface's own coordinates (u, w, s) and the lens's (x, y, z) share their origin, the vertex;
//! a column of the matrix is an own axis seen from the lens.

use super::{Conicoid, Jet, Rim, Slope, Upright};
use kurbo::Vec2;
use nalgebra::{Matrix3, Vector3};

/// Newton stops when what its next step would still mend is below this, mm.
const SETTLED_MM: f64 = 1e-15;
/// Two or three steps are the rule; more means that the surface ends nearby.
const MOST_STEPS: usize = 30;

/// An upright surface, turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turned {
    upright: Upright,
    matrix: Matrix3<f64>,
    /// The gradient at the vertex.
    lean: Vec2,
    /// Half the mean curvature, for a first guess, 1/mm.
    hollow: f64,
    /// Bound of Newton's error after a step, as a multiple of its square: curvature × sin² of the turn, four times over
    /// for where the surface stands steeply.
    error_rate: f64,
}

/// Where the line parallel to z through a point meets the turned surface.
#[derive(Clone, Copy, Debug)]
pub(super) struct Foot {
    /// Own coordinates.
    own: Vec2,
    /// Height in the lens.
    pub(super) z: f64,
}

impl Turned {
    /// `upright` turned so that its gradient at the vertex is `lean`, by the rotation without twist.
    #[must_use]
    pub fn new(upright: Upright, lean: Vec2) -> Turned {
        // The axis e_z goes to n = (−m cos β, −m sin β, 1)/√(1 + m²); the minimal rotation has the matrix
        // I + [v] + [v]²/(1 + n_z) with v = e_z × n.
        let norm = (1.0 + lean.hypot2()).sqrt();
        let (nx, ny, nz) = (-lean.x / norm, -lean.y / norm, 1.0 / norm);
        let share = 1.0 / (1.0 + nz);
        let matrix = Matrix3::new(
            1.0 - share * nx * nx,
            -share * nx * ny,
            nx,
            -share * nx * ny,
            1.0 - share * ny * ny,
            ny,
            -nx,
            -ny,
            nz,
        );
        let error_rate = 4.0 * upright.steepest() * (nx * nx + ny * ny);
        Turned { upright, matrix, lean, hollow: 0.5 * upright.mean_curvature(), error_rate }
    }

    /// The surface before the turn.
    #[must_use]
    pub fn upright(&self) -> &Upright {
        &self.upright
    }

    /// The rotation: columns are the own axes seen from the lens.
    #[must_use]
    pub fn matrix(&self) -> &Matrix3<f64> {
        &self.matrix
    }

    fn own(&self, p: Vec2, z: f64) -> Vector3<f64> {
        self.matrix.tr_mul(&Vector3::new(p.x, p.y, z))
    }

    pub(super) fn foot(&self, p: Vec2) -> Option<Foot> {
        if let Upright::Conicoid(Conicoid { c, k: 0.0 }) = self.upright {
            return self.foot_on_sphere(c, p);
        }
        // A parabola on the slope is the first guess; then Newton on how far the line's point stands above the surface.
        let m = &self.matrix;
        let start = self.own(p, 0.0);
        let (flat, toward) = (Vec2::new(start.x, start.y), Vec2::new(m[(2, 0)], m[(2, 1)]));
        let rise = m[(2, 2)];
        let mut z = self.lean.dot(p) + self.hollow * p.hypot2();
        let mut met = None;
        for _ in 0..MOST_STEPS {
            let own = flat + toward * z;
            let here = self.upright.slope(own).map(|here| (here, rise - here.gradient.dot(toward)));
            let Some((here, rate)) = here.filter(|(_, rate)| *rate > 0.0) else {
                z = Turned::back_to_the_surface(z, met, flat, toward);
                continue;
            };
            met = Some(z);
            let step = (start.z + rise * z - here.z) / rate;
            z -= step;
            if step * step * self.error_rate < SETTLED_MM {
                return Some(Foot { own: flat + toward * z, z });
            }
        }
        None
    }

    /// Where to look on a line that at the height z is off the surface: halfway to where it was on it; before that, some
    /// way to the height at which it passes nearest to the own axis. The guess of a parabola is too low for where the
    /// surface stands steeply, and it may end below.
    fn back_to_the_surface(z: f64, met: Option<f64>, flat: Vec2, toward: Vec2) -> f64 {
        const SHARE: f64 = 0.15;
        match met {
            Some(met) => 0.5 * (z + met),
            None => {
                let most = SHARE * flat.hypot();
                let nearest = -flat.dot(toward) / toward.hypot2().max(f64::MIN_POSITIVE);
                z + (nearest - z).clamp(-most, most)
            }
        }
    }

    /// On a sphere c (x² + y² + z²)/2 = n · p, a quadratic for z. Beyond the sphere's own hemisphere there is no foot, as
    /// on any other surface: own sag, gradient and volume would be those of the other half.
    fn foot_on_sphere(&self, c: f64, p: Vec2) -> Option<Foot> {
        let m = &self.matrix;
        let nz = m[(2, 2)];
        let e = 0.5 * c * p.hypot2() - m[(0, 2)] * p.x - m[(1, 2)] * p.y;
        let under = nz * nz - 2.0 * c * e;
        if under <= 0.0 {
            return None;
        }
        let z = 2.0 * e / (nz + under.sqrt());
        let own = self.own(p, z);
        (c * own.z < 1.0).then_some(Foot { own: Vec2::new(own.x, own.y), z })
    }

    /// The gradient in the lens, from the gradient in own coordinates.
    fn gradient(&self, own: Vec2) -> Vec2 {
        let normal = self.matrix * Vector3::new(-own.x, -own.y, 1.0);
        Vec2::new(-normal.x / normal.z, -normal.y / normal.z)
    }

    pub(super) fn slope(&self, p: Vec2) -> Option<Slope> {
        let foot = self.foot(p)?;
        let own = self.upright.slope(foot.own)?;
        Some(Slope { z: foot.z, gradient: self.gradient(own.gradient) })
    }

    pub(super) fn jet(&self, p: Vec2) -> Option<Jet> {
        let foot = self.foot(p)?;
        self.upright.jet(foot.own).map(|own| self.jet_of(&foot, &own))
    }

    fn jet_of(&self, foot: &Foot, own: &Jet) -> Jet {
        let gradient = self.gradient(own.gradient());
        let m = &self.matrix;
        let rate = m[(2, 2)] - own.zx * m[(2, 0)] - own.zy * m[(2, 1)];
        // Tangent vectors of the turned surface, seen in own coordinates.
        let tangent = |x: f64, y: f64, z: f64| {
            let t = m.tr_mul(&Vector3::new(x, y, z));
            Vec2::new(t.x, t.y)
        };
        let (a, b) = (tangent(1.0, 0.0, gradient.x), tangent(0.0, 1.0, gradient.y));
        let bend =
            |p: Vec2, q: Vec2| (own.zxx * p.x * q.x + own.zxy * (p.x * q.y + p.y * q.x) + own.zyy * p.y * q.y) / rate;
        Jet { z: foot.z, zx: gradient.x, zy: gradient.y, zxx: bend(a, a), zxy: bend(a, b), zyy: bend(b, b) }
    }

    /// The jet at `p` and the integrand of ∬ z dA = ∮ (…) du. Written in own coordinates, over the region D whose image
    /// is the shape,
    ///
    /// z dx dy = (s + m_zz ℓ − div(a (ℓ s + ½ m_zz s²))) du dw,  a = (m_zu, m_zw), ℓ = a · (u, w),
    ///
    /// since the rows of a rotation have length one. So the volume below a turned surface is that below the upright
    /// one over D and terms of the rim alone, and no point inside is searched for.
    pub(super) fn rim(&self, p: Vec2, d1: Vec2) -> Option<Rim> {
        let foot = self.foot(p)?;
        let own = self.upright.jet(foot.own)?;
        let jet = self.jet_of(&foot, &own);
        let m = &self.matrix;
        let d = m.tr_mul(&Vector3::new(d1.x, d1.y, jet.gradient().dot(d1)));
        let d_own = Vec2::new(d.x, d.y);
        let a = Vec2::new(m[(2, 0)], m[(2, 1)]);
        let l = a.dot(foot.own);
        let fan = self.upright.fan(foot.own)? + m[(2, 2)] * l / 3.0;
        let edge = l * own.z + 0.5 * m[(2, 2)] * own.z * own.z;
        Some(Rim { jet, below: fan * foot.own.cross(d_own) - edge * a.cross(d_own) })
    }
}
