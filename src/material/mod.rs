//! Lens materials: index, dispersion and density, the minima by rim, and the blanks and uncuts they come in.
//!
//! Units: mm, dioptres, g/cm³, nm. Materials are read from `materials/*.toml` by the doors; nothing is read here.

mod dispersion;
mod shelf;

pub use dispersion::{Glass, constringence};
pub use shelf::Shelf;

use crate::light::ReferenceLine;
use crate::rim::Rim;
use std::collections::BTreeMap;

/// A material on the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// Its id: the stem of its file.
    pub id: String,
    /// Its name on screen.
    pub name: String,
    /// Index at the d line, 587.56 nm.
    pub n_d: f64,
    /// Abbe number V_d.
    pub v_d: f64,
    /// Density, g/cm³.
    pub density: f64,
    /// Below this wavelength it lets next to nothing through, where known.
    pub uv_cutoff_nm: Option<f64>,
    /// May it be grooved for a cord?
    pub grooved: bool,
    /// May it be drilled?
    pub drilled: bool,
    /// Least thicknesses, in the order of [`Rim::ALL`].
    pub minimum: [Minimum; 5],
    /// Blanks with a finished front.
    pub semi_finished: Vec<SemiFinished>,
    /// Finished uncuts.
    pub stock: Vec<StockRow>,
    /// Where each number is from, by key.
    pub source: BTreeMap<String, String>,
}

/// The least thicknesses of a finished lens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Minimum {
    /// At the reference point and at the lowest point.
    pub centre_mm: f64,
    /// At the outline.
    pub edge_mm: f64,
}

/// Blanks of one front curve whose back is to be surfaced.
#[derive(Clone, Debug, PartialEq)]
pub struct SemiFinished {
    /// As marked at index 1.530.
    pub base_curve_d: f64,
    /// Rising.
    pub diameters_mm: Vec<f64>,
    /// Thickness at the middle.
    pub centre_mm: f64,
    /// Thickness at the rim.
    pub edge_mm: f64,
}

/// Finished uncuts of a range of powers.
#[derive(Clone, Debug, PartialEq)]
pub struct StockRow {
    /// Spheres covered (minus-cylinder form), from and to.
    pub sphere: [f64; 2],
    /// The strongest minus cylinder covered.
    pub cylinder_to: f64,
    /// As marked at index 1.530.
    pub base_curve_d: f64,
    /// Rising.
    pub diameters_mm: Vec<f64>,
    /// Least thickness at the middle.
    pub centre_mm: f64,
    /// Least thickness of the uncut's rim.
    pub edge_mm: f64,
}

impl StockRow {
    /// Does the row cover this sphere and minus cylinder, D?
    #[must_use]
    pub fn covers(&self, sphere: f64, cylinder: f64) -> bool {
        let [from, to] = self.sphere;
        sphere >= from.min(to) && sphere <= from.max(to) && cylinder >= self.cylinder_to
    }
}

/// Bases in which a material given inline comes.
pub const INLINE_BASES_D: [f64; 5] = [0.5, 2.0, 4.0, 6.0, 8.0];
/// Diameters in which a material given inline comes.
pub const INLINE_DIAMETERS_MM: [f64; 4] = [65.0, 70.0, 75.0, 80.0];

impl Material {
    /// The least thicknesses for this rim: the material's, never under what the rim bears.
    #[must_use]
    pub fn minimum_for(&self, rim: Rim) -> Minimum {
        let listed = Rim::ALL
            .into_iter()
            .zip(self.minimum)
            .find(|(listed, _)| *listed == rim)
            .map_or(Minimum { centre_mm: 0.0, edge_mm: 0.0 }, |(_, minimum)| minimum);
        let (centre, edge) = rim.floor_mm();
        Minimum { centre_mm: listed.centre_mm.max(centre), edge_mm: listed.edge_mm.max(edge) }
    }

    /// The first stock row that covers this sphere and minus cylinder, D.
    #[must_use]
    pub fn stock_for(&self, sphere: f64, cylinder: f64) -> Option<&StockRow> {
        self.stock.iter().find(|row| row.covers(sphere, cylinder))
    }

    /// Index, Abbe number and density as a lens needs them, at the reference line.
    #[must_use]
    pub fn glass(&self, line: ReferenceLine) -> Glass {
        Glass::from_d(self.n_d, self.v_d, self.density, line)
    }
}
