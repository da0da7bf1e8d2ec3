//! `ringrule rules`: what `lint` looks for, and why.

use clap::Args;
use ringrule::document::nearest;
use ringrule::lint::Rule;
use ringrule::report::{TextLayout, rule_list, rule_page, rules_markdown, structure_page};

use super::context::{Context, Ending, Stop};

/// List the rules of `lint`, or explain one.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  \
    ringrule rules\n  \
    ringrule rules edge-mistaken\n  \
    ringrule rules --markdown > rules.md")]
pub(crate) struct RulesCommand {
    /// The rule to explain.
    #[arg(value_name = "RULE", conflicts_with = "markdown")]
    rule: Option<String>,
    /// Everything about every rule, as one Markdown page.
    #[arg(long)]
    markdown: bool,
}

impl RulesCommand {
    pub(crate) fn run(&self, context: &mut Context) -> Result<Ending, Stop> {
        let text = match &self.rule {
            None if self.markdown => rules_markdown(),
            None => rule_list(Context::layout()),
            Some(name) => page(name, Context::layout())?,
        };
        context.report(&text);
        Ok(Ending::Good)
    }
}

fn page(name: &str, layout: TextLayout) -> Result<String, Stop> {
    let page = Rule::find(name).map(|rule| rule_page(rule, layout));
    page.or_else(|| structure_page(name, layout))
        .ok_or_else(|| {
            let known: Vec<&str> = Rule::ALL.iter().map(|rule| rule.code).collect();
            let nearest = nearest(name, &known);
            Stop::Said(format!("there is no rule `{name}`: {nearest}"))
        })
}
