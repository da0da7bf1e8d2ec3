//! CSV files of boards, sheets and throws, as spreadsheet programs write them.

use std::fs;

use super::Desk;
use super::common::{ringrule, transcript};

/// A file of two boards, as a spreadsheet program writes it where the decimal mark
/// is the comma. Invented.
const CONTINENTAL: &str = "board;name;mounting;inspected by;date;overall diameter (mm);\
treble width 1 (mm, inside);treble width 2\r\n\
A-1;Schänke, hinten;staples;R. Example;21.11.2026;451,0;8,01;7,99\r\n\
\r\n\
A-2;Schänke, vorn;staples;R. Example;21.11.2026;451,2;8,03;8,02\r\n";

/// The same where it is the point.
const PLAIN: &str = "board,name,mounting,inspected by,date,overall diameter (mm),\
treble width 1 (mm, inside),treble width 2\n\
A-1,Stage,staples,R. Example,2026-11-21,451.0,8.01,7.99\n";

fn quoted(text: &str) -> String {
    text.replace("(mm, inside)", "(mm; inside)")
}

impl Desk {
    fn csv(&self, bytes: impl AsRef<[u8]>) -> String {
        let path = self.path("boards.csv");
        fs::write(&path, bytes).expect("written");
        path
    }

    fn file(&self, id: &str) -> String {
        fs::read_to_string(self.path(&format!("boards/{id}.yaml"))).expect("made")
    }
}

#[test]
fn a_file_says_itself_how_it_is_written() {
    let wide = |text: &str| {
        let units = text.encode_utf16().flat_map(u16::to_le_bytes);
        [0xff, 0xfe].into_iter().chain(units).collect::<Vec<u8>>()
    };
    for bytes in [
        CONTINENTAL.as_bytes().to_vec(),
        format!("\u{feff}{CONTINENTAL}").into_bytes(),
        wide(CONTINENTAL),
        wide(&CONTINENTAL.replace(';', "\t")),
    ] {
        let desk = Desk::new();
        let (code, said) = desk.intake(&desk.csv(bytes), &[]);
        assert_eq!(code, Some(0), "{said}");
        assert_eq!(desk.made(), ["A-1.yaml", "A-2.yaml"]);
        let file = desk.file("A-1");
        for part in [
            "readings: [8.01, 7.99]",
            "Schänke, hinten",
            "2026-11-21",
            "[451.0]",
        ] {
            assert!(file.contains(part), "{part}: {file}");
        }
    }
    let desk = Desk::new();
    let (code, said) = desk.intake(&desk.csv(quoted(PLAIN)), &[]);
    assert_eq!(code, Some(0), "{said}");
    assert!(desk.file("A-1").contains("readings: [8.01, 7.99]"));
}

