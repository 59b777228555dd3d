//! What a sweep can vary, a row each: the word for it, the key of a job that it is, and how a value is put into an order.
//!
//! Units: those of the keys. Ranges are the keys' own.

use super::{Order, allowed, of_index};
use crate::choose::{Substance, Supply};
use crate::eye::Eye;
use crate::job::nearest;
use crate::keys::{self, Key};
use crate::material::{Material, Shelf};
use crate::outline::{Form, Shape};
use crate::study::mend::in_material;
use std::sync::Arc;

/// Why nothing about a ready-made lens can be chosen.
pub(super) const READY_MADE: &str = "a ready-made lens comes as it is listed; made to order it could be";

/// Values by their words, those of a shelf.
type Words = fn(&Shelf) -> Vec<(String, Value)>;

/// A thing that can be varied.
#[derive(Debug)]
pub struct What {
    /// The word for it: the name of the key where one lens is asked for.
    pub word: &'static str,
    /// Its name on screen.
    pub name: &'static str,
    /// The key.
    pub key: &'static Key,
    /// Puts a value in, into one eye or both where eyes differ.
    pub(super) put: fn(&mut Order, Option<Eye>, &Value),
    /// The value that is there; `None` where both eyes differ.
    pub(super) own: fn(&Order, Option<Eye>) -> Option<Value>,
    /// Why it makes no sense of this order.
    pub(super) unfit: fn(&Order, Option<Eye>) -> Option<&'static str>,
    /// Its values by their words, where it is no number.
    words: Option<Words>,
}

/// A value of what is varied.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number, in the key's unit.
    Number(f64),
    /// A material of the shelf.
    Material(Arc<Material>),
    /// Made to order, or finished.
    Supply(Supply),
}

/// A thing and the values that it takes, in their order.
#[derive(Clone, Debug)]
pub struct Vary {
    /// The thing.
    pub what: &'static What,
    /// One value or more.
    pub values: Vec<Value>,
    /// The end that was asked for, where the last step does not reach it.
    pub not_reached: Option<f64>,
}

/// Why something cannot be varied so.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum VaryFault {
    /// Nothing that can be varied is called so.
    Unknown {
        /// What was asked for.
        found: String,
        /// The words nearest to it.
        near: Vec<String>,
    },
    /// Not of the form FROM:TO:STEP.
    Form {
        /// What is varied.
        word: &'static str,
    },
    /// No number.
    NoNumber {
        /// What is varied.
        word: &'static str,
        /// What was asked for.
        found: String,
        /// What was meant, where it is plain.
        mend: Option<String>,
    },
    /// A step of nothing, or one that leads away.
    Step {
        /// What is varied.
        word: &'static str,
        /// The step.
        step: f64,
    },
    /// A value is beyond what a job may have.
    Range {
        /// What is varied.
        word: &'static str,
        /// The first such value.
        found: f64,
        /// From … to.
        allowed: [f64; 2],
    },
    /// One of the words of a list is not known.
    UnknownValue {
        /// What is varied.
        word: &'static str,
        /// What was asked for.
        found: String,
        /// The words nearest to it, else all.
        known: Vec<String>,
        /// Are they near?
        near: bool,
    },
    /// A value stands twice in a list.
    Twice {
        /// What is varied.
        word: &'static str,
        /// The value.
        found: String,
    },
    /// Nothing, or more than two things.
    HowMany {
        /// How many.
        found: usize,
    },
    /// The same twice, or two that exclude each other.
    Together {
        /// The one.
        one: &'static str,
        /// The other.
        other: &'static str,
    },
    /// More rows than are worked.
    TooMany {
        /// How many.
        found: usize,
    },
    /// It makes no sense of this option.
    Unfit {
        /// What is varied.
        word: &'static str,
        /// Why.
        why: &'static str,
    },
}

impl Value {
    /// The number.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        match self {
            Value::Number(value) => Some(*value),
            Value::Material(_) | Value::Supply(_) => None,
        }
    }

    pub(super) fn supply(&self) -> Option<Supply> {
        match self {
            Value::Supply(supply) => Some(*supply),
            Value::Number(_) | Value::Material(_) => None,
        }
    }
}

macro_rules! number {
    ($key:expr, $word:literal, $name:literal, $unfit:expr, |$order:ident, $eye:ident, $value:ident| $put:expr, $own:expr) => {
        What {
            word: $word,
            name: $name,
            key: &$key,
            put: |$order, $eye, value| {
                if let Value::Number($value) = *value {
                    $put
                }
            },
            own: |$order, $eye| $own.map(Value::Number),
            unfit: $unfit,
            words: None,
        }
    };
}

