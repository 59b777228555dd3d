//! The other way round, in sentences: what still stays within a wish for the thickest edge, and what does not.
//!
//! A value on show is rounded to the side that stays within the wish.

use super::super::number::{self, THIN, figure, mm, size};
use super::{eye, list, option, power};
use crate::choose::Supply;
use crate::eye::{Eye, Eyes};
use crate::frame::Frame;
use crate::job::Addressed;
use crate::rx::Power;
use crate::study::largest::{AtSmallest, Beyond, EyeSize, NoSize};
use crate::study::limit::{InMaterial, Limit};
use crate::study::tip::Tip;

/// Numbers nearer than this to one that is shown are that one.
const SAME: f64 = 1e-6;

fn down(value: f64, decimals: i32) -> f64 {
    let scale = 10f64.powi(decimals);
    ((value + SAME) * scale).floor() / scale
}

fn up(value: f64, decimals: i32) -> f64 {
    -down(-value, decimals)
}

/// "right eye".
fn in_eye(of: Eye) -> &'static str {
    match of {
        Eye::Right => "right eye",
        Eye::Left => "left eye",
    }
}

fn both(edges_mm: &Eyes<f64>) -> String {
    format!("{} right and {} left", mm(edges_mm.right), mm(edges_mm.left))
}

/// A wish with as many decimals as it has, one at the least: "4.47 mm".
#[must_use]
pub fn wish(wish_mm: f64) -> String {
    format!("{}{THIN}mm", wish_figure(wish_mm))
}

/// The same without its unit.
#[must_use]
pub fn wish_figure(wish_mm: f64) -> String {
    let [short, full] = [figure(wish_mm, 1), size(wish_mm)];
    if full.len() > short.len() { full } else { short }
}

/// Of what it is said how sure it is: "Yarrow 46.6".
#[must_use]
pub fn sure_of(limit: &Limit<'_>) -> String {
    let eye_size_mm = match limit.eye_size {
        EyeSize::UpTo { eye_size_mm, .. } => down(eye_size_mm, 1),
        EyeSize::Every { .. } | EyeSize::No { .. } => limit.at.boxing.eye_size_mm,
    };
    format!("{} {}", limit.at.frame.name, size(eye_size_mm))
}

/// The largest eye size on show, "46.6", or from where to where: "35.0–48.5".
#[must_use]
pub fn largest_size(of: &EyeSize) -> Option<String> {
    match (of, of.kept_mm()) {
        (EyeSize::UpTo { eye_size_mm, .. }, _) => Some(figure(down(*eye_size_mm, 1), 1)),
        (EyeSize::Every { eye_size_mm, .. }, _) => Some(figure(*eye_size_mm, 1)),
        (EyeSize::No { .. }, Some([from, to])) => {
            Some(format!("{}–{}", figure(up(from, 1), 1), figure(down(to, 1), 1)))
        }
        (EyeSize::No { .. }, None) => None,
    }
}

/// The answer: the largest eye size, and which of the sizes on offer stay within the wish.
#[must_use]
pub fn answer(limit: &Limit<'_>) -> String {
    let (frame, with) = (&limit.at.frame.name, option(limit.at.option));
    let wish = format!("{} at the thickest edge", wish(limit.wish_mm));
    let head = format!("With {with} {frame} stays within {wish}");
    match &limit.eye_size {
        EyeSize::UpTo { eye_size_mm, edges_mm, .. } => {
            let up_to = size(down(*eye_size_mm, 1));
            let beyond = beyond(&limit.at, &limit.eye_size).map(|beyond| format!(" {beyond}")).unwrap_or_default();
            let offered = offered(limit.at.frame, f64::NEG_INFINITY, *eye_size_mm);
            format!("{head} up to eye size {up_to}: there it is {}.{beyond} {offered}", both(edges_mm))
        }
        EyeSize::Every { eye_size_mm, edges_mm } => {
            format!("{head} at every eye size up to {}: there it is {}.", size(*eye_size_mm), both(edges_mm))
        }
        EyeSize::No { .. } => match limit.eye_size.kept_mm() {
            Some([from, to]) => {
                let reason = reason(limit).unwrap_or_default();
                format!("{head} only {} {}", super::uncapital(&reason), offered(limit.at.frame, from, to))
            }
            None => {
                let reason = reason(limit).unwrap_or_default();
                format!("With {with} no eye size of {frame} stays within {wish}. {reason}")
            }
        },
    }
}

