//! The rules of `lint`, explained: a list, a page each, and all of them as
//! Markdown.

use std::fmt::Write;

use crate::document::Fault;
use crate::lint::Rule;
use crate::report::style::Style;

/// One line a rule, then one a fault of structure.
pub fn rule_list() -> String {
    let codes = Rule::ALL.iter().map(|rule| rule.code.len());
    let width = codes.max().unwrap_or_default();
    let mut out = String::new();
    for rule in Rule::ALL {
        // Writing into a string cannot fail.
        let _ = writeln!(
            out,
            "{}  {:<6}  {}",
            Style::Strong.paint(format!("{:<width$}", rule.code)),
            rule.level,
            rule.summary
        );
    }
    out.push_str("\nFaults of structure, which always count:\n\n");
    for fault in Fault::ALL {
        let code = format!("{:<width$}", fault.code());
        let _ = writeln!(out, "{}  {}", Style::Strong.paint(code), fault.meaning());
    }
    out.push_str("\n`ringrule rules RULE` explains one.\n");
    out
}

/// Everything about one rule.
pub fn rule_page(rule: &Rule) -> String {
    let mut out = String::new();
    let heading = Style::Strong.paint(rule.code);
    let _ = writeln!(out, "{heading}: {}\n", rule.summary);
    for (what, words) in [
        ("flags", rule.flags.to_owned()),
        ("matters", rule.matters.to_owned()),
        ("level", rule.level.to_string()),
        ("files", kinds(rule)),
        ("source", rule.source.to_owned()),
    ] {
        let _ = writeln!(out, "{what:<8} {words}");
    }
    for (what, example) in [("fails", &rule.failing), ("passes", &rule.passing)] {
        for file in example.files() {
            let head = format!("{what}: {}", file.name);
            let _ = writeln!(out, "\n{}\n", Style::Faint.paint(head));
            for line in file.text().lines() {
                let _ = writeln!(out, "    {line}");
            }
        }
    }
    out
}

/// What a fault of structure means; `None` if there is no such fault.
pub fn structure_page(code: &str) -> Option<String> {
    let fault = Fault::with_code(code)?;
    Some(format!(
        "{}: {}\n\nA fault of structure: the file cannot be used. It always counts and cannot be \
         waived.\n",
        Style::Strong.paint(code),
        fault.meaning()
    ))
}

/// The documentation of every rule.
pub fn rules_markdown() -> String {
    let mut out = String::from(
        "# The rules of `ringrule lint`\n\nMade by `ringrule rules --markdown`; do not edit. All \
         examples are invented.\n\n| rule | level | what it flags |\n| --- | --- | --- |\n",
    );
    for rule in Rule::ALL {
        let _ = writeln!(
            out,
            "| [`{0}`](#{0}) | {1} | {2} |",
            rule.code, rule.level, rule.summary
        );
    }
    for rule in Rule::ALL {
        let _ = writeln!(out, "\n## {}\n\n{}\n", rule.code, rule.flags);
        let _ = writeln!(out, "{}\n", rule.matters);
        let _ = writeln!(
            out,
            "- Level: {}\n- Files: {}\n- Source: {}",
            rule.level,
            kinds(rule),
            rule.source
        );
        for (what, example) in [("Fails", &rule.failing), ("Passes", &rule.passing)] {
            for file in example.files() {
                let (name, text) = (file.name, file.text());
                let _ = writeln!(out, "\n{what}, `{name}`:\n\n```yaml\n{text}```");
            }
        }
    }
    out.push_str(
        "\n## Faults of structure\n\nA file with one of these cannot be used. They always count \
         and cannot be waived.\n\n| fault | meaning |\n| --- | --- |\n",
    );
    for fault in Fault::ALL {
        let _ = writeln!(out, "| `{}` | {} |", fault.code(), fault.meaning());
    }
    out
}

fn kinds(rule: &Rule) -> String {
    let words: Vec<&str> = rule.kinds.iter().map(|kind| kind.word()).collect();
    words.join(", ")
}
