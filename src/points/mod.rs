//! Points from a scan or a coordinate table: circles and lines laid through
//! them, and the board that these make.

mod algebraic;
mod circle;
mod cloud;
mod error;
mod line;
mod outlying;
mod symmetric;

pub use circle::CircleFit;
pub use error::PointsError;
pub use line::{LineFit, SeenLine};
pub use outlying::outlying;
