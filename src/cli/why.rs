//! `why`: the difference between two options, shared out among its causes.

use super::{Exit, output, refuse, sound_job};
use crate::assess::{Fit, Mounting};
use crate::job::{Addressed, Job};
use crate::material::Shelf;
use crate::report::{text, wire, words};
use crate::study::why::why;
use std::io;
use std::path::PathBuf;

/// What `why` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Job file
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// The option to start from; `now` is the spectacles worn now
    #[arg(long, value_name = "FRAME/SIZE/LENS")]
    from: String,
    /// The option to explain
    #[arg(long, value_name = "FRAME/SIZE/LENS")]
    to: String,
    /// Print the shares as JSON
    #[arg(long)]
    json: bool,
}

/// Judges the job, and shares out if it is sound and has both options.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    let (job, _) = match sound_job(&args.job, shelf) {
        Ok(sound) => sound,
        Err(exit) => return Ok(exit),
    };
    let ends = addressed(&job, "--from", &args.from).and_then(|from| Ok((from, addressed(&job, "--to", &args.to)?)));
    let (from, to) = match ends {
        Ok(ends) => ends,
        Err(exit) => return Ok(exit),
    };
    let (from, to) = (fit(&from), fit(&to));
    let outcome = why(&from, &to);
    output::answer(&if args.json {
        wire::why_text(&outcome, &from, &to)
    } else {
        text::why(&outcome, &from, &to, true)
    })?;
    Ok(Exit::Done)
}

fn addressed<'a>(job: &'a Job, flag: &str, address: &str) -> Result<Addressed<'a>, Exit> {
    job.at(address).map_err(|fault| refuse(&words::address_fault(flag, address, &fault)))
}

fn fit<'a>(at: &Addressed<'a>) -> Fit<'a> {
    Fit::new(&Mounting::new(at.frame, at.boxing), at.prescription, at.option)
}