/// Why the largest eye size is what it is, where it is not simply the one at which the wish is reached; and where none is
/// within the wish, what would be.
#[must_use]
pub fn reason(limit: &Limit<'_>) -> Option<String> {
    let reason = size_reason(&limit.at, &limit.eye_size)?;
    Some(match super::mends(limit) {
        Some(mends) => format!("{reason} {mends}"),
        None => reason,
    })
}

/// Why a largest eye size is what it is.
#[must_use]
pub fn size_reason(at: &Addressed<'_>, of: &EyeSize) -> Option<String> {
    match of {
        EyeSize::UpTo { .. } => beyond(at, of),
        EyeSize::Every { eye_size_mm, edges_mm } => {
            Some(format!("Every eye size does: even at {} the thickest edge is {}.", mm(*eye_size_mm), both(edges_mm)))
        }
        EyeSize::No { eye_size_mm, at_smallest: Err(why) } => {
            let impossible = super::impossible(&why.why, at.option, &power_of(at, why.eye));
            Some(format!("Even at {} it cannot be made. {}: {impossible}", mm(*eye_size_mm), eye(why.eye)))
        }
        EyeSize::No { eye_size_mm, at_smallest: Ok(smallest) } => Some(none(at, *eye_size_mm, smallest)),
    }
}

fn power_of(at: &Addressed<'_>, of: Eye) -> Power {
    at.prescription.eyes.of(of).power
}

fn beyond(at: &Addressed<'_>, of: &EyeSize) -> Option<String> {
    let EyeSize::UpTo { beyond, .. } = of else { return None };
    match beyond {
        Beyond::Wish => None,
        Beyond::Impossible(why) => {
            let impossible = super::impossible(&why.why, at.option, &power_of(at, why.eye));
            Some(format!("Beyond that it cannot be made. {}: {impossible}", eye(why.eye)))
        }
        Beyond::Larger => Some("Beyond that a larger ready-made lens is needed, and it is thicker.".to_owned()),
    }
}

fn none(at: &Addressed<'_>, smallest_mm: f64, found: &AtSmallest) -> String {
    let smallest = format!("eye size {}, the smallest that is looked at,", size(smallest_mm));
    match &found.cause {
        NoSize::MinEdge { min_edge_mm } => {
            format!("The least edge of {} passes it by itself at every eye size.", mm(*min_edge_mm))
        }
        NoSize::Nasal { eye, nasal_mm } => format!(
            "Even at {smallest} the nasal edge of the {} alone is {}, and no eye size changes the nasal reach, \
             pd − bridge/2.",
            in_eye(*eye),
            mm(*nasal_mm),
        ),
        NoSize::Edge { eye, point } => {
            let thickness = mm(point.thickness_mm);
            let (whose, side) = (in_eye(*eye), super::edge_side(*eye, point));
            match found.kept_mm {
                Some([from, to]) => format!(
                    "From eye size {} to {}, not below: at {smallest} the {whose} has {thickness}, {side}, as {}.",
                    size(up(from, 1)),
                    size(down(to, 1)),
                    thicker_when_smaller(at)
                ),
                None => format!("Even at {smallest} the thickest edge of the {whose} is {thickness}, {side}."),
            }
        }
    }
}

