//! A sweep in sentences: what was found, what stays as it is, what cannot be made, and what cannot be varied.
//!
//! Units: behind every number.

use super::super::number::{self, THIN, figure, with_unit};
use super::{capital, caution, list, pair_impossible, severity, substance, uncapital};
use crate::choose::Supply;
use crate::eye::Eye;
use crate::study::sweep::{MOST_ROWS, MOST_VARIED, Row, Show, Sweep, Value, Vary, VaryFault, WHAT, What};
use std::mem::discriminant;

/// Bases nearer than this are one, D.
const SAME_D: f64 = 1e-9;

/// Two things are shown as a square where the second takes no more values than this.
const MOST_COLUMNS: usize = 12;

/// What runs down and what across, where a table of two things is a square: one for each figure.
#[must_use]
pub fn square<'a>(of: &'a Sweep<'_>) -> Option<[&'a Vary; 2]> {
    match &of.asked.vary[..] {
        [down, across] if across.values.len() <= MOST_COLUMNS => Some([down, across]),
        _ => None,
    }
}

/// A figure with its unit, as the head of a table.
#[must_use]
pub fn head(show: &Show) -> String {
    format!("{}, {}", capital(&shown(show)), show.unit().symbol())
}

/// A value as a job would have it, for people: a true minus sign, a power with its sign.
#[must_use]
pub fn value(what: &What, value: &Value) -> String {
    match value {
        Value::Number(number) => match what.word {
            "sphere" | "cylinder" if (number * 100.0).fract().abs() < 1e-9 => number::power(*number),
            _ => plain(*number),
        },
        Value::Material(material) => material.id.clone(),
        Value::Supply(supply) => supply.word().to_owned(),
    }
}

/// The same in a column: all with as many decimals as one of them needs.
#[must_use]
pub fn in_column(vary: &Vary, of: &Value) -> String {
    let text = |of: &Value| value(vary.what, of);
    let decimals = |of: &Value| text(of).split_once('.').map_or(0, |(_, decimals)| decimals.chars().count());
    match of {
        Value::Number(number) if !matches!(vary.what.word, "sphere" | "cylinder") => {
            figure(*number, vary.values.iter().map(decimals).max().unwrap_or(0))
        }
        other => text(other),
    }
}

/// As many decimals as it has.
fn plain(number: f64) -> String {
    format!("{number}").replace('-', "−")
}

/// "eye size 48 mm", "resin-1.67".
#[must_use]
pub fn at_value(what: &What, of: &Value) -> String {
    let text = value(what, of);
    match (of, what.key.unit) {
        (Value::Number(_), "") => format!("{} {text}", what.name),
        (Value::Number(_), "°") => format!("{} {text}°", what.name),
        (Value::Number(_), _) if text == "plano" => format!("{} {text}", what.name),
        (Value::Number(_), unit) => format!("{} {text}{THIN}{unit}", what.name),
        (Value::Material(_) | Value::Supply(_), _) => text,
    }
}

/// The values of a row.
#[must_use]
pub fn at_row(sweep: &Sweep<'_>, row: &Row) -> String {
    let values: Vec<String> =
        sweep.asked.vary.iter().zip(&row.values).map(|(vary, value)| at_value(vary.what, value)).collect();
    values.join(", ")
}

/// "Eye size, mm".
#[must_use]
pub fn axis(what: &What) -> String {
    match what.key.unit {
        "" => capital(what.name),
        unit => format!("{}, {unit}", capital(what.name)),
    }
}

/// "thickest edge of both lenses"; "right centre".
#[must_use]
pub fn shown(show: &Show) -> String {
    show.eye().map_or_else(|| show.name().to_owned(), |eye| format!("{} {}", eye.word(), show.name()))
}

/// A figure with its unit: "4.4 mm".
#[must_use]
pub fn amount(show: &Show, value: f64) -> String {
    with_unit(value, show.decimals(), show.unit().symbol())
}

/// "Eye size varied, Yarrow 46 with “thin”".
#[must_use]
pub fn title(sweep: &Sweep<'_>) -> String {
    let names: Vec<String> = sweep.asked.vary.iter().map(|vary| vary.what.name.to_owned()).collect();
    format!("{} varied, {}", capital(&list(&names)), subject(sweep))
}

