//! A coordinate table, cell by cell.

use std::sync::Arc;

use super::feature::Feature;
use super::point_columns::Columns;
use super::point_facts::{DIAMETER, FACTS, diameter, dots_per_inch, scale_uncertainty, wire};
use super::point_table::{PointTable, StatedScale, Taken};
use crate::board::{Edge, Mounting, Profile};
use crate::document::{
    Cell, CsvFormat, DecimalMark, Fault, FileKind, InvalidFile, Located, Problem, Problems,
    Recognised, Row, Source, Span, csv_rows, nearest,
};
use crate::geometry::Point;
use crate::readings::sheet_facts::Facts;
use crate::units::LengthUnit;

/// No coordinate is larger. House rule: a scan of a whole board at the finest
/// resolution has fewer pixels.
const FARTHEST: f64 = 1e6;

impl PointTable {
    /// Reads a coordinate table, or says everything that is wrong with it: rows
    /// with `feature`, `x`, `y` and, for ring wires, `edge`; and rows that state
    /// a fact about the whole in the column `x`. Rows that begin with `#` are
    /// comments.
    ///
    /// ```
    /// use ringrule::document::{CsvFormat, Source};
    /// use ringrule::readings::PointTable;
    ///
    /// let text = "feature,x,y,edge
    /// board,A-1
    /// mounting,staples
    /// unit,mm
    /// y axis,up
    /// treble_outer,107.0,0.1,outside
    /// treble_outer,0.1,107.0
    /// treble_outer,-107.0,0
    /// treble_outer,0,-107.1
    /// ";
    /// let table = PointTable::read(Source::new("a-1.csv", text), CsvFormat::default())?;
    /// assert_eq!(table.board, "A-1");
    /// # Ok::<(), ringrule::document::InvalidFile>(())
    /// ```
    pub fn read(source: Source, format: CsvFormat) -> Result<Self, InvalidFile> {
        let wanted = Recognised::Ours(FileKind::Points);
        if let Some(other) = Recognised::instead_of(wanted, &source) {
            return Err(other);
        }
        let source = Arc::new(source);
        let mut problems = Problems::default();
        let table = read(&source, format, &mut problems);
        problems.into_result(&source)?;
        // Without problems nothing that is required is absent.
        table.ok_or_else(|| {
            let message = "this coordinate table is incomplete";
            let problem = Problem::new(Fault::MissingKey, Span::default(), message, "");
            InvalidFile::of(source, problem)
        })
    }
}

fn read(source: &Arc<Source>, format: CsvFormat, problems: &mut Problems) -> Option<PointTable> {
    let mut rows = csv_rows(source, format, problems);
    rows.retain(|row| {
        let mut cells = row.cells().iter().filter(|cell| !cell.text.is_empty());
        !cells.next().is_some_and(|cell| cell.text.starts_with('#'))
    });
    let Some((head, rows)) = rows.split_first() else {
        let message = "this coordinate table is empty";
        let remedy = "begin with a row `feature,x,y,edge`, and give a point in each row below";
        problems.add(Problem::new(
            Fault::Syntax,
            Span::default(),
            message,
            remedy,
        ));
        return None;
    };
    let columns = Columns::of(head, problems)?;
    let mut reader = Reader {
        format,
        columns,
        problems,
        facts: Facts::default(),
        diameter: None,
        features: Vec::new(),
    };
    for row in rows {
        row.check_surplus(head, reader.problems);
        reader.row(row);
    }
    reader.finish(source, head.span())
}

/// What was read so far.
struct Reader<'a> {
    format: CsvFormat,
    columns: Columns,
    problems: &'a mut Problems,
    facts: Facts,
    diameter: Option<Located<StatedScale>>,
    features: Vec<Taken>,
}

