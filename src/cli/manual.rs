//! `ringrule manual`: the help texts as pages for `man`.

use std::path::{Path, PathBuf};

use clap::{Args, Command, CommandFactory};
use clap_mangen::Man;

use super::Arguments;
use super::context::{Context, Ending, Stop};

/// Write the help of every command as a page for `man`.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    mkdir -p ~/.local/share/man/man1\n  \
    ringrule manual ~/.local/share/man/man1 --overwrite\n  \
    man ringrule-validate")]
pub(crate) struct ManualCommand {
    /// The folder for the pages: one for the program, and one for each command.
    #[arg(value_name = "FOLDER")]
    folder: PathBuf,
    /// Replace pages that are there already.
    #[arg(long)]
    overwrite: bool,
}

impl ManualCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        if !self.folder.is_dir() {
            let folder = self.folder.display();
            return Err(Stop::said(format!(
                "there is no folder {folder}: make it first, or name another"
            )));
        }
        let pages = pages()?;
        let forms = pages
            .iter()
            .map(|(name, page)| (Some(self.folder.join(name)), page));
        let results = context.begin(forms, self.overwrite)?;
        context.write(results, |page, _, _| Ok((*page).clone()))?;
        Ok(Ending::Good)
    }
}

/// Every page with the name of its file.
fn pages() -> Result<Vec<(PathBuf, Vec<u8>)>, Stop> {
    let mut program = Arguments::command().disable_help_subcommand(true);
    program.build();
    let commands: Vec<Command> = program.get_subcommands().cloned().collect();
    let mut pages = Vec::with_capacity(commands.len() + 1);
    for command in std::iter::once(program).chain(commands) {
        let name = command.get_display_name();
        let name = name.unwrap_or_else(|| command.get_name()).to_owned();
        let file = Path::new(&name).with_extension("1");
        let mut page = Vec::new();
        // Writing to memory cannot fail.
        Man::new(command.name(name))
            .source(concat!("Ringrule ", env!("CARGO_PKG_VERSION")))
            .manual("Ringrule")
            .render(&mut page)
            .map_err(Stop::said)?;
        pages.push((file, page));
    }
    Ok(pages)
}