/// "Yarrow 46 with “thin”, the right eye": without the size where that varies.
#[must_use]
pub fn subject(sweep: &Sweep<'_>) -> String {
    let at = &sweep.asked.at;
    let place =
        if sweep.asked.varies("eye_size_mm") { at.frame.name.clone() } else { super::place(at.frame, &at.boxing) };
    let eye = sweep.asked.eye.map(|eye| format!(", {} eye only", eye.word())).unwrap_or_default();
    format!("{place} with {}{eye}", super::quoted(at.option))
}

/// What was found, a sentence for each figure: least and most, and where.
#[must_use]
pub fn answer(sweep: &Sweep<'_>, shows: &[Show]) -> Vec<String> {
    shows.iter().map(|show| extremes(sweep, show)).collect()
}

/// Least and most of one figure.
#[must_use]
pub fn extremes(sweep: &Sweep<'_>, show: &Show) -> String {
    let read = |row: &'_ Row| show.read(row);
    let some = || sweep.rows.iter().filter_map(|row| Some((row, read(row)?)));
    let least = some().reduce(|best, next| if next.1 < best.1 { next } else { best });
    let most = some().reduce(|best, next| if next.1 > best.1 { next } else { best });
    let name = shown(show);
    let (Some((at_least, least)), Some((at_most, most))) = (least, most) else {
        return format!("The {name} exists at none of these values.");
    };
    if figure(least, show.decimals()) == figure(most, show.decimals()) {
        return format!("The {name} is {} throughout.", amount(show, least));
    }
    let place = |row| {
        let words = at_row(sweep, row);
        if sweep.asked.vary.iter().all(|vary| vary.what.is_of_words()) {
            format!("with {words}")
        } else {
            format!("at {words}")
        }
    };
    format!(
        "The {name} is least, {}, {}, and most, {}, {}.",
        amount(show, least),
        place(at_least),
        amount(show, most),
        place(at_most)
    )
}

/// What cannot be made, and why: a sentence for each run of rows with one kind of reason.
#[must_use]
pub fn gaps(sweep: &Sweep<'_>) -> Vec<String> {
    let kind = |row: &Row| row.outcome.as_ref().err().map(|why| (why.eye, discriminant(&why.why)));
    // A run ends where the first of two things takes its next value.
    let first = |row: &Row| (sweep.asked.vary.len() > 1).then(|| row.values.first().cloned());
    let runs = sweep.rows.chunk_by(|a, b| kind(a) == kind(b) && first(a) == first(b));
    runs.filter_map(|run| {
        let (from, to) = (run.first()?, run.last()?);
        let why = from.outcome.as_ref().err()?;
        let reason = uncapital(&pair_impossible(why, &from.fit()));
        Some(match run.len() {
            1 => format!("Cannot be made at {}: {reason}", at_row(sweep, from)),
            _ => {
                let [from, to] = [from, to].map(|row| at_row(sweep, row));
                format!("Cannot be made from {from} to {to}. At the first: {reason}")
            }
        })
    })
    .collect()
}

/// The cautions, each once: where they apply, and what they say in the first row of those. Those that the judge of the job
/// says once for all are left out.
#[must_use]
pub fn cautions(sweep: &Sweep<'_>) -> Vec<String> {
    let said = sweep.cautions();
    let own = sweep.own();
    let of_people = said.iter().filter(|one| !one.first.rule.judged);
    of_people
        .map(|one| {
            let is_own =
                |place: &usize| sweep.rows.get(*place).is_some_and(|row| own.is_some_and(|own| std::ptr::eq(own, row)));
            let among = match one.rows.iter().any(is_own) {
                true if one.rows.len() > 1 => ", the job’s own among them",
                true => ", as in the job",
                false => "",
            };
            let head = capital(severity(one.first.rule.severity));
            let text = match caution(&one.first) {
                text if one.rows.len() > 1 => format!("At the first: {}", uncapital(&text)),
                text => text,
            };
            format!("{head} {}{among}. {text}", at_rows(sweep, &one.rows))
        })
        .collect()
}

