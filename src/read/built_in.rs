//! The materials that come with the program, held inside it as text.

use crate::material::Shelf;
use include_dir::{Dir, include_dir};

static BUILT_IN: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/materials");

impl Shelf {
    /// The materials that come with the program.
    ///
    /// # Panics
    /// Never in a program that passed its tests: one of them reads every material.
    #[must_use]
    pub fn built_in() -> Shelf {
        let mut shelf = Shelf::default();
        for file in BUILT_IN.files() {
            if let Some(stem) = file.path().file_stem().and_then(|stem| stem.to_str()) {
                shelf.put(super::material(file.contents(), stem).value.expect("a built-in material is sound"));
            }
        }
        shelf
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
}