#[test]
fn characters_that_a_file_does_not_name_are_asked_for() {
    let desk = Desk::new();
    let western: Vec<u8> = CONTINENTAL
        .chars()
        .map(|c| u8::try_from(u32::from(c)).expect("a letter of the code page"))
        .collect();
    let path = desk.csv(western);
    let (code, said) = desk.intake(&path, &[]);
    assert_eq!(code, Some(2), "{said}");
    assert!(
        said.contains("line 2 holds a byte that is not UTF-8"),
        "{said}"
    );
    assert!(said.contains("--encoding windows-1252"), "{said}");
    let (code, said) = desk.intake(&path, &["--encoding", "windows-1252"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(desk.file("A-1").contains("Schänke, hinten"));
}

#[test]
fn a_decimal_comma_among_commas_is_an_error_of_its_row() {
    for (from, to, words) in [
        // 8.01 becomes the fields 8 and 01.
        (
            "8.01",
            "8,01",
            "this row has 9 fields, and the first row names 8",
        ),
        (
            "8.01,7.99",
            "8.01",
            "this row has 7 fields, and the first row names 8",
        ),
        (
            "7.99",
            "7.99,",
            "this row has 9 fields, and the first row names 8",
        ),
        ("8.01", "\"12,69\"", "a comma where a decimal point belongs"),
    ] {
        let desk = Desk::new();
        let (code, said) = desk.intake(&desk.csv(quoted(PLAIN).replace(from, to)), &[]);
        assert_eq!(code, Some(2), "{to}: {said}");
        assert!(said.contains("boards.csv:2:"), "{to}: {said}");
        assert!(said.contains(words), "{to}: {said}");
        assert_eq!(desk.made(), Vec::<String>::new());
    }
}

#[test]
fn a_sheet_with_decimal_commas_among_commas_is_not_pooled() {
    // The width was written 12,69: its readings would be 12, 69, 12.7 and 12.71,
    // and the last would slide into the remark.
    let desk = Desk::new();
    let sheet = |row: &str| {
        format!(
            "item,edge,unit,reading 1,reading 2,reading 3,remark\nboard,,,A-1\nmounting,,,staples\n\
             inspector,,,R. Example\n{row}\n"
        )
    };
    let path = desk.path("sheet.csv");
    let pool = |row: &str| {
        fs::write(&path, sheet(row)).expect("written");
        let output = ringrule(&["pool", &path]);
        (output.status.code(), transcript(&output))
    };
    let (code, said) = pool("inner_bull diameter,inside,mm,12.69,12.70,12.71,");
    assert_eq!(code, Some(0), "{said}");
    for row in [
        "inner_bull diameter,inside,mm,12,69,12.70,12.71,",
        // Of the right length by two mistakes: one comma too many, one field too few.
        "inner_bull diameter,inside,mm,12,69,12.70,12.71",
        "inner_bull diameter,inside,mm,12,69,12.70,",
        "inner_bull diameter,inside,mm,12.69,12.70",
        "inner_bull diameter,inside,mm,12.69,12.70,12.71,,",
        "inner_bull diameter,inside,mm,\"12,69\",12.70,12.71,",
    ] {
        let (code, said) = pool(row);
        assert_eq!(code, Some(2), "{row}: {said}");
        assert!(said.contains("sheet.csv:5:"), "{row}: {said}");
    }
    // A sheet with semicolons says itself that its decimal mark is the comma.
    let text = sheet("inner_bull diameter,inside,mm,12.69,12.70,12.71,");
    fs::write(&path, text.replace(',', ";").replace("12.", "12,")).expect("written");
    let output = ringrule(&["pool", &path]);
    assert_eq!(output.status.code(), Some(0), "{}", transcript(&output));
    assert!(transcript(&output).contains("readings: [12.69, 12.7, 12.71]"));
}

#[test]
fn throws_with_decimal_commas_are_refused_with_their_row() {
    let desk = Desk::new();
    let path = desk.path("throws.csv");
    for throws in [
        "x,y\n1,2\n-1,5,103,2\n",
        "x,y\n1,2\n-1,5,\n",
        "x,y\n1,2\n-1\n",
    ] {
        fs::write(&path, throws).expect("written");
        let boards = [
            "specs/demo/01-round-to-rule.yaml",
            "specs/demo/02-strip-to-rule.yaml",
        ];
        let output = ringrule(&[
            "compare", boards[0], boards[1], "--throws", &path, "--at", "T20",
        ]);
        let said = transcript(&output);
        assert_eq!(output.status.code(), Some(2), "{throws}: {said}");
        assert!(said.contains("throws.csv:3:"), "{throws}: {said}");
    }
}

#[test]
fn days_are_read_where_they_are_clear_or_declared() {
    let day = |text: &str, more: &[&str]| {
        let desk = Desk::new();
        let (code, said) = desk.intake(&desk.csv(quoted(PLAIN).replace("2026-11-21", text)), more);
        match code {
            Some(0) => {
                let file = desk.file("A-1");
                let at = file.find("2026-").expect("a day");
                Ok(file[at..at + 10].to_owned())
            }
            _ => Err(said),
        }
    };
    assert_eq!(day("03-Oct-26", &[]).as_deref(), Ok("2026-10-03"));
    assert_eq!(day("25/10/2026", &[]).as_deref(), Ok("2026-10-25"));
    let said = day("03/10/2026", &[]).expect_err("two days");
    assert!(said.contains("may be 2026-10-03 or 2026-03-10"), "{said}");
    assert!(said.contains("--dates day-first"), "{said}");
    assert_eq!(
        day("03/10/2026", &["--dates", "day-first"]).as_deref(),
        Ok("2026-10-03")
    );
    assert_eq!(
        day("03/10/2026", &["--dates", "month-first"]).as_deref(),
        Ok("2026-03-10")
    );
    // Recomputed independently: 46298 days after 30 December 1899.
    let said = day("46298", &[]).expect_err("a number");
    assert!(said.contains("--serial-dates"), "{said}");
    assert_eq!(
        day("46298", &["--serial-dates"]).as_deref(),
        Ok("2026-10-03")
    );
}

#[test]
fn a_workbook_is_never_written_over() {
    let desk = Desk::new();
    fs::create_dir(desk.path("boards")).expect("made");
    let path = desk.path("boards/A-1.yaml");
    fs::write(&path, quoted(PLAIN)).expect("written");
    let (code, said) = desk.intake(&path, &["--overwrite"]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("is an input of this run"), "{said}");
    assert_eq!(fs::read_to_string(&path).expect("there"), quoted(PLAIN));
}

#[test]
fn a_row_that_copies_another_names_its_row() {
    let desk = Desk::new();
    let row = |by: &str| format!("A-1,staples,{by},2026-11-21,8.01,7.99,8.02,12.70,12.71\n");
    let text = format!(
        "board,mounting,inspected by,date,treble width 1 (mm; inside),treble width 2,\
         treble width 3,inner bull diameter 1 (mm; inside),inner bull diameter 2\n{}{}",
        row("R. Example"),
        row("S. Other")
    );
    let (code, said) = desk.intake(&desk.csv(text), &[]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("the same readings as another"), "{said}");
    assert!(
        said.contains("the other row") && said.contains("S. Other"),
        "{said}"
    );
}

#[test]
fn a_board_file_is_named_as_one() {
    let desk = Desk::new();
    let (code, said) = desk.intake("specs/demo/01-round-to-rule.yaml", &[]);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("this is a board file"), "{said}");
    assert!(said.contains("ringrule validate"), "{said}");
    assert!(desk.made().is_empty());
}
