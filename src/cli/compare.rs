//! `ringrule compare`: what the difference between boards does to the game.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use ringrule::comparison::{CompareError, CompareOptions, Subject, compare};
use ringrule::play::Route;
use ringrule::report::{
    ComparisonReport, Plot, comparison_html, comparison_markdown, comparison_pdf, comparison_plot,
    comparison_rows, comparison_text, picture,
};

use super::compare_by_area::{self, RatioChoice};
use super::context::{Context, Ending, Stop};
use super::page_forms::{Form, PageFormat, PageForms, workbook};
use super::player_choice::{AimChoice, PlayerChoice};
use super::subjects::{Boards, FillChoice, MetalChoice};
use super::table_choice::TableChoice;
use super::values::{List, all, numbers, totals};

/// Say what the difference between boards does to the game.
///
/// Free areas and metal of both boards, how many times harder each kind of
/// target is, routes, legs, and what a three-dart average on one board is worth
/// on the other. More than two boards: all against the first. Everything that
/// depends on what metal does to a dart is shown as set and at both extremes.
///
/// Where a board's rings are not all known, or ratios stand in place of the second board,
/// what follows from areas alone.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule compare strip.yaml round.yaml --average 100\n  \
    ringrule compare nominal:embedded nominal:staples --table tolerances/wdf.yaml\n  \
    ringrule compare strip.yaml round.yaml --player-average 85 --route \"T20 T20 D20\"\n  \
    ringrule compare strip.yaml round.yaml --throws mine.csv --at T20 --metal \"30 %\"\n  \
    ringrule compare strip.yaml --ratio treble=1.16±0.01 --ratio double=1.14\n  \
    ringrule compare strip.yaml half-measured.yaml --fill wdf\n  \
    ringrule compare strip.yaml round.yaml --output page.html --also data.json\n  \
    ringrule compare strip.yaml round.yaml --plot odds --output odds.svg\n\n\
    Throws are a CSV file with the columns `x` and `y` (mm right of and above the centre), or \
    with the column `hit` (`T20`, `D16`, `outer 5`, `inner 5`, `25`, `Bull`, `miss`).\n\n\
    Exit codes:\n  \
    0  the boards were compared\n  \
    2  a file or a setting could not be used, or a report not written")]
pub(crate) struct Compare {
    /// Board files, two or more, or `nominal:staples` and `nominal:embedded` of the table. With
    /// ratios one, or none.
    #[arg(required_unless_present = "ratio", value_name = "BOARD")]
    boards: Vec<PathBuf>,
    #[command(flatten)]
    table: TableChoice,
    #[command(flatten)]
    ratio: RatioChoice,
    #[command(flatten)]
    fill: FillChoice,
    #[command(flatten)]
    player: PlayerChoice,
    #[command(flatten)]
    aim: AimChoice,
    #[command(flatten)]
    metal: MetalChoice,
    /// A route besides a maximum and the perfect leg, such as `T20 T20 D20` or
    /// `8xT20 D12`. May be given several times.
    #[arg(long, value_name = "ROUTE", allow_negative_numbers = true)]
    route: Vec<Route>,
    /// A three-dart average to translate. May be given several times.
    #[arg(long, value_name = "AVERAGE", value_parser = numbers, allow_negative_numbers = true)]
    average: Vec<List<f64>>,
    /// A start total, 501 if none is given: its shortest legs are counted, and
    /// the easiest of them is the perfect leg. May be given several times.
    #[arg(long, value_name = "TOTAL", value_parser = totals, allow_negative_numbers = true)]
    start: Vec<List<u32>>,
    /// One plot alone, as SVG, or as PNG where the ending of --output says so.
    #[arg(long, value_enum, value_name = "PLOT", conflicts_with = "format")]
    plot: Option<PlotChoice>,
    #[command(flatten)]
    forms: PageForms,
}

/// What a file holds: the comparison, or one plot alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Format {
    Page(PageFormat),
    Svg(PlotChoice),
    Png(PlotChoice),
}

impl From<PageFormat> for Format {
    fn from(format: PageFormat) -> Self {
        Self::Page(format)
    }
}

impl Format {
    /// Whether it shows the expected score over each board.
    fn has_maps(self) -> bool {
        match self {
            Self::Page(format) => matches!(format, PageFormat::Html | PageFormat::Pdf),
            Self::Svg(plot) | Self::Png(plot) => plot == PlotChoice::Scores,
        }
    }
}

