//! The edge of a lens unrolled, with bevel or groove on it.
//!
//! Units: mm and degrees.

use super::super::number::{mm, with_unit};
use super::super::words;
use super::profile::Held;
use crate::assess::OffRim;
use crate::draw::Picture;
use crate::draw::unrolled::{Stand, Unrolled};
use crate::outline::{Density, direction_deg};
use crate::rim::Position;
use kurbo::Vec2;

/// Places nearer to one another are one.
const LEAST_APART_DEG: f64 = 0.01;

/// What is less prints as nought.
const TOLD_MM: f64 = 0.005;

/// Draws it.
pub(super) fn unrolled(held: &Held<'_>, subject: &str) -> Option<Picture> {
    let frame = held.frame;
    let goes_round = frame.rim.goes_round();
    let usual = || held.made.mounted(held.eye, held.outline).course(frame.rim, Position::Usual);
    let course = held.course().or_else(usual)?;
    let rim = frame.edge.rim_curve_d.filter(|_| goes_round).and_then(|curve_d| course.rim(curve_d));
    let stand = |deg: f64, point: Vec2| {
        let passed = course.at(point, None)?;
        Some(Stand {
            deg,
            front_z: passed.front_z,
            back_z: passed.back_z,
            tip_z: goes_round.then(|| passed.tip_z()),
            rim_z: rim.and_then(|ball| ball.z(point)),
        })
    };
    let start = held.outline.at_deg(0.0)?;
    let mut places: Vec<(f64, Vec2)> =
        held.outline.nodes(Density::Fine).iter().map(|node| (direction_deg(node.jet.p), node.jet.p)).collect();
    places.extend([(0.0, start), (360.0, start)]);
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    places.dedup_by(|next, last| next.0 - last.0 < LEAST_APART_DEG);
    let round: Option<Vec<Stand>> = places.into_iter().map(|(deg, point)| stand(deg, point)).collect();
    let said = in_words(held);
    let drawn = Unrolled {
        title: &format!("Edge unrolled, {subject}, {} lens", held.eye.word()),
        description: &said.join(" "),
        eye: held.eye,
        round: &round?,
        tip: if frame.rim.has_bevel() { "tip of the bevel" } else { "groove" },
        said: &said,
    };
    Some(drawn.draw())
}

/// The edge's range, the curve of the bevel, and how far it lies off the rim.
fn in_words(held: &Held<'_>) -> Vec<String> {
    let edges = &held.made.thickness.edges;
    let mut said = vec![format!("Edge from {} to {}.", mm(edges.min.thickness_mm), mm(edges.max.thickness_mm))];
    if !held.frame.rim.goes_round() {
        return said;
    }
    let what = if held.frame.rim.has_bevel() { "bevel" } else { "groove" };
    if let Some(curve_d) = held.course().and_then(|course| course.curve_d()) {
        said.push(format!("The {what} comes out on a curve of {}.", with_unit(curve_d, 2, "D")));
    }
    if let Some(OffRim { rim_curve_d, bevel, .. }) = OffRim::of(held.made, held.eye, held.frame, held.outline) {
        let rim = with_unit(rim_curve_d, 2, "D");
        said.push(if bevel.mm < TOLD_MM {
            format!("That is the rim’s own curve, {rim}.")
        } else {
            format!(
                "In a rim of {rim} it lies up to {} off, {}.",
                with_unit(bevel.mm, 2, "mm"),
                words::toward(bevel.deg)
            )
        });
    }
    if let Some(moved) = held.made.most_moved(held.eye, held.frame, held.outline).filter(|moved| moved.mm >= TOLD_MM) {
        let at = words::toward(moved.deg);
        said.push(format!("It is moved by up to {} to stay within the edge, {at}.", with_unit(moved.mm, 2, "mm")));
    }
    said
}
