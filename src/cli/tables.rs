//! `ringrule tables`: the tolerance tables that come with the program.

use clap::Args;
use ringrule::table::BuiltIn;

use super::context::{Context, Ending, Output, Stop};

/// List the tolerance tables that come with the program, or print one.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule tables\n  \
    ringrule tables wdf\n  \
    ringrule tables wdf --output league.yaml\n\n\
    A built-in table is used by its name: `--table wdf`. A file of that name wins. A table of \
    your own need not copy one: `extends: wdf` takes its limits over, and states what differs.")]
pub(crate) struct TablesCommand {
    /// The table to print.
    #[arg(value_name = "NAME")]
    name: Option<String>,
    #[command(flatten)]
    output: Output,
}

impl TablesCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let text = match &self.name {
            Some(name) => named(name)?.text.to_owned(),
            None => BuiltIn::ALL
                .iter()
                .map(|table| format!("{}: {}\n", table.name, table.about))
                .collect(),
        };
        context.deliver(&self.output, text.as_bytes())?;
        Ok(Ending::Good)
    }
}

fn named(name: &str) -> Result<&'static BuiltIn, Stop> {
    BuiltIn::named(name).ok_or_else(|| {
        let nearest = BuiltIn::nearest(name);
        Stop::Said(format!("there is no built-in table `{name}`: {nearest}"))
    })
}
