//! What is told of one diameter or one base curve more on the shelf: a row of CSV for each that some lens would take, and the
//! best in sentences.

use super::findings::grouped;
use super::holding::{left_out, percent};
use super::number::{base_curve, figure, plain, size};
use super::orders::text;
use crate::study::holding::{History, Wish};
use crate::study::one_more::{Addition, Weighed, What};

/// So many are told in words.
const BEST: usize = 3;
/// Days that savings are told for.
const YEAR_DAYS: f64 = 365.0;
/// A history shorter than this says little of a year (ours).
const SHORT_DAYS: u64 = 182;

/// The header.
pub const COLUMNS: [&str; 14] = [
    "material",
    "supply",
    "added",
    "base_curve_d",
    "diameters_mm",
    "centre_mm",
    "edge_mm",
    "taken",
    "swarf_saved_g",
    "swarf_saved_g_year",
    "hold_now",
    "hold_then",
    "gained",
    "lost",
];

/// What is added, and what comes of it.
#[must_use]
pub fn row(weighed: &Weighed<'_>, history: &History) -> [String; 14] {
    let Weighed { addition, effect, held: [now, then] } = weighed;
    let diameters: Vec<String> = addition.diameters_mm.iter().map(f64::to_string).collect();
    let thickness = |of: usize| addition.blank_mm.map(|blank| blank[of].to_string()).unwrap_or_default();
    let added = match addition.what {
        What::Diameter => "diameter",
        What::Base => "base",
    };
    [
        text(&addition.material.id),
        addition.supply.word().to_owned(),
        added.to_owned(),
        format!("{:.2}", addition.base_curve_d),
        diameters.join(" "),
        thickness(0),
        thickness(1),
        effect.taken.to_string(),
        millionths(effect.swarf_saved),
        format!("{:.1}", of_a_year(effect.swarf_saved, history)),
        now.to_string(),
        then.to_string(),
        effect.gained.to_string(),
        effect.lost.to_string(),
    ]
}

/// Millionths as a number with all its digits.
fn millionths(sum: i128) -> String {
    let sign = if sum < 0 { "-" } else { "" };
    let sum = sum.unsigned_abs();
    format!("{sign}{}.{:06}", sum / 1_000_000, sum % 1_000_000)
}

/// Millionths of a gram over the whole history, in grams a year.
fn of_a_year(millionths_g: i128, history: &History) -> f64 {
    // Nought has no sign.
    millionths_g as f64 / 1e6 * YEAR_DAYS / history.length_days().max(1) as f64 + 0.0
}

/// The best few, and what to think of it.
#[must_use]
pub fn sentences(history: &History, ranked: &[Weighed<'_>], wish: &Wish, refused: u64) -> Vec<String> {
    let mut said = vec![format!(
        "One more on the shelf, each tried alone on {} days of orders; blanks held last over {} weeks in {} of cases.",
        grouped(history.length_days()),
        wish.lead_weeks,
        percent(wish.service)
    )];
    let best: Vec<&Weighed<'_>> = ranked.iter().filter(|one| one.effect.swarf_saved > 0).take(BEST).collect();
    if best.is_empty() {
        said.push("None of them saves swarf.".to_owned());
    }
    said.extend(best.iter().map(|one| in_words(one, history)));
    let most = ranked.iter().reduce(|most, one| if one.effect.gained > most.effect.gained { one } else { most });
    if let Some(most) =
        most.filter(|one| one.effect.gained > 0 && !best.iter().any(|told| told.addition == one.addition))
    {
        said.push(format!("Best for what is refused now: {}", in_words(most, history)));
    }
    if !ranked.is_empty() {
        said.push(
            "What two of them save together is not the sum. Larger blanks and bases in between are supposed in the thickness \
             that the list suggests: ask the maker."
                .to_owned(),
        );
    }
    if history.length_days() < SHORT_DAYS {
        said.push(format!(
            "The orders cover only {} days: what a year would save is carried on from those, and no season shows.",
            history.length_days()
        ));
    }
    said.extend(left_out(history, refused));
    said
}

fn in_words(weighed: &Weighed<'_>, history: &History) -> String {
    let Weighed { addition, effect, held: [now, then] } = weighed;
    let lenses = if effect.taken == 1 { "lens" } else { "lenses" };
    let mut said = format!(
        "{}: taken by {} {lenses}; {}; {} blanks held in place of {}",
        name(addition),
        grouped(effect.taken),
        swarf(of_a_year(effect.swarf_saved, history)),
        grouped(*then),
        grouped(*now),
    );
    for (lenses, what) in [(effect.gained, "more could be made"), (effect.lost, "could no longer be made")] {
        if lenses > 0 {
            said.push_str(&format!("; {} {what}", grouped(lenses)));
        }
    }
    plain(&format!("{said}."))
}

/// Swarf saved in a year.
fn swarf(saved_g: f64) -> String {
    let (amount_g, less) = (saved_g.abs(), if saved_g < 0.0 { "more" } else { "less" });
    match amount_g {
        0.0 => "swarf as now".to_owned(),
        g if g < 1000.0 => format!("{} g {less} swarf a year", figure(g, if g < 10.0 { 1 } else { 0 })),
        g => format!("{} kg {less} swarf a year", figure(g / 1000.0, 1)),
    }
}

/// Of what it is one more.
fn name(addition: &Addition) -> String {
    let base = base_curve(addition.base_curve_d);
    let sizes: Vec<String> = addition.diameters_mm.iter().map(|mm| size(*mm)).collect();
    let (id, supply) = (&addition.material.id, addition.supply.word());
    match addition.what {
        What::Diameter => format!("{id} {supply}, base {base}, diameter {} mm", sizes.join(", ")),
        What::Base => format!("{id} {supply}, base {base} in {} mm", sizes.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn swarf_is_told_in_grams_and_kilograms() {
        assert_eq!((swarf(0.0), swarf(4.25)), ("swarf as now".to_owned(), "4.3 g less swarf a year".to_owned()));
        assert_eq!(swarf(389.2), "389 g less swarf a year");
        assert_eq!(swarf(-12_345.0), "12.3 kg more swarf a year");
    }

    #[test]
    fn savings_keep_all_their_digits() {
        assert_eq!(millionths(1_234_567), "1.234567");
        assert_eq!((millionths(-12), millionths(0)), ("-0.000012".to_owned(), "0.000000".to_owned()));
    }
}