/// Pixels across a plot: as `draw` has them. House rule.
const PLOT_WIDTH: u32 = 1600;

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

impl Compare {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let forms = match self.plot {
            None => {
                let forms = self.forms.all()?.into_iter();
                forms.map(|(path, format)| (path, format.into())).collect()
            }
            Some(plot) => {
                let known = [("svg", Format::Svg(plot)), ("png", Format::Png(plot))];
                let output = &self.forms.output;
                self.forms
                    .after(output.format(None, &known, Format::Svg(plot))?)?
            }
        };
        self.write(forms, context)
            .map_err(|stop| stop.so("the boards cannot be compared"))?;
        Ok(Ending::Good)
    }

    fn write(&self, forms: Vec<Form<'_, Format>>, context: &mut Context) -> Result<(), Stop> {
        let boards = Boards::read(&self.boards, self.table.named(), &self.fill, context)?;
        let ratios = self.ratio.given()?;
        let half = match (ratios.is_some(), boards.whole()) {
            (true, _) => None,
            (false, Ok(subjects)) => return self.full(&self.metal.on(subjects)?, forms, context),
            (false, Err(half)) => Some(half),
        };
        // A plot draws rings, and one board is set against nothing.
        let pages = forms.iter().map(|&(path, format)| match format {
            Format::Page(format) => Some((path, format)),
            Format::Svg(_) | Format::Png(_) => None,
        });
        let pages: Option<Vec<_>> = pages.collect();
        let by_area = match &half {
            None | Some(CompareError::HalfMeasured { .. }) => pages,
            Some(_) => None,
        };
        match (by_area, &half) {
            (Some(_), half)
                if self.player.is_given() || self.aim.is_given() || self.metal.is_given() =>
            {
                Err(compare_by_area::no_player(&boards, half.as_ref()))
            }
            (None, Some(half)) => Err(boards.why(half)),
            (pages, _) => {
                let options = self.options(&forms, context)?;
                let forms = (&self.forms, pages.unwrap_or_default());
                compare_by_area::write(&boards, ratios.as_ref(), &options, forms, context)
            }
        }
    }

    fn full(
        &self,
        subjects: &[Subject],
        forms: Vec<Form<'_, Format>>,
        context: &mut Context,
    ) -> Result<(), Stop> {
        let options = self.options(&forms, context)?;
        let results = context.begin(forms, self.forms.output.overwrite)?;
        let comparison = compare(subjects, &options).map_err(|error| PlayerChoice::why(&error))?;
        let plotted = |plot: PlotChoice| comparison_plot(plot.into(), &comparison, subjects);
        context.write(results, |form, layout, context| {
            Ok(match *form {
                Format::Page(PageFormat::Text) => comparison_text(&comparison, layout).into_bytes(),
                Format::Page(PageFormat::Markdown) => comparison_markdown(&comparison).into_bytes(),
                Format::Page(PageFormat::Html) => {
                    comparison_html(&comparison, subjects).into_bytes()
                }
                Format::Page(PageFormat::Json) => {
                    let report = ComparisonReport::new(&comparison);
                    report.to_json().map_err(Stop::said)?.into_bytes()
                }
                Format::Page(PageFormat::Csv) => comparison_rows(&comparison).into_bytes(),
                Format::Page(PageFormat::Xlsx) => {
                    workbook("figures", &comparison_rows(&comparison))?
                }
                Format::Page(PageFormat::Pdf) => self.forms.pdf(context, |paper, fonts| {
                    comparison_pdf(&comparison, subjects, paper, fonts)
                })?,
                Format::Svg(plot) => plotted(plot).into_bytes(),
                Format::Png(plot) => picture(&plotted(plot), PLOT_WIDTH).map_err(Stop::said)?,
            })
        })
    }

    fn options(
        &self,
        forms: &[Form<'_, Format>],
        context: &Context,
    ) -> Result<CompareOptions, Stop> {
        let mut options = CompareOptions::default();
        options.spread = self.player.spread(context)?;
        options.aim = self.aim.rule();
        options.routes.clone_from(&self.route);
        options.averages = all(&self.average);
        options.starts = all(&self.start);
        options.maps = forms.iter().any(|(_, format)| format.has_maps());
        Ok(options)
    }
}
