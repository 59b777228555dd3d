//! What a spectacle prescription does in each frame: how thick, how heavy and of what shape every lens comes out.
//!
//! ```
//! use rimwise::material::Shelf;
//! use rimwise::study::compare::Comparison;
//!
//! let job = r#"
//!     format = 1
//!     prescription.right = { sphere = -6.25, cylinder = -1.5, axis = 175, pd_mm = 31.5 }
//!     prescription.left = { sphere = -5.75, pd_mm = 32.0 }
//!     frame = [{ name = "Fennel", shape = "oval", eye_sizes_mm = [48, 52], depth_mm = 38, bridge_mm = 18, rim = "metal" }]
//!     lens = [{ name = "thin", material = "resin-1.67" }]
//! "#;
//! let job = rimwise::read::job(job.as_bytes(), &Shelf::built_in()).value.expect("a job without faults");
//! let comparison = Comparison::of(&job);
//! let edge = |index: usize| comparison.fits[index].pair().map(|pair| pair.edge_max_mm());
//! assert!(edge(0) < edge(1), "the smaller eye size is thinner at the edge");
//! ```
//!
//! The steps from job to report:
//!
//! 1. a job is read and judged: [`job`];
//! 2. each frame at each eye size gets its outlines ([`outline`]) and its reference points ([`frame`]);
//! 3. what the order leaves open is chosen, with the reason: [`choose`];
//! 4. a lens is two surfaces a centre thickness apart: [`surface`], [`lens`];
//! 5. its edge, volume and edging are measured: [`measure`];
//! 6. an ask becomes a lens with all its figures, or the reason why not: [`assess`], [`figures`];
//! 7. many fits are compared and taught from: [`study`], [`advice`];
//! 8. pictures are drawn true to scale, and all of it is told: [`draw`], [`report`].
//!
//! Not modelled: the lens blocked on the boxed centre, tolerances of surfacing and edging, coatings.

pub use kurbo::Vec2;

pub mod advice;
pub mod assess;
pub mod choose;
#[cfg(feature = "cli")]
pub mod cli;
pub mod draw;
pub mod explain;
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
#[cfg(feature = "cli")]
pub mod practise;
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
