//! The edge of a lens at one place of its outline, enlarged, as it is edged: at its thickest place, at the most critical
//! one, or in any direction that is asked for.
//!
//! Units: mm and degrees.

use super::super::number::{figure, mm, with_unit};
use super::super::words;
use super::section;
use crate::assess::{Fit, Made, Mounting};
use crate::draw::Picture;
use crate::draw::cut::{Cut, rim_across_mm};
use crate::draw::detail::{Detail, Shows};
use crate::draw::dimension::scale_words;
use crate::eye::Eye;
use crate::frame::Frame;
use crate::job::OneLens;
use crate::measure::{BesideRim, Course, EdgePoint, Passed, Shoulder};
use crate::outline::{Outline, direction_deg};
use crate::rim::{Edging, MOVED_MM, Position, SEAT_MM, USUAL_DEPTH_MM};
use kurbo::Vec2;

/// Places along a short piece of a lens.
const FEW_SLICES: u32 = 12;
/// Millimetres on paper for one of the lens.
const DETAIL_SCALE: f64 = 5.0;
/// How much of the lens is shown.
const DETAIL_MM: f64 = 6.0;

/// A lens in its frame.
#[derive(Clone, Copy)]
pub(super) struct Held<'a> {
    pub(super) frame: &'a Frame,
    pub(super) outline: &'a Outline,
    pub(super) eye: Eye,
    pub(super) made: &'a Made,
}

/// A place of the edge that is drawn, and why.
pub(super) struct Place<'a> {
    /// "Thickest edge, lower temporal corner".
    pub(super) name: &'a str,
    /// The name of its thickness among the figures; empty where it has none.
    pub(super) figure: &'a str,
    pub(super) edge: EdgePoint,
}

impl<'a> Held<'a> {
    pub(super) fn of(fit: &'a Fit<'_>, eye: Eye, made: &'a Made) -> Held<'a> {
        Held { frame: fit.mounting.frame, outline: fit.mounting.outlines.of(eye), eye, made }
    }

    /// The reference point, from the boxed centre.
    pub(super) fn reference(&self) -> Vec2 {
        self.made.centration.point(self.eye)
    }

    /// The way of bevel or groove; `None` where the rim's curve ends within the outline.
    pub(super) fn course(&self) -> Option<Course<'a>> {
        self.made.course(self.eye, self.frame, self.outline)
    }

    /// The last `length_mm` of the lens at a place of its edge, cut along the outline's normal there; u = 0 at the outline.
    pub(super) fn end(&self, edge: &EdgePoint, length_mm: f64) -> Option<Cut> {
        let normal = self.outline.distances(edge.point).normal;
        let cut = section::cut(self, [-length_mm, 0.0], FEW_SLICES, |u| edge.point + u * normal)?;
        Some(cut.beside_holes())
    }

    /// The place of the edge in a direction from the boxed centre.
    pub(super) fn edge_at(&self, deg: f64) -> Option<EdgePoint> {
        let point = self.outline.at_deg(deg)?;
        let thickness_mm = self.made.mounted(self.eye, self.outline).thickness(point)?;
        Some(EdgePoint { point, deg: direction_deg(point), thickness_mm })
    }

    /// Where the edge is thickest.
    pub(super) fn thickest(&self, subject: &str) -> Option<Picture> {
        let edge = self.made.thickness.edges.max;
        let name = format!("Thickest edge, {}", words::corner(self.eye, self.outline, edge.point));
        self.draw("detail", subject, &Place { name: &name, figure: "edge_max", edge })
    }

    /// Where the edge has least room: where a bevel has to leave its wished place most, else where it is thinnest.
    pub(super) fn critical(&self, subject: &str) -> Option<Picture> {
        let moved = self.made.most_moved(self.eye, self.frame, self.outline).filter(|worst| worst.mm > MOVED_MM);
        let corner = |edge: &EdgePoint| words::corner(self.eye, self.outline, edge.point);
        if let Some(edge) = moved.and_then(|worst| self.edge_at(worst.deg)) {
            let name = format!("Edge where the bevel is moved most, {}", corner(&edge));
            return self.draw("critical", subject, &Place { name: &name, figure: "", edge });
        }
        let edge = self.made.thickness.edges.min;
        let name = format!("Thinnest edge, {}", corner(&edge));
        self.draw("critical", subject, &Place { name: &name, figure: "edge_min", edge })
    }

    pub(super) fn draw(&self, kind: &'static str, subject: &str, place: &Place<'_>) -> Option<Picture> {
        let Place { name, figure, edge } = place;
        let passed = self.passed(edge)?;
        let shoulder = self.shoulder(edge, &passed);
        let beside = shoulder.zip(self.frame.rim_depth_mm).map(|(shoulder, _)| shoulder.beside_rim(&passed.seat));
        let said = self.in_words(edge, &passed, shoulder.as_ref(), beside);
        let mounted = self.made.mounted(self.eye, self.outline);
        let (normal, chamfer_mm) = (self.outline.distances(edge.point).normal, self.frame.edge.chamfer_mm);
        let inset_mm = if shoulder.is_some() { passed.seat.inset_mm() } else { 0.0 };
        let detail = Detail {
            title: &format!("{name}, {subject}, {} lens, {}", self.eye.word(), scale_words(DETAIL_SCALE)),
            // The finding; what was assumed stands in the picture.
            description: &said[..said.len().min(2)].join(" "),
            eye: self.eye,
            cut: self.end(edge, DETAIL_MM)?.chamfered(mounted.corners(&passed, normal, inset_mm, chamfer_mm)),
            edge_mm: edge.thickness_mm,
            edge_figure: figure,
            shows_figures: *figure == "edge_max",
            shows: shoulder.zip(beside).map(|(shoulder, beside)| Shows {
                front_z: shoulder.front_z,
                back_z: shoulder.back_z,
                before_mm: beside.before_mm,
                behind_mm: beside.behind_mm,
            }),
            rim: self.frame.rim,
            rim_depth_mm: self.frame.rim_depth_mm,
            said: &said,
            scale: DETAIL_SCALE,
        };
        Some(detail.draw(kind))
    }

