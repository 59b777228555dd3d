//! Jobs made of chance go through everything, from the text to the last picture: no panic, no number that is none.
//!
//! The short run of what `fuzz/` does for as long as one likes.

use crate::support::Chance;
use arbitrary::Unstructured;
use rayon::prelude::*;

#[path = "../../fuzz/jobs.rs"]
mod jobs;
#[path = "../../fuzz/outlines.rs"]
mod outlines;

/// Jobs that are worked.
const WORKED: u64 = 4000;
/// One in so many is drawn too.
const DRAWN_OF: u64 = 24;
/// Bytes that steer one job.
const BYTES: usize = 3000;

fn written(seed: u64) -> String {
    jobs::written(&mut Unstructured::new(&steering(seed))).expect("a job")
}

/// Bytes that steer the `seed`th choice.
fn steering(seed: u64) -> Vec<u8> {
    let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    (0..BYTES).map(|_| chance.within(0.0, 256.0) as u8).collect()
}

#[test]
fn whatever_is_traced_is_worked_or_refused() {
    const TRACED: u64 = 400;
    let came: Vec<jobs::Came> = (1..=TRACED)
        .into_par_iter()
        .map(|seed| {
            let text = outlines::written(&mut Unstructured::new(&steering(seed))).expect("an outline");
            std::panic::catch_unwind(|| outlines::worked(text.as_bytes(), seed % DRAWN_OF == 0))
                .unwrap_or_else(|_| panic!("the outline of seed {seed}:\n{text}"))
        })
        .collect();
    let made = came.iter().filter(|came| came.made > 0).count();
    let refused = came.iter().filter(|came| !came.judged).count();
    assert!(made > TRACED as usize / 3, "only {made} of {TRACED} were worked");
    assert!(refused > TRACED as usize / 20, "only {refused} of {TRACED} were refused");
}

/// A file may say what the program never would: that is quoted, and refused.
#[test]
fn what_a_file_says_is_quoted() {
    for text in ["-0", "NaN", "angle_deg,radius_mm\n0,inf\n", "angle_deg,radius_mm\n-0,-0.0\n90,NaN\n"] {
        assert!(!outlines::worked(text.as_bytes(), false).judged, "{text}");
    }
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
