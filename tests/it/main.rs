//! One binary for all integration tests.

mod floors;
mod published;
mod slow_route;
mod support;
