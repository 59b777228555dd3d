//! The rows of a sweep as CSV: the values, the figures with all their digits, and why a row could not be made.
//!
//! Units: in the names of the columns.

use super::number;
use super::words;
use crate::study::sweep::{Row, Show, Sweep, Value};

/// A line of heads and a line for each row. A figure that does not exist is empty.
#[must_use]
pub fn csv(sweep: &Sweep<'_>, shows: &[Show]) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let words = sweep.asked.vary.iter().map(|vary| vary.what.word.to_owned());
    let heads = words.chain(shows.iter().map(Show::id)).chain(["impossible".to_owned()]);
    // Writing to memory cannot fail, and every record has as many fields.
    let _ = writer.write_record(heads);
    for row in &sweep.rows {
        let _ = writer.write_record(record(row, shows));
    }
    writer.into_inner().unwrap_or_default()
}

fn record(row: &Row, shows: &[Show]) -> Vec<String> {
    let values = row.values.iter().map(|value| match value {
        Value::Number(number) => number.to_string(),
        Value::Material(material) => material.id.clone(),
        Value::Supply(supply) => supply.word().to_owned(),
    });
    let figures = shows.iter().map(|show| show.read(row).map_or_else(String::new, |figure| figure.to_string()));
    let why = row.outcome.as_ref().err();
    let why = why.map_or_else(String::new, |why| number::plain(&words::pair_impossible(why, &row.fit())));
    values.chain(figures).chain([why]).collect()
}
