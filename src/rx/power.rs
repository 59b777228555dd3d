//! A sphero-cylindrical power and its algebra: transposition, the dioptric matrix, power vectors, effectivity.
//!
//! Units: dioptres and degrees; distances in mm, turned into metres here and nowhere else in this module.

use crate::math::angle;
use nalgebra::{Matrix2, SymmetricEigen};

/// A sphere and a cylinder, held in minus-cylinder form (cylinder ≤ 0, axis in (0, 180], 180 for a sphere).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Power {
    sphere: f64,
    cylinder: f64,
    axis: f64,
}

/// The power vector of Thibos, Wheeler & Horner (1997): three dioptres that add like any vector.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PowerVector {
    /// Spherical equivalent.
    pub m: f64,
    /// Cylinder with and against the rule.
    pub j0: f64,
    /// Oblique cylinder.
    pub j45: f64,
}

impl Power {
    /// The power written `sphere` / `cylinder` × `axis_deg` in either sign of cylinder; axis 0 is read as 180.
    #[must_use]
    pub fn new(sphere: f64, cylinder: f64, axis_deg: f64) -> Power {
        if cylinder > 0.0 {
            Power { sphere: sphere + cylinder, cylinder: -cylinder, axis: angle::axis_deg(axis_deg + 90.0) }
        } else if cylinder == 0.0 {
            Power { sphere, cylinder: 0.0, axis: 180.0 }
        } else {
            Power { sphere, cylinder, axis: angle::axis_deg(axis_deg) }
        }
    }

    /// A power without cylinder.
    #[must_use]
    pub fn spherical(sphere: f64) -> Power {
        Power::new(sphere, 0.0, 180.0)
    }

    /// Sphere of the minus-cylinder form, D.
    #[must_use]
    pub fn sphere(&self) -> f64 {
        self.sphere
    }

    /// Cylinder of the minus-cylinder form, D: zero or below.
    #[must_use]
    pub fn cylinder(&self) -> f64 {
        self.cylinder
    }

    /// Axis of the minus cylinder, in (0, 180] degrees; 180 for a sphere.
    #[must_use]
    pub fn axis(&self) -> f64 {
        self.axis
    }

    /// The same power written with a plus cylinder: (sphere, cylinder, axis).
    #[must_use]
    pub fn plus_form(&self) -> (f64, f64, f64) {
        if self.cylinder == 0.0 {
            (self.sphere, 0.0, 180.0)
        } else {
            (self.sphere + self.cylinder, -self.cylinder, angle::axis_deg(self.axis + 90.0))
        }
    }

    /// Sphere plus half the cylinder, D.
    #[must_use]
    pub fn spherical_equivalent(&self) -> f64 {
        self.sphere + 0.5 * self.cylinder
    }

    /// Power in the meridian at `deg`, D: S + C sin²(deg − axis).
    #[must_use]
    pub fn along(&self, deg: f64) -> f64 {
        let (_, s) = angle::cos_sin_deg(deg - self.axis);
        self.sphere + self.cylinder * s * s
    }

    /// The symmetric dioptric matrix (Long 1976; Keating 1980), x to the observer's right and y up.
    #[must_use]
    pub fn matrix(&self) -> Matrix2<f64> {
        let (c, s) = angle::cos_sin_deg(self.axis);
        let cross = -self.cylinder * s * c;
        Matrix2::new(self.sphere + self.cylinder * s * s, cross, cross, self.sphere + self.cylinder * c * c)
    }

    /// The power of a symmetric dioptric matrix, in minus-cylinder form.
    #[must_use]
    pub fn from_matrix(matrix: &Matrix2<f64>) -> Power {
        let eigen = SymmetricEigen::new(*matrix);
        let (least, most) = if eigen.eigenvalues[0] <= eigen.eigenvalues[1] { (0, 1) } else { (1, 0) };
        let (sphere, cylinder) = (eigen.eigenvalues[most], eigen.eigenvalues[least] - eigen.eigenvalues[most]);
        // The axis is the meridian of the sphere: the eigenvector of the larger eigenvalue.
        let v = eigen.eigenvectors.column(most);
        Power::new(sphere, cylinder, angle::direction_deg(v[0], v[1]))
    }

    /// The power vector (M, J0, J45).
    #[must_use]
    pub fn vector(&self) -> PowerVector {
        let (c, s) = angle::cos_sin_deg(2.0 * self.axis);
        PowerVector { m: self.spherical_equivalent(), j0: -0.5 * self.cylinder * c, j45: -0.5 * self.cylinder * s }
    }

    /// Two thin powers in contact.
    #[must_use]
    pub fn plus(&self, other: &Power) -> Power {
        Power::from_matrix(&(self.matrix() + other.matrix()))
    }

    /// The power that does for the eye, moved `closer_mm` toward it (negative: away), what this one did where it was:
    /// F (I − d F)⁻¹ on the matrix. `None` where the move passes the focus, so that no lens can do it.
    #[must_use]
    pub fn moved_toward_eye(&self, closer_mm: f64) -> Option<Power> {
        let f = self.matrix();
        let d = closer_mm / 1000.0;
        let inverse = (Matrix2::identity() - f * d).try_inverse()?;
        let moved = f * inverse;
        moved.iter().all(|v| v.is_finite()).then(|| Power::from_matrix(&moved))
    }

    /// Prism by Prentice's rule at the point (x, y) mm from the optical centre: −F h, in prism dioptres along x and y,
    /// pointing to the base.
    #[must_use]
    pub fn prentice_pd(&self, x_mm: f64, y_mm: f64) -> (f64, f64) {
        let h = nalgebra::Vector2::new(x_mm / 10.0, y_mm / 10.0);
        let p = -(self.matrix() * h);
        (p[0], p[1])
    }
}
