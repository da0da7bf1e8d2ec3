//! What a table file says, apart from its limits on lengths.

use std::sync::Arc;

use super::file::{DecisionEntry, NominalEntry, Rule, SourceEntry, TableFile};
use super::shares::WHOLE;
use super::{Citation, Decision, GaugeUncertainty, Nominal, Provenance, Table};
use crate::board::{
    ConstructionFile, LengthText, Lengths, Mounting, PerBand, read_construction, usual::Ranges,
};
use crate::document::{Document, Fault, Located, Passage, Problem, Problems, Span, Value, budget};
use crate::units::{Length, Uncertainty};

/// Reads one table file, collecting what is wrong with it.
pub(super) struct Reader<'a> {
    pub(super) document: &'a Arc<Document>,
    pub(super) problems: &'a mut Problems,
    /// The table's own source, once known.
    pub(super) source: Option<Citation>,
}

impl Reader<'_> {
    pub(super) fn table(&mut self, file: &TableFile, base: Option<Table>) -> Option<Table> {
        self.source = self.table_source(file.source.as_ref());
        if let Some(title) = file
            .title
            .as_ref()
            .filter(|own| own.value.trim().is_empty())
        {
            let message = "the table has no title".to_owned();
            let remedy = "write what reports are to call it, such as `title: House rules`";
            self.problem(Fault::Notation, title.span, message, remedy);
        }
        let decision = file.decision.as_ref().map(|entry| self.decision(entry));
        let gauge = file.gauge_uncertainty.as_ref();
        let gauge = gauge.map(|text| self.gauge_uncertainty(text, file));
        let limits = file.limits.as_ref().map(|limits| &limits.0);
        if let Some((name, _)) = limits.and_then(|limits| limits.get(budget::LIMITS)) {
            self.problems.add(Problem::new(
                Fault::TooLarge,
                self.key_span("limits", name),
                format!("the table has more than {} limits", budget::LIMITS),
                "remove those that no board can break, or split the table",
            ));
            return None;
        }
        self.check_number(file, limits.map_or(0, Vec::len));
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
            decision: Decision::USUAL,
            agreed_by: None,
            gauge_uncertainty: None,
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
            let entry = file.decision.as_ref().map(|entry| &entry.value);
            table.agreed_by = entry.and_then(|entry| entry.agreed_by.clone());
        }
        if let Some(gauge) = gauge {
            table.gauge_uncertainty = Some(gauge?);
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

    pub(super) fn problem(&mut self, fault: Fault, span: Span, message: String, remedy: &str) {
        self.problems
            .add(Problem::new(fault, span, message, remedy));
    }

    pub(super) fn place(&self, span: Span) -> Passage {
        Passage {
            document: Arc::clone(self.document),
            span,
        }
    }

    /// Where the key of a named entry stands.
    pub(super) fn key_span(&self, group: &str, name: &str) -> Span {
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
        if document.trim().is_empty() {
            let message = "the table's source names no document".to_owned();
            let remedy = "write the title of the rule book, such as `document: House rules`";
            self.problem(Fault::Notation, entry.span, message, remedy);
        }
        Some(Citation {
            document: document.clone(),
            edition: entry.value.edition.clone(),
            clause: entry.value.clause.clone(),
            provenance,
        })
    }

    /// A limit's source: what it states itself, over the table's. A document
    /// of its own has its own edition and clause, or none.
    pub(super) fn source(&self, entry: Option<&SourceEntry>) -> Citation {
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

    /// Refuses a file that has other limits than it had once.
    fn check_number(&mut self, file: &TableFile, found: usize) {
        let stated = file.number_of_limits.as_ref();
        if let Some(stated) = stated.filter(|stated| usize::from(stated.value) != found) {
            let message = format!(
                "the table says that it has {} limits, and has {found}",
                stated.value
            );
            let remedy = format!(
                "see whether the file was cut short; if not, write `number_of_limits: {found}`"
            );
            self.problem(Fault::Contradiction, stated.span, message, &remedy);
        }
    }

    /// `none`, or an expanded uncertainty.
    fn gauge_uncertainty(
        &mut self,
        text: &Located<LengthText>,
        file: &TableFile,
    ) -> Option<GaugeUncertainty> {
        if matches!(&text.value, LengthText::Text(word) if word.trim() == "none") {
            return Some(GaugeUncertainty::Exact);
        }
        if let LengthText::Text(word) = &text.value
            && word.chars().all(char::is_alphabetic)
        {
            self.problem(
                Fault::UnknownWord,
                text.span,
                format!("`{word}` is not an uncertainty of gauges"),
                "write a length, such as `0.03 mm`, or `none` if named gauges are to count as exact",
            );
            return None;
        }
        let expanded = self.lengths(file).within(text, Ranges::UNCERTAINTY)?;
        if expanded > Length::ZERO {
            let standard = expanded.as_mm() / 2.0;
            return Some(GaugeUncertainty::Known(Uncertainty::finite(standard)));
        }
        self.problem(
            Fault::OutOfRange,
            text.span,
            "no gauge is drawn exactly to its thickness".to_owned(),
            "write a length above zero, or `none` if named gauges are to count as exact",
        );
        None
    }

    fn decision(&mut self, entry: &Located<DecisionEntry>) -> Option<Decision> {
        let span = entry.span;
        let rule = entry.value.rule?;
        let strange = match rule {
            Rule::Simple => [
                (
                    "confidence",
                    entry.value.confidence.as_ref().map(|key| key.span),
                ),
                ("of", entry.value.of.as_ref().map(|key| key.span)),
            ],
            Rule::Guarded => [
                (
                    "max_uncertainty",
                    entry.value.max_uncertainty.as_ref().map(|key| key.span),
                ),
                ("", None),
            ],
        };
        let (word, other) = match rule {
            Rule::Simple => ("simple", "guarded"),
            Rule::Guarded => ("guarded", "simple"),
        };
        let mut is_clean = true;
        for (key, span) in strange {
            if let Some(span) = span {
                is_clean = false;
                self.problem(
                    Fault::Contradiction,
                    span,
                    format!("the {word} rule has no `{key}`"),
                    &format!("remove `{key}`, or write `rule: {other}`"),
                );
            }
        }
        let decision = match rule {
            Rule::Simple => self.simple(&entry.value),
            Rule::Guarded => self.guarded(&entry.value, span),
        };
        decision.filter(|_| is_clean)
    }

    fn simple(&mut self, entry: &DecisionEntry) -> Option<Decision> {
        let Some(text) = &entry.max_uncertainty else {
            return Some(Decision::USUAL);
        };
        if matches!(&text.value.0, LengthText::Text(word) if word.trim() == "any") {
            return Some(Decision::BARE);
        }
        let most = self.percent(text)?;
        if most.value() > WHOLE {
            self.problem(
                Fault::OutOfRange,
                text.span,
                format!("an uncertainty of {most} of the interval is wider than the interval itself"),
                "write a percentage up to 100 %, such as 20 %, or `any` if the uncertainty is not to \
                 count",
            );
            return None;
        }
        if most.value() > 0.0 {
            return Some(Decision::Simple {
                max_uncertainty: Some(most),
            });
        }
        self.problem(
            Fault::OutOfRange,
            text.span,
            "no measurement has an uncertainty of zero".to_owned(),
            "write a percentage above 0 %, such as 20 %, or `any`",
        );
        None
    }

    fn guarded(&mut self, entry: &DecisionEntry, span: Span) -> Option<Decision> {
        let Some(text) = &entry.confidence else {
            self.problem(
                Fault::MissingKey,
                span,
                "the guarded rule needs a confidence".to_owned(),
                "add `confidence: 95 %`",
            );
            return None;
        };
        let confidence = self.percent(text)?;
        if confidence.value() > 50.0 && confidence.value() < 100.0 {
            let of = entry.of.as_ref().map(|of| of.value).unwrap_or_default();
            return Some(Decision::Guarded { confidence, of });
        }
        self.problem(
            Fault::OutOfRange,
            text.span,
            format!("a confidence of {confidence} cannot guard a decision"),
            "write a percentage above 50 % and below 100 %, such as 95 %",
        );
        None
    }

    pub(super) fn lengths(&mut self, file: &TableFile) -> Lengths<'_> {
        let unit = file.units.as_ref().map(|unit| unit.value);
        let mut lengths = Lengths::plain(unit, self.problems);
        lengths.unit_is_missing = false;
        lengths
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
            sectors: None,
            staples: None,
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
