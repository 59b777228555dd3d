//! The sheet at true size: a ruler that proves the printer, and outlines and sections to be laid on the real thing.

use super::super::pictures::{Drawing, outlines, ruler};
use super::super::words;
use super::{document, figure_of, heading};
use crate::assess::Fit;
use crate::study::compare::Comparison;
use maud::{Markup, html};

/// The sheet.
pub(in super::super) fn sheet(comparison: &Comparison<'_>, drawing: &Drawing<'_>) -> String {
    let heading = heading(comparison.job);
    let body = html! {
        header {
            h1 { "At true size" }
            @if let Some(heading) = &heading { p.reference { (heading) } }
        }
        main.sheet {
            section aria-labelledby="check" {
                h2 #check { "First check the printer" }
                p {
                    "Print at 100 %, not fitted to the page. The line must measure 100 mm on a real ruler, and a bank card \
                     must cover the box; if not, do not use the sheet."
                }
                (figure_of(&ruler(), "r-", "A line of 100 mm and a box of the size of a bank card"))
            }
            (sections(comparison, drawing))
            section aria-labelledby="outlines" {
                h2 #outlines { "The lenses of every frame and size" }
                p.small { "Seen from the front, as worn: right lens on the left. Calculated, not measured." }
                @for (i, fit) in sizes(comparison).enumerate() {
                    @let place = words::place(fit.mounting.frame, &fit.mounting.boxing);
                    (figure_of(&outlines(&fit.mounting, fit.prescription), &format!("o{i}-"), &place))
                }
            }
        }
    };
    document("At true size", heading.as_deref(), None, &body)
}

/// The plan sections of the spectacles worn now and of the option that the answer names.
fn sections(comparison: &Comparison<'_>, drawing: &Drawing<'_>) -> Markup {
    let chosen = words::choice(comparison).map(|(index, _)| index);
    let shown = comparison.has_now.then_some(0).into_iter().chain(chosen);
    let drawn: Vec<_> = shown.filter_map(|index| Some((index, drawing.plan(index)?))).collect();
    html! {
        @if !drawn.is_empty() {
            section aria-labelledby="sections" {
                h2 #sections { "From above" }
                @for (index, plan) in &drawn {
                    (figure_of(plan, &format!("p{index}-"), &words::whose(comparison, *index)))
                }
            }
        }
    }
}

/// One fit for each frame and size offered.
fn sizes<'c, 'a>(comparison: &'c Comparison<'a>) -> impl Iterator<Item = &'c Fit<'a>> {
    let mut before: Option<&Fit<'_>> = None;
    comparison.offered().map(|(_, fit)| fit).filter(move |fit| {
        let same = before.is_some_and(|before| {
            std::ptr::eq(before.mounting.frame, fit.mounting.frame) && before.mounting.boxing == fit.mounting.boxing
        });
        before = Some(fit);
        !same
    })
}
