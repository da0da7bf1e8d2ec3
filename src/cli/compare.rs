//! `ringrule compare`: what the difference between boards does to the game.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ringrule::board::{Board, Metal, MetalError, Mounting};
use ringrule::comparison::{
    CompareOptions, Comparison, SpreadSource, Subject, compare, read_throws,
};
use ringrule::document::{InvalidFile, InvalidFiles};
use ringrule::play::{AimRule, Route, Spread, Target};
use ringrule::report::{
    ComparisonReport, Plot, TextLayout, comparison_html, comparison_markdown, comparison_plot,
    comparison_text,
};
use ringrule::table::{Table, shelf_of};

use super::output::Output;
use super::{Ending, Screen, inputs};

/// Say what the difference between boards does to the game.
///
/// Free areas and metal of both boards, how many times harder each kind of
/// target is, routes, legs, and what a three-dart average on one board is worth
/// on the other. More than two boards: all against the first. Everything that
/// depends on what metal does to a dart is shown as set and at both extremes.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule compare strip.yaml round.yaml --average 100\n  \
    ringrule compare nominal:embedded nominal:staples --table tolerances/wdf.yaml\n  \
    ringrule compare strip.yaml round.yaml --player-average 85 --route \"T20 T20 D20\"\n  \
    ringrule compare strip.yaml round.yaml --throws mine.csv --at T20 --metal \"30 %\"\n  \
    ringrule compare strip.yaml round.yaml --format html --output page.html --also data.json\n  \
    ringrule compare strip.yaml round.yaml --plot odds --output odds.svg\n\n\
    Throws are a CSV file with the columns `x` and `y` (mm right of and above the centre), or \
    with the column `hit` (`T20`, `D16`, `outer 5`, `inner 5`, `25`, `Bull`, `miss`).\n\n\
    Exit codes:\n  \
    0  the boards were compared\n  \
    2  a file or a setting could not be used, or a report not written")]
pub(crate) struct Compare {
    /// Board files, or `nominal:staples` and `nominal:embedded` of the table.
    #[arg(required = true, num_args = 2.., value_name = "BOARD")]
    boards: Vec<String>,
    /// The tolerance table whose nominal boards are named.
    #[arg(long, short, value_name = "FILE")]
    table: Option<PathBuf>,
    #[command(flatten)]
    player: PlayerChoice,
    /// What the throws were aimed at.
    #[arg(long, value_name = "TARGET", requires = "throws")]
    at: Option<Target>,
    /// Where the player aims for a target.
    #[arg(long, value_enum, default_value_t = Aim::Middle, value_name = "WHERE")]
    aim: Aim,
    /// What a dart on metal does: `lost`, `glances`, or the share that bounces
    /// out, such as `30 %`; for one board as `MARK=SETTING`. May be given
    /// several times.
    #[arg(long, value_name = "SETTING")]
    metal: Vec<String>,
    /// A route besides a maximum and the perfect leg, such as `T20 T20 D20` or
    /// `8xT20 D12`. May be given several times.
    #[arg(long, value_name = "ROUTE")]
    route: Vec<Route>,
    /// A three-dart average to translate. May be given several times.
    #[arg(long, value_name = "AVERAGE", value_delimiter = ',')]
    average: Vec<f64>,
    /// A start total, 501 if none is given: its shortest legs are counted, and
    /// the easiest of them is the perfect leg. May be given several times.
    #[arg(long, value_name = "TOTAL", value_delimiter = ',')]
    start: Vec<u32>,
    /// How the result is written.
    #[arg(long, value_enum, default_value_t = Format::Text, value_name = "FORMAT")]
    format: Format,
    /// One plot alone, as SVG.
    #[arg(long, value_enum, value_name = "PLOT", conflicts_with = "format")]
    plot: Option<PlotChoice>,
    #[command(flatten)]
    output: Output,
    /// Also write to this file, in the format of its ending (txt, json, md,
    /// html). May be given several times.
    #[arg(long, value_name = "FILE", requires = "output")]
    also: Vec<PathBuf>,
}

