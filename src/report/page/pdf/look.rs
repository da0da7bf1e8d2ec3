//! Type and rules of the printed report: a rulebook's, black on white. All of it
//! is a house rule unless said otherwise, and every length is in points.

use super::lines::Style;

const fn style(bold: bool, size: f32, lead: f32, ink: u8) -> Style {
    Style {
        bold,
        size,
        lead,
        ink,
    }
}

/// Text: 9.5 points, which reads well in a condensed face of this x-height.
pub(super) const BODY: Style = style(false, 9.5, 13.0, 0);
pub(super) const TITLE: Style = style(true, 17.0, 21.0, 0);
pub(super) const HEADING: Style = style(true, 11.5, 15.0, 0);
/// The line above a title.
pub(super) const KICKER: Style = style(false, 8.5, 12.0, 70);
/// Names of facts.
pub(super) const NAME: Style = style(false, 8.5, 13.0, 70);
pub(super) const CAPTION: Style = style(false, 8.5, 12.0, 0);
pub(super) const CELL: Style = style(false, 8.5, 11.5, 0);
pub(super) const CELL_STRONG: Style = style(true, 8.5, 11.5, 0);
/// Headings of columns.
pub(super) const COLUMN: Style = style(true, 8.0, 11.0, 0);
/// Head and foot of a page.
pub(super) const RUNNING: Style = style(false, 7.5, 10.0, 70);
/// A verdict's mark and word.
pub(super) const VERDICT: Style = style(true, 16.0, 21.0, 0);

/// The rules of a table and of a page.
pub(super) const HEAVY: f32 = 0.9;
pub(super) const LIGHT: f32 = 0.4;
pub(super) const HAIR: f32 = 0.25;
/// Ink of what only guides the eye, still seen on a poor printer.
pub(super) const GUIDE: u8 = 150;

/// Space between blocks.
pub(super) const GAP: f32 = 9.0;
/// Between the text of two columns: half on each side.
pub(super) const GUTTER: f32 = 9.0;
/// The same in a table of more than so many columns: names need what it saves.
pub(super) const NARROW: f32 = 5.0;
pub(super) const MANY: usize = 7;
/// Between drawings side by side.
pub(super) const BETWEEN: f32 = 12.0;
/// Height of a line to sign on: 9 mm, room for a signature.
pub(super) const SIGN: f32 = 9.0 * 72.0 / 25.4;
/// Height of a row to write in: 8 mm, room for figures by hand.
pub(super) const WRITE: f32 = 8.0 * 72.0 / 25.4;
/// Width of what is written in at least: 15 mm.
pub(super) const ROOM: f32 = 15.0 * 72.0 / 25.4;
/// A drawing's point is a CSS pixel: 1/96 inch (published: CSS 2, 4.3.2).
pub(super) const PIXEL: f32 = 72.0 / 96.0;
/// 20 mm, the margin of a page that may be punched and filed: common practice.
pub(super) const MARGIN: f32 = 20.0 * 72.0 / 25.4;
