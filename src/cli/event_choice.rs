//! What a report says of the inspection.

use std::path::PathBuf;

use clap::Args;
use ringrule::event::{Event, Person};

use super::context::{Context, Stop};
use super::values::day;

/// What a report says beside the boards: from a file, and from options, which
/// count before the file.
#[derive(Debug, Args)]
#[command(next_help_heading = "The inspection")]
pub(crate) struct EventChoice {
    /// The event file (`ringrule schema event`).
    #[arg(long, value_name = "FILE")]
    event: Option<PathBuf>,
    /// What the boards were inspected for.
    #[arg(long, value_name = "TEXT")]
    name: Option<String>,
    /// Where the inspection took place.
    #[arg(long, value_name = "TEXT")]
    place: Option<String>,
    /// The report's number; each board's part adds its id.
    #[arg(long, value_name = "TEXT")]
    number: Option<String>,
    /// The day of issue.
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    issued: Option<jiff::civil::Date>,
    /// The day of inspection, for boards whose file does not say.
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    inspected: Option<jiff::civil::Date>,
    /// Who ordered the inspection.
    #[arg(long, value_name = "NAME")]
    ordered_by: Option<String>,
    /// Who inspected boards whose file does not say.
    #[arg(long, value_name = "NAME")]
    inspected_by: Option<String>,
    /// Who will sign.
    #[arg(long, value_name = "NAME")]
    authorised_by: Option<String>,
    /// Anything else that a reader should know.
    #[arg(long, value_name = "TEXT")]
    remarks: Option<String>,
}

impl EventChoice {
    pub(crate) fn read(&self, context: &Context) -> Result<Event, Stop> {
        let mut event = match &self.event {
            Some(path) => Event::read(context.inputs().text(path)?)?,
            None => Event::default(),
        };
        let text = |own: &Option<String>, field: &mut Option<String>| {
            if own.is_some() {
                field.clone_from(own);
            }
        };
        text(&self.name, &mut event.name);
        text(&self.place, &mut event.place);
        text(&self.number, &mut event.report_number);
        text(&self.remarks, &mut event.remarks);
        let person = |own: &Option<String>, field: &mut Option<Person>| {
            if let Some(name) = own {
                *field = Some(Person::named(name));
            }
        };
        person(&self.ordered_by, &mut event.ordered_by);
        person(&self.inspected_by, &mut event.inspected_by);
        person(&self.authorised_by, &mut event.authorised_by);
        event.issued = self.issued.or(event.issued);
        event.inspected = self.inspected.or(event.inspected);
        Ok(event)
    }
}
