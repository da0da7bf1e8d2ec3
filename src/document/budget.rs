//! What one file may cost. House rules: each is some hundred times what an
//! real file needs, and small enough that a hostile one is found invalid in
//! milliseconds.

/// Bytes of text. A full board file has about 1 kB.
pub const BYTES: usize = 1 << 20;

/// Bytes of text that aliases stand for: a file names a wire twice, or a source ten times.
pub const FILLED: usize = 1 << 20;

/// Bytes of one text, key or number. The longest source that anybody cites has some hundred.
pub const TEXT: usize = 4096;

/// Limits of one table file. A rule book has some twenty.
pub const LIMITS: usize = 200;

/// Comments for this program in one file.
pub const COMMENTS: usize = 1000;

/// Values inside one another. A table needs five levels.
pub const DEPTH: usize = 24;

/// Values in the tree, counted after aliases are filled in, so that a few
/// lines of aliases cannot stand for millions of values.
pub const NODES: usize = 20_000;
