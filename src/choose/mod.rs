//! What an order leaves open is chosen here, each choice with its reason: base curve, minima, centre thickness, blank.
//!
//! Units: mm and dioptres in the names.

pub mod base;
pub mod blank;
pub mod centre;
pub mod minimum;
pub mod stock;

use crate::light::ReferenceLine;
use crate::material::{Glass, Material};
use std::sync::Arc;

/// Made to order or finished.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Supply {
    /// The back is made to order.
    #[default]
    Surfaced,
    /// A finished uncut, cut out.
    Stock,
}

impl Supply {
    /// The words used in job files.
    pub const WORDS: [&'static str; 2] = ["surfaced", "stock"];

    /// The word used in job files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Supply::Surfaced => "surfaced",
            Supply::Stock => "stock",
        }
    }
}

/// What a lens option is made of: a material of the shelf, or bare numbers.
#[derive(Clone, Debug, PartialEq)]
pub enum Substance {
    /// Of the shelf.
    Listed(Arc<Material>),
    /// Index, Abbe number and density as given in the job, at the job's reference line.
    Inline(Glass),
}

impl Substance {
    /// Index, Abbe number and density at the reference line.
    #[must_use]
    pub fn glass(&self, line: ReferenceLine) -> Glass {
        match self {
            Substance::Listed(material) => material.glass(line),
            Substance::Inline(glass) => *glass,
        }
    }

    /// The id of a material of the shelf.
    #[must_use]
    pub fn id(&self) -> Option<&String> {
        match self {
            Substance::Listed(material) => Some(&material.id),
            Substance::Inline(_) => None,
        }
    }
}

/// A lens option: what the job says of it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LensOption {
    /// Its name in the job.
    pub name: String,
    /// What it is made of.
    pub substance: Substance,
    /// As marked at index 1.530, where the job says.
    pub base_curve_d: Option<f64>,
    /// Least thickness at the guarded points, where the job says.
    pub min_centre_mm: Option<f64>,
    /// Least thickness at the outline, where the job says.
    pub min_edge_mm: Option<f64>,
    /// Made to order or finished.
    pub supply: Supply,
    /// In any one currency, where the job says.
    pub price: Option<f64>,
    /// The lab's tools come in steps of this, as marked at index 1.530.
    pub tool_step_d: f64,
    /// It is there already, worn: whatever it was cut from was large and thick enough.
    pub worn: bool,
}

/// The step of a lab's tools where nothing is said (common practice, no source: 0.0625 to 0.25).
pub const TOOL_STEP_D: f64 = 0.125;

impl LensOption {
    /// A lens made to order of which nothing more is said.
    #[must_use]
    pub fn new(name: &str, substance: Substance) -> LensOption {
        LensOption {
            name: name.to_owned(),
            substance,
            base_curve_d: None,
            min_centre_mm: None,
            min_edge_mm: None,
            supply: Supply::Surfaced,
            price: None,
            tool_step_d: TOOL_STEP_D,
            worn: false,
        }
    }
}
