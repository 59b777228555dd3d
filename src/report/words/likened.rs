//! Thickness and mass likened to things that anyone has at hand and that a standard fixes: bank cards and sheets of paper.
//!
//! The numbers are those of the sentence beside; nothing is worked here but how many.

use super::super::number::{grams, mm};
use super::{choice, lead};
use crate::study::compare::{Comparison, Lead};

/// A bank card, ISO/IEC 7810: 0.76 mm.
const CARD_MM: f64 = 0.76;
/// A sheet of A4 (ISO 216, 210 mm × 297 mm) of the usual 80 g/m².
const SHEET_G: f64 = 0.210 * 0.297 * 80.0;

/// "about eight bank cards".
#[must_use]
pub(super) fn cards(thickness_mm: f64) -> String {
    many(thickness_mm / CARD_MM, "bank card", "bank cards")
}

/// "about three sheets of A4 paper".
#[must_use]
pub(super) fn sheets(mass_g: f64) -> String {
    many(mass_g / SHEET_G, "sheet of A4 paper", "sheets of A4 paper")
}

/// To a half below four, to one above.
fn many(count: f64, one: &str, more: &str) -> String {
    const WORDS: [&str; 13] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    let halves = if count < 4.0 { (2.0 * count).round() as usize } else { 2 * count.round() as usize };
    let whole = |n: usize| WORDS.get(n).map_or_else(|| n.to_string(), ToString::to_string);
    match (halves / 2, halves % 2) {
        (0, 0) => format!("less than half a {one}"),
        (0, _) => format!("about half a {one}"),
        (1, 0) => format!("about one {one}"),
        (1, _) => format!("about one and a half {more}"),
        (n, 0) => format!("about {} {more}", whole(n)),
        (n, _) => format!("about {} and a half {more}", whole(n)),
    }
}

/// The chosen option for whoever is to wear it: no term of the trade, and something to picture.
#[must_use]
pub fn likened(comparison: &Comparison<'_>) -> Option<String> {
    let (_, fit) = choice(comparison)?;
    let pair = fit.pair()?;
    let thickness = |value_mm: f64| format!("{} is as thick as {}", lead(comparison.lead), cards(value_mm));
    let thick = comparison.lead.of(pair).map(thickness);
    let mass = format!("both lenses together weigh as much as {}", sheets(pair.mass_g()));
    let head = thick.map_or(mass.clone(), |thick| format!("{thick}, and {mass}"));
    let now = comparison.fits.first().filter(|_| comparison.has_now).and_then(|fit| fit.pair());
    let now = now.and_then(|pair| Some((comparison.lead.of(pair)?, pair.mass_g())));
    let now = now.map_or(String::new(), |(value_mm, mass_g)| {
        format!(" For the spectacles worn now that is {} and {}.", cards(value_mm), sheets(mass_g))
    });
    let option = super::fit(fit);
    Some(format!("To picture {option}: {head}.{now} A bank card is 0.76\u{202f}mm thick; a sheet weighs 5\u{202f}g."))
}

/// "1.3 mm thinner, about one and a half bank cards".
#[must_use]
pub(super) fn thinner(of: Lead, less_mm: f64) -> String {
    let (place, word) = (lead(of), if less_mm < 0.0 { "thicker" } else { "thinner" });
    format!("{place} {} {word} ({})", mm(less_mm.abs()), cards(less_mm.abs()))
}

/// "3.7 g lighter".
#[must_use]
pub(super) fn lighter(less_g: f64) -> String {
    let word = if less_g < 0.0 { "heavier" } else { "lighter" };
    format!("the pair {} {word} ({})", grams(less_g.abs()), sheets(less_g.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_at_hand_are_counted_in_words() {
        assert_eq!(cards(6.1), "about eight bank cards");
        assert_eq!(cards(0.76), "about one bank card");
        assert_eq!(cards(1.1), "about one and a half bank cards");
        assert_eq!(cards(0.3), "about half a bank card");
        assert_eq!(cards(0.1), "less than half a bank card");
        assert_eq!(cards(11.0), "about 14 bank cards");
        // Sixteen A4 sheets are a square metre.
        assert_eq!(sheets(80.0), "about 16 sheets of A4 paper");
        assert_eq!(sheets(12.5), "about two and a half sheets of A4 paper");
    }
}