/// Whose throws the odds are for.
#[derive(Debug, Args)]
#[group(multiple = false)]
struct PlayerChoice {
    /// The standard deviation of the player's throws at the board in mm; two of
    /// them for sideways and up, a third for their correlation: `12`, `10,14`,
    /// `10,14,0.2`.
    #[arg(
        long,
        value_name = "MM",
        value_delimiter = ',',
        allow_negative_numbers = true
    )]
    spread: Vec<f64>,
    /// The player's three-dart average on the first board, scoring darts.
    #[arg(long, value_name = "AVERAGE")]
    player_average: Option<f64>,
    /// Throws to estimate the spread from.
    #[arg(long, value_name = "FILE")]
    throws: Option<PathBuf>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Aim {
    /// At the middle of the bed.
    Middle,
    /// Where the target is hit most often.
    MostHits,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    Text,
    Json,
    Markdown,
    Html,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum PlotChoice {
    /// The boards, with the beds that shrank.
    Boards,
    /// How many times harder, against the spread.
    Odds,
    /// Average against average.
    Averages,
    /// The expected score over each board.
    Scores,
}

impl From<PlotChoice> for Plot {
    fn from(choice: PlotChoice) -> Self {
        match choice {
            PlotChoice::Boards => Self::Boards,
            PlotChoice::Odds => Self::Odds,
            PlotChoice::Averages => Self::Averages,
            PlotChoice::Scores => Self::Scores,
        }
    }
}

/// Why a comparison cannot be made: files, or what was asked of them.
enum Fault {
    Files(Vec<InvalidFile>),
    Said(String),
}

impl From<InvalidFiles> for Fault {
    fn from(InvalidFiles(all): InvalidFiles) -> Self {
        Self::Files(all)
    }
}

impl From<InvalidFile> for Fault {
    fn from(invalid_file: InvalidFile) -> Self {
        Self::Files(vec![invalid_file])
    }
}

fn said(error: impl std::fmt::Display) -> Fault {
    Fault::Said(error.to_string())
}

impl Compare {
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        match self.write(screen) {
            Ok(ending) => ending,
            Err(Fault::Files(invalid_files)) => {
                for invalid_file in &invalid_files {
                    screen.invalid_file(invalid_file);
                }
                Ending::Unusable
            }
            Err(Fault::Said(why)) => {
                screen.note(&format!("the boards cannot be compared: {why}"));
                Ending::Unusable
            }
        }
    }

    fn write(&self, screen: &mut Screen) -> Result<Ending, Fault> {
        let also: Vec<(&PathBuf, Format)> = self
            .also
            .iter()
            .map(|path| Ok((path, format_of(path)?)))
            .collect::<Result<_, Fault>>()?;
        let subjects = self.subjects()?;
        let settings = self.settings(&also)?;
        let comparison = compare(&subjects, &settings).map_err(said)?;
        let text = match self.plot {
            Some(plot) => comparison_plot(plot.into(), &comparison, &subjects),
            None => written(self.format, &comparison, &subjects)?,
        };
        let read = self.inputs();
        let mut ending = screen.deliver(&self.output, &text, &read, Ending::Good);
        for (path, format) in also {
            let text = written(format, &comparison, &subjects)?;
            if let Err(why) = self.output.write(path, text.as_bytes(), &read) {
                screen.note(&why);
                ending = Ending::Unusable;
            } else {
                screen.note(&format!("written: {}", path.display()));
            }
        }
        Ok(ending)
    }

    /// Every file that the run reads.
    fn inputs(&self) -> Vec<PathBuf> {
        let boards = self.boards.iter().map(PathBuf::from);
        let others = self.table.iter().chain(&self.player.throws).cloned();
        boards.chain(others).collect()
    }

    /// The boards, every faulty file reported.
    fn subjects(&self) -> Result<Vec<Subject>, Fault> {
        let table = match &self.table {
            Some(path) => Some(Table::read(inputs::read(path)?, &shelf_of(path))?),
            None => None,
        };
        let mut subjects = Vec::new();
        let mut invalid_files = Vec::new();
        for name in &self.boards {
            let subject = match name.strip_prefix("nominal:") {
                Some(mounting) => nominal(table.as_ref(), mounting)?,
                None => match inputs::read(Path::new(name)).and_then(Board::read) {
                    Ok(board) => Subject::of_board(&board).map_err(said)?,
                    Err(invalid_file) => {
                        invalid_files.push(invalid_file);
                        continue;
                    }
                },
            };
            subjects.push(subject);
        }
        if !invalid_files.is_empty() {
            return Err(Fault::Files(invalid_files));
        }
        self.set_metal(subjects)
    }

    /// Metal as the run says, for all boards or for the one with this mark.
    fn set_metal(&self, mut subjects: Vec<Subject>) -> Result<Vec<Subject>, Fault> {
        for setting in &self.metal {
            let (mark, word) = match setting.rsplit_once('=') {
                Some((mark, word)) => (Some(mark), word),
                None => (None, setting.as_str()),
            };
            let metal: Metal = word
                .parse()
                .map_err(|error: MetalError| Fault::Said(format!("{error}; {}", error.remedy())))?;
            let known: Vec<String> = subjects.iter().map(|s| s.label.clone()).collect();
            if let Some(mark) = mark
                && !known.iter().any(|label| label == mark)
            {
                return Err(Fault::Said(format!(
                    "no board is called `{mark}`; there are {}",
                    known.join(", ")
                )));
            }
            subjects = subjects
                .into_iter()
                .map(|subject| match mark {
                    Some(mark) if subject.label != mark => subject,
                    _ => subject.with_metal(metal),
                })
                .collect();
        }
        Ok(subjects)
    }

    fn settings(&self, also: &[(&PathBuf, Format)]) -> Result<CompareOptions, Fault> {
        let player = &self.player;
        let spread = match (
            player.spread.as_slice(),
            player.player_average,
            &player.throws,
        ) {
            ([], None, None) => SpreadSource::Assumed,
            ([], Some(average), _) => SpreadSource::Average(average),
            ([], None, Some(path)) => {
                SpreadSource::Throws(read_throws(inputs::read(path)?)?, self.at)
            }
            ([sigma], ..) => SpreadSource::Given(Spread::new(*sigma).map_err(said)?),
            ([x, y], ..) => SpreadSource::Given(Spread::with(*x, *y, 0.0).map_err(said)?),
            ([x, y, rho], ..) => SpreadSource::Given(Spread::with(*x, *y, *rho).map_err(said)?),
            _ => return Err(Fault::Said("a spread has one to three numbers".to_owned())),
        };
        let html = self.format == Format::Html || also.iter().any(|(_, f)| *f == Format::Html);
        Ok(CompareOptions {
            spread,
            aim: match self.aim {
                Aim::Middle => AimRule::Middle,
                Aim::MostHits => AimRule::MostHits,
            },
            routes: self.route.clone(),
            averages: self.average.clone(),
            starts: self.start.clone(),
            maps: html || self.plot == Some(PlotChoice::Scores),
        })
    }
}

