//! What is wished of the edges of a frame's lenses, and the rim's own curve.

use super::{Got, Judge, Placed};
use crate::finding::{Finding, Idle, Mend, Problem};
use crate::keys::{self, Key};
use crate::rim::{CHAMFER_MM, EdgeWish, Position, Rim, SEAT_MM, SHARE_BEFORE};
use crate::written::Table;

/// The words of [`Position`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Word {
    Front,
    Share,
    RimCurve,
}

impl Word {
    fn from_word(word: &str) -> Option<Word> {
        [Word::Front, Word::Share, Word::RimCurve]
            .into_iter()
            .zip(Position::WORDS)
            .find(|(_, w)| *w == word)
            .map(|(of, _)| of)
    }
}

impl Judge<'_> {
    /// What is wished of an edge; `rim` is `None` where it is not known for a fault of its own.
    pub(super) fn edge(&mut self, table: &mut Table, rim: Option<Rim>) -> Got<EdgeWish> {
        let position = self.word(table, &keys::BEVEL_POSITION, Word::from_word);
        let behind = self.number(table, &keys::BEVEL_BEHIND);
        let share = self.number(table, &keys::BEVEL_SHARE);
        let curve = self.number(table, &keys::RIM_CURVE);
        let chamfer = self.number(table, &keys::CHAMFER);
        let (mut position, behind, share, mut curve) = (position?, behind?, share?, curve?);
        if rim == Some(Rim::Rimless) {
            self.idle(&keys::BEVEL_POSITION, position.take(), Idle::Drilled);
            self.idle(&keys::RIM_CURVE, curve.take(), Idle::Drilled);
        }
        let word = position.map(|position| position.value);
        let (behind, behind_idle) = split(behind, word == Some(Word::Front));
        let (share, share_idle) = split(share, word == Some(Word::Share));
        self.idle(&keys::BEVEL_BEHIND, behind_idle, Idle::WithoutPosition(Position::WORDS[0]));
        self.idle(&keys::BEVEL_SHARE, share_idle, Idle::WithoutPosition(Position::WORDS[1]));
        let position = match word {
            None => Position::Usual,
            Some(Word::Front) => Position::Front { behind_mm: behind.map_or(SEAT_MM, |behind| behind.value) },
            Some(Word::Share) => Position::Share { before: share.map_or(SHARE_BEFORE, |share| share.value) },
            Some(Word::RimCurve) => {
                let curve = curve.as_ref().map(|curve| Placed { value: curve.value, place: curve.place.clone() });
                Position::RimCurve { rim_curve_d: self.need(table, &keys::RIM_CURVE, Ok(curve))?.value }
            }
        };
        Ok(EdgeWish {
            position,
            rim_curve_d: curve.map(|curve| curve.value),
            chamfer_mm: chamfer?.map_or(CHAMFER_MM, |chamfer| chamfer.value),
        })
    }

    /// Says of something written that nothing comes of it.
    fn idle<T>(&mut self, key: &'static Key, written: Option<Placed<T>>, why: Idle) {
        if let Some(Placed { place, .. }) = written {
            self.note(Finding::new(Problem::BevelIdle { key, why }, place).mended_by(Mend::Remove));
        }
    }
}

/// What counts, and what does not.
fn split<T>(written: Option<T>, counts: bool) -> (Option<T>, Option<T>) {
    if counts { (written, None) } else { (None, written) }
}
