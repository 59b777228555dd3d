//! The shelf: materials read from the text of `materials/*.toml`. Those that come with the program are held inside it;
//! others may be added or put in their place.
//!
//! Units: mm, dioptres, g/cm³, nm. No file is opened here.

use super::{Material, Minimum, SemiFinished, StockRow};
use crate::keys::{self, Key};
use include_dir::{Dir, include_dir};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

static BUILT_IN: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/materials");

/// All materials that a job can name, by rising index.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Shelf {
    /// The materials.
    pub materials: Vec<Arc<Material>>,
}

/// What is wrong with the text of a material.
#[derive(Clone, Debug, PartialEq)]
pub struct ShelfFault {
    /// The id that the text should have: the stem of its file.
    pub id: String,
    /// What is wrong.
    pub wrong: Wrong,
}

/// What is wrong with the text of a material.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Wrong {
    /// It cannot be read as a material; the reader's own words, with line and column.
    Unreadable(String),
    /// Its id is another than the stem of its file.
    Id(String),
    /// A figure out of any possible range.
    Range {
        /// Path of the key.
        path: String,
        /// What was found.
        found: f64,
        /// From and to.
        allowed: [f64; 2],
    },
    /// A list that does not rise, or is empty.
    NotRising {
        /// Path of the key.
        path: String,
    },
}

impl Shelf {
    /// The materials that come with the program.
    ///
    /// # Panics
    /// Never in a program that passed its tests: one of them reads every material.
    #[must_use]
    pub fn built_in() -> Shelf {
        let mut shelf = Shelf::default();
        for file in BUILT_IN.files() {
            let stem = file.path().file_stem().and_then(|stem| stem.to_str());
            if let (Some(id), Some(text)) = (stem, file.contents_utf8()) {
                shelf.put(Material::read(id, text).expect("a built-in material is sound"));
            }
        }
        shelf
    }

    /// The material of this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&Arc<Material>> {
        self.materials.iter().find(|material| material.id == id)
    }

    /// Puts a material on the shelf, in place of one of the same id.
    pub fn put(&mut self, material: Material) {
        self.materials.retain(|there| there.id != material.id);
        self.materials.push(Arc::new(material));
        self.materials.sort_by(|a, b| a.n_d.total_cmp(&b.n_d).then_with(|| a.id.cmp(&b.id)));
    }
}

/// A material file, key for key.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    id: String,
    name: String,
    n_d: f64,
    v_d: f64,
    density: f64,
    uv_cutoff_nm: Option<f64>,
    #[serde(default = "may_be")]
    grooved: bool,
    #[serde(default = "may_be")]
    drilled: bool,
    #[serde(default)]
    source: BTreeMap<String, String>,
    minimum: WrittenMinima,
    #[serde(default)]
    semi_finished: Vec<WrittenBlank>,
    #[serde(default)]
    stock: Vec<WrittenStock>,
}

