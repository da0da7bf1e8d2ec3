//! What spreadsheet programs and the people who use them make of cells.

use std::fs;

use rust_xlsxwriter::{ExcelDateTime, Format, Formula, Worksheet};

use super::{A, Desk, HEAD, write};

#[test]
fn what_spreadsheet_programs_do_is_read_rightly() {
    let desk = Desk::new();
    let book = desk.book(|sheet| {
        // A title above, the heads of the treble's readings merged, empty rows
        // between, an id merged over two people's rows.
        sheet
            .merge_range(0, 0, 0, 8, "Boards of the league", &Format::new())
            .expect("merged");
        write(
            sheet,
            2,
            &[&[
                "Board",
                "Mounting",
                "Inspected by",
                "Date",
                "",
                "",
                "",
                "Overall_Diameter (mm)",
                "# room for notes",
            ]],
        );
        sheet
            .merge_range(2, 4, 2, 6, "treble width (mm, inside)", &Format::new())
            .expect("merged");
        write(sheet, 3, &[&["# limits", "", "", "", "7.8 to 8.2"]]);
        sheet
            .merge_range(5, 0, 6, 0, "A-1", &Format::new())
            .expect("merged");
        write(
            sheet,
            5,
            &[&[
                "",
                "staples",
                "R. Example",
                "",
                "8.01",
                "7.99",
                "8",
                "451",
                "any note: 9.9",
            ]],
        );
        write(
            sheet,
            6,
            &[&["", "", "B. Birch", "", "8.01", "", "", "451.01"]],
        );
        let day = ExcelDateTime::from_ymd(2026, 10, 3).expect("a day");
        let dates = Format::new().set_num_format("dd/mm/yyyy");
        sheet
            .write_datetime_with_format(5, 3, &day, &dates)
            .expect("written");
        // The same day as a bare serial number.
        sheet.write_number(6, 3, 46298.0).expect("written");
        // A formula with the value that it had, and its rounding.
        let sum = Formula::new("=8+0.01").set_result("8.010000000000002");
        sheet.write_formula(6, 5, sum).expect("written");
        // A number as text.
        sheet.write_string(6, 6, "7.98").expect("written");
    });
    let (code, said) = desk.intake(&book, &[]);
    assert_eq!(code, Some(0), "{said}");
    let file = fs::read_to_string(desk.path("boards/A-1.yaml")).expect("made");
    for readings in [
        "[8.01, 7.99, 8.0]",
        "[8.01, 8.01, 7.98]",
        "[451.0]",
        "[451.01]",
    ] {
        assert!(file.contains(&format!("readings: {readings}")), "{file}");
    }
    assert_eq!(file.matches("2026-10-03").count(), 5, "{file}");
}

/// What is said of one cell that is put into a sound row.
fn said_of(column: u16, put: impl FnOnce(&mut Worksheet)) -> String {
    let desk = Desk::new();
    let book = desk.book(|sheet| {
        write(sheet, 0, &[&HEAD, &A]);
        write(
            sheet,
            2,
            &[&{
                let mut row = A;
                row[0] = "A-2";
                row[usize::from(column).min(14)] = "";
                row
            }],
        );
        put(sheet);
    });
    let (code, said) = desk.intake(&book, &[]);
    assert_eq!(code, Some(2), "{said}");
    assert_eq!(desk.made(), Vec::<String>::new());
    said
}

