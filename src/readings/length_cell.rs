//! A cell that holds a length.

use super::item::Item;
use super::sheet_columns::with_unit;
use crate::board::usual::Ranges;
use crate::document::{Cell, CsvFormat, DecimalMark, Fault, Problem, Problems};
use crate::units::{LengthUnit, NotationFault, parse_length, parse_wire};

/// One cell as a length in mm; `unit` is that of a bare number.
pub(super) fn read_length(
    item: Item,
    cell: &Cell,
    unit: Option<LengthUnit>,
    format: CsvFormat,
    problems: &mut Problems,
) -> Option<f64> {
    let mut problem = |fault, message: String, remedy: &str| {
        problems.add(Problem::new(fault, cell.span, message, remedy));
    };
    if format.decimal == DecimalMark::Comma && cell.text.contains('.') {
        let message = format!(
            "`{}` has a point, and the decimal mark is the comma",
            cell.text
        );
        let remedy = "write `8,01`, and nothing between thousands";
        problem(Fault::Notation, message, remedy);
        return None;
    }
    let with_unit = with_unit(format.with_point(&cell.text), unit);
    let range = Ranges::of(item.0);
    let length = if item.is_wire() {
        parse_wire(&with_unit).map(|size| size.width)
    } else {
        parse_length(&with_unit)
    };
    let fault = match length {
        Ok(length) if range.contains(length) => return Some(length.as_mm()),
        Ok(length) => {
            let message = format!("`{item}` cannot be {} mm", length.as_mm());
            let mut remedy = range.words();
            if item.is_wire() && cell.text.parse::<u8>().is_ok() {
                let gauge = &cell.text;
                remedy = format!("if this is a gauge, name its system (`{gauge} SWG`); {remedy}");
            }
            problem(Fault::OutOfRange, message, &remedy);
            return None;
        }
        Err(fault) => fault.of_cell(&cell.text),
    };
    let remedy = match &fault {
        NotationFault::DecimalComma(_) => {
            format!("{}, or declare `--decimal comma`", fault.remedy())
        }
        NotationFault::NoUnit(text) => format!(
            "name the unit in the column `unit`, in the head (`reading 1 (mm)`) or in the \
                 cell (`{text} mm`)"
        ),
        _ => fault.remedy(),
    };
    problem(Fault::Notation, fault.to_string(), &remedy);
    None
}

/// How much larger the largest reading of a length may be than the smallest where
/// two of them may be one number. House rule: no ring is so uneven.
const MOST_UNEVEN: f64 = 1.25;

/// The first of two cells that may be one number with a decimal comma, cut in two
/// where commas stand between cells: both are whole, and with them the readings are
/// not of one length. `12.69` written so becomes 12 and 69.
pub(super) fn cut_in_two(cells: &[&Cell]) -> Option<Problem> {
    let numbers = cells
        .iter()
        .filter_map(|cell| cell.text.parse::<f64>().ok());
    let (least, most) = numbers.fold((f64::INFINITY, 0.0_f64), |(least, most), number| {
        (least.min(number), most.max(number))
    });
    if most <= MOST_UNEVEN * least {
        return None;
    }
    let is_whole = |cell: &Cell| cell.text.bytes().all(|byte| byte.is_ascii_digit());
    let mut pairs = cells.windows(2);
    let [first, second] = pairs.find(|pair| pair.iter().all(|cell| is_whole(cell)))? else {
        return None;
    };
    Some(Problem::new(
        Fault::Contradiction,
        first.span.to(second.span),
        format!(
            "`{}` and `{}` are not readings of one length: is this {}.{} with a decimal comma?",
            first.text, second.text, first.text, second.text
        ),
        "write numbers with a decimal point where commas stand between cells, or put them into quotation \
         marks and declare `--decimal comma`",
    ))
}
