//! The page of a comparison: one file that opens from disk, needs no network and no script, reads on a phone and prints.
//! The answer first, the evidence under it: picture, lessons, table, every option, method.
//!
//! Units: in the heads of the columns and behind every number.

mod card;
mod closing;
mod orders;
mod table;
mod why;

pub use orders::{order_charts, orders};

use super::notes::Notes;
use super::number::{axis, figure, mm};
use super::pictures::Pictures;
use super::words::{self, Choosing};
use crate::draw::style::{self, Mode};
use crate::draw::{Picture, font};
use crate::eye::Eye;
use crate::finding::Finding;
use crate::job::Job;
use crate::rx::{EyeRx, Prescription};
use crate::study::compare::Comparison;
use crate::study::lessons::{self, Lesson};
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The rules of the page, but for colours, pictures and what the job says.
const STYLE: &str = include_str!("page.css");
/// Nothing is fetched from anywhere, and nothing is run.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/// The page. The findings are those of a job without a fault.
#[must_use]
pub fn page(comparison: &Comparison<'_>, findings: &[Finding], pictures: &Pictures) -> String {
    let job = comparison.job;
    let learned = lessons::lessons(comparison);
    let notes = Notes::of(comparison);
    let choosing = words::choosing(comparison);
    let heading = heading(job);
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                title { "Lenses compared" @if let Some(heading) = &heading { ", " (heading) } }
                style { (PreEscaped(css(heading.as_deref().unwrap_or("Lenses compared")))) }
            }
            body {
                header {
                    h1 { "Lenses compared" }
                    @if let Some(heading) = &heading { p.reference { (heading) } }
                    (prescriptions(job))
                }
                main {
                    section.answer aria-labelledby="answer" {
                        h2 #answer { "The answer" }
                        @for (i, sentence) in words::answer(comparison, &learned).iter().enumerate() {
                            p.lead[i == 0] { (sentence) }
                        }
                        (evidence(comparison, pictures))
                    }
                    section aria-labelledby="why" {
                        h2 #why { "What makes the difference" }
                        div.lessons {
                            @for told in words::lessons(comparison, &learned) {
                                div.lesson {
                                    h3 { (told.title) " " span.trade { (told.trade) } }
                                    p { (told.text) }
                                    @if let Some(reason) = &told.reason { p { (reason) } }
                                }
                            }
                        }
                    }
                    @if !matches!(learned[..], [Lesson::Alike { .. }]) {
                        (why::shares(comparison))
                        @if let Some(choosing) = &choosing { (left_to_choose(choosing)) }
                    }
                    (table::section(comparison, &notes, findings))
                    (card::frames(comparison, pictures, choosing.as_ref()))
                    (closing::sections(comparison))
                }
            }
        }
    }
    .into_string()
}

/// The options that no other beats.
fn left_to_choose(choosing: &Choosing) -> Markup {
    html! {
        section aria-labelledby="left" {
            h2 #left { "What is left to choose between" }
            p { (choosing.lead) }
            ul {
                @for left in &choosing.left {
                    li {
                        a href={ "#fit" (left.index) } { (left.option) } ": " (left.numbers)
                        @for word in &left.best_at { " " span.tag { (word) } }
                    }
                }
            }
        }
    }
}

/// Reference and date, where the job has them.
fn heading(job: &Job) -> Option<String> {
    let parts: Vec<&str> = [&job.reference, &job.date].into_iter().flatten().map(String::as_str).collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}

fn css(heading: &str) -> String {
    format!(
        ":root{{{light}}}@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}{face}{pictures}{STYLE}\
         @page{{@top-left{{content:{heading}}}}}",
        light = style::variables(Mode::Light),
        dark = style::variables(Mode::Dark),
        face = font::face_rule(),
        pictures = style::rules(),
        heading = css_text(heading),
    )
}

/// A text as CSS has it, every sign that could mean something written by its number.
fn css_text(text: &str) -> String {
    let sign = |sign: char| match sign {
        plain if plain.is_ascii_alphanumeric() || plain == ' ' => plain.to_string(),
        sign => format!("\\{:06x}", u32::from(sign)),
    };
    format!("\"{}\"", text.chars().filter(|sign| !sign.is_control()).map(sign).collect::<String>())
}

/// A picture with its caption.
fn figure_of(picture: &Picture, id_prefix: &str, caption: &str) -> Markup {
    html! {
        figure {
            (picture.inline(id_prefix))
            figcaption { (caption) }
        }
    }
}

/// The picture that shows the answer, below that of the spectacles worn now, at one scale.
fn evidence(comparison: &Comparison<'_>, pictures: &Pictures) -> Markup {
    let chosen = words::choice(comparison).map(|(index, _)| index);
    let now = comparison.has_now.then_some(0);
    html! {
        div.evidence {
            @for index in now.into_iter().chain(chosen) {
                @if let (Some(fit), Some(Some(drawn))) = (comparison.fits.get(index), pictures.fits.get(index)) {
                    @let whose = if comparison.is_now(index) {
                        format!("Worn now, {}", words::material(fit.option))
                    } else {
                        format!("{} ({})", words::fit(fit), words::material(fit.option))
                    };
                    (figure_of(&drawn.plan, &format!("a{index}-"), &format!("{whose}, from above (plan section)")))
                }
            }
        }
    }
}

fn prescriptions(job: &Job) -> Markup {
    let worn_for = job.present.as_ref().and_then(|present| present.prescription.as_ref());
    html! {
        div.rx {
            (prescription(&job.prescription, "Prescription"))
            @if let Some(worn_for) = worn_for { (prescription(worn_for, "The spectacles worn now were made for")) }
        }
    }
}

fn prescription(prescription: &Prescription, caption: &str) -> Markup {
    let prism = prescription.eyes.iter().any(|(_, rx)| !rx.prism.is_none());
    html! {
        table {
            caption { (caption) }
            thead {
                tr {
                    th scope="col" { "Eye" }
                    th scope="col" { "Sphere" }
                    th scope="col" { "Cylinder" }
                    th scope="col" { "Axis" }
                    @if prism { th.words scope="col" { "Prism" } }
                    th scope="col" { "pd" }
                }
            }
            tbody { @for (eye, rx) in prescription.eyes.iter() { (rx_row(eye, rx, prism)) } }
        }
    }
}

fn rx_row(eye: Eye, rx: &EyeRx, prism: bool) -> Markup {
    let cylinder = rx.power.cylinder();
    html! {
        tr {
            th scope="row" { (eye.letter()) }
            td { (super::number::power(rx.power.sphere())) }
            td { @if cylinder != 0.0 { (super::number::power(cylinder)) } }
            td { @if cylinder != 0.0 { (axis(rx.power.axis())) } }
            @if prism { td.words { (words::prism(rx.prism, eye).unwrap_or_default()) } }
            td { (mm(rx.pd_mm)) }
        }
    }
}

/// A figure at one decimal, or a dash.
fn one_decimal(value: Option<f64>) -> String {
    value.map_or("–".to_owned(), |value| figure(value, 1))
}

#[cfg(test)]
mod tests {
    #[test]
    fn no_text_breaks_out_of_the_style() {
        assert_eq!(super::css_text("H-204 \"</style>"), "\"H\\00002d204 \\000022\\00003c\\00002fstyle\\00003e\"");
    }
}
