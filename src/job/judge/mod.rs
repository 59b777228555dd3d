//! The judge: what is written becomes what is meant, checked and complete, with every fault at once.
//!
//! It knows no file format and holds no prose: findings carry numbers and words. Units are in the names.

mod edge;
mod frame;
mod lens;
pub(super) mod near;
mod order;
mod outline;
mod prescription;
mod present;
mod shelf;
mod take;

pub use order::{FORMULA_SIGNS, Order, judge_order};
pub use outline::{NoOutlines, Outlines};
pub use shelf::judge_material;

use super::{FORMAT, Job, MOST_NAME_SIGNS, NOW, words};
use crate::choose::LensOption;
use crate::eye::Eye;
use crate::finding::{Finding, Mend, Place, Problem};
use crate::frame::Frame;
use crate::keys::{self, Key, Section};
use crate::light::ReferenceLine;
use crate::material::Shelf;
use crate::rim::Rim;
use crate::rx::EyeRx;
use crate::written::{Table, Written};
use lens::JudgedLens;
use std::collections::{BTreeMap, BTreeSet};
use take::all;

/// The most combinations that a job may ask for.
pub const MOST_COMBINATIONS: usize = 10_000;
/// The most combinations that a report with pictures may hold.
pub const MOST_DRAWN: usize = 300;

/// What a judge makes of something written.
#[derive(Clone, Debug, PartialEq)]
#[must_use]
pub struct Judged<T> {
    /// What is meant; `None` where there is a fault.
    pub value: Option<T>,
    /// Faults and cautions, in the order of writing.
    pub findings: Vec<Finding>,
}

/// One lens, asked for without a job.
#[derive(Clone, Debug, PartialEq)]
pub struct OneLens {
    /// The eye that it is for.
    pub eye: Eye,
    /// What that eye needs.
    pub rx: EyeRx,
    /// The distance from lens to cornea at which it was tested, where known.
    pub vertex_mm: Option<f64>,
    /// The wavelength at which the power is meant.
    pub reference_line: ReferenceLine,
    /// A frame without a name, of one eye size.
    pub frame: Frame,
    /// A lens option without a name.
    pub lens: LensOption,
}

/// Judges a job.
pub fn judge(written: Table, shelf: &Shelf, outlines: &dyn Outlines) -> Judged<Job> {
    let mut judge = Judge::new(shelf, outlines, false);
    let job = judge.job(written);
    if let Ok(job) = &job {
        judge.findings.extend(limits(job, false));
    }
    judge.finish(job)
}

/// Judges one lens, written under the names that keys go by where one lens is asked for.
pub fn judge_one(written: Table, shelf: &Shelf, outlines: &dyn Outlines) -> Judged<OneLens> {
    let mut judge = Judge::new(shelf, outlines, true);
    let lens = judge.one_lens(written);
    judge.finish(lens)
}

/// More combinations than are worked, or with `drawn` more than are drawn.
#[must_use]
pub fn limits(job: &Job, drawn: bool) -> Option<Finding> {
    let found = job.combinations();
    let problem = if found > MOST_COMBINATIONS {
        Problem::TooMany { found, most: MOST_COMBINATIONS }
    } else if drawn && found > MOST_DRAWN {
        Problem::TooManyDrawn { found, most: MOST_DRAWN }
    } else {
        return None;
    };
    Some(Finding::new(problem, Place::default()))
}

/// A fault was put down; there is no value.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Noted;

type Got<T> = Result<T, Noted>;

/// A value and where it is written.
#[derive(Clone, Debug, PartialEq)]
struct Placed<T> {
    value: T,
    place: Place,
}

/// How a frame or a lens comes to its name.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Naming {
    /// It has one of its own.
    Own,
    /// It is worn now.
    Now,
    /// It needs none.
    Without,
}

struct Judge<'a> {
    shelf: &'a Shelf,
    outlines: &'a dyn Outlines,
    /// Is one lens asked for, without a job?
    single: bool,
    findings: Vec<Finding>,
    /// The eye whose table is being read.
    eye: Option<Eye>,
    /// Names used so far and where, by the section of the key that gave them.
    names: BTreeMap<(Section, String), Place>,
    /// Outlines whose findings were put down.
    told: BTreeSet<String>,
}

