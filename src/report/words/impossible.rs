//! Why a lens cannot be made, and what would help.

use super::super::number::{apart, figure, mm, with_unit};
use super::{eye, power};
use crate::assess::{Fit, Impossible, PairImpossible};
use crate::choose::centre::SetBy;
use crate::choose::{LensOption, Supply};
use crate::measure::Side;
use crate::rx::Power;

/// Why a pair cannot be made: one sentence that names the eye.
#[must_use]
pub fn pair_impossible(why: &PairImpossible, fit: &Fit<'_>) -> String {
    let power = &fit.prescription.eyes.of(why.eye).power;
    format!("{}: {}", eye(why.eye), impossible(&why.why, fit.option, power))
}

/// Why a lens of this option and power cannot be made: one sentence, without a capital.
#[must_use]
pub fn impossible(why: &Impossible, option: &LensOption, rx: &Power) -> String {
    match *why {
        Impossible::TooShort { side, reach_mm, wanted_mm, base_helps } => {
            let [reach, wanted] = apart(reach_mm, wanted_mm);
            let surface = match side {
                Side::Front => "front",
                Side::Back => "back",
            };
            format!(
                "the {surface} surface reaches only {reach}\u{202f}mm from the reference point and \
                 {wanted}\u{202f}mm are wanted; {} would help.",
                mends(side, option.supply, rx, base_helps)
            )
        }
        Impossible::FocusInside { centre_mm } => format!(
            "the front surface focuses inside a lens of {}; a flatter base curve or, if its bridge fits your nose, a smaller \
             eye size would help.",
            mm(centre_mm)
        ),
        Impossible::Unsettled => {
            "no thickness was found that keeps every minimum; another base curve or eye size may do.".to_owned()
        }
        Impossible::NoBlank { wanted_mm, largest_mm, supply } => no_blank(wanted_mm, largest_mm, supply),
        Impossible::BlankTooThin { base_curve_d, at_edge, blank_mm, wanted_mm } => {
            let [blank, wanted] = apart(blank_mm, wanted_mm);
            format!(
                "the blank of base {} has {blank}\u{202f}mm at {} and {wanted}\u{202f}mm are wanted, with what \
                 surfacing takes off; a thicker blank by special order, a higher index or, if its bridge fits your nose, a \
                 smaller eye size would help.",
                figure(base_curve_d, 2),
                if at_edge { "the lens’s edge" } else { "the lens’s thickest place" },
            )
        }
        Impossible::BlankEnds { base_curve_d } => format!(
            "the blank of base {} is too deeply curved to hold it; another base curve or, if its bridge fits your nose, a \
             smaller eye size would help.",
            figure(base_curve_d, 2),
        ),
        Impossible::NoStockPower { sphere_d, cylinder_d } => format!(
            "no ready-made lens of this material covers {}; surfaced, it can be made to order.",
            without_axis(sphere_d, cylinder_d)
        ),
        Impossible::StockPrism { amount_pd } => format!(
            "a ready-made lens has no prism and {} are prescribed; surfaced, it can be made to order.",
            with_unit(amount_pd, 2, "Δ")
        ),
        Impossible::StockTooThin { demand, found_mm, wanted_mm } => {
            let [found, wanted] = apart(found_mm, wanted_mm);
            format!(
                "cut from the ready-made lens {} has {found}\u{202f}mm where {wanted}\u{202f}mm are wanted; surfaced, \
                 it can be made to order.",
                demanded(demand)
            )
        }
    }
}

/// A back that stands out toward the front, as that of a strong plus on a flat front, wants a steeper front. A base
/// curve is named only where it is enough.
fn mends(side: Side, supply: Supply, rx: &Power, base_helps: bool) -> String {
    let base = match (side, supply) {
        (_, Supply::Stock) => "a lens surfaced on another base curve",
        (Side::Back, Supply::Surfaced) if rx.spherical_equivalent() > 0.0 => "a steeper base curve",
        (Side::Front | Side::Back, Supply::Surfaced) => "a flatter base curve",
    };
    let index = (side == Side::Back && supply == Supply::Surfaced).then_some("a higher index");
    let mends: Vec<&str> = base_helps.then_some(base).into_iter().chain(index).collect();
    if mends.is_empty() {
        "a smaller eye size, if its bridge fits your nose,".to_owned()
    } else {
        format!("{} or, if its bridge fits your nose, a smaller eye size", mends.join(", "))
    }
}

