//! What a laboratory wants to know of surfacing a lens: what the blank leaves, how far the uncut is cribbed, tools, prism to
//! grind, and where to put the calliper. Worked out where it is asked for: no lens needs it to be made.
//!
//! Units: mm, dioptres, prism dioptres in the names.

use super::cuts_from::CutsFrom;
use super::unworked::Unworked;
use super::{Made, extreme};
use crate::choose::{LensOption, Supply};
use crate::eye::Eye;
use crate::lens::TOOLING_INDEX;
use crate::material::INLINE_DIAMETERS_MM;
use crate::math::roots;
use crate::outline::Outline;
use crate::rx::Prism;
use kurbo::Vec2;
use std::f64::consts::TAU;

/// An uncut is cribbed to keep this edge: a sharper one chips and cuts (the trade's half millimetre; common practice, no
/// source).
pub const CRIB_EDGE_MM: f64 = 0.5;
/// A centre may be this much thicker or thinner than ordered (ISO 21987, from memory).
pub const CENTRE_TOLERANCE_MM: f64 = 0.3;
/// Directions in which a thin edge is looked for, and how far apart on the way.
const RAYS: usize = 48;
const STRIDE_MM: f64 = 1.5;
/// Its direction is narrowed by so many golden sections: from 15° to 1e-9°.
const SECTIONS: usize = 50;

/// The work on the back of one lens.
#[derive(Clone, Debug, PartialEq)]
pub struct Surfacing {
    /// The blanks and uncuts that serve.
    pub cuts_from: CutsFrom,
    /// The blank's middle, toward the nose from the boxed centre.
    pub middle_in_mm: f64,
    /// The blank's middle, upward from the boxed centre.
    pub middle_up_mm: f64,
    /// The least that surfacing takes off; `None` where no blank is listed, and of a stock lens.
    pub least_taken_mm: Option<f64>,
    /// Beyond which the uncut's edge gets too thin; `None` where it does not within the blank, and of a stock lens.
    pub crib: Option<Crib>,
    /// Tools for both meridians; `None` of a stock lens.
    pub tools: Option<Tools>,
    /// The prism at the blank's middle: the prescribed one, and what a reference point off the middle adds; `None` of a
    /// stock lens.
    pub prism: Option<Prism>,
    /// The thickest place anywhere in the shape.
    pub thickest: Spot,
    /// The thinnest place anywhere in the shape.
    pub thinnest: Spot,
}

/// How far an uncut is cribbed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crib {
    /// The largest round uncut, about the blank's middle, with half a millimetre of edge all round.
    pub diameter_mm: f64,
    /// Does the outline lie in it, with what edging wants all round?
    pub holds: bool,
}

/// A tool for one meridian of the back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tool {
    /// The curve that the power wants, as marked at index 1.530; positive for a back hollow toward the eye.
    pub wanted_d: f64,
    /// The nearest that the lab has.
    pub tool_d: f64,
}

/// Tools for both meridians of a back, and what power comes out with them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tools {
    /// Along the axis of the minus cylinder.
    pub along: Tool,
    /// Across it; the same for a sphere.
    pub across: Tool,
    /// Power made less power wanted, along the axis.
    pub sphere_error_d: f64,
    /// The same across the axis, less that.
    pub cylinder_error_d: f64,
}

/// A place where to put the calliper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Thickness there.
    pub thickness_mm: f64,
    /// Toward the nose from the reference point.
    pub in_mm: f64,
    /// Upward from there.
    pub up_mm: f64,
}

impl Tool {
    fn nearest(curvature: f64, step_d: f64) -> Tool {
        let wanted_d = 1000.0 * (TOOLING_INDEX - 1.0) * curvature + 0.0;
        Tool { wanted_d, tool_d: (wanted_d / step_d).round() * step_d + 0.0 }
    }

    /// A back's power is (1 − n)/r: with the tool's curve instead of the wanted one the power is off by this.
    fn error_d(&self, index: f64) -> f64 {
        (1.0 - index) / (TOOLING_INDEX - 1.0) * (self.tool_d - self.wanted_d)
    }
}

impl Tools {
    /// For a lens, from tools in steps of `step_d`. The back vertex power is what reaches the back, and its own power: an
    /// error of the one is the error of the other.
    #[must_use]
    pub fn of(made: &Made, step_d: f64) -> Tools {
        let [along, across] = made.lens.back_curvatures().map(|curvature| Tool::nearest(curvature, step_d));
        let [sphere_error_d, across_d] = [along, across].map(|tool| tool.error_d(made.recipe.index));
        Tools { along, across, sphere_error_d, cylinder_error_d: across_d - sphere_error_d }
    }
}

