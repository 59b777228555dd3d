//! `stock-holding`: what to hold of each blank, from dated orders; and what one more on the shelf would save.

use super::super::{Exit, output, refuse, refuse_file};
use super::estimate::{Beside, Stopped, csv_line, open, outlines, work};
use super::refuse_orders;
use crate::cli::progress::Progress;
use crate::material::Shelf;
use crate::report::{holding as told, one_more as told_of_more};
use crate::study::holding::{History, Wish};
use crate::study::one_more::{Additions, Effects};
use std::io;
use std::path::PathBuf;

/// What `stock-holding` is asked.
#[derive(clap::Args, Debug)]
pub(in crate::cli) struct Args {
    /// Orders as CSV, a row a lens, with the column date; - reads them from standard input
    #[arg(value_name = "ORDERS")]
    orders: PathBuf,
    /// Weeks from ordering a blank to having it
    #[arg(long, value_name = "WEEKS", default_value_t = 2, value_parser = clap::value_parser!(u8).range(1..=26))]
    lead_weeks: u8,
    /// The share of such times over which the stock shall last, from 50 to 99.9
    #[arg(long, value_name = "PERCENT", default_value_t = 98.0)]
    service: f64,
    /// The same seed draws the same weeks
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// Say instead what one diameter or one base curve more of each material would save, each tried alone on these orders
    #[arg(long)]
    one_more: bool,
}

/// Shown under the help.
pub(in crate::cli) const EXAMPLES: &str = "Examples:
  rimwise stock-holding orders.csv --lead-weeks 2 --service 98
  rimwise stock-holding orders.csv --one-more > additions.csv";

/// Service levels that can be asked for, percent.
const SERVICE: [f64; 2] = [50.0, 99.9];

/// Works the orders, and says what to hold.
pub(in crate::cli) fn run(args: &Args, shelf: &Shelf) -> io::Result<Exit> {
    let [least, most] = SERVICE;
    if !(args.service >= least && args.service <= most) {
        return Ok(refuse(&format!("--service is {}; allowed is {least} to {most}", args.service)));
    }
    let (orders, bytes) = match open(&args.orders) {
        Ok(source) => source,
        Err(fault) => return Ok(refuse_file(&fault)),
    };
    let progress = Progress::over(bytes);
    let (mut history, mut effects) = (History::default(), Effects::default());
    let additions = if args.one_more { Additions::of(shelf) } else { Additions::default() };
    let beside = if args.one_more { Beside::OneMore(&additions) } else { Beside::Dates };
    let worked = work(progress.reading(orders), shelf, outlines(&args.orders), beside, |part| {
        progress.done(part.totals.rows, part.totals.refused);
        history.add(std::mem::take(&mut part.history));
        effects.add(std::mem::take(&mut part.effects));
        Ok(())
    });
    progress.finish();
    let name = args.orders.display().to_string();
    let refused = match worked {
        Ok(totals) => totals.refused,
        Err(Stopped::Orders(fault)) => return Ok(refuse_orders(&name, &fault)),
        Err(Stopped::Folder(fault)) => return Ok(refuse_file(&fault)),
        Err(Stopped::Answer(error)) => return Err(error),
    };
    let wish = Wish { lead_weeks: usize::from(args.lead_weeks), service: args.service / 100.0, seed: args.seed };
    if history.weeks() < wish.lead_weeks {
        let weeks = history.weeks();
        return Ok(refuse(&format!(
            "{name}: whole weeks that are dated: {weeks}; the lead time alone is {}. Give orders over a longer time, best a \
             year, or a shorter --lead-weeks",
            wish.lead_weeks
        )));
    }
    if args.one_more {
        return tell_of_more(&history, &additions, &effects, &wish, refused);
    }
    tell(&history, &wish, shelf, refused)
}

fn tell_of_more(
    history: &History,
    additions: &Additions,
    effects: &Effects,
    wish: &Wish,
    refused: u64,
) -> io::Result<Exit> {
    let ranked = effects.ranked(additions, history, wish);
    let mut text = csv_line(&told_of_more::COLUMNS);
    for weighed in &ranked {
        text.extend(csv_line(&told_of_more::row(weighed, history)));
    }
    output::bytes(&text)?;
    for sentence in told_of_more::sentences(history, &ranked, wish, refused) {
        output::say(&format!("{sentence}\n"));
    }
    Ok(if refused == 0 { Exit::Done } else { Exit::Partly })
}

fn tell(history: &History, wish: &Wish, shelf: &Shelf, refused: u64) -> io::Result<Exit> {
    let holdings = history.holdings(wish);
    let unsold = told::never_sold(history, shelf);
    let mut text = csv_line(&told::COLUMNS);
    for row in holdings.iter().map(told::row).chain(unsold.iter().map(told::unsold_row)) {
        text.extend(csv_line(&row));
    }
    output::bytes(&text)?;
    for sentence in told::sentences(history, &holdings, unsold.len(), wish, refused) {
        output::say(&format!("{sentence}\n"));
    }
    Ok(if refused == 0 { Exit::Done } else { Exit::Partly })
}
