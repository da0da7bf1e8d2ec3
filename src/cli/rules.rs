//! `ringrule rules`: what `lint` looks for, and why.

use clap::Args;
use ringrule::document::nearest;
use ringrule::lint::Rule;
use ringrule::report::{TextLayout, rule_list, rule_page, rules_markdown, structure_page};

use super::{Ending, Screen};

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
    pub(crate) fn run(&self, screen: &mut Screen) -> Ending {
        let Some(name) = &self.rule else {
            let text = if self.markdown {
                rules_markdown()
            } else {
                rule_list(TextLayout::default())
            };
            screen.report(&text);
            return Ending::Good;
        };
        if let Some(rule) = Rule::find(name) {
            screen.report(&rule_page(rule, TextLayout::default()));
            return Ending::Good;
        }
        if let Some(page) = structure_page(name, TextLayout::default()) {
            screen.report(&page);
            return Ending::Good;
        }
        let known: Vec<&str> = Rule::ALL.iter().map(|rule| rule.code).collect();
        screen.note(&format!(
            "there is no rule `{name}`: {}",
            nearest(name, &known)
        ));
        Ending::Unusable
    }
}
