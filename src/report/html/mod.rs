//! The page of a comparison: one file that opens from disk, needs no network and no script, reads on a phone and prints.
//! The answer first, the evidence under it: picture, lessons, table, every option, method.
//!
//! Units: in the heads of the columns and behind every number.

mod card;
mod closing;
#[cfg(feature = "cli")]
mod explain;
mod frames;
mod hole;
mod limit;
mod orders;
mod other_way;
#[cfg(feature = "cli")]
mod practise;
mod sheet;
mod shown;
mod sweep;
mod table;
mod watched;
mod why;

#[cfg(feature = "cli")]
pub use explain::explain_page;
pub use limit::limit_page;
pub use orders::{order_charts, orders};
#[cfg(feature = "cli")]
pub use practise::{practise_answers, practise_questions};

use super::names::Names;
use super::notes::Notes;
use super::number::{axis, figure, mm};
use super::pictures::{Drawing, FitPictures, FrameCharts};
use super::words::{self, Choosing};
use crate::assess::{Fit, Pair};
use crate::draw::style::{self, Mode};
use crate::draw::{Picture, font};
use crate::eye::Eye;
use crate::finding::Finding;
use crate::job::Job;
use crate::rx::{EyeRx, Prescription};
use crate::study::compare::{Comparison, EQUAL_MM, Lead};
use crate::study::lessons::{self, Lesson};
use card::Card;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use shown::Shown;

/// The rules of the page, but for colours, pictures and what the job says.
const STYLE: &str = include_str!("page.css");
/// Nothing is fetched from anywhere, and nothing is run.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/// The page in pieces, so that a large one need never be held whole: text, and holes that are filled when the pictures
/// of an option or a frame have been drawn.
#[derive(Debug)]
pub struct Page<'c> {
    comparison: &'c Comparison<'c>,
    choosing: Option<Choosing>,
    shown: Shown,
    /// What the picture files beside the page are called.
    pub names: Names,
    /// The pieces, in order.
    pub pieces: Vec<Piece>,
}

pub(super) use sheet::sheet;
pub use sweep::sweep_page;
pub use watched::{Trouble, Watched};

/// A piece of a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// Text as it is.
    Text(String),
    /// The card of this fit.
    Fit(usize),
    /// The charts of this frame.
    Charts(usize),
}

impl<'c> Page<'c> {
    /// Writes the page round its holes. The findings are those of a job without a fault.
    #[must_use]
    pub fn of(
        comparison: &'c Comparison<'c>,
        findings: &[Finding],
        watched: Option<&Watched>,
        drawing: &Drawing<'_>,
    ) -> Page<'c> {
        let learned = lessons::lessons(comparison);
        // Where all look alike nothing is beaten and nothing is left over.
        let alike = matches!(learned[..], [Lesson::Alike { .. }]);
        let choosing = (!alike).then(|| words::choosing(comparison)).flatten();
        let shown = Shown::of(comparison, choosing.as_ref());
        let body = body(comparison, findings, &learned, choosing.as_ref(), drawing, &shown);
        let heading = heading(comparison.job);
        let pieces = hole::pieces(&document("Lenses compared", heading.as_deref(), watched, &body));
        Page { comparison, choosing, shown, names: Names::of(comparison), pieces }
    }

    /// The card of a fit; its pictures are `None` where it cannot be made.
    #[must_use]
    pub fn fit(&self, index: usize, drawn: Option<&FitPictures>) -> String {
        let beaten_by = self.choosing.as_ref().and_then(|choosing| choosing.beaten_by.get(index)?.as_deref());
        let Some(fit) = self.comparison.fits.get(index) else { return String::new() };
        let card = Card { comparison: self.comparison, index, fit, shown: &self.shown, names: &self.names };
        card.write(drawn, beaten_by).into_string()
    }

    /// The charts of a frame.
    #[must_use]
    pub fn charts(&self, index: usize, charts: &FrameCharts) -> String {
        frames::charts(self.comparison.lead, index, charts).into_string()
    }
}

