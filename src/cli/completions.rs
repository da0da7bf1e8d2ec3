//! `ringrule completions`: what a shell offers behind the name of the program.

use clap::builder::PossibleValuesParser;
use clap::{Args, Command, CommandFactory, ValueEnum};
use clap_complete::{Shell, generate};
use ringrule::document::Fault;
use ringrule::lint::Rule;
use ringrule::table::BuiltIn;

use super::Arguments;
use super::context::{Context, Ending};

/// Print what a shell needs to complete commands and options, and in some shells rules and
/// built-in tables.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule completions bash > ~/.local/share/bash-completion/completions/ringrule\n  \
    ringrule completions zsh > ~/.zfunc/_ringrule\n  \
    ringrule completions fish > ~/.config/fish/completions/ringrule.fish\n  \
    ringrule completions powershell >> $PROFILE\n\n\
    A shell reads the file when it starts; zsh needs its folder in `fpath` before `compinit`.")]
pub(crate) struct CompletionsCommand {
    /// The shell that will read it.
    #[arg(value_enum)]
    shell: ShellChoice,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum ShellChoice {
    Bash,
    Zsh,
    Fish,
    #[value(name = "powershell")]
    PowerShell,
}

impl CompletionsCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Ending {
        let shell = match self.shell {
            ShellChoice::Bash => Shell::Bash,
            ShellChoice::Zsh => Shell::Zsh,
            ShellChoice::Fish => Shell::Fish,
            ShellChoice::PowerShell => Shell::PowerShell,
        };
        let mut script = Vec::new();
        generate(shell, &mut with_names(shell), "ringrule", &mut script);
        context.report(&String::from_utf8_lossy(&script));
        Ending::Good
    }
}

/// The commands, with the names that only the library knows.
fn with_names(shell: Shell) -> Command {
    let rules = Rule::ALL.iter().map(|rule| rule.code);
    let faults = Fault::ALL.into_iter().map(Fault::code);
    let explained: Vec<&str> = rules.clone().chain(faults).collect();
    let levels: Vec<String> = rules
        .flat_map(|rule| {
            ["ignore", "note", "warning", "error"].map(|level| format!("{rule}={level}"))
        })
        .collect();
    let tables = || BuiltIn::ALL.iter().map(|table| table.name);
    let mut command = Arguments::command();
    let names: Vec<String> = command
        .get_subcommands()
        .filter(|command| command.get_arguments().any(|own| own.get_id() == "table"))
        .map(|command| command.get_name().to_owned())
        .collect();
    // Bash offers files where no name fits; other shells would offer names alone.
    for name in names.iter().filter(|_| shell == Shell::Bash) {
        command = command.mut_subcommand(name, |command| {
            command.mut_arg("table", |own| {
                own.value_parser(PossibleValuesParser::new(tables()))
            })
        });
    }
    command
        .mut_subcommand("rules", |command| {
            command.mut_arg("rule", |own| {
                own.value_parser(PossibleValuesParser::new(explained))
            })
        })
        .mut_subcommand("lint", |command| {
            command.mut_arg("level", |own| {
                own.value_parser(PossibleValuesParser::new(levels))
            })
        })
        .mut_subcommand("tables", |command| {
            command.mut_arg("name", |own| {
                own.value_parser(PossibleValuesParser::new(tables()))
            })
        })
}
