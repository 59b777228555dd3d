//! A lens: a front, a back that goes with a centre thickness, and the thickness between them at any point.
//!
//! Units: mm, dioptres, curvature 1/mm. Points are measured from the reference point, x to the observer's right, y up.
//! Thickness is parallel to z. How thick a lens ought to be is not decided here.

use crate::rx::{Power, Prism};
use crate::surface::{Jet, Slope, Surface, Torus, Turned, Upright};
use kurbo::Vec2;

/// Index at which base curves are marked.
pub const TOOLING_INDEX: f64 = 1.530;

/// What is to be made: everything but the thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recipe {
    /// Back vertex power to be made.
    pub power: Power,
    /// Prism at the reference point.
    pub prism: Prism,
    /// Refractive index at the reference line.
    pub index: f64,
    /// Front curve as marked at [`TOOLING_INDEX`].
    pub base_curve_d: f64,
}

/// Why a recipe gives no lens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unmakeable {
    /// The front's power at this thickness focuses inside the lens.
    FocusInside {
        /// The thickness tried.
        centre_mm: f64,
    },
}

/// Two surfaces a centre thickness apart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lens {
    front: Surface,
    back: Surface,
    centre_mm: f64,
    back_powers_d: [f64; 2],
    back_curvatures: [f64; 2],
}

impl Recipe {
    /// Curvature of the front, 1/mm.
    #[must_use]
    pub fn front_curvature(&self) -> f64 {
        self.base_curve_d / (1000.0 * (TOOLING_INDEX - 1.0))
    }

    /// True power of the front, D: (n − 1)/r.
    #[must_use]
    pub fn front_power_d(&self) -> f64 {
        1000.0 * (self.index - 1.0) * self.front_curvature()
    }

    /// The gradient that the back surface needs at the reference point for the prism: sin δ/(n − cos δ) toward the base
    /// with δ = atan(P/100), exact for a ray that arrives along the front's normal. The trade's P/(100 (n − 1)) is its
    /// limit for weak prism.
    #[must_use]
    pub fn lean(&self) -> Vec2 {
        let amount = self.prism.amount_pd();
        if amount == 0.0 {
            return Vec2::ZERO;
        }
        let deviation = (amount / 100.0).atan();
        let slope = deviation.sin() / (self.index - deviation.cos());
        Vec2::new(self.prism.x_pd, self.prism.y_pd) * (slope / amount)
    }

    /// The lens of this recipe at a centre thickness. The thickness may come out at or below zero where the reference
    /// point lies outside the shape: it is then only a number of the formulas.
    ///
    /// # Errors
    /// [`Unmakeable`] where the front focuses inside the lens.
    pub fn at_centre(&self, centre_mm: f64) -> Result<Lens, Unmakeable> {
        let front_power = self.front_power_d();
        let reduced_m = centre_mm / 1000.0 / self.index;
        let shape = 1.0 - reduced_m * front_power;
        if shape <= 0.0 {
            return Err(Unmakeable::FocusInside { centre_mm });
        }
        // Vergence of distant light as it reaches the back vertex.
        let arriving = front_power / shape;
        let along = self.power.sphere() - arriving;
        let across = along + self.power.cylinder();
        let curvature = |power: f64| power / (1000.0 * (1.0 - self.index));
        let (c_along, c_across) = (curvature(along), curvature(across));
        let upright = if self.power.cylinder() == 0.0 {
            Upright::sphere(c_along)
        } else {
            Upright::Torus(Torus::new(c_along, c_across, self.power.axis()))
        };
        let back = if self.prism.is_none() {
            Surface::Upright(upright)
        } else {
            Surface::Turned(Turned::new(upright, self.lean()))
        };
        Ok(Lens {
            front: Surface::sphere(self.front_curvature()),
            back,
            centre_mm,
            back_powers_d: [along, across],
            back_curvatures: [c_along, c_across],
        })
    }
}

impl Lens {
    /// The front surface.
    #[must_use]
    pub fn front(&self) -> &Surface {
        &self.front
    }

    /// The back surface, measured from its own vertex.
    #[must_use]
    pub fn back(&self) -> &Surface {
        &self.back
    }

    /// Thickness at the reference point.
    #[must_use]
    pub fn centre_mm(&self) -> f64 {
        self.centre_mm
    }

    /// Powers of the back along the axis and across it.
    #[must_use]
    pub fn back_powers_d(&self) -> [f64; 2] {
        self.back_powers_d
    }

    /// Curvatures of the back along the axis and across it: positive where it is hollow toward the eye.
    #[must_use]
    pub fn back_curvatures(&self) -> [f64; 2] {
        self.back_curvatures
    }

    /// Thickness at a point; `None` beyond a surface.
    #[must_use]
    pub fn thickness(&self, p: Vec2) -> Option<f64> {
        Some(self.centre_mm + self.back.sag(p)? - self.front.sag(p)?)
    }

    /// Thickness and its gradient at a point.
    #[must_use]
    pub fn slope(&self, p: Vec2) -> Option<Slope> {
        let (front, back) = (self.front.slope(p)?, self.back.slope(p)?);
        Some(Slope { z: self.centre_mm + back.z - front.z, gradient: back.gradient - front.gradient })
    }

    /// Thickness with first and second derivatives at a point.
    #[must_use]
    pub fn jet(&self, p: Vec2) -> Option<Jet> {
        Some(self.between(&self.front.jet(p)?, &self.back.jet(p)?))
    }

    /// Thickness with first and second derivatives, from the jets of front and back at a point.
    #[must_use]
    pub fn between(&self, front: &Jet, back: &Jet) -> Jet {
        Jet {
            z: self.centre_mm + back.z - front.z,
            zx: back.zx - front.zx,
            zy: back.zy - front.zy,
            zxx: back.zxx - front.zxx,
            zxy: back.zxy - front.zxy,
            zyy: back.zyy - front.zyy,
        }
    }
}
