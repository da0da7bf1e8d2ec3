//! What stands beside a board's figures: lengths that were filled in, and recorded areas.

use crate::board::FilledLength;
use crate::comparison::RecordedBeside;
use crate::report::page::Block;

/// Which lengths of a board were not measured, in one line; nothing if all were.
pub(in crate::report) fn filled(label: &str, filled: &[FilledLength]) -> Option<String> {
    let length = |own: &FilledLength| {
        let edge = own.edge.map_or(String::new(), |edge| format!(" ({edge})"));
        format!("{}{edge} {:.3}", own.quantity, own.value)
    };
    let lengths: Vec<String> = filled.iter().map(length).collect();
    (!lengths.is_empty()).then(|| {
        format!(
            "{label}, nominal, not measured: {}. What rests on them states no uncertainty.",
            lengths.join(", ")
        )
    })
}

/// Recorded areas of a board beside those that its rings give, a line each.
pub(in crate::report) fn recorded(label: &str, beside: &[RecordedBeside]) -> Vec<String> {
    let line = |own: &RecordedBeside| {
        let apart = own.recorded_mm2 - own.from_rings_mm2;
        let u = own
            .expanded_uncertainty_mm2
            .map_or(String::new(), |u| format!(" ± {u:.1}"));
        let said = match own.contradicts() {
            Some(true) => ": more than both may be wrong by; measure again",
            Some(false) => ", which is within what both may be wrong by",
            None => "; how well both are known is not stated",
        };
        format!(
            "{label}, {}: the rings give {:.1} mm² a bed, and are used; the file also records \
             {:.1} mm², {apart:+.1}{u} mm² apart{said}.",
            own.band, own.from_rings_mm2, own.recorded_mm2
        )
    };
    beside.iter().map(line).collect()
}

/// Both of several boards, under one heading; nothing if there is nothing to say.
pub(in crate::report) fn section<'a>(
    boards: impl IntoIterator<Item = (&'a str, &'a [FilledLength], &'a [RecordedBeside])>,
) -> Vec<Block> {
    let mut lines = Vec::new();
    for (label, lengths, beside) in boards {
        lines.extend(filled(label, lengths));
        lines.extend(recorded(label, beside));
    }
    Block::section("Beside what was measured", Block::points(lines))
}
