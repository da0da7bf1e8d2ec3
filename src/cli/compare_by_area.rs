//! `ringrule compare` where areas are all that is known of a board, or ratios.

use clap::Args;
use ringrule::comparison::{
    CompareError, CompareOptions, GivenRatio, GivenRatios, compare_by_area,
};
use ringrule::report::{
    AreasComparedReport, areas_compared_html, areas_compared_markdown, areas_compared_pdf,
    areas_compared_rows, areas_compared_text,
};

use super::context::{Context, Stop};
use super::page_forms::{Form, PageFormat, PageForms, workbook};
use super::subjects::Boards;

#[derive(Debug, Args)]
pub(super) struct RatioChoice {
    /// How many times harder a band's beds are than on the board, in place of a second one:
    /// `treble=1.16`, or `double=1.14±0.01` (or `1.14+-0.01`) with its expanded uncertainty
    /// (k = 2). Bands: treble, double, outer-single, inner-single, outer-bull, inner-bull; one
    /// that is not named is unchanged, exactly 1. May be given several times; with one board, or
    /// none.
    #[arg(long, value_name = "BAND=RATIO", conflicts_with = "plot")]
    ratio: Vec<GivenRatio>,
}

impl RatioChoice {
    pub(super) fn given(&self) -> Result<Option<GivenRatios>, Stop> {
        let given = !self.ratio.is_empty();
        let ratios = given.then(|| GivenRatios::new(self.ratio.iter().copied()));
        ratios.transpose().map_err(Stop::said)
    }
}

/// Why a setting that is about a player or metal is of no use, and what would help.
pub(super) fn no_player(boards: &Boards, half: Option<&CompareError>) -> Stop {
    let settings = "`--spread`, `--player-average`, `--throws`, `--aim` and `--metal` need every ring of \
                    every board";
    match half {
        Some(half) => {
            let Stop::Said(why) = boards.why(half) else {
                return boards.why(half);
            };
            Stop::Said(format!(
                "{settings}; {why}; or leave them out to compare areas"
            ))
        }
        None => Stop::Said(format!(
            "{settings}, and ratios give none; name the second board's file in place of \
             `--ratio`, or leave them out"
        )),
    }
}

/// Compares by areas, and writes it in every form.
pub(super) fn write(
    boards: &Boards,
    ratios: Option<&GivenRatios>,
    options: &CompareOptions,
    (page, forms): (&PageForms, Vec<Form<'_, PageFormat>>),
    context: &mut Context,
) -> Result<(), Stop> {
    let subjects = boards.by_area().map_err(|error| boards.why(&error))?;
    let results = context.begin(forms, page.output.overwrite)?;
    let comparison = compare_by_area(&subjects, ratios, options).map_err(Stop::said)?;
    context.write(results, |form, layout, context| {
        Ok(match form {
            PageFormat::Text => areas_compared_text(&comparison, layout).into_bytes(),
            PageFormat::Markdown => areas_compared_markdown(&comparison).into_bytes(),
            PageFormat::Html => areas_compared_html(&comparison).into_bytes(),
            PageFormat::Json => {
                let report = AreasComparedReport::new(&comparison);
                report.to_json().map_err(Stop::said)?.into_bytes()
            }
            PageFormat::Csv => areas_compared_rows(&comparison).into_bytes(),
            PageFormat::Xlsx => workbook("figures", &areas_compared_rows(&comparison))?,
            PageFormat::Pdf => page.pdf(context, |paper, fonts| {
                areas_compared_pdf(&comparison, paper, fonts)
            })?,
        })
    })
}
