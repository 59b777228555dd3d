//! The answer: one or two sentences with the numbers, before anything else.

use super::super::number::{grams, mm};
use crate::assess::{Fit, Pair};
use crate::study::compare::{Comparison, EQUAL_MM, Lead};
use crate::study::lessons::Lesson;

/// The answer to a comparison: sentences, the first of which says it. `lessons` are those of the same comparison.
#[must_use]
pub fn answer(comparison: &Comparison<'_>, lessons: &[Lesson<'_>]) -> Vec<String> {
    let alike = matches!(lessons, [Lesson::Alike { .. }]).then(|| alike(comparison)).flatten();
    alike.or_else(|| best(comparison)).unwrap_or_else(|| vec![none(comparison)])
}

/// The option that a comparison comes to: of those equally thin the lightest; the lightest of all where no reference
/// point lies inside its shape.
#[must_use]
pub fn choice<'c, 'a>(comparison: &'c Comparison<'a>) -> Option<(usize, &'c Fit<'a>)> {
    let thin = comparison.offered().filter(|(index, _)| comparison.is_thinnest(*index));
    least(thin, |pair| Some(pair.mass_g())).or_else(|| comparison.lightest())
}

/// "Worn now, 1.56 resin", "Yarrow 46 with “thin” (1.60 resin)".
#[must_use]
pub fn whose(comparison: &Comparison<'_>, index: usize) -> String {
    match comparison.fits.get(index) {
        Some(fit) if comparison.is_now(index) => format!("Worn now, {}", super::material(fit.option)),
        Some(fit) => format!("{} ({})", super::fit(fit), super::material(fit.option)),
        None => String::new(),
    }
}

fn least<'c, 'a: 'c>(
    fits: impl Iterator<Item = (usize, &'c Fit<'a>)>,
    of: impl Fn(&Pair) -> Option<f64>,
) -> Option<(usize, &'c Fit<'a>)> {
    fits.filter_map(|(index, fit)| Some((fit.pair().and_then(&of)?, index, fit)))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, index, fit)| (index, fit))
}

fn none(comparison: &Comparison<'_>) -> String {
    match comparison.offered().count() {
        1 => "The one option cannot be made; the notes say why, and what would help.".to_owned(),
        count => format!("None of the {count} options can be made; the notes say why, and what would help."),
    }
}

fn alike(comparison: &Comparison<'_>) -> Option<Vec<String>> {
    let of = |found: Option<(usize, &Fit<'_>)>| comparison.lead.of(found?.1.pair()?);
    let (low, high) = (of(comparison.thinnest())?, of(comparison.thickest())?);
    let (_, lightest) = comparison.lightest()?;
    let range = format!("{} is between {} and {}", super::lead(comparison.lead), mm(low), mm(high));
    let mass = grams(lightest.pair()?.mass_g());
    Some(vec![
        format!("All options look alike: {range}."),
        format!("The lightest is {}: {mass} the pair.", super::fit(lightest)),
    ])
}

fn best(comparison: &Comparison<'_>) -> Option<Vec<String>> {
    let (index, fit) = choice(comparison)?;
    let pair = fit.pair()?;
    let both = comparison.is_thinnest(index) && comparison.is_lightest(index);
    let within = match comparison.thinnest() {
        Some((thinnest, _)) if thinnest != index => format!(" (within {})", mm(EQUAL_MM)),
        _ => String::new(),
    };
    let head = match (both, comparison.is_thinnest(index)) {
        (true, _) => format!("Thinnest{within} and lightest"),
        (false, true) => format!("Thinnest{within}"),
        (false, false) => "Lightest".to_owned(),
    };
    let lead = leading(comparison, pair).map_or(String::new(), |lead| format!("{lead}, "));
    let mut sentences = vec![format!("{head} is {}: {lead}{} the pair.", super::fit(fit), grams(pair.mass_g()))];
    sentences.extend(present(comparison, pair));
    if !both {
        sentences.extend(lightest(comparison));
    }
    Some(sentences)
}

fn leading(comparison: &Comparison<'_>, pair: &Pair) -> Option<String> {
    let value = mm(comparison.lead.of(pair)?);
    Some(match comparison.lead {
        Lead::Edge => format!("{value} at the thickest edge"),
        Lead::Centre => format!("{value} in the middle"),
    })
}

fn present(comparison: &Comparison<'_>, best: &Pair) -> Option<String> {
    let now = comparison.fits.first().filter(|_| comparison.has_now)?.pair()?;
    let text = format!("The spectacles worn now have {}, {} the pair", leading(comparison, now)?, grams(now.mass_g()));
    Some(match (now.with_frame_g(), best.with_frame_g()) {
        (Some(now), Some(best)) => format!("{text}; with the frame, {} become {}.", grams(now), grams(best)),
        _ => format!("{text}."),
    })
}

fn lightest(comparison: &Comparison<'_>) -> Option<String> {
    let light = comparison.offered().filter(|(index, _)| comparison.is_lightest(*index));
    let (_, fit) = least(light, |pair| comparison.lead.of(pair))?;
    let pair = fit.pair()?;
    Some(format!("Lightest is {}: {} the pair, {}.", super::fit(fit), grams(pair.mass_g()), leading(comparison, pair)?))
}
