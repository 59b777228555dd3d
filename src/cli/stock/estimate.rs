//! Orders in, lenses out, as they come: one thread reads, all others work, and what is done is written in the order of the
//! rows. No more than a few thousand rows are held at a time.

use super::super::{Exit, output, refuse_file};
use super::refuse_orders;
use crate::assess::Impossible;
use crate::cli::progress::Progress;
use crate::job::Order;
use crate::material::Shelf;
use crate::read::OutlineFiles;
use crate::read::files::{self, FileFault, NewFolder, write_folder};
use crate::read::orders::{Header, HeaderFault, Orders as Reader, OrdersFault, Row, Unit};
use crate::report::folder::Store;
use crate::report::{html, orders as told, wire};
use crate::study::holding::History;
use crate::study::one_more::{Additions, Asked, Effects};
use crate::study::orders::{Orders, Worked};
use crate::study::totals::{Group, Totals};
use rayon::prelude::*;
use std::io::{self, Read};
use std::path::Path;
use std::sync::mpsc::{Receiver, sync_channel};

/// What stands for standard input in place of a file's name.
pub(super) const STANDARD_INPUT: &str = "-";

/// Orders that are read at a time, and that one thread works at a time.
const AT_A_TIME: usize = 2048;
const OF_ONE_THREAD: usize = 64;
/// Batches read ahead.
const AHEAD: usize = 2;

/// What becomes of some orders.
#[derive(Default)]
pub(super) struct Part {
    lenses: Vec<u8>,
    refused: Vec<u8>,
    cautions: Vec<u8>,
    pub(super) totals: Totals,
    /// Where it is asked for.
    pub(super) history: History,
    /// Where it is asked for.
    pub(super) effects: Effects,
}

/// What is asked of orders beside the lenses themselves.
#[derive(Clone, Copy)]
pub(super) enum Beside<'a> {
    /// Nothing.
    Nothing,
    /// When they were ordered.
    Dates,
    /// When they were ordered, and what these would save.
    OneMore(&'a Additions),
}

/// Why a run ends before its time.
pub(super) enum Stopped {
    /// The orders cannot be read on.
    Orders(OrdersFault),
    /// The folder cannot be written.
    Folder(FileFault),
    /// Standard output cannot be written.
    Answer(io::Error),
}

impl From<FileFault> for Stopped {
    fn from(fault: FileFault) -> Stopped {
        Stopped::Folder(fault)
    }
}

/// All that work on a row needs.
struct Desk<'a> {
    header: Header,
    shelf: &'a Shelf,
    outlines: OutlineFiles,
    orders: Orders,
    beside: Beside<'a>,
}

/// Orders to be read, and how many bytes they have where that is known.
pub(super) type Source = (Box<dyn Read + Send>, Option<u64>);

/// The orders of a file, or with `-` those that come from standard input.
pub(super) fn open(path: &Path) -> Result<Source, FileFault> {
    if path.as_os_str() == STANDARD_INPUT {
        return Ok((Box::new(io::stdin()), None));
    }
    let file = files::open_orders(path)?;
    let bytes = file.metadata().ok().filter(std::fs::Metadata::is_file).map(|about| about.len());
    Ok((Box::new(file), bytes))
}

/// The outline files that orders name lie beside them; where they come from standard input, where the program was started.
pub(super) fn outlines(path: &Path) -> OutlineFiles {
    if path.as_os_str() == STANDARD_INPUT { OutlineFiles::here() } else { OutlineFiles::beside(path) }
}

/// Works orders into a folder.
pub(super) fn into_folder(path: &Path, out: &Path, shelf: &Shelf) -> io::Result<Exit> {
    let (orders, bytes) = match open(path) {
        Ok(source) => source,
        Err(fault) => return Ok(refuse_file(&fault)),
    };
    let progress = Progress::over(bytes);
    let name = path.display().to_string();
    let mut done = Totals::default();
    let written = write_folder(out, |new| {
        new.add("lenses.csv", &csv_line(&told::LENSES))?;
        new.add("refused.csv", &csv_line(&told::REFUSED))?;
        new.add("cautions.csv", &csv_line(&told::CAUTIONS))?;
        let totals = work(progress.reading(orders), shelf, outlines(path), Beside::Nothing, |part| {
            progress.done(part.totals.rows, part.totals.refused);
            new.add("lenses.csv", &part.lenses)?;
            new.add("refused.csv", &part.refused)?;
            Ok(new.add("cautions.csv", &part.cautions)?)
        })?;
        write_totals(new, &totals)?;
        done = totals;
        Ok(())
    });
    progress.finish();
    Ok(match written {
        Ok(()) => told_of(out, &done)?,
        Err(Stopped::Orders(fault)) => refuse_orders(&name, &fault),
        Err(Stopped::Folder(fault)) => refuse_file(&fault),
        Err(Stopped::Answer(error)) => return Err(error),
    })
}