impl Made {
    /// The work on its back.
    #[must_use]
    pub fn surfacing(&self, eye: Eye, outline: &Outline, option: &LensOption) -> Surfacing {
        let reference = self.centration.point(eye);
        let middle = self.blank.middle(outline, reference);
        let surfaced = option.supply == Supply::Surfaced;
        let laid = Unworked::listed(option, self.base.base_curve_d)
            .and_then(|unworked| unworked.laid(&self.lens, outline, reference, middle)?.least());
        let spot = |point: Vec2, thickness_mm| {
            let off = point - reference;
            Spot { thickness_mm, in_mm: off.x * eye.nasal_sign() + 0.0, up_mm: off.y + 0.0 }
        };
        let (thickest, thickest_mm) = self.thickest(reference, outline);
        let thinnest = self.thinnest(reference);
        Surfacing {
            cuts_from: CutsFrom::of(self, eye, outline, option),
            middle_in_mm: middle.x * eye.nasal_sign() + 0.0,
            middle_up_mm: middle.y + 0.0,
            least_taken_mm: laid.map(|room| room.taken_mm),
            crib: surfaced.then(|| self.crib(outline, reference, middle)).flatten(),
            tools: surfaced.then(|| Tools::of(self, option.tool_step_d)),
            prism: surfaced.then(|| self.prism_to_grind(middle - reference)),
            thickest: spot(thickest, thickest_mm),
            thinnest: spot(thinnest, self.thickness.thinnest_mm),
        }
    }

    /// The prescribed prism, and what the lens has of itself so far off its reference point (Prentice's rule).
    fn prism_to_grind(&self, off: Vec2) -> Prism {
        let (x_pd, y_pd) = self.recipe.power.prentice_pd(off.x, off.y);
        self.recipe.prism.plus(Prism { x_pd, y_pd })
    }

    /// The thickest place anywhere in the shape, from the boxed centre: the thickest edge, or where the lens is thickest
    /// inside.
    fn thickest(&self, reference: Vec2, outline: &Outline) -> (Vec2, f64) {
        let edge = self.thickness.edges.max;
        let start = if self.thickness.centre_mm.is_some() { reference } else { Vec2::ZERO };
        let inside = extreme::lowest(outline, start, |p| Some(-self.lens.thickness(p - reference)?));
        match inside {
            Some((at, lowest)) if -lowest > edge.thickness_mm => (at, -lowest),
            _ => (edge.point, edge.thickness_mm),
        }
    }

    fn thinnest(&self, reference: Vec2) -> Vec2 {
        let thickness = &self.thickness;
        let centre = thickness.centre_mm.map(|mm| (reference, mm));
        let lowest = thickness.lowest.map(|lowest| (lowest.point, lowest.thickness_mm));
        let edge = (thickness.edges.min.point, thickness.edges.min.thickness_mm);
        let all = [centre, lowest].into_iter().flatten();
        all.fold(edge, |least, next| if next.1 <= least.1 { next } else { least }).0
    }

    /// How far the uncut about the blank's middle keeps half a millimetre of edge; nothing where all of it does.
    fn crib(&self, outline: &Outline, reference: Vec2, middle: Vec2) -> Option<Crib> {
        let most_mm = 0.5 * self.blank.diameter_mm.unwrap_or(INLINE_DIAMETERS_MM[3]);
        let off = middle - reference;
        let spare = |way: Vec2, out: f64| Some(self.lens.thickness(off + out * way)? - CRIB_EDGE_MM);
        let first = |turn: f64| {
            let way = Vec2::from_angle(turn);
            let mut before = (0.0, spare(way, 0.0)?);
            let strides = (most_mm / STRIDE_MM).ceil();
            for stride in 1..=strides as u32 {
                let out = (STRIDE_MM * f64::from(stride)).min(most_mm);
                let now = (out, spare(way, out)?);
                if before.1 > 0.0 && now.1 <= 0.0 {
                    let at = |out: f64| spare(way, out).unwrap_or(f64::NAN);
                    return roots::between(at, before, now, 1e-12).ok();
                }
                before = now;
            }
            None
        };
        let rays = (0..RAYS).map(|ray| TAU * ray as f64 / RAYS as f64);
        let found = rays.filter_map(|turn| Some((turn, first(turn)?)));
        let (turn, out) = found.reduce(|a, b| if b.1 < a.1 { b } else { a })?;
        let radius = golden(turn, TAU / RAYS as f64, |turn| first(turn).unwrap_or(f64::INFINITY)).min(out);
        let wanted = outline.farthest_mm(middle) + crate::choose::blank::ALLOWANCE_MM;
        Some(Crib { diameter_mm: 2.0 * radius, holds: radius >= wanted - 1e-9 })
    }
}

/// The least value of a function that has one valley within `half` of `middle`, by golden sections.
fn golden(middle: f64, half: f64, f: impl Fn(f64) -> f64) -> f64 {
    let share = 0.5 * (5f64.sqrt() - 1.0);
    let (mut a, mut b) = (middle - half, middle + half);
    let (mut c, mut d) = (b - share * (b - a), a + share * (b - a));
    let (mut fc, mut fd) = (f(c), f(d));
    for _ in 0..SECTIONS {
        if fc < fd {
            (b, d, fd) = (d, c, fc);
            c = b - share * (b - a);
            fc = f(c);
        } else {
            (a, c, fc) = (c, d, fd);
            d = a + share * (b - a);
            fd = f(d);
        }
    }
    fc.min(fd)
}
