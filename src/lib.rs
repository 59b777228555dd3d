//! rimwise
pub mod choose;
#[cfg(feature = "cli")]
pub mod cli;
pub mod eye;
pub mod finding;
pub mod frame;
pub mod job;
pub mod keys;
pub mod light;
pub mod material;
pub mod math;
pub mod outline;
pub mod read;
pub mod report;
pub mod rim;
pub mod rx;
pub mod written;
