//! A semi-finished blank before its back is surfaced, with a lens laid in it: is there glass enough everywhere?
//!
//! Units: mm, mm³, curvature 1/mm. Points from the boxed centre; inside [`Laid`] from the reference point, z toward the
//! eye from the lens's front.

use super::extreme;
use crate::choose::base;
use crate::choose::blank::Blank;
use crate::choose::{LensOption, Substance, Supply};
use crate::lens::{Lens, TOOLING_INDEX};
use crate::material::SemiFinished;
use crate::outline::{Density, Outline};
use crate::surface::Slope;
use kurbo::Vec2;
use std::f64::consts::PI;

/// Surfacing takes off at least this everywhere within the outline: what is less leaves marks of the blank's own back
/// (ours, no source).
pub const LEAST_TAKEN_MM: f64 = 0.5;
/// On the way from the boxed centre to the outline a lens is looked at in so many places, where it is not plain that it
/// fits.
const PLACES_ON_A_RAY: usize = 4;
/// Between those places there may be less room than at them, by less than this: half the difference of two backs'
/// curvatures, at most 1/25 mm, times the square of half their distance, at most 4.5 mm, is 0.4.
const BETWEEN_MM: f64 = 0.4;

/// An unworked blank: between the sphere of its base curve and the sphere that leaves the listed thicknesses in the
/// middle and at the rim of the largest diameter listed (ours: the back of an unworked blank is taken as a sphere, and
/// the diameters of a row as one blank, cut smaller).
#[derive(Clone, Copy, Debug)]
pub struct Unworked {
    centre_mm: f64,
    front: f64,
    back: f64,
}

/// A lens in the blank that it is surfaced from.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    lens: &'a Lens,
    outline: &'a Outline,
    reference: Vec2,
    back: f64,
    /// Where the blank's middle comes out at its back: sideways, and z.
    vertex: (Vec2, f64),
    /// The blank's own axis there, sideways and along z: it leans where the reference point is off the middle.
    axis: (Vec2, f64),
}

/// The place where surfacing takes off least.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// From the boxed centre.
    pub at: Vec2,
    /// What is taken off there; negative where the blank is too thin.
    pub taken_mm: f64,
    /// Thickness of the lens there.
    pub lens_mm: f64,
    /// Is it at the outline?
    pub at_edge: bool,
}

impl Unworked {
    /// The blank of a row; a front that is not listed is taken to come in the thicknesses of its neighbour (ours). `None`
    /// where its spheres end within it.
    #[must_use]
    pub fn of(row: &SemiFinished, base_curve_d: f64) -> Option<Unworked> {
        let widest = 0.5 * row.diameters_mm.last()?;
        let front = base_curve_d / (1000.0 * (TOOLING_INDEX - 1.0));
        let back_sag = row.edge_mm - row.centre_mm + sag(front, widest)?;
        // s = r²c/(1 + √(1 − r²c²)) turned round: c = 2s/(r² + s²).
        let back = 2.0 * back_sag / (widest * widest + back_sag * back_sag);
        Some(Unworked { centre_mm: row.centre_mm, front, back })
    }

    /// The blank that an option on this base curve is surfaced from; `None` where none is listed.
    #[must_use]
    pub fn listed(option: &LensOption, base_curve_d: f64) -> Option<Unworked> {
        match (&option.substance, option.supply) {
            (Substance::Listed(material), Supply::Surfaced) => {
                let near = base::nearest(base::listed_bases(option), base_curve_d);
                let row = material.semi_finished.iter().find(|row| row.base_curve_d == near)?;
                Unworked::of(row, base_curve_d)
            }
            (Substance::Inline(_), _) | (_, Supply::Stock) => None,
        }
    }

    /// Thickness at a distance from the middle.
    #[must_use]
    pub fn thickness_mm(&self, r: f64) -> Option<f64> {
        Some(self.centre_mm + sag(self.back, r)? - sag(self.front, r)?)
    }

    /// Volume of the blank cut to this radius.
    #[must_use]
    pub fn volume_mm3(&self, r: f64) -> Option<f64> {
        Some(PI * r * r * self.centre_mm + below(self.back, r)? - below(self.front, r)?)
    }

    /// Is it plain at a glance that a lens without prism, no thicker than this, lies in it about the middle? Its thickness
    /// grows or falls all the way from the middle.
    fn plainly_holds(&self, lens_mm: f64, farthest_mm: f64) -> bool {
        let rim_mm = self.thickness_mm(farthest_mm).unwrap_or(0.0);
        lens_mm + LEAST_TAKEN_MM <= self.centre_mm.min(rim_mm)
    }

    /// What is short where a lens does not lie in this blank, or where the blank ends (`None` in it); nothing where it does.
    pub(super) fn lacks(&self, wanted: &Wanted<'_>) -> Option<Option<Room>> {
        let Wanted { lens, outline, reference, blank, thickest_edge_mm, prism } = *wanted;
        let thickest_mm = thickest_edge_mm.max(lens.centre_mm());
        if !prism && !blank.decentred && self.plainly_holds(thickest_mm, 0.5 * blank.minimum_mm) {
            return None;
        }
        let Some(laid) = self.laid(lens, outline, reference, blank.middle(outline, reference)) else {
            return Some(None);
        };
        match laid.seen() {
            None => Some(None),
            Some(seen) if seen.taken_mm >= LEAST_TAKEN_MM + BETWEEN_MM => None,
            Some(seen) => {
                let room = laid.least_from(seen);
                (room.taken_mm < LEAST_TAKEN_MM - 1e-9).then_some(Some(room))
            }
        }
    }

