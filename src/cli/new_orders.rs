//! `new-orders`: invented orders to try `stock` with.

use super::{Exit, output, refuse_file};
use crate::read::files;
use crate::study::invented::{self, Orders};
use std::io::{self, Write};
use std::path::PathBuf;

/// What `new-orders` is asked.
#[derive(clap::Args, Debug)]
pub(super) struct Args {
    /// The file to write; it must not be there yet
    file: PathBuf,
    /// How many lenses, a row each
    #[arg(long, value_name = "NUMBER", default_value_t = 1000, value_parser = clap::value_parser!(u64).range(1..))]
    lenses: u64,
    /// The same seed gives the same orders
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
}

/// Writes the orders.
pub(super) fn run(args: &Args) -> io::Result<Exit> {
    let write = |out: &mut dyn Write| {
        let mut rows = csv::Writer::from_writer(out);
        rows.write_record(invented::columns())?;
        for row in Orders::new(args.lenses, args.seed) {
            rows.write_record(row)?;
        }
        rows.flush()
    };
    if let Err(fault) = files::write_new_with(&args.file, write) {
        return Ok(refuse_file(&fault));
    }
    let file = args.file.display();
    output::answer(&format!("{file}: {} invented lenses written; now run rimwise stock on it\n", args.lenses))?;
    Ok(Exit::Done)
}