fn thicker_when_smaller(at: &Addressed<'_>) -> &'static str {
    if at.option.supply == Supply::Stock && at.prescription.is_plus() {
        "a ready-made plus lens that is cut smaller is cut nearer to its thick middle"
    } else {
        "a smaller lens is not always the thinner one at the edge"
    }
}

/// "Of the sizes it comes in, 46 stays within it; 48 and 50 do not."
fn offered(frame: &Frame, from_mm: f64, to_mm: f64) -> String {
    let mut sizes: Vec<f64> = frame.sizes.iter().map(|boxing| boxing.eye_size_mm).collect();
    sizes.sort_by(f64::total_cmp);
    let names = |sizes: Vec<f64>| sizes.into_iter().map(size).collect::<Vec<String>>();
    let (within, beyond): (Vec<f64>, Vec<f64>) = sizes.into_iter().partition(|size| (from_mm..=to_mm).contains(size));
    let (within, beyond) = (names(within), names(beyond));
    let verb = |count: usize, one: &'static str, many: &'static str| if count == 1 { one } else { many };
    match (within.as_slice(), beyond.as_slice()) {
        ([only], []) => format!("The size it comes in, {only}, stays within it."),
        ([], [only]) => format!("The size it comes in, {only}, does not."),
        (within, []) => format!("All the sizes it comes in, {}, stay within it.", list(within)),
        ([], beyond) => format!("None of the sizes it comes in, {}, does.", list(beyond)),
        (within, beyond) => format!(
            "Of the sizes it comes in, {} {} within it; {} {} not.",
            list(within),
            verb(within.len(), "stays", "stay"),
            list(beyond),
            verb(beyond.len(), "does", "do")
        ),
    }
}

/// "5.2 mm" or "it cannot be made".
fn edge(edge_mm: Option<f64>) -> String {
    edge_mm.map_or("it cannot be made".to_owned(), |value| format!("the thickest edge is {}", mm(value)))
}

fn ready_made() -> String {
    "A ready-made lens comes as it is listed, so there is nothing to vary.".to_owned()
}

/// The strongest sphere on show: "−8.61".
#[must_use]
pub fn strongest_sphere(limit: &Limit<'_>) -> Option<String> {
    // Toward a spherical equivalent of none.
    let plus = power_of(&limit.at, limit.eye).spherical_equivalent() > 0.0;
    limit.sphere.value().map(|value| number::power(if plus { down(value, 2) } else { up(value, 2) }))
}

/// The strongest sphere, or why there is none: a sentence.
#[must_use]
pub fn sphere(limit: &Limit<'_>) -> String {
    let (at, whose) = (size(limit.at.boxing.eye_size_mm), in_eye(limit.eye));
    let prescribed = power_of(&limit.at, limit.eye);
    match (&limit.sphere, strongest_sphere(limit)) {
        (Tip::Not(ends), _) => {
            let ends: Vec<String> = ends
                .iter()
                .map(|end| {
                    let beside = Power::new(end.value, prescribed.cylinder(), prescribed.axis());
                    format!("at {} {}", power(&beside), edge(end.edge_mm))
                })
                .collect();
            let head = if limit.is_kept() { "Every sphere stays" } else { "No weaker sphere stays" };
            format!("{head} within it in the {whose} at eye size {at}: {}.", list(&ends))
        }
        (_, Some(strongest)) => format!(
            "{strongest} in the {whose} at eye size {at}, where {} is prescribed, with the same cylinder and base curve.",
            number::power(prescribed.sphere())
        ),
        (Tip::ReadyMade | Tip::At(_), None) => ready_made(),
    }
}

/// The least index on show: "1.583".
#[must_use]
pub fn lowest_index(limit: &Limit<'_>) -> Option<String> {
    limit.index.value().map(|value| figure(up(value, 3), 3))
}

/// The least index, or why there is none: a sentence.
#[must_use]
pub fn index(limit: &Limit<'_>) -> String {
    let at = size(limit.at.boxing.eye_size_mm);
    let glass = limit.at.option.substance.glass(limit.at.prescription.reference_line);
    match (&limit.index, lowest_index(limit)) {
        (Tip::Not(ends), _) => {
            let kept = |edge_mm: Option<f64>| edge_mm.is_some_and(|edge_mm| edge_mm <= limit.wish_mm);
            let head = if ends.iter().all(|end| kept(end.edge_mm)) { "Every index stays" } else { "No index stays" };
            let ends: Vec<String> =
                ends.iter().map(|end| format!("at {} {}", figure(end.value, 2), edge(end.edge_mm))).collect();
            format!("{head} within it at eye size {at}: {}.", list(&ends))
        }
        (_, Some(least)) => format!(
            "{least} at eye size {at}, where the lens has {}, with the same base curve and least thicknesses.",
            figure(glass.index, 3)
        ),
        (Tip::ReadyMade | Tip::At(_), None) => ready_made(),
    }
}

/// The pd at which it tips, on show: "29.8".
#[must_use]
pub fn tipping_pd(limit: &Limit<'_>) -> Option<String> {
    let now_mm = limit.at.prescription.eyes.of(limit.eye).pd_mm;
    // Within the wish lies the side of the prescribed pd if that is within it, else the other.
    limit
        .pd
        .value()
        .map(|value| figure(if (value < now_mm) == limit.is_kept() { up(value, 1) } else { down(value, 1) }, 1))
}

/// The pd at which the wish begins to be passed or kept, or why there is none: a sentence.
#[must_use]
pub fn pd(limit: &Limit<'_>) -> String {
    let (at, whose) = (size(limit.at.boxing.eye_size_mm), in_eye(limit.eye));
    let now = mm(limit.at.prescription.eyes.of(limit.eye).pd_mm);
    match (&limit.pd, tipping_pd(limit)) {
        (Tip::Not(ends), _) => {
            let ends: Vec<String> =
                ends.iter().map(|end| format!("at {} {}", mm(end.value), edge(end.edge_mm))).collect();
            let head = if limit.is_kept() { "Every pd stays" } else { "No pd stays" };
            format!("{head} within it in the {whose} at eye size {at}: {}.", list(&ends))
        }
        (_, Some(tips)) => {
            let below = limit.pd.value().is_some_and(|value| value < limit.at.prescription.eyes.of(limit.eye).pd_mm);
            let told = match (limit.is_kept(), below) {
                (true, true) => format!("below {tips}\u{202f}mm the wish is no longer kept"),
                (true, false) => format!("above {tips}\u{202f}mm the wish is no longer kept"),
                (false, true) => format!("only at {tips}\u{202f}mm or less the wish is kept"),
                (false, false) => format!("only at {tips}\u{202f}mm or more the wish is kept"),
            };
            format!("{told} in the {whose} at eye size {at}; the pd is {now}.")
        }
        (Tip::ReadyMade | Tip::At(_), None) => ready_made(),
    }
}

/// What the table of several lens options holds.
#[must_use]
pub fn legend(limit: &Limit<'_>) -> String {
    let at = size(limit.at.boxing.eye_size_mm);
    format!(
        "Within {} at the thickest edge. Sphere and pd: of the eye with the thicker edge, at eye size {at}; index: of both \
         eyes, at eye size {at}, with the base curve and the least thicknesses of that lens.",
        wish(limit.wish_mm)
    )
}

/// "1.60 resin, “thin”" of the option itself, else the material alone.
#[must_use]
pub fn material(of: &InMaterial, asked: bool) -> String {
    let substance = super::substance(&of.option);
    if asked { format!("{substance}, {}", super::quoted(&of.option)) } else { substance }
}

/// What the table of materials holds.
#[must_use]
pub fn materials(limit: &Limit<'_>) -> String {
    format!(
        "In every material on the shelf, the rest as {} has it: the largest eye size within {} at the thickest edge, and \
         edge and mass at eye size {}. Whether a material suits the rim and the wearer is not judged here; compare does so.",
        super::quoted(limit.at.option),
        wish(limit.wish_mm),
        size(limit.at.boxing.eye_size_mm)
    )
}
