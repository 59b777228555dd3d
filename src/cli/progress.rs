//! How far a run is, on a terminal and nowhere else.

use indicatif::{ProgressBar, ProgressBarIter, ProgressStyle};
use std::cell::Cell;
use std::io::Read;

/// Bytes read of all, with rows done and refused.
pub(super) struct Progress {
    bar: ProgressBar,
    rows: Cell<u64>,
    refused: Cell<u64>,
}

impl Progress {
    /// Over so many bytes, where that is known. The bar hides itself where standard error is no terminal.
    pub(super) fn over(bytes: Option<u64>) -> Progress {
        let (bar, form) = match bytes {
            Some(bytes) => (ProgressBar::new(bytes), "{bar:30} {percent:>3} %  {msg}, {eta} left"),
            None => (ProgressBar::new_spinner(), "{spinner} {msg}"),
        };
        let style = ProgressStyle::with_template(form).unwrap_or_else(|_| ProgressStyle::default_bar());
        Progress { bar: bar.with_style(style), rows: Cell::new(0), refused: Cell::new(0) }
    }

    /// Over so many rows of a kind. The bar hides itself where standard error is no terminal.
    pub(super) fn over_rows(rows: usize) -> ProgressBar {
        let form = "{bar:30} {percent:>3} %  {human_pos} of {human_len}, {eta} left";
        let style = ProgressStyle::with_template(form).unwrap_or_else(|_| ProgressStyle::default_bar());
        ProgressBar::new(rows as u64).with_style(style)
    }

    /// Reads through it.
    pub(super) fn reading<R: Read>(&self, from: R) -> ProgressBarIter<R> {
        self.bar.wrap_read(from)
    }

    /// So many rows more were done, some of them refused.
    pub(super) fn done(&self, rows: u64, refused: u64) {
        self.rows.set(self.rows.get() + rows);
        self.refused.set(self.refused.get() + refused);
        if !self.bar.is_hidden() {
            self.bar.set_message(format!("{} rows, {} refused", self.rows.get(), self.refused.get()));
        }
    }

    /// Takes the bar away.
    pub(super) fn finish(&self) {
        self.bar.finish_and_clear();
    }
}
