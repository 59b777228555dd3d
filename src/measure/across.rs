//! Across the edge at one place: how thick the lens is inward from there, and what bevel or groove cut away of it.
//!
//! Units: mm, mm³. Along the inward normal the thickness is a parabola: its Taylor polynomial at the outline, or, where a
//! surface stands steeply, the one through three depths. Over the 0.7 mm at most that a bevel is high what is left out
//! comes to less than 1e-5 of what is taken away.

use crate::math::angle;
use crate::outline::Turn;
use crate::rim::{BEVEL_APEX_DEG, Edging};
use crate::surface::Jet;

/// Thickness along the inward normal at one point of the outline.
#[derive(Clone, Copy)]
pub(super) struct Profile {
    /// Thickness at the outline.
    edge: f64,
    /// Its growth inward.
    growth: f64,
    /// Half its second derivative.
    bend: f64,
    /// Curvature of the outline.
    curvature: f64,
    /// mm of outline per unit of the parameter.
    speed: f64,
}

/// The cut of one kind of edging, seen across the edge.
#[derive(Clone, Copy)]
pub(super) enum Cut {
    Bevel { height: f64, flank: f64 },
    Groove { width: f64, depth: f64 },
}

impl Profile {
    /// From the thickness field and the outline's turn at a point.
    pub(super) fn new(field: &Jet, turn: &Turn) -> Profile {
        let n = turn.normal;
        Profile {
            edge: field.z,
            growth: -(field.zx * n.x + field.zy * n.y),
            bend: 0.5 * (field.zxx * n.x * n.x + 2.0 * field.zxy * n.x * n.y + field.zyy * n.y * n.y),
            curvature: turn.curvature,
            speed: turn.speed,
        }
    }

    /// Through the thickness at the outline, at half the depth and at the whole `depth`.
    pub(super) fn through([edge, half, whole]: [f64; 3], depth: f64, turn: &Turn) -> Profile {
        Profile {
            edge,
            growth: (4.0 * half - 3.0 * edge - whole) / depth,
            bend: 2.0 * (edge - 2.0 * half + whole) / (depth * depth),
            curvature: turn.curvature,
            speed: turn.speed,
        }
    }

    pub(super) fn thickness(&self, q: f64) -> f64 {
        self.edge + (self.growth + self.bend * q) * q
    }

    /// ∫₀ᵗᵒ (thickness − flank · q)(1 − κ q) dq times the speed: what a ring of the offset outline holds beyond two
    /// flanks. The ring ends where the outline's own centre of curvature would be reached.
    fn beyond_flanks(&self, flank: f64, to: f64) -> f64 {
        let k = self.curvature;
        let q = if k * to > 1.0 { 1.0 / k } else { to };
        let (a, b, c) = (self.edge, self.growth - flank, self.bend);
        self.speed * q * (a + q * ((b - k * a) / 2.0 + q * ((c - k * b) / 3.0 - q * k * c / 4.0)))
    }

    /// The depth at which the edge is as thick as `width`, where it passes it once.
    fn meets(&self, width: f64) -> f64 {
        let lack = width - self.edge;
        let under = (self.growth * self.growth + 4.0 * self.bend * lack).max(0.0);
        2.0 * lack / (self.growth + under.sqrt().copysign(self.growth))
    }

    /// ∫₀ᵗᵒ width (1 − κ q) dq times the speed.
    fn band(&self, width: f64, to: f64) -> f64 {
        Profile { edge: width, growth: 0.0, bend: 0.0, ..*self }.beyond_flanks(0.0, to)
    }
}

impl Cut {
    pub(super) fn of(edging: Edging) -> Option<Cut> {
        match edging {
            Edging::Bevel { height_mm } => {
                let flank = 2.0 * angle::radians(0.5 * BEVEL_APEX_DEG).tan();
                Some(Cut::Bevel { height: height_mm, flank })
            }
            Edging::Groove { width_mm, depth_mm } => Some(Cut::Groove { width: width_mm, depth: depth_mm }),
            Edging::Holes { .. } => None,
        }
    }

    /// How deep it goes.
    pub(super) fn depth(&self) -> f64 {
        match *self {
            Cut::Bevel { height, .. } => height,
            Cut::Groove { depth, .. } => depth,
        }
    }

    /// What is cut where the edge is thick enough for the whole cut.
    pub(super) fn whole(&self, profile: &Profile) -> f64 {
        match *self {
            Cut::Bevel { height, flank } => profile.beyond_flanks(flank, height),
            Cut::Groove { width, depth } => profile.band(width, depth),
        }
    }

    /// How far the edge falls short of the whole cut, mm; above zero where [`Cut::lack`] counts.
    pub(super) fn shortfall(&self, profile: &Profile) -> f64 {
        match *self {
            Cut::Bevel { height, flank } => flank * height - profile.thickness(height),
            Cut::Groove { width, depth } => width - profile.thickness(0.0).min(profile.thickness(depth)),
        }
    }

