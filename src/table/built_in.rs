//! The tables that come with the program.

use std::path::{Path, PathBuf};

use crate::document::{Source, nearest};

/// What the name of a built-in table begins with where it stands for a file.
const SCHEME: &str = "ringrule:";

/// A tolerance table that comes with the program.
#[derive(Debug, PartialEq, Eq)]
pub struct BuiltIn {
    /// The name by which it is asked for.
    pub name: &'static str,
    /// What it is, in a line.
    pub about: &'static str,
    /// The whole file.
    pub text: &'static str,
}

impl BuiltIn {
    /// Every one of them.
    pub const ALL: &[Self] = &[Self {
        name: "wdf",
        about: "World Darts Federation rules, dartboard section (from memory)",
        text: include_str!("../../tolerances/wdf.yaml"),
    }];

    /// The version of the program that its tables belong to.
    pub const VERSION: &str = env!("CARGO_PKG_VERSION");

    /// The table of a name.
    ///
    /// ```
    /// use ringrule::table::{BuiltIn, Table};
    ///
    /// let wdf = BuiltIn::named("wdf").expect("it comes with the program");
    /// let table = Table::read(wdf.source(), &())?;
    /// assert_eq!(table.documents[0].source.name(), "ringrule:wdf");
    /// # Ok::<(), ringrule::document::InvalidFiles>(())
    /// ```
    pub fn named(name: &str) -> Option<&'static Self> {
        Self::ALL.iter().find(|one| one.name == name)
    }

    /// Which name may have been meant.
    pub fn nearest(name: &str) -> String {
        let known: Vec<&str> = Self::ALL.iter().map(|one| one.name).collect();
        nearest(name, &known)
    }

    /// The table that a source of this name is, so that a report can say so.
    pub fn of_source(name: &str) -> Option<&'static Self> {
        name.strip_prefix(SCHEME).and_then(Self::named)
    }

    /// Its text, under a name that is no file's.
    pub fn source(&self) -> Source {
        Source::new(format!("{SCHEME}{}", self.name), self.text)
    }
}

/// A table as somebody names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TableName {
    /// One that comes with the program.
    BuiltIn(&'static BuiltIn),
    /// A file.
    File(PathBuf),
}

impl TableName {
    /// What a name means beside the files of a folder: a file where there is one,
    /// and else the built-in table of that name.
    pub fn beside(folder: &Path, name: &Path) -> Self {
        let path = folder.join(name);
        let built_in = name.to_str().and_then(BuiltIn::named);
        match built_in.filter(|_| !path.exists()) {
            Some(built_in) => Self::BuiltIn(built_in),
            None => Self::File(path),
        }
    }
}

#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::table::Table;

    #[test]
    fn every_built_in_table_is_sound_and_is_what_it_is_said_to_be() {
        for one in BuiltIn::ALL {
            let table = Table::read(one.source(), &()).expect("a sound table");
            assert_eq!(table.title, one.about);
            let name = table.documents[0].source.name().to_owned();
            assert_eq!(BuiltIn::of_source(&name), Some(one));
            assert_eq!(
                BuiltIn::of_source(one.name),
                None,
                "a file may be called so"
            );
        }
    }

    #[test]
    fn a_file_of_the_same_name_wins() {
        let here = |name: &str| TableName::beside(Path::new("tolerances"), Path::new(name));
        assert!(matches!(here("wdf"), TableName::BuiltIn(_)));
        let file = TableName::File(PathBuf::from("tolerances/wdf.yaml"));
        assert_eq!(here("wdf.yaml"), file);
        let folder = TableName::beside(Path::new(""), Path::new("specs"));
        assert_eq!(folder, TableName::File(PathBuf::from("specs")));
    }
}
