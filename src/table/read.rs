//! From the raw file to a table, with every problem collected.

use std::collections::HashSet;
use std::sync::{Arc, LazyLock};

use super::file::{
    BandEntry, DecisionEntry, LimitEntry, NominalEntry, PercentText, Rule, SourceEntry, TableFile,
    ToleranceGroup,
};
use super::{
    BandLimit, Citation, Decision, Demand, Interval, Limit, Measurand, Place, Provenance, Shelf,
    When,
};
use crate::board::{
    Construction, ConstructionFile, LengthText, Lengths, Mounting, PerBand, Profile, WireText,
    read_construction,
};
use crate::document::{
    Document, Fault, Located, PlainOr, Problem, Problems, Refusal, Refusals, Shape, Source, Span,
    Value, parse,
};
use crate::units::{Length, NotationFault, Percent, parse_percent};

/// How many tables may extend one another. House rule: nobody needs three.
const LONGEST_CHAIN: usize = 8;

/// The largest length that a limit can sensibly speak of. House rule: twice the
/// diameter of any board.
const MOST_OF_A_BOARD: Length = Length::mm(1000.0);

/// The board that a table describes when every limit is met exactly.
#[derive(Clone, Debug)]
pub struct Nominal {
    /// How it is built.
    pub construction: Construction,
    /// On whose word.
    pub source: Citation,
    /// Where it is written.
    pub place: Place,
}

/// A tolerance table, with everything that it extends folded in.
#[derive(Clone, Debug)]
pub struct Table {
    /// What reports call it.
    pub title: String,
    /// Where its numbers come from unless a limit says otherwise.
    pub source: Citation,
    /// This table's file first, then the files that it extends.
    pub documents: Vec<Arc<Document>>,
    /// The decision rule.
    pub decision: Decision,
    /// The limits, in the order of the files, extended ones first.
    pub limits: Vec<Limit>,
    /// The nominal board for staples.
    pub staples: Option<Nominal>,
    /// The nominal board for embedded strips.
    pub embedded: Option<Nominal>,
    /// Limits on band areas that the table gives itself.
    pub bands: PerBand<Option<BandLimit>>,
}

impl Table {
    /// Reads a table and what it extends, or says everything that is wrong
    /// with each of the files.
    pub fn read(source: Source, shelf: &dyn Shelf) -> Result<Self, Refusals> {
        Self::read_chain(source, shelf, &mut Vec::new())
    }

    /// The limits that are for boards of this kind, in the order of the table.
    pub fn limits_for(&self, mounting: Mounting, profile: Profile) -> impl Iterator<Item = &Limit> {
        self.limits
            .iter()
            .filter(move |limit| limit.when.matches(mounting, profile))
    }

    /// The nominal board for a mounting.
    pub const fn nominal(&self, mounting: Mounting) -> Option<&Nominal> {
        match mounting {
            Mounting::Staples => self.staples.as_ref(),
            Mounting::Embedded => self.embedded.as_ref(),
        }
    }

    fn read_chain(
        source: Source,
        shelf: &dyn Shelf,
        chain: &mut Vec<String>,
    ) -> Result<Self, Refusals> {
        chain.push(source.name().to_owned());
        let document = Arc::new(parse(source)?);
        let mut problems = Problems::default();
        let file = shape().read::<TableFile>(&document, &mut problems);
        let mut refusals = Vec::new();
        let extends = file.as_ref().and_then(|file| file.extends.as_ref());
        let base = extends.and_then(|extends| {
            let source = fetch_base(extends, &document, shelf, chain, &mut problems)?;
            let base = Self::read_chain(source, shelf, chain);
            base.map_err(|Refusals(faulty)| refusals.extend(faulty))
                .ok()
        });
        let table = file.and_then(|file| {
            let mut reader = Reader {
                document: &document,
                problems: &mut problems,
                source: None,
            };
            reader.table(&file, base)
        });
        if let Err(refusal) = problems.into_result(&document.source) {
            refusals.insert(0, refusal);
        }
        if !refusals.is_empty() {
            return Err(Refusals(refusals));
        }
        let incomplete = |message: &str, remedy: &str| {
            let problem = Problem::new(Fault::MissingKey, document.root.span, message, remedy);
            Refusals::from(Refusal::of(Arc::clone(&document.source), problem))
        };
        let table = table.ok_or_else(|| {
            incomplete(
                "this is no complete tolerance table",
                "compare it with the schema: `ringrule schema table` prints it",
            )
        })?;
        if table.limits.is_empty() && table.bands.iter().all(|(_, limit)| limit.is_none()) {
            return Err(incomplete(
                "this table checks nothing",
                "add `limits:`, or `extends:` with a table that has some",
            ));
        }
        Ok(table)
    }
}

