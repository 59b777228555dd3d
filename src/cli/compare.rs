//! `compare`: every frame and eye size with every lens option.

use super::{Exit, output, refuse, refuse_file, sound_job};
use crate::finding::Finding;
use crate::job::{self, Job};
use crate::material::Shelf;
use crate::read::files;
use crate::report::findings::sentence;
use crate::report::{folder, text, wire};
use crate::study::compare::Comparison;
use std::io;
use std::path::PathBuf;

/// What `compare` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Job file
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// Write a report with drawings, index.html and result.json, into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Print the results as JSON
    #[arg(long)]
    json: bool,
}

/// Judges the job, and compares if it is sound.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    let (job, cautions) = match sound_job(&args.job, shelf) {
        Ok(sound) => sound,
        Err(exit) => return Ok(exit),
    };
    if let Some(finding) = job::limits(&job, args.out.is_some()) {
        return Ok(refuse(&format!("{}: {}", args.job.display(), sentence(&finding, Some(&job)))));
    }
    compare(&job, &cautions, args)
}

fn compare(job: &Job, cautions: &[Finding], args: &Args) -> io::Result<Exit> {
    let comparison = Comparison::of(job);
    if let Some(dir) = &args.out
        && let Err(fault) = files::write_folder(dir, |new| folder::write(&comparison, cautions, new))
    {
        return Ok(refuse_file(&fault));
    }
    if args.json {
        output::answer(&wire::compare_text(&comparison, cautions))?;
    } else {
        output::answer(&text::compare(&comparison, cautions, true))?;
    }
    if let Some(dir) = &args.out {
        output::say(&format!("The report is {}.\n", dir.join("index.html").display()));
    }
    Ok(Exit::Done)
}
