//! The options in pictures: what all share, and a section for each frame with its charts and cards.
//!
//! Units: behind every figure.

use super::super::folder::SHEET;
use super::super::number::{grams, mm, size};
use super::super::pictures::{Drawing, FrameCharts};
use super::super::words;
use super::figure_of;
use super::hole::Hole;
use super::shown::Shown;
use crate::frame::Frame;
use crate::study::compare::{Comparison, Lead};
use maud::{Markup, html};

/// A section for the spectacles worn now and for each frame, with holes for what has many pictures.
pub(super) fn frames(comparison: &Comparison<'_>, drawing: &Drawing<'_>, shown: &Shown) -> Markup {
    let now = comparison.has_now.then(|| comparison.fits.first()).flatten();
    html! {
        @if let Some(key) = &drawing.key() {
            section.maps-key aria-labelledby="options" {
                h2 #options { "Every option in pictures" }
                p {
                    "Sections and maps are drawn in millimetres at actual size, and print so. The maps show each lens as \
                     one who faces the wearer sees it, all in the same colours: the darker, the thicker. Charts of one \
                     quantity all run up to one height. Limits of the cautions, and what helps, stand in the notes under \
                     the table. " (shown.in_words()) " "
                    a href=(SHEET) { "A sheet at true size" }
                    " has a ruler that proves the printer, and the outlines of every frame and size."
                }
                @if let Some(edges) = &drawing.edges() {
                    (figure_of(edges, "edges-", "The thickest edge of every option, thin to thick"))
                }
                (figure_of(key, "key-", "Key of all thickness maps"))
            }
        }
        @if let Some(fit) = now {
            section.frame aria-labelledby="now" {
                h2 #now { "Worn now" }
                p.facts { (facts(fit.mounting.frame)) }
                (Hole::Fit(0))
            }
        }
        @for (i, frame) in comparison.job.frames.iter().enumerate() { (section(comparison, i, frame)) }
    }
}

fn section(comparison: &Comparison<'_>, index: usize, frame: &Frame) -> Markup {
    let id = format!("frame{index}");
    html! {
        section.frame aria-labelledby=(id) {
            div.start {
                h2 id=(id) { (frame.name) }
                p.facts { (facts(frame)) }
                (Hole::Charts(index))
            }
            @for (i, _) in comparison.offered().filter(|(_, fit)| std::ptr::eq(fit.mounting.frame, frame)) {
                (Hole::Fit(i))
            }
        }
    }
}

/// The charts of a frame.
pub(super) fn charts(lead: Lead, index: usize, charts: &FrameCharts) -> Markup {
    html! {
        div.charts {
            (figure_of(&charts.thickness, &format!("c{index}t-"), &chart_caption(lead)))
            (figure_of(&charts.mass, &format!("c{index}m-"), "Mass of both lenses over eye size"))
            @if let Some(trade) = &charts.trade {
                (figure_of(trade, &format!("c{index}b-"),
                    "Eye size against bridge, at one width on the face"))
            }
            @if let Some(by_index) = &charts.index {
                (figure_of(by_index, &format!("c{index}i-"), "What a higher index takes off, at the first size"))
            }
        }
        @if charts.broken {
            p.small { "A line breaks where a lens is cut from the next ready-made diameter, and where none can be made." }
        }
    }
}

fn chart_caption(lead: Lead) -> String {
    let what = match lead {
        Lead::Edge => "Thickest edge",
        Lead::Centre => "Centre, the larger of the two,",
    };
    format!("{what} over eye size; figures at the sizes offered")
}

/// "Oval, metal rim 2.2 mm deep; 46 × 36, bridge 19; …".
fn facts(frame: &Frame) -> String {
    let sizes: Vec<String> = frame
        .sizes
        .iter()
        .map(|b| {
            format!(
                "{} × {} bridge {}",
                size(b.eye_size_mm),
                super::super::number::figure(b.depth_mm, 1),
                size(b.bridge_mm)
            )
        })
        .collect();
    let rim = match frame.rim_depth_mm {
        Some(depth_mm) => format!("{}, {} deep", words::rim(frame.rim), mm(depth_mm)),
        None => words::rim(frame.rim).to_owned(),
    };
    let mass = frame.mass_g.map_or(String::new(), |mass_g| format!(", {} without lenses", grams(mass_g)));
    let sizes = sizes.join("; ");
    format!("{}, {rim}{mass}. Eye size × depth, mm: {sizes}.", words::capital(&words::lens_shape(&frame.shape)))
}
