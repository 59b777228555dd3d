//! Why one option is thinner and lighter than another, in sentences; and how the two differ, cause by cause.
//!
//! Shares are worked from the unrounded figures and shown to 0.1 mm and 0.1 g, so that they add up to what a reader finds who
//! subtracts the two figures on show.

use super::super::number::{difference, figure, grams, mm, power, size};
use super::list;
use crate::assess::{Fit, Made};
use crate::choose::Supply;
use crate::eye::{Eye, Eyes};
use crate::job::NOW;
use crate::material::Glass;
use crate::rx::EyeRx;
use crate::study::compare::Lead;
use crate::study::mixture::Cause;
use crate::study::why::{Share, Shared, SharedOut, Unshared, Why};

/// Less than this is shown as none, mm and g.
const SHOWN: f64 = 0.05;
/// No more causes are named in a sentence.
const MOST_NAMED: usize = 3;
/// A cause with less than this share of the largest is not named.
const LEAST_NAMED: f64 = 0.1;

/// How shares come about.
pub const METHOD: &str = "Each share is what its cause changes, averaged over every order in which the causes could come \
                          one after another (the Shapley value), so no order is preferred and they add up. They are worked \
                          from unrounded figures and rounded so that they still add up.";

/// What a share of supply holds where index, base and minima move with it.
pub const SUPPLY: &str = "Supply: made to order or ready-made, with the index, the base curve and the least thicknesses \
                          that come with it.";

/// "Yarrow 46 with “thin”", or the spectacles worn now.
#[must_use]
pub fn option_of(fit: &Fit<'_>) -> String {
    if is_now(fit) { "the spectacles worn now".to_owned() } else { super::fit(fit) }
}

/// FRAME/SIZE/LENS, or `now`.
#[must_use]
pub fn address(fit: &Fit<'_>) -> String {
    if is_now(fit) { NOW.to_owned() } else { fit.address() }
}

pub(super) fn is_now(fit: &Fit<'_>) -> bool {
    fit.mounting.frame.name == NOW
}

/// A cause, as it heads a row.
#[must_use]
pub fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Prescription => "Prescription",
        Cause::Position => "Pupils (pd, height)",
        Cause::EyeSize => "Eye size",
        Cause::Depth => "Depth",
        Cause::Bridge => "Bridge",
        Cause::Shape => "Shape",
        Cause::Rim => "Rim",
        Cause::Index => "Index",
        Cause::Density => "Density",
        Cause::MinCentre => "Least centre",
        Cause::MinEdge => "Least edge",
        Cause::Base => "Base curve",
        Cause::Supply => "Supply",
    }
}

/// The same within a sentence.
fn named(cause: Cause) -> &'static str {
    match cause {
        Cause::Prescription => "the prescription",
        Cause::Position => "the place of the pupils",
        Cause::EyeSize => "the eye size",
        Cause::Depth => "the depth",
        Cause::Bridge => "the bridge",
        Cause::Shape => "the shape",
        Cause::Rim => "the rim",
        Cause::Index => "the index",
        Cause::Density => "the density",
        Cause::MinCentre => "the least centre",
        Cause::MinEdge => "the least edge",
        Cause::Base => "the base curve",
        Cause::Supply => "the supply",
    }
}

/// The same where it is said what it does from one option to the other.
pub(super) fn acting(cause: Cause, why: &Why<'_, '_>) -> &'static str {
    match (cause, why.from.option.supply, why.to.option.supply) {
        (Cause::Supply, Supply::Stock, Supply::Surfaced) => "making it to order",
        (Cause::Supply, Supply::Surfaced, Supply::Stock) => "taking it ready-made",
        (Cause::Supply, Supply::Stock, Supply::Stock) => "the other ready-made lens",
        (cause, ..) => named(cause),
    }
}

/// What a shared figure is, within a sentence.
#[must_use]
pub fn shared(figure: Shared) -> &'static str {
    match figure {
        Shared::EdgeMax => "the thickest edge",
        Shared::Centre => "the centre",
        Shared::Mass => "the mass of the pair",
    }
}

fn with_unit(figure: Shared, value: f64) -> String {
    match figure {
        Shared::EdgeMax | Shared::Centre => mm(value),
        Shared::Mass => grams(value),
    }
}

/// What a pair is led by: the thickest edge of a minus pair, the centre of a plus pair.
#[must_use]
pub fn leading(why: &Why<'_, '_>) -> Shared {
    match Lead::for_pair(why.to.prescription) {
        Lead::Edge => Shared::EdgeMax,
        Lead::Centre => Shared::Centre,
    }
}

