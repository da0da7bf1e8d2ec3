//! Whether what is opened in a document is closed in it, in turn.
//!
//! The reader of open documents waits for the end of a sheet or of a remark however long that
//! takes: where it is missing, for ever.

use super::guard::shortened;
use super::open::{Refused, broken};

/// The names of the elements that are open.
#[derive(Default)]
pub(super) struct Nesting<'a>(Vec<&'a str>);

impl<'a> Nesting<'a> {
    /// Takes note of a tag without its angle brackets.
    pub(super) fn pass(&mut self, tag: &'a str) -> Result<(), Refused> {
        if tag.starts_with('!') {
            // What else begins so declares names, and no spreadsheet program writes it.
            return Err(broken(format!("`<{}` is declared", shortened(tag))));
        }
        if let Some(name) = tag.strip_prefix('/') {
            if self.0.pop() != Some(name.trim_end()) {
                return Err(broken(format!("`<{}>` ends nothing", shortened(tag))));
            }
        } else if !tag.ends_with('/') {
            let name = tag.split(char::is_whitespace).next();
            self.0.push(name.unwrap_or_default());
        }
        Ok(())
    }

    /// Whether all is closed at the end.
    pub(super) fn end(&self) -> Result<(), Refused> {
        let open = self.0.last();
        open.map_or(Ok(()), |name| {
            Err(broken(format!("`<{}>` is not closed", shortened(name))))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nests(tags: &[&str]) -> bool {
        let mut nesting = Nesting::default();
        tags.iter().all(|tag| nesting.pass(tag).is_ok()) && nesting.end().is_ok()
    }

    #[test]
    fn what_is_opened_is_closed_in_turn() {
        assert!(nests(&[]));
        assert!(nests(&["a b=\"1\"", "c/", "d\n", "/d ", "/a"]));
        for wrong in [
            &["a"][..],
            &["a", "b", "/a", "/b"],
            &["/a"],
            &["a", "/a", "/a"],
            &["a", "/A"],
            &["!DOCTYPE a"],
        ] {
            assert!(!nests(wrong), "{wrong:?}");
        }
    }
}
