//! What the page ends with: materials, method, what is left out, and for whom it is not enough.

use super::super::number::{THIN, figure, grams, mm, size, with_unit};
use super::super::words::{self, MUCH_G, NEARLY_MM};
use super::one_decimal;
use crate::choose::{LensOption, base};
use crate::eye::Eye;
use crate::study::compare::{Comparison, EQUAL_G, EQUAL_MM};
use maud::{Markup, html};

/// The sections.
pub(super) fn sections(comparison: &Comparison<'_>) -> Markup {
    html! {
        section aria-labelledby="lenses" {
            h2 #lenses { "The lenses" }
            div.scroller tabindex="0" role="group" aria-labelledby="lenses" { (materials(comparison)) }
            @for reason in words::bases(&comparison.job.lenses, &comparison.job.prescription) { p.small { (reason) } }
        }
        section aria-labelledby="method" {
            h2 #method { "How it was worked out" }
            (method())
            h3 { "Not taken into account" }
            (left_out())
        }
        section.safety aria-labelledby="safety" {
            h2 #safety { "Calculated, not measured" }
            (safety(Some(comparison)))
        }
    }
}

fn materials(comparison: &Comparison<'_>) -> Markup {
    let job = comparison.job;
    let priced = job.lenses.iter().any(|option| option.price.is_some());
    html! {
        table {
            caption { "What the lens options are made of" }
            thead {
                tr {
                    th.words scope="col" { "Lens" }
                    th.words scope="col" { "Material" }
                    th.words scope="col" { "Made" }
                    th scope="col" { "Index" }
                    th scope="col" { "Abbe number" }
                    th scope="col" { "Density,\u{a0}g/cm³" }
                    th scope="col" { "Base R,\u{a0}D" }
                    th scope="col" { "Base L,\u{a0}D" }
                    @if priced { th scope="col" { "Price" } }
                }
            }
            tbody { @for option in &job.lenses { (material(comparison, option, priced)) } }
        }
    }
}

fn material(comparison: &Comparison<'_>, option: &LensOption, priced: bool) -> Markup {
    let prescription = &comparison.job.prescription;
    let glass = option.substance.glass(prescription.reference_line);
    let bases = base::pair(option, &prescription.eyes.map(|rx| rx.power));
    html! {
        tr {
            th.words scope="row" { (option.name) }
            td.words { (words::substance(option)) }
            td.words { (words::supply(option.supply)) }
            td { (figure(glass.index, 3)) }
            td { (one_decimal(Some(glass.abbe))) }
            td { (figure(glass.density, 2)) }
            @for eye in Eye::BOTH {
                td { (bases.of(eye).map_or("–".to_owned(), |base| figure(base.base_curve_d, 2))) }
            }
            @if priced { td { (option.price.map_or(String::new(), size)) } }
        }
    }
}

fn method() -> Markup {
    html! {
        p {
            "Each lens is two surfaces: a spherical front of the base curve named, and the back that gives the prescribed \
             power, cylinder and prism at the reference point. It is made as thin as the least thicknesses of its centre, \
             of its thinnest place and of its edge allow; a ready-made lens is cut out of the finished uncut as listed. \
             Edges are measured at the outline, parallel to the line of sight, before bevelling; masses are those of \
             the edged lens. Every number comes from the full geometry, not from an estimate."
        }
        p {
            "A base curve that the job leaves open follows Vogel’s rule: the spherical equivalent plus 6.00 for a plus \
             lens, half of it plus 6.00 for a minus lens, held between 0.50 and 8.00, the nearest that the material \
             comes in. Where the two eyes differ by less than 2.00, both take one."
        }
        p {
            "Options within " (mm(EQUAL_MM)) " and " (grams(EQUAL_G)) " of each other count as equal, before rounding. \
             Beside the thinnest the answer names the lightest of those at most " (mm(NEARLY_MM)) " thicker, where it saves "
            (grams(MUCH_G)) " and a fifth of its own mass or more. A difference between two figures is that of the figures \
             as shown. All figures with all \
             their digits are in result.json."
        }
    }
}

fn left_out() -> Markup {
    html! {
        ul {
            li { "The tilt and the wrap of the frame front, and how the lenses look through: power, prism and colour off \
                  the axis." }
            li { "A lens blocked on the middle of its shape in place of the reference point: on the base that Vogel's rule \
                  picks the temporal edge of a minus decentred by 6" (THIN) "mm comes out 0.1 to 0.2" (THIN) "mm thinner, \
                  on a steeper one half a millimetre and more." }
            li { "Tolerances of surfacing and edging, coatings, tints, and what the rim hides." }
        }
    }
}

pub(super) fn safety(comparison: Option<&Comparison<'_>>) -> Markup {
    html! {
        p {
            "These figures are calculated from what was entered; nothing here was measured on a lens or on a face. They help \
             to choose, and do not replace the measurement, the fitting and the judgement of those licensed to dispense."
        }
        p {
            "For driving, for safety eyewear, for children and for tints, local standards and codes of practice decide, and \
             may ask for other materials and greater thicknesses than those shown. Nothing here was checked against them."
        }
        ul {
            li {
                "Driving: whether a prescription, a frame or a tint is fit for it is for local law and a licensed \
                 practitioner to say. A deep rim or a wide side hides part of the view, which is not judged here. "
                @if let Some(comparison) = comparison { (reflections(comparison)) }
            }
            li {
                "Safety eyewear and sport: only lenses and a frame that were made, tested and marked together to the standard \
                 that applies. "
                @if let Some(comparison) = comparison { (thinnest(comparison)) }
                " These are lenses for everyday wear."
            }
            li {
                "Children: materials that resist breaking come first, whatever they add in thickness, and never untoughened \
                 glass; frame and fit are to be seen again as the child grows."
            }
            li {
                "Tints: how dark a lens may be by day, at night and at traffic lights is laid down locally. A dark lens that \
                 passes ultraviolet may be worse than none. No tint is reckoned with here, and a tinted lens is not for \
                 driving at night."
            }
        }
    }
}

/// What the lenses on offer reflect without a coating.
fn reflections(comparison: &Comparison<'_>) -> String {
    let line = comparison.job.prescription.reference_line;
    let percents =
        || comparison.job.lenses.iter().map(|option| 100.0 * option.substance.glass(line).lens_reflectance());
    let (Some(least), Some(most)) = (percents().reduce(f64::min), percents().reduce(f64::max)) else {
        return String::new();
    };
    let [least, most] = [least, most].map(|percent| with_unit(percent, 1, "%"));
    let range = if least == most { most } else { format!("{least} to {most}") };
    format!("At night reflections disturb: without a coating these lenses reflect {range} of the light.")
}

/// How thin the lenses on offer are, which is what a blow meets. ANSI/ISEA Z87.1 asks prescription lenses for 2 mm (high
/// impact) or 3 mm (basic impact) at the thinnest place (from memory).
fn thinnest(comparison: &Comparison<'_>) -> String {
    let pairs = comparison.offered().filter_map(|(_, fit)| fit.pair());
    let thinnest = pairs.flat_map(|pair| Eye::BOTH.map(|eye| pair.eyes.of(eye).thickness.thinnest_mm));
    thinnest.reduce(f64::min).map_or(String::new(), |thinnest_mm| {
        format!(
            "The thinnest place of the lenses here is {}; such standards often ask for 2 to 3{THIN}mm there.",
            mm(thinnest_mm)
        )
    })
}
