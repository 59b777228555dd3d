//! Taking keys out of what is written: kind, finiteness and range of each are judged here, by its row in `keys`.

use super::near::nearest;
use super::{Got, Judge, Noted, Placed};
use crate::finding::{Finding, Found, Mend, Place, Problem};
use crate::job::words::words;
use crate::keys::{self, Key, Kind, Section, Words};
use crate::written::{Data, Table, Written};

impl Judge<'_> {
    /// Puts a finding down.
    pub(super) fn note(&mut self, finding: Finding) -> Noted {
        self.findings.push(Finding { eye: self.eye, ..finding });
        Noted
    }

    /// The name that the key goes by at this door.
    fn name_of(&self, key: &Key) -> &'static str {
        if self.single { key.single.unwrap_or(key.name) } else { key.name }
    }

    /// Takes what is written of a key.
    pub(super) fn take(&self, table: &mut Table, key: &Key) -> Option<Written> {
        table.take(self.name_of(key))
    }

    /// Where a key of this table that is not there would stand.
    pub(super) fn place_of(&self, table: &Table, key: &Key) -> Place {
        Place { path: table.place.path_to(self.name_of(key)), at: table.place.at.clone() }
    }

    /// What has to be given.
    pub(super) fn need<T>(&mut self, table: &Table, key: &'static Key, got: Got<Option<T>>) -> Got<T> {
        match got? {
            Some(value) => Ok(value),
            None => {
                let place = self.place_of(table, key);
                Err(self.note(Finding::new(Problem::MissingKey { key }, place).mended_by(Mend::Add(key))))
            }
        }
    }

    /// A number within its range.
    pub(super) fn number(&mut self, table: &mut Table, key: &'static Key) -> Got<Option<Placed<f64>>> {
        self.take(table, key).map(|written| self.number_in(key, written)).transpose()
    }

    /// A written value as a number within the range of this key.
    pub(super) fn number_in(&mut self, key: &'static Key, written: Written) -> Got<Placed<f64>> {
        let number = self.finite(key, Kind::Number, written)?;
        match key.refused {
            keys::Refused::Beyond(from, to) => self.within(key, &number, [from, to])?,
            keys::Refused::Nothing | keys::Refused::BeyondShape { .. } => {}
        }
        Ok(number)
    }

    /// A written value as a finite number, whatever its size.
    pub(super) fn finite(&mut self, key: &'static Key, allowed: Kind, written: Written) -> Got<Placed<f64>> {
        let Written { place, data } = written;
        match data {
            Data::Number(value) => Ok(Placed { value, place }),
            Data::NotFinite(found) => Err(self.note(Finding::new(Problem::NotFinite { key, found }, place))),
            data => Err(self.wrong_kind(key, allowed, Written { place, data })),
        }
    }

    /// Judges the size of a number.
    pub(super) fn within(&mut self, key: &'static Key, number: &Placed<f64>, allowed: [f64; 2]) -> Got<()> {
        let Placed { value: found, ref place } = *number;
        if found < allowed[0] || found > allowed[1] {
            return Err(self.note(Finding::new(Problem::Range { key, found, allowed }, place.clone())));
        }
        if let Some(usual) = key.usual
            && (found < usual[0] || found > usual[1])
        {
            self.note(Finding::new(Problem::Unusual { key, found, usual }, place.clone()));
        }
        Ok(())
    }

    /// A list of numbers within their range, with at least one in it.
    pub(super) fn numbers_in(
        &mut self,
        key: &'static Key,
        place: &Place,
        items: Vec<Written>,
    ) -> Got<Vec<Placed<f64>>> {
        if items.is_empty() {
            return Err(self.note(Finding::new(Problem::EmptyList { key }, place.clone())));
        }
        all(items.into_iter().map(|item| self.number_in(key, item)).collect())
    }

    /// Any text.
    pub(super) fn text(&mut self, table: &mut Table, key: &'static Key) -> Got<Option<Placed<String>>> {
        self.take(table, key).map(|written| self.text_in(key, key.kind, written)).transpose()
    }

    fn text_in(&mut self, key: &'static Key, allowed: Kind, written: Written) -> Got<Placed<String>> {
        match written {
            Written { place, data: Data::Text(value) } if value.contains(char::is_control) => {
                Err(self.note(Finding::new(Problem::ControlSigns { key }, place)))
            }
            Written { place, data: Data::Text(value) } => Ok(Placed { value, place }),
            written => Err(self.wrong_kind(key, allowed, written)),
        }
    }

    /// One of the words of a key.
    pub(super) fn word<T>(
        &mut self,
        table: &mut Table,
        key: &'static Key,
        meaning: impl Fn(&str) -> Option<T>,
    ) -> Got<Option<Placed<T>>> {
        self.take(table, key).map(|written| self.word_in(key, written, meaning)).transpose()
    }

    /// A written value as one of the words of a key.
    pub(super) fn word_in<T>(
        &mut self,
        key: &'static Key,
        written: Written,
        meaning: impl Fn(&str) -> Option<T>,
    ) -> Got<Placed<T>> {
        let Placed { value: found, place } = self.text_in(key, key.kind, written)?;
        match meaning(&found) {
            Some(value) => Ok(Placed { value, place }),
            None => Err(self.unknown_word(key, found, place)),
        }
    }

    fn unknown_word(&mut self, key: &'static Key, found: String, place: Place) -> Noted {
        let known = words_of(key).map_or_else(Vec::new, |which| words(which, self.shelf));
        let near = nearest(&found, known.iter().map(String::as_str));
        let mut finding = Finding::new(Problem::UnknownWord { key, found, known }, place);
        if !near.is_empty() {
            finding = finding.mended_by(Mend::Words(near));
        }
        self.note(finding)
    }

    /// A date without time.
    pub(super) fn date(&mut self, table: &mut Table, key: &'static Key) -> Got<Option<String>> {
        match self.take(table, key) {
            None => Ok(None),
            Some(Written { data: Data::Date(date), .. }) if is_date(&date) => Ok(Some(date)),
            Some(written) => Err(self.wrong_kind(key, key.kind, written)),
        }
    }

    /// A table.
    pub(super) fn table(&mut self, table: &mut Table, key: &'static Key) -> Got<Option<Table>> {
        self.take(table, key).map(|written| self.table_in(key, written)).transpose()
    }

    pub(super) fn table_in(&mut self, key: &'static Key, written: Written) -> Got<Table> {
        match written {
            Written { data: Data::Table(table), .. } => Ok(table),
            written => Err(self.wrong_kind(key, key.kind, written)),
        }
    }

    /// A list of tables, each of which may be sound or not; none where the key is left out.
    pub(super) fn tables(&mut self, table: &mut Table, key: &'static Key) -> Got<Option<Vec<Got<Table>>>> {
        match self.take(table, key) {
            None => Ok(None),
            Some(Written { data: Data::List(items), .. }) => {
                Ok(Some(items.into_iter().map(|item| self.table_in(key, item)).collect()))
            }
            Some(written) => Err(self.wrong_kind(key, key.kind, written)),
        }
    }

    /// Not what the key holds.
    pub(super) fn wrong_kind(&mut self, key: &'static Key, allowed: Kind, written: Written) -> Noted {
        let Written { place, data } = written;
        if let Data::NotFinite(found) = data {
            return self.note(Finding::new(Problem::NotFinite { key, found }, place));
        }
        let found = found(&data);
        let mend = literal(allowed, &found);
        let finding = Finding::new(Problem::WrongKind { key, allowed, found }, place);
        self.note(Finding { mend, ..finding })
    }

    /// What is left over in a table is unknown.
    pub(super) fn done(&mut self, mut table: Table, section: Section) {
        let known: Vec<&'static str> = if self.single {
            keys::single().filter_map(|key| key.single).collect()
        } else {
            keys::of(section).map(|key| key.name).collect()
        };
        let mut meant = Vec::new();
        for entry in table.take_rest() {
            let near = nearest(&entry.name, known.iter().copied().filter(|name| !table.has(name)));
            if let [name] = &near[..] {
                meant.push(table.place.path_to(name));
            }
            let mut finding =
                Finding::new(Problem::UnknownKey { found: entry.name, known: known.clone() }, entry.place);
            if !near.is_empty() {
                finding = finding.mended_by(Mend::Keys(near));
            }
            self.note(finding);
        }
        if !meant.is_empty() {
            self.forget_missing(&meant);
        }
    }

    /// A key that is misspelt is not missing as well.
    fn forget_missing(&mut self, meant: &[String]) {
        self.findings.retain(|finding| {
            !(matches!(finding.problem, Problem::MissingKey { .. }) && meant.contains(&finding.place.path))
        });
    }
}

