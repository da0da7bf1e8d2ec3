//! Lengths of which nobody says how well they are known.

use crate::board::Board;
use crate::document::{FileKind, Level};
use crate::lint::notation::{once, such};
use crate::lint::{Example, Flagged, Rule, Scope, Subject};

pub(super) const RULE: Rule = Rule {
    code: "missing-uncertainty",
    summary: "lengths without an uncertainty",
    flags: "A measured length for which the file gives no uncertainty: none of its own, none for the file, no instrument and no readings that scatter. Wires given as gauges are left out. A recorded area without an uncertainty of its own counts too.",
    matters: "Without it a value near a limit can be neither trusted nor doubted.",
    source: "no numbers",
    level: Level::Warning,
    kinds: &[FileKind::Board],
    failing: Example::board("fl-03.yaml").with(&[(
        "resolution: 0.01, max_error: 0.03, calibrated: \"2026-05-02\"",
        "calibrated: \"2026-05-02\"",
    )]),
    passing: Example::board("fl-03.yaml"),
    scope: Scope::Board(check),
};

fn check(board: &Board, _: &Subject, flagged: &mut Vec<Flagged>) {
    let inputs = board.construction.inputs.iter();
    let bare = inputs.filter(|input| {
        input.uncertainty.is_none() && input.wire.is_none_or(|wire| wire.gauge.is_none())
    });
    let bare = bare.map(|input| (input.span, input.name()));
    let areas = board.construction.areas.iter();
    let areas = areas.filter_map(|(band, own)| Some((band, own.as_ref()?)));
    let areas = areas.filter(|(_, own)| own.uncertainty.is_none());
    let bare = bare.chain(areas.map(|(band, own)| (own.span, format!("{band} area"))));
    flagged.extend(once(bare.collect(), |span, count| {
        let text = board.document.source.slice(span);
        let more = such(count);
        Flagged::new(
            span,
            format!("no uncertainty is known of {text}{more}"),
            "add `uncertainty:`, or `instrument:` with its resolution and permissible error",
        )
    }));
}
