//! The one printer of findings: what is wrong, what is allowed and how it may be mended, in words. Terminal, page and
//! JSON all take their text from here.

mod outline;

use crate::finding::{At, Finding, Found, Idle, Mend, Problem};
use crate::job::{Job, MOST_NAME_SIGNS};
use crate::keys::{self, Key, Kind, Section, Words};
use crate::rim::Rim;

/// A finding in words: clauses without a capital and without a full stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// What is wrong.
    pub said: String,
    /// What is allowed or usual.
    pub allowed: Option<String>,
    /// What may help.
    pub mend: Option<String>,
}

/// A finding in words.
#[must_use]
pub fn say(finding: &Finding) -> Said {
    let (said, allowed) = clauses(finding);
    Said { said, allowed, mend: mend(finding) }
}

/// A finding as sentences that stand alone, with the frame, the lens or the eye that it is about.
#[must_use]
pub fn sentence(finding: &Finding, job: Option<&Job>) -> String {
    let Said { said, allowed, mend } = say(finding);
    let mut text = match about(finding, job) {
        Some(about) => format!("{about}: {said}"),
        None => capital(&said),
    };
    if let At::File(file, bytes) = &finding.place.at {
        let line = 1 + file.text().get(..bytes.start).map_or(0, |before| before.matches('\n').count());
        text = format!("{text} ({}, line {line})", file.name());
    }
    if let Some(allowed) = allowed {
        text = format!("{text} ({allowed})");
    }
    text.push('.');
    if let Some(mend) = mend {
        text = format!("{text} {}", capital(&mend));
        if !text.ends_with(['.', '?']) {
            text.push('.');
        }
    }
    text
}

/// What a finding is about, in words.
fn about(finding: &Finding, job: Option<&Job>) -> Option<String> {
    let path = &finding.place.path;
    let eye = finding.eye.map(|eye| format!("{} eye", capital(eye.word())));
    if path.starts_with("present") {
        return Some(eye.map_or("Worn now".to_owned(), |eye| format!("Worn now, {}", eye.to_lowercase())));
    }
    let frame = item(path, "frame").and_then(|i| job?.frames.get(i)).map(|frame| format!("Frame {}", frame.name));
    let lens = item(path, "lens").and_then(|i| job?.lenses.get(i)).map(|lens| format!("Lens {}", lens.name));
    eye.or(frame).or(lens)
}

