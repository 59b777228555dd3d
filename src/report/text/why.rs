//! The answer to `why`: a sentence, the shares of each cause with bars, the method.
//!
//! Units: in the heads of the columns. A bar to the left takes off, one to the right adds.

use super::super::words;
use super::grid::{Entry, Grid, Holds};
use super::page::Page;
use super::table::NONE;
use crate::assess::Fit;
use crate::study::mixture::Cause;
use crate::study::why::{Shared, SharedOut, Unshared, Why};

/// Signs of a bar to each side of its middle.
const HALF: usize = 7;

/// The answer to `why`; `from` and `to` are what it was asked of. With `styled` heads are bold (ANSI).
#[must_use]
pub fn why(outcome: &Result<Why<'_, '_>, Unshared<'_, '_>>, from: &Fit<'_>, to: &Fit<'_>, styled: bool) -> String {
    let mut page = Page::new(styled);
    match outcome {
        Ok(why) => shared_out(&mut page, why),
        Err(unshared) => page.paragraph(&page.bold(&words::unshared(unshared, from, to))),
    }
    page.finish()
}

fn shared_out(page: &mut Page, why: &Why<'_, '_>) {
    page.paragraph(&page.bold(&words::why_answer(why).join(" ")));
    if why.causes.is_empty() {
        return;
    }
    page.block(&table(why, page.is_styled()));
    page.item(&format!("A bar to the left takes off, one to the right adds. {}", words::SHARES_METHOD), 0);
    if why.supply_together && why.causes.contains(&Cause::Supply) {
        page.item(words::SHARES_SUPPLY, 0);
    }
    for shared_out in &why.figures {
        if let Some(reason) = words::no_figure(shared_out, why) {
            page.item(&reason, 0);
        }
    }
    page.gap();
    if why.causes.contains(&Cause::EyeSize) {
        page.item(words::NOSE, 0);
    }
    page.item(words::SAFETY, 0);
}

fn table(why: &Why<'_, '_>, styled: bool) -> String {
    let lead = words::why_leading(why);
    let [edge, centre, mass] = &why.figures;
    let (first, second) = if lead == Shared::Centre { (centre, edge) } else { (edge, centre) };
    let columns = [first, second, mass];
    let mut heads = vec![("Cause".to_owned(), Holds::Text), ("From → to".to_owned(), Holds::Text)];
    for column in columns {
        heads.push((head(column.figure).to_owned(), Holds::Figures));
        if column.figure != second.figure {
            heads.push((String::new(), Holds::Text));
        }
    }
    let mut grid = Grid::new(&heads, styled);
    let mut row = |head: String, values: String, of: &dyn Fn(&SharedOut) -> Option<f64>, bars: bool| {
        let mut entries: Vec<Entry> = vec![(head, false), (values, false)];
        for column in columns {
            let value = of(column);
            entries.push((value.map_or(NONE.to_owned(), words::signed), false));
            if column.figure != second.figure {
                let bar =
                    value.filter(|_| bars).map_or(String::new(), |value| bar(value, words::bar_length(column, value)));
                entries.push((bar, false));
            }
        }
        grid.row(entries);
    };
    for cause in words::causes_by_share(why, first) {
        row(words::cause(cause).to_owned(), words::values(cause, why), &|column| words::share_of(column, cause), true);
    }
    row("Together".to_owned(), String::new(), &words::together, false);
    grid.finish()
}

fn head(figure: Shared) -> &'static str {
    match figure {
        Shared::EdgeMax => "Edge\nmm",
        Shared::Centre => "Centre\nmm",
        Shared::Mass => "Pair\ng",
    }
}

/// A bar from a middle line: to the left below zero, to the right above. `length` is its share of a side.
fn bar(value: f64, length: f64) -> String {
    let halves = (length * 2.0 * HALF as f64).round() as usize;
    let (whole, half) = (halves / 2, halves % 2 == 1);
    let bar = |part: &str| format!("{}{}", "█".repeat(whole), if half { part } else { "" });
    if value < 0.0 {
        let left: String = bar("▐").chars().rev().collect();
        format!("{left:\u{a0}>HALF$}│")
    } else {
        format!("{:\u{a0}>HALF$}│{}", "", bar("▌"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_stand_on_one_line() {
        assert_eq!(bar(-2.0, 1.0).replace('\u{a0}', " "), "███████│");
        assert_eq!(bar(-1.0, 0.5).replace('\u{a0}', " "), "   ▐███│");
        assert_eq!(bar(0.5, 0.25).replace('\u{a0}', " "), "       │██");
        assert_eq!(bar(0.0, 0.0).replace('\u{a0}', " "), "       │");
    }
}
