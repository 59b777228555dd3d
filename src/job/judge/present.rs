//! The spectacles worn now: one frame of one size with one lens, and what they were made for.

use super::{Got, Judge, Naming};
use crate::finding::{Finding, Mend, Problem};
use crate::job::Present;
use crate::keys::{self, Section};
use crate::light::ReferenceLine;
use crate::written::Table;

impl Judge<'_> {
    /// The present spectacles; `line` is that of the new prescription.
    pub(super) fn present(&mut self, mut table: Table, line: ReferenceLine) -> Got<Option<Present>> {
        let frame = self.table(&mut table, &keys::PRESENT_FRAME);
        let lens = self.table(&mut table, &keys::PRESENT_LENS);
        let prescription = self.table(&mut table, &keys::PRESENT_PRESCRIPTION);
        let place = table.place.clone();
        for (key, there) in [(&keys::PRESENT_FRAME, &frame), (&keys::PRESENT_LENS, &lens)] {
            if let (Ok(None), false) = (there, table.is_empty()) {
                self.note(Finding::new(Problem::PresentHalf { key }, place.clone()).mended_by(Mend::Add(key)));
            }
        }
        self.done(table, Section::Present);
        let prescription = prescription.and_then(|table| table.map(|t| self.prescription(t, line)).transpose());
        let line = prescription.as_ref().ok().and_then(Option::as_ref).map_or(line, |made_for| made_for.reference_line);
        let frame = frame.and_then(|table| table.map(|table| self.whole_frame(table, Naming::Now)).transpose());
        let lens = lens.and_then(|table| table.map(|table| self.whole_lens(table, Naming::Now, line)).transpose());
        let (Some(frame), Some(lens)) = (frame?, lens?) else { return Ok(None) };
        self.below_minimum(&lens, &[frame.rim]);
        let prescription = prescription?;
        if prescription.is_none() {
            self.note(Finding::new(Problem::PresentAssumed, place));
        }
        Ok(Some(Present { frame, lens: lens.option, prescription }))
    }
}
