//! `ringrule schema`: the file formats as JSON Schema.

use clap::{Args, ValueEnum};
use ringrule::{board, event, lint, report, table};

use super::context::{Context, Ending};

/// Print the JSON Schema of a file format, for editors and other programs.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule schema board > board.schema.json\n  \
    ringrule schema table > table.schema.json\n\n\
    An editor with a YAML language server completes and explains a file whose first line is\n  \
    # yaml-language-server: $schema=board.schema.json")]
pub(crate) struct SchemaCommand {
    /// The format: of board files, tolerance tables, event files and settings files, or of the
    /// JSON of `validate` (findings; with `--records`, record), `report`, `compare` (comparison; by areas alone
    /// areas-compared), `history`, `leg`, `lint` and `lot`.
    #[arg(value_enum)]
    format: Format,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Format {
    Board,
    Table,
    Event,
    Settings,
    Findings,
    Report,
    Comparison,
    AreasCompared,
    History,
    Leg,
    Lint,
    Lot,
    Record,
}

impl SchemaCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Ending {
        let shape = match self.format {
            Format::Board => board::shape(),
            Format::Table => table::shape(),
            Format::Event => event::shape(),
            Format::Settings => lint::settings_shape(),
            Format::Findings => report::findings_shape(),
            Format::Report => report::report_shape(),
            Format::Comparison => report::comparison_shape(),
            Format::AreasCompared => report::areas_compared_shape(),
            Format::History => report::history_shape(),
            Format::Leg => report::leg_shape(),
            Format::Lint => report::lint_shape(),
            Format::Lot => report::lot_shape(),
            Format::Record => report::record_shape(),
        };
        context.report(&shape.to_text());
        Ending::Good
    }
}