/// Says what it came to and where it stands.
pub(super) fn told_of(out: &Path, totals: &Totals) -> io::Result<Exit> {
    output::answer(&format!("{}\n", told::sentences(totals).join("\n")))?;
    output::say(&format!("The summary is {}.\n", out.join("index.html").display()));
    Ok(if totals.refused == 0 { Exit::Done } else { Exit::Partly })
}

/// Totals, blanks and the page.
pub(super) fn write_totals(new: &NewFolder, totals: &Totals) -> Result<(), FileFault> {
    let mut blanks = csv_line(&told::BLANKS);
    for record in told::blanks(totals) {
        blanks.extend(csv_line(&record));
    }
    new.put("blanks.csv", &blanks)?;
    new.put("totals.json", wire::totals_text(totals).as_bytes())?;
    for chart in html::order_charts(totals) {
        new.put(&format!("{}.svg", chart.kind), chart.to_file().as_bytes())?;
    }
    new.put("index.html", html::orders(totals).as_bytes())
}

/// Works orders from standard input onto standard output.
pub(super) fn filter(shelf: &Shelf) -> io::Result<Exit> {
    let mut written = false;
    let mut begun = false;
    let worked = work(io::stdin(), shelf, OutlineFiles::here(), Beside::Nothing, |part| {
        if !begun {
            begun = true;
            output::bytes(&csv_line(&told::LENSES)).map_err(Stopped::Answer)?;
        }
        if !part.refused.is_empty() && !written {
            written = true;
            output::say(&String::from_utf8_lossy(&csv_line(&told::REFUSED)));
        }
        output::say(&String::from_utf8_lossy(&part.refused));
        output::bytes(&part.lenses).map_err(Stopped::Answer)
    });
    match worked {
        Ok(totals) if totals.refused > 0 => Ok(Exit::Partly),
        Ok(_) if begun => Ok(Exit::Done),
        Ok(_) => output::bytes(&csv_line(&told::LENSES)).map(|()| Exit::Done),
        Err(Stopped::Orders(fault)) => Ok(refuse_orders("standard input", &fault)),
        Err(Stopped::Folder(fault)) => Ok(refuse_file(&fault)),
        Err(Stopped::Answer(error)) => Err(error),
    }
}

/// Reads, works and hands on part by part, in the order of the rows; gives back the totals.
pub(super) fn work(
    from: impl Read + Send + 'static,
    shelf: &Shelf,
    outlines: OutlineFiles,
    beside: Beside<'_>,
    mut hand_on: impl FnMut(&mut Part) -> Result<(), Stopped>,
) -> Result<Totals, Stopped> {
    let (header, batches) = read_ahead(from);
    let ended = |_| Stopped::Orders(OrdersFault::Other(io::Error::other("the orders were not read to their end")));
    let header = header.recv().map_err(ended)?.map_err(Stopped::Orders)?;
    if !(matches!(beside, Beside::Nothing) || header.is_dated()) {
        return Err(Stopped::Orders(OrdersFault::Header(vec![HeaderFault::Undated])));
    }
    let desk = Desk { header, shelf, outlines, orders: Orders::default(), beside };
    let mut totals = Totals::default();
    loop {
        let units = batches.recv().map_err(ended)?.map_err(Stopped::Orders)?;
        if units.is_empty() {
            return Ok(totals);
        }
        let parts: Vec<Part> = units.par_chunks(OF_ONE_THREAD).map(|units| desk.part(units)).collect();
        for mut part in parts {
            hand_on(&mut part)?;
            totals.add(part.totals);
        }
    }
}

type Coming<T> = Receiver<Result<T, OrdersFault>>;

