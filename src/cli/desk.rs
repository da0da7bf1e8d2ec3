//! `ringrule desk`: measure at the board, with a page instead of a text file.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use qrcode::QrCode;
use qrcode::render::unicode::Dense1x2;
use ringrule::table::{BuiltIn, Table};

use super::context::{Context, Ending, Stop};
use super::table_choice::TableChoice;
use crate::desk::{Opening, Right, open_desk};

/// Measure at the board, with a page instead of a text file.
///
/// Serves a folder of board files as pages: the boards by venue and whether each may be
/// used, measuring length by length with the verdict as it comes, saving, reports and
/// comparisons. Everything is kept in the same plain files as ever; what is typed is a
/// draft from the first digit on. The program ends with Ctrl-C, and nothing is lost.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule desk\n  \
    ringrule desk boards --table league.yaml\n  \
    ringrule desk boards --share measure\n\n\
    Only this computer can reach the desk, by the link that is printed. With --share others \
    in the same local network can, each by a link of its own that is good once; what goes over \
    that network is not encrypted.")]
pub(crate) struct DeskCommand {
    /// The folder of board files.
    #[arg(value_name = "FOLDER", default_value = ".")]
    folder: PathBuf,
    #[command(flatten)]
    table: TableChoice,
    /// Let a telephone in the same network in: to look, or also to measure.
    #[arg(long, value_enum, value_name = "RIGHT", num_args = 0..=1,
        default_missing_value = "measure")]
    share: Option<ShareChoice>,
    /// The port; any that is free if nothing is said.
    #[arg(
        long,
        value_name = "NUMBER",
        default_value_t = 0,
        hide_default_value = true
    )]
    port: u16,
    /// Print the address and open no browser.
    #[arg(long)]
    no_browser: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum ShareChoice {
    /// See everything, and change nothing.
    Look,
    /// Also measure and save.
    Measure,
}

impl DeskCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let folder = std::slice::from_ref(&self.folder);
        let table = match context.table_if_any(self.table.named(), folder)? {
            Some(table) => table,
            None => built_in()?,
        };
        context.note(&format!("boards are judged by: {}", table.title));
        let desk = open_desk(Opening {
            folder: self.folder.clone(),
            table,
            port: self.port,
            share: self.share.map(|choice| match choice {
                ShareChoice::Look => Right::Look,
                ShareChoice::Measure => Right::Measure,
            }),
        });
        let desk = desk.map_err(|error| {
            Stop::Said(format!(
                "the desk cannot be opened on `{}`: {error}",
                self.folder.display()
            ))
        })?;
        context.report_at_once(&format!("{}\n", desk.address));
        context.note("open this address in a browser of this computer; Ctrl-C ends the desk");
        if !self.no_browser && Context::is_watched() {
            // Where there is no browser, there is the address.
            let _ = open::that_detached(&desk.address);
        }
        if self.share.is_some() {
            context.note(
                "for somebody in this room: the link below is good once, and the next is printed \
                 when it was used. What goes over the network is not encrypted: use it where you \
                 trust everybody in it",
            );
        }
        let served = desk.serve(|link| {
            context.report_at_once(&format!("{link}\n"));
            context.note(&picture(link));
        });
        served.map_err(|error| Stop::Said(format!("the desk has ended: {error}")))?;
        Ok(Ending::Good)
    }
}

fn built_in() -> Result<Table, Stop> {
    let table = BuiltIn::ALL.first();
    let table = table.ok_or_else(|| Stop::said("name a table with `--table FILE`"))?;
    Ok(Table::read(table.source(), &())?)
}

/// A link as a picture that a telephone reads; the link alone where it is too long for one.
fn picture(link: &str) -> String {
    QrCode::new(link).map_or_else(
        |_| link.to_owned(),
        |code| code.render::<Dense1x2>().quiet_zone(true).build(),
    )
}