#[test]
fn what_cannot_be_read_is_refused_with_its_cell() {
    let text = |column: u16, cell: &str, place: &str, words: &str| {
        let said = said_of(column, |sheet| {
            sheet.write_string(2, column, cell).expect("written");
        });
        assert!(
            said.contains(&format!("boards.xlsx:{place}: error")),
            "{cell}: {said}"
        );
        assert!(said.contains(words), "{cell}: {said}");
    };
    text(
        7,
        "12,69",
        "Sheet1!H3",
        "a comma where a decimal point belongs",
    );
    text(7, "1,234.5", "Sheet1!H3", "`1,234.5`");
    text(7, "n/a", "Sheet1!H3", "`n/a`");
    text(7, "80.1", "Sheet1!H3", "cannot be 80.1 mm");
    text(
        3,
        "03/10/2026",
        "Sheet1!D3",
        "may be 2026-10-03 or 2026-03-10",
    );
    text(3, "soon", "Sheet1!D3", "`soon` is not a day");
    text(
        1,
        "stapled",
        "Sheet1!B3",
        "`stapled` is not a word for `mounting`",
    );
    text(
        5,
        "0,01",
        "Sheet1!F3",
        "a comma where a decimal point belongs",
    );
    text(12, "16", "Sheet1!M3", "`ring wires` cannot be 16 mm");
    text(
        20,
        "moved in May",
        "Sheet1!U3",
        "in a column that the head row does not name",
    );

    let said = said_of(7, |sheet| {
        let day = ExcelDateTime::from_ymd(2026, 1, 8).expect("a day");
        let dates = Format::new().set_num_format("d.m.");
        sheet
            .write_datetime_with_format(2, 7, &day, &dates)
            .expect("written");
    });
    assert!(
        said.contains("Sheet1!H3") && said.contains("holds a date or a time, 2026-01-08"),
        "{said}"
    );
    let said = said_of(7, |sheet| {
        let formula = Formula::new("=1/0").set_result("#DIV/0!");
        sheet.write_formula(2, 7, formula).expect("written");
    });
    assert!(
        said.contains("Sheet1!H3") && said.contains("#DIV/0!"),
        "{said}"
    );
    let said = said_of(7, |sheet| {
        sheet.write_boolean(2, 7, true).expect("written");
    });
    assert!(
        said.contains("Sheet1!H3") && said.contains("truth value"),
        "{said}"
    );
    let said = said_of(7, |sheet| {
        sheet
            .merge_range(2, 7, 2, 8, "8.01", &Format::new())
            .expect("merged");
    });
    assert!(
        said.contains("Sheet1!H3") && said.contains("merged"),
        "{said}"
    );
    let said = said_of(3, |sheet| {
        sheet.write_number(2, 3, 3.0).expect("written");
    });
    assert!(
        said.contains("Sheet1!D3") && said.contains("`3` is a number and not a day"),
        "{said}"
    );
}

#[test]
fn heads_that_cannot_be_told_are_refused_with_their_cells() {
    for (column, name, words) in [
        (
            7,
            "trebel width 1 (mm, inside)",
            "did you mean `treble width`",
        ),
        (7, "treble width 1 (cm, inside)", "`cm` in the brackets"),
        (8, "treble width 1", "is there twice"),
        (8, "treble width 2 (mm, apex)", "taken to two edges"),
        (8, "treble width two", "does not say what this column holds"),
        (8, "treble width at 21 2", "21"),
        (12, "ring wires at 20", "has no place around the board"),
        (
            10,
            "treble outer radius 1",
            "to which edge `treble_outer radius` was taken",
        ),
        (13, "mounting", "the column `mounting` is there twice"),
    ] {
        let desk = Desk::new();
        let mut head = HEAD;
        head[column] = name;
        let book = desk.book(|sheet| write(sheet, 0, &[&head, &A]));
        let (code, said) = desk.intake(&book, &[]);
        assert_eq!(code, Some(2), "{name}: {said}");
        let place = format!(
            "Sheet1!{}1",
            ringrule::workbook::column_name(u32::try_from(column).expect("small"))
        );
        assert!(said.contains(&place), "{name}: {said}");
        assert!(said.contains(words), "{name}: {said}");
        assert_eq!(desk.made(), Vec::<String>::new());
    }
    // The table says to which edge a length is limited.
    let desk = Desk::new();
    let mut head = HEAD;
    head[10] = "treble outer radius 1";
    let book = desk.book(|sheet| write(sheet, 0, &[&head, &A]));
    let (code, said) = desk.intake(&book, &["--table", "tolerances/wdf.yaml"]);
    assert_eq!(code, Some(0), "{said}");
}
