//! What the readings of a real lens come to, in the terminal.
//!
//! Units: behind every number.

use super::super::number::{figure, mm, power};
use super::page::Page;
use crate::material::Shelf;
use crate::study::gauge::{About, EdgeGauged, Gauged, Readings};

/// Materials whose index lies within what is left open, and so many at the most.
const MOST_NAMED: usize = 4;

/// The answer to `gauge`. With `styled` heads are bold (ANSI).
#[must_use]
pub fn gauge(readings: &Readings, gauged: &Gauged, shelf: &Shelf, styled: bool) -> String {
    let mut page = Page::new(styled);
    let mut said = |head: &str, text: String| page.item(&format!("{} {text}", page.bold(head)), 4);
    if readings.power_d.is_some() {
        said("Index:", index(readings, gauged, shelf));
    }
    if let Some([front, back]) = gauged.surfaces_d {
        let at = if readings.index.is_some() { "at the index given" } else { "at that index" };
        said("Curves:", format!("front {}, back {}, {at}.", dioptres(front), dioptres(back)));
    }
    if let Some(by_curves) = gauged.power_d {
        said("Power:", by_power(readings, by_curves));
    }
    if let Some(edge) = &gauged.edge {
        said("Edge:", edge_said(readings, edge));
    } else if let Some(edge) = readings.edge {
        let out = mm(edge.out_mm);
        said("Edge:", format!("a surface of these curves does not reach {out} out; is that the diameter?"));
    }
    if readings.power_d.is_none() && readings.index.is_none() {
        page.item("With --power, as the focimeter reads it, the index comes out; with --index the power.", 0);
    }
    page.gap();
    page.item(
        "Worked for one meridian of spherical surfaces, all readings in it. Give or take: half a step of each reading, 0.125 D \
         and 0.1 mm.",
        0,
    );
    page.finish()
}

fn about(of: About, decimals: usize, unit: &str) -> String {
    let unit = if unit.is_empty() { String::new() } else { format!("\u{202f}{unit}") };
    format!("{}{unit}, give or take {}", figure(of.value, decimals), figure(of.give, decimals))
}

fn dioptres(of: About) -> String {
    format!("{} D (give or take {})", power(of.value), figure(of.give, 2))
}

fn index(readings: &Readings, gauged: &Gauged, shelf: &Shelf) -> String {
    let Some(found) = gauged.index else {
        return "none between 1.40 and 2.00 gives this power with these curves. Are the signs right, and all readings in one \
                meridian? Curves that nearly cancel say nothing of the index."
            .to_owned();
    };
    let text = about(found, 3, "");
    let off = |n_d: f64| (n_d - found.value).abs();
    let mut near: Vec<_> = shelf.materials.iter().filter(|material| off(material.n_d) <= found.give).collect();
    near.sort_by(|a, b| off(a.n_d).total_cmp(&off(b.n_d)));
    let names: Vec<String> =
        near.iter().take(MOST_NAMED).map(|of| format!("{} {}", of.id, figure(of.n_d, 3))).collect();
    let shelf = match names.is_empty() {
        true => "no material of the shelf lies within that".to_owned(),
        false => format!("within that lie {}", names.join(", ")),
    };
    match readings.index {
        Some(given) => {
            let off = found.value - given;
            let agrees = if off.abs() <= found.give { "agrees with" } else { "does not agree with" };
            format!("{text}, from power and curves; it {agrees} the {} given.", figure(given, 3))
        }
        None => format!("{text}, from power and curves; {shelf}."),
    }
}

fn by_power(readings: &Readings, by_curves: About) -> String {
    let text = format!(
        "{} D, give or take {}, by curves, thickness and index",
        power(by_curves.value),
        figure(by_curves.give, 2)
    );
    match readings.power_d {
        Some(read) => {
            let off = figure((read - by_curves.value).abs(), 2);
            format!("{text}; the {} D read on the focimeter differ by {off}.", power(read))
        }
        None => format!("{text}."),
    }
}

fn edge_said(readings: &Readings, edge: &EdgeGauged) -> String {
    let by_curves = about(edge.predicted_mm, 2, "mm");
    let text = format!("{by_curves}, by centre and curves; measured {}", mm(edge.measured_mm));
    if edge.agrees() {
        return format!("{text}: they agree within the steps of the readings.");
    }
    let off = edge.difference_mm();
    let way = if off < 0.0 { "thinner" } else { "thicker" };
    let text = format!("{text}, {} {way}", figure(off.abs(), 2));
    let [front, back, place] = edge.explained_by;
    let place = readings.edge.and_then(|read| Some(read.out_mm + place?));
    let alone = [
        front.map(|by| format!("a reading of about {} on the front", power(readings.front_d + by))),
        back.map(|by| format!("one of about {} on the back", power(readings.back_d + by))),
        place.map(|out| format!("a place about {} out", mm(out))),
    ];
    let alone: Vec<String> = alone.into_iter().flatten().collect();
    format!(
        "{text}: more than the steps of the readings leave open. Each alone would explain it: {}; or a surface is no sphere \
         and changes its curve toward the rim.",
        alone.join(", ")
    )
}
