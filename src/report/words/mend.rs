//! What would keep a wish for the thickest edge, in words: only what was tried, each with what comes of it.

use super::super::number::{THIN, figure, mm, size};
use super::{list, uncapital};
use crate::study::limit::Limit;
use crate::study::mend::{Change, Mend, WIDEST_BRIDGE_MM};

/// A sentence; `None` where an eye size keeps the wish, or nothing else can be made.
#[must_use]
pub fn mends(limit: &Limit<'_>) -> Option<String> {
    let mends = limit.mends.as_ref()?;
    let at = size(limit.at.boxing.eye_size_mm);
    if limit.is_kept() {
        // Sizes of a frame may have bridges of their own.
        return Some(format!("At eye size {at} its own bridge of {} keeps it.", bridge(limit.at.boxing.bridge_mm)));
    }
    let keep: Vec<&Mend> = mends.tried.iter().filter(|mend| mends.keeps(mend)).collect();
    let told = |tried: &[&Mend]| -> Vec<String> { tried.iter().map(|mend| told(mend, mends.keeps(mend))).collect() };
    Some(match keep.as_slice() {
        [] if mends.tried.is_empty() => return None,
        [] => {
            let all: Vec<&Mend> = mends.tried.iter().collect();
            format!("None of these keeps it at eye size {at}: {}.", list(&told(&all)))
        }
        [one] => format!("At eye size {at} {} keeps it.", told(&[*one]).concat()),
        several => format!("At eye size {at} each of these keeps it: {}.", told(several).join("; ")),
    })
}

/// "1.74 resin (4.8 mm)".
fn told(mend: &Mend, keeps: bool) -> String {
    let edge = mm(mend.edge_mm);
    match &mend.change {
        Change::Bridge(bridge_mm) if keeps => {
            let (from, to) = (figure((bridge_mm * 10.0 - 1e-5).ceil() / 10.0, 1), bridge(WIDEST_BRIDGE_MM));
            format!("a bridge of {from} to {to} ({edge} or less), if it fits the nose")
        }
        Change::Bridge(bridge_mm) => format!("a bridge of {} ({edge})", bridge(*bridge_mm)),
        Change::Material(material) => format!("{} ({edge})", uncapital(&material.name)),
        Change::Base(base_curve_d) => format!("a base curve of {} ({edge})", figure(*base_curve_d, 2)),
        Change::ToOrder => format!("a lens made to order ({edge})"),
        Change::MinEdge(least_mm) => {
            let bears = if keeps { ", if the rim holds it" } else { "" };
            format!("a least edge of {}{THIN}mm ({edge}){bears}", figure((least_mm * 10.0 + 1e-5).floor() / 10.0, 1))
        }
    }
}

fn bridge(bridge_mm: f64) -> String {
    format!("{}{THIN}mm", size(bridge_mm))
}
