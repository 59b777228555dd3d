//! One binary for all integration tests.

mod floors;
mod slow_route;
mod support;