fn may_be() -> bool {
    true
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct WrittenMinima {
    metal: WrittenMinimum,
    plastic: WrittenMinimum,
    supra: WrittenMinimum,
    reverse_supra: WrittenMinimum,
    rimless: WrittenMinimum,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenMinimum {
    centre_mm: f64,
    edge_mm: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenBlank {
    base_curve_d: f64,
    diameters_mm: Vec<f64>,
    centre_mm: f64,
    edge_mm: f64,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenStock {
    sphere: [f64; 2],
    cylinder_to: f64,
    base_curve_d: f64,
    diameters_mm: Vec<f64>,
    centre_mm: f64,
    edge_mm: f64,
}

impl From<WrittenMinimum> for Minimum {
    fn from(written: WrittenMinimum) -> Minimum {
        let WrittenMinimum { centre_mm, edge_mm } = written;
        Minimum { centre_mm, edge_mm }
    }
}

impl From<WrittenBlank> for SemiFinished {
    fn from(written: WrittenBlank) -> SemiFinished {
        let WrittenBlank { base_curve_d, diameters_mm, centre_mm, edge_mm } = written;
        SemiFinished { base_curve_d, diameters_mm, centre_mm, edge_mm }
    }
}

impl From<WrittenStock> for StockRow {
    fn from(written: WrittenStock) -> StockRow {
        let WrittenStock { sphere, cylinder_to, base_curve_d, diameters_mm, centre_mm, edge_mm } = written;
        StockRow { sphere, cylinder_to, base_curve_d, diameters_mm, centre_mm, edge_mm }
    }
}

impl From<Written> for Material {
    fn from(written: Written) -> Material {
        let WrittenMinima { metal, plastic, supra, reverse_supra, rimless } = written.minimum;
        Material {
            id: written.id,
            name: written.name,
            n_d: written.n_d,
            v_d: written.v_d,
            density: written.density,
            uv_cutoff_nm: written.uv_cutoff_nm,
            grooved: written.grooved,
            drilled: written.drilled,
            minimum: [metal, plastic, supra, reverse_supra, rimless].map(Minimum::from),
            semi_finished: written.semi_finished.into_iter().map(SemiFinished::from).collect(),
            stock: written.stock.into_iter().map(StockRow::from).collect(),
            source: written.source,
        }
    }
}

/// Range of blank diameters that can be meant, mm (ours).
const DIAMETER_MM: [f64; 2] = [40.0, 100.0];
/// Range of thicknesses of a blank that can be meant, mm (ours).
const BLANK_MM: [f64; 2] = [0.3, 40.0];
/// Range of the wavelength below which next to nothing passes, nm (ours).
const CUTOFF_NM: [f64; 2] = [200.0, 500.0];

impl Material {
    /// The material of this text, which should have this id.
    ///
    /// # Errors
    /// Everything that is wrong with it, as far as it can be read.
    pub fn read(id: &str, text: &str) -> Result<Material, Vec<ShelfFault>> {
        let fault = |wrong| ShelfFault { id: id.to_owned(), wrong };
        let written: Written =
            toml::from_str(text).map_err(|error| vec![fault(Wrong::Unreadable(error.to_string()))])?;
        let material = Material::from(written);
        let mut wrong = Vec::new();
        if material.id != id {
            wrong.push(Wrong::Id(material.id.clone()));
        }
        material.judge(&mut wrong);
        if wrong.is_empty() { Ok(material) } else { Err(wrong.into_iter().map(fault).collect()) }
    }

    fn judge(&self, wrong: &mut Vec<Wrong>) {
        within(wrong, "n_d", self.n_d, range_of(&keys::INDEX));
        within(wrong, "v_d", self.v_d, range_of(&keys::ABBE));
        within(wrong, "density", self.density, range_of(&keys::DENSITY));
        if let Some(cutoff) = self.uv_cutoff_nm {
            within(wrong, "uv_cutoff_nm", cutoff, CUTOFF_NM);
        }
        for (rim, minimum) in crate::rim::Rim::ALL.into_iter().zip(self.minimum) {
            let path = format!("minimum.{}", rim.word());
            within(wrong, &format!("{path}.centre_mm"), minimum.centre_mm, range_of(&keys::MIN_CENTRE));
            within(wrong, &format!("{path}.edge_mm"), minimum.edge_mm, range_of(&keys::MIN_EDGE));
        }
        for (i, blank) in self.semi_finished.iter().enumerate() {
            let path = format!("semi_finished[{i}]");
            judge_blank(wrong, &path, blank.base_curve_d, &blank.diameters_mm, [blank.centre_mm, blank.edge_mm]);
        }
        for (i, row) in self.stock.iter().enumerate() {
            let path = format!("stock[{i}]");
            judge_blank(wrong, &path, row.base_curve_d, &row.diameters_mm, [row.centre_mm, row.edge_mm]);
            row.judge(wrong, &path);
        }
    }
}

impl StockRow {
    fn judge(&self, wrong: &mut Vec<Wrong>, path: &str) {
        let [from, to] = range_of(&keys::CYLINDER);
        within(wrong, &format!("{path}.cylinder_to"), self.cylinder_to, [from, to.min(0.0)]);
        for (i, sphere) in self.sphere.into_iter().enumerate() {
            within(wrong, &format!("{path}.sphere[{i}]"), sphere, range_of(&keys::SPHERE));
        }
        if self.sphere[0] > self.sphere[1] {
            wrong.push(Wrong::NotRising { path: format!("{path}.sphere") });
        }
    }
}

fn judge_blank(wrong: &mut Vec<Wrong>, path: &str, base_d: f64, diameters_mm: &[f64], thickness_mm: [f64; 2]) {
    within(wrong, &format!("{path}.base_curve_d"), base_d, range_of(&keys::BASE_CURVE));
    within(wrong, &format!("{path}.centre_mm"), thickness_mm[0], BLANK_MM);
    within(wrong, &format!("{path}.edge_mm"), thickness_mm[1], BLANK_MM);
    for (i, diameter) in diameters_mm.iter().enumerate() {
        within(wrong, &format!("{path}.diameters_mm[{i}]"), *diameter, DIAMETER_MM);
    }
    if diameters_mm.is_empty() || !diameters_mm.is_sorted_by(|a, b| a < b) {
        wrong.push(Wrong::NotRising { path: format!("{path}.diameters_mm") });
    }
}

fn range_of(key: &Key) -> [f64; 2] {
    key.refused.allowed(0.0).unwrap_or([f64::NEG_INFINITY, f64::INFINITY])
}

fn within(wrong: &mut Vec<Wrong>, path: &str, found: f64, allowed: [f64; 2]) {
    if !(found >= allowed[0] && found <= allowed[1]) {
        wrong.push(Wrong::Range { path: path.to_owned(), found, allowed });
    }
}

impl fmt::Display for ShelfFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let file = format!("{}.toml", self.id);
        match &self.wrong {
            Wrong::Unreadable(said) => write!(f, "{file}: {}", said.trim_end()),
            Wrong::Id(found) => write!(f, "{file}: the id is \"{found}\", but the file's stem is \"{}\"", self.id),
            Wrong::Range { path, found, allowed: [from, to] } => {
                write!(f, "{file}: `{path}` is {found}; allowed is {from} to {to}")
            }
            Wrong::NotRising { path } => write!(f, "{file}: `{path}` must have something in it and rise"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_built_in_material_is_sound_and_has_a_source_for_its_numbers() {
        let shelf = Shelf::built_in();
        assert_eq!(shelf.materials.len(), BUILT_IN.files().count());
        for material in &shelf.materials {
            for key in ["n_d", "v_d", "density"] {
                assert!(material.source.contains_key(key), "{} has no source for {key}", material.id);
            }
        }
    }

    #[test]
    fn faults_of_a_material_come_back_together() {
        let text = BUILT_IN.get_file("resin-1.67.toml").and_then(|file| file.contents_utf8()).expect("there");
        let text = text.replace("n_d = 1.665", "n_d = 16.65").replace("density = 1.36", "density = nan");
        let faults = Material::read("resin-1.66", &text).expect_err("three faults");
        assert_eq!(faults.len(), 3, "{faults:?}");
        let misspelt = text.replace("grooved = true", "groved = true");
        let faults = Material::read("resin-1.67", &misspelt).expect_err("an unknown key");
        assert!(faults[0].to_string().contains("groved"), "{}", faults[0]);
    }

    #[test]
    fn a_material_takes_the_place_of_one_of_its_id() {
        let mut shelf = Shelf::built_in();
        let count = shelf.materials.len();
        let mut material = Material::clone(shelf.get("resin-1.50").expect("on the shelf"));
        material.name = "another".to_owned();
        shelf.put(material);
        assert_eq!(shelf.materials.len(), count);
        assert_eq!(shelf.get("resin-1.50").map(|material| material.name.as_str()), Some("another"));
    }
}
