//! Jobs made of chance from the catalogue of keys, and what has to hold of every one, from the text to the last picture.
//!
//! The fuzz targets and the tests share this file: bytes from a fuzzer steer the choices as bytes from chance do.

use arbitrary::{Result, Unstructured};
use rimwise::job::{self, Addressed, Job, NoOutlines, Outlines};
use rimwise::keys::{self, Key, Kind, Section, Words};
use rimwise::material::Shelf;
use rimwise::read;
use rimwise::report::{folder, text, wire};
use rimwise::study::compare::Comparison;
use rimwise::study::limit::Limits;
use rimwise::study::why::why;
use std::fmt::Write as _;

/// Options of one job; more would be slow, not different.
const MOST_FITS: usize = 12;
/// Wishes for an edge that limits are asked about, mm.
const WISHES_MM: (f64, f64) = (0.5, 12.0);

/// How far a job came.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Came {
    /// The job was sound.
    pub(crate) judged: bool,
    /// Options that can be made.
    pub(crate) made: usize,
    /// Options that cannot.
    pub(crate) impossible: usize,
    /// Everything was drawn.
    pub(crate) drawn: bool,
}

/// A job written from the catalogue, mostly sound, often at the ends of what is allowed.
/// With no bytes left, choices fall to their first.
pub(crate) fn written(u: &mut Unstructured<'_>) -> Result<String> {
    let mut job = String::new();
    section(u, &mut job, Section::Job, "")?;
    // Now and then something is broken by force.
    if u.ratio(1, 40)? && !job.is_empty() {
        let mut at = u.choose_index(job.len())?;
        while !job.is_char_boundary(at) {
            at -= 1;
        }
        let put: String = u.arbitrary::<&str>()?.chars().take(12).collect();
        job.insert_str(at, &put);
    }
    Ok(job)
}

/// The lines of a section, tables last.
fn section(u: &mut Unstructured<'_>, into: &mut String, which: Section, path: &str) -> Result<()> {
    let mut tables = Vec::new();
    for key in keys::of(which) {
        let likely = if key.is_required() { !u.ratio(1, 300)? } else { u.ratio(2, 5)? };
        // Nearly always as one who knows the format would.
        let given = if u.ratio(39, 40)? { wanted(key, into).unwrap_or(likely) } else { likely };
        if !given {
            continue;
        }
        match key.kind {
            Kind::Table(section) => tables.push((key, section, 1, "[", "]")),
            Kind::Tables(section) if which == Section::Job => {
                tables.push((key, section, u.int_in_range(1..=3)?, "[[", "]]"));
            }
            _ => {
                let value = value(u, key)?;
                let _ = writeln!(into, "{} = {value}", key.name);
            }
        }
    }
    for (key, section_of, count, open, close) in tables {
        for i in 0..count {
            let path = if path.is_empty() { key.name.to_owned() } else { format!("{path}.{}", key.name) };
            let _ = writeln!(into, "\n{open}{path}{close}");
            let mut body = String::new();
            section(u, &mut body, section_of, &path)?;
            // Names are alike by their example; no two frames or options may be.
            into.push_str(&named(&body, which, i));
        }
    }
    Ok(())
}

/// Whether a key is wanted beside the lines above it; `None` where either will do.
fn wanted(key: &Key, above: &str) -> Option<bool> {
    let section = above.rsplit("\n[").next().unwrap_or(above);
    let has = |text: &str| section.contains(text);
    match key.name {
        "pd_both_mm" => Some(false),
        "axis" => Some(has("cylinder = ")),
        // No file is read here: one that is named is refused.
        "outline" => Some(false),
        "shape" | "eye_sizes_mm" => Some(true),
        "depth_mm" => Some(!has("\"circle\"")),
        "min_centre_mm" | "min_edge_mm" if has("material = {") => Some(true),
        "supply" if has("material = {") || has("base_curve_d = ") => Some(false),
        _ => None,
    }
}