fn body(
    comparison: &Comparison<'_>,
    findings: &[Finding],
    learned: &[Lesson<'_>],
    choosing: Option<&Choosing>,
    drawing: &Drawing<'_>,
    shown: &Shown,
) -> Markup {
    let job = comparison.job;
    let notes = Notes::of(comparison);
    let (heading, asked) = (heading(job), why::most_asked(comparison));
    let alike = matches!(learned, [Lesson::Alike { .. }]);
    html! {
        header {
            h1 { "Lenses compared" }
            @if let Some(heading) = &heading { p.reference { (heading) } }
            (prescriptions(job))
        }
        main {
            section.answer aria-labelledby="answer" {
                div.said {
                    h2 #answer { "The answer" }
                    @for (i, sentence) in words::answer(comparison, learned).iter().enumerate() {
                        p.lead[i == 0] { (sentence) }
                        @if let (0, false, Some(because)) = (i, alike, asked.first().and_then(words::because)) {
                            p { (because) }
                        }
                    }
                    @if let Some(likened) = words::likened(comparison) { p { (likened) } }
                }
                (evidence(comparison, drawing, shown))
                (other_way::sure(comparison, drawing))
            }
            section aria-labelledby="why" {
                h2 #why { "What makes the difference" }
                div.lessons {
                    @for told in words::lessons(comparison, learned) {
                        div.lesson {
                            h3 { (told.title) " " span.trade { (told.trade) } }
                            p { (told.plain) }
                            p.small { (told.text) @if let Some(reason) = &told.reason { " " (reason) } }
                        }
                    }
                }
            }
            @if !alike {
                (why::shares(&asked))
                @if let Some(choosing) = choosing { (left_to_choose(choosing)) }
            }
            (table::section(comparison, &notes, findings))
            @if !alike { (other_way::section(comparison)) }
            (frames::frames(comparison, drawing, shown))
            (closing::sections(comparison))
        }
    }
}

/// A page round its body: nothing is fetched, nothing is run, every rule is in it.
fn document(title: &str, heading: Option<&str>, watched: Option<&Watched>, body: &Markup) -> String {
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                @if let Some(watched) = watched { (watched.head()) }
                title { (title) @if let Some(heading) = heading { ", " (heading) } }
                style { (PreEscaped(css(heading.unwrap_or(title)))) }
            }
            body {
                @if let Some(watched) = watched { (watched) }
                (body)
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
        // A space after an escape is its end, even after six digits.
        sign => format!("\\{:06x} ", u32::from(sign)),
    };
    format!("\"{}\"", text.chars().filter(|sign| !sign.is_control()).map(sign).collect::<String>())
}

/// Wider pictures are scrolled sideways on a phone 320 px wide, mm.
const WIDEST_AT_REST_MM: f64 = 75.0;

/// A picture that may have to be scrolled can be reached with the keyboard.
fn tab_stop(picture: &Picture) -> Option<&'static str> {
    (picture.width_mm > WIDEST_AT_REST_MM).then_some("0")
}

/// A picture with its caption.
fn figure_of(picture: &Picture, id_prefix: &str, caption: &str) -> Markup {
    html! {
        figure tabindex=[tab_stop(picture)] {
            (picture.inline(id_prefix))
            figcaption { (caption) }
        }
    }
}

/// The pictures that show the answer, below that of the spectacles worn now, at one scale.
fn evidence(comparison: &Comparison<'_>, drawing: &Drawing<'_>, shown: &Shown) -> Markup {
    html! {
        div.evidence {
            @for &index in &shown.above {
                @if let (Some(fit), Some(plan)) = (comparison.fits.get(index), drawing.plan(index)) {
                    figure tabindex=[tab_stop(&plan)] {
                        figcaption {
                            strong { (whose(comparison, index)) }
                            @if let Some(pair) = fit.pair() { " " span.line { (card::summary(comparison, pair)) (beside(comparison, fit, pair).unwrap_or_default()) } }
                        }
                        (plan.inline(&format!("a{index}-")))
                    }
                }
            }
        }
    }
}

/// Where the thickest place is, if the section does not show it.
fn beside(comparison: &Comparison<'_>, fit: &Fit<'_>, pair: &Pair) -> Option<String> {
    let (eye, made) = pair.eyes.iter().max_by(|a, b| {
        let [a, b] = [a, b].map(|(_, made)| made.thickness.edges.max.thickness_mm);
        a.total_cmp(&b)
    })?;
    let edges = &made.thickness;
    let most = edges.edges.max.thickness_mm;
    let shown = edges.temporal_mm.max(edges.nasal_mm);
    (comparison.lead == Lead::Edge && most - shown > EQUAL_MM).then(|| {
        let place = words::corner(eye, fit.mounting.outlines.of(eye), edges.edges.max.point);
        format!(" The thickest place, at the {place}, lies off this section.")
    })
}

/// "Thinnest: Yarrow 46 with “glass” (1.80 glass)".
fn whose(comparison: &Comparison<'_>, index: usize) -> String {
    let what = match (comparison.is_thinnest(index), comparison.is_lightest(index)) {
        _ if comparison.is_now(index) => "",
        (true, true) => "Thinnest and lightest: ",
        (true, false) => "Thinnest: ",
        (false, true) => "Lightest: ",
        (false, false) => "",
    };
    format!("{what}{}", words::whose(comparison, index))
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
        assert_eq!(super::css_text("H-204 \"</style>"), "\"H\\00002d 204 \\000022 \\00003c \\00002f style\\00003e \"");
    }
}
