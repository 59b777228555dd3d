//! Shared by the tests: chance that is the same every time, and a lens option of bare numbers.

use rimwise::choose::{LensOption, Substance};
use rimwise::light::ReferenceLine;
use rimwise::material::Glass;

/// SplitMix64 (Steele, Lea & Flood 2014): the same numbers on every machine.
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    pub(crate) fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    pub(crate) fn within(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.share()
    }

    pub(crate) fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        of[((self.share() * of.len() as f64) as usize).min(of.len() - 1)]
    }
}

/// A lens option of bare numbers.
pub(crate) fn inline(index: f64, abbe: f64, density: f64, centre_mm: f64, edge_mm: f64) -> LensOption {
    let glass = Glass::new(index, abbe, density, ReferenceLine::D);
    let mut option = LensOption::new("lens", Substance::Inline(glass));
    option.min_centre_mm = Some(centre_mm);
    option.min_edge_mm = Some(edge_mm);
    option
}

/// VP-11 of the published checks: what a spectacle lens 12 mm before the cornea and a contact lens need, D.
pub(crate) const CONTACT_LENSES: [(f64, f64); 11] = [
    (-20.0, -16.129),
    (-15.0, -12.712),
    (-10.0, -8.929),
    (-8.0, -7.299),
    (-6.0, -5.597),
    (-4.0, -3.817),
    (4.0, 4.202),
    (6.0, 6.466),
    (8.0, 8.85),
    (10.0, 11.364),
    (15.0, 18.293),
];
