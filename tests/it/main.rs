//! One binary for all integration tests.
#![expect(clippy::disallowed_methods, reason = "tests read the sources and write files of their own")]

mod advice;
mod catalogues;
mod chance_jobs;
mod curves;
mod docs;
mod drawn;
mod examples;
mod explain;
mod floors;
mod gauge;
mod guide;
mod holding;
mod jobs;
mod limit;
mod messages;
mod orders;
mod other_way;
mod page;
mod pictures;
mod practise;
mod program;
mod reference;
mod report;
mod sheet;
#[path = "../core/snapshot.rs"]
mod snapshot;
#[path = "../core/support.rs"]
mod support;
mod sweep;
mod watch;
mod why;
mod worked_published;
