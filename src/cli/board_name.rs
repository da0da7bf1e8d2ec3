//! A board's id in the name of a file.

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
