//! What a page says that is written anew whenever its job is saved: when that was, and what is wrong with the job as it
//! stands now. Such a page looks again by itself, which needs no script: its head says so.

use super::document;
use maud::{Markup, Render, html};

/// A page reads itself anew after so many seconds.
const AGAIN_S: u32 = 2;

/// When a page was written, and what is wrong since.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Watched {
    /// Name of the job file.
    pub job: String,
    /// When the report was written, as it is to be shown.
    pub written: String,
    /// What is wrong with the job as it stands now; the page below shows what it was before.
    pub trouble: Option<Trouble>,
    /// Does anybody still watch the job? Then the page looks again by itself.
    pub goes_on: bool,
}

/// What is wrong with a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// When it was seen, as it is to be shown.
    pub seen: String,
    /// In one line.
    pub tally: String,
    /// All of it, as the terminal has it, without styles.
    pub messages: String,
}

impl Watched {
    pub(super) fn head(&self) -> Markup {
        html! { @if self.goes_on { meta http-equiv="refresh" content=(AGAIN_S); } }
    }

    /// A page for a job that was never sound: what is wrong with it, and nothing else.
    #[must_use]
    pub fn alone(&self) -> String {
        let body = html! { header { h1 { "Lenses compared" } } };
        document("Lenses compared", None, Some(self), &body)
    }
}

impl Render for Watched {
    fn render(&self) -> Markup {
        html! {
            @if let Some(Trouble { seen, tally, messages }) = &self.trouble {
                section.trouble role="alert" aria-labelledby="trouble" {
                    h2 #trouble { "Not up to date: " (tally) }
                    p {
                        (self.job) ", as it was saved at " (seen) ", was not worked. "
                        @if self.written.is_empty() { "There is no report yet." }
                        @else { "Below is the report written at " (self.written) "." }
                    }
                    @if !messages.is_empty() { pre { (messages) } }
                }
            } @else {
                p.watched {
                    "Written at " (self.written) ". "
                    @if self.goes_on { "It is written anew whenever " (self.job) " is saved, and this page follows." }
                }
            }
        }
    }
}
