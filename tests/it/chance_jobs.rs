//! Jobs made of chance go through everything, from the text to the last picture: no panic, no number that is none.
//!
//! The short run of what `fuzz/` does for as long as one likes.

use crate::support::Chance;
use arbitrary::Unstructured;
use rayon::prelude::*;

#[path = "../../fuzz/jobs.rs"]
mod jobs;

/// Jobs that are worked.
const WORKED: u64 = 4000;
/// One in so many is drawn too.
const DRAWN_OF: u64 = 24;
/// Bytes that steer one job.
const BYTES: usize = 3000;

fn written(seed: u64) -> String {
    let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    let bytes: Vec<u8> = (0..BYTES).map(|_| chance.within(0.0, 256.0) as u8).collect();
    jobs::written(&mut Unstructured::new(&bytes)).expect("a job")
}

#[test]
fn whatever_chance_writes_is_worked_or_refused() {
    let came: Vec<jobs::Came> = (1..=WORKED)
        .into_par_iter()
        .map(|seed| {
            let text = written(seed);
            std::panic::catch_unwind(|| jobs::worked(text.as_bytes(), seed % DRAWN_OF == 0))
                .unwrap_or_else(|_| panic!("the job of seed {seed}:\n{text}"))
        })
        .collect();
    let count = |of: &dyn Fn(&jobs::Came) -> bool| came.iter().filter(|came| of(came)).count();
    let (judged, made) = (count(&|came| came.judged), count(&|came| came.made > 0));
    let (impossible, drawn) = (count(&|came| came.impossible > 0), count(&|came| came.drawn));
    // Chance must not become too tame or too wild to say anything.
    assert!(judged > WORKED as usize / 4, "only {judged} of {WORKED} were sound");
    assert!(made > WORKED as usize / 10, "only {made} of {WORKED} had a lens that can be made");
    assert!(impossible > WORKED as usize / 50, "only {impossible} of {WORKED} had one that cannot");
    assert!(drawn > 50, "only {drawn} were drawn");
}
