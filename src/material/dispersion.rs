//! Index against wavelength: the two-term Cauchy form n = A + B/λ², fixed by n and V at one line (ours; a published
//! dispersion may replace it where a material has one).
//!
//! Units: nm for wavelengths; indices and Abbe numbers are bare numbers.

use crate::light::{Lines, ReferenceLine};

/// Abbe number V = (n − 1)/(n_blue − n_red).
#[must_use]
pub fn constringence(main: f64, blue: f64, red: f64) -> f64 {
    (main - 1.0) / (blue - red)
}

/// What a lens is made of, at the line at which its power is meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glass {
    /// Refractive index at the reference line.
    pub index: f64,
    /// Abbe number with the blue and red lines that belong to the reference line.
    pub abbe: f64,
    /// g/cm³.
    pub density: f64,
    a: f64,
    b: f64,
}

impl Glass {
    /// From index and Abbe number as given at `line`.
    #[must_use]
    pub fn new(index: f64, abbe: f64, density: f64, line: ReferenceLine) -> Glass {
        let lines = Lines::of(line);
        let b = (index - 1.0) / abbe / (lines.blue_nm.powi(-2) - lines.red_nm.powi(-2));
        Glass { index, abbe, density, a: index - b * lines.main_nm.powi(-2), b }
    }

    /// From n_d and V_d, read at `line`.
    #[must_use]
    pub fn from_d(n_d: f64, v_d: f64, density: f64, line: ReferenceLine) -> Glass {
        let at_d = Glass::new(n_d, v_d, density, ReferenceLine::D);
        match line {
            ReferenceLine::D => at_d,
            ReferenceLine::E => {
                let (main, blue, red) =
                    (at_d.index_at(Lines::E.main_nm), at_d.index_at(Lines::E.blue_nm), at_d.index_at(Lines::E.red_nm));
                Glass { index: main, abbe: constringence(main, blue, red), ..at_d }
            }
        }
    }

    /// Index at a wavelength in nm.
    #[must_use]
    pub fn index_at(&self, wavelength_nm: f64) -> f64 {
        self.a + self.b / (wavelength_nm * wavelength_nm)
    }

    /// Reflectance of one bare surface at right angles, as a share of 1: ((n − 1)/(n + 1))² (Fresnel).
    #[must_use]
    pub fn surface_reflectance(&self) -> f64 {
        let r = (self.index - 1.0) / (self.index + 1.0);
        r * r
    }

    /// Reflectance of a bare lens, both surfaces with the light that goes to and fro between them: 2R/(1 + R).
    #[must_use]
    pub fn lens_reflectance(&self) -> f64 {
        let r = self.surface_reflectance();
        2.0 * r / (1.0 + r)
    }

    /// Curve variation factor against spectacle crown, 0.523/(n − 1): how much less curve this index needs for a power.
    #[must_use]
    pub fn curve_variation_factor(&self) -> f64 {
        0.523 / (self.index - 1.0)
    }
}
