//! Every option on its own: plan section, thickness maps, cautions, figures, reasons; and the further drawings, or links to
//! them.
//!
//! Units: behind every figure.

use super::super::names::Names;
use super::super::number::{grams, mm, shown};
use super::super::pictures::FitPictures;
use super::super::words;
use super::shown::Shown;
use super::{figure_of, tab_stop};
use crate::advice;
use crate::assess::{Fit, Made, Pair};
use crate::draw::Picture;
use crate::eye::{Eye, Eyes};
use crate::figures::{self, Figure, Unit};
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

/// An option, and what stands of it on the page.
pub(super) struct Card<'c> {
    pub(super) comparison: &'c Comparison<'c>,
    pub(super) index: usize,
    pub(super) fit: &'c Fit<'c>,
    pub(super) shown: &'c Shown,
    pub(super) names: &'c Names,
}

impl Card<'_> {
    /// Writes it; `drawn` is `None` where it cannot be made.
    pub(super) fn write(&self, drawn: Option<&FitPictures>, beaten_by: Option<&str>) -> Markup {
        let Card { comparison, index, fit, .. } = *self;
        html! {
            article.card.whole[self.shown.is_whole(index)] id={ "fit" (index) } {
                div.open {
                    h3 {
                        @if comparison.is_now(index) { "Worn now " span.trade { (words::material(fit.option)) } }
                        @else { (words::place(fit.mounting.frame, &fit.mounting.boxing)) ", " (fit.option.name) " "
                            span.trade { (words::material(fit.option)) ", " (words::supply(fit.option.supply)) } }
                        @for word in marks(comparison, index) { " " span.tag { (word) } }
                    }
                    @match (&fit.outcome, drawn) {
                        (Ok(pair), Some(drawn)) => (self.made(pair, drawn, beaten_by)),
                        (Err(why), _) => {
                            p.impossible { strong { "Cannot be made." } " " (words::pair_impossible(why, fit)) }
                        }
                        (Ok(_), None) => {
                            p.impossible { "This option could not be drawn; its figures are in the table." }
                        }
                    }
                }
                @if let (true, Some(drawn)) = (self.shown.is_whole(index), drawn) { (more(index, drawn)) }
            }
        }
    }

    fn made(&self, pair: &Pair, drawn: &FitPictures, beaten_by: Option<&str>) -> Markup {
        let pictured = self.shown.is_pictured(self.index);
        html! {
            p.key { (summary(self.comparison, pair)) }
            @if let Some(rival) = beaten_by {
                p.beaten { "Beaten by " (rival) span.means { ": no worse in anything, and better somewhere" } "." }
            }
            (cautions(self.fit))
            div.matter.bare[!pictured] {
                @if pictured { (self.pictures(drawn)) }
                (figure_lists(&pair.eyes))
            }
            p.small.reasons { (reasons(self.fit, pair)) }
            @if !self.shown.is_whole(self.index) { (self.files(drawn, pictured)) }
        }
    }

    /// Plan section and maps; a plan that stands with the answer is shown again.
    fn pictures(&self, drawn: &FitPictures) -> Markup {
        let index = self.index;
        html! {
            div.pictures {
                figure tabindex=[tab_stop(&drawn.plan)] {
                    @if self.shown.above.contains(&index) { (drawn.plan.again(&format!("a{index}-"))) }
                    @else { (drawn.plan.inline(&format!("p{index}-"))) }
                    figcaption { "The pair from above (plan section)" }
                }
                div.maps {
                    @for (eye, map) in drawn.maps.iter() {
                        (figure_of(map, &format!("m{index}{}-", eye.letter().to_lowercase()),
                            &format!("The {} lens from the front (thickness map)", eye.word())))
                    }
                }
            }
        }
    }

    /// The drawings that stand beside the page, by name.
    fn files(&self, drawn: &FitPictures, pictured: bool) -> Markup {
        let others = drawn.all().filter(|(_, picture)| !pictured || !matches!(picture.kind, "plan" | "map"));
        let others: Vec<(Option<Eye>, &Picture)> = others.collect();
        html! {
            p.small.files {
                @if pictured { "Further drawings, as files: " } @else { "Drawings, as files: " }
                @for (i, (eye, picture)) in others.iter().enumerate() {
                    @if i > 0 { ", " }
                    a href=(self.names.of_fit(self.index, picture.kind, *eye)) {
                        (called(picture.kind)) @if let Some(eye) = eye { " " (eye.letter()) }
                    }
                }
                "."
            }
        }
    }
}

