//! The whole calculation for one lens, line by line.
//!
//! Units: behind every number.

use super::super::words;
use super::page::{Page, WIDTH};
use crate::explain::{Explained, Line};

/// The calculation. With `styled` heads and results are bold (ANSI).
#[must_use]
pub fn explain(explained: &Explained<'_>, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.paragraph(&page.bold(&words::explain_answer(explained)));
    page.paragraph(words::EXPLAIN_METHOD);
    for part in explained.lines.chunk_by(|a, b| a.section == b.section) {
        let section = part[0].section;
        page.gap();
        page.line(&page.bold(words::explain_section(section)));
        if let Some(lead) = words::explain_lead(section) {
            page.item(lead, 0);
        }
        page.gap();
        part.iter().for_each(|line| page.worked(line, &explained.lines));
    }
    page.gap();
    page.item(words::SAFETY, 0);
    page.finish()
}

/// Why a lens cannot be made, in place of its calculation.
#[must_use]
pub fn cannot(why: &str) -> String {
    let mut page = Page::new(false);
    page.item(why, 0);
    page.finish()
}

impl Page {
    /// What it is and its source, at both ends of a row; under it the formula, and the rule of the hand.
    fn worked(&mut self, line: &Line, lines: &[Line]) {
        let head = &line.head;
        let meaning = words::capital(&head.meaning);
        let taken = meaning.chars().count() + head.source.chars().count() + 2;
        if taken <= WIDTH {
            let space = " ".repeat(WIDTH - taken + 2);
            self.line(&format!("{meaning}{space}{}", head.source));
        } else {
            self.item(&meaning, 2);
            self.line(&format!("{:>WIDTH$}", head.source));
        }
        let marked = words::explain_marked(line).map_or(String::new(), |marked| format!("  [{marked}]"));
        self.item(&format!("    {}{marked}", words::explain_row(line, lines)), 8);
        if let Some(rule) = &line.by_hand {
            self.item(&format!("    {}", words::explain_by_hand(line, rule, lines)), 8);
        }
    }
}
