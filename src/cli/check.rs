//! `check`: reads and judges job files, computes nothing.

use super::{Exit, output, refuse};
use crate::material::Shelf;
use crate::read::{JobFile, messages, open_job};
use std::io;
use std::path::{Path, PathBuf};

/// What `check` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Job files
    #[arg(required = true, value_name = "JOB")]
    jobs: Vec<PathBuf>,
}

/// Judges all of them; one that is wrong makes the exit code 2.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    let mut exit = Exit::Done;
    for path in &args.jobs {
        if one(path, shelf)? != Exit::Done {
            exit = Exit::Wrong;
        }
    }
    Ok(exit)
}

fn one(path: &Path, shelf: &Shelf) -> io::Result<Exit> {
    let file = match open_job(path, shelf) {
        Ok(file) => file,
        Err(fault) => return Ok(refuse(&fault.to_string())),
    };
    output::say(&messages::print(file.source(), &file.judged.findings));
    let JobFile { name, judged, .. } = &file;
    let tally = messages::tally(&judged.findings);
    match &judged.value {
        Some(job) => {
            let combinations = job.combinations();
            let s = if combinations == 1 { "" } else { "s" };
            output::answer(&format!("{name}: {tally}; {combinations} combination{s}\n"))?;
            Ok(Exit::Done)
        }
        None => {
            output::answer(&format!("{name}: {tally}\n"))?;
            Ok(Exit::Wrong)
        }
    }
}
