//! Names of files made of what people typed.

use sha2::{Digest, Sha256};

/// Longest part of a file's name that is made of a person's words. House rule.
const LONGEST: usize = 40;

/// A name for a file that says what it is of: letters, digits and hyphens alone, and never
/// the same for two texts.
pub(super) fn unique(text: &str) -> String {
    let digest = Sha256::digest(text.as_bytes());
    let mark: String = digest
        .iter()
        .take(4)
        .map(|byte| format!("{byte:02x}"))
        .collect();
    format!("{}-{mark}", plain(text))
}

/// A name for a file that people will read: letters, digits and hyphens.
pub(super) fn plain(text: &str) -> String {
    let mut name = String::new();
    for c in text.chars() {
        if name.len() >= LONGEST {
            break;
        }
        if c.is_ascii_alphanumeric() {
            name.push(c.to_ascii_lowercase());
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    let name = name.trim_end_matches('-');
    if name.is_empty() { "board" } else { name }.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_leads_out_of_the_folder() {
        for text in [
            "../../etc/passwd",
            "..",
            "/",
            "C:\\x",
            "a\0b",
            "CON",
            "",
            "ÄÖ",
            "a/b",
        ] {
            for name in [plain(text), unique(text)] {
                assert!(!name.is_empty());
                let good = |c: char| c.is_ascii_alphanumeric() || c == '-';
                assert!(name.chars().all(good) && !name.starts_with('-'), "{name}");
            }
        }
        assert_ne!(unique("a b"), unique("a-b"));
        assert_eq!(plain("FL-03"), "fl-03");
        assert!(unique(&"x".repeat(5000)).len() < 60);
    }
}