/// The answer: why the leading thickness differs, with the largest causes; then the mass.
#[must_use]
pub fn answer(why: &Why<'_, '_>) -> Vec<String> {
    let (from, to) = (option_of(why.from), option_of(why.to));
    if why.causes.is_empty() {
        return vec![format!("From {from} to {to} nothing differs that sets thickness or mass.")];
    }
    let lead = &why.figures[leading(why) as usize];
    let thickness = match lead.shares {
        Ok(_) => lead,
        Err(_) => &why.figures[Shared::EdgeMax as usize],
    };
    let mass = &why.figures[Shared::Mass as usize];
    let mut sentences = Vec::new();
    sentences.extend(told(thickness, why).map(|told| format!("From {from} to {to} {told}")));
    sentences.extend(told(mass, why).map(|told| super::capital(&told)));
    sentences
}

/// "the thickest edge goes from 11.0 mm to 4.6 mm: the eye size takes 2.9 mm off it …".
fn told(shared_out: &SharedOut, why: &Why<'_, '_>) -> Option<String> {
    let (from, to) = (shared_out.from?, shared_out.to?);
    shared_out.shares.as_ref().ok()?;
    let what = shared(shared_out.figure);
    let unit = |value: f64| with_unit(shared_out.figure, value);
    let causes = largest(shared_out.figure, &shown(shared_out), why);
    let head = if difference(to, from, 1).abs() < SHOWN {
        format!("{what} stays at {}", unit(to))
    } else {
        format!("{what} goes from {} to {}", unit(from), unit(to))
    };
    Some(if causes.is_empty() { format!("{head}.") } else { format!("{head}: {}.", causes.join("; ")) })
}

/// The largest causes: a clause for those that take off, one for those that add.
fn largest(figure: Shared, shares: &[Share], why: &Why<'_, '_>) -> Vec<String> {
    let mut shares: Vec<&Share> = shares.iter().collect();
    shares.sort_by(|a, b| b.share.abs().total_cmp(&a.share.abs()));
    let most = shares.first().map_or(0.0, |share| share.share.abs());
    let told: Vec<&Share> = shares
        .into_iter()
        .take(MOST_NAMED)
        .filter(|share| share.share.abs() >= SHOWN.max(LEAST_NAMED * most))
        .collect();
    let clause = |sign: f64, verb: &str, ending: &str| {
        let same_way = told.iter().filter(|share| share.share.signum() == sign);
        let parts: Vec<String> = same_way
            .enumerate()
            .map(|(i, Share { cause, share })| {
                let amount = with_unit(figure, share.abs());
                let (verb, ending) = if i == 0 { (verb, ending) } else { ("", "") };
                format!("{}{verb} {amount}{ending}", acting(*cause, why))
            })
            .collect();
        (!parts.is_empty()).then(|| list(&parts))
    };
    let mut clauses = [clause(-1.0, " takes", " off it"), clause(1.0, " adds", "")];
    // The largest is said first.
    if told.first().is_some_and(|share| share.share > 0.0) {
        clauses.reverse();
    }
    clauses.into_iter().flatten().collect()
}

/// Why nothing can be shared out: one sentence.
#[must_use]
pub fn unshared(unshared: &Unshared<'_, '_>, from: &Fit<'_>, to: &Fit<'_>) -> String {
    match unshared {
        Unshared::Option { fit, why } => {
            format!("{} cannot be made. {}", super::capital(&option_of(fit)), super::pair_impossible(why, fit))
        }
        Unshared::Mixture { causes, powered, supplied, why } => {
            let power = &powered.prescription.eyes.of(why.eye).power;
            format!(
                "{} cannot be made, so that nothing can be shared out. {}: {}",
                super::capital(&mixture(causes, from, to)),
                super::eye(why.eye),
                super::impossible(&why.why, supplied.option, power)
            )
        }
    }
}

/// "the mixture of Yarrow 46 with “thin” with the eye size and index of the spectacles worn now".
fn mixture(causes: &[Cause], from: &Fit<'_>, to: &Fit<'_>) -> String {
    let names: Vec<String> = causes.iter().map(|cause| named(*cause).to_owned()).collect();
    format!("the mixture of {} with {} of {}", option_of(from), list(&names), option_of(to))
}

/// Why a figure is not shared out: a sentence, `None` where it is.
#[must_use]
pub fn no_figure(shared_out: &SharedOut, why: &Why<'_, '_>) -> Option<String> {
    let causes = shared_out.shares.as_ref().err()?;
    let place = match (causes.is_empty(), *causes == why.causes) {
        (true, _) => option_of(why.from),
        (_, true) => option_of(why.to),
        _ => mixture(causes, why.from, why.to),
    };
    Some(format!(
        "There is no centre to share out: in {place} a reference point lies outside its shape, so that the lens has no \
         centre."
    ))
}

