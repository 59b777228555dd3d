//! Answers in the terminal: the answer first, then the table, then the notes. 100 columns, readable without colour:
//! styled text differs from plain text in bold alone.
//!
//! Units: in the heads of the columns and behind every number.

mod explain;
mod gauge;
mod grid;
mod limit;
mod page;
pub mod practise;
mod sweep;
mod table;
mod why;

pub use explain::{cannot, explain};
pub use gauge::gauge;
pub use limit::limit;
pub use page::WIDTH;
pub use sweep::sweep;
pub use why::why;

use super::notes::{Notes, WORST};
use super::number::{self, figure, grams, mm, shown, size};
use super::promise::Promise;
use super::{findings, words};
use crate::advice::{self, Subject};
use crate::assess::{Impossible, LabWork, Made, Mounting};
use crate::choose::LensOption;
use crate::choose::base;
use crate::eye::Eye;
use crate::figures::{self, Figure};
use crate::finding::Finding;
use crate::job::{Job, OneLens};
use crate::rx::{EyeRx, Prescription};
use crate::study;
use crate::study::compare::Comparison;
use crate::study::lessons::{self, Lesson};
use grid::{Entry, Grid, Holds};
use page::Page;

/// More options than this are no choice on a screen; the page lists all.
const MOST_LEFT: usize = 8;

/// The answer to `compare`; the findings are those of a job without a fault. With `styled` heads and the best figures are
/// bold (ANSI).
#[must_use]
pub fn compare(comparison: &Comparison<'_>, findings: &[Finding], styled: bool) -> String {
    let learned = lessons::lessons(comparison);
    let notes = Notes::of(comparison);
    let mut page = Page::new(styled);
    page.head(comparison.job);
    page.paragraph(&page.bold(&words::answer(comparison, &learned).join(" ")));
    if let Some(likened) = words::likened(comparison) {
        page.paragraph(&likened);
    }
    if let Some(told) = Promise::of(comparison).and_then(|promise| promise.told(comparison)) {
        page.paragraph(&format!("{} {told}", page.bold("How sure:")));
    }
    page.block(&table::table(comparison, &notes, styled));
    page.item(&table::legend(comparison), 0);
    page.gap();
    if !matches!(learned[..], [Lesson::Alike { .. }]) {
        page.choosing(comparison);
    }
    for told in words::lessons(comparison, &learned) {
        let title = page.bold(&format!("{} ({}).", told.title, told.trade));
        let reason = told.reason.map(|reason| format!(" {reason}")).unwrap_or_default();
        page.paragraph(&format!("{title} {}{reason}", told.text));
    }
    page.notes(&notes, findings, comparison.job);
    page.options(comparison.job);
    page.gap();
    page.item(words::SAFETY, 0);
    page.finish()
}

/// The answer to `lens`.
#[must_use]
pub fn lens(one: &OneLens, outcome: &Result<Made, Impossible>, styled: bool) -> String {
    let mut page = Page::new(styled);
    page.line(&prescribed(one.eye, &one.rx, 0));
    page.gap();
    match outcome {
        Ok(made) => page.made(one, made),
        Err(why) => {
            let why = words::capital(&words::impossible(why, &one.lens, &one.rx.power));
            page.paragraph(&page.bold(&format!("This lens cannot be made. {why}")));
        }
    }
    page.finish()
}

impl Page {
    /// What is left to choose between: all of them where they are few, else the first of them.
    fn choosing(&mut self, comparison: &Comparison<'_>) {
        let Some(choosing) = words::choosing(comparison) else { return };
        let title = self.bold("What is left to choose between.");
        self.item(&format!("{title} {}", choosing.lead), 0);
        for left in choosing.left.iter().take(MOST_LEFT) {
            let best = if left.best_at.is_empty() { String::new() } else { format!(": {}", left.best_at.join(", ")) };
            self.item(&format!("  {}, {}{best}", left.option, left.numbers), 4);
        }
        if let Some(more) = choosing.left.len().checked_sub(MOST_LEFT).filter(|more| *more > 0) {
            self.item(&format!("  and {more} more"), 4);
        }
        self.gap();
    }

    fn head(&mut self, job: &Job) {
        let parts: Vec<&str> = [&job.reference, &job.date].into_iter().flatten().map(String::as_str).collect();
        if !parts.is_empty() {
            self.line(&parts.join(", "));
        }
        self.prescription(&job.prescription);
        if let Some(worn_for) = job.present.as_ref().and_then(|present| present.prescription.as_ref()) {
            self.line("The spectacles worn now were made for:");
            self.prescription(worn_for);
        }
        self.gap();
    }

    fn prescription(&mut self, prescription: &Prescription) {
        let power = |rx: &EyeRx| words::power(&rx.power).chars().count();
        let width = prescription.eyes.iter().map(|(_, rx)| power(rx)).max().unwrap_or(0);
        for (eye, rx) in prescription.eyes.iter() {
            self.line(&prescribed(eye, rx, width));
        }
    }

