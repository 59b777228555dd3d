//! The thickest edges of all options, thin to thick.
//!
//! Units: mm.

use super::super::number::mm;
use super::super::words;
use super::profile::Held;
use super::subject;
use crate::assess::Fit;
use crate::draw::Picture;
use crate::draw::dimension::scale_words;
use crate::draw::edges::{EdgeCell, EdgeCells};
use crate::eye::Eye;
use crate::study::compare::Comparison;

/// How much of a lens is shown.
const LAST_MM: f64 = 12.0;
/// On paper.
const SCALE: f64 = 2.0;
/// More than this nobody compares by eye.
const MOST: usize = 40;

/// Draws them; `None` where there are not two to be compared.
pub(super) fn edges(comparison: &Comparison<'_>) -> Option<Picture> {
    let all = comparison.fits.iter().enumerate();
    let mut order: Vec<(f64, usize, &Fit<'_>)> =
        all.filter_map(|(index, fit)| Some((fit.pair()?.edge_max_mm(), index, fit))).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let [(thin_mm, _, thin), .., (thick_mm, _, thick)] = order[..] else { return None };
    let shown = order.iter().take(MOST);
    let cells: Option<Vec<EdgeCell>> = shown.map(|&(_, i, fit)| cell(fit, i, comparison.is_now(i))).collect();
    let mut cells = cells?;
    cells.truncate(EdgeCells::fitting(&cells, SCALE));
    let kept = if cells.len() < order.len() {
        format!(" The {} thinnest of {}.", cells.len(), order.len())
    } else {
        String::new()
    };
    let note = format!(
        "The last {LAST_MM:.0} mm of the thicker lens of each pair, cut where its edge is thickest; thin to thick.{kept}"
    );
    let drawn = EdgeCells {
        title: &format!("The thickest edge of every option, thin to thick, {}", scale_words(SCALE)),
        description: &format!("From {} in {} to {} in {}.", mm(thin_mm), subject(thin), mm(thick_mm), subject(thick)),
        cells: &cells,
        note: &note,
        scale: SCALE,
    };
    Some(drawn.draw("chart-edges"))
}

fn cell(fit: &Fit<'_>, index: usize, is_now: bool) -> Option<EdgeCell> {
    let eyes = &fit.pair()?.eyes;
    let edge = |eye: Eye| eyes.of(eye).thickness.edges.max.thickness_mm;
    let eye = if edge(Eye::Right) >= edge(Eye::Left) { Eye::Right } else { Eye::Left };
    let place = words::place(fit.mounting.frame, &fit.mounting.boxing);
    Some(EdgeCell {
        cut: Held::of(fit, eye, eyes.of(eye)).end(&eyes.of(eye).thickness.edges.max, LAST_MM)?,
        edge_mm: edge(eye),
        figure: format!("{index}.{}.thickness.edge_max_mm", eye.word()),
        name: if is_now {
            format!("worn now, {}", words::material(fit.option))
        } else {
            format!("{place}, {}", fit.option.name)
        },
        compared: is_now,
    })
}
