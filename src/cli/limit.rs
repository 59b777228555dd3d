//! `limit`: what still stays within a wish for the thickest edge.

use super::chosen;
use super::numbers::decimal;
use super::{Exit, output, refuse, refuse_file, sound_job};
use crate::choose::LensOption;
use crate::frame::{Boxing, Frame};
use crate::job::{Addressed, Job};
use crate::material::Shelf;
use crate::read::files;
use crate::report::{folder, text, wire};
use crate::study::limit::Limits;
use std::io;
use std::path::PathBuf;

/// Wishes beyond these are slips of the pen, mm.
const WISHES_MM: [f64; 2] = [0.3, 40.0];

/// What `limit` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Job file
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// The frame [left out: the first]
    #[arg(long, value_name = "NAME")]
    frame: Option<String>,
    /// The lens option [left out: all of them side by side]
    #[arg(long, value_name = "NAME")]
    lens: Option<String>,
    /// The wish: the thickest edge of either eye shall not pass it
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = decimal)]
    edge_max: f64,
    /// The eye size at which sphere, index and pd are looked for [left out: the first]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    size: Option<String>,
    /// Write a page with a chart for each limit, index.html and limit.json, into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Print the limits as JSON
    #[arg(long)]
    json: bool,
}

/// Judges the job, and looks for limits if it is sound and has what was asked for.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    let (job, _) = match sound_job(&args.job, shelf) {
        Ok(sound) => sound,
        Err(exit) => return Ok(exit),
    };
    let [least, most] = WISHES_MM;
    if !(args.edge_max >= least && args.edge_max <= most) {
        return Ok(refuse(&format!("--edge-max is {}; allowed is {least} to {most}", args.edge_max)));
    }
    let (frame, boxing, options) = match asked(args, &job) {
        Ok(asked) => asked,
        Err(exit) => return Ok(exit),
    };
    let at = |option| Addressed { frame, boxing, option, prescription: &job.prescription };
    let limits = Limits::of(&options.iter().map(at).collect::<Vec<_>>(), args.edge_max, shelf);
    if let Some(dir) = &args.out
        && let Err(fault) = files::write_folder(dir, |new| folder::write_limit(&job, &limits, new))
    {
        return Ok(refuse_file(&fault));
    }
    output::answer(&if args.json { wire::limit_text(&limits) } else { text::limit(&limits, true) })?;
    if let Some(dir) = &args.out {
        output::say(&format!("The page is {}.\n", dir.join(folder::PAGE).display()));
    }
    Ok(Exit::Done)
}

/// The frame, its size and the lens options that are meant.
fn asked<'j>(args: &Args, job: &'j Job) -> Result<(&'j Frame, Boxing, &'j [LensOption]), Exit> {
    let (frame, boxing) = chosen::frame(job, args.frame.as_deref(), args.size.as_deref())?;
    let options = match &args.lens {
        Some(name) => std::slice::from_ref(chosen::lens(job, name)?),
        None => &job.lenses,
    };
    Ok((frame, boxing, options))
}
