//! A fit as others see it.
//!
//! Units: mm.

use super::super::number::mm;
use super::super::words;
use super::profile::Held;
use super::{SCALE, subject};
use crate::assess::{Fit, Made, Pair};
use crate::draw::Picture;
use crate::draw::cut::rim_across_mm;
use crate::draw::dimension::scale_words;
use crate::draw::view::{Seen, Station};
use crate::eye::{Eye, Eyes};
use crate::outline::{Density, Node};
use crate::rim::Position;
use crate::study::compare::Comparison;
use kurbo::Vec2;

/// The side from which all fits of a comparison are seen: that of the eye which oftener has the thicker edge.
pub(super) fn side(comparison: &Comparison<'_>) -> Eye {
    let edge = |pair: &Pair, eye: Eye| pair.eyes.of(eye).thickness.edges.max.thickness_mm;
    let pairs = comparison.fits.iter().filter_map(Fit::pair);
    let lean: f64 = pairs.map(|pair| edge(pair, Eye::Right) - edge(pair, Eye::Left)).map(|d| d.clamp(-1.0, 1.0)).sum();
    if lean < -1e-9 { Eye::Left } else { Eye::Right }
}

/// Draws it.
pub(super) fn view(fit: &Fit<'_>, pair: &Pair, side: Eye) -> Option<Picture> {
    let frame = fit.mounting.frame;
    let lenses =
        Eyes { right: round(fit, Eye::Right, &pair.eyes.right)?, left: round(fit, Eye::Left, &pair.eyes.left)? };
    let said = in_words(fit, pair);
    let seen = Seen {
        title: &format!("The edge as others see it, {}, {}", subject(fit), scale_words(SCALE)),
        description: &format!("From the wearer’s {}. {}", side.word(), said.join(" ")),
        lenses,
        side,
        rim: frame.rim,
        rim_depth_mm: frame.rim_depth_mm,
        said: &said,
        scale: SCALE,
    };
    Some(seen.draw())
}

fn round(fit: &Fit<'_>, eye: Eye, made: &Made) -> Option<Vec<Station>> {
    let reference = made.centration.point(eye);
    let centre = Vec2::new(-0.5 * fit.mounting.boxing.centre_distance_mm() * eye.nasal_sign(), 0.0);
    let course = Held::of(fit, eye, made).course();
    let station = |node: &Node| {
        let front_z = made.lens.front().sag(node.jet.p - reference)?;
        let edge_mm = made.lens.thickness(node.jet.p - reference)?;
        let passed = course.as_ref().and_then(|course| course.at(node.jet.p, None));
        Some(Station {
            at: centre + node.jet.p,
            normal: node.turn.normal,
            front_z,
            back_z: front_z + edge_mm,
            behind_mm: passed.map(|passed| passed.wanted_mm).or_else(|| Position::Usual.behind_mm(edge_mm))?,
        })
    };
    fit.mounting.outlines.of(eye).nodes(Density::Fine).iter().map(station).collect()
}

/// "Thickest edge: right 5.7 mm at the temporal side, left 5.3 mm at the temporal side.", and what the rim is taken to be.
fn in_words(fit: &Fit<'_>, pair: &Pair) -> Vec<String> {
    let of = |(eye, made): (Eye, &Made)| {
        let edge = &made.thickness.edges.max;
        let corner = words::corner(eye, fit.mounting.outlines.of(eye), edge.point);
        format!("{} {} at the {corner}", eye.word(), mm(edge.thickness_mm))
    };
    let edges: Vec<String> = pair.eyes.iter().map(of).collect();
    let rim = match (rim_across_mm(fit.mounting.frame.rim), fit.mounting.frame.rim_depth_mm) {
        (None, _) => "Drawn without what holds the lenses.".to_owned(),
        (Some(_), Some(depth_mm)) => format!("The rim, {} deep, hides the front of it.", mm(depth_mm)),
        (Some(_), None) => "The rim’s depth is not known: it is drawn 2 mm deep.".to_owned(),
    };
    vec![format!("Thickest edge: {}.", edges.join(", ")), rim]
}
