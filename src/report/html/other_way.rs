//! How sure the answer is, and the other way round: up to which eye size its frame stays within a wish.
//!
//! Units: mm, in the captions and behind every number.

use super::super::number::{figure, mm};
use super::super::pictures::Drawing;
use super::super::promise::Promise;
use super::super::words;
use super::figure_of;
use crate::job::Addressed;
use crate::study::compare::{Comparison, Lead};
use crate::study::wishes::{MOST_OPTIONS, Wishes, Within};
use maud::{Markup, html};

/// Beneath the answer.
pub(super) fn sure(comparison: &Comparison<'_>, drawing: &Drawing<'_>) -> Markup {
    let told = Promise::of(comparison).and_then(|promise| promise.told(comparison));
    html! {
        @if let (Some(told), Some(strip)) = (told, drawing.sure()) {
            div.sure {
                h3 #sure { "How sure it is" }
                p { (told) }
                (figure_of(&strip, "sure-", words::SURE_METHOD))
            }
        }
    }
}

/// The section; empty where no option can be made.
pub(super) fn section(comparison: &Comparison<'_>) -> Markup {
    let chosen = words::choice(comparison).map(|(_, fit)| fit);
    let value = chosen.and_then(|fit| comparison.lead.of(fit.pair()?));
    html! { @if let (Some(fit), Some(value)) = (chosen, value) {
        @let at = Addressed {
            frame: fit.mounting.frame,
            boxing: fit.mounting.boxing,
            option: fit.option,
            prescription: fit.prescription,
        };
        (table(comparison, &at, &Wishes::of(&at, &comparison.job.lenses, comparison.lead, value)))
    } }
}

fn table(comparison: &Comparison<'_>, at: &Addressed<'_>, wishes: &Wishes<'_>) -> Markup {
    let name = words::lead_name(comparison.lead);
    html! {
        section aria-labelledby="wishes" {
            h2 #wishes { "The other way round" }
            p { (words::wishes(at.frame, comparison.lead)) }
            div.scroller tabindex="0" role="group" aria-labelledby="wishes" {
                table {
                    caption { "Largest eye size of " (at.frame.name) ", mm, for each " (name) " that is wished for" }
                    thead {
                        tr {
                            th.words scope="col" { "Lens" }
                            @for wish_mm in &wishes.wishes_mm { th scope="col" { (mm(*wish_mm)) } }
                        }
                    }
                    tbody {
                        @for (option, sizes) in &wishes.rows {
                            @let main = std::ptr::eq(*option, at.option);
                            tr {
                                th.words.best[main] scope="row" { (option.name) }
                                @for within in sizes { td.best[main] { (cell(*within)) } }
                            }
                        }
                    }
                }
            }
            p.small {
                "Up to the size named no size passes the wish; a dash: not even the smallest that is looked at keeps it."
                @if comparison.job.lenses.len() > MOST_OPTIONS { " The first " (MOST_OPTIONS) " lens options of the job." }
                @if comparison.lead == Lead::Edge { " For any other wish, and for sphere, index and pd: rimwise limit." }
            }
        }
    }
}

fn cell(within: Within) -> String {
    match within {
        // Down, so that it is still within.
        Within::UpTo(size_mm) => figure(((size_mm + 1e-6) * 10.0).floor() / 10.0, 1),
        Within::Every => "every".to_owned(),
        Within::No => "–".to_owned(),
    }
}