/// All of them, in the order in which they are put in.
pub static WHAT: &[What] = &[
    number!(
        keys::EYE_SIZES,
        "eye_size_mm",
        "eye size",
        fits,
        |order, _eye, value| {
            if let Some(boxing) = order.frame.at_eye_size(value) {
                order.boxing = boxing;
            }
        },
        Some(order.boxing.eye_size_mm)
    ),
    number!(
        keys::DEPTH,
        "depth_mm",
        "depth",
        own_proportion,
        |order, _eye, value| order.boxing.depth_mm = value,
        Some(order.boxing.depth_mm)
    ),
    number!(
        keys::BRIDGE,
        "bridge_mm",
        "bridge",
        fits,
        |order, _eye, value| order.boxing.bridge_mm = value,
        Some(order.boxing.bridge_mm)
    ),
    number!(
        keys::PD,
        "pd_mm",
        "pupil distance",
        fits,
        |order, eye, value| order.each(eye, |rx| rx.pd_mm = value),
        order.alike(eye, |rx| rx.pd_mm)
    ),
    number!(
        keys::SPHERE,
        "sphere",
        "sphere",
        fits,
        |order, eye, value| order.power(eye, |power| power.sphere = value),
        order.alike(eye, |rx| rx.power.sphere())
    ),
    number!(
        keys::CYLINDER,
        "cylinder",
        "cylinder",
        fits,
        |order, eye, value| order.power(eye, |power| power.cylinder = value),
        order.alike(eye, |rx| rx.power.cylinder())
    ),
    number!(
        keys::AXIS,
        "axis",
        "axis",
        no_cylinder,
        |order, eye, value| order.power(eye, |power| power.axis = value),
        order.alike(eye, |rx| rx.power.axis())
    ),
    number!(
        keys::AMOUNT,
        "prism_pd",
        "prism",
        no_prism,
        |order, eye, value| order.prism(eye, value),
        order.alike(eye, |rx| super::order::amount(rx.prism))
    ),
    What {
        word: "material",
        name: "material",
        key: &keys::MATERIAL,
        put: |order, _, value| {
            if let Value::Material(material) = value {
                let name = order.option.name.clone();
                order.option = crate::choose::LensOption { name, ..in_material(&order.option, material) };
            }
        },
        own: |order, _| match &order.option.substance {
            Substance::Listed(material) => Some(Value::Material(material.clone())),
            Substance::Inline(_) => None,
        },
        unfit: fits,
        words: Some(|shelf| shelf.materials.iter().map(|m| (m.id.clone(), Value::Material(m.clone()))).collect()),
    },
    number!(
        keys::INDEX,
        "index",
        "refractive index",
        fits,
        |order, _eye, value| of_index(order, value),
        Some(order.option.substance.glass(order.prescription.reference_line).index)
    ),
    What {
        word: "supply",
        name: "supply",
        key: &keys::SUPPLY,
        put: |order, _, value| {
            if let Value::Supply(supply) = value {
                order.option.supply = *supply;
            }
        },
        own: |order, _| Some(Value::Supply(order.option.supply)),
        unfit: never_ready_made,
        words: Some(|_| [Supply::Surfaced, Supply::Stock].map(|s| (s.word().to_owned(), Value::Supply(s))).to_vec()),
    },
    number!(
        keys::BASE_CURVE,
        "base_curve_d",
        "base curve",
        fits,
        |order, _eye, value| order.option.base_curve_d = Some(value),
        order.option.base_curve_d
    ),
    number!(
        keys::MIN_CENTRE,
        "min_centre_mm",
        "least centre",
        fits,
        |order, _eye, value| order.option.min_centre_mm = Some(value),
        Some(crate::choose::minimum::minima(&order.option, order.frame.rim).kept.centre_mm)
    ),
    number!(
        keys::MIN_EDGE,
        "min_edge_mm",
        "least edge",
        fits,
        |order, _eye, value| order.option.min_edge_mm = Some(value),
        Some(crate::choose::minimum::minima(&order.option, order.frame.rim).kept.edge_mm)
    ),
];

fn fits(_: &Order, _: Option<Eye>) -> Option<&'static str> {
    None
}

fn own_proportion(order: &Order, _: Option<Eye>) -> Option<&'static str> {
    match order.frame.shape {
        Form::Built(Shape::Circle) => Some("a circle is as deep as it is wide"),
        Form::Built(_) => None,
        Form::Measured(_) => Some("a measured outline has a proportion of its own"),
    }
}

fn no_cylinder(order: &Order, eye: Option<Eye>) -> Option<&'static str> {
    let some = Eye::BOTH.into_iter().filter(|own| eye.is_none_or(|eye| eye == *own));
    let none = some.map(|own| order.prescription.eyes.of(own).power.cylinder()).all(|cylinder| cylinder == 0.0);
    none.then_some("no cylinder is prescribed whose axis it could be")
}