/// "from eye size 52 mm to eye size 56 mm", "throughout".
fn at_rows(sweep: &Sweep<'_>, places: &[usize]) -> String {
    let made = sweep.rows.iter().filter(|row| row.pair().is_some()).count();
    if places.len() == made && made > 1 {
        return "throughout".to_owned();
    }
    let at = |place: &usize| sweep.rows.get(*place).map_or(String::new(), |row| at_row(sweep, row));
    if sweep.asked.vary.len() > 1 {
        let first = places.first().map_or(String::new(), at);
        return format!("in {} of {} places, the first at {first}", places.len(), sweep.rows.len());
    }
    if sweep.asked.vary.iter().any(|vary| vary.what.is_of_words()) {
        return format!("at {}", list(&places.iter().map(at).collect::<Vec<_>>()));
    }
    let runs = places.chunk_by(|a, b| a + 1 == *b);
    let of_run = |run: &[usize]| match run {
        [from, .., to] => format!("from {} to {}", at(from), at(to)),
        one => format!("at {}", one.first().map_or(String::new(), at)),
    };
    list(&runs.map(of_run).collect::<Vec<_>>())
}

/// How the rest stays or follows.
#[must_use]
pub fn notes(sweep: &Sweep<'_>) -> Vec<String> {
    let asked = &sweep.asked;
    let mut notes = Vec::new();
    if asked.varies("eye_size_mm") {
        let follow = match (asked.varies("depth_mm"), asked.varies("bridge_mm")) {
            (false, false) => Some("Depth and bridge follow"),
            (true, false) => Some("The bridge follows"),
            (false, true) => Some("The depth follows"),
            (true, true) => None,
        };
        notes.extend(follow.map(|follow| format!("{follow} the sizes that the frame is offered in.")));
    }
    if asked.varies("sphere") || asked.varies("cylinder") {
        notes.push("Sphere and cylinder are those of the minus-cylinder form.".to_owned());
    }
    let per_eye = ["pd_mm", "sphere", "cylinder", "axis", "prism_pd"];
    if asked.eye.is_none() && per_eye.iter().any(|word| asked.varies(word)) {
        notes.push("Both eyes take each value.".to_owned());
    }
    if asked.varies("index") {
        let glass = asked.at.option.substance.glass(asked.at.prescription.reference_line);
        notes.push(format!(
            "Base curve, minima, Abbe number ({}) and density ({}{THIN}g/cm³) stay those of {}, whatever the index.",
            figure(glass.abbe, 1),
            figure(glass.density, 2),
            substance(asked.at.option)
        ));
    } else if !asked.varies("base_curve_d") {
        notes.extend(bases(sweep));
    }
    let missed = asked.vary.iter().filter_map(|vary| Some((vary, vary.not_reached?)));
    notes.extend(missed.filter_map(|(vary, end)| {
        let last = at_value(vary.what, vary.values.last()?);
        Some(format!(
            "{} is not reached in these steps; the last is {last}.",
            capital(&at_value(vary.what, &Value::Number(end)))
        ))
    }));
    notes.extend(asked.vary.iter().filter_map(unusual));
    notes
}

/// Values that a job would be warned of.
fn unusual(vary: &Vary) -> Option<String> {
    let [low, high] = vary.what.key.usual?;
    let beyond = vary.values.iter().filter_map(Value::number).any(|value| value < low || value > high);
    beyond.then(|| {
        let usual = [low, high].map(|end| value(vary.what, &Value::Number(end)));
        format!("Usual for {} is {} to {}.", vary.what.name, usual[0], usual[1])
    })
}

/// Which base curves there are.
fn bases(sweep: &Sweep<'_>) -> Option<String> {
    let mut found: Vec<f64> = Vec::new();
    let pairs = sweep.rows.iter().filter(|row| row.order.option.supply == Supply::Surfaced).filter_map(Row::pair);
    let all = pairs.flat_map(|pair| [pair.eyes.right.base.base_curve_d, pair.eyes.left.base.base_curve_d]);
    for base in all {
        if !found.iter().any(|there| (there - base).abs() < SAME_D) {
            found.push(base);
        }
    }
    let given = sweep.asked.at.option.base_curve_d.is_some();
    let texts: Vec<String> = found.iter().map(|base| number::base_curve(*base)).collect();
    let changes = ["sphere", "cylinder", "material"].iter().any(|word| sweep.asked.varies(word));
    if sweep.asked.varies("supply") && !found.is_empty() && !given {
        return Some(format!("Made to order the base curve is {}; a ready-made lens has its own.", list(&texts)));
    }
    match (found.len(), given, changes) {
        (0, _, _) | (_, true, _) => None,
        (1, _, false) => Some(format!("The base curve is chosen once, {}, and stays.", texts[0])),
        (_, _, false) => Some(format!("The base curves are chosen once, {}, and stay.", list(&texts))),
        (1, _, true) => Some(format!("The base curve is chosen for each value; it is {} for all.", texts[0])),
        (_, _, true) => Some(format!(
            "The base curve is chosen for each value, as an order would have it: {}. Figures step where it changes; a \
             base_curve_d in the job holds it.",
            list(&texts)
        )),
    }
}

