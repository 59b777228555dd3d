//! `explain`: the whole calculation for one lens, line by line.

use super::chosen::{self, eye_word};
use super::{Exit, output, refuse, refuse_file, sound_job};
use crate::assess::{Fit, Mounting};
use crate::explain::Explained;
use crate::eye::Eye;
use crate::job::{Addressed, Job, NOW};
use crate::material::Shelf;
use crate::read::files;
use crate::report::{folder, text, wire, words};
use std::io;
use std::path::PathBuf;

/// What `explain` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Job file
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// The frame; `now` is the spectacles worn now [left out: the first]
    #[arg(long, value_name = "NAME")]
    frame: Option<String>,
    /// The lens option [left out: the first]
    #[arg(long, value_name = "NAME")]
    lens: Option<String>,
    /// Which lens: right or left
    #[arg(long, value_name = "EYE", value_parser = eye_word())]
    eye: Eye,
    /// The eye size [left out: the first]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    size: Option<String>,
    /// Write a page with the mathematics set, and a drawing, index.html and explain.json, into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Print the calculation as JSON
    #[arg(long)]
    json: bool,
}

/// Judges the job, and works the lens if it is sound and has what was asked for.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    let (job, _) = match sound_job(&args.job, shelf) {
        Ok(sound) => sound,
        Err(exit) => return Ok(exit),
    };
    let at = match asked(args, &job) {
        Ok(at) => at,
        Err(exit) => return Ok(exit),
    };
    let fit = Fit::new(&Mounting::new(at.frame, at.boxing), at.prescription, at.option);
    let Some(explained) = Explained::of(&fit, args.eye) else {
        return not_made(args, &fit, args.eye);
    };
    if let Some(dir) = &args.out
        && let Err(fault) = files::write_folder(dir, |new| folder::write_explain(&job, &explained, new))
    {
        return Ok(refuse_file(&fault));
    }
    output::answer(&if args.json { wire::explain_text(&explained) } else { text::explain(&explained, true) })?;
    if let Some(dir) = &args.out {
        output::say(&format!("The page is {}.\n", dir.join(folder::PAGE).display()));
    }
    Ok(Exit::Done)
}

/// Says why there is nothing to explain: that the pair cannot be made is a result, but no page comes of it.
fn not_made(args: &Args, fit: &Fit<'_>, eye: Eye) -> io::Result<Exit> {
    let Err(why) = &fit.outcome else { return Ok(Exit::Failed) };
    let why = words::pair_impossible(why, fit);
    if args.out.is_some() {
        return Ok(refuse(&format!("{why} Nothing was written.")));
    }
    output::answer(&if args.json { wire::not_explained_text(eye, &why) } else { text::cannot(&why) })?;
    Ok(Exit::Done)
}

/// The option that is meant.
fn asked<'j>(args: &Args, job: &'j Job) -> Result<Addressed<'j>, Exit> {
    if let Some(flag) = [("--frame", &args.frame), ("--lens", &args.lens)]
        .into_iter()
        .find_map(|(flag, name)| (name.as_deref() == Some(NOW)).then_some(flag))
    {
        let other = |name: &Option<String>| name.as_deref().is_some_and(|name| name != NOW);
        if other(&args.frame) || other(&args.lens) || args.size.is_some() {
            return Err(refuse("`now` is the spectacles worn now, frame and lens; nothing else goes with it"));
        }
        return chosen::present(job, flag);
    }
    let (frame, boxing) = chosen::frame(job, args.frame.as_deref(), args.size.as_deref())?;
    let option = match &args.lens {
        Some(name) => chosen::lens(job, name)?,
        // A job has one lens option or more.
        None => &job.lenses[0],
    };
    Ok(Addressed { frame, boxing, option, prescription: &job.prescription })
}
