//! Every option on its own: plan section, thickness maps, cautions, figures, reasons; under its frame with the eye-size
//! charts.
//!
//! Units: behind every figure.

use super::super::number::{grams, mm, shown, size};
use super::super::pictures::{FitPictures, Pictures};
use super::super::words::{self, Choosing};
use super::figure_of;
use crate::advice;
use crate::assess::{Fit, Made, Pair};
use crate::draw::Picture;
use crate::eye::{Eye, Eyes};
use crate::figures::{self, Figure, Unit};
use crate::frame::Frame;
use crate::study::compare::{Comparison, Lead};
use maud::{Markup, html};

/// The figures of a card, in the order in which they are read; all others are in the JSON.
const SHOWN: [&str; 17] = [
    "thickness.edge_max_mm",
    "thickness.edge_min_mm",
    "thickness.centre_mm",
    "thickness.thinnest_mm",
    "thickness.nasal_mm",
    "thickness.temporal_mm",
    "thickness.top_mm",
    "thickness.bottom_mm",
    "bulge_mm",
    "mass_g",
    "front.base_curve_d",
    "reference_point.in_mm",
    UP,
    "reach.nasal_mm",
    "reach.temporal_mm",
    "blank.minimum_mm",
    "blank.diameter_mm",
];

/// Shown only where it is not nought.
const UP: &str = "reference_point.up_mm";

/// A section for the spectacles worn now and for each frame.
pub(super) fn frames(comparison: &Comparison<'_>, pictures: &Pictures, choosing: Option<&Choosing>) -> Markup {
    let now = comparison.has_now.then(|| comparison.fits.first()).flatten();
    html! {
        @if let Some(key) = &pictures.key {
            section.maps-key aria-labelledby="options" {
                h2 #options { "Every option in pictures" }
                p {
                    "Sections and maps are drawn in millimetres at actual size, and print so. The maps show each lens as \
                     one who faces the wearer sees it, all in the same colours: the darker, the thicker."
                }
                (figure_of(key, "key-", "Key of all thickness maps"))
                @if let Some(edges) = &pictures.edges {
                    (figure_of(edges, "edges-", "The thickest edge of every option, thin to thick"))
                }
            }
        }
        @if let Some(fit) = now {
            section.frame aria-labelledby="now" {
                h2 #now { "Worn now" }
                p.facts { (facts(fit.mounting.frame)) }
                (card(comparison, 0, fit, pictures, None))
            }
        }
        @for (i, frame) in comparison.job.frames.iter().enumerate() { (section(comparison, i, frame, pictures, choosing)) }
    }
}

fn section(
    comparison: &Comparison<'_>,
    index: usize,
    frame: &Frame,
    pictures: &Pictures,
    choosing: Option<&Choosing>,
) -> Markup {
    let id = format!("frame{index}");
    html! {
        section.frame aria-labelledby=(id) {
            h2 id=(id) { (frame.name) }
            p.facts { (facts(frame)) }
            @if let Some(Some(charts)) = pictures.charts.get(index) {
                div.charts {
                    (figure_of(&charts.thickness, &format!("c{index}t-"), &chart_caption(comparison.lead)))
                    (figure_of(&charts.mass, &format!("c{index}m-"), "Mass of both lenses over eye size"))
                    @if let Some(trade) = &charts.trade {
                        (figure_of(trade, &format!("c{index}b-"),
                            "The same width on the face: what the eye size gains the bridge loses"))
                    }
                    @if let Some(by_index) = &charts.index {
                        (figure_of(by_index, &format!("c{index}i-"), "What a higher index takes off, at the first size"))
                    }
                }
            }
            @for (i, fit) in comparison.offered().filter(|(_, fit)| std::ptr::eq(fit.mounting.frame, frame)) {
                (card(comparison, i, fit, pictures, choosing.and_then(|choosing| choosing.beaten_by[i].as_deref())))
            }
        }
    }
}