/// The number in `list[number]…`.
fn item(path: &str, list: &str) -> Option<usize> {
    path.strip_prefix(list)?.strip_prefix('[')?.split_once(']')?.0.parse().ok()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// What is wrong, and what is allowed.
fn clauses(finding: &Finding) -> (String, Option<String>) {
    let key_name = |key: &Key| name(finding, key);
    match &finding.problem {
        Problem::TooLarge { found_bytes, most_bytes } => (
            format!("the file has {} bytes and was not read", grouped(*found_bytes)),
            Some(format!("at most {} are read", grouped(*most_bytes))),
        ),
        Problem::NotUtf8 { at_byte } => {
            (format!("the file is not UTF-8 text from byte {} on", grouped(*at_byte as u64)), None)
        }
        Problem::Syntax { said } => (format!("not TOML: {said}"), None),
        Problem::FormatNewer { found, known } => (
            format!("the file is written in format {}, which is newer than this program", number(*found)),
            Some(format!("format {known} is the newest known")),
        ),
        Problem::FormatUnknown { found, known } => {
            (format!("there is no format {}", number(*found)), Some(format!("allowed: {known}")))
        }
        Problem::UnknownKey { found, known } => {
            (format!("`{}` is no key here", short(found)), list("allowed", known, ""))
        }
        Problem::MissingKey { key } => (missing(finding, key), Some(help(key))),
        Problem::WrongKind { key, allowed, found } => (
            format!("{} {} {}", key_name(key), is(finding), found_words(found)),
            Some(format!("allowed: {}", kind_words(key, held(finding, *allowed)))),
        ),
        Problem::NotFinite { key, found } => {
            (format!("{} is {}, which is no finite number", key_name(key), short(found)), range_words(key))
        }
        Problem::EmptyList { key } => {
            (format!("{} is empty", key_name(key)), Some("allowed: one number or more".into()))
        }
        Problem::ListLength { key, found, wanted } => (
            format!("{} has {} for {}", key_name(key), count(*found, "number"), count(*wanted, "eye size")),
            Some("allowed: one number, or one for each eye size".into()),
        ),
        Problem::Range { key, found, allowed } => (
            format!("{} {} {}", key_name(key), is(finding), quantity(*found, key.unit)),
            Some(format!("allowed: {}", from_to(*allowed, key.unit))),
        ),
        Problem::Unusual { key, found, usual } => (
            format!("{} {} {}, which is seldom", key_name(key), is(finding), quantity(*found, key.unit)),
            Some(format!("usual: {}", from_to(*usual, key.unit))),
        ),
        Problem::UnknownWord { key, found, known } => (
            format!("{} is \"{}\", which is not known", key_name(key), short(found)),
            list("allowed", known, or_number(key.kind)),
        ),
        problem => about_names(problem, &key_name).unwrap_or_else(|| about_job(finding, &key_name)),
    }
}

fn about_names(problem: &Problem, key_name: &dyn Fn(&Key) -> String) -> Option<(String, Option<String>)> {
    let said = match problem {
        Problem::NameEmpty { key } => format!("{} is empty", key_name(key)),
        Problem::ControlSigns { key } => {
            return Some((
                format!("{} holds signs that are not for reading", key_name(key)),
                Some("letters, digits, spaces and marks on one line".into()),
            ));
        }
        Problem::FormulaSign { key, found } => {
            return Some((
                format!("{} begins with \"{found}\", which a spreadsheet takes for a formula", key_name(key)),
                Some("a letter or a digit first".into()),
            ));
        }
        Problem::RowLength { found, wanted } => {
            format!("the row has {} and the header has {wanted}", count(*found, "field"))
        }
        Problem::MaterialTwice => {
            return Some((
                "the material is named, and given by its numbers as well".to_owned(),
                Some("allowed: one of the two".into()),
            ));
        }
        Problem::NameLong { found, .. } => {
            return Some((
                format!("the name has {found} signs"),
                Some(format!("at most {MOST_NAME_SIGNS}, so that tables and files can bear it")),
            ));
        }
        Problem::NameSlash { found, .. } => {
            return Some((
                format!("the name \"{}\" holds a slash", short(found)),
                Some("a slash stands between the names where an option is addressed".into()),
            ));
        }
        Problem::NameNow { found, .. } => format!("the name \"{}\" belongs to the spectacles worn now", short(found)),
        Problem::NameTwice { found, .. } => format!("the name \"{}\" is used twice", short(found)),
        Problem::NameOfPresent { .. } => "the spectacles worn now are called \"now\" and have no other name".to_owned(),
        Problem::SizeTwice { key, found } => {
            format!("the eye size of {} is listed twice", quantity(*found, key.unit))
        }
        Problem::NotRising { key, found } => {
            let found: Vec<String> = found.iter().map(|value| number(*value)).collect();
            return Some((
                format!("{} does not rise: {}", key_name(key), found.join(", ")),
                Some("allowed: each number greater than the one before".into()),
            ));
        }
        Problem::IdOfFile { found, stem } => {
            return Some((
                format!("the id is \"{}\", but the file is called {}.toml", short(found), short(stem)),
                Some("allowed: the name of the file without its ending".into()),
            ));
        }
        Problem::SizesOfPresent { found, .. } => {
            return Some((format!("the frame worn now has {found} eye sizes"), Some("allowed: one".into())));
        }
        _ => return None,
    };
    Some((said, None))
}

fn about_job(finding: &Finding, key_name: &dyn Fn(&Key) -> String) -> (String, Option<String>) {
    match &finding.problem {
        Problem::PdOfBothEyes { key, found } => (
            format!(
                "{} is {}, which looks like the distance between both pupils",
                key_name(key),
                quantity(*found, key.unit)
            ),
            range_words(key).map(|allowed| format!("{allowed}, from the middle of the bridge")),
        ),
        Problem::PdTwice { key } => {
            (format!("{} is given beside `pd_both_mm`", key_name(key)), Some("allowed: one of the two".into()))
        }
        Problem::PdHalved { key, found } => (
            format!("each eye was given half of {}, {}", key_name(key), quantity(0.5 * found, key.unit)),
            Some("faces are seldom so even: a `pd_mm` measured for each eye is better".into()),
        ),
        Problem::AxisMissing { cylinder } => {
            (format!("a cylinder of {} needs an axis", quantity(*cylinder, "D")), range_words(&crate::keys::AXIS))
        }
        Problem::AddNotUsed { found } => (
            format!("the addition of {} is recorded and not used", quantity(*found, "D")),
            Some("every lens here is single-vision, for distance".into()),
        ),
        Problem::CircleDepth { found, eye_size_mm } => (
            format!("a circle {} wide cannot be {} deep", quantity(*eye_size_mm, "mm"), quantity(*found, "mm")),
            Some("a circle is as deep as it is wide".into()),
        ),
        Problem::MinimumOfInline { key } => (
            format!("{} is missing", key_name(key)),
            Some("of a material given by its numbers no least thickness is known".into()),
        ),
        Problem::StockOfInline => {
            ("a material given by its numbers is not to be had from stock".into(), Some("allowed: surfaced".into()))
        }
        Problem::StockWithBase { found } => (
            format!("a base curve of {} cannot be asked of a stock lens", quantity(*found, "D")),
            Some("it comes in the curve that the material lists".into()),
        ),
        Problem::BevelIdle { key, why: Idle::Drilled } => (
            format!("{} is of no use for a rimless frame", key_name(key)),
            Some("its lenses have neither bevel nor groove, and no rim".into()),
        ),
        Problem::BevelIdle { key, why: Idle::WithoutPosition(position) } => (
            format!("{} goes with another position of the bevel", key_name(key)),
            Some(format!("it counts with `{} = \"{position}\"` alone", keys::BEVEL_POSITION.name)),
        ),
        Problem::BaseNotListed { found, listed } => (
            format!("the material is not listed in a base curve of {}", quantity(*found, "D")),
            list("listed", &listed.iter().map(f64::to_string).collect::<Vec<_>>(), " D"),
        ),
        Problem::BelowMinimum { key, found, chosen } => (
            format!("{} is {}, less than would have been chosen", key_name(key), quantity(*found, key.unit)),
            Some(minima(chosen)),
        ),
        Problem::PresentHalf { key } => {
            (format!("the spectacles worn now have no `[{}]`", path(finding, key)), Some(help(key)))
        }
        Problem::Outline(unfit) => outline::clauses(unfit),
        Problem::PresentAssumed => ("the spectacles worn now are taken as made for the new prescription".into(), None),
        Problem::TooMany { found, most } => (
            format!("the job asks for {} combinations", grouped(*found as u64)),
            Some(format!("at most {} are worked at a time", grouped(*most as u64))),
        ),
        Problem::TooManyDrawn { found, most } => (
            format!("the job asks for {} combinations", grouped(*found as u64)),
            Some(format!("at most {} are drawn at a time", grouped(*most as u64))),
        ),
        // The rest was said before.
        _ => (finding.id(), None),
    }
}

fn mend(finding: &Finding) -> Option<String> {
    if let Problem::PdOfBothEyes { found, .. } = finding.problem {
        let half = quantity(0.5 * found, "mm");
        return Some(match finding.place.at {
            At::CommandLine | At::Flag(_) | At::Row(_) => format!("half of it is {half}"),
            At::Nowhere | At::Bytes(_) | At::File(..) => {
                format!("half of it is {half}; or write `pd_both_mm = {found}` in the prescription, for both eyes")
            }
        });
    }
    if let (Problem::Outline(unfit), None) = (&finding.problem, &finding.mend) {
        return outline::mend(unfit);
    }
    if let (Problem::PresentAssumed, None) = (&finding.problem, &finding.mend) {
        return Some("if they were made for another, write it in `[present.prescription]`".into());
    }
    Some(match finding.mend.as_ref()? {
        Mend::Words(words) if matches!(finding.problem, Problem::UnknownWord { .. }) => {
            format!("did you mean {}?", either(words, '"'))
        }
        Mend::Words(words) => format!("write {}", either(words, '"')),
        Mend::Keys(keys) => format!("did you mean {}?", either(keys, '`')),
        Mend::Literal(text) => format!("write {text}"),
        Mend::Add(key) => added(finding, key),
        Mend::Remove => "leave it out".to_owned(),
    })
}

fn added(finding: &Finding, key: &Key) -> String {
    if let At::Flag(flag) = &finding.place.at
        && key.section == Section::Prism
    {
        return format!("write it as in `{flag} 1.5@in`");
    }
    if matches!(finding.place.at, At::Row(_)) {
        return format!("fill it in, as in {}", key.example.trim_matches('"'));
    }
    if matches!(finding.place.at, At::CommandLine | At::Flag(_)) {
        let value = key.example.trim_matches(['"', '[', ']']).split(',').next().unwrap_or_default();
        return format!("add it, as in `--{} {value}`", key.flag().unwrap_or_default());
    }
    match key.kind {
        Kind::Table(_) => format!("add a table `[{}]`", path(finding, key)),
        Kind::Tables(_) => format!("add a table `[[{}]]`", path(finding, key)),
        _ => format!("add it, as in `{} = {}`", key.name, key.example),
    }
}

/// The path of a missing table: that of the finding may be of the table that it is missing from.
fn path(finding: &Finding, key: &Key) -> String {
    let path = &finding.place.path;
    if path.rsplit('.').next() == Some(key.name) { path.clone() } else { finding.place.path_to(key.name) }
}

fn missing(finding: &Finding, key: &Key) -> String {
    match key.kind {
        Kind::Tables(_) => format!("there is no `[[{}]]`", path(finding, key)),
        Kind::Table(_) => format!("there is no `[{}]`", path(finding, key)),
        _ => format!("{} is missing", name(finding, key)),
    }
}

fn help(key: &Key) -> String {
    let mut letters = key.help.trim_end_matches('.').chars();
    letters.next().into_iter().flat_map(char::to_lowercase).chain(letters).collect()
}

/// The key as it is written at this door.
fn name(finding: &Finding, key: &Key) -> String {
    match (&finding.place.at, key.flag()) {
        (At::Flag(flag), None) => format!("the {} of `{flag}`", key.name.trim_end_matches("_pd")),
        (At::Flag(flag), Some(_)) => format!("`{flag}`"),
        (At::CommandLine, Some(flag)) => format!("`--{flag}`"),
        (At::Row(_), _) => format!("`{}`", key.column().unwrap_or(key.name)),
        _ => format!("`{}`", key.name),
    }
}

fn list<T: AsRef<str>>(what: &str, words: &[T], ending: &str) -> Option<String> {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    (!words.is_empty()).then(|| format!("{what}: {}{ending}", words.join(", ")))
}

fn or_number(kind: Kind) -> &'static str {
    if matches!(kind, Kind::WordOrNumber(_)) { ", or degrees" } else { "" }
}