/// Reads on a thread of its own: the header, and batches of orders, the last of which is empty. The thread is left to itself
/// where nobody takes what it reads.
fn read_ahead(from: impl Read + Send + 'static) -> (Coming<Header>, Coming<Vec<Unit>>) {
    let (tell_header, header) = sync_channel(1);
    let (send, batches) = sync_channel(AHEAD);
    std::thread::spawn(move || {
        let mut reader = match Reader::new(from) {
            Ok(reader) => reader,
            Err(fault) => return drop(tell_header.send(Err(fault))),
        };
        let mut goes_on = tell_header.send(Ok(reader.header().clone())).is_ok();
        while goes_on {
            let batch = reader.some(AT_A_TIME);
            let last = !matches!(&batch, Ok(units) if !units.is_empty());
            goes_on = send.send(batch).is_ok() && !last;
        }
    });
    (header, batches)
}

impl Desk<'_> {
    fn part(&self, units: &[Unit]) -> Part {
        let mut part = Part::default();
        for unit in units {
            self.unit(unit, &mut part);
        }
        part
    }

    fn unit(&self, unit: &Unit, part: &mut Part) {
        let first = self.judged(&unit.first, part);
        let Some(second_row) = &unit.second else {
            self.tell_alone(&unit.first, first, part);
            return;
        };
        match (first, self.judged(second_row, part)) {
            (Ok(first), Ok(second)) => {
                let worked = self.orders.pair([&first.lens, &second.lens]);
                self.try_more(&[&first, &second], &worked, part);
                let [of_first, of_second] = worked;
                self.tell(&unit.first, &first, of_first, part);
                self.tell(second_row, &second, of_second, part);
            }
            (first, second) => {
                self.tell_alone(&unit.first, first, part);
                self.tell_alone(second_row, second, part);
            }
        }
    }

    /// What a row means, or why it is refused; its cautions are told either way.
    fn judged(&self, row: &Row, part: &mut Part) -> Result<Order, String> {
        let judged = self.header.judge(row, self.shelf, &self.outlines);
        for caution in judged.findings.iter().filter(|finding| !finding.is_fault()) {
            part.cautions.extend(csv_line(&told::caution(row.number, &self.header.order_of(row), caution)));
            part.totals.caution(caution.id());
        }
        judged.value.ok_or_else(|| told::faults(&judged.findings))
    }

    fn tell_alone(&self, row: &Row, order: Result<Order, String>, part: &mut Part) {
        match order {
            Ok(order) => {
                let worked = [self.orders.alone(&order.lens)];
                self.try_more(&[&order], &worked, part);
                let [worked] = worked;
                self.tell(row, &order, worked, part);
            }
            Err(reason) => part.refuse(row.number, &self.header.order_of(row), &reason),
        }
    }

    /// Tries what the shelf might have more on a lens or a pair, where that is asked.
    fn try_more(&self, orders: &[&Order], worked: &[Result<Worked, Impossible>], part: &mut Part) {
        let Beside::OneMore(additions) = self.beside else { return };
        let mut lenses = Vec::with_capacity(orders.len());
        for (order, worked) in orders.iter().zip(worked) {
            lenses.push(Asked { lens: &order.lens, date: order.date.as_deref(), before: worked.as_ref() });
        }
        additions.try_on(&self.orders, &lenses, &mut part.effects);
    }

    fn tell(&self, row: &Row, order: &Order, worked: Result<Worked, Impossible>, part: &mut Part) {
        match worked {
            Ok(worked) => {
                if !matches!(self.beside, Beside::Nothing) {
                    part.history.count(Group::of(&order.lens.lens, &worked), order.date.as_deref());
                }
                part.lenses.extend(csv_line(&told::lens(order, &worked.made)));
                part.totals.count(&order.lens, &worked);
            }
            Err(why) => {
                part.history.count_unmade(order.date.as_deref());
                part.refuse(row.number, &order.order, &told::impossible(&why, &order.lens));
            }
        }
    }
}

impl Part {
    fn refuse(&mut self, row: u64, order: &str, reason: &str) {
        self.refused.extend(csv_line(&told::refused(row, order, reason)));
        self.totals.refuse();
    }
}

/// A line of CSV, quoted where it must be.
pub(super) fn csv_line<T: AsRef<[u8]>>(fields: &[T]) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().buffer_capacity(256).from_writer(Vec::new());
    // Writing to memory does not fail.
    let _ = writer.write_record(fields);
    writer.into_inner().unwrap_or_default()
}
