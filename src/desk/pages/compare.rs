//! What the difference between boards does to the game.

use axum::response::Response;
use maud::html;
use ringrule::comparison::{
    CompareOptions, SpreadSource, Subject, WholeLegOptions, compare, tell_apart, whole_legs,
};
use ringrule::play::Spread;
use ringrule::report::{comparison_html, leg_html};

use super::boards::today;
use super::frame::{Room, asked as may, page, some_of};
use super::report::{choices, document, files};
use super::trouble::unusable;
use crate::desk::State;
use crate::desk::routes::{Asked, said};
use crate::desk::typed::tidy;

/// Boards that one page sets side by side. House rule: more cannot be told apart.
const MOST: usize = 12;

pub(in crate::desk) fn form(state: &State, _: &Asked) -> Response {
    let content = html! {
        form action="/compare/page" {
            (some_of(&choices(state), false))
            (may("average", "The player's three-dart average on the first board", "text", "",
                "scoring darts; or leave it out and give the spread"))
            (may("spread", "The player's spread in mm", "text", "",
                "the standard deviation of the darts about what is aimed at; left out with the \
                 average, one is assumed"))
            button type="submit" { "Compare the boards" }
            " "
            button type="submit" formaction="/leg/page" { "Play a leg of 501 on each" }
        }
        p.note { "The first board in the list is the one that the others are compared with." }
    };
    page(state, Room::Compare, "Compare", &content)
}

fn wanted(
    state: &State,
    asked: &Asked,
    least: usize,
) -> Result<(Vec<Subject>, SpreadSource), String> {
    let boards = state
        .folder
        .boards(&files(&asked.said), &state.table, today());
    if boards.len() < least {
        let number = if least == 1 {
            "a board"
        } else {
            "at least two boards"
        };
        return Err(format!("go back and choose {number}"));
    }
    if boards.len() > MOST {
        return Err(format!("go back and choose at most {MOST} boards"));
    }
    let subjects: Result<Vec<Subject>, _> = boards.iter().map(Subject::of_board).collect();
    let subjects = tell_apart(subjects.map_err(|why| format!("{why}; measure it first"))?);
    let number = |name: &str| {
        let text = tidy(said(&asked.said, name));
        match text.parse::<f64>() {
            _ if text.is_empty() => Ok(None),
            Ok(number) if number.is_finite() => Ok(Some(number)),
            _ => Err(format!(
                "go back and write a plain number in place of `{text}`"
            )),
        }
    };
    let source = match (number("spread")?, number("average")?) {
        (Some(_), Some(_)) => {
            return Err("go back and give the average or the spread, not both".to_owned());
        }
        (Some(spread), None) => {
            SpreadSource::Given(Spread::new(spread).map_err(|why| format!("go back: {why}"))?)
        }
        (None, Some(average)) => SpreadSource::Average(average),
        (None, None) => SpreadSource::Assumed,
    };
    Ok((subjects, source))
}

pub(in crate::desk) fn html(state: &State, asked: &Asked) -> Response {
    let made = wanted(state, asked, 2).and_then(|(subjects, spread)| {
        let mut options = CompareOptions::default();
        options.spread = spread;
        options.maps = true;
        let found = compare(&subjects, &options).map_err(|why| format!("go back: {why}"))?;
        Ok(comparison_html(&found, &subjects))
    });
    match made {
        Ok(page) => document(page),
        Err(next) => unusable("The boards cannot be compared", &next),
    }
}

pub(in crate::desk) fn leg(state: &State, asked: &Asked) -> Response {
    let made = wanted(state, asked, 1).and_then(|(subjects, spread)| {
        let mut options = WholeLegOptions::default();
        options.spread = spread;
        let found = whole_legs(&subjects, &options).map_err(|why| format!("go back: {why}"))?;
        Ok(leg_html(&found))
    });
    match made {
        Ok(page) => document(page),
        Err(next) => unusable("The leg cannot be worked out", &next),
    }
}
