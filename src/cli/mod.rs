//! The command line: arguments in, exit code out. It only translates: what is asked goes to the library, what comes back
//! is printed.

mod check;
mod chosen;
mod compare;
mod completions;
mod explain;
mod gauge;
mod lens;
mod lens_flags;
mod limit;
mod materials;
mod new;
mod new_orders;
mod numbers;
mod output;
mod practise;
mod progress;
mod stock;
mod sweep;
mod watch;
mod why;

use crate::finding::Finding;
use crate::job::Job;
use crate::material::Shelf;
use crate::read::files::FileFault;
use crate::read::messages;
use crate::read::{JobFile, open_job, shelf};
use clap::{CommandFactory, Parser, Subcommand};
use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// How a command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Exit {
    /// It was done.
    Done = 0,
    /// Anything but what the others say.
    Failed = 1,
    /// The input or the command line is wrong; nothing was written.
    Wrong = 2,
    /// Many were to be done, and some of them were refused.
    Partly = 3,
}

/// What a spectacle prescription does in each frame: thickness, weight and shape of every lens.
#[derive(Parser, Debug)]
#[command(name = "rimwise", version, about, long_about = None, arg_required_else_help = true, max_term_width = 100)]
#[command(after_help = "To start: rimwise new job.toml, write in it what is prescribed, then rimwise compare job.toml")]
struct CommandLine {
    /// Materials of your own: a folder of ID.toml files, added to the shelf or put in the place of those of the same id
    #[arg(long, value_name = "DIR", global = true)]
    materials: Option<PathBuf>,
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand, Debug)]
enum Command {
    /// Compare every frame and eye size of a job with every lens option, both eyes
    #[command(after_help = "Example: rimwise compare job.toml --out report")]
    Compare(compare::Args),
    /// Read and judge job files without computing anything, and say all that is wrong
    #[command(after_help = "Example: rimwise check job.toml")]
    Check(check::Args),
    /// Share out the difference between two options among its causes
    #[command(after_help = "Example: rimwise why job.toml --from now --to Fennel/48/thin")]
    Why(why::Args),
    /// Say what still stays within a wish for the thickest edge: eye size, sphere, index, pd
    #[command(after_help = "Example: rimwise limit job.toml --frame Fennel --lens thin --edge-max 6")]
    Limit(limit::Args),
    /// Work one lens as a textbook would, line by line: formula, numbers, result, source, the rule of the hand beside it
    #[command(
        after_help = "Example: rimwise explain job.toml --frame Fennel --lens thin --eye right\n\nTen experiments for a trainee are in docs/guide.md."
    )]
    Explain(explain::Args),
    /// Vary one thing or two and see what comes of it: a table and a chart
    #[command(after_help = sweep::EXAMPLES)]
    Sweep(sweep::Args),
    /// Estimate many orders for a laboratory: lenses, blanks, mass and swarf
    #[command(after_help = "Example: rimwise stock orders.csv --out estimate")]
    Stock(stock::Args),
    /// Say what to hold of each blank, from dated orders; or what one diameter or base curve more would save
    #[command(after_help = stock::holding::EXAMPLES)]
    StockHolding(stock::holding::Args),
    /// Work one lens from flags
    #[command(after_help = lens_flags::EXAMPLE)]
    Lens(lens_flags::LensFlags),
    /// Write a commented job to start from
    #[command(after_help = "Example: rimwise new job.toml")]
    New(new::Args),
    /// Write invented orders, to try stock with
    #[command(after_help = "Example: rimwise new-orders orders.csv --lenses 10000 --seed 7")]
    NewOrders(new_orders::Args),
    /// Exercises for a trainee: asked here, or printed with the answers apart
    #[command(after_help = practise::EXAMPLES)]
    Practise(practise::Args),
    /// Compare calliper and lens-measure readings of a real lens: its index, or the error
    #[command(after_help = gauge::EXAMPLE)]
    Gauge(gauge::Args),
    /// List and compare the materials on the shelf
    #[command(after_help = "Example: rimwise materials --at-power -8 --at-mm 20")]
    Materials(materials::Args),
    /// Print completions for a shell
    #[command(after_help = "Example: rimwise completions bash > ~/.local/share/bash-completion/completions/rimwise")]
    Completions(completions::Args),
}

/// Runs the program with the arguments it was started with.
#[must_use]
pub fn run() -> ExitCode {
    let ended = match CommandLine::try_parse_from(numbers::joined(std::env::args_os())) {
        Ok(asked) => obey(&asked),
        Err(refused) => refused.print().map(|()| if refused.use_stderr() { Exit::Wrong } else { Exit::Done }),
    };
    match ended {
        Ok(exit) => ExitCode::from(exit as u8),
        // Whoever read the answer has read enough.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Err(error) => {
            output::say(&format!("error: {error}\n"));
            ExitCode::from(Exit::Failed as u8)
        }
    }
}

fn obey(asked: &CommandLine) -> io::Result<Exit> {
    if let Command::Compare(args) = &asked.command
        && args.watch
    {
        return watch::run(args, asked.materials.as_deref());
    }
    let shelf = match shelf(asked.materials.as_deref()) {
        Ok(shelf) => shelf,
        Err(trouble) => {
            let (messages, tally) = trouble.print();
            output::say(&messages);
            return Ok(refuse(&tally));
        }
    };
    match &asked.command {
        Command::Compare(args) => compare::run(args, &shelf),
        Command::Check(args) => check::run(args, &shelf),
        Command::Why(args) => why::run(args, &shelf),
        Command::Limit(args) => limit::run(args, &shelf),
        Command::Explain(args) => explain::run(args, &shelf),
        Command::Sweep(args) => sweep::run(args, &shelf),
        Command::Stock(args) => stock::run(args, &shelf),
        Command::StockHolding(args) => stock::holding::run(args, &shelf),
        Command::Lens(flags) => lens::run(flags, &shelf),
        Command::New(args) => new::run(args, &shelf),
        Command::NewOrders(args) => new_orders::run(args),
        Command::Practise(args) => practise::run(args),
        Command::Gauge(args) => gauge::run(args, &shelf),
        Command::Materials(args) => materials::run(args, &shelf),
        Command::Completions(args) => completions::run(args, &mut CommandLine::command()),
    }
}

/// Says why something asked for is refused.
fn refuse(why: &str) -> Exit {
    output::say(&format!("error: {why}\n"));
    Exit::Wrong
}

/// Says what is wrong with a file or folder: asked for wrongly, or not to be had for another reason.
fn refuse_file(fault: &FileFault) -> Exit {
    let exit = refuse(&fault.to_string());
    if fault.is_asked_wrongly() { exit } else { Exit::Failed }
}

/// A job without faults and its cautions; otherwise everything that is wrong has been said.
fn sound_job(path: &Path, shelf: &Shelf) -> Result<(Job, Vec<Finding>), Exit> {
    let JobFile { name, text, judged } = open_job(path, shelf).map_err(|fault| refuse(&fault.to_string()))?;
    judged.value.map(|job| (job, judged.findings.clone())).ok_or_else(|| {
        output::say(&messages::print(messages::Source { name: &name, text: &text }, &judged.findings));
        refuse(&format!("{name}: {}; nothing was computed", messages::tally(&judged.findings)))
    })
}
