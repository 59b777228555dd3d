//! Orders: CSV with a row a lens → what is written in each row, two rows of one order together. Rows are read as they
//! come and never held all at once; nothing is judged here but the header.
//!
//! Row 1 is the header; a line with nothing in it is no row.

use super::flags::data;
use crate::finding::{At, Finding, Place, Problem};
use crate::job::{self, Judged, Order, Outlines};
use crate::keys::{self, Key, Kind};
use crate::material::Shelf;
use crate::written::{Data, Table, Written};
use csv::{ByteRecord, Trim};
use std::cell::Cell;
use std::fmt;
use std::io::{self, Read};
use std::rc::Rc;

/// A longer row than this is no row: a quotation mark was not closed.
const MOST_ROW_BYTES: usize = 1_000_000;

/// Why orders cannot be read on.
#[derive(Debug)]
pub enum OrdersFault {
    /// What is wrong with the header.
    Header(Vec<HeaderFault>),
    /// A row that does not end.
    Endless {
        /// Which.
        row: u64,
    },
    /// The system's words.
    Other(io::Error),
}

/// What is wrong with a header.
#[derive(Clone, Debug, PartialEq)]
pub enum HeaderFault {
    /// There is none.
    Nothing,
    /// Its names stand apart by another sign than a comma.
    Apart(char),
    /// A column that is not known.
    Unknown {
        /// Its name.
        found: String,
        /// The name that was meant, as far as one is near.
        near: Option<&'static str>,
    },
    /// A column that is there twice.
    Twice(&'static str),
    /// Columns without which no row can be worked.
    Missing(Vec<&'static str>),
    /// No column says when a lens was ordered, where that is wanted.
    Undated,
}

/// One row.
#[derive(Clone, Debug)]
pub struct Row {
    /// Row 1 is the header.
    pub number: u64,
    record: ByteRecord,
}

/// A row alone, or the two of one order that follow one another.
#[derive(Clone, Debug)]
pub struct Unit {
    /// The first.
    pub first: Row,
    /// That of the other eye, where it follows at once.
    pub second: Option<Row>,
}

/// What the columns mean.
#[derive(Clone, Debug)]
pub struct Header {
    columns: Vec<&'static Key>,
}

/// Orders being read.
pub struct Orders<R> {
    header: Header,
    reader: csv::Reader<Counted<R>>,
    since: Rc<Cell<usize>>,
    next: Option<Row>,
    number: u64,
}

/// Counts what was read since the last row ended.
struct Counted<R> {
    inner: R,
    since: Rc<Cell<usize>>,
}

impl<R: Read> Read for Counted<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        if self.since.get() > MOST_ROW_BYTES {
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        let read = self.inner.read(into)?;
        self.since.set(self.since.get() + read);
        Ok(read)
    }
}

impl<R: Read> Orders<R> {
    /// Reads the header.
    ///
    /// # Errors
    /// [`OrdersFault`] with all that is wrong with it.
    pub fn new(inner: R) -> Result<Orders<R>, OrdersFault> {
        let since = Rc::new(Cell::new(0));
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .trim(Trim::All)
            .buffer_capacity(1 << 16)
            .from_reader(Counted { inner, since: Rc::clone(&since) });
        let mut first = ByteRecord::new();
        reader.read_byte_record(&mut first).map_err(|error| fault(error, 1))?;
        let header = Header::of(&first).map_err(OrdersFault::Header)?;
        let mut orders = Orders { header, reader, since, next: None, number: 1 };
        orders.next = orders.row()?;
        Ok(orders)
    }

    /// What the columns mean.
    pub fn header(&self) -> &Header {
        &self.header
    }

    /// About this many rows, none at the end.
    ///
    /// # Errors
    /// [`OrdersFault`] where a row does not end, or the system will not read on.
    pub fn some(&mut self, rows: usize) -> Result<Vec<Unit>, OrdersFault> {
        let mut units = Vec::with_capacity(rows);
        while units.len() < rows {
            let Some(first) = self.next.take() else { break };
            self.next = self.row()?;
            let second = self.next.take_if(|second| self.header.are_pair(&first, second));
            if second.is_some() {
                self.next = self.row()?;
            }
            units.push(Unit { first, second });
        }
        Ok(units)
    }

