//! What a lens is cut from: the uncut of a stock lens, or the unworked semi-finished blank. Its volume, and whether it is
//! thick enough.
//!
//! Units: mm, mm³.

use super::Made;
use crate::choose::base;
use crate::choose::{LensOption, Substance, Supply};
use crate::eye::Eye;
use crate::lens::TOOLING_INDEX;
use crate::material::SemiFinished;
use crate::measure::Mounted;
use crate::outline::{Density, Outline};
use crate::rim::Edging;
use kurbo::Vec2;
use std::f64::consts::PI;

/// On the way from the reference point to the outline a lens is looked at in so many places, where it is not plain that
/// it fits.
const PLACES_ON_A_RAY: usize = 4;

/// The volume of the blank that a lens of this option was made from; `None` where no blank is listed, the one listed is
/// not thick enough, or a surface ends within it. `circle` is asked for the round outline of a diameter.
pub fn uncut_mm3<O: AsRef<Outline>>(
    made: &Made,
    eye: Eye,
    option: &LensOption,
    outline: &Outline,
    circle: impl FnOnce(f64) -> O,
) -> Option<f64> {
    let diameter_mm = made.blank.diameter_mm?;
    match (&option.substance, option.supply) {
        (Substance::Inline(_), _) => None,
        (Substance::Listed(_), Supply::Stock) => round_mm3(made, circle(diameter_mm).as_ref(), diameter_mm),
        (Substance::Listed(material), Supply::Surfaced) => {
            let near = base::nearest(base::listed_bases(option), made.base.base_curve_d);
            let row = material.semi_finished.iter().find(|row| row.base_curve_d == near)?;
            let blank = Unworked::of(row)?;
            let reference = made.centration.point(eye);
            blank.holds(made, outline, reference)?.then(|| blank.volume_mm3(0.5 * diameter_mm)).flatten()
        }
    }
}

impl Made {
    /// What is left of an uncut of this volume beside the finished lens. Never below nought: an uncut that holds the lens
    /// may come out lighter by rounding alone.
    #[must_use]
    pub fn swarf_g(&self, uncut_mm3: f64, density: f64) -> f64 {
        (density * uncut_mm3 / 1000.0 - self.mass_g).max(0.0)
    }
}

/// A finished uncut: the lens itself, round. Nothing is edged, as with holes of nothing.
fn round_mm3(made: &Made, outline: &Outline, diameter_mm: f64) -> Option<f64> {
    let mounted = Mounted { lens: &made.lens, outline, reference: Vec2::ZERO };
    let whole = Edging::Holes { diameter_mm: 0.0, inset_mm: 0.0 };
    mounted.cut_out(whole, mounted.density_within(0.5 * diameter_mm)).map(|cut| cut.volume_mm3)
}

/// An unworked blank: between the sphere of its base curve and the sphere that leaves the listed thicknesses in the
/// middle and at the rim of the largest diameter listed (ours: the back of an unworked blank is taken as a sphere).
#[derive(Clone, Copy, Debug)]
struct Unworked {
    centre_mm: f64,
    front: f64,
    back: f64,
}

impl Unworked {
    fn of(row: &SemiFinished) -> Option<Unworked> {
        let widest = 0.5 * row.diameters_mm.last()?;
        let front = row.base_curve_d / (1000.0 * (TOOLING_INDEX - 1.0));
        let back_sag = row.edge_mm - row.centre_mm + sag(front, widest)?;
        // s = r²c/(1 + √(1 − r²c²)) turned round: c = 2s/(r² + s²).
        let back = 2.0 * back_sag / (widest * widest + back_sag * back_sag);
        Some(Unworked { centre_mm: row.centre_mm, front, back })
    }

    /// Thickness at a distance from the middle.
    fn thickness(&self, r: f64) -> Option<f64> {
        Some(self.centre_mm + sag(self.back, r)? - sag(self.front, r)?)
    }

    fn volume_mm3(&self, r: f64) -> Option<f64> {
        Some(PI * r * r * self.centre_mm + below(self.back, r)? - below(self.front, r)?)
    }

    /// Is it thick enough for a lens whose front is its own, with the reference point in its middle? One that is
    /// surfaced off the middle is judged as if it were not (ours: the wedge that this leaves is not known).
    fn holds(&self, made: &Made, outline: &Outline, reference: Vec2) -> Option<bool> {
        let thickness = &made.thickness;
        let farthest = 0.5 * made.blank.minimum_mm;
        let thinnest = self.centre_mm.min(self.thickness(farthest)?);
        let lens = &made.lens;
        if made.recipe.prism.is_none() && thickness.edges.max.thickness_mm.max(lens.centre_mm()) <= thinnest {
            return Some(true);
        }
        for node in outline.nodes(Density::Plain) {
            let ray = node.jet.p - reference;
            for place in 0..=PLACES_ON_A_RAY {
                let p = ray * (place as f64 / PLACES_ON_A_RAY as f64);
                if lens.thickness(p)? > self.thickness(p.hypot())? {
                    return Some(false);
                }
            }
        }
        Some(true)
    }
}

/// Sag of a sphere of this curvature at this distance from its vertex.
fn sag(curvature: f64, r: f64) -> Option<f64> {
    let under = 1.0 - (curvature * r).powi(2);
    (under > 0.0).then(|| curvature * r * r / (1.0 + under.sqrt()))
}

/// ∫ sag over a disc of this radius: the cylinder to the sag's depth, less the cap of height s, π s (3 r² + s²)/6.
fn below(curvature: f64, r: f64) -> Option<f64> {
    let s = sag(curvature, r)?;
    Some(PI * s * (r * r - (3.0 * r * r + s * s) / 6.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(base_curve_d: f64, centre_mm: f64, edge_mm: f64) -> SemiFinished {
        SemiFinished { base_curve_d, diameters_mm: vec![65.0, 75.0], centre_mm, edge_mm }
    }

    #[test]
    fn a_plane_blank_is_a_cylinder() {
        let volume = Unworked::of(&row(0.0, 8.0, 8.0)).and_then(|blank| blank.volume_mm3(35.0)).expect("a blank");
        assert!((volume - PI * 35.0 * 35.0 * 8.0).abs() < 1e-9, "{volume}");
    }

    #[test]
    fn a_blank_is_what_rings_add_up_to() {
        // Midpoint rule over rings, with the backs' sphere solved from its two thicknesses by hand.
        let row = row(6.0, 9.0, 7.0);
        let front = |r: f64| 530.0 / 6.0 - ((530.0_f64 / 6.0).powi(2) - r * r).sqrt();
        let s = 7.0 - 9.0 + front(37.5);
        let radius = (37.5 * 37.5 + s * s) / (2.0 * s);
        let back = |r: f64| radius - (radius * radius - r * r).sqrt();
        let rings = 20_000;
        let step = 32.5 / f64::from(rings);
        let sum: f64 = (0..rings)
            .map(|i| {
                let r = step * (f64::from(i) + 0.5);
                2.0 * PI * r * step * (9.0 + back(r) - front(r))
            })
            .sum();
        let volume = Unworked::of(&row).and_then(|blank| blank.volume_mm3(32.5)).expect("a blank");
        assert!((volume - sum).abs() < 1e-3, "{volume} against {sum}");
    }
}