    fn notes(&mut self, notes: &Notes, findings: &[Finding], job: &Job) {
        if notes.notes.is_empty() && findings.is_empty() {
            return;
        }
        self.line(&self.bold("Notes"));
        if notes.worst {
            self.item(WORST, 0);
        }
        for (i, note) in notes.notes.iter().enumerate() {
            self.item(&format!("{:>2}  {}: {}", i + 1, words::capital(note.head()), note.text), 4);
        }
        for finding in findings {
            let head = words::capital(finding.severity().word());
            self.item(&format!(" –  {head}: {}", findings::sentence(finding, Some(job))), 4);
        }
        self.gap();
    }

    /// What the lens options are made of, and on which curves.
    fn options(&mut self, job: &Job) {
        let priced = job.lenses.iter().any(|option| option.price.is_some());
        let mut heads: Vec<(String, Holds)> = ["Lens", "Material"].map(|head| (head.to_owned(), Holds::Text)).into();
        let figures = ["Index", "Abbe", "g/cm³", "Base R", "Base L"];
        heads.extend(figures.map(|head| (head.to_owned(), Holds::Figures)));
        if priced {
            heads.push(("Price".to_owned(), Holds::Figures));
        }
        heads.push(("Made".to_owned(), Holds::Text));
        let mut grid = Grid::new(&heads, self.is_styled());
        for option in &job.lenses {
            grid.row(option_entries(option, &job.prescription, priced));
        }
        self.block(&grid.finish());
        for reason in words::bases(&job.lenses, &job.prescription) {
            self.item(&reason, 0);
        }
    }

    fn made(&mut self, one: &OneLens, made: &Made) {
        let centre = made.thickness.centre_mm.map_or(String::new(), |value| format!(", {} in the middle", mm(value)));
        let edge = mm(made.thickness.edges.max.thickness_mm);
        self.paragraph(&self.bold(&format!("{edge} at the thickest edge{centre}, {}.", grams(made.mass_g))));
        let work = study::lab_work_of_one(one, made);
        self.block(&figures_of(made, &work, self.is_styled()));
        self.gap();
        for clause in [words::base(&made.base), words::thickness(made, &one.lens)] {
            self.item(&format!("{}.", words::capital(&clause)), 0);
        }
        for said in words::workshop(made, one.eye, &work.surfacing) {
            self.item(&said, 0);
        }
        let mounting = Mounting::new(&one.frame, one.frame.sizes[0]);
        let outline = mounting.outlines.of(one.eye);
        let (frame, option) = (&one.frame, &one.lens);
        let subject = Subject { frame, outline, eye: one.eye, option, line: one.reference_line };
        for caution in advice::of_lens(&subject, made).iter().filter(|caution| !caution.rule.judged) {
            let head = words::capital(words::severity(caution.rule.severity));
            self.item(&format!("{head}: {}", words::caution(caution)), 0);
        }
    }
}

/// "R  −6.25 −1.50 × 175   pd 31.5 mm", the power filled up to `width` signs.
fn prescribed(eye: Eye, rx: &EyeRx, width: usize) -> String {
    let prism = words::prism(rx.prism, eye).map(|prism| format!("   prism {prism}")).unwrap_or_default();
    format!("{}  {:width$}   {}{prism}", eye.letter(), words::power(&rx.power), words::pd(rx))
}

fn option_entries(option: &LensOption, prescription: &Prescription, priced: bool) -> Vec<Entry> {
    let glass = option.substance.glass(prescription.reference_line);
    let bases = base::pair(option, &prescription.eyes.map(|rx| rx.power));
    let curve = |eye| bases.of(eye).map_or(table::NONE.to_owned(), |base| figure(base.base_curve_d, 2));
    let mut entries = vec![
        option.name.clone(),
        words::substance(option),
        figure(glass.index, 3),
        figure(glass.abbe, 1),
        figure(glass.density, 2),
        curve(Eye::Right),
        curve(Eye::Left),
    ];
    if priced {
        entries.push(option.price.map_or(String::new(), size));
    }
    entries.push(words::supply(option.supply).to_owned());
    entries.into_iter().map(|text| (text, false)).collect()
}

/// All figures of a lens, a row each.
fn figures_of(made: &Made, work: &LabWork, styled: bool) -> String {
    let heads = [("Figure", Holds::Text), ("Value", Holds::Figures), ("Unit", Holds::Text)];
    let mut grid = Grid::new(&heads.map(|(head, holds)| (head.to_owned(), holds)), styled);
    for figure in figures::OF_EYE {
        grid.row(row(figure, made));
    }
    for figure in figures::OF_EDGING {
        grid.row(row(figure, &work.edging));
    }
    for figure in figures::OF_SURFACING {
        grid.row(row(figure, &work.surfacing));
    }
    number::plain(&grid.finish())
}

fn row<T>(figure: &Figure<T>, of: &T) -> Vec<Entry> {
    let value = (figure.read)(of).map_or(table::NONE.to_owned(), |value| shown(figure, value));
    let row = [words::capital(figure.name), value, figure.unit.symbol().to_owned()];
    row.into_iter().map(|text| (text, false)).collect()
}