    /// The next row that has anything in it.
    fn row(&mut self) -> Result<Option<Row>, OrdersFault> {
        let mut record = ByteRecord::new();
        loop {
            self.since.set(0);
            let more = self.reader.read_byte_record(&mut record).map_err(|error| fault(error, self.number + 1))?;
            if !more {
                return Ok(None);
            }
            self.number += 1;
            if record.iter().any(|field| !field.is_empty()) {
                return Ok(Some(Row { number: self.number, record }));
            }
        }
    }
}

fn fault(error: csv::Error, row: u64) -> OrdersFault {
    match error.into_kind() {
        csv::ErrorKind::Io(error) if error.kind() == io::ErrorKind::FileTooLarge => OrdersFault::Endless { row },
        csv::ErrorKind::Io(error) => OrdersFault::Other(error),
        other => OrdersFault::Other(io::Error::other(format!("{other:?}"))),
    }
}

impl Header {
    fn of(record: &ByteRecord) -> Result<Header, Vec<HeaderFault>> {
        let names: Vec<String> = record.iter().map(|name| String::from_utf8_lossy(name).into_owned()).collect();
        let names = match &names[..] {
            [] => return Err(vec![HeaderFault::Nothing]),
            [only] => match [';', '\t'].into_iter().find(|sign| only.contains(*sign)) {
                Some(sign) => return Err(vec![HeaderFault::Apart(sign)]),
                None => names,
            },
            _ => names,
        };
        let mut columns: Vec<&'static Key> = Vec::new();
        let mut faults = Vec::new();
        for name in &names {
            match keys::columns().find(|key| key.column() == Some(name)) {
                Some(key) if columns.contains(&key) => {
                    faults.push(HeaderFault::Twice(key.column().unwrap_or(key.name)))
                }
                Some(key) => columns.push(key),
                None => faults.push(HeaderFault::Unknown { found: name.clone(), near: nearest(name) }),
            }
        }
        let measured = columns.contains(&&keys::OUTLINE);
        let missing: Vec<&'static str> = REQUIRED
            .into_iter()
            .filter(|key| !(columns.contains(key) || measured && OF_SHAPE.contains(key)))
            .filter_map(Key::column)
            .filter(|name| !faults.iter().any(|fault| fault.means(name)))
            .collect();
        if !missing.is_empty() {
            faults.push(HeaderFault::Missing(missing));
        }
        if faults.is_empty() { Ok(Header { columns }) } else { Err(faults) }
    }

    fn field<'r>(&self, row: &'r Row, key: &Key) -> Option<&'r [u8]> {
        let at = self.columns.iter().position(|column| *column == key)?;
        row.record.get(at).filter(|field| !field.is_empty())
    }

    fn are_pair(&self, first: &Row, second: &Row) -> bool {
        let same = |key| self.field(first, key).is_some() && self.field(first, key) == self.field(second, key);
        let eyes = [self.field(first, &keys::EYE), self.field(second, &keys::EYE)];
        same(&keys::ORDER) && matches!(eyes, [Some(b"right"), Some(b"left")] | [Some(b"left"), Some(b"right")])
    }

    /// Is there a column for when a lens was ordered?
    #[must_use]
    pub fn is_dated(&self) -> bool {
        self.columns.contains(&&keys::DATE)
    }

    /// The number of the order as it stands in the row, whatever it is.
    #[must_use]
    pub fn order_of(&self, row: &Row) -> String {
        String::from_utf8_lossy(self.field(row, &keys::ORDER).unwrap_or_default()).into_owned()
    }

    /// What a row means, with the measured outline that it names.
    pub fn judge(&self, row: &Row, shelf: &Shelf, outlines: &dyn Outlines) -> Judged<Order> {
        let at = At::Row(usize::try_from(row.number).unwrap_or(usize::MAX));
        let numbers = [&keys::INDEX, &keys::ABBE, &keys::DENSITY];
        let problem = if row.record.len() != self.columns.len() {
            Some(Problem::RowLength { found: row.record.len(), wanted: self.columns.len() })
        } else if self.field(row, &keys::MATERIAL).is_some() && numbers.iter().any(|key| self.field(row, key).is_some())
        {
            Some(Problem::MaterialTwice)
        } else {
            None
        };
        if let Some(problem) = problem {
            return Judged { value: None, findings: vec![Finding::new(problem, Place { path: String::new(), at })] };
        }
        job::judge_order(self.table(row, &at), shelf, outlines)
    }

    /// What is written in a row: a field with nothing in it is left out. Amount and base of a prism are written below
    /// it, and index, Abbe number and density below the material.
    fn table(&self, row: &Row, at: &At) -> Table {
        let place = |path: &str| Place { path: path.to_owned(), at: at.clone() };
        let mut table = Table::new(place(""));
        let mut prism = Table::new(place(keys::PRISM.name));
        let mut inline = Table::new(place(keys::MATERIAL.name));
        let no_prism = self.is_no_prism(row);
        for (key, field) in self.columns.iter().zip(&row.record) {
            let is_prism = key.section == keys::Section::Prism;
            if field.is_empty() || (is_prism && no_prism) {
                continue;
            }
            let value = Written { place: place(key.column().unwrap_or(key.name)), data: data_of(key, field) };
            let (into, name) = match key.section {
                keys::Section::Prism => (&mut prism, key.name),
                keys::Section::Material => (&mut inline, key.name),
                _ => (&mut table, key.single.unwrap_or(key.name)),
            };
            into.put(name, value.place.clone(), value);
        }
        if !prism.is_empty() {
            let item = Written { place: prism.place.clone(), data: Data::Table(prism) };
            put(&mut table, &keys::PRISM, Data::List(vec![item]));
        }
        if !inline.is_empty() {
            put(&mut table, &keys::MATERIAL, Data::Table(inline));
        }
        table
    }

    /// A prism of nothing needs no base, as a cylinder of nothing needs no axis.
    fn is_no_prism(&self, row: &Row) -> bool {
        let amount = self.field(row, &keys::AMOUNT).and_then(|field| std::str::from_utf8(field).ok());
        amount.and_then(|amount| amount.parse().ok()) == Some(0.0) && self.field(row, &keys::BASE).is_none()
    }
}

