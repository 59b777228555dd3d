//! How sure a promise is, as a strip of bars.
//!
//! Units: mm.

use super::super::number::{figure, mm};
use super::super::words;
use crate::draw::Picture;
use crate::draw::strip::{Bar, Strip};
use crate::study::compare::Lead;
use crate::study::sure::Sure;

/// As wide as a chart whose lines have long names.
const WIDTH_MM: f64 = 120.0;

/// Draws it; `None` where the leading thickness is in doubt itself. `whose` is what is promised: "Yarrow 46 with “thin”".
pub(super) fn strip(sure: &Sure, lead: Lead, whose: &str) -> Option<Picture> {
    let (planned, give_or_take) = sure.leading(lead)?;
    let bars: Option<Vec<Bar>> = sure
        .spreads
        .iter()
        .map(|spread| {
            let change = spread.of(lead)?;
            let text = |by: f64| if by == 0.0 { String::new() } else { words::signed(by) };
            let texts = if change == [0.0, 0.0] { [String::new(), words::signed(0.0)] } else { change.map(text) };
            Some(Bar { name: words::capital(&words::of_doubt(spread.doubt)), change, texts, whole: false })
        })
        .collect();
    let mut bars = bars?;
    bars.push(Bar {
        name: format!("Together, give or take {}", mm(give_or_take)),
        change: [-give_or_take, give_or_take],
        texts: [planned - give_or_take, planned + give_or_take].map(|value| figure(value, 1)),
        whole: true,
    });
    let name = words::capital(words::lead_name(lead));
    let strip = Strip {
        title: format!("How sure: {} of {whose}", words::lead_name(lead)),
        description: format!("{} {}", words::promise(sure, lead, None)?, words::sure_changes(sure, lead)),
        label: format!("{name}, mm"),
        planned,
        bars,
        width_mm: WIDTH_MM,
    };
    Some(strip.draw("chart-sure"))
}
