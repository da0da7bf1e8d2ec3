//! Lengths, areas, angles, temperatures and wire gauges as types, and the one place where
//! text becomes any of them.
//!
//! Inside the program every length is in millimetres and every area in square
//! millimetres; the types only exist so that a radius cannot be handed over
//! where an area or an angle is meant.

mod area_notation;
mod gauge;
mod instrument;
mod notation;
mod notation_fault;
pub(crate) mod patterns;
mod percent;
mod quantity;
mod series;
mod temperature;
mod uncertainty;

pub use area_notation::{AreaFault, parse_area};
pub use gauge::{Gauge, GaugeFault, GaugeSystem, NoSuchGauge};
pub use instrument::{Correction, Errors, Instrument};
pub use notation::{LengthUnit, WireSize, parse_length, parse_percent, parse_wire};
pub use notation_fault::NotationFault;
pub use percent::Percent;
pub use quantity::{Angle, Area, Length, NotFinite};
pub use series::{Series, SeriesError};
pub use temperature::{Expansion, Temperature, parse_expansion, parse_kelvins, parse_temperature};
pub use uncertainty::{Coverage, Uncertainty, UncertaintyError};