fn put(table: &mut Table, key: &'static Key, data: Data) {
    let place = Place { path: key.name.to_owned(), at: table.place.at.clone() };
    table.put(key.name, place.clone(), Written { place, data });
}

fn data_of(key: &Key, field: &[u8]) -> Data {
    let text = String::from_utf8_lossy(field);
    match key.kind {
        // The judge of dates trusts the door to know how many days a month has.
        Kind::Date if text.parse::<::toml::value::Datetime>().is_err() => Data::Text(text.into_owned()),
        kind => data(kind, &text),
    }
}

/// Without these columns no row can be worked; which others a row wants depends on what is in it.
const REQUIRED: [&Key; 8] =
    [&keys::ORDER, &keys::EYE, &keys::SPHERE, &keys::PD, &keys::SHAPE, &keys::EYE_SIZES, &keys::BRIDGE, &keys::RIM];

/// Of those, the ones that a measured outline may stand for.
const OF_SHAPE: [&Key; 2] = [&keys::SHAPE, &keys::EYE_SIZES];

/// The column that was meant, if that is one only.
fn nearest(name: &str) -> Option<&'static str> {
    let near = job::nearest(name, keys::columns().filter_map(Key::column));
    let [near] = &near[..] else { return None };
    keys::columns().filter_map(Key::column).find(|column| column == near)
}

impl HeaderFault {
    fn means(&self, name: &str) -> bool {
        matches!(self, HeaderFault::Unknown { near: Some(near), .. } if *near == name)
    }
}

impl fmt::Display for HeaderFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            HeaderFault::Nothing => f.write_str("there is nothing in it; the first row names the columns"),
            HeaderFault::Apart(';') => f.write_str("its columns stand apart by semicolons; commas are wanted"),
            HeaderFault::Apart(_) => f.write_str("its columns stand apart by tabs; commas are wanted"),
            HeaderFault::Unknown { found, near: Some(near) } => {
                write!(f, "there is no column {found:?}; did you mean `{near}`?")
            }
            HeaderFault::Unknown { found, near: None } => {
                let all: Vec<&str> = keys::columns().filter_map(Key::column).collect();
                write!(f, "there is no column {found:?}; there are {}", all.join(", "))
            }
            HeaderFault::Twice(name) => write!(f, "the column `{name}` is there twice"),
            HeaderFault::Missing(names) => {
                let columns = if names.len() == 1 { "column" } else { "columns" };
                write!(f, "the {columns} `{}` must be there", names.join("`, `"))
            }
            HeaderFault::Undated => f.write_str(
                "there is no column `date`, so nothing says how many lenses a week wants; add it, year-month-day as in \
                 2025-03-14",
            ),
        }
    }
}

impl fmt::Display for OrdersFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OrdersFault::Header(faults) => {
                let said: Vec<String> = faults.iter().map(|fault| format!("row 1: {fault}")).collect();
                f.write_str(&said.join("\n"))
            }
            OrdersFault::Endless { row } => write!(
                f,
                "row {row} is longer than {MOST_ROW_BYTES} bytes; is a quotation mark in it not closed? Nothing was written"
            ),
            OrdersFault::Other(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for OrdersFault {}