fn either(words: &[String], quote: char) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("{quote}{}{quote}", short(word))).collect();
    match quoted.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}

fn minima(chosen: &[(Rim, f64)]) -> String {
    let each: Vec<String> =
        chosen.iter().map(|(rim, minimum)| format!("{} for {}", quantity(*minimum, "mm"), rim.word())).collect();
    format!("without it: {}", each.join(", "))
}

fn found_words(found: &Found) -> String {
    match found {
        Found::Number(value) => format!("the number {}", number(*value)),
        Found::Text(text) => format!("the text \"{}\"", short(text)),
        Found::Bool(value) => value.to_string(),
        Found::Date(date) => format!("the date {date}"),
        Found::List(length) => format!("a list of {length}"),
        Found::Table => "a table".to_owned(),
    }
}

/// The longest text that is repeated in a message.
const LONGEST_TEXT: usize = 60;

/// What was written, fit to be repeated: not too long, and without what would move a terminal's cursor.
fn short(text: &str) -> String {
    let mut short: String =
        text.chars().take(LONGEST_TEXT).map(|c| if c.is_control() { char::REPLACEMENT_CHARACTER } else { c }).collect();
    if text.chars().count() > LONGEST_TEXT {
        short.push('…');
    }
    short
}

/// What a key holds at this door: a field of a row is one thing, and needs no quotes.
fn held(finding: &Finding, kind: Kind) -> Kind {
    match (&finding.place.at, kind) {
        (At::Row(_), Kind::Numbers | Kind::NumberOrEach | Kind::NumberOrEyes) => Kind::Number,
        (_, kind) => kind,
    }
}