fn nominal(table: Option<&Table>, mounting: &str) -> Result<Subject, Fault> {
    let Some(table) = table else {
        return Err(Fault::Said(format!(
            "`nominal:{mounting}` needs a table: add `--table FILE`"
        )));
    };
    let found = Mounting::ALL
        .into_iter()
        .find(|known| known.key() == mounting);
    let mounting = found.ok_or_else(|| {
        Fault::Said(format!(
            "there is no mounting `{mounting}`: write `nominal:staples` or `nominal:embedded`"
        ))
    })?;
    Subject::of_nominal(table, mounting).map_err(said)
}

fn written(format: Format, comparison: &Comparison, subjects: &[Subject]) -> Result<String, Fault> {
    Ok(match format {
        Format::Text => comparison_text(comparison, TextLayout::default()),
        Format::Markdown => comparison_markdown(comparison),
        Format::Html => comparison_html(comparison, subjects),
        Format::Json => ComparisonReport::new(comparison).to_json().map_err(said)?,
    })
}

/// The format that a file's ending asks for.
fn format_of(path: &Path) -> Result<Format, Fault> {
    let ending = path
        .extension()
        .and_then(|ending| ending.to_str())
        .unwrap_or_default();
    Ok(match ending {
        "txt" => Format::Text,
        "json" => Format::Json,
        "md" => Format::Markdown,
        "html" => Format::Html,
        _ => {
            return Err(Fault::Said(format!(
                "`{}` names no format: end it with .txt, .json, .md or .html",
                path.display()
            )));
        }
    })
}
