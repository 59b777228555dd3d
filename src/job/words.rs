//! The words that a key may hold, from the types that mean them.

use crate::choose::Supply;
use crate::eye::Eye;
use crate::keys::Words;
use crate::light::ReferenceLine;
use crate::material::Shelf;
use crate::outline::Shape;
use crate::rim::{Position, Rim};
use crate::rx::Base;

/// All words of this sort, in the order in which they are listed anywhere.
#[must_use]
pub fn words(which: Words, shelf: &Shelf) -> Vec<String> {
    match which {
        Words::Eye => Eye::BOTH.map(|eye| eye.word().to_owned()).to_vec(),
        Words::ReferenceLine => LINES.map(|line| line.word().to_owned()).to_vec(),
        Words::Base => Base::WORDS.map(str::to_owned).to_vec(),
        Words::Shape => Shape::all().map(|shape| shape.word().to_owned()).collect(),
        Words::Rim => Rim::ALL.map(|rim| rim.word().to_owned()).to_vec(),
        Words::Position => Position::WORDS.map(str::to_owned).to_vec(),
        Words::Supply => Supply::WORDS.map(str::to_owned).to_vec(),
        Words::Material => shelf.materials.iter().map(|material| material.id.clone()).collect(),
    }
}

const LINES: [ReferenceLine; 2] = [ReferenceLine::D, ReferenceLine::E];
const SUPPLIES: [Supply; 2] = [Supply::Surfaced, Supply::Stock];

/// The eye of this word.
pub(super) fn eye(word: &str) -> Option<Eye> {
    Eye::BOTH.into_iter().find(|eye| eye.word() == word)
}

/// The reference line of this word.
pub(super) fn reference_line(word: &str) -> Option<ReferenceLine> {
    LINES.into_iter().find(|line| line.word() == word)
}

/// The supply of this word.
pub(super) fn supply(word: &str) -> Option<Supply> {
    SUPPLIES.into_iter().find(|supply| supply.word() == word)
}
