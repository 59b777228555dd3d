//! `stock`: the laboratory's estimate over many orders; and the totals of parts added up.

mod estimate;
pub(super) mod holding;
mod merge;

use super::{Exit, output, refuse};
use crate::material::Shelf;
use crate::read::orders::OrdersFault;
use std::io;
use std::path::PathBuf;

/// What `stock` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// Orders as CSV, a row a lens; - reads them from standard input and, without --out, writes the lenses to standard
    /// output
    #[arg(value_name = "ORDERS", required_unless_present = "merge")]
    orders: Option<PathBuf>,
    /// Write lenses.csv, blanks.csv, totals.json, refused.csv, cautions.csv and index.html into this folder
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Add up the totals of parts, which are folders written before
    #[arg(long, value_name = "DIR", num_args = 1.., conflicts_with = "orders", requires = "out")]
    merge: Vec<PathBuf>,
}

/// Works the orders, or adds up parts.
pub(super) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    match (&args.orders, &args.out) {
        (None, Some(out)) => merge::run(&args.merge, out),
        (Some(orders), None) if orders.as_os_str() == estimate::STANDARD_INPUT => estimate::filter(shelf),
        (Some(orders), Some(out)) => estimate::into_folder(orders, out, shelf),
        _ => Ok(refuse("where shall it be written? Add --out DIR")),
    }
}

/// Says why orders cannot be read.
fn refuse_orders(name: &str, fault: &OrdersFault) -> Exit {
    let lines: Vec<String> = fault.to_string().lines().map(|line| format!("error: {name}: {line}\n")).collect();
    output::say(&lines.concat());
    match fault {
        OrdersFault::Other(_) => Exit::Failed,
        OrdersFault::Header(_) | OrdersFault::Endless { .. } => Exit::Wrong,
    }
}
