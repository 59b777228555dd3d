//! Edge thickness round the rim of a fit.
//!
//! Units: mm and degrees.

use super::super::number::mm;
use super::super::words;
use super::subject;
use crate::assess::{Fit, Made, Pair};
use crate::draw::Picture;
use crate::draw::clock::{Clock, ClockLens, Hand, Rings};
use crate::draw::dimension::scale_words;
use crate::eye::{Eye, Eyes};
use crate::measure::EdgePoint;
use crate::outline::{Density, direction_deg};
use crate::study::compare::Comparison;

/// The rings that all clocks of a comparison share.
pub(super) fn rings(comparison: &Comparison<'_>) -> Rings {
    Rings::holding(comparison.fits.iter().filter_map(Fit::pair).map(Pair::edge_max_mm).fold(1.0, f64::max))
}

/// Draws it.
pub(super) fn clock(fit: &Fit<'_>, pair: &Pair, rings: Rings) -> Option<Picture> {
    let lenses = Eyes { right: lens(fit, Eye::Right, &pair.eyes.right)?, left: lens(fit, Eye::Left, &pair.eyes.left)? };
    let said: Vec<String> = pair.eyes.iter().map(|(eye, made)| in_words(fit, eye, made)).collect();
    let title = format!("Edge thickness round the rim, {}, {}", subject(fit), scale_words(rings.scale));
    Some(Clock { title: &title, description: &said.join(" "), lenses, rings }.draw())
}

fn lens(fit: &Fit<'_>, eye: Eye, made: &Made) -> Option<ClockLens> {
    let reference = made.centration.point(eye);
    let nodes = fit.mounting.outlines.of(eye).nodes(Density::Fine).iter();
    let hand = |node: &crate::outline::Node| {
        let thickness_mm = made.lens.thickness(node.jet.p - reference)?;
        Some(Hand { deg: direction_deg(node.jet.p), thickness_mm })
    };
    let round: Option<Vec<Hand>> = nodes.map(hand).collect();
    let of = |point: &EdgePoint| Hand { deg: point.deg, thickness_mm: point.thickness_mm };
    let t = &made.thickness;
    Some(ClockLens {
        round: round?,
        thickest: of(&t.edges.max),
        thinnest: of(&t.edges.min),
        nasal_mm: t.nasal_mm,
        temporal_mm: t.temporal_mm,
        top_mm: t.top_mm,
        bottom_mm: t.bottom_mm,
    })
}

/// "Right eye: from 3.9 mm at the bottom to 5.7 mm at the temporal side."
fn in_words(fit: &Fit<'_>, eye: Eye, made: &Made) -> String {
    let outline = fit.mounting.outlines.of(eye);
    let at = |edge: &EdgePoint| format!("{} at the {}", mm(edge.thickness_mm), words::corner(eye, outline, edge.point));
    let edges = &made.thickness.edges;
    format!("{}: from {} to {}.", words::eye(eye), at(&edges.min), at(&edges.max))
}
