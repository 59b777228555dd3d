//! The shelf: the materials that a job can name. They are read by the doors.

use super::Material;
use std::sync::Arc;

/// All materials that a job can name, by rising index.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Shelf {
    /// The materials.
    pub materials: Vec<Arc<Material>>,
}

impl Shelf {
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

#[cfg(test)]
mod tests {
    use super::*;

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
