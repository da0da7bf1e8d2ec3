//! Where a number comes from.

use std::fmt;

use schemars::JsonSchema;
use serde::Deserialize;

words! {
    /// How far a number can be traced.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Deserialize, JsonSchema)]
    pub enum Provenance {
        /// Read in the document and clause that are named.
        #[serde(rename = "published")]
        Published = "published",
        /// From memory of a published document that was not opened for this table.
        #[serde(rename = "from memory")]
        FromMemory = "from memory",
        /// What the trade does, without a source.
        #[serde(rename = "common practice")]
        CommonPractice = "common practice",
        /// Decided by the body that the table belongs to.
        #[serde(rename = "house rule")]
        HouseRule = "house rule",
        /// Made up, for demonstration.
        #[serde(rename = "invented")]
        Invented = "invented",
    }

    /// The words in files.
    fn words;
    impl Display = words;
}

/// A source as it is printed beside a number.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Citation {
    /// The document, such as a rule book's title.
    pub document: String,
    /// Its edition or date.
    pub edition: Option<String>,
    /// The clause, section or page.
    pub clause: Option<String>,
    /// How far the number can be traced.
    pub provenance: Provenance,
}

impl fmt::Display for Citation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.document)?;
        for part in [&self.edition, &self.clause].into_iter().flatten() {
            write!(f, ", {part}")?;
        }
        write!(f, " ({})", self.provenance)
    }
}