/// The shape of a table file, for its JSON Schema.
pub fn shape() -> &'static Shape {
    static SHAPE: LazyLock<Shape> =
        LazyLock::new(|| Shape::of::<TableFile>("A tolerance table, for Ringrule"));
    &SHAPE
}

/// The text of the extended table. A fault in the path is this file's problem.
fn fetch_base(
    extends: &Located<String>,
    document: &Document,
    shelf: &dyn Shelf,
    chain: &[String],
    problems: &mut Problems,
) -> Option<Source> {
    let mut fault = |message: String, remedy: &str| {
        problems.add(Problem::new(Fault::Extends, extends.span, message, remedy));
        None
    };
    let source = match shelf.fetch(document.source.name(), &extends.value) {
        Ok(source) => source,
        Err(why) => {
            return fault(
                why,
                "name a table by its path relative to this file, such as `wdf.yaml`",
            );
        }
    };
    if chain.iter().any(|name| name == source.name()) {
        let ring = chain.join(", then ");
        return fault(
            format!("the tables extend one another in a ring: {ring}"),
            "remove one of the `extends`",
        );
    }
    if chain.len() >= LONGEST_CHAIN {
        return fault(
            format!("more than {LONGEST_CHAIN} tables extend one another"),
            "merge some of them",
        );
    }
    Some(source)
}

struct Reader<'a> {
    document: &'a Arc<Document>,
    problems: &'a mut Problems,
    /// The table's own source, once known.
    source: Option<Citation>,
}

