//! `lens`: one lens from flags.

use super::lens_flags::LensFlags;
use super::{Exit, output, refuse};
use crate::finding::Finding;
use crate::job::{self, OneLens};
use crate::material::Shelf;
use crate::read::{OutlineFiles, flags, messages};
use crate::report::{text, wire};
use crate::study;
use std::io;

/// Judges the flags, and works the lens if they are sound.
pub(super) fn run(asked: &LensFlags, shelf: &Shelf) -> io::Result<Exit> {
    let judged = job::judge_one(flags::table(&asked.flags), shelf, &OutlineFiles::here());
    match &judged.value {
        Some(lens) => one(lens, &judged.findings, asked.json),
        None => {
            output::say(&messages::print(messages::Source { name: "", text: "" }, &judged.findings));
            Ok(refuse(&format!("{}; nothing was computed", messages::tally(&judged.findings))))
        }
    }
}

fn one(lens: &OneLens, cautions: &[Finding], json: bool) -> io::Result<Exit> {
    let outcome = study::one_lens(lens);
    if json {
        output::answer(&wire::lens_text(&outcome, &lens.lens, &lens.rx))?;
    } else {
        output::answer(&text::lens(lens, &outcome, true))?;
    }
    if !cautions.is_empty() {
        output::say(&messages::print(messages::Source { name: "", text: "" }, cautions));
    }
    Ok(Exit::Done)
}