    /// A lens laid in it, the blank's middle there (from the boxed centre); `None` where the front ends before that.
    #[must_use]
    pub fn laid<'a>(&self, lens: &'a Lens, outline: &'a Outline, reference: Vec2, middle: Vec2) -> Option<Laid<'a>> {
        let off = middle - reference;
        // The front is a sphere about (0, 0, 1/c): its normal at the blank's middle is the blank's axis.
        let z = sag(self.front, off.hypot())?;
        let axis = (-self.front * off, 1.0 - self.front * z);
        let vertex = (off + self.centre_mm * axis.0, z + self.centre_mm * axis.1);
        Some(Laid { lens, outline, reference, back: self.back, vertex, axis })
    }
}

/// A lens that wants a blank.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'a> {
    pub(super) lens: &'a Lens,
    pub(super) outline: &'a Outline,
    pub(super) reference: Vec2,
    pub(super) blank: &'a Blank,
    pub(super) thickest_edge_mm: f64,
    pub(super) prism: bool,
}

impl Laid<'_> {
    /// z of the blank's back at a point from the reference point, with its gradient: on a sphere of curvature c that
    /// touches the plane across the axis u at the vertex, with δ sideways from there, c(δ² + ζ²)/2 = u·(δ, ζ).
    fn blank_back(&self, p: Vec2) -> Option<Slope> {
        let (lean, upright) = self.axis;
        let delta = p - self.vertex.0;
        let q = 0.5 * self.back * delta.hypot2() - lean.dot(delta);
        let under = upright * upright - 2.0 * self.back * q;
        (under > 0.0).then(|| {
            let root = under.sqrt();
            let zeta = 2.0 * q / (upright + root);
            // u_z − cζ is that root.
            Slope { z: self.vertex.1 + zeta, gradient: (self.back * delta - lean) / root }
        })
    }

    /// What surfacing takes off at a point (from the boxed centre); `None` beyond a surface.
    #[must_use]
    pub fn taken_mm(&self, p: Vec2) -> Option<f64> {
        let at = p - self.reference;
        Some(self.blank_back(at)?.z - self.lens.centre_mm() - self.lens.back().sag(at)?)
    }

    fn taken_with_gradient(&self, p: Vec2) -> Option<(f64, Vec2)> {
        let at = p - self.reference;
        let (blank, lens) = (self.blank_back(at)?, self.lens.back().slope(at)?);
        Some((blank.z - self.lens.centre_mm() - lens.z, blank.gradient - lens.gradient))
    }

    fn room(&self, at: Vec2, taken_mm: f64, at_edge: bool) -> Option<Room> {
        let lens_mm = self.lens.thickness(at - self.reference)?;
        Some(Room { at, taken_mm, lens_mm, at_edge })
    }

    /// The least room among some places inside; `None` where the blank ends.
    fn seen(&self) -> Option<Room> {
        let mut least = (Vec2::ZERO, self.taken_mm(Vec2::ZERO)?, false);
        for node in self.outline.nodes(Density::Plain) {
            for place in 1..=PLACES_ON_A_RAY {
                let p = node.jet.p * (place as f64 / PLACES_ON_A_RAY as f64);
                let taken = self.taken_mm(p)?;
                if taken < least.1 {
                    least = (p, taken, place == PLACES_ON_A_RAY);
                }
            }
        }
        self.room(least.0, least.1, least.2)
    }

    /// Where surfacing takes off least, anywhere within the outline; `None` where the blank ends.
    #[must_use]
    pub fn least(&self) -> Option<Room> {
        self.seen().map(|seen| self.least_from(seen))
    }

    fn least_from(&self, seen: Room) -> Room {
        let start = if seen.at_edge { seen.at * 0.9 } else { seen.at };
        let inside = extreme::lowest(self.outline, start, |p| self.taken_mm(p));
        let along = self.outline.along(|p| self.taken_with_gradient(p));
        let scan = self.outline.scan(Density::Fine, |p| self.taken_with_gradient(p));
        let rim = scan.and_then(|scan| scan.min(&along)).and_then(|peaks| peaks.all().first().copied());
        let rim = rim.and_then(|rim| self.room(self.outline.curve().jet(rim.u).p, rim.value, true));
        let inside = inside.and_then(|(at, taken_mm)| self.room(at, taken_mm, false));
        let lower = |a: Room, b: Room| if b.taken_mm < a.taken_mm - 1e-9 { b } else { a };
        [rim, inside].into_iter().flatten().fold(seen, lower)
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
        let volume = Unworked::of(&row(0.0, 8.0, 8.0), 0.0).and_then(|blank| blank.volume_mm3(35.0)).expect("a blank");
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
        let volume = Unworked::of(&row, 6.0).and_then(|blank| blank.volume_mm3(32.5)).expect("a blank");
        assert!((volume - sum).abs() < 1e-3, "{volume} against {sum}");
    }
}
