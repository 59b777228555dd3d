//! The shelf as JSON for other programs, and the figures by which materials are compared.
//!
//! Units: mm, dioptres, g/cm³, nm, prism dioptres (`_pd`), percent. Figures are those at the d line.

use crate::light::ReferenceLine;
use crate::material::{Material, Shelf};
use serde::Serialize;

/// The number of this format.
pub const FORMAT: i64 = 1;

/// The shelf.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MaterialsWire {
    /// The number of this format.
    pub format: i64,
    /// By rising index.
    pub materials: Vec<MaterialWire>,
}

/// A material on the shelf.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MaterialWire {
    /// Its id in job files.
    pub id: String,
    /// Its name on screen.
    pub name: String,
    /// Index at the d line.
    pub n_d: f64,
    /// Abbe number at the d line.
    pub v_d: f64,
    /// g/cm³.
    pub density: f64,
    /// Below this wavelength it lets next to nothing through; null where not known.
    pub uv_cutoff_nm: Option<f64>,
    /// Of the bare lens, both surfaces and the light that goes to and fro between them.
    pub reflection_percent: f64,
    /// How much curve this index needs for a power, against crown glass.
    pub curve_variation_factor: f64,
}

/// The shelf as other programs read it.
#[must_use]
pub fn wire(shelf: &Shelf) -> MaterialsWire {
    MaterialsWire { format: FORMAT, materials: shelf.materials.iter().map(|material| one(material)).collect() }
}

fn one(material: &Material) -> MaterialWire {
    let glass = material.glass(ReferenceLine::D);
    MaterialWire {
        id: material.id.clone(),
        name: material.name.clone(),
        n_d: material.n_d,
        v_d: material.v_d,
        density: material.density,
        uv_cutoff_nm: material.uv_cutoff_nm,
        reflection_percent: 100.0 * glass.lens_reflectance(),
        curve_variation_factor: glass.curve_variation_factor(),
    }
}

/// Transverse chromatic aberration at a point of a thin lens: Prentice's prism over the Abbe number, |F| h / (10 V).
#[must_use]
pub fn colour_pd(material: &Material, power_d: f64, at_mm: f64) -> f64 {
    power_d.abs() * at_mm / 10.0 / material.v_d
}
