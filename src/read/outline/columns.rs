//! Columns of angles and radii: CSV with the header `angle_deg,radius_mm`, in either order.
//!
//! Units: mm and degrees.

use super::{Contents, Lens, MOST_FAULTS, Spot, Wrong, number, right_alone};
use crate::finding::Unfit;
use csv::{ReaderBuilder, StringRecord, Trim};
use std::ops::Range;

const HEADER: [&str; 2] = ["angle_deg", "radius_mm"];
/// The step of a number with two decimals or more, and of one with fewer: hands and rulers read no finer (ours).
const STEPS_MM: [f64; 2] = [0.01, 0.1];

pub(super) fn read(text: &str) -> Result<Contents, Vec<Wrong>> {
    let mut reader =
        ReaderBuilder::new().has_headers(false).flexible(true).trim(Trim::All).from_reader(text.as_bytes());
    let rows: Vec<StringRecord> = reader.records().filter_map(Result::ok).collect();
    let Some((header, rows)) = rows.split_first() else { return Err(vec![(0..0, Unfit::Empty)]) };
    let column = |name: &str| header.iter().position(|found| found == name).filter(|_| header.len() == HEADER.len());
    let [Some(angle), Some(radius)] = HEADER.map(column) else {
        let line = line(header, text);
        return Err(vec![(line.clone(), Unfit::Header { found: text[line].to_owned() })]);
    };
    let (mut angles, mut radii, mut wrong) = (Vec::new(), Vec::new(), Vec::new());
    for row in rows {
        if row.len() != HEADER.len() {
            wrong.push((line(row, text), Unfit::Columns { found: row.len() }));
            continue;
        }
        let fields = fields(row, text);
        let mut value = |column: usize| {
            let (found, bytes) = (&row[column], fields[column].clone());
            let value = number(found);
            if value.is_none() {
                wrong.push((bytes.clone(), Unfit::NotNumber { found: found.to_owned() }));
            }
            value.map(|value| Spot { value, bytes })
        };
        if let (Some(at), Some(length)) = (value(angle), value(radius)) {
            angles.push(at.value);
            radii.push(length);
        }
    }
    wrong.truncate(MOST_FAULTS);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let decimals = |row: &StringRecord| row[radius].split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let fine = rows.iter().any(|row| decimals(row) >= 2);
    let lens = Lens::new(angles.into_iter(), &radii, STEPS_MM[usize::from(!fine)], line(header, text));
    Ok(Contents { lenses: right_alone(lens), bridge: None })
}

/// The line that a row begins on.
fn line(row: &StringRecord, text: &str) -> Range<usize> {
    let from = row.position().map_or(0, |position| position.byte() as usize).min(text.len());
    let start = text[from..].find(|sign| !matches!(sign, '\r' | '\n')).map_or(from, |more| from + more);
    let end = text[start..].find(['\r', '\n']).map_or(text.len(), |more| start + more);
    start..end
}

/// Where the two values of a row stand.
fn fields(row: &StringRecord, text: &str) -> [Range<usize>; 2] {
    let line = line(row, text);
    let mut from = line.start;
    [0, 1].map(|column| {
        let found = text[from..line.end].find(&row[column]).map(|more| from + more);
        let bytes = found.map_or(line.clone(), |start| start..start + row[column].len());
        from = found.map_or(line.start, |start| start + row[column].len());
        bytes
    })
}
