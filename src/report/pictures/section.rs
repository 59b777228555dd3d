//! Lenses cut by planes that hold the direction z: plan sections, vertical sections, edges along their normal.
//!
//! Units: mm.

use super::super::number::{axis, figure, mm, power};
use super::super::words;
use super::profile::Held;
use super::{SCALE, subject};
use crate::assess::{Fit, Made, Pair};
use crate::draw::Picture;
use crate::draw::cut::{Cut, Reference, Slice};
use crate::draw::dimension::scale_words;
use crate::draw::plan::{Plan, PlanLens};
use crate::draw::vertical::Vertical;
use crate::eye::{Eye, Eyes};
use crate::lens::TOOLING_INDEX;
use kurbo::Vec2;

/// Places along a section; some thirty make its curves right to 0.002 mm.
const SLICES: u32 = 40;

/// A lens cut along a line in the plane of its outline: `at` gives the point at u, from the boxed centre.
pub(super) fn cut(held: &Held<'_>, [from, to]: [f64; 2], slices: u32, at: impl Fn(f64) -> Vec2) -> Option<Cut> {
    let (made, reference) = (held.made, held.reference());
    let slice = |i: u32| {
        let u = from + (to - from) * f64::from(i) / f64::from(slices);
        let p = at(u) - reference;
        let back_z = made.lens.centre_mm() + made.lens.back().sag(p)?;
        Some(Slice { u, front_z: made.lens.front().sag(p)?, back_z })
    };
    let slices: Option<Vec<Slice>> = (0..=slices).map(slice).collect();
    let cut = Cut::new(slices?, held.frame.rim)?;
    // Where the rim's own curve ends within the outline, the bevel is drawn where it usually lies.
    let behind = held.course().and_then(|course| {
        let behind = |u: f64| course.at(at(u), None).map(|passed| passed.wanted_mm);
        Some([behind(from)?, behind(to)?])
    });
    Some(match behind {
        Some(behind_mm) => cut.seated_at(behind_mm),
        None => cut,
    })
}

/// Plan section of the pair.
pub(super) fn plan(fit: &Fit<'_>, pair: &Pair) -> Option<Picture> {
    let said: Vec<String> = pair.eyes.iter().map(|(eye, made)| edges_in_words(eye, made)).collect();
    let plan = Plan {
        title: &format!("Plan section, {}, {}", subject(fit), scale_words(SCALE)),
        description: &said.join(" "),
        lenses: plan_lenses(fit, pair)?,
        rim: fit.mounting.frame.rim,
        rim_depth_mm: fit.mounting.frame.rim_depth_mm,
        scale: SCALE,
    };
    Some(plan.draw())
}

pub(super) fn plan_lenses(fit: &Fit<'_>, pair: &Pair) -> Option<Eyes<PlanLens>> {
    Some(Eyes {
        right: plan_lens(fit, Eye::Right, &pair.eyes.right)?,
        left: plan_lens(fit, Eye::Left, &pair.eyes.left)?,
    })
}

/// "Right lens: 5.2 mm at the nose, 5.7 mm at the temple, 1.3 mm in the middle."
fn edges_in_words(eye: Eye, made: &Made) -> String {
    let t = &made.thickness;
    let centre = t.centre_mm.map_or(String::new(), |centre| format!(", {} in the middle", mm(centre)));
    let edges = format!("{} at the nose, {} at the temple", mm(t.nasal_mm), mm(t.temporal_mm));
    format!("{} lens: {edges}{centre}.", words::capital(eye.word()))
}

/// The cut along the horizontal centre line; u is x in the frame from the middle of the bridge.
fn plan_lens(fit: &Fit<'_>, eye: Eye, made: &Made) -> Option<PlanLens> {
    let cardinal = fit.mounting.outlines.of(eye).cardinal();
    let middle = -0.5 * fit.mounting.boxing.centre_distance_mm() * eye.nasal_sign();
    let reference = made.centration.point(eye);
    let ends = [middle + cardinal.left.x, middle + cardinal.right.x];
    Some(PlanLens {
        cut: cut(&Held::of(fit, eye, made), ends, SLICES, |u| Vec2::new(u - middle, 0.0))?,
        reference: made.thickness.centre_mm.map(|centre_mm| Reference {
            u: middle + reference.x,
            centre_mm,
            off_plane: reference.y != 0.0,
        }),
        nasal_mm: made.thickness.nasal_mm,
        temporal_mm: made.thickness.temporal_mm,
    })
}

/// Vertical section of a lens.
pub(super) fn vertical(fit: &Fit<'_>, eye: Eye, made: &Made) -> Option<Picture> {
    let cardinal = fit.mounting.outlines.of(eye).cardinal();
    let reference = made.centration.point(eye);
    let t = &made.thickness;
    let centre = t.centre_mm.map_or(String::new(), |centre| format!(", {} at the reference point", mm(centre)));
    let vertical = Vertical {
        title: &format!("Vertical section, {}, {} lens, {}", subject(fit), eye.word(), scale_words(SCALE)),
        description: &format!("{} at the top, {} at the bottom{centre}.", mm(t.top_mm), mm(t.bottom_mm)),
        eye,
        cut: cut(&Held::of(fit, eye, made), [cardinal.bottom.y, cardinal.top.y], SLICES, |y| Vec2::new(0.0, y))?
            .beside_holes(),
        reference: t.centre_mm.map(|centre_mm| Reference { u: reference.y, centre_mm, off_plane: reference.x != 0.0 }),
        top_mm: t.top_mm,
        bottom_mm: t.bottom_mm,
        front: &front_in_words(made),
        back: &back_in_words(made),
        rim: fit.mounting.frame.rim,
        rim_depth_mm: fit.mounting.frame.rim_depth_mm,
        scale: SCALE,
    };
    Some(vertical.draw())
}

/// "front, base 4.00", "+5.02 D, radius 132.5 mm".
fn front_in_words(made: &Made) -> [String; 2] {
    [
        format!("front, base {} (at {TOOLING_INDEX:.3})", figure(made.base.base_curve_d, 2)),
        format!("{} D, {}", power(made.recipe.front_power_d()), radius(made.recipe.front_curvature())),
    ]
}

/// "back −8.76 / −10.26 D", "radius 76.0 mm along axis 175", "radius 64.9 mm across".
fn back_in_words(made: &Made) -> Vec<String> {
    let (powers, curvatures) = (made.lens.back_powers_d(), made.lens.back_curvatures());
    if made.recipe.power.cylinder() == 0.0 {
        return vec![format!("back {} D", power(powers[0])), radius(curvatures[0])];
    }
    vec![
        format!("back {} / {} D", power(powers[0]), power(powers[1])),
        format!("{} along {}", radius(curvatures[0]), axis(made.recipe.power.axis())),
        format!("{} across", radius(curvatures[1])),
    ]
}

fn radius(curvature: f64) -> String {
    if curvature == 0.0 { "plane".to_owned() } else { format!("radius {}", mm(1.0 / curvature.abs())) }
}
