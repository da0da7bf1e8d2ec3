//! An open document, put together by hand so that another library than the one that
//! reads it has written it.

use std::fs;

use super::Desk;

/// A compressed file whose entries are stored as they are (APPNOTE 4.3, from memory).
fn archive(entries: &[(&str, &str)]) -> Vec<u8> {
    let (mut bytes, mut directory) = (Vec::new(), Vec::new());
    for (name, text) in entries {
        let size = u32::try_from(text.len()).expect("small").to_le_bytes();
        let length = u16::try_from(name.len()).expect("short").to_le_bytes();
        let start = u32::try_from(bytes.len()).expect("small").to_le_bytes();
        // Version, flags, method, time, day; then sum, sizes and lengths.
        let common = [
            &[20, 0, 0, 0, 0, 0, 0, 0, 0x21, 0][..],
            &crc32(text.as_bytes()).to_le_bytes(),
            &size,
            &size,
            &length,
            &[0, 0],
        ]
        .concat();
        bytes.extend([b"PK\x03\x04", &common[..], name.as_bytes(), text.as_bytes()].concat());
        directory.extend(
            [
                b"PK\x01\x02\x14\x00",
                &common[..],
                &[0; 10],
                &start,
                name.as_bytes(),
            ]
            .concat(),
        );
    }
    let count = u16::try_from(entries.len()).expect("few").to_le_bytes();
    let start = u32::try_from(bytes.len()).expect("small").to_le_bytes();
    let size = u32::try_from(directory.len()).expect("small").to_le_bytes();
    bytes.extend(directory);
    bytes.extend(
        [
            b"PK\x05\x06\0\0\0\0",
            &count[..],
            &count,
            &size,
            &start,
            &[0, 0],
        ]
        .concat(),
    );
    bytes
}

fn crc32(bytes: &[u8]) -> u32 {
    let sum = bytes.iter().fold(u32::MAX, |mut sum, byte| {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 {
                sum >> 1 ^ 0xedb8_8320
            } else {
                sum >> 1
            };
        }
        sum
    });
    !sum
}

/// A cell by its value and what is shown of it.
fn cell(value: &str) -> String {
    let (kind, shown) = if value.parse::<f64>().is_ok() {
        (
            format!("float\" office:value=\"{value}"),
            value.replace('.', ","),
        )
    } else if value.starts_with("2026-") {
        (
            format!("date\" office:date-value=\"{value}"),
            "21.11.26".to_owned(),
        )
    } else {
        ("string".to_owned(), value.to_owned())
    };
    format!(
        "<table:table-cell office:value-type=\"{kind}\"><text:p>{shown}</text:p></table:table-cell>"
    )
}

fn document(rows: &[&[&str]]) -> Vec<u8> {
    let row = |cells: &&[&str]| {
        let cells: String = cells.iter().map(|value| cell(value)).collect();
        format!("<table:table-row>{cells}</table:table-row>")
    };
    let rows: Vec<String> = rows.iter().map(row).collect();
    let content = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body>\
         <office:spreadsheet><table:table table:name=\"League boards\">\
         {}</table:table></office:spreadsheet></office:body></office:document-content>",
        // An empty row between.
        rows.join("<table:table-row><table:table-cell/></table:table-row>")
    );
    let manifest = "<?xml version=\"1.0\"?><manifest:manifest \
                    xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"/>";
    archive(&[
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("META-INF/manifest.xml", manifest),
        ("content.xml", &content),
    ])
}

#[test]
fn an_open_document_is_read_as_a_workbook_is() {
    assert_eq!(
        crc32(b"123456789"),
        0xcbf4_3926,
        "the usual check value, from memory"
    );
    let head = [
        "board",
        "mounting",
        "inspected by",
        "date",
        "treble width 1 (mm, inside)",
        "treble width 2",
    ];
    let row = |width: &'static str| ["A-1", "staples", "R. Example", "2026-11-21", width, "7.99"];
    let desk = Desk::new();
    let path = desk.path("boards.ods");
    fs::write(&path, document(&[&head, &row("8.01")])).expect("written");
    let (code, said) = desk.intake(&path, &[]);
    assert_eq!(code, Some(0), "{said}");
    let file = fs::read_to_string(desk.path("boards/A-1.yaml")).expect("made");
    assert!(file.contains("readings: [8.01, 7.99]"), "{file}");
    assert!(file.contains("2026-11-21"), "{file}");

    fs::write(&path, document(&[&head, &row("8.01 cm")])).expect("written");
    let (code, said) = desk.intake(&path, &["--overwrite"]);
    assert_eq!(code, Some(2), "{said}");
    assert!(
        said.contains("boards.ods:'League boards'!E3: error"),
        "{said}"
    );
}