fn no_prism(order: &Order, eye: Option<Eye>) -> Option<&'static str> {
    let some = Eye::BOTH.into_iter().filter(|own| eye.is_none_or(|eye| eye == *own));
    let none = some.map(|own| super::order::amount(order.prescription.eyes.of(own).prism)).all(|amount| amount == 0.0);
    none.then_some("no prism is prescribed whose base it could have")
}

fn never_ready_made(order: &Order, _: Option<Eye>) -> Option<&'static str> {
    match (&order.option.substance, order.option.base_curve_d) {
        (Substance::Inline(_), _) => Some("a material given by its numbers comes in no ready-made lenses"),
        (_, Some(_)) => Some("the lens option has a base curve, and ready-made lenses come as they are listed"),
        (Substance::Listed(_), None) => None,
    }
}

impl Vary {
    /// The thing of this word: the name of a key as one lens or a job has it, with `_` or `-`, unit and all.
    ///
    /// # Errors
    /// [`VaryFault::Unknown`] where nothing is called so.
    pub fn what(found: &str) -> Result<&'static What, VaryFault> {
        let word = found.trim().replace('-', "_");
        let called = |what: &&What| what.word == word || what.key.name == word;
        WHAT.iter().find(called).ok_or_else(|| {
            let near = nearest(&word, WHAT.iter().map(|what| what.word));
            VaryFault::Unknown { found: found.to_owned(), near }
        })
    }

    /// From … to in steps, the first value among them and the last as near to the end as the steps come.
    ///
    /// # Errors
    /// Where the step leads nowhere, there are too many or a value is beyond what a job may have.
    pub fn numbers(what: &'static What, [from, to, step]: [f64; 3]) -> Result<Vary, VaryFault> {
        let (word, allowed) = (what.word, allowed(what.key));
        for found in [from, to] {
            if !(found >= allowed[0] && found <= allowed[1]) {
                return Err(VaryFault::Range { word, found, allowed });
            }
        }
        if !(step > 0.0 && step.is_finite()) {
            return Err(VaryFault::Step { word, step });
        }
        let steps = ((to - from).abs() / step + STEP_SLACK).floor();
        if steps >= super::MOST_ROWS as f64 {
            // The cast saturates.
            return Err(VaryFault::TooMany { found: (steps as usize).saturating_add(1) });
        }
        let way = step * (to - from).signum();
        let values: Vec<f64> = (0..=steps as usize).map(|i| tidy(from + way * i as f64)).collect();
        let last = values.last().copied().unwrap_or(from);
        let not_reached = ((to - last).abs() > 1e-9).then_some(to);
        Ok(Vary { what, values: values.into_iter().map(Value::Number).collect(), not_reached })
    }

    /// These materials, or supplies; all where none is named.
    ///
    /// # Errors
    /// Where one is not known or stands twice.
    pub fn words(what: &'static What, found: &[&str], shelf: &Shelf) -> Result<Vary, VaryFault> {
        let known = what.words.map_or_else(Vec::new, |words| words(shelf));
        let value = |found: &str| {
            let value = known.iter().find(|(word, _)| word == found).map(|(_, value)| value.clone());
            value.ok_or_else(|| {
                let near = nearest(found, known.iter().map(|(word, _)| word.as_str()));
                let is_near = !near.is_empty();
                let all = || known.iter().map(|(word, _)| word.clone()).collect();
                let known = if is_near { near } else { all() };
                VaryFault::UnknownValue { word: what.word, found: found.to_owned(), known, near: is_near }
            })
        };
        let values = match found {
            [] => known.iter().map(|(_, value)| value.clone()).collect(),
            some => some.iter().map(|word| value(word)).collect::<Result<Vec<Value>, VaryFault>>()?,
        };
        match found.iter().enumerate().find(|(i, word)| found[..*i].contains(word)) {
            Some((_, twice)) => Err(VaryFault::Twice { word: what.word, found: (*twice).to_owned() }),
            None => Ok(Vary { what, values, not_reached: None }),
        }
    }
}

impl What {
    /// Are its values words of a list?
    #[must_use]
    pub fn is_of_words(&self) -> bool {
        self.words.is_some()
    }
}

/// So much of a step may be lacking for rounding.
const STEP_SLACK: f64 = 1e-6;

/// The number that is written with nine decimals: what a job would have for it.
fn tidy(value: f64) -> f64 {
    format!("{value:.9}").parse::<f64>().unwrap_or(value) + 0.0
}
