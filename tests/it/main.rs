//! One binary for all integration tests.

#![expect(clippy::disallowed_methods, reason = "tests open files")]

mod catalogues;
mod floors;
mod messages;
mod program;
