//! `ringrule leg`: a whole leg, dart by dart.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::comparison::{WholeLegOptions, whole_legs};
use ringrule::play::{Aims, Entry, LARGEST_START, LegOptions, Objective, Spread};
use ringrule::report::{LegReport, leg_html, leg_markdown, leg_pdf, leg_rows, leg_text};

use super::context::{Context, Ending, Stop};
use super::page_forms::{Form, PageFormat, PageForms, workbook};
use super::player_choice::PlayerChoice;
use super::subjects::{FillChoice, MetalChoice, subjects};
use super::table_choice::TableChoice;
use super::values::{List, ValueError, number, numbers, whole};

/// Play a whole leg as well as it can be played, and say what it comes to.
///
/// An exact decision programme: for every total, every dart in hand and every beginning
/// of a visit, the aim with the fewest expected darts. What comes out: expected darts and
/// their whole distribution, match average, checkout rate, the chance of a perfect leg,
/// where to aim for every finish, and, of several boards, where they want different aims.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule leg board.yaml --spread 12\n  \
    ringrule leg nominal:embedded nominal:staples --table wdf --player-average 85\n  \
    ringrule leg board.yaml --start 301 --entry double --spread 9\n  \
    ringrule leg board.yaml --spread 12 --against 14\n  \
    ringrule leg old.yaml new.yaml --average\n  \
    ringrule leg board.yaml --spread 12 --output finishes.pdf --also finishes.csv\n\n\
    A visit that scores more than is left, leaves one, or comes to zero without a double is \
    void; it counts three darts. The inner bull is a double.\n\n\
    Exit codes:\n  \
    0  the leg was worked out\n  \
    2  a file or a setting could not be used, or a result not written")]
pub(crate) struct LegCommand {
    /// Board files, or `nominal:staples` and `nominal:embedded` of the table.
    #[arg(required = true, value_name = "BOARD")]
    boards: Vec<PathBuf>,
    #[command(flatten)]
    table: TableChoice,
    #[command(flatten)]
    fill: FillChoice,
    #[command(flatten)]
    player: PlayerChoice,
    #[command(flatten)]
    metal: MetalChoice,
    /// The start total.
    #[arg(long, value_name = "TOTAL", default_value_t = 501,
        value_parser = whole::<u32>(2..=LARGEST_START.into(), 501), allow_negative_numbers = true)]
    start: u32,
    /// What is played for.
    #[arg(long, value_enum, default_value_t = ObjectiveChoice::Darts, value_name = "WHAT")]
    objective: ObjectiveChoice,
    /// Where aims may lie. Anywhere takes some seconds.
    #[arg(long, value_enum, default_value_t = AimsChoice::Middles, value_name = "WHERE")]
    aims: AimsChoice,
    /// How the leg begins.
    #[arg(long, value_enum, default_value_t = EntryChoice::Straight, value_name = "HOW")]
    entry: EntryChoice,
    /// The spread of another player in mm, against whom the leg is played.
    #[arg(long, value_name = "MM", value_parser = number, allow_negative_numbers = true)]
    against: Option<f64>,
    /// Match averages on the first board to translate to the others, such as `68.5` or
    /// `60,70.5`; without a value, or with `tens`, every tenth from 30 to 120. Takes some seconds.
    #[arg(long, value_name = "AVERAGE", value_parser = averages, num_args = 0..=1,
        default_missing_value = TENS, allow_negative_numbers = true)]
    average: Option<AverageChoice>,
    /// The highest total of the table of finishes.
    #[arg(long, value_name = "TOTAL", default_value_t = 170,
        value_parser = whole::<u32>(2..=LARGEST_START.into(), 170), allow_negative_numbers = true)]
    finishes: u32,
    #[command(flatten)]
    forms: PageForms,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum ObjectiveChoice {
    /// The fewest expected darts.
    Darts,
    /// The fewest expected visits.
    Visits,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum AimsChoice {
    /// At the middles of the beds.
    Middles,
    /// Anywhere on the board.
    Anywhere,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum EntryChoice {
    /// The first dart counts.
    Straight,
    /// No dart counts before the first double.
    Double,
}

/// What stands for an option `--average` without a value.
const TENS: &str = "tens";

/// The match averages to translate.
#[derive(Clone, Debug)]
enum AverageChoice {
    /// Every tenth, as far as the player can have it.
    Tens,
    Named(List<f64>),
}

fn averages(text: &str) -> Result<AverageChoice, ValueError> {
    if text == TENS {
        return Ok(AverageChoice::Tens);
    }
    numbers(text).map(AverageChoice::Named)
}

impl LegCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let forms = self.forms.all()?;
        self.write(forms, context)
            .map_err(|stop| stop.so("the leg cannot be worked out"))?;
        Ok(Ending::Good)
    }

    fn write(&self, forms: Vec<Form<'_, PageFormat>>, context: &mut Context) -> Result<(), Stop> {
        let subjects = subjects(
            &self.boards,
            self.table.named(),
            &self.fill,
            &self.metal,
            context,
        )?;
        let options = self.options(context)?;
        let results = context.begin(forms, self.forms.output.overwrite)?;
        let legs = whole_legs(&subjects, &options).map_err(|error| PlayerChoice::why(&error))?;
        context.write(results, |form, layout, context| {
            Ok(match form {
                PageFormat::Text => leg_text(&legs, layout).into_bytes(),
                PageFormat::Markdown => leg_markdown(&legs).into_bytes(),
                PageFormat::Html => leg_html(&legs).into_bytes(),
                PageFormat::Json => {
                    let report = LegReport::new(&legs);
                    report.to_json().map_err(Stop::said)?.into_bytes()
                }
                PageFormat::Csv => leg_rows(&legs).into_bytes(),
                PageFormat::Xlsx => workbook("leg", &leg_rows(&legs))?,
                PageFormat::Pdf => self
                    .forms
                    .pdf(context, |paper, fonts| leg_pdf(&legs, paper, fonts))?,
            })
        })
    }

    fn options(&self, context: &Context) -> Result<WholeLegOptions, Stop> {
        let mut leg = LegOptions::from(self.start);
        leg.objective = match self.objective {
            ObjectiveChoice::Darts => Objective::Darts,
            ObjectiveChoice::Visits => Objective::Visits,
        };
        leg.aims = match self.aims {
            AimsChoice::Middles => Aims::Middles,
            AimsChoice::Anywhere => Aims::Continuous,
        };
        leg.entry = match self.entry {
            EntryChoice::Straight => Entry::Straight,
            EntryChoice::Double => Entry::Double,
        };
        let mut options = WholeLegOptions::default();
        options.spread = self.player.spread(context)?;
        options.leg = leg;
        options.against = self
            .against
            .map(Spread::new)
            .transpose()
            .map_err(Stop::said)?;
        options.highest = self.finishes;
        options.match_averages = self.average.as_ref().map(|averages| match averages {
            AverageChoice::Tens => Vec::new(),
            AverageChoice::Named(named) => named.as_slice().to_vec(),
        });
        if options.match_averages.is_some() && self.boards.len() < 2 {
            return Err(Stop::said(
                "averages are translated from the first board to another: name a second board, \
                 such as `nominal:embedded` with `--table wdf`",
            ));
        }
        Ok(options)
    }
}
