//! A board's id in the name of a file.

use std::collections::BTreeSet;
use std::path::PathBuf;

use jiff::civil::Date;

use super::context::{OutputError, Stop};

/// A file for each board under a name of this pattern, `{id}` and `{day}` standing for
/// the board's id and the day of its inspection. Two boards may not share one.
pub(super) fn each_path<'b>(
    pattern: &str,
    boards: impl Iterator<Item = (&'b str, Option<Date>)>,
) -> Result<Vec<PathBuf>, Stop> {
    if !pattern.contains("{id}") {
        return Err(Stop::Said(format!(
            "`{pattern}` would give every board the same file: put `{{id}}` into the name"
        )));
    }
    let mut taken = BTreeSet::new();
    let path = |(id, day): (&str, Option<Date>)| {
        let day = day.map_or_else(|| "undated".to_owned(), |day| day.to_string());
        let name = pattern.replace("{day}", &day);
        let path = PathBuf::from(name.replace("{id}", &file_name(id)));
        if taken.insert(path.clone()) {
            return Ok(path);
        }
        let id = id.to_owned();
        Err(OutputError::SharedId { path, id }.into())
    };
    boards.map(path).collect()
}

/// An id as a part of a file's name: letters and digits of any script, and what
/// no system gives a meaning to.
pub(super) fn file_name(id: &str) -> String {
    let safe: String = id
        .chars()
        .map(|c| {
            if c.is_alphanumeric() || "-_.".contains(c) {
                c
            } else {
                '_'
            }
        })
        .collect();
    // A leading dot hides a file, and `..` is a folder.
    match safe.strip_prefix('.') {
        Some(rest) => format!("_{rest}"),
        None => safe,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_id_cannot_lead_out_of_its_folder() {
        assert_eq!(file_name("FL-03"), "FL-03");
        assert_eq!(file_name("../../etc/x"), "_._.._etc_x");
        assert_eq!(file_name("Schänke 7\u{202e}"), "Schänke_7_");
        assert_eq!(file_name(".."), "_.");
    }
}