impl Reader<'_> {
    fn problem(&mut self, fault: Fault, span: Span, message: String, remedy: &str) {
        self.problems
            .add(Problem::new(fault, span, message, remedy));
    }

    fn row(&mut self, row: &Row) {
        let (x, y) = (row.cell(self.columns.x), row.cell(self.columns.y));
        let edge = self.columns.edge.and_then(|column| row.cell(column));
        let Some(name) = row.cell(self.columns.feature) else {
            let message = "this row does not say what its point was taken on".to_owned();
            let remedy = "name the feature, such as `treble_outer` or `sector 5/20`";
            self.problem(Fault::MissingKey, row.span(), message, remedy);
            return;
        };
        let key = name.text.to_lowercase();
        let measure = key.strip_prefix(DIAMETER);
        if measure.is_some() || FACTS.contains(&key.as_str()) && (key != "edge" || y.is_none()) {
            for stray in [y, edge].into_iter().flatten() {
                let message = format!("`{key}` takes one value, but here is `{}`", stray.text);
                let remedy = "write the value into the column `x`, and nothing else into the row";
                self.problem(Fault::WrongKind, stray.span, message, remedy);
            }
            let Some(value) = x else {
                return;
            };
            if let Some(of) = measure {
                self.diameter(name, of, value);
            } else {
                let filled = [(value, None)];
                self.facts.add(&key, name, None, &filled, self.problems);
            }
            return;
        }
        let feature = match name.text.parse::<Feature>() {
            Ok(feature) => feature,
            Err(error) => {
                let remedy = error.remedy();
                self.problem(Fault::UnknownWord, name.span, error.to_string(), &remedy);
                return;
            }
        };
        let point = (self.number(row, x, "x"), self.number(row, y, "y"));
        self.take(feature, name, edge);
        let taken = self.features.iter_mut().find(|of| of.feature == feature);
        if let ((Some(x), Some(y)), Some(taken)) = (point, taken) {
            taken.points.push(Point::new(x, y));
            taken.places.push(row.span());
        }
    }

    /// Makes room for a feature, and sees to its edge.
    fn take(&mut self, feature: Feature, name: &Cell, edge: Option<&Cell>) {
        let edge = edge.and_then(|cell| self.edge(feature, cell));
        let known = self.features.iter_mut().find(|of| of.feature == feature);
        let Some(known) = known else {
            self.features.push(Taken {
                feature,
                edge,
                span: name.span,
                points: Vec::new(),
                places: Vec::new(),
            });
            return;
        };
        match (known.edge, edge) {
            (Some((first, place)), Some((edge, span))) if first != edge => {
                let message = format!("`{feature}` was taken to `{edge}` here, and to `{first}`");
                let remedy = "take all points of a ring wire to one edge";
                let problem = Problem::new(Fault::Contradiction, span, message, remedy);
                let word = format!("to `{first}`");
                self.problems.add(problem.and(place, word));
            }
            (None, Some(edge)) => known.edge = Some(edge),
            _ => {}
        }
    }

    fn edge(&mut self, feature: Feature, cell: &Cell) -> Option<(Edge, Span)> {
        if !feature.has_edge() {
            let message = format!("`{feature}` has no edge");
            let remedy = match feature {
                Feature::SectorWire(_) => {
                    "take its points to the middle of the wire, and leave the cell empty"
                }
                _ => "leave the cell empty",
            };
            self.problem(Fault::Contradiction, cell.span, message, remedy);
            return None;
        }
        let word = cell.text.to_lowercase();
        let edge = Edge::ALL.into_iter().find(|edge| edge.key() == word);
        if edge.is_none() {
            let message = format!("`{}` is not an edge", cell.text);
            let remedy = nearest(&cell.text, &Edge::ALL.map(Edge::key));
            self.problem(Fault::UnknownWord, cell.span, message, &remedy);
        }
        edge.map(|edge| (edge, cell.span))
    }

    fn number(&mut self, row: &Row, cell: Option<&Cell>, axis: &str) -> Option<f64> {
        let Some(Cell { text, span }) = cell else {
            let message = format!("this point has no {axis}");
            self.problem(
                Fault::MissingKey,
                row.span(),
                message,
                "fill it in, or delete the row",
            );
            return None;
        };
        if self.format.decimal == DecimalMark::Comma && text.contains('.') {
            let message = format!("`{text}` has a point, and the decimal mark is the comma");
            let remedy = "write `8,01`, and nothing between thousands";
            self.problem(Fault::Notation, *span, message, remedy);
            return None;
        }
        let plain = |c: char| c.is_ascii_digit() || "+-.eE".contains(c);
        let number = self.format.with_point(text);
        let value = number
            .chars()
            .all(plain)
            .then(|| number.parse::<f64>().ok());
        let (fault, message, remedy) = match value.flatten() {
            Some(value) if value.abs() <= FARTHEST => return Some(value),
            Some(_) => (
                Fault::OutOfRange,
                format!("{text} is further away than any point of a board"),
                "expected coordinates up to a million: check the decimal mark",
            ),
            None => (
                Fault::Notation,
                format!("`{text}` is not a number"),
                "write a bare number with a decimal point (or declare `--decimal comma`); the row \
                 `unit` names the unit",
            ),
        };
        self.problem(fault, *span, message, remedy);
        None
    }

    fn diameter(&mut self, name: &Cell, of: &str, value: &Cell) {
        let feature = of.parse::<Feature>().ok().filter(|of| of.is_circle());
        let Some(feature) = feature else {
            let message = format!("`{of}` has no diameter");
            let remedy = "write `diameter double_outer`, or another ring wire, or `overall`";
            self.problem(Fault::UnknownWord, name.span, message, remedy);
            return;
        };
        let text = Located {
            value: value.text.clone(),
            span: value.span,
        };
        let known = diameter(&text, feature, self.format, self.problems);
        if self.diameter.is_some() {
            let message = "a second diameter is stated".to_owned();
            self.problem(
                Fault::OneOf,
                name.span,
                message,
                "let one of them set the scale",
            );
        }
        if let Some(length) = known {
            self.diameter = Some(Located {
                value: StatedScale::Diameter(feature, length),
                span: name.span,
            });
        }
    }

    fn finish(mut self, source: &Arc<Source>, head: Span) -> Option<PointTable> {
        if !self.problems.is_empty() && self.facts.is_empty() && self.features.is_empty() {
            // Nothing was understood: what is missing would be noise.
            return None;
        }
        for (key, remedy) in [
            (
                "board",
                "add a row `board` with the board's id in the column `x`",
            ),
            (
                "mounting",
                "add a row `mounting` with `staples` or `embedded` in the column `x`",
            ),
            (
                "unit",
                "add a row `unit` with `mm`, `in` or `px` in the column `x`",
            ),
            (
                "y axis",
                "add a row `y axis` with `up`, or `down` as in pictures, in the column `x`",
            ),
        ] {
            if self.facts.get(key).is_none() {
                let message = format!("the table does not say its {key}");
                self.problem(Fault::MissingKey, head, message, remedy);
            }
        }
        let Self {
            format,
            problems,
            facts,
            diameter,
            mut features,
            ..
        } = self;
        let edges = Edge::ALL.map(|edge| (edge.key(), edge));
        let usual = facts.word("edge", &edges, problems);
        let usual = usual.zip(facts.get("edge").map(|fact| fact.span));
        for taken in &mut features {
            if taken.feature.has_edge() && taken.edge.is_none() {
                taken.edge = usual;
                if usual.is_none() && facts.get("edge").is_none() {
                    let of = taken.feature;
                    let message = format!("`{of}` does not say to which edge it was taken");
                    let remedy = "write inside, outside or apex in the column `edge`, or add a row \
                                  `edge` for all ring wires";
                    problems.add(Problem::new(Fault::MissingKey, taken.span, message, remedy));
                }
            }
        }
        let units = [
            ("mm", Some(LengthUnit::Mm)),
            ("in", Some(LengthUnit::In)),
            ("px", None),
        ];
        let unit = facts.word("unit", &units, problems);
        let down = facts.word("y axis", &[("up", false), ("down", true)], problems);
        if down == Some(true) {
            let points = features.iter_mut().flat_map(|taken| &mut taken.points);
            points.for_each(|p| p.y = -p.y);
        }
        let mountings = Mounting::ALL.map(|mounting| (mounting.key(), mounting));
        let mounting = facts.word("mounting", &mountings, problems);
        let profiles = Profile::ALL.map(|profile| (profile.key(), profile));
        let profile = facts.word("profile", &profiles, problems);
        let dots = dots_per_inch(&facts, format, problems);
        if let (Some(dots), Some(diameter)) = (&dots, &diameter) {
            let message = "the scale follows from the dots per inch and from a diameter";
            let problem = Problem::new(Fault::OneOf, diameter.span, message, "keep one of the two");
            problems.add(problem.and(dots.span, "the dots per inch"));
        }
        let date = facts.date(problems);
        let [ring_wires, sector_wires] =
            ["ring wires", "sector wires"].map(|key| wire(&facts, key, format, problems));
        let scale_uncertainty = scale_uncertainty(&facts, format, problems);
        let mounting = mounting?;
        Some(PointTable {
            source: Arc::clone(source),
            board: facts.text("board")?,
            name: facts.text("name"),
            mounting,
            profile: profile.unwrap_or(mounting.usual_profile()),
            inspector: facts.text("inspector"),
            date,
            instrument: facts.text("instrument"),
            ring_wires,
            sector_wires,
            unit: unit?,
            stated_scale: diameter.or(dots),
            scale_uncertainty,
            features,
            head,
        })
    }
}
