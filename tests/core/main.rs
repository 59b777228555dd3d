//! The core without its doors: powers, surfaces, outlines, lenses and what is measured of them. It takes seconds, and is what
//! a deliberate mistake in the core is tried against.
#![expect(clippy::disallowed_methods, reason = "tests read the sources and the environment")]

mod accuracy;
mod base;
mod bevel;
mod blanks;
mod by_hand;
mod case;
mod chosen;
mod dense;
mod edging;
mod laws;
mod measured;
mod no_allocation;
mod published;
mod shapes;
mod slow_route;
mod snapshot;
mod stock;
mod support;
mod surfacing;
