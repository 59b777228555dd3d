//! rimwise
pub mod choose;
pub mod draw;
pub mod eye;
pub mod frame;
pub mod job;
pub mod light;
pub mod material;
pub mod math;
pub mod outline;
pub mod rim;
pub mod rx;