fn kind_words(key: &Key, kind: Kind) -> String {
    let words = match kind {
        Kind::Tables(Section::Prism) => "a list of { amount_pd = …, base = … }",
        Kind::Tables(_) => return format!("tables headed `[[{}]]`", key.name),
        Kind::Whole => "a whole number",
        Kind::Number => "a number",
        Kind::Numbers => "a list of numbers",
        Kind::FromTo => "a list of two numbers, from and to",
        Kind::YesNo => "true or false, without quotes",
        Kind::Texts => "texts in quotes under keys of any name",
        Kind::NumberOrEach => "a number, or a list with one for each eye size",
        Kind::NumberOrEyes => "a number, or { right = …, left = … }",
        Kind::Text | Kind::Name => "text in quotes",
        Kind::File => "the name of a file in quotes",
        Kind::Date => "a date without time, year-month-day, without quotes",
        Kind::Word(Words::Material) => "the id of a material in quotes",
        Kind::Word(_) => "a word in quotes",
        Kind::WordOrNumber(_) => "a word in quotes, or a number",
        Kind::WordOrTable(..) => "the id of a material in quotes, or { index = …, abbe = …, density = … }",
        Kind::Table(_) => "a table",
    };
    words.to_owned()
}

/// A key is a value, but holds each of a list.
fn is(finding: &Finding) -> &'static str {
    if finding.place.path.ends_with(']') { "holds" } else { "is" }
}

