//! Gathers boards one by one, and puts a run together.

use std::collections::HashMap;

use thiserror::Error;

use super::charts::FALSE_ALARM;
use super::data::{Lot, LotBoard, Subject, Tolerance};
use super::row::{BoardRow, Of, RowValue};
use super::study::{Gathered, study};
use crate::table::Table;

words! {
    /// In which order boards were made.
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum Order {
        /// As their files were given; those of a folder by path.
        #[default]
        File = "file",
        /// By the year in which they were made, then by the day of their inspection,
        /// then by path.
        Made = "made",
    }

    /// The word.
    fn word;
    impl Display = word;
}

/// Why boards are no run.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[non_exhaustive]
pub enum LotError {
    /// There is no spread of one board.
    #[error(
        "a production run has two boards at least, and here is {0}: name more board files or their folder"
    )]
    TooFew(usize),
    /// A board counts once.
    #[error("the id `{id}` stands in {}: a board counts once, so name one of the files, or correct the id", files.join(" and "))]
    SharedId {
        /// The id.
        id: String,
        /// The files that have it.
        files: Vec<String>,
    },
    /// Nobody knows when they were made.
    #[error("{}: no year in which it was made, so there is no order by it: write `made` beside the board's id, or take the boards in the order of their files", files.join(", "))]
    NotDated {
        /// The files.
        files: Vec<String>,
    },
    /// The table looks at nothing.
    #[error(
        "the table `{0}` has no limit on a length and no nominal board for these boards, so there is nothing to look at: name another table"
    )]
    NothingLimited(String),
}

/// Gathers boards. Memory grows by a few numbers a board.
#[derive(Debug)]
pub struct LotBuilder<'t> {
    table: &'t Table,
    boards: Vec<LotBoard>,
    gathering: Vec<Gathering>,
    index: HashMap<Of, usize>,
}

/// What is known so far of one series.
#[derive(Debug)]
struct Gathering {
    of: Of,
    /// The board, in the order of adding, and its value.
    values: Vec<(usize, f64)>,
    lacking: usize,
    outside: usize,
    unstated: usize,
    noise: f64,
    limits: Option<(Option<f64>, Option<f64>)>,
    differ: bool,
}

impl<'t> LotBuilder<'t> {
    /// No boards yet, for what a table looks at.
    pub fn new(table: &'t Table) -> Self {
        Self {
            table,
            boards: Vec::new(),
            gathering: Vec::new(),
            index: HashMap::new(),
        }
    }

    /// The next board, in the order of the files.
    pub fn add(&mut self, row: BoardRow) {
        let board = self.boards.len();
        self.boards.push(row.board);
        for value in row.values {
            let place = *self.index.entry(value.of.clone()).or_insert_with(|| {
                self.gathering.push(Gathering::new(value.of.clone()));
                self.gathering.len() - 1
            });
            if let Some(own) = self.gathering.get_mut(place) {
                own.add(board, &value);
            }
        }
    }

    /// The run in this order, or everything that keeps the boards from being one.
    pub fn finish(self, order: Order) -> Result<Lot<'t>, Vec<LotError>> {
        let mut errors = self.shared_ids();
        if self.boards.len() < 2 {
            errors.push(LotError::TooFew(self.boards.len()));
        }
        if order == Order::Made {
            let undated = self.boards.iter().filter(|board| board.made.is_none());
            let files: Vec<String> = undated.map(|board| board.file.clone()).collect();
            if !files.is_empty() {
                errors.push(LotError::NotDated { files });
            }
        }
        let looked = self.gathering.iter().any(|own| !own.values.is_empty());
        if !looked && !self.boards.is_empty() {
            errors.push(LotError::NothingLimited(self.table.title.clone()));
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        Ok(self.put_together(order))
    }

