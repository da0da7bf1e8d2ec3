//! What a page holds, whatever it is written as.

/// A report in sections.
pub(super) struct Page {
    pub(super) title: String,
    /// What was assumed, a line each.
    pub(super) assumptions: Vec<String>,
    pub(super) sections: Vec<Section>,
    /// Cautions at the end.
    pub(super) cautions: Vec<String>,
}

/// A heading with tables and notes under it.
pub(super) struct Section {
    pub(super) heading: String,
    pub(super) tables: Vec<Table>,
    pub(super) notes: Vec<String>,
}

/// A table whose first column names its rows; the others are figures.
pub(super) struct Table {
    pub(super) caption: String,
    pub(super) columns: Vec<String>,
    pub(super) rows: Vec<Vec<String>>,
}

impl Table {
    pub(super) fn new(caption: impl Into<String>, columns: &[&str]) -> Self {
        Self {
            caption: caption.into(),
            columns: columns.iter().map(|&name| name.to_owned()).collect(),
            rows: Vec::new(),
        }
    }
}