/// Names made different; what is worn now has none, and one size.
fn named(body: &str, parent: Section, number: usize) -> String {
    let line = |line: &str| match (line.strip_prefix("name = \""), parent) {
        (Some(_), Section::Present) => String::new(),
        (Some(name), _) => format!("name = \"{number} {name}\n"),
        (None, Section::Present) if line.starts_with("eye_sizes_mm") => {
            let first = line.split([',', ']']).next().unwrap_or(line);
            format!("{first}]\n")
        }
        (None, _) => format!("{line}\n"),
    };
    body.lines().map(line).collect()
}

fn value(u: &mut Unstructured<'_>, key: &'static Key) -> Result<String> {
    if u.ratio(1, 300)? {
        return Ok((*u.choose(&["nan", "inf", "-inf", "\"\"", "true", "[]", "{}", "1e300", "-1e-300"])?).to_owned());
    }
    Ok(match key.kind {
        Kind::Whole | Kind::Text | Kind::Name | Kind::File | Kind::Date => key.example.to_owned(),
        // These stand in material files only.
        Kind::FromTo | Kind::YesNo | Kind::Texts => key.example.to_owned(),
        Kind::Number => number(u, key)?,
        Kind::Numbers => {
            let count = u.int_in_range(1..=3)?;
            let mut sizes = Vec::new();
            for _ in 0..count {
                sizes.push(number(u, key)?);
            }
            sizes.dedup();
            format!("[{}]", sizes.join(", "))
        }
        Kind::NumberOrEach | Kind::NumberOrEyes if !u.ratio(1, 8)? => number(u, key)?,
        Kind::NumberOrEach => format!("[{}]", number(u, key)?),
        Kind::NumberOrEyes => format!("{{ right = {}, left = {} }}", number(u, key)?, number(u, key)?),
        Kind::Word(words) => word(u, words)?,
        Kind::WordOrNumber(words) => {
            if u.arbitrary()? {
                word(u, words)?
            } else {
                number(u, key)?
            }
        }
        Kind::WordOrTable(words, section) => {
            if u.ratio(2, 3)? {
                word(u, words)?
            } else {
                inline(u, section)?
            }
        }
        Kind::Table(section) => inline(u, section)?,
        Kind::Tables(section) => {
            let count = u.int_in_range(0..=2)?;
            let mut tables = Vec::new();
            for _ in 0..count {
                tables.push(inline(u, section)?);
            }
            format!("[{}]", tables.join(", "))
        }
    })
}

fn inline(u: &mut Unstructured<'_>, section: Section) -> Result<String> {
    let mut pairs = Vec::new();
    for key in keys::of(section) {
        pairs.push(format!("{} = {}", key.name, value(u, key)?));
    }
    Ok(format!("{{ {} }}", pairs.join(", ")))
}

fn word(u: &mut Unstructured<'_>, words: Words) -> Result<String> {
    let words = job::words(words, &Shelf::built_in());
    Ok(format!("\"{}\"", u.choose(&words)?))
}

/// A number: mostly what is usual, often anything allowed, sometimes its very end or just beyond.
fn number(u: &mut Unstructured<'_>, key: &Key) -> Result<String> {
    let Some([from, to]) = key.refused.allowed(30.0) else { return Ok(key.example.to_owned()) };
    let share = f64::from(u.int_in_range(0..=4096_u16)?) / 4096.0;
    let [low, high] = key.usual.unwrap_or([0.7 * from + 0.3 * to, 0.3 * from + 0.7 * to]);
    let number = match u.int_in_range(0..=29_u8)? {
        0 => from,
        1 => to,
        2 => 0.0_f64.clamp(from, to),
        3 if u.ratio(1, 20)? => to + 1.0,
        3..=9 => from + share * (to - from),
        // Steps as people write them.
        10..=19 => ((low + share * (high - low)) * 4.0).round() / 4.0,
        _ => low + share * (high - low),
    };
    Ok(number.to_string())
}

/// Judges and works whatever the text says, and asks of everything that comes out what has to hold. `draw` asks for the
/// report too, and for limits and reasons.
///
/// # Panics
/// Where something does not hold.
#[must_use]
pub(crate) fn worked(bytes: &[u8], draw: bool) -> Came {
    worked_with(bytes, draw, &NoOutlines)
}

