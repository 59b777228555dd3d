//! The least thicknesses: the job's figure, else the material's for the rim.
//!
//! Units: mm.

use super::{LensOption, Substance};
use crate::material::Minimum;
use crate::rim::Rim;

/// The least thicknesses that a lens must keep, and what would have been chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Minima {
    /// What counts.
    pub kept: Minimum,
    /// What material and rim ask for; a job's figure below it is a caution.
    pub usual: Minimum,
    /// Did the job give the centre?
    pub centre_given: bool,
    /// Did the job give the edge?
    pub edge_given: bool,
}

/// The minima of a lens option in a rim.
#[must_use]
pub fn minima(option: &LensOption, rim: Rim) -> Minima {
    let usual = match &option.substance {
        Substance::Listed(material) => material.minimum_for(rim),
        Substance::Inline(_) => {
            let (centre_mm, edge_mm) = rim.floor_mm();
            Minimum { centre_mm, edge_mm }
        }
    };
    Minima {
        kept: Minimum {
            centre_mm: option.min_centre_mm.unwrap_or(usual.centre_mm),
            edge_mm: option.min_edge_mm.unwrap_or(usual.edge_mm),
        },
        usual,
        centre_given: option.min_centre_mm.is_some(),
        edge_given: option.min_edge_mm.is_some(),
    }
}
