//! Trace records of the trade's data standard (ISO 16284): a line each of a label, `=` and values with `;` between them.
//!
//! `TRCFMT=1;400;E;R;F` heads a trace: plain text, 400 radii, at equal angles (`U`: unequal, and `A` records hold them), of
//! the right eye. `R` records hold the radii. `HBOX`, `VBOX`, `CIRC` (right;left) and `DBL` are held against them. Other
//! records are passed over; after `ZFMT` come the heights of a trace, which are not used.

use super::{Contents, Lens, MOST_FAULTS, Spot, Wrong, bytes_of, number};
use crate::eye::{Eye, Eyes};
use crate::finding::{HeadPart, Unfit};
use std::ops::Range;

/// Lengths and angles are whole numbers of hundredths.
const STEP: f64 = 0.01;

/// A trace while its records are read.
struct Reading {
    eye: Eye,
    head: Range<usize>,
    wanted: usize,
    equal: bool,
    radii: Vec<Spot>,
    angles: Vec<Spot>,
}

/// Labels with one value an eye.
const PER_EYE: [&str; 3] = ["HBOX", "VBOX", "CIRC"];

#[derive(Default)]
struct Reader {
    traces: Vec<Reading>,
    /// Do records belong to the last trace?
    open: bool,
    /// By label, right then left.
    per_eye: [[Option<Spot>; 2]; 3],
    bridge: Option<Spot>,
    wrong: Vec<Wrong>,
}

/// Are these records, and not columns?
pub(super) fn are(text: &str) -> bool {
    lines(text).any(|(label, _)| !label.is_empty() && label.bytes().all(|byte| byte.is_ascii_uppercase()))
}

/// Does a record say that what follows is no text?
pub(super) fn are_binary(text: &str) -> bool {
    lines(text).any(|(label, value)| label == "TRCFMT" && !value.starts_with("1;"))
}

pub(super) fn read(text: &str) -> Result<Contents, Vec<Wrong>> {
    let mut reader = Reader::default();
    for (label, value) in lines(text) {
        reader.record(label, value, text);
    }
    reader.finish()
}

/// Labels and values; signs that frame a message on the wire are trimmed.
fn lines(text: &str) -> impl Iterator<Item = (&str, &str)> {
    let bare = |sign: char| sign.is_control() || sign.is_whitespace();
    text.lines()
        .filter_map(|line| line.split_once('='))
        .map(move |(label, value)| (label.trim_matches(bare), value.trim_matches(bare)))
}

impl Reader {
    fn record(&mut self, label: &str, value: &str, text: &str) {
        match (label, self.traces.last_mut()) {
            ("TRCFMT", _) => self.head(value, text),
            ("ZFMT", _) => self.open = false,
            ("R", Some(trace)) if self.open => spots(value, text, STEP, &mut trace.radii, &mut self.wrong),
            ("A", Some(trace)) if self.open => spots(value, text, STEP, &mut trace.angles, &mut self.wrong),
            ("DBL", _) => self.bridge = self.said(value, text).into_iter().next().flatten(),
            _ => {
                if let Some(which) = PER_EYE.iter().position(|known| *known == label) {
                    let said = self.said(value, text);
                    let right = said.first().cloned().flatten();
                    // One value is that of both.
                    let left = if said.len() == 1 { right.clone() } else { said.get(1).cloned().flatten() };
                    self.per_eye[which] = [right, left];
                }
            }
        }
    }

    /// Lengths in millimetres; what is left empty or a question mark is not said.
    fn said(&mut self, value: &str, text: &str) -> Vec<Option<Spot>> {
        let mut said = Vec::new();
        for part in value.split(';').map(str::trim) {
            let bytes = bytes_of(part, text);
            let number = number(part);
            if number.is_none() && !matches!(part, "" | "?") {
                self.wrong.push((bytes.clone(), Unfit::NotNumber { found: part.to_owned() }));
            }
            said.push(number.map(|value| Spot { value, bytes }));
        }
        said
    }

    /// The head of a trace.
    fn head(&mut self, value: &str, text: &str) {
        self.open = false;
        let mut parts = value.split(';').map(str::trim);
        let mut next = || parts.next().unwrap_or(&value[value.len()..]);
        let [format, count, spacing, eye] = [next(), next(), next(), next()];
        let wrong = |part, found: &str| {
            let bytes = bytes_of(if found.is_empty() { value } else { found }, text);
            (bytes, Unfit::TraceHead { part, found: found.to_owned() })
        };
        let format_bytes = bytes_of(format, text);
        if format != "1" {
            return self.wrong.push((format_bytes, Unfit::TraceFormat { found: format.to_owned() }));
        }
        let Ok(wanted) = count.parse::<usize>() else { return self.wrong.push(wrong(HeadPart::Count, count)) };
        let equal = match spacing {
            "E" => true,
            "U" => false,
            _ => return self.wrong.push(wrong(HeadPart::Spacing, spacing)),
        };
        let Some(eye) = Eye::BOTH.into_iter().find(|known| known.letter() == eye) else {
            return self.wrong.push(wrong(HeadPart::Eye, eye));
        };
        if self.traces.iter().any(|trace| trace.eye == eye) {
            return self.wrong.push((bytes_of(value, text), Unfit::TraceTwice));
        }
        let head = bytes_of(value, text);
        self.traces.push(Reading { eye, head, wanted, equal, radii: Vec::new(), angles: Vec::new() });
        self.open = true;
    }

    fn finish(mut self) -> Result<Contents, Vec<Wrong>> {
        if self.traces.is_empty() && self.wrong.is_empty() {
            return Err(vec![(0..0, Unfit::NoTrace)]);
        }
        if self.wrong.is_empty() {
            self.wrong.extend(self.traces.iter().filter_map(Reading::miscounted));
        }
        self.wrong.truncate(MOST_FAULTS);
        if !self.wrong.is_empty() {
            return Err(self.wrong);
        }
        let lens = |eye: Eye| {
            let trace = self.traces.iter().find(|trace| trace.eye == eye)?;
            let said = |which: usize| self.per_eye[which][eye as usize].clone();
            Some(Lens { boxed: [said(0), said(1)], girth: said(2), ..trace.lens() })
        };
        Ok(Contents { lenses: Eyes::from_fn(lens), bridge: self.bridge })
    }
}

impl Reading {
    /// Counts that are not as the head says.
    fn miscounted(&self) -> Option<Wrong> {
        let counts = [("R", self.radii.len(), true), ("A", self.angles.len(), !self.equal)];
        let off = counts.into_iter().find(|(_, found, asked)| *asked && *found != self.wanted)?;
        Some((self.head.clone(), Unfit::TraceCount { label: off.0, found: off.1, wanted: self.wanted }))
    }

    fn lens(&self) -> Lens {
        let step_deg = 360.0 / self.wanted.max(1) as f64;
        let angle = |i: usize| if self.equal { step_deg * i as f64 } else { self.angles[i].value };
        Lens::new((0..self.wanted).map(angle), &self.radii, STEP, self.head.clone())
    }
}

/// Whole numbers of steps, added to those before.
fn spots(value: &str, text: &str, step: f64, into: &mut Vec<Spot>, wrong: &mut Vec<Wrong>) {
    for part in value.split(';').map(str::trim).filter(|part| !part.is_empty()) {
        let bytes = bytes_of(part, text);
        match number(part) {
            // Divided, so that 2066 is 20.66.
            Some(value) => into.push(Spot { value: value / (1.0 / step), bytes }),
            None => wrong.push((bytes, Unfit::NotNumber { found: part.to_owned() })),
        }
    }
}