/// What a cause is in both options: "55 → 46".
#[must_use]
pub fn values(cause: Cause, why: &Why<'_, '_>) -> String {
    let (from, to) = (why.from, why.to);
    let boxing = |fit: &Fit<'_>| fit.mounting.boxing;
    let frame = |of: fn(&Fit<'_>) -> &'static str| format!("{} → {}", of(from), of(to));
    match cause {
        Cause::Prescription => prescriptions(from, to),
        Cause::Position => position(from, to),
        Cause::EyeSize => arrow(boxing(from).eye_size_mm, boxing(to).eye_size_mm, size),
        Cause::Depth => arrow(boxing(from).depth_mm, boxing(to).depth_mm, |value| figure(value, 1)),
        Cause::Bridge => arrow(boxing(from).bridge_mm, boxing(to).bridge_mm, size),
        Cause::Shape => frame(|fit| fit.mounting.frame.shape.word()),
        Cause::Rim => frame(|fit| fit.mounting.frame.rim.word()),
        Cause::Index => glass(from, to, 3, |glass| glass.index),
        Cause::Density => glass(from, to, 2, |glass| glass.density),
        Cause::MinCentre => made(from, to, |made| made.minima.kept.centre_mm, 1),
        Cause::MinEdge => made(from, to, |made| made.minima.kept.edge_mm, 1),
        Cause::Base => made(from, to, |made| made.base.base_curve_d, 2),
        Cause::Supply => format!("{} → {}", supplied(from), supplied(to)),
    }
}

/// "ready-made 1.498": the index comes with the supply.
fn supplied(fit: &Fit<'_>) -> String {
    let glass = fit.option.substance.glass(fit.prescription.reference_line);
    format!("{} {}", super::supply(fit.option.supply), figure(glass.index, 3))
}

fn arrow(from: f64, to: f64, shown: impl Fn(f64) -> String) -> String {
    format!("{} → {}", shown(from), shown(to))
}

/// One arrow where both eyes are alike, else one for each eye that differs.
fn each_eye(from: Eyes<f64>, to: Eyes<f64>, shown: impl Fn(f64) -> String) -> String {
    if from.right == from.left && to.right == to.left {
        return arrow(from.right, to.right, shown);
    }
    let differing = Eye::BOTH.into_iter().filter(|eye| from.of(*eye) != to.of(*eye));
    let parts: Vec<String> =
        differing.map(|eye| format!("{} {}", eye.letter(), arrow(*from.of(eye), *to.of(eye), &shown))).collect();
    parts.join(", ")
}

fn made(from: &Fit<'_>, to: &Fit<'_>, of: fn(&Made) -> f64, decimals: usize) -> String {
    let of = |fit: &Fit<'_>| fit.pair().map(|pair| pair.eyes.map(of));
    match (of(from), of(to)) {
        (Some(from), Some(to)) => each_eye(from, to, |value| figure(value, decimals)),
        _ => String::new(),
    }
}

fn glass(from: &Fit<'_>, to: &Fit<'_>, decimals: usize, of: fn(&Glass) -> f64) -> String {
    let of = |fit: &Fit<'_>| of(&fit.option.substance.glass(fit.prescription.reference_line));
    arrow(of(from), of(to), |value| figure(value, decimals))
}

fn position(from: &Fit<'_>, to: &Fit<'_>) -> String {
    let pd = |fit: &Fit<'_>| fit.prescription.eyes.map(|rx| rx.pd_mm);
    let up = |fit: &Fit<'_>| fit.mounting.frame.centre_up_mm.clone();
    let part = |name: &str, from: Eyes<f64>, to: Eyes<f64>| {
        (from != to).then(|| format!("{name} {}", each_eye(from, to, |value| figure(value, 1))))
    };
    let parts: Vec<String> =
        [part("pd", pd(from), pd(to)), part("up", up(from), up(to))].into_iter().flatten().collect();
    parts.join("; ")
}

/// The spherical equivalents where they differ; else that cylinder or prism do.
fn prescriptions(from: &Fit<'_>, to: &Fit<'_>) -> String {
    let equivalent = |fit: &Fit<'_>| fit.prescription.eyes.map(|rx: &EyeRx| rx.power.spherical_equivalent());
    let (before, after) = (equivalent(from), equivalent(to));
    if before == after { "cylinder or prism".to_owned() } else { format!("SE {}", each_eye(before, after, power)) }
}

/// The share of a cause in a figure as shown, where it could be shared out.
#[must_use]
pub fn share_of(column: &SharedOut, cause: Cause) -> Option<f64> {
    shown(column).iter().find(|share| share.cause == cause).map(|share| share.share)
}

/// The shares of a figure as shown; none where it could not be shared out.
fn shown(column: &SharedOut) -> Vec<Share> {
    match (&column.shares, column.from, column.to) {
        (Ok(shares), Some(from), Some(to)) => rounded(shares, from, to),
        _ => Vec::new(),
    }
}

/// All shares together as shown: the second figure less the first.
#[must_use]
pub fn together(column: &SharedOut) -> Option<f64> {
    Some(difference(column.to?, column.from?, 1))
}

/// Shares in whole tenths that add up to the difference of the two figures in tenths: rounded down, and those with the
/// largest rests one up (the method of largest remainders). None is a tenth or more off.
fn rounded(shares: &[Share], from: f64, to: f64) -> Vec<Share> {
    const TENTHS: f64 = 10.0;
    let mut order: Vec<usize> = (0..shares.len()).collect();
    let tenths = |i: &usize| TENTHS * shares[*i].share;
    let rest = |i: &usize| tenths(i) - tenths(i).floor();
    order.sort_by(|a, b| rest(b).total_cmp(&rest(a)));
    let down: f64 = shares.iter().map(|share| (TENTHS * share.share).floor()).sum();
    let missing = (TENTHS * difference(to, from, 1)).round() - down;
    let up = |i: usize| order.iter().position(|other| *other == i).is_some_and(|place| (place as f64) < missing);
    let one = |(i, share): (usize, &Share)| {
        let whole = (TENTHS * share.share).floor() + if up(i) { 1.0 } else { 0.0 };
        Share { cause: share.cause, share: whole / TENTHS }
    };
    shares.iter().enumerate().map(one).collect()
}

/// The causes, the largest share first; of equal ones in the order of the list.
#[must_use]
pub fn causes_by_share(why: &Why<'_, '_>, by: &SharedOut) -> Vec<Cause> {
    let mut causes = why.causes.clone();
    let shares = by.shares.as_deref().unwrap_or_default();
    let size = |cause: &Cause| shares.iter().find(|one| one.cause == *cause).map_or(0.0, |one| one.share.abs());
    causes.sort_by(|a, b| size(b).total_cmp(&size(a)));
    causes
}

/// How far a bar of this share reaches, as a share of the longest in its figure: none where it is shown as 0.0.
#[must_use]
pub fn bar_length(column: &SharedOut, share: f64) -> f64 {
    let longest = shown(column).iter().map(|share| share.share.abs()).fold(0.0, f64::max);
    if share.abs() < SHOWN { 0.0 } else { share.abs() / longest }
}

/// "+0.5" or "−2.9"; nothing is added or taken off by "0.0".
#[must_use]
pub fn signed(value: f64) -> String {
    let text = figure(value, 1);
    if value > 0.0 && text != figure(0.0, 1) { format!("+{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_add_up_to_the_difference_on_show() {
        let causes = [Cause::EyeSize, Cause::Depth, Cause::Index];
        let check = |shares: [f64; 3], from: f64| {
            let to = from + shares.iter().sum::<f64>();
            let shares: Vec<Share> =
                causes.iter().zip(shares).map(|(cause, share)| Share { cause: *cause, share }).collect();
            let shown = rounded(&shares, from, to);
            let sum: f64 = shown.iter().map(|share| share.share).sum();
            assert_eq!(figure(sum, 1), figure(difference(to, from, 1), 1), "{shares:?} from {from}");
            for (shown, raw) in shown.iter().zip(&shares) {
                assert!((shown.share - raw.share).abs() < 0.1, "{shown:?} {raw:?}");
                assert!(raw.share != 0.0 || shown.share == 0.0, "nothing is shown as nothing: {shown:?}");
            }
        };
        for from in [7.45, 7.449, 3.05, 12.2, 0.0] {
            for shares in [[-1.74, 0.0, 0.0], [-1.74, -1.3, 0.04], [0.05, 0.05, 0.05], [0.34, -0.33, 0.0], [0.0; 3]] {
                check(shares, from);
            }
        }
    }

    #[test]
    fn signs_are_said() {
        assert_eq!((signed(0.04), signed(0.06), signed(-0.06)), ("0.0".into(), "+0.1".into(), "−0.1".into()));
    }
}
