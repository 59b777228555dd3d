//! One binary for all integration tests.
#![expect(clippy::disallowed_methods, reason = "tests read the sources and write files of their own")]

mod accuracy;
mod advice;
mod base;
mod bevel;
mod blanks;
mod by_hand;
mod catalogues;
mod chance_jobs;
mod curves;
mod dense;
mod docs;
mod drawn;
mod edging;
mod examples;
mod floors;
mod jobs;
mod laws;
mod limit;
mod measured;
mod messages;
mod no_allocation;
mod orders;
mod other_way;
mod page;
mod pictures;
mod program;
mod published;
mod reference;
mod report;
mod sheet;
mod slow_route;
mod stock;
mod support;
mod watch;
mod why;
