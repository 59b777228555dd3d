//! The text of a job file → what is written, with the bytes at which each key and value stands. TOML is read by the
//! `toml` library, which goes on after a mistake; what it finds wrong comes back as findings.

use crate::finding::{At, Finding, Place, Problem};
use crate::written::{Data, Table, Written};
use ::toml::Spanned;
use ::toml::de::{DeArray, DeFloat, DeInteger, DeTable, DeValue};
use std::ops::Range;

/// The largest job file that is read: reading takes some forty times its size of memory.
pub const MOST_BYTES: usize = 1_000_000;

/// What is written in a job file.
///
/// # Errors
/// Findings, if it is too large, no text, or not TOML.
pub fn parse(bytes: &[u8]) -> Result<Table, Vec<Finding>> {
    if bytes.len() > MOST_BYTES {
        return Err(vec![too_large(bytes.len() as u64)]);
    }
    let text = std::str::from_utf8(bytes).map_err(|error| vec![not_utf8(error.valid_up_to())])?;
    let (document, errors) = DeTable::parse_recoverable(text);
    if errors.is_empty() {
        Ok(table(document.get_ref(), Place { path: String::new(), at: At::Bytes(0..0) }))
    } else {
        Err(syntax(text, &errors))
    }
}

/// The finding for a file of this size.
#[must_use]
pub fn too_large(found_bytes: u64) -> Finding {
    Finding::new(Problem::TooLarge { found_bytes, most_bytes: MOST_BYTES as u64 }, Place::default())
}

fn not_utf8(at_byte: usize) -> Finding {
    Finding::new(Problem::NotUtf8 { at_byte }, at(String::new(), at_byte..at_byte))
}

/// One mistake may cause several errors: the first of each line is kept.
fn syntax(text: &str, errors: &[toml::de::Error]) -> Vec<Finding> {
    let mut found: Vec<(Range<usize>, &str)> =
        errors.iter().map(|error| (error.span().unwrap_or(0..0), error.message())).collect();
    found.sort_by_key(|(bytes, _)| bytes.start);
    let mut findings = Vec::new();
    let mut seen = 0;
    for (bytes, said) in found {
        let new_line = text.get(seen..bytes.start).is_none_or(|between| between.contains('\n'));
        if findings.is_empty() || new_line {
            seen = bytes.start;
            findings.push(Finding::new(Problem::Syntax { said: said.to_owned() }, at(String::new(), bytes)));
        }
    }
    findings
}

fn at(path: String, bytes: Range<usize>) -> Place {
    Place { path, at: At::Bytes(bytes) }
}

/// The library sorts keys by name; here they stand in the order of the text.
fn table(keys: &DeTable<'_>, place: Place) -> Table {
    let mut sorted: Vec<(&Spanned<_>, &Spanned<DeValue<'_>>)> = keys.iter().collect();
    sorted.sort_by_key(|(key, _)| key.span().start);
    let mut table = Table::new(place);
    for (key, value) in sorted {
        let path = table.place.path_to(key.get_ref());
        table.put(key.get_ref(), at(path.clone(), key.span()), written(value, path));
    }
    table
}

fn written(value: &Spanned<DeValue<'_>>, path: String) -> Written {
    let place = at(path, value.span());
    let data = match value.get_ref() {
        DeValue::String(text) => Data::Text(text.to_string()),
        DeValue::Integer(number) => integer(number),
        DeValue::Float(number) => float(number),
        DeValue::Boolean(value) => Data::Bool(*value),
        DeValue::Datetime(date) => Data::Date(date.to_string()),
        DeValue::Array(items) => list(items, &place),
        DeValue::Table(keys) => Data::Table(table(keys, place.clone())),
    };
    Written { place, data }
}

fn list(items: &DeArray<'_>, place: &Place) -> Data {
    Data::List(items.iter().enumerate().map(|(i, item)| written(item, place.path_to_item(i))).collect())
}

fn integer(number: &DeInteger<'_>) -> Data {
    match i64::from_str_radix(number.as_str(), number.radix()) {
        Ok(value) => Data::Number(value as f64),
        Err(_) => Data::NotFinite(number.to_string()),
    }
}

fn float(number: &DeFloat<'_>) -> Data {
    match number.as_str().parse() {
        Ok(value) if f64::is_finite(value) => Data::Number(value),
        _ => Data::NotFinite(number.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_keep_their_places() {
        let text = "format = 1\n[prescription.right]\nsphere = -6.25\n[[frame]]\neye_sizes_mm = [48, nan]\n";
        let mut table = parse(text.as_bytes()).expect("sound");
        assert_eq!(table.take("format").map(|written| written.data), Some(Data::Number(1.0)));
        let Some(Written { data: Data::List(frames), .. }) = table.take("frame") else { panic!("a list") };
        let Data::Table(mut frame) = frames[0].data.clone() else { panic!("a table") };
        let Some(Written { data: Data::List(sizes), .. }) = frame.take("eye_sizes_mm") else { panic!("a list") };
        assert_eq!(sizes[1].place.path, "frame[0].eye_sizes_mm[1]");
        let At::Bytes(bytes) = sizes[1].place.at.clone() else { panic!("bytes") };
        assert_eq!(&text[bytes], "nan");
        assert_eq!(sizes[1].data, Data::NotFinite("nan".to_owned()));
    }

    #[test]
    fn several_faults_of_syntax_come_back() {
        let found = parse(b"format = 1\nname = \"abc\nx = = 3\n[frame\n").expect_err("faults");
        assert_eq!(found.len(), 3, "{found:?}");
    }
}