impl<'a> Judge<'a> {
    fn new(shelf: &'a Shelf, outlines: &'a dyn Outlines, single: bool) -> Judge<'a> {
        let (names, told) = (BTreeMap::new(), BTreeSet::new());
        Judge { shelf, outlines, single, findings: Vec::new(), eye: None, names, told }
    }

    fn finish<T>(mut self, value: Got<T>) -> Judged<T> {
        self.findings.sort_by_key(Finding::start);
        let sound = !self.findings.iter().any(Finding::is_fault);
        Judged { value: value.ok().filter(|_| sound), findings: self.findings }
    }

    fn job(&mut self, mut table: Table) -> Got<Job> {
        let format = self.format(&mut table)?;
        let client = self.table(&mut table, &keys::CLIENT).map(|client| client.map(|client| self.client(client)));
        let prescription = self.table(&mut table, &keys::PRESCRIPTION);
        let prescription = self
            .need(&table, &keys::PRESCRIPTION, prescription)
            .and_then(|below| self.prescription(below, ReferenceLine::default()));
        let line = prescription.as_ref().map_or(ReferenceLine::default(), |prescription| prescription.reference_line);
        let frames = self.several(&mut table, &keys::FRAME, |judge, below| judge.whole_frame(below, Naming::Own));
        let lenses = self.several(&mut table, &keys::LENS, |judge, below| judge.whole_lens(below, Naming::Own, line));
        if let (Ok(frames), Ok(lenses)) = (&frames, &lenses) {
            self.all_below_minimum(frames, lenses);
        }
        let present = self.table(&mut table, &keys::PRESENT);
        let present = present.and_then(|below| below.map_or(Ok(None), |below| self.present(below, line)));
        self.done(table, Section::Job);
        let (reference, date) = client?.unwrap_or(Ok((None, None)))?;
        format?;
        Ok(Job {
            reference,
            date,
            prescription: prescription?,
            frames: frames?,
            lenses: lenses?.into_iter().map(|lens| lens.option).collect(),
            present: present?,
        })
    }

    /// The format number; of a newer format nothing else can be judged.
    fn format(&mut self, table: &mut Table) -> Got<Got<()>> {
        let key = &keys::FORMAT;
        let written = self.take(table, key);
        let Ok(written) = self.need(table, key, Ok(written)) else { return Ok(Err(Noted)) };
        let Ok(format) = self.finite(key, key.kind, written) else { return Ok(Err(Noted)) };
        let (found, known) = (format.value, FORMAT);
        if found == known as f64 {
            return Ok(Ok(()));
        }
        if found > known as f64 && found.fract() == 0.0 {
            return Err(self.note(Finding::new(Problem::FormatNewer { found, known }, format.place)));
        }
        let mend = Mend::Literal(known.to_string());
        Ok(Err(self.note(Finding::new(Problem::FormatUnknown { found, known }, format.place).mended_by(mend))))
    }

    fn client(&mut self, mut table: Table) -> Got<(Option<String>, Option<String>)> {
        let reference = self.text(&mut table, &keys::REFERENCE);
        let date = self.date(&mut table, &keys::DATE);
        self.done(table, Section::Client);
        Ok((reference?.map(|reference| reference.value), date?))
    }

    /// One or more tables of a key, each judged by `one`.
    fn several<T>(
        &mut self,
        table: &mut Table,
        key: &'static Key,
        mut one: impl FnMut(&mut Self, Table) -> Got<T>,
    ) -> Got<Vec<T>> {
        let tables = self.tables(table, key).map(|tables| tables.filter(|tables| !tables.is_empty()));
        let tables = self.need(table, key, tables)?;
        all(tables.into_iter().map(|below| below.and_then(|below| one(self, below))).collect())
    }

    fn whole_frame(&mut self, mut table: Table, naming: Naming) -> Got<Frame> {
        let frame = self.frame(&mut table, naming);
        self.done(table, Section::Frame);
        frame
    }

    fn whole_lens(&mut self, mut table: Table, naming: Naming, line: ReferenceLine) -> Got<JudgedLens> {
        let lens = self.lens(&mut table, naming, line);
        self.done(table, Section::Lens);
        lens
    }

    fn all_below_minimum(&mut self, frames: &[Frame], lenses: &[JudgedLens]) {
        let rims: Vec<Rim> = Rim::ALL.into_iter().filter(|rim| frames.iter().any(|frame| frame.rim == *rim)).collect();
        for lens in lenses {
            self.below_minimum(lens, &rims);
        }
    }

    fn name(&mut self, table: &mut Table, key: &'static Key, naming: Naming) -> Got<String> {
        match naming {
            Naming::Own => {
                let name = self.text(table, key);
                let name = self.need(table, key, name)?;
                self.own_name(key, name)
            }
            Naming::Now => match self.take(table, key) {
                None => Ok(NOW.to_owned()),
                Some(Written { place, .. }) => {
                    Err(self.note(Finding::new(Problem::NameOfPresent { key }, place).mended_by(Mend::Remove)))
                }
            },
            Naming::Without => Ok(String::new()),
        }
    }

    fn own_name(&mut self, key: &'static Key, name: Placed<String>) -> Got<String> {
        let found = name.value.clone();
        let used = self.names.get(&(key.section, found.clone()));
        let finding = if found.trim().is_empty() {
            Finding::new(Problem::NameEmpty { key }, name.place)
        } else if found.chars().count() > MOST_NAME_SIGNS {
            Finding::new(Problem::NameLong { key, found: found.chars().count() }, name.place)
        } else if found.contains('/') {
            let mend = Mend::Words(vec![found.replace('/', "-")]);
            Finding::new(Problem::NameSlash { key, found }, name.place).mended_by(mend)
        } else if found == NOW {
            Finding::new(Problem::NameNow { key, found }, name.place)
        } else if let Some(used) = used {
            Finding::new(Problem::NameTwice { key, found }, name.place).seen_with(used.clone())
        } else {
            self.names.insert((key.section, found.clone()), name.place);
            return Ok(found);
        };
        Err(self.note(finding))
    }

    fn one_lens(&mut self, mut table: Table) -> Got<OneLens> {
        let table = &mut table;
        let eye = self.word(table, &keys::EYE, words::eye);
        let eye = self.need(table, &keys::EYE, eye);
        let vertex = self.number(table, &keys::VERTEX);
        let line = self.word(table, &keys::REFERENCE_LINE, words::reference_line);
        self.eye = eye.as_ref().ok().map(|eye| eye.value);
        let rx = self.eye_rx(table, self.eye.unwrap_or(Eye::Right), &Ok(None), &mut false);
        let frame = self.frame(table, Naming::Without);
        let at_line = line.as_ref().ok().and_then(Option::as_ref).map_or(ReferenceLine::default(), |line| line.value);
        let lens = self.lens(table, Naming::Without, at_line);
        if let (Ok(frame), Ok(lens)) = (&frame, &lens) {
            self.below_minimum(lens, &[frame.rim]);
        }
        self.done(std::mem::take(table), Section::Single);
        line?;
        Ok(OneLens {
            eye: eye?.value,
            rx: rx?,
            vertex_mm: vertex?.map(|vertex| vertex.value),
            reference_line: at_line,
            frame: frame?,
            lens: lens?.option,
        })
    }
}