/// What a kind of picture is called in a line of them.
fn called(kind: &str) -> &str {
    match kind {
        "plan" => "plan section",
        "map" => "thickness map",
        "front" => "front view",
        "vertical" => "vertical section",
        "detail" => "edge enlarged",
        "critical" => "edge where it has least room",
        "unrolled" => "edge unrolled",
        "layout" => "layout in the blank",
        "clock" => "edge round the rim",
        "over" => "what it saves",
        "view" => "edge as others see it",
        other => other,
    }
}

fn marks(comparison: &Comparison<'_>, index: usize) -> impl Iterator<Item = &'static str> {
    let thin = comparison.is_thinnest(index).then_some("thinnest");
    let light = comparison.is_lightest(index).then_some("lightest");
    thin.into_iter().chain(light)
}

/// The drawings for those who want to know: folded on a screen, whole in print, those side by side that fit so.
fn more(index: usize, drawn: &FitPictures) -> Markup {
    let of = |letter: &str, eye: Eye, pictures: &Eyes<Picture>, caption: &str| {
        let prefix = format!("{letter}{index}{}-", eye.letter().to_lowercase());
        figure_of(pictures.of(eye), &prefix, &format!("The {} lens {caption}", eye.word()))
    };
    html! {
        details.more {
            summary { "More drawings: front, sections, edges, the lens in its blank, the edge as others see it" }
            div.drawings {
                @if let Some(over) = &drawn.over {
                    (figure_of(over, &format!("o{index}-"), "What it saves (plan sections laid over each other)"))
                }
                @for eye in Eye::BOTH {
                    (of("d", eye, &drawn.details, "where it is thickest (its edge enlarged)"))
                    (of("c", eye, &drawn.criticals, "where its edge has least room"))
                }
                @for eye in Eye::BOTH {
                    (of("v", eye, &drawn.verticals, "from the side (vertical section)"))
                }
                @for eye in Eye::BOTH {
                    (of("u", eye, &drawn.unrolled, "with its edge unrolled"))
                }
                @for eye in Eye::BOTH {
                    (of("y", eye, &drawn.layouts, "laid in its blank (layout card)"))
                }
                (figure_of(&drawn.front, &format!("f{index}-"), "The pair as worn (front view)"))
                (figure_of(&drawn.clock, &format!("k{index}-"), "Edge thickness round the rim"))
                (figure_of(&drawn.view, &format!("w{index}-"), "The edge as others see it"))
            }
        }
    }
}

/// "4.4 mm at the thickest edge, 20.9 g the pair, 34.4 g with the frame."
pub(super) fn summary(comparison: &Comparison<'_>, pair: &Pair) -> String {
    let lead = match (comparison.lead, comparison.lead.of(pair)) {
        (Lead::Edge, Some(value)) => format!("{} at the thickest edge, ", mm(value)),
        (Lead::Centre, Some(value)) => format!("{} in the middle, ", mm(value)),
        (_, None) => String::new(),
    };
    let with = pair.with_frame_g().map_or(String::new(), |with| format!(", {} with the frame", grams(with)));
    format!("{lead}{} the pair{with}.", grams(pair.mass_g()))
}

/// One sentence for each rule; limits and mends stand once, in the notes under the table.
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