    fn put_together(self, order: Order) -> Lot<'t> {
        let mut sequence: Vec<usize> = (0..self.boards.len()).collect();
        if order == Order::Made {
            // A day that is not stated comes last within its year.
            sequence.sort_by_key(|&at| {
                let board = self.boards.get(at);
                board.map(|own| (own.made, own.inspected.is_none(), own.inspected, &own.file))
            });
        }
        let mut places = vec![0; sequence.len()];
        for (place, &board) in sequence.iter().enumerate() {
            if let Some(own) = places.get_mut(board) {
                *own = place;
            }
        }
        let table = self.table;
        let mut series: Vec<((usize, usize), Gathered<'t>)> = Vec::new();
        let with_parts = |name: &str, all: &[Gathering]| {
            let named = |own: &Gathering| matches!(&own.of, Of::Limit(n, Some(_)) if n == name);
            all.iter().any(named)
        };
        for (at, own) in self.gathering.iter().enumerate() {
            // What is missing of wires that others recorded one by one.
            if matches!(&own.of, Of::Limit(name, None) if own.values.is_empty() && with_parts(name, &self.gathering))
            {
                continue;
            }
            if let Some((rank, subject)) = subject(&own.of, table) {
                series.push(((rank, at), own.gathered(subject, &places)));
            }
        }
        series.sort_by_key(|(rank, _)| *rank);
        let series = series.into_iter().map(|(_, own)| own).collect();
        let (series, charts) = study(series, FALSE_ALARM);
        let mut boards: Vec<(usize, LotBoard)> = places.into_iter().zip(self.boards).collect();
        boards.sort_by_key(|(place, _)| *place);
        Lot {
            table,
            boards: boards.into_iter().map(|(_, board)| board).collect(),
            order,
            false_alarm: FALSE_ALARM,
            charts,
            series,
        }
    }

    /// Ids that several files have.
    fn shared_ids(&self) -> Vec<LotError> {
        let mut files: HashMap<&str, Vec<String>> = HashMap::new();
        for board in &self.boards {
            files.entry(&board.id).or_default().push(board.file.clone());
        }
        let shared = files.into_iter().filter(|(_, files)| files.len() > 1);
        let shared = shared.map(|(id, files)| LotError::SharedId {
            id: id.to_owned(),
            files,
        });
        let mut shared: Vec<LotError> = shared.collect();
        shared.sort_by_key(ToString::to_string);
        shared
    }
}

/// Where a series stands among the others, and what it is of.
fn subject<'t>(of: &Of, table: &'t Table) -> Option<(usize, Subject<'t>)> {
    match of {
        Of::Limit(name, part) => {
            let rank = table.limits.iter().position(|limit| limit.name == *name)?;
            let limit = table.limits.get(rank)?;
            Some((rank, Subject::Length { limit, part: *part }))
        }
        Of::Band(band) => Some((table.limits.len() + *band as usize, Subject::Area(*band))),
    }
}

impl Gathering {
    const fn new(of: Of) -> Self {
        Self {
            of,
            values: Vec::new(),
            lacking: 0,
            outside: 0,
            unstated: 0,
            noise: 0.0,
            limits: None,
            differ: false,
        }
    }

    fn add(&mut self, board: usize, row: &RowValue) {
        let Some(value) = row.value else {
            self.lacking += 1;
            return;
        };
        self.values.push((board, value));
        self.outside += usize::from(row.is_outside());
        self.unstated += usize::from(!row.has_uncertainty);
        self.noise += row.noise;
        let known = *self.limits.get_or_insert(row.limits);
        let same = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() < 1e-6,
            (a, b) => a.is_none() && b.is_none(),
        };
        self.differ |= !same(known.0, row.limits.0) || !same(known.1, row.limits.1);
    }

    fn gathered<'t>(&self, subject: Subject<'t>, places: &[usize]) -> Gathered<'t> {
        let place = |board: usize| places.get(board).copied().unwrap_or(board);
        let placed = self
            .values
            .iter()
            .map(|&(board, value)| (place(board), value));
        let mut placed: Vec<(usize, f64)> = placed.collect();
        placed.sort_by_key(|(place, _)| *place);
        let tolerance = match self.limits {
            _ if self.differ => Tolerance::Differs,
            None | Some((None, None)) => Tolerance::None,
            Some((lower, upper)) => Tolerance::Same { lower, upper },
        };
        Gathered {
            subject,
            tolerance,
            values: placed.iter().map(|(_, value)| *value).collect(),
            places: placed.iter().map(|(place, _)| *place).collect(),
            lacking: self.lacking,
            outside: self.outside,
            unstated: self.unstated,
            noise: self.noise / (self.values.len() as f64).max(1.0),
        }
    }
}
