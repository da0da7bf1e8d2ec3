//! `ringrule completions`: what a shell offers behind the name of the program.

use clap::builder::PossibleValuesParser;
use clap::{Args, Command, CommandFactory, ValueEnum};
use clap_complete::{Shell, generate};
use ringrule::document::Fault;
use ringrule::lint::Rule;
use ringrule::table::BuiltIn;

use super::Arguments;
use super::context::{Context, Ending};

/// Print what a shell needs to complete commands, options, and the names of rules and
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
        let names = Names::all();
        let (shell, command) = match self.shell {
            ShellChoice::Bash => (Shell::Bash, names.in_command(true)),
            ShellChoice::Zsh => (Shell::Zsh, names.in_command(false)),
            ShellChoice::Fish => (Shell::Fish, Arguments::command()),
            ShellChoice::PowerShell => (Shell::PowerShell, Arguments::command()),
        };
        let mut script = Vec::new();
        generate(shell, &mut { command }, "ringrule", &mut script);
        let script = String::from_utf8_lossy(&script);
        let script = match self.shell {
            ShellChoice::Bash => script.into_owned(),
            ShellChoice::Zsh => names.in_zsh(&script),
            ShellChoice::Fish => names.in_fish(&script),
            ShellChoice::PowerShell => names.in_powershell(&script),
        };
        context.report(&script);
        Ending::Good
    }
}

/// Names that only the library knows, and where they may stand.
struct Names {
    tables: Vec<String>,
    /// Everything that `rules` explains.
    explained: Vec<String>,
    /// A rule and its level.
    levels: Vec<String>,
    /// The commands that take a table.
    take_tables: Vec<String>,
}

impl Names {
    fn all() -> Self {
        let rules = || Rule::ALL.iter().map(|rule| rule.code);
        let faults = Fault::ALL.into_iter().map(Fault::code);
        let levels = ["ignore", "note", "warning", "error"];
        let levels = rules().flat_map(|rule| levels.map(|level| format!("{rule}={level}")));
        let command = Arguments::command();
        let take_tables = command
            .get_subcommands()
            .filter(|command| command.get_arguments().any(|own| own.get_id() == "table"));
        Self {
            tables: BuiltIn::ALL
                .iter()
                .map(|table| table.name.to_owned())
                .collect(),
            explained: rules().chain(faults).map(str::to_owned).collect(),
            levels: levels.collect(),
            take_tables: take_tables
                .map(|command| command.get_name().to_owned())
                .collect(),
        }
    }

    /// The commands, with the names as all that may be said. Bash offers files too where no
    /// name fits (`with_tables`); other shells would offer names alone.
    fn in_command(&self, with_tables: bool) -> Command {
        let add = |command: Command, name: &str, argument: &'static str, values: &[String]| {
            let values = PossibleValuesParser::new(values.to_vec());
            command.mut_subcommand(name, |command| {
                command.mut_arg(argument, |own| own.value_parser(values))
            })
        };
        let mut command = Arguments::command();
        for name in self.take_tables.iter().filter(|_| with_tables) {
            command = add(command, name, "table", &self.tables);
        }
        let command = add(command, "rules", "rule", &self.explained);
        let command = add(command, "lint", "level", &self.levels);
        add(command, "tables", "name", &self.tables)
    }

    /// Tables beside files.
    fn in_zsh(&self, script: &str) -> String {
        let both = format!(":TABLE:{{ compadd -- {}; _files }}", self.tables.join(" "));
        script.replace(":TABLE:_files", &both)
    }

    /// More lines: fish adds up what they offer.
    fn in_fish(&self, script: &str) -> String {
        let line = |command: &str, more: &str, values: &[String]| {
            format!(
                "complete -c ringrule -n \"__fish_ringrule_using_subcommand {command}\" {more} -a \"{}\"\n",
                values.join(" ")
            )
        };
        let tables = self.take_tables.iter();
        let tables = tables.map(|command| line(command, "-s t -l table -r -F", &self.tables));
        let more: String = tables
            .chain([
                line("rules", "-f", &self.explained),
                line("lint", "-l level -r -f", &self.levels),
                line("tables", "-f", &self.tables),
            ])
            .collect();
        format!("{script}{more}")
    }

    /// More results for a command, behind the line that its own begin with.
    fn in_powershell(&self, script: &str) -> String {
        let mut script = script.to_owned();
        let tables = self
            .take_tables
            .iter()
            .map(|name| (name.as_str(), &self.tables));
        let own = [
            ("rules", &self.explained),
            ("lint", &self.levels),
            ("tables", &self.tables),
        ];
        for (command, values) in tables.chain(own) {
            let begins = format!("'ringrule;{command}' {{\n");
            let results = values.iter().map(|value| {
                format!(
                    "            [CompletionResult]::new('{value}', '{value}', \
                     [CompletionResultType]::ParameterValue, '{value}')\n"
                )
            });
            let results: String = results.collect();
            script = script.replacen(&begins, &format!("{begins}{results}"), 1);
        }
        script
    }
}