/// The same with outlines that it may name.
///
/// # Panics
/// Where something does not hold.
#[must_use]
pub(crate) fn worked_with(bytes: &[u8], draw: bool, outlines: &dyn Outlines) -> Came {
    let judged = read::job_with(bytes, &Shelf::built_in(), outlines);
    let faults = judged.findings.iter().filter(|finding| finding.is_fault()).count();
    assert_eq!(judged.value.is_some(), faults == 0, "a job or a fault");
    let Some(job) = judged.value else { return Came::default() };
    let fits: usize = job.frames.iter().map(|frame| frame.sizes.len() * job.lenses.len()).sum();
    if job::limits(&job, true).is_some() || fits > MOST_FITS {
        return Came { judged: true, ..Came::default() };
    }
    let comparison = Comparison::of(&job);
    finite(&wire::compare(&comparison, &judged.findings));
    readable("the table", &text::compare(&comparison, &judged.findings, false));
    if draw {
        for (name, contents) in folder::files(&comparison, &judged.findings) {
            readable(&name, std::str::from_utf8(&contents).expect("text"));
        }
        the_other_way_round(&job, bytes.len());
        shared_out(&comparison);
    }
    let made = comparison.fits.iter().filter(|fit| fit.pair().is_some()).count();
    Came { judged: true, made, impossible: comparison.fits.len() - made, drawn: draw }
}

/// Limits of the first frame, at a wish that chance picks.
fn the_other_way_round(job: &Job, chance: usize) {
    let frame = &job.frames[0];
    let wish_mm = WISHES_MM.0 + (WISHES_MM.1 - WISHES_MM.0) * (chance % 97) as f64 / 96.0;
    let at = |option| Addressed { frame, boxing: frame.sizes[0], option, prescription: &job.prescription };
    let options: Vec<Addressed<'_>> = job.lenses.iter().map(at).collect();
    let shelf = Shelf::built_in();
    for limits in [Limits::of(&options, wish_mm, &shelf), Limits::of(&options[..1], wish_mm, &shelf)] {
        finite(&wire::limit(&limits));
        readable("limits", &text::limit(&limits, false));
        for (name, contents) in folder::limit_files(job, &limits) {
            readable(&name, std::str::from_utf8(&contents).expect("text"));
        }
    }
}

/// Reasons from the first option to the last.
fn shared_out(comparison: &Comparison<'_>) {
    let [first, .., last] = &comparison.fits[..] else { return };
    let outcome = why(first, last);
    finite(&wire::why(&outcome, first, last));
    readable("reasons", &text::why(&outcome, first, last, false));
}

/// No number of what other programs read is anything but a number.
fn finite(answer: &impl serde::Serialize) {
    // Unlike JSON, CBOR writes what is not finite as it is.
    let value = ciborium::Value::serialized(answer).expect("a value");
    let mut left = vec![&value];
    while let Some(value) = left.pop() {
        match value {
            ciborium::Value::Float(number) => assert!(number.is_finite(), "{number} in what other programs read"),
            ciborium::Value::Array(items) => left.extend(items),
            ciborium::Value::Map(pairs) => left.extend(pairs.iter().map(|(_, value)| value)),
            _ => {}
        }
    }
}

/// No word of it is a failed number, and no nought has a sign.
pub(crate) fn readable(what: &str, text: &str) {
    let words = text.split(|sign: char| !(sign.is_alphanumeric() || "-−.".contains(sign)));
    for word in words {
        let bare = word.trim_matches('.');
        let nought = |number: &str| number.contains('0') && number.chars().all(|sign| "0.".contains(sign));
        assert!(!matches!(bare, "NaN" | "nan" | "inf" | "-inf" | "Infinity"), "{bare} in {what}:\n{text}");
        let signed = bare.strip_prefix(['-', '−']);
        assert!(!signed.is_some_and(nought), "{bare} in {what}:\n{text}");
    }
}