/// A clause on what cannot be varied so, for after `--vary`.
#[must_use]
pub fn vary_fault(fault: &VaryFault) -> String {
    let words = || WHAT.iter().map(|what| what.word.to_owned()).collect::<Vec<String>>();
    match fault {
        VaryFault::Unknown { found, near } if near.is_empty() => {
            format!("--vary: “{found}” is nothing that can be varied; there are {}", list(&words()))
        }
        VaryFault::Unknown { found, near } => {
            format!("--vary: “{found}” is nothing that can be varied; did you mean {}?", near.join(" or "))
        }
        VaryFault::Form { word } => {
            format!("--vary {word}: wanted is {word}=FROM:TO:STEP, as in {}", example(word))
        }
        VaryFault::NoNumber { word, found, mend: Some(mend) } => {
            format!("--vary {word}: “{found}” is no number; write {mend}")
        }
        VaryFault::NoNumber { word, found, mend: None } => {
            format!("--vary {word}: “{found}” is no number; wanted is {word}=FROM:TO:STEP, as in {}", example(word))
        }
        VaryFault::Step { word, step } => {
            let hint = if *step < 0.0 {
                format!("write {}; it leads from FROM to TO either way", -step)
            } else {
                "it has to be above 0".to_owned()
            };
            format!("--vary {word}: the step is {step}; {hint}")
        }
        VaryFault::Range { word, found, allowed: [least, most] } => {
            format!("--vary {word} reaches {found}; allowed is {least} to {most}")
        }
        VaryFault::UnknownValue { word, found, known, near: true } => {
            format!("--vary {word}: there is no “{found}”; did you mean {}?", known.join(" or "))
        }
        VaryFault::UnknownValue { word, found, known, near: false } => {
            format!("--vary {word}: there is no “{found}”; there are {}", list(known))
        }
        VaryFault::Twice { word, found } => format!("--vary {word}: “{found}” stands there twice"),
        VaryFault::HowMany { found } => {
            format!("--vary stands there {found} times; one thing or {MOST_VARIED} can be varied at once")
        }
        VaryFault::Together { one, other } if one == other => format!("--vary {one} stands there twice"),
        VaryFault::Together { one, other } => format!("--vary {one} and --vary {other} exclude each other"),
        VaryFault::TooMany { found } => format!("--vary asks for {found} values; the most is {MOST_ROWS}"),
        VaryFault::Unfit { word, why } => format!("--vary {word}: {why}"),
    }
}

/// A range that would do.
fn example(word: &str) -> String {
    let ends = match word {
        "eye_size_mm" => "44:56:1",
        "depth_mm" => "30:44:1",
        "bridge_mm" => "14:22:0.5",
        "pd_mm" => "28:36:0.5",
        "sphere" => "-8:-2:0.25",
        "cylinder" => "-4:0:0.25",
        "axis" => "5:180:5",
        "prism_pd" => "0:6:0.5",
        "index" => "1.5:1.9:0.02",
        "base_curve_d" => "0.5:8:0.5",
        _ => "1:3:0.2",
    };
    format!("{word}={ends}")
}

/// What cannot be shown.
#[must_use]
pub fn show_fault(found: &str, near: &[String]) -> String {
    match near {
        [] => format!("--show: there is no figure “{found}”; docs/reference has a page of figures"),
        near => format!("--show: there is no figure “{found}”; did you mean {}?", near.join(" or ")),
    }
}

/// "R", "L" or nothing, for the head of a column.
#[must_use]
pub fn letter(show: &Show) -> &'static str {
    show.eye().map_or("", Eye::letter)
}
