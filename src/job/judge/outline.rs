//! Measured outlines: named in a job, brought by whoever reads files.
//!
//! Units: mm.

use super::{Got, Judge, Judged, Noted, Placed};
use crate::finding::{Finding, Place, Problem, Unfit};
use crate::keys;
use crate::outline::Measured;
use crate::written::Table;
use std::sync::Arc;

/// Where the judge, who opens no files, asks for an outline by its name. Each is read and prepared once.
pub trait Outlines: Sync {
    /// The outline of this name, with what is wrong or doubtful in it; findings stand in its file, or nowhere where that
    /// cannot be read.
    fn named(&self, name: &str) -> Judged<Arc<Measured>>;
}

/// For whoever has no files at hand: a job that names an outline is refused.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoOutlines;

impl Outlines for NoOutlines {
    fn named(&self, _: &str) -> Judged<Arc<Measured>> {
        Judged::unreadable("no files are read here")
    }
}

impl<T> Judged<T> {
    /// An outline whose file cannot be read, for this reason.
    pub fn unreadable(why: &str) -> Judged<T> {
        let problem = Problem::Outline(Unfit::Unreadable { why: why.to_owned() });
        Judged { value: None, findings: vec![Finding::new(problem, Place::default())] }
    }
}

impl Judge<'_> {
    /// The measured outline of a frame, where it names one.
    pub(super) fn outline(&mut self, table: &mut Table) -> Got<Option<Placed<Arc<Measured>>>> {
        let Some(Placed { value: name, place }) = self.text(table, &keys::OUTLINE)? else { return Ok(None) };
        let Judged { value, findings } = self.outlines.named(&name);
        if self.told.insert(name) {
            for finding in findings {
                self.note(in_job(finding, &place));
            }
        }
        value.map(|value| Some(Placed { value, place })).ok_or(Noted)
    }

    /// A bridge that is not the one measured with the outline.
    pub(super) fn bridge_as_measured(&mut self, outline: &Placed<Arc<Measured>>, bridge: &Placed<f64>) {
        if let Some(said_mm) = outline.value.bridge_mm()
            && (said_mm - bridge.value).abs() > BRIDGE_OFF_MM
        {
            let problem = Problem::Outline(Unfit::Bridge { said_mm, job_mm: bridge.value });
            self.note(Finding::new(problem, bridge.place.clone()).seen_with(outline.place.clone()));
        }
    }
}

/// Two measurements of a bridge differ by this (ours).
const BRIDGE_OFF_MM: f64 = 0.5;

/// A finding in an outline's file, with where the job names it.
fn in_job(finding: Finding, named: &Place) -> Finding {
    if finding.place == Place::default() {
        return Finding { place: named.clone(), ..finding };
    }
    let place = Place { path: named.path.clone(), ..finding.place.clone() };
    Finding { place, ..finding }.seen_with(named.clone())
}