    /// How bevel or groove pass a place; where the rim's curve ends within the outline, as they usually do.
    fn passed(&self, edge: &EdgePoint) -> Option<Passed> {
        let usual = || self.made.mounted(self.eye, self.outline).course(self.frame.rim, Position::Usual);
        self.course().or_else(usual)?.at(edge.point, self.frame.rim_depth_mm)
    }

    /// The bevel's shoulder in a rim of known or usual depth; `None` where there is no bevel.
    fn shoulder(&self, edge: &EdgePoint, passed: &Passed) -> Option<Shoulder> {
        rim_across_mm(self.frame.rim)?;
        self.made.mounted(self.eye, self.outline).shoulder(edge, &passed.seat)
    }

    /// What of the edge shows, and what was asked for or assumed.
    fn in_words(
        &self,
        edge: &EdgePoint,
        passed: &Passed,
        shoulder: Option<&Shoulder>,
        beside: Option<BesideRim>,
    ) -> Vec<String> {
        let thick = |also: &str| format!("Edge {} before edging{also}.", mm(edge.thickness_mm));
        let mut said = match (self.frame.rim.edging(), shoulder) {
            (Edging::Bevel { .. }, Some(shoulder)) => {
                let edge = thick(&format!(", {} at the bevel’s shoulder", mm(shoulder.thickness_mm())));
                vec![edge, self.shows_in_words(beside), self.place_in_words("tip of the bevel", passed)]
            }
            (Edging::Groove { .. }, _) => vec![thick(""), self.place_in_words("middle of the groove", passed)],
            (Edging::Bevel { .. } | Edging::Holes { .. }, _) => vec![thick(""), "No rim: all of it shows.".to_owned()],
        };
        let chamfer_mm = self.frame.edge.chamfer_mm;
        if chamfer_mm > 0.0 {
            let width = with_unit(chamfer_mm, 2, "mm");
            said.push(format!("Both corners chamfered {width} wide at 45°, or less where there is no room."));
        }
        said
    }

    fn shows_in_words(&self, beside: Option<BesideRim>) -> String {
        match self.frame.rim_depth_mm.zip(beside) {
            Some((depth, beside)) => {
                let (before, behind) = (mm(beside.before_mm.max(0.0)), mm(beside.behind_mm.max(0.0)));
                format!("{behind} of it show behind the rim, {} deep, and {before} before it.", mm(depth))
            }
            None => format!("The rim’s depth is not known: it is drawn {} deep.", with_unit(USUAL_DEPTH_MM, 0, "mm")),
        }
    }

    /// Where bevel or groove lie, and why.
    fn place_in_words(&self, what: &str, passed: &Passed) -> String {
        let usual = format!("{} behind the front corner, or mid-edge if thinner", with_unit(SEAT_MM, 0, "mm"));
        let why = match self.frame.edge.position {
            Position::Usual => return format!("Assumed: {what} {usual}."),
            Position::RimCurve { .. } if self.course().is_none() => {
                return format!("The rim’s own curve ends within the shape: {what} drawn {usual}.");
            }
            Position::RimCurve { rim_curve_d } => {
                format!("on the rim’s own curve of {}", with_unit(rim_curve_d, 2, "D"))
            }
            Position::Share { before } => format!("with {} % of the edge before it", figure(100.0 * before, 0)),
            Position::Front { behind_mm } => format!("{} behind the front", with_unit(behind_mm, 2, "mm")),
        };
        let tip = with_unit(passed.seat.tip_mm, 2, "mm");
        let moved = if passed.moved_mm() > MOVED_MM {
            format!(": the edge has no room for it at {}", with_unit(passed.wanted_mm, 2, "mm"))
        } else {
            String::new()
        };
        format!("Asked for: {what} {why}. Here it is {tip} behind the front corner{moved}.")
    }
}

/// The edge of a lens that was asked for alone, in a direction from the boxed centre; `None` for a direction that is no
/// number.
#[must_use]
pub fn edge_profile(one: &OneLens, made: &Made, deg: f64) -> Option<Picture> {
    let mounting = Mounting::new(&one.frame, one.frame.sizes[0]);
    let held = Held { frame: &one.frame, outline: mounting.outlines.of(one.eye), eye: one.eye, made };
    let edge = held.edge_at(deg)?;
    let corner = words::corner(one.eye, held.outline, edge.point);
    let name = format!("Edge {}, {corner}", words::toward(deg));
    held.draw("profile", &words::material(&one.lens), &Place { name: &name, figure: "", edge })
}
