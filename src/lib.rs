//! What a spectacle prescription does in each frame: how thick, how heavy and of what shape every lens comes out.
//!
//! The steps from job to report:
//!
//! 1. a job is read and judged: [`job`];
//! 2. each frame at each eye size gets its outlines ([`outline`]) and its reference points ([`frame`]);
//! 3. what the order leaves open is chosen, with the reason: [`choose`];
//! 4. a lens is two surfaces a centre thickness apart: [`surface`], [`lens`];
//! 5. its edge, volume and edging are measured: [`measure`];
//! 6. an ask becomes a lens with all its figures, or the reason why not: [`assess`], [`figures`];
//! 7. many fits are compared and taught from: [`study`], [`advice`].
//!
//! Not modelled: the lens blocked on the boxed centre, tolerances of surfacing and edging, coatings.

pub mod advice;
pub mod assess;
pub mod choose;
#[cfg(feature = "cli")]
pub mod cli;
pub mod draw;
pub mod eye;
pub mod figures;
pub mod finding;
pub mod frame;
pub mod job;
pub mod keys;
pub mod lens;
pub mod light;
pub mod material;
pub mod math;
pub mod measure;
pub mod outline;
pub mod read;
pub mod report;
pub mod rim;
pub mod rx;
pub mod study;
pub mod surface;
pub mod written;

/// The README, so that its code is run with the other examples.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
pub struct Readme;
