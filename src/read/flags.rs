//! Flags of the command line → what is written. A value is read as a number where its key holds one; whether it will do
//! is the judge's to say.

use crate::finding::{At, Place};
use crate::keys::{self, Key, Kind};
use crate::written::{Data, Table, Written};

/// What is written in flags, each a key with the text given, in the order given. A prism is written `1.5@in` and may be
/// given more than once; index, Abbe number and density are written below the material.
#[must_use]
pub fn table(flags: &[(&'static Key, String)]) -> Table {
    let mut table = Table::new(Place { path: String::new(), at: At::CommandLine });
    let mut inline = Table::new(Place { path: keys::MATERIAL.name.to_owned(), at: At::CommandLine });
    let mut prisms = Vec::new();
    for (key, text) in flags {
        let name = key.single.unwrap_or(key.name);
        let place = Place { path: name.to_owned(), at: At::Flag(format!("--{}", key.flag().unwrap_or(name.into()))) };
        if **key == keys::PRISM {
            prisms.push(prism(text, &place, prisms.len()));
        } else {
            let into = if key.section == keys::Section::Material { &mut inline } else { &mut table };
            into.put(name, place.clone(), Written { data: data(key.kind, text), place });
        }
    }
    if let Some(first) = prisms.first() {
        let place = Place { path: keys::PRISM.name.to_owned(), at: first.place.at.clone() };
        table.put(keys::PRISM.name, place.clone(), Written { place, data: Data::List(prisms) });
    }
    if !inline.is_empty() {
        let place = inline.place.clone();
        table.put(keys::MATERIAL.name, place.clone(), Written { place, data: Data::Table(inline) });
    }
    table
}

/// A prism as its amount and its base.
fn prism(text: &str, flag: &Place, index: usize) -> Written {
    let place = Place { path: flag.path_to_item(index), at: flag.at.clone() };
    let mut below = Table::new(place.clone());
    let (amount, base) = match text.split_once('@') {
        Some((amount, base)) => (amount, Some(base)),
        None => (text, None),
    };
    for (key, text) in [(&keys::AMOUNT, Some(amount)), (&keys::BASE, base)] {
        if let Some(text) = text {
            let place = Place { path: place.path_to(key.name), at: place.at.clone() };
            below.put(key.name, place.clone(), Written { data: data(key.kind, text), place });
        }
    }
    Written { place, data: Data::Table(below) }
}

/// A text as what a key of this kind holds.
pub(super) fn data(kind: Kind, text: &str) -> Data {
    match kind {
        Kind::Text | Kind::Name | Kind::File | Kind::Word(_) | Kind::WordOrTable(..) | Kind::YesNo | Kind::Texts => {
            Data::Text(text.to_owned())
        }
        Kind::Date => Data::Date(text.to_owned()),
        Kind::Whole | Kind::Number | Kind::Numbers | Kind::FromTo => number(text),
        Kind::NumberOrEach | Kind::NumberOrEyes | Kind::WordOrNumber(_) | Kind::Table(_) | Kind::Tables(_) => {
            number(text)
        }
    }
}

fn number(text: &str) -> Data {
    match text.trim().parse::<f64>() {
        Ok(value) if value.is_finite() => Data::Number(value),
        Ok(_) => Data::NotFinite(text.to_owned()),
        Err(_) => Data::Text(text.to_owned()),
    }
}