impl Reader<'_> {
    fn table(&mut self, file: &TableFile, base: Option<Table>) -> Option<Table> {
        self.source = self.table_source(file.source.as_ref());
        let decision = file.decision.as_ref().map(|entry| self.decision(entry));
        let limits = file.limits.as_ref().map(|limits| &limits.0);
        let limits: Vec<_> = limits
            .into_iter()
            .flatten()
            .map(|(name, entry)| self.limit(name, entry, file))
            .collect();
        let nominal = file.nominal.as_ref().map(super::file::NominalFile::entries);
        let nominal: Vec<_> = nominal
            .into_iter()
            .flatten()
            .filter_map(|(mounting, entry)| Some((mounting, self.nominal(mounting, entry?, file))))
            .collect();
        let bands = file.bands.as_ref().map(super::file::BandsFile::entries);
        let bands: Vec<_> = bands
            .into_iter()
            .flatten()
            .filter_map(|(band, entry)| Some((band, self.band(entry?))))
            .collect();

        let mut table = base.unwrap_or_else(|| Table {
            title: String::new(),
            source: unknown_source(),
            documents: Vec::new(),
            decision: Decision::Simple,
            limits: Vec::new(),
            staples: None,
            embedded: None,
            bands: PerBand::default(),
        });
        table.title.clone_from(&file.title.as_ref()?.value);
        table.source = self.source.clone()?;
        table.documents.insert(0, Arc::clone(self.document));
        if let Some(decision) = decision {
            table.decision = decision?;
        }
        for limit in limits {
            let limit = limit?;
            match table.limits.iter_mut().find(|own| own.name == limit.name) {
                Some(own) => *own = limit,
                None => table.limits.push(limit),
            }
        }
        for (mounting, nominal) in nominal {
            match mounting {
                Mounting::Staples => table.staples = Some(nominal),
                Mounting::Embedded => table.embedded = Some(nominal),
            }
        }
        for (band, limit) in bands {
            table.bands[band] = Some(limit?);
        }
        Some(table)
    }

    fn problem(&mut self, fault: Fault, span: Span, message: String, remedy: &str) {
        self.problems
            .add(Problem::new(fault, span, message, remedy));
    }

    fn place(&self, span: Span) -> Place {
        Place {
            document: Arc::clone(self.document),
            span,
        }
    }

    /// Where the key of a named entry stands.
    fn key_span(&self, group: &str, name: &str) -> Span {
        let entries = match self.document.root.get(group).map(|node| &node.value) {
            Some(Value::Map(entries)) => entries.as_slice(),
            _ => &[],
        };
        let entry = entries.iter().find(|entry| entry.key == name);
        entry.map(|entry| entry.key_span).unwrap_or_default()
    }

    fn table_source(&mut self, entry: Option<&Located<SourceEntry>>) -> Option<Citation> {
        let entry = entry?;
        let (Some(document), Some(provenance)) = (&entry.value.document, entry.value.provenance)
        else {
            self.problem(
                Fault::MissingKey,
                entry.span,
                "a table's source names its document and its provenance".to_owned(),
                "write `source: { document: …, provenance: … }`; provenance is published, from \
                 memory, common practice, house rule or invented",
            );
            return None;
        };
        Some(Citation {
            document: document.clone(),
            edition: entry.value.edition.clone(),
            clause: entry.value.clause.clone(),
            provenance,
        })
    }

    /// A limit's source: what it states itself, over the table's. A document
    /// of its own has its own edition and clause, or none.
    fn source(&self, entry: Option<&SourceEntry>) -> Citation {
        let base = self.source.clone().unwrap_or_else(unknown_source);
        let Some(entry) = entry else {
            return base;
        };
        let provenance = entry.provenance.unwrap_or(base.provenance);
        if let Some(document) = &entry.document {
            return Citation {
                document: document.clone(),
                edition: entry.edition.clone(),
                clause: entry.clause.clone(),
                provenance,
            };
        }
        Citation {
            document: base.document,
            edition: entry.edition.clone().or(base.edition),
            clause: entry.clause.clone().or(base.clause),
            provenance,
        }
    }

    fn decision(&mut self, entry: &Located<DecisionEntry>) -> Option<Decision> {
        let span = entry.span;
        match (entry.value.rule?, &entry.value.confidence) {
            (Rule::Simple, None) => Some(Decision::Simple),
            (Rule::Simple, Some(confidence)) => {
                self.problem(
                    Fault::Contradiction,
                    confidence.span,
                    "the simple rule asks for no confidence".to_owned(),
                    "remove `confidence`, or write `rule: guarded`",
                );
                None
            }
            (Rule::Guarded, None) => {
                self.problem(
                    Fault::MissingKey,
                    span,
                    "the guarded rule needs a confidence".to_owned(),
                    "add `confidence: 95 %`",
                );
                None
            }
            (Rule::Guarded, Some(text)) => {
                let confidence = self.percent(text)?;
                if confidence.value() > 50.0 && confidence.value() < 100.0 {
                    return Some(Decision::Guarded { confidence });
                }
                self.problem(
                    Fault::OutOfRange,
                    text.span,
                    format!("a confidence of {confidence} cannot guard a decision"),
                    "write a percentage above 50 % and below 100 %, such as 95 %",
                );
                None
            }
        }
    }

    fn percent(&mut self, text: &Located<PercentText>) -> Option<Percent> {
        let fault = match &text.value.0 {
            LengthText::Number(number) => NotationFault::NoPercentSign(number.to_string()),
            LengthText::Text(words) => match parse_percent(words) {
                Ok(percent) if percent.value() >= 0.0 => return Some(percent),
                Ok(_) => {
                    self.problem(
                        Fault::OutOfRange,
                        text.span,
                        format!("`{words}` is negative"),
                        "write the size of the deviation without a sign",
                    );
                    return None;
                }
                Err(fault) => fault,
            },
        };
        self.problem(
            Fault::Notation,
            text.span,
            fault.to_string(),
            &fault.remedy(),
        );
        None
    }

    fn lengths(&mut self, file: &TableFile) -> Lengths<'_> {
        Lengths {
            unit: file.units.as_ref().map(|unit| unit.value),
            unit_is_missing: false,
            problems: self.problems,
            file_wide: None,
            instrument: None,
            step: 0.0,
        }
    }

    fn nominal(
        &mut self,
        mounting: Mounting,
        entry: &Located<NominalEntry>,
        file: &TableFile,
    ) -> Nominal {
        let parts = ConstructionFile {
            mounting,
            profile: entry.value.profile,
            wires: entry.value.wires.as_ref(),
            rings: entry.value.rings.as_ref(),
            widths: entry.value.widths.as_ref(),
            overall: None,
        };
        let construction = read_construction(&parts, &mut self.lengths(file));
        let span = self
            .document
            .root
            .get("nominal")
            .and_then(|node| match &node.value {
                Value::Map(entries) => entries.iter().find(|entry| entry.key == mounting.key()),
                _ => None,
            });
        Nominal {
            construction,
            source: self.source(entry.value.source.as_ref()),
            place: self.place(span.map_or(entry.span, |entry| entry.key_span)),
        }
    }

    fn limit(&mut self, name: &str, entry: &LimitEntry, file: &TableFile) -> Option<Limit> {
        let span = self.key_span("limits", name);
        let measurand = entry.measurand?;
        let edge = match (&entry.edge, measurand.needs_edge()) {
            (Some(edge), true) => Some(edge.value),
            (None, false) => None,
            (None, true) => {
                self.problem(
                    Fault::MissingKey,
                    span,
                    format!("`{name}` does not say to which edge the {measurand} is taken"),
                    "add `edge: inside`, `outside` or `apex`",
                );
                return None;
            }
            (Some(edge), false) => {
                self.problem(
                    Fault::Contradiction,
                    edge.span,
                    format!("the {measurand} has no edge"),
                    "remove `edge`",
                );
                return None;
            }
        };
        let demand = if measurand == Measurand::Mounting {
            self.allowed(name, entry, span)?
        } else {
            Demand::Within(self.interval(name, measurand, entry, file, span)?)
        };
        let nominal = entry.nominal.as_ref();
        let nominal = nominal.and_then(|text| self.bound(measurand, text, file));
        let when = entry.when.as_ref();
        Some(Limit {
            name: name.to_owned(),
            measurand,
            edge,
            when: When {
                mounting: when.and_then(|when| when.mounting),
                profile: when.and_then(|when| when.profile),
            },
            demand,
            nominal,
            source: self.source(entry.source.as_ref()),
            place: self.place(span),
        })
    }

    fn allowed(&mut self, name: &str, entry: &LimitEntry, span: Span) -> Option<Demand> {
        if let (Some(allowed), None, None) = (&entry.allowed, &entry.nominal, &entry.tolerance) {
            let distinct: HashSet<_> = allowed.value.iter().collect();
            if !distinct.is_empty() && distinct.len() == allowed.value.len() {
                return Some(Demand::OneOf(allowed.value.clone()));
            }
        }
        self.problem(
            Fault::OneOf,
            span,
            format!("`{name}` limits the mounting, which is a word and not a length"),
            "write `allowed: [embedded]`, naming each mounting once, and no tolerance",
        );
        None
    }

    /// A bound as a length; gauges only where the measurand is a wire.
    fn bound(
        &mut self,
        measurand: Measurand,
        text: &Located<WireText>,
        file: &TableFile,
    ) -> Option<Length> {
        if measurand.is_gauge() {
            return self.lengths(file).wire(text).map(|size| size.width);
        }
        let plain = Located {
            value: text.value.0.clone(),
            span: text.span,
        };
        self.lengths(file).length(&plain)
    }

    fn interval(
        &mut self,
        name: &str,
        measurand: Measurand,
        entry: &LimitEntry,
        file: &TableFile,
        span: Span,
    ) -> Option<Interval> {
        if let Some(allowed) = &entry.allowed {
            self.problem(
                Fault::Contradiction,
                allowed.span,
                format!("`allowed` is for the mounting; the {measurand} is a length"),
                "write a tolerance instead",
            );
            return None;
        }
        let one_of = |reader: &mut Self| {
            reader.problem(
                Fault::OneOf,
                span,
                format!("`{name}` does not say which values conform"),
                "write `nominal: 8.0 mm` with `tolerance: 0.2 mm` or `tolerance: { lower: 0.1 mm, \
                 upper: 0.3 mm }`, or `tolerance: { min: 7.8 mm, max: 8.2 mm }` alone",
            );
            None
        };
        let Some(tolerance) = &entry.tolerance else {
            return one_of(self);
        };
        let around = |nominal: Length, below: Length, above: Length| Interval {
            lower: Some(nominal - below),
            upper: Some(nominal + above),
        };
        let interval = match (&entry.nominal, &tolerance.value) {
            (Some(nominal), PlainOr::Plain(text)) => {
                let nominal = self.bound(measurand, nominal, file);
                let text = Located {
                    value: text.clone(),
                    span: tolerance.span,
                };
                let both = self.distance(&text, file);
                around(nominal?, both?, both?)
            }
            (
                Some(nominal),
                PlainOr::Group(ToleranceGroup {
                    lower: Some(lower),
                    upper: Some(upper),
                    min: None,
                    max: None,
                }),
            ) => {
                let nominal = self.bound(measurand, nominal, file);
                let (below, above) = (self.distance(lower, file), self.distance(upper, file));
                around(nominal?, below?, above?)
            }
            (
                None,
                PlainOr::Group(ToleranceGroup {
                    lower: None,
                    upper: None,
                    min,
                    max,
                }),
            ) if min.is_some() || max.is_some() => {
                let min = min.as_ref().map(|text| self.bound(measurand, text, file));
                let max = max.as_ref().map(|text| self.bound(measurand, text, file));
                Interval {
                    lower: match min {
                        Some(min) => Some(min?),
                        None => None,
                    },
                    upper: match max {
                        Some(max) => Some(max?),
                        None => None,
                    },
                }
            }
            _ => return one_of(self),
        };
        self.check_interval(name, measurand, interval, tolerance.span)
    }

    /// Bounds must be lengths that a board can have, the right way round.
    fn check_interval(
        &mut self,
        name: &str,
        measurand: Measurand,
        interval: Interval,
        span: Span,
    ) -> Option<Interval> {
        for bound in [interval.lower, interval.upper].into_iter().flatten() {
            if bound <= Length::ZERO || bound > MOST_OF_A_BOARD {
                self.problem(
                    Fault::OutOfRange,
                    span,
                    format!("`{name}` sets a bound of {bound:.3}, which no board can have"),
                    "check the unit and the decimal point",
                );
                return None;
            }
        }
        if let Interval {
            lower: Some(lower),
            upper: Some(upper),
        } = interval
            && lower > upper
        {
            let remedy = if measurand.is_gauge() {
                "a higher gauge number is a thinner wire: `min` is the thinnest, such as 18 SWG, \
                 `max` the thickest, such as 16 SWG"
            } else {
                "`min` is the least value that conforms, `max` the greatest"
            };
            self.problem(
                Fault::LimitsInverted,
                span,
                format!("the least value, {lower:.3}, is above the greatest, {upper:.3}"),
                remedy,
            );
            return None;
        }
        Some(interval)
    }

    /// A distance from a nominal value: never negative.
    fn distance(&mut self, text: &Located<LengthText>, file: &TableFile) -> Option<Length> {
        let distance = self.lengths(file).length(text)?;
        if distance >= Length::ZERO {
            return Some(distance);
        }
        self.problem(
            Fault::LimitsInverted,
            text.span,
            format!("the tolerance {distance} is negative"),
            "write the distance from the nominal value without a sign",
        );
        None
    }

    fn band(&mut self, entry: &BandEntry) -> Option<BandLimit> {
        let area = entry.area.as_ref()?;
        let (lower, upper) = match &area.value {
            PlainOr::Plain(text) => {
                let text = Located {
                    value: text.clone(),
                    span: area.span,
                };
                let both = self.percent(&text)?;
                (both, both)
            }
            PlainOr::Group(group) => {
                let lower = self.percent(group.lower.as_ref()?);
                let upper = self.percent(group.upper.as_ref()?);
                (lower?, upper?)
            }
        };
        Some(BandLimit {
            lower: Percent::new(-lower.value()),
            upper,
            source: self.source(entry.source.as_ref()),
            place: self.place(area.span),
        })
    }
}

/// Stands in while a table without a source is read for its other problems.
fn unknown_source() -> Citation {
    Citation {
        document: "unknown".to_owned(),
        edition: None,
        clause: None,
        provenance: Provenance::FromMemory,
    }
}
