//! The spectral lines at which index and power are meant (ISO 7944: reference wavelengths).
//!
//! Units: nm.

use serde::{Deserialize, Serialize};

/// The wavelength at which powers are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ReferenceLine {
    /// 587.56 nm, helium.
    #[default]
    D,
    /// 546.07 nm, mercury.
    E,
}

impl ReferenceLine {
    /// The word used in job files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            ReferenceLine::D => "d",
            ReferenceLine::E => "e",
        }
    }
}

/// Wavelengths in nm of a main line and its blue and red neighbours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lines {
    /// The line at which power is meant.
    pub main_nm: f64,
    /// F or F'.
    pub blue_nm: f64,
    /// C or C'.
    pub red_nm: f64,
}

impl Lines {
    /// d with F and C.
    pub const D: Lines = Lines { main_nm: 587.5618, blue_nm: 486.1327, red_nm: 656.2725 };
    /// e with F' and C'.
    pub const E: Lines = Lines { main_nm: 546.0740, blue_nm: 479.9914, red_nm: 643.8469 };

    /// The lines of a reference line.
    #[must_use]
    pub fn of(line: ReferenceLine) -> Lines {
        match line {
            ReferenceLine::D => Lines::D,
            ReferenceLine::E => Lines::E,
        }
    }
}
