//! Drawings as SVG: pieces and look, shared by every report.

pub(super) mod style;
pub(super) mod svg;

pub(super) use svg::Figure;
