//! `lens`: one lens from flags.

use super::lens_flags::LensFlags;
use super::{Exit, output, refuse, refuse_file};
use crate::finding::Finding;
use crate::job::{self, OneLens};
use crate::material::Shelf;
use crate::read::{OutlineFiles, files, flags, messages};
use crate::report::{pictures, text, wire};
use crate::study;
use std::io;

/// Judges the flags, and works the lens if they are sound.
pub(super) fn run(asked: &LensFlags, shelf: &Shelf) -> io::Result<Exit> {
    let judged = job::judge_one(flags::table(&asked.flags), shelf, &OutlineFiles::here());
    match &judged.value {
        Some(lens) => one(lens, &judged.findings, asked),
        None => {
            output::say(&messages::print(messages::Source { name: "", text: "" }, &judged.findings));
            Ok(refuse(&format!("{}; nothing was computed", messages::tally(&judged.findings))))
        }
    }
}

fn one(lens: &OneLens, cautions: &[Finding], asked: &LensFlags) -> io::Result<Exit> {
    let outcome = study::one_lens(lens);
    if let (Ok(made), Some((deg, path))) = (&outcome, &asked.profile) {
        let Some(picture) = pictures::edge_profile(lens, made, *deg) else {
            return Ok(refuse(&format!("the edge at {deg}° could not be drawn")));
        };
        if let Err(fault) = files::write_new(path, picture.to_file().as_bytes()) {
            return Ok(refuse_file(&fault));
        }
    }
    if let (Ok(made), Some(path)) = (&outcome, &asked.layout)
        && let Err(fault) = files::write_new(path, pictures::layout_card(lens, made).to_file().as_bytes())
    {
        return Ok(refuse_file(&fault));
    }
    if asked.json {
        output::answer(&wire::lens_text(&outcome, lens))?;
    } else {
        output::answer(&text::lens(lens, &outcome, true))?;
    }
    let drawn = [(asked.profile.as_ref().map(|(_, path)| path), "edge"), (asked.layout.as_ref(), "layout")];
    for (path, what) in drawn.into_iter().filter_map(|(path, what)| Some((path?, what))) {
        output::say(&match outcome {
            Ok(_) => format!("The {what} is drawn in {}.\n", path.display()),
            Err(_) => format!("{} was not written: this lens cannot be made.\n", path.display()),
        });
    }
    if !cautions.is_empty() {
        output::say(&messages::print(messages::Source { name: "", text: "" }, cautions));
    }
    Ok(Exit::Done)
}
