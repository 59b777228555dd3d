//! The page of `limit`: what stays within a wish for the thickest edge, with a chart for each limit. One file like that of
//! a comparison.
//!
//! Units: in the heads of the columns and behind every number.

use super::super::number::{figure, size};
use super::super::pictures::LimitPictures;
use super::super::words;
use super::{document, figure_of, heading, one_decimal, prescription};
use crate::draw::Picture;
use crate::job::Job;
use crate::study::limit::{InMaterial, Limit, Limits};
use maud::{Markup, html};

const TITLE: &str = "Within a wish";

/// The page.
#[must_use]
pub fn limit_page(job: &Job, limits: &Limits<'_>, pictures: Option<&LimitPictures>) -> String {
    let heading = heading(job);
    let body = html! {
        header {
            h1 { (TITLE) }
            @if let Some(heading) = &heading { p.reference { (heading) } }
            div.rx { (prescription(&job.prescription, "Prescription")) }
        }
        main {
            @if let Some(best) = limits.best() { (answered(limits, best, pictures)) }
            section.safety aria-labelledby="safety" {
                h2 #safety { "Calculated, not measured" }
                (super::closing::safety(None))
            }
        }
    };
    document(TITLE, heading.as_deref(), None, &body)
}

fn answered(limits: &Limits<'_>, best: &Limit<'_>, pictures: Option<&LimitPictures>) -> Markup {
    html! {
        section.answer aria-labelledby="answer" {
            h2 #answer { "The answer" }
            p.lead { (words::limit_answer(best)) }
            (chart(pictures.and_then(|of| of.eye_size.as_ref()), "e-", "The thickest edge of the pair over eye size"))
        }
        @if limits.each.len() > 1 { (lenses(limits, best)) }
        @if !limits.materials.is_empty() { (materials(best, &limits.materials)) }
        (others(best, pictures))
        @if let Some(sure) = &best.sure {
            section aria-labelledby="sure" {
                h2 #sure { "How sure it is, of " (words::limit_sure_of(best)) }
                p { (words::sure(sure)) }
                (chart(pictures.and_then(|of| of.sure.as_ref()), "u-", words::SURE_METHOD))
            }
        }
    }
}

fn chart(picture: Option<&Picture>, id_prefix: &str, caption: &str) -> Markup {
    html! { @if let Some(picture) = picture { (figure_of(picture, id_prefix, caption)) } }
}

/// Sphere, index and pd.
fn others(limit: &Limit<'_>, pictures: Option<&LimitPictures>) -> Markup {
    let parts = [
        ("How strong a sphere", words::limit_sphere(limit), pictures.and_then(|of| of.sphere.as_ref()), "s-"),
        ("How low an index", words::limit_index(limit), pictures.and_then(|of| of.index.as_ref()), "i-"),
        ("Which pupil distance", words::limit_pd(limit), pictures.and_then(|of| of.pd.as_ref()), "p-"),
    ];
    html! {
        section aria-labelledby="others" {
            h2 #others { "What else may vary, at eye size " (size(limit.at.boxing.eye_size_mm)) " with " (words::quoted(limit.at.option)) }
            div.limits {
                @for (head, text, picture, id_prefix) in parts {
                    div {
                        h3 { (head) }
                        p { (words::capital(&text)) }
                        @if let Some(picture) = picture { figure { (picture.inline(id_prefix)) } }
                    }
                }
            }
        }
    }
}

fn lenses(limits: &Limits<'_>, best: &Limit<'_>) -> Markup {
    html! {
        section aria-labelledby="lenses" {
            h2 #lenses { "Every lens option" }
            div.scroller tabindex="0" role="group" aria-labelledby="lenses" {
                table {
                    thead {
                        tr {
                            th.words scope="col" { "Lens" }
                            th.words scope="col" { "Material" }
                            th scope="col" { "Eye size to, mm" }
                            th scope="col" { "Sphere to, D" }
                            th scope="col" { "Index from" }
                            th scope="col" { "pd at, mm" }
                        }
                    }
                    tbody { @for limit in &limits.each { (lens(limit, std::ptr::eq(limit, best))) } }
                }
            }
            p.small { (words::limit_legend(best)) }
            ul {
                @for limit in limits.each.iter().filter(|limit| !std::ptr::eq(*limit, best)) {
                    @if let Some(reason) = words::limit_reason(limit) {
                        li { (words::capital(&words::option(limit.at.option))) ": " (reason) }
                    }
                }
            }
        }
    }
}

fn lens(limit: &Limit<'_>, is_best: bool) -> Markup {
    let figures = [
        words::limit_largest_size(&limit.eye_size),
        words::limit_strongest_sphere(limit),
        words::limit_lowest_index(limit),
        words::limit_tipping_pd(limit),
    ];
    html! {
        tr {
            th.words.best[is_best] scope="row" { (limit.at.option.name) }
            td.words { (words::substance(limit.at.option)) }
            @for (i, text) in figures.into_iter().enumerate() {
                td.best[is_best && i == 0] { (text.unwrap_or_else(|| "–".to_owned())) }
            }
        }
    }
}

fn materials(limit: &Limit<'_>, of: &[InMaterial]) -> Markup {
    let (at, line) = (size(limit.at.boxing.eye_size_mm), limit.at.prescription.reference_line);
    html! {
        section aria-labelledby="materials" {
            h2 #materials { "In other materials" }
            div.scroller tabindex="0" role="group" aria-labelledby="materials" {
                table {
                    thead {
                        tr {
                            th.words scope="col" { "Material" }
                            th scope="col" { "Index" }
                            th scope="col" { "Eye size to, mm" }
                            th scope="col" { "Edge at " (at) ", mm" }
                            th scope="col" { "Pair at " (at) ", g" }
                        }
                    }
                    tbody {
                        @for (i, one) in of.iter().enumerate() {
                            tr {
                                th.words.best[i == 0] scope="row" { (words::limit_material(one, i == 0)) }
                                td { (figure(one.option.substance.glass(line).index, 3)) }
                                td { (words::limit_largest_size(&one.eye_size).unwrap_or_else(|| "–".to_owned())) }
                                td { (one_decimal(one.edge_mm)) }
                                td { (one_decimal(one.mass_g)) }
                            }
                        }
                    }
                }
            }
            p.small { (words::limit_materials(limit)) }
        }
    }
}
