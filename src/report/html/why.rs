//! Where the difference between two options comes from: a sentence, and the share of each cause as a bar.
//!
//! Units: in the heads of the columns. A bar to the left takes off, one to the right adds.

use super::super::words;
use crate::study::compare::Comparison;
use crate::study::why::{self, Shared, SharedOut, Why};
use maud::{Markup, html};

/// Pixels of half a bar.
const HALF_PX: f64 = 56.0;

/// The differences that are most asked for, shared out.
pub(super) fn most_asked<'c, 'a>(comparison: &'c Comparison<'a>) -> Vec<Why<'c, 'a>> {
    let pairs = words::choice(comparison).map_or(Vec::new(), |(chosen, _)| why::most_asked(comparison, chosen));
    pairs.iter().filter_map(|&(from, to)| why::why(&comparison.fits[from], &comparison.fits[to]).ok()).collect()
}

/// A paragraph and a table for each that has more than one cause.
pub(super) fn shares(asked: &[Why<'_, '_>]) -> Markup {
    let shared: Vec<&Why<'_, '_>> = asked.iter().filter(|why| why.causes.len() > 1).collect();
    html! {
        @if !shared.is_empty() {
            section aria-labelledby="shares" {
                h2 #shares { "Where the difference comes from" }
                @for why in &shared { (one(why)) }
                p.small { "A bar to the left takes off, one to the right adds. " (words::SHARES_METHOD) }
            }
        }
    }
}

fn one(why: &Why<'_, '_>) -> Markup {
    let [edge, centre, mass] = &why.figures;
    let first = if words::why_leading(why) == Shared::Centre { centre } else { edge };
    let columns = [(first, head(first.figure)), (mass, head(mass.figure))];
    html! {
        div.shares {
            p { (words::why_answer(why).join(" ")) }
            div.scroller tabindex="0" role="group" aria-label="Shares of each cause" {
                table {
                    thead {
                        tr {
                            th.words scope="col" { "Cause" }
                            th.words scope="col" { "From → to" }
                            @for (_, head) in columns { th colspan="2" scope="colgroup" { (head) } }
                        }
                    }
                    tbody {
                        @for cause in words::causes_by_share(why, first) {
                            tr {
                                th.words scope="row" { (words::cause(cause)) }
                                td.words { (words::values(cause, why)) }
                                @for (column, _) in columns { (cells(column, words::share_of(column, cause))) }
                            }
                        }
                        tr.sum {
                            th.words scope="row" { "Together" }
                            td {}
                            @for (column, _) in columns {
                                td { (words::together(column).map_or(String::new(), words::signed)) }
                                td {}
                            }
                        }
                    }
                }
            }
        }
    }
}

fn head(figure: Shared) -> &'static str {
    match figure {
        Shared::EdgeMax => "Thickest edge,\u{a0}mm",
        Shared::Centre => "Centre,\u{a0}mm",
        Shared::Mass => "Pair,\u{a0}g",
    }
}

fn cells(column: &SharedOut, share: Option<f64>) -> Markup {
    let length = share.map_or(0.0, |share| words::bar_length(column, share) * HALF_PX);
    let start = if share.is_some_and(|share| share < 0.0) { HALF_PX - length } else { HALF_PX };
    html! {
        td { (share.map_or(String::new(), words::signed)) }
        td.bar {
            svg.bar width=(2.0 * HALF_PX) height="12" aria-hidden="true" {
                rect x=(format!("{start:.1}")) y="2" width=(format!("{length:.1}")) height="8" {}
                rect.middle x=(HALF_PX - 0.5) y="0" width="1" height="12" {}
            }
        }
    }
}
