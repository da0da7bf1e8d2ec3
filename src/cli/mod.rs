//! One file a command: wiring only. What commands share is their context.

mod blank_choice;
mod board_name;
mod compare;
mod compare_by_area;
mod completions;
pub(crate) mod context;
#[cfg(feature = "desk")]
mod desk;
mod digitise;
mod draw;
mod event_choice;
mod formats;
mod history;
mod intake;
mod judged;
mod leg;
mod licences;
mod lint;
mod lot;
mod manual;
mod only_ours;
mod page_forms;
mod pdf_choice;
mod player_choice;
mod pool;
mod records;
mod report;
mod report_files;
mod report_run;
mod rules;
mod schema;
mod sheet_format;
mod subjects;
mod table_choice;
mod tables;
mod tidy;
mod validate;
pub(crate) mod values;
mod worksheet;

use std::ffi::OsStr;

use clap::{Parser, Subcommand, ValueEnum};
use ringrule::board::Mounting;
use ringrule::report::escape;

use context::{Colour, Context, Ending};

/// Says whether a dartboard is built to rule, and by how much its rings, wires
/// and beds deviate.
#[derive(Debug, Parser)]
#[command(
    version,
    max_term_width = 100,
    after_help = "Examples:\n  \
                  ringrule validate specs/demo --table tolerances/wdf.yaml\n  \
                  ringrule worksheet --table tolerances/wdf.yaml --mounting staples\n  \
                  ringrule help validate\n\n\
                  Environment:\n  \
                  RINGRULE_SETTINGS  a settings file for every file, in place of those found in \
                  the folders\n  \
                  RINGRULE_COLOR     as `--colour`, which counts before it\n  \
                  COLUMNS            how wide text is, where the terminal is not to say\n\n\
                  A Ringrule result is a calculation, not an official approval: the governing \
                  body's current rules prevail. Take the darts out and the board down before \
                  measuring; old spiders have sprung wire ends and loose staples."
)]
pub(crate) struct Arguments {
    /// When to use colours. `auto` looks at the environment (NO_COLOR, then
    /// CLICOLOR_FORCE), then at whether the output is a terminal. Files never
    /// have colours.
    #[arg(long, visible_alias = "color", global = true, value_enum,
        default_value_t = Colour::Auto, value_name = "WHEN",
        env = "RINGRULE_COLOR", hide_env_values = true)]
    colour: Colour,
    /// Print no notes such as `written: …`. The result, and what is wrong, are printed all
    /// the same.
    #[arg(long, global = true)]
    quiet: bool,
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Check boards against a tolerance table.
    Validate(validate::Validate),
    /// Write the report that an organiser signs.
    Report(report::ReportCommand),
    /// Say whether files can be trusted to say what was measured.
    Lint(lint::Lint),
    /// List the rules of `lint`, or explain one.
    Rules(rules::RulesCommand),
    /// Say what the difference between boards does to the game.
    Compare(compare::Compare),
    /// Play a whole leg as well as it can be played, and say what it comes to.
    Leg(leg::LegCommand),
    /// Say what has changed since boards were inspected before, and which are due.
    History(history::HistoryCommand),
    /// Say whether the process that made a run of boards is stable and capable.
    Lot(lot::LotCommand),
    /// Measure at the board, with a page instead of a text file.
    #[cfg(feature = "desk")]
    Desk(desk::DeskCommand),
    /// Draw a board and sections through its rings, with its deviations.
    Draw(draw::Draw),
    /// Make a blank inspection sheet for a board and a table.
    Worksheet(worksheet::Worksheet),
    /// Bring filled sheets of one board together into a board file.
    Pool(pool::PoolCommand),
    /// Take in a spreadsheet of many boards and make a board file of each.
    Intake(intake::IntakeCommand),
    /// Make a board file of points from a scan or a coordinate table.
    Digitise(digitise::DigitiseCommand),
    /// List the tolerance tables that come with the program, or print one.
    Tables(tables::TablesCommand),
    /// Print the JSON Schema of a file format, for editors and other programs.
    Schema(schema::SchemaCommand),
    /// Print what a shell needs to complete commands, options, rules and built-in tables.
    Completions(completions::CompletionsCommand),
    /// Write the help of every command as a page for `man`.
    Manual(manual::ManualCommand),
    /// Print the licences of the program and of everything in it; also `--licences`.
    #[command(long_flag = "licences")]
    Licences(licences::LicencesCommand),
}

/// A mounting on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum MountingChoice {
    Staples,
    Embedded,
}

impl From<MountingChoice> for Mounting {
    fn from(choice: MountingChoice) -> Self {
        match choice {
            MountingChoice::Staples => Self::Staples,
            MountingChoice::Embedded => Self::Embedded,
        }
    }
}

/// An argument as an error may print it.
pub(crate) fn harmless(argument: &OsStr) -> String {
    escape::terminal(&argument.to_string_lossy()).into_owned()
}

/// Where the system gives no more threads, one has to do: the work is the same.
fn find_threads() {
    let several = rayon::ThreadPoolBuilder::new().build();
    if several.is_err() {
        let alone = rayon::ThreadPoolBuilder::new().num_threads(1);
        // Only a pool that is there already could be in the way.
        let _ = alone.use_current_thread().build_global();
    }
}

/// Runs a command.
pub(crate) fn run(arguments: &Arguments) -> Ending {
    find_threads();
    let mut context = Context::new(arguments.colour, arguments.quiet);
    let ended = match &arguments.command {
        Command::Validate(command) => command.run(&mut context),
        Command::Report(command) => command.run(&mut context),
        #[cfg(feature = "desk")]
        Command::Desk(command) => command.run(&mut context),
        Command::Lint(command) => command.run(&mut context),
        Command::Rules(command) => command.run(&mut context),
        Command::Compare(command) => command.run(&mut context),
        Command::Leg(command) => command.run(&mut context),
        Command::History(command) => command.run(&mut context),
        Command::Lot(command) => command.run(&mut context),
        Command::Draw(command) => command.run(&mut context),
        Command::Worksheet(command) => command.run(&mut context),
        Command::Pool(command) => command.run(&mut context),
        Command::Intake(command) => command.run(&mut context),
        Command::Digitise(command) => command.run(&mut context),
        Command::Tables(command) => command.run(&mut context),
        Command::Schema(command) => Ok(command.run(&mut context)),
        Command::Completions(command) => Ok(command.run(&mut context)),
        Command::Manual(command) => command.run(&mut context),
        Command::Licences(command) => Ok(command.run(&mut context)),
    };
    context.finish(ended)
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_arguments_fit_together() {
        Arguments::command().debug_assert();
    }
}
