//! `sweep`: one thing varied, or two, as a table and charts.

use super::chosen::{self, eye_word};
use super::progress::Progress;
use super::{Exit, output, refuse, refuse_file, sound_job};
use crate::eye::Eye;
use crate::job::{Addressed, Job};
use crate::material::Shelf;
use crate::read::{files, vary};
use crate::report::{folder, sweep_rows, text, wire, words};
use crate::study::sweep::{Asked, Show, Sweep, defaults};
use std::io;
use std::path::PathBuf;

/// What the help ends in.
pub(super) const EXAMPLES: &str = "Can be varied: eye_size_mm, depth_mm, bridge_mm, pd_mm, sphere, cylinder, axis, prism_pd, \
                                   index, base_curve_d, min_centre_mm and min_edge_mm, each as WHAT=FROM:TO:STEP; material \
                                   and supply, each as a list of words, or without one for all.\n\nExamples:\n  \
                                   rimwise sweep job.toml --vary eye_size_mm=44:56:1\n  \
                                   rimwise sweep job.toml --vary material --show edge_max_mm,mass_g --csv\n  \
                                   rimwise sweep job.toml --vary eye_size_mm=44:56:1 --vary bridge_mm=14:22:1 --out sweep\n\nTen \
                                   experiments for a trainee are in docs/guide.md.";

/// Fewer rows than this want no bar.
const LONG_ROWS: usize = 200;

/// What `sweep` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Job file
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// What is varied: WHAT=FROM:TO:STEP or WHAT=WORD,WORD; twice for two things at once
    #[arg(long, value_name = "WHAT=VALUES", required = true)]
    vary: Vec<String>,
    /// The figures shown, by their path in the JSON: pair.mass_g, right.thickness.centre_mm, or centre_mm for both eyes
    /// [left out: the leading thickness and the mass]
    #[arg(long, value_name = "FIGURE,...", value_delimiter = ',')]
    show: Vec<String>,
    /// The frame [left out: the first]
    #[arg(long, value_name = "NAME")]
    frame: Option<String>,
    /// The lens option [left out: the first]
    #[arg(long, value_name = "NAME")]
    lens: Option<String>,
    /// The eye size, where that is not varied [left out: the first]
    #[arg(long, value_name = "MM", allow_negative_numbers = true)]
    size: Option<String>,
    /// Vary powers, prism and pd of one eye alone: right or left [left out: of both]
    #[arg(long, value_name = "EYE", value_parser = eye_word())]
    eye: Option<Eye>,
    /// Write a page with the charts, index.html, the charts as SVG and PNG, sweep.csv and sweep.json, into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Print the rows as CSV
    #[arg(long, conflicts_with = "json")]
    csv: bool,
    /// Print every figure of every row as JSON
    #[arg(long)]
    json: bool,
}

/// Judges the job, and works the sweep if it is sound and has what was asked for.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    let (job, _) = match sound_job(&args.job, shelf) {
        Ok(sound) => sound,
        Err(exit) => return Ok(exit),
    };
    let (asked, shows) = match asked(args, &job, shelf) {
        Ok(asked) => asked,
        Err(exit) => return Ok(exit),
    };
    let sweep = worked(asked);
    if let Some(dir) = &args.out
        && let Err(fault) = files::write_folder(dir, |new| folder::write_sweep(&job, &sweep, &shows, new))
    {
        return Ok(refuse_file(&fault));
    }
    if args.csv {
        output::bytes(&sweep_rows::csv(&sweep, &shows))?;
    } else {
        output::answer(&if args.json { wire::sweep_text(&sweep) } else { text::sweep(&sweep, &shows, true) })?;
    }
    if let Some(dir) = &args.out {
        output::say(&format!("The page is {}.\n", dir.join(folder::PAGE).display()));
    }
    Ok(Exit::Done)
}

/// Behind a bar, where it takes long.
fn worked(asked: Asked<'_>) -> Sweep<'_> {
    let rows = asked.rows();
    if rows < LONG_ROWS {
        return Sweep::of(asked, &|| ());
    }
    let bar = Progress::over_rows(rows);
    let sweep = Sweep::of(asked, &|| bar.inc(1));
    bar.finish_and_clear();
    sweep
}

/// What is varied of which option, and what is shown.
fn asked<'j>(args: &Args, job: &'j Job, shelf: &Shelf) -> Result<(Asked<'j>, Vec<Show>), Exit> {
    let (frame, boxing) = chosen::frame(job, args.frame.as_deref(), args.size.as_deref())?;
    let option = match &args.lens {
        Some(name) => chosen::lens(job, name)?,
        // A job has one lens option or more.
        None => &job.lenses[0],
    };
    let at = Addressed { frame, boxing, option, prescription: &job.prescription };
    let refused = |fault| refuse(&words::sweep::vary_fault(&fault));
    let varied =
        args.vary.iter().map(|text| vary::vary(text, shelf)).collect::<Result<Vec<_>, _>>().map_err(refused)?;
    let asked = Asked::new(at, args.eye, varied).map_err(refused)?;
    let mut shows: Vec<Show> = Vec::new();
    for found in &args.show {
        let named = Show::named(found.trim()).map_err(|near| refuse(&words::sweep::show_fault(found, &near)))?;
        // What is named twice is shown once.
        shows.extend(
            named.into_iter().filter(|new| shows.iter().all(|there| there.id() != new.id())).collect::<Vec<_>>(),
        );
    }
    if shows.is_empty() {
        shows = defaults(&asked);
    }
    Ok((asked, shows))
}