fn chart_caption(lead: Lead) -> String {
    let what = match lead {
        Lead::Edge => "Thickest edge of the pair",
        Lead::Centre => "Centre, the larger of the pair,",
    };
    format!("{what} over eye size; the figures stand at the sizes offered")
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

fn card(
    comparison: &Comparison<'_>,
    index: usize,
    fit: &Fit<'_>,
    pictures: &Pictures,
    beaten_by: Option<&str>,
) -> Markup {
    html! {
        article.card id={ "fit" (index) } {
            h3 {
                @if comparison.is_now(index) { "Worn now " span.trade { (words::material(fit.option)) } }
                @else { (words::place(fit.mounting.frame, &fit.mounting.boxing)) ", " (fit.option.name) " "
                    span.trade { (words::material(fit.option)) ", " (words::supply(fit.option.supply)) } }
                @for word in marks(comparison, index) { " " span.tag { (word) } }
            }
            @if let Some(rival) = beaten_by {
                p.beaten { "Beaten by " (rival) ": no worse in anything, and better somewhere." }
            }
            @match (&fit.outcome, pictures.fits.get(index).and_then(Option::as_ref)) {
                (Ok(pair), Some(drawn)) => (made(comparison, index, fit, pair, drawn)),
                (Err(why), _) => p.impossible { strong { "Cannot be made." } " " (words::pair_impossible(why, fit)) },
                (Ok(_), None) => p.impossible { "This option could not be drawn; its figures are in the table." },
            }
        }
    }
}

fn marks(comparison: &Comparison<'_>, index: usize) -> impl Iterator<Item = &'static str> {
    let thin = comparison.is_thinnest(index).then_some("thinnest");
    let light = comparison.is_lightest(index).then_some("lightest");
    thin.into_iter().chain(light)
}

fn made(comparison: &Comparison<'_>, index: usize, fit: &Fit<'_>, pair: &Pair, drawn: &FitPictures) -> Markup {
    html! {
        p.key { (summary(comparison, pair)) }
        (cautions(fit))
        div.matter {
            div {
                (figure_of(&drawn.plan, &format!("p{index}-"), "The pair from above (plan section)"))
                @if let Some(over) = &drawn.over {
                    (figure_of(over, &format!("o{index}-"), "What it saves (plan sections laid over each other)"))
                }
                div.maps {
                    @for (eye, map) in drawn.maps.iter() {
                        (figure_of(map, &format!("m{index}{}-", eye.letter().to_lowercase()),
                            &format!("The {} lens from the front (thickness map)", eye.word())))
                    }
                }
            }
            (figure_lists(&pair.eyes))
        }
        (more(index, drawn))
        p.small { (reasons(fit, pair)) }
    }
}

/// The drawings for those who want to know: folded on a screen, whole in print.
fn more(index: usize, drawn: &FitPictures) -> Markup {
    let each = |letter: &str, pictures: &Eyes<Picture>, caption: &str| {
        html! {
            div.maps {
                @for (eye, picture) in pictures.iter() {
                    (figure_of(picture, &format!("{letter}{index}{}-", eye.letter().to_lowercase()),
                        &format!("The {} lens {caption}", eye.word())))
                }
            }
        }
    };
    html! {
        details.more {
            summary { "More drawings: front, sections, edges, the edge as others see it" }
            (figure_of(&drawn.view, &format!("w{index}-"), "The edge as others see it"))
            (figure_of(&drawn.front, &format!("f{index}-"), "The pair as worn (front view)"))
            (each("v", &drawn.verticals, "from the side (vertical section)"))
            (each("d", &drawn.details, "where it is thickest (its edge enlarged)"))
            (figure_of(&drawn.clock, &format!("k{index}-"), "Edge thickness round the rim"))
        }
    }
}

fn summary(comparison: &Comparison<'_>, pair: &Pair) -> String {
    let lead = match (comparison.lead, comparison.lead.of(pair)) {
        (Lead::Edge, Some(value)) => format!("{} at the thickest edge, ", mm(value)),
        (Lead::Centre, Some(value)) => format!("{} in the middle, ", mm(value)),
        (_, None) => String::new(),
    };
    let with = pair.with_frame_g().map_or(String::new(), |with| format!(", {} with the frame", grams(with)));
    format!("{lead}{} the pair{with}.", grams(pair.mass_g()))
}

/// Each rule once: the wearer's sentence, then the dispenser's for each eye.
fn cautions(fit: &Fit<'_>) -> Markup {
    let cautions = advice::cautions(fit);
    let rules = cautions.chunk_by(|one, other| one.rule.id == other.rule.id);
    html! {
        @if !cautions.is_empty() {
            ul.cautions {
                @for of_rule in rules {
                    @if let Some(first) = of_rule.first() {
                        li.{ (words::severity(first.rule.severity)) } {
                            strong { (words::capital(words::severity(first.rule.severity))) ":" } " "
                            (words::caution_for_wearer(first))
                            @for caution in of_rule { " " span.trade { (words::caution(caution)) } }
                        }
                    }
                }
            }
        }
    }
}

/// Two lists side by side, that they take half the height.
fn figure_lists(eyes: &Eyes<Made>) -> Markup {
    let dull =
        |figure: &&Figure<Made>| figure.id == UP && eyes.iter().all(|(_, made)| (figure.read)(made) == Some(0.0));
    let figures: Vec<&Figure<Made>> =
        SHOWN.iter().filter_map(|id| figures::of_eye(id)).filter(|figure| !dull(figure)).collect();
    let (first, second) = figures.split_at(figures.len().div_ceil(2));
    html! { div.figures { (figure_list(first, eyes)) (figure_list(second, eyes)) } }
}

fn figure_list(figures: &[&Figure<Made>], eyes: &Eyes<Made>) -> Markup {
    let value = |figure: &Figure<Made>, eye: Eye| {
        (figure.read)(eyes.of(eye)).map_or("–".to_owned(), |value| shown(figure, value))
    };
    html! {
        table {
            thead {
                tr {
                    th.words scope="col" { "Figure" }
                    @for eye in Eye::BOTH { th scope="col" { (eye.letter()) } }
                    th.unit { span.hidden { "Unit" } }
                }
            }
            tbody {
                @for figure in figures {
                    tr {
                        th.words scope="row" { (words::capital(figure.name)) }
                        @for eye in Eye::BOTH { td { (value(figure, eye)) } }
                        td.unit { (if figure.unit == Unit::Deg { "°" } else { figure.unit.symbol() }) }
                    }
                }
            }
        }
    }
}

/// Why the curve and the thickness are what they are.
fn reasons(fit: &Fit<'_>, pair: &Pair) -> String {
    let thickness = pair.eyes.map(|made| words::thickness(made, fit.option));
    format!(
        "{} {}",
        words::bases_of_pair(&pair.eyes.map(|made| made.base)),
        words::both(thickness.right, thickness.left)
    )
}
