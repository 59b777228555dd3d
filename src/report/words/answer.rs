//! The answer: one or two sentences with the numbers, before anything else.

use super::super::number::{difference, grams, mm};
use super::why;
use crate::assess::{Fit, Pair};
use crate::study::compare::{Comparison, EQUAL_G, EQUAL_MM, Lead};
use crate::study::lessons::Lesson;
use crate::study::mixture::Cause;
use crate::study::why::Why;

/// An option this much thicker than the thinnest is nearly as thin: what lessons call alike (ours, no source).
pub const NEARLY_MM: f64 = 0.5;
/// One that weighs less by this is much lighter, if it is also less by a fifth of its own mass (ours, no source).
pub const MUCH_G: f64 = 2.0;
/// See [`MUCH_G`].
const MUCH_SHARE: f64 = 0.2;

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
    let (balanced, light) = (balanced(comparison), lightest(comparison).filter(|_| !both));
    sentences.extend(balanced.and_then(|(other, fit)| nearly(comparison, other, fit)));
    if let Some((other, fit)) = light
        && Some(other) != balanced.map(|(other, _)| other)
    {
        sentences.extend(lightest_in_words(comparison, fit));
    }
    sentences.extend(present(comparison, pair, light.and_then(|(_, fit)| fit.pair())));
    Some(sentences)
}

fn leading(comparison: &Comparison<'_>, pair: &Pair) -> Option<String> {
    let value = mm(comparison.lead.of(pair)?);
    Some(match comparison.lead {
        Lead::Edge => format!("{value} at the thickest edge"),
        Lead::Centre => format!("{value} in the middle"),
    })
}

/// The lightest option that is nearly as thin as the chosen one, where that is much heavier: at most [`NEARLY_MM`] thicker,
/// and lighter by [`MUCH_G`] and a fifth of its own mass at the least.
fn balanced<'c, 'a>(comparison: &'c Comparison<'a>) -> Option<(usize, &'c Fit<'a>)> {
    let (_, chosen) = choice(comparison).filter(|(index, _)| comparison.is_thinnest(*index))?;
    let (most_mm, heavy_g) = (comparison.lead.of(chosen.pair()?)? + NEARLY_MM, chosen.pair()?.mass_g());
    let near = comparison.offered().filter(|(_, fit)| {
        fit.pair().and_then(|pair| comparison.lead.of(pair)).is_some_and(|lead_mm| lead_mm <= most_mm)
    });
    least(near, |pair| Some(pair.mass_g())).filter(|(_, fit)| {
        fit.pair().is_some_and(|pair| heavy_g - pair.mass_g() >= MUCH_G.max(MUCH_SHARE * pair.mass_g()))
    })
}

/// The options that the answer names, the chosen one first.
#[must_use]
pub fn named(comparison: &Comparison<'_>) -> Vec<usize> {
    let chosen = choice(comparison);
    let all = [chosen, balanced(comparison), lightest(comparison)];
    let mut named: Vec<usize> = Vec::new();
    for (index, _) in all.into_iter().flatten() {
        let told = named.is_empty() || !named.iter().any(|&one| one == index || comparison.is_lightest(one));
        if told {
            named.push(index);
        }
    }
    named
}

fn nearly(comparison: &Comparison<'_>, index: usize, fit: &Fit<'_>) -> Option<String> {
    let pair = fit.pair()?;
    let head = if comparison.is_lightest(index) { "Lightest" } else { "Much lighter" };
    let (name, lead) = (super::fit(fit), leading(comparison, pair)?);
    Some(format!("{head}, and nearly as thin, is {name}: {lead}, {} the pair.", grams(pair.mass_g())))
}

/// The spectacles worn now against the best, and against the lightest where that is another.
fn present(comparison: &Comparison<'_>, best: &Pair, lightest: Option<&Pair>) -> Option<String> {
    let now = comparison.fits.first().filter(|_| comparison.has_now)?.pair()?;
    let assumed = comparison.job.present.as_ref().is_some_and(|present| present.prescription.is_none());
    let have = if assumed { ", if they were made for this prescription, would have" } else { " have" };
    let heavier_g = difference(best.mass_g(), now.mass_g(), 1);
    let lighter = if heavier_g >= EQUAL_G { " (less than the thinnest)" } else { "" };
    let lead = leading(comparison, now)?;
    let text = format!("The spectacles worn now{have} {lead}, {} the pair{lighter}", grams(now.mass_g()));
    let become_ = |of: fn(&Pair) -> Option<f64>| {
        let (now, best) = (grams(of(now)?), grams(of(best)?));
        Some(match lightest.map(of) {
            Some(Some(light)) => {
                format!("{now} become {best} with the thinnest and {} with the lightest", grams(light))
            }
            _ => format!("{now} become {best}"),
        })
    };
    Some(match become_(|pair| pair.with_frame_g()) {
        Some(change) => format!("{text}; with the frame, {change}."),
        None => format!("{text}."),
    })
}

fn lightest<'c, 'a>(comparison: &'c Comparison<'a>) -> Option<(usize, &'c Fit<'a>)> {
    let light = comparison.offered().filter(|(index, _)| comparison.is_lightest(*index));
    least(light, |pair| comparison.lead.of(pair))
}

fn lightest_in_words(comparison: &Comparison<'_>, fit: &Fit<'_>) -> Option<String> {
    let pair = fit.pair()?;
    Some(format!("Lightest is {}: {} the pair, {}.", super::fit(fit), grams(pair.mass_g()), leading(comparison, pair)?))
}

/// "It is 6.6 mm thinner than the spectacles worn now: the smaller lens (eye size) takes off 3.6 mm and the thinner
/// material (index) 2.4 mm; the rest comes of other causes."; `None` where it is not visibly thinner.
#[must_use]
pub fn because(why: &Why<'_, '_>) -> Option<String> {
    let column = &why.figures[why::leading(why) as usize];
    let thinner = column.difference().map(|difference| -difference).filter(|mm| *mm >= EQUAL_MM)?;
    let takes = why::causes_by_share(why, column).into_iter().filter_map(|cause| {
        let taken = -why::share_of(column, cause)?;
        (taken >= EQUAL_MM).then_some((plainly(cause, why), taken))
    });
    let takes: Vec<(&str, f64)> = takes.take(2).collect();
    let ((first, most), others) = takes.split_first()?;
    let second = others.first().map_or(String::new(), |(name, taken)| format!(" and {name} {}", mm(*taken)));
    let left = thinner - takes.iter().map(|(_, taken)| taken).sum::<f64>();
    let rest = match left {
        left if left > ROUNDING_MM => "; the rest comes of other causes",
        left if left < -ROUNDING_MM => "; other causes add some of it again",
        _ => "",
    };
    let thickest = if why::is_now(why.from) { "" } else { "the thickest here, " };
    let head = format!("It is {} thinner than {thickest}{}", mm(thinner), why::option_of(why.from));
    Some(format!("{head}: {first} takes off {}{second}{rest}.", mm(*most)))
}

/// Less than this is nought at a tenth of a millimetre.
const ROUNDING_MM: f64 = 0.05;

/// A cause that makes a lens thinner, in the wearer's words and the trade's.
fn plainly(cause: Cause, why: &Why<'_, '_>) -> &'static str {
    match cause {
        Cause::EyeSize => "the smaller lens (eye size)",
        Cause::Index => "the thinner material (index)",
        Cause::Position => "where the eyes look through (centration)",
        other => why::acting(other, why),
    }
}