    /// What [`Cut::whole`] counts wrongly where the edge falls short: added to it.
    pub(super) fn lack(&self, profile: &Profile) -> f64 {
        match *self {
            Cut::Bevel { height, flank } => {
                // Nothing is left to cut beyond the depth at which the flanks meet the faces: flank · q = thickness(q).
                let rate = flank - profile.growth;
                let under = (rate * rate - 4.0 * profile.bend * profile.edge).max(0.0);
                let meet = (2.0 * profile.edge / (rate + under.sqrt())).clamp(0.0, height);
                profile.beyond_flanks(flank, meet) - profile.beyond_flanks(flank, height)
            }
            // What is thinner than the groove is wide is cut away whole.
            Cut::Groove { width, depth } => {
                let to = |q: f64| profile.beyond_flanks(0.0, q) - profile.band(width, q);
                let meet = || profile.meets(width).clamp(0.0, depth);
                match (profile.thickness(0.0) < width, profile.thickness(depth) < width) {
                    (true, true) => to(depth),
                    (true, false) => to(meet()),
                    (false, true) => to(depth) - to(meet()),
                    (false, false) => 0.0,
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Vec2;

    const GROOVE: Cut = Cut::Groove { width: 0.6, depth: 0.4 };

    fn bevel() -> Cut {
        Cut::of(Edging::Bevel { height_mm: 0.5 }).expect("a bevel is cut")
    }

    fn profile(edge: f64, growth: f64, bend: f64, curvature: f64) -> Profile {
        Profile { edge, growth, bend, curvature, speed: 1.7 }
    }

    /// ∫ what the cut takes at each depth (1 − κ q) dq times the speed, by a fine midpoint rule.
    fn slowly(cut: Cut, profile: &Profile) -> f64 {
        const STEPS: u32 = 20_000;
        let step = cut.depth() / f64::from(STEPS);
        let taken = |q: f64| match cut {
            Cut::Bevel { flank, .. } => (profile.thickness(q) - flank * q).max(0.0),
            Cut::Groove { width, .. } => profile.thickness(q).min(width),
        };
        let at = |i: u32| step * (f64::from(i) + 0.5);
        (0..STEPS).map(|i| taken(at(i)) * (1.0 - profile.curvature * at(i)) * step).sum::<f64>() * profile.speed
    }

    #[test]
    fn whole_and_lack_together_are_what_a_cut_takes() {
        let (mut short, mut enough, mut into, mut out_of) = (0, 0, 0, 0);
        for cut in [GROOVE, bevel()] {
            for edge in [0.3, 0.5, 0.58, 0.62, 0.75, 1.1, 1.5, 2.5] {
                for growth in [-0.35, -0.1, 0.08, 0.4] {
                    for bend in [-0.05, 0.0, 0.06] {
                        for curvature in [-0.02, 0.0, 0.05, 0.3] {
                            let profile = profile(edge, growth, bend, curvature);
                            let shortfall = cut.shortfall(&profile);
                            let lack = if shortfall > 0.0 { cut.lack(&profile) } else { 0.0 };
                            let (ours, slow) = (cut.whole(&profile) + lack, slowly(cut, &profile));
                            assert!(
                                (ours - slow).abs() < 1e-8,
                                "{ours} against {slow}: edge {edge}, growth {growth}, bend {bend}, curvature {curvature}"
                            );
                            assert!((shortfall > 0.0) == (cut.whole(&profile) - slow).abs().gt(&1e-8), "{shortfall}");
                            let [outer, inner] = [0.0, cut.depth()].map(|q| profile.thickness(q) < 0.6);
                            short += usize::from(shortfall > 0.0);
                            enough += usize::from(shortfall <= 0.0);
                            into += usize::from(matches!(cut, Cut::Groove { .. }) && outer && !inner);
                            out_of += usize::from(matches!(cut, Cut::Groove { .. }) && !outer && inner);
                        }
                    }
                }
            }
        }
        assert!(short > 50 && enough > 50 && into > 10 && out_of > 10, "{short} {enough} {into} {out_of}");
    }

    /// A parabola through three depths is the one it was read from.
    #[test]
    fn a_parabola_is_found_again_through_three_depths() {
        let own = profile(1.3, -0.2, 0.07, 0.04);
        let turn = Turn { normal: Vec2::new(1.0, 0.0), curvature: 0.04, speed: 1.7 };
        let again = Profile::through([0.0, 0.35, 0.7].map(|q| own.thickness(q)), 0.7, &turn);
        for q in [0.0, 0.1, 0.5, 0.7] {
            assert!((own.thickness(q) - again.thickness(q)).abs() < 1e-14, "at {q}");
        }
        assert!((again.growth + 0.2).abs() < 1e-13 && (again.bend - 0.07).abs() < 1e-12);
    }

    /// A sharper corner than the cut is deep: the ring ends at the centre of curvature.
    #[test]
    fn the_ring_ends_at_the_centre_of_curvature() {
        let sharp = profile(2.0, 0.0, 0.0, 4.0);
        // ∫₀^¼ 0.6 (1 − 4 q) dq = 0.6 / 8.
        assert!((GROOVE.whole(&sharp) - 1.7 * 0.6 / 8.0).abs() < 1e-15);
    }
}
