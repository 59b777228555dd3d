//! What is written, whatever the door: a table of keys with their places, from which a judge takes keys.
//!
//! What is left over at the end is unknown. No file format is known here.

use crate::finding::Place;

/// A written value and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// Where the value stands.
    pub place: Place,
    /// The value.
    pub data: Data,
}

/// A written value.
#[derive(Clone, Debug, PartialEq)]
pub enum Data {
    /// A finite number.
    Number(f64),
    /// A number that is not finite or too large to be read, as written.
    NotFinite(String),
    /// Text.
    Text(String),
    /// True or false.
    Bool(bool),
    /// A date, perhaps with a time, as written.
    Date(String),
    /// A list.
    List(Vec<Written>),
    /// A table.
    Table(Table),
}

/// A key with its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The key.
    pub name: String,
    /// Where the key stands.
    pub place: Place,
    /// Its value.
    pub value: Written,
}

/// A table of keys, to be taken from.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Table {
    /// Where its head stands.
    pub place: Place,
    entries: Vec<Entry>,
    taken: Vec<String>,
}

impl Table {
    /// An empty table.
    #[must_use]
    pub fn new(place: Place) -> Table {
        Table { place, entries: Vec::new(), taken: Vec::new() }
    }

    /// Writes a key.
    pub fn put(&mut self, name: &str, place: Place, value: Written) {
        self.entries.push(Entry { name: name.to_owned(), place, value });
    }

    /// Takes the value of a key out.
    pub fn take(&mut self, name: &str) -> Option<Written> {
        let at = self.entries.iter().position(|entry| entry.name == name)?;
        self.taken.push(name.to_owned());
        Some(self.entries.remove(at).value)
    }

    /// Is or was this key written?
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.taken.iter().any(|taken| taken == name) || self.entries.iter().any(|entry| entry.name == name)
    }

    /// Is nothing written, nor was?
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty() && self.taken.is_empty()
    }

    /// What nobody took, in the order of writing.
    pub fn take_rest(&mut self) -> Vec<Entry> {
        std::mem::take(&mut self.entries)
    }
}
