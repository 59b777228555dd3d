//! The answer to `sweep`: least and most, a table, what could not be made and what stays.
//!
//! Units: in the heads of the columns.

use super::super::number::figure;
use super::super::words::{self, sweep as said};
use super::grid::{Entry, Grid, Holds};
use super::page::Page;
use super::table::NONE;
use crate::study::sweep::{Row, Show, Sweep, Vary};

/// Heads are broken into lines of so many signs.
const HEAD_SIGNS: usize = 14;

/// The answer to `sweep`. With `styled` heads and what the job has are bold (ANSI).
#[must_use]
pub fn sweep(of: &Sweep<'_>, shows: &[Show], styled: bool) -> String {
    let mut page = Page::new(styled);
    page.paragraph(&page.bold(&format!("{}.", said::title(of))));
    for sentence in said::answer(of, shows) {
        page.item(&sentence, 0);
    }
    page.gap();
    match said::square(of) {
        Some(sides) => {
            for show in shows {
                page.item(&page.bold(&said::head(show)), 0);
                page.block(&square(of, sides, show, styled));
                page.gap();
            }
        }
        None => page.block(&listed(of, shows, styled)),
    }
    page.gap();
    for sentence in said::gaps(of).iter().chain(&said::cautions(of)).chain(&said::notes(of)) {
        page.item(sentence, 0);
    }
    page.item(words::SAFETY, 0);
    page.finish()
}

/// A row for each row.
fn listed(of: &Sweep<'_>, shows: &[Show], styled: bool) -> String {
    let vary = &of.asked.vary;
    let holds = |words: bool| if words { Holds::Text } else { Holds::Figures };
    let head = |name: &str, unit: &str| {
        let mut lines = broken(name);
        if !unit.is_empty() {
            lines.push(unit.to_owned());
        }
        lines.join("\n")
    };
    let mut heads: Vec<(String, Holds)> = vary
        .iter()
        .map(|vary| (head(&words::capital(vary.what.name), vary.what.key.unit), holds(vary.what.is_of_words())))
        .collect();
    heads.extend(shows.iter().map(|show| {
        let name = format!("{} {}", said::letter(show), words::capital(show.name()));
        (head(name.trim(), show.unit().symbol()), Holds::Figures)
    }));
    let mut grid = Grid::new(&heads, styled);
    let own = of.own();
    for row in &of.rows {
        let is_own = own.is_some_and(|own| std::ptr::eq(own, row));
        let values = vary.iter().zip(&row.values).map(|(vary, value)| said::in_column(vary, value));
        let cells = values.chain(shows.iter().map(|show| cell(show, row)));
        grid.row(cells.map(|text| (text, is_own)).collect::<Vec<Entry>>());
    }
    grid.finish()
}

/// The first thing down, the second across.
fn square(of: &Sweep<'_>, [down, across]: [&Vary; 2], show: &Show, styled: bool) -> String {
    let corner = format!("{} by\n{}", said::axis(down.what), said::axis(across.what));
    let mut heads = vec![(corner, if down.what.is_of_words() { Holds::Text } else { Holds::Figures })];
    heads.extend(across.values.iter().map(|value| (said::in_column(across, value), Holds::Figures)));
    let mut grid = Grid::new(&heads, styled);
    let own = of.own();
    for (value, rows) in down.values.iter().zip(of.rows.chunks(across.values.len().max(1))) {
        let cells = rows.iter().map(|row| (cell(show, row), own.is_some_and(|own| std::ptr::eq(own, row))));
        grid.row([(said::in_column(down, value), false)].into_iter().chain(cells).collect());
    }
    grid.finish()
}

fn cell(show: &Show, row: &Row) -> String {
    show.read(row).map_or_else(|| NONE.to_owned(), |value| figure(value, show.decimals()))
}

/// Broken between words into short lines.
fn broken(name: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in name.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= HEAD_SIGNS => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