/// All of them, if all are sound.
pub(super) fn all<T>(judged: Vec<Got<T>>) -> Got<Vec<T>> {
    judged.into_iter().collect()
}

fn words_of(key: &Key) -> Option<Words> {
    match key.kind {
        Kind::Word(words) | Kind::WordOrNumber(words) | Kind::WordOrTable(words, _) => Some(words),
        _ => None,
    }
}

fn found(data: &Data) -> Found {
    match data {
        Data::Number(value) => Found::Number(*value),
        Data::NotFinite(text) | Data::Text(text) => Found::Text(text.clone()),
        Data::Bool(value) => Found::Bool(*value),
        Data::Date(date) => Found::Date(date.clone()),
        Data::List(items) => Found::List(items.len()),
        Data::Table(_) => Found::Table,
    }
}

/// What was meant, where it was only written as another kind: a number or a date in quotes, a comma for the point, one
/// number where a list is wanted.
fn literal(allowed: Kind, found: &Found) -> Option<Mend> {
    match (allowed, found) {
        (Kind::Whole | Kind::Number | Kind::NumberOrEach | Kind::NumberOrEyes, Found::Text(text)) => {
            let text = text.trim().replace(',', ".").replace('−', "-");
            text.parse().is_ok_and(f64::is_finite).then_some(Mend::Literal(text))
        }
        (Kind::YesNo, Found::Text(text)) => match text.trim().to_lowercase().as_str() {
            "true" | "yes" => Some(Mend::Literal("true".to_owned())),
            "false" | "no" => Some(Mend::Literal("false".to_owned())),
            _ => None,
        },
        (Kind::Numbers, Found::Number(value)) => Some(Mend::Literal(format!("[{value}]"))),
        (Kind::Date, Found::Text(text)) => is_date(text).then(|| Mend::Literal(text.clone())),
        (Kind::Date, Found::Date(date)) => {
            let day = date.get(..10).filter(|day| is_date(day));
            day.map(|day| Mend::Literal(day.to_owned()))
        }
        _ => None,
    }
}

/// Year, month and day, four, two and two digits; that the month has such a day is the reader's to know.
fn is_date(text: &str) -> bool {
    text.len() == 10
        && text.bytes().enumerate().all(|(i, byte)| if i == 4 || i == 7 { byte == b'-' } else { byte.is_ascii_digit() })
}
