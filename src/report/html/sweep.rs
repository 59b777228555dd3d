//! The page of `sweep`: least and most, the charts, the table, what could not be made and what stays. One file like that of
//! a comparison.
//!
//! Units: in the heads of the columns.

use super::super::number::figure;
use super::super::pictures::SweepPicture;
use super::super::words::sweep as said;
use super::{document, figure_of, heading, prescription};
use crate::job::Job;
use crate::study::sweep::{Row, Show, Sweep, Vary};
use maud::{Markup, html};

const TITLE: &str = "One thing varied";
const TITLE_OF_TWO: &str = "Two things varied";

/// The page.
#[must_use]
pub fn sweep_page(job: &Job, of: &Sweep<'_>, shows: &[Show], pictures: &[SweepPicture]) -> String {
    let (heading, title) = (heading(job), if of.asked.vary.len() > 1 { TITLE_OF_TWO } else { TITLE });
    let (gaps, cautions) = (said::gaps(of), said::cautions(of));
    let body = html! {
        header {
            h1 { (title) }
            @if let Some(heading) = &heading { p.reference { (heading) } }
            div.rx { (prescription(&job.prescription, "Prescription")) }
        }
        main {
            section.answer aria-labelledby="answer" {
                h2 #answer { (said::title(of)) }
                @for (i, sentence) in said::answer(of, shows).iter().enumerate() { p.lead[i == 0] { (sentence) } }
                @for (i, one) in pictures.iter().enumerate() {
                    (figure_of(&one.picture, &format!("c{i}-"), &one.picture.title))
                }
                ul { @for note in said::notes(of) { li { (note) } } }
            }
            @if !gaps.is_empty() {
                section aria-labelledby="gaps" {
                    h2 #gaps { "What cannot be made" }
                    ul { @for gap in &gaps { li { (gap) } } }
                }
            }
            @if !cautions.is_empty() {
                section aria-labelledby="cautions" {
                    h2 #cautions { "Cautions" }
                    ul { @for caution in &cautions { li { (caution) } } }
                }
            }
            section aria-labelledby="values" {
                h2 #values { "Every value" }
                div.scroller tabindex="0" role="group" aria-labelledby="values" {
                    @match said::square(of) {
                        Some(sides) => { @for show in shows { (square(of, sides, show)) } }
                        None => { (table(of, shows)) }
                    }
                }
                @if of.own().is_some() { p.small { "Bold: as in the job." } }
            }
            section.safety aria-labelledby="safety" {
                h2 #safety { "Calculated, not measured" }
                (super::closing::safety(None))
            }
        }
    };
    document(title, heading.as_deref(), None, &body)
}

fn table(of: &Sweep<'_>, shows: &[Show]) -> Markup {
    let own = of.own();
    html! {
        table {
            thead {
                tr {
                    @for vary in &of.asked.vary {
                        th.words[vary.what.is_of_words()] scope="col" { (said::axis(vary.what)) }
                    }
                    @for show in shows {
                        th scope="col" { (said::head(show)) }
                    }
                }
            }
            tbody {
                @for row in &of.rows { (line(of, row, shows, own.is_some_and(|own| std::ptr::eq(own, row)))) }
            }
        }
    }
}

/// The first thing down, the second across.
fn square(of: &Sweep<'_>, [down, across]: [&Vary; 2], show: &Show) -> Markup {
    let own = of.own();
    html! {
        table.square {
            caption { (said::head(show)) }
            thead {
                tr {
                    th.words[down.what.is_of_words()] scope="col" { (said::axis(down.what)) " by " (said::axis(across.what)) }
                    @for value in &across.values { th scope="col" { (said::in_column(across, value)) } }
                }
            }
            tbody {
                @for (value, rows) in down.values.iter().zip(of.rows.chunks(across.values.len().max(1))) {
                    tr {
                        th.words[down.what.is_of_words()] scope="row" { (said::in_column(down, value)) }
                        @for row in rows {
                            td.best[own.is_some_and(|own| std::ptr::eq(own, row))] { (cell(show, row)) }
                        }
                    }
                }
            }
        }
    }
}

fn cell(show: &Show, row: &Row) -> String {
    show.read(row).map_or_else(|| "–".to_owned(), |value| figure(value, show.decimals()))
}

fn line(of: &Sweep<'_>, row: &Row, shows: &[Show], is_own: bool) -> Markup {
    html! {
        tr {
            @for (i, (vary, value)) in of.asked.vary.iter().zip(&row.values).enumerate() {
                @if i == 0 {
                    th.words[vary.what.is_of_words()].best[is_own] scope="row" { (said::in_column(vary, value)) }
                } @else {
                    td.words[vary.what.is_of_words()].best[is_own] { (said::in_column(vary, value)) }
                }
            }
            @for show in shows {
                td.best[is_own] { (cell(show, row)) }
            }
        }
    }
}
