//! rimwise
pub mod assess;
pub mod choose;
pub mod eye;
pub mod frame;
pub mod job;
pub mod lens;
pub mod light;
pub mod material;
pub mod math;
pub mod measure;
pub mod outline;
pub mod rim;
pub mod rx;
pub mod surface;