fn range_words(key: &Key) -> Option<String> {
    key.refused.allowed(0.0).map(|range| format!("allowed: {}", from_to(range, key.unit)))
}

fn from_to([from, to]: [f64; 2], unit: &str) -> String {
    format!("{from} to {}", quantity(to, unit))
}

fn quantity(value: f64, unit: &str) -> String {
    let number = number(value);
    match unit {
        "" => number,
        "°" => format!("{number}°"),
        unit => format!("{number} {unit}"),
    }
}

/// A number as it was written, unless that is too long to be read.
fn number(value: f64) -> String {
    let written = value.to_string();
    if written.len() <= 10 {
        written
    } else if value.abs() >= 1e6 {
        format!("{value:e}")
    } else {
        format!("{value:.3}")
    }
}

fn count(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

/// A whole number with its thousands apart.
#[must_use]
pub fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Place;
    use crate::keys;

    #[test]
    fn a_sentence_stands_alone() {
        let place = Place { path: "present.frame.bridge_mm".to_owned(), at: At::Nowhere };
        let problem = Problem::Unusual { key: &keys::BRIDGE, found: 10.0, usual: [12.0, 26.0] };
        assert_eq!(
            sentence(&Finding::new(problem, place), None),
            "Worn now: `bridge_mm` is 10 mm, which is seldom (usual: 12 to 26 mm)."
        );
        let finding = Finding::new(Problem::PresentAssumed, Place::default());
        assert_eq!(
            sentence(&finding, None),
            "The spectacles worn now are taken as made for the new prescription. If they were made for another, write \
             it in `[present.prescription]`."
        );
    }

    #[test]
    fn numbers_are_as_written_where_that_can_be_read() {
        assert_eq!(quantity(-6.25, "D"), "-6.25 D");
        assert_eq!(quantity(21.213203435596427, "Δ"), "21.213 Δ");
        assert_eq!(quantity(1e300, ""), "1e300");
        assert_eq!(grouped(10_001), "10,001");
        assert_eq!(grouped(999), "999");
    }
}