fn no_blank(wanted_mm: f64, largest_mm: f64, supply: Supply) -> String {
    let wanted = mm(wanted_mm);
    let largest = with_unit(largest_mm, 0, "mm");
    match supply {
        Supply::Surfaced => format!(
            "even with the reference point off its middle a blank of {wanted} is wanted and the largest is {largest}; \
             another material or, if its bridge fits your nose, a smaller eye size would help."
        ),
        Supply::Stock => format!(
            "a ready-made lens of {wanted} is wanted and the largest is {largest}; surfaced, or in a smaller eye size, \
             if its bridge fits your nose, it may be made."
        ),
    }
}

fn without_axis(sphere_d: f64, cylinder_d: f64) -> String {
    let written = power(&Power::new(sphere_d, cylinder_d, 180.0));
    written.split(" × ").next().unwrap_or_default().to_owned()
}

fn demanded(demand: SetBy) -> &'static str {
    match demand {
        SetBy::Centre => "the centre",
        SetBy::LowestPoint => "the thinnest place",
        SetBy::Edge => "the thinnest edge",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choose::Substance;
    use crate::light::ReferenceLine;
    use crate::material::Glass;

    fn option(supply: Supply) -> LensOption {
        LensOption {
            name: "thin".into(),
            substance: Substance::Inline(Glass::new(1.6, 41.0, 1.3, ReferenceLine::D)),
            base_curve_d: None,
            min_centre_mm: Some(1.2),
            min_edge_mm: Some(1.0),
            supply,
            price: None,
            tool_step_d: 0.125,
            worn: false,
        }
    }

    #[test]
    fn every_reason_is_one_sentence_with_a_mend() {
        let rx = Power::spherical(-20.0);
        let all = [
            Impossible::TooShort { side: Side::Back, reach_mm: 21.34, wanted_mm: 24.87, base_helps: true },
            Impossible::TooShort { side: Side::Front, reach_mm: 24.96, wanted_mm: 25.01, base_helps: true },
            Impossible::FocusInside { centre_mm: 31.0 },
            Impossible::Unsettled,
            Impossible::NoBlank { wanted_mm: 81.23, largest_mm: 75.0, supply: Supply::Surfaced },
            Impossible::NoBlank { wanted_mm: 71.23, largest_mm: 70.0, supply: Supply::Stock },
            Impossible::NoStockPower { sphere_d: -1.0, cylinder_d: -4.5 },
            Impossible::BlankTooThin { base_curve_d: 8.0, at_edge: false, blank_mm: 13.0, wanted_mm: 13.42 },
            Impossible::BlankEnds { base_curve_d: 10.0 },
            Impossible::StockPrism { amount_pd: 1.5 },
            Impossible::StockTooThin { demand: SetBy::Edge, found_mm: 0.96, wanted_mm: 1.0 },
        ];
        for why in all {
            let text = impossible(&why, &option(Supply::Surfaced), &rx);
            assert!(text.ends_with('.') && text.matches(". ").count() == 0, "{text}");
            assert!(text.contains("would help") || text.contains("may ") || text.contains("can be made"), "{text}");
        }
        assert_eq!(
            impossible(&all[0], &option(Supply::Surfaced), &rx),
            "the back surface reaches only 21.3\u{202f}mm from the reference point and 24.9\u{202f}mm are wanted; \
             a flatter base curve, a higher index or, if its bridge fits your nose, a smaller eye size would help."
        );
        assert!(impossible(&all[1], &option(Supply::Stock), &rx).contains("25.01\u{202f}mm are wanted"));
        assert!(impossible(&all[6], &option(Supply::Stock), &rx).contains("covers −1.00 −4.50;"));
        assert!(impossible(&all[10], &option(Supply::Stock), &rx).contains("has 0.96\u{202f}mm where 1.00"));
    }
}
