//! The rules of `lint`, explained: a list, a page each, and all of them as
//! Markdown.

use crate::document::Fault;
use crate::lint::Rule;
use crate::report::page::{self, Block, Column, ColumnKind, Fact, Grid, Part, Row, TextLayout};

/// One line a rule, then one a fault of structure.
pub fn rule_list(layout: TextLayout) -> String {
    let blocks = vec![
        Block::Grid(rules("")),
        Block::heading("Faults of structure, which always count"),
        Block::Grid(faults("")),
        Block::Text("`ringrule rules RULE` explains one.".to_owned()),
    ];
    page::text_part(
        &part("The rules of `ringrule lint`".to_owned(), blocks),
        layout,
    )
}

/// Everything about one rule.
///
/// ```
/// use ringrule::lint::Rule;
/// use ringrule::report::{TextLayout, rule_page};
///
/// let rule = Rule::find("edge-mistaken").ok_or("no such rule")?;
/// let page = rule_page(rule, TextLayout::default());
/// assert!(page.starts_with("edge-mistaken: "));
/// # Ok::<(), &str>(())
/// ```
pub fn rule_page(rule: &Rule, layout: TextLayout) -> String {
    let fact = |name: &str, value: String| Fact {
        name: name.to_owned(),
        value: Some(value),
    };
    let mut blocks = vec![Block::Facts(vec![
        fact("flags", rule.flags.to_owned()),
        fact("matters", rule.matters.to_owned()),
        fact("level", rule.level.to_string()),
        fact("files", kinds(rule)),
        fact("source", rule.source.to_owned()),
    ])];
    blocks.extend(examples(rule, ["fails: ", "passes: "], ""));
    let title = format!("{}: {}", rule.code, rule.summary);
    page::text_part(&part(title, blocks), layout)
}

/// What a fault of structure means; `None` if there is no such fault.
pub fn structure_page(code: &str, layout: TextLayout) -> Option<String> {
    let fault = Fault::with_code(code)?;
    let words = "A fault of structure: the file cannot be used. It always counts and cannot be \
                 waived.";
    let title = format!("{code}: {}", fault.meaning());
    let blocks = vec![Block::Text(words.to_owned())];
    Some(page::text_part(&part(title, blocks), layout))
}

/// The documentation of every rule.
pub fn rules_markdown() -> String {
    let mut blocks = vec![
        Block::Text(
            "Made by `ringrule rules --markdown`; do not edit. All examples are invented."
                .to_owned(),
        ),
        Block::Grid(rules("`")),
    ];
    for rule in Rule::ALL {
        blocks.extend([
            Block::heading(rule.code),
            Block::Text(rule.flags.to_owned()),
            Block::Text(rule.matters.to_owned()),
            Block::Points(vec![
                format!("Level: {}", rule.level),
                format!("Files: {}", kinds(rule)),
                format!("Source: {}", rule.source),
            ]),
        ]);
        blocks.extend(examples(rule, ["Fails, `", "Passes, `"], "`:"));
    }
    blocks.extend([
        Block::heading("Faults of structure"),
        Block::Text(
            "A file with one of these cannot be used. They always count and cannot be waived."
                .to_owned(),
        ),
        Block::Grid(faults("`")),
    ]);
    page::markdown(&part("The rules of `ringrule lint`".to_owned(), blocks))
}

fn part(title: String, blocks: Vec<Block>) -> Part {
    Part {
        anchor: "rules".to_owned(),
        title,
        kicker: String::new(),
        foot: String::new(),
        on_one_page: false,
        listed: None,
        blocks,
    }
}

/// Whole files that fail and that pass, each under its name.
fn examples(rule: &Rule, [fails, passes]: [&str; 2], after: &str) -> Vec<Block> {
    let each = [(fails, &rule.failing), (passes, &rule.passing)].into_iter();
    let files = each.flat_map(|(what, example)| {
        let files = example.files();
        files.map(move |file| Block::Code {
            caption: format!("{what}{}{after}", file.name),
            text: file.text(),
        })
    });
    files.collect()
}

/// `quote` stands around what is written in files.
fn rules(quote: &str) -> Grid {
    let row = |rule: &Rule| Row {
        link: Some(rule.code.to_owned()),
        ..Row::of([
            format!("{quote}{}{quote}", rule.code),
            rule.level.to_string(),
            rule.summary.to_owned(),
        ])
    };
    Grid {
        caption: String::new(),
        columns: vec![
            Column::new("rule", ColumnKind::Head, 1.0),
            Column::new("level", ColumnKind::Words, 1.0),
            Column::new("what it flags", ColumnKind::Words, 3.0),
        ],
        rows: Rule::ALL.iter().map(|rule| row(rule)).collect(),
    }
}

fn faults(quote: &str) -> Grid {
    let row = |fault: Fault| Row::of([&format!("{quote}{}{quote}", fault.code()), fault.meaning()]);
    Grid {
        caption: String::new(),
        columns: vec![
            Column::new("fault", ColumnKind::Head, 1.0),
            Column::new("meaning", ColumnKind::Words, 3.0),
        ],
        rows: Fault::ALL.into_iter().map(row).collect(),
    }
}

fn kinds(rule: &Rule) -> String {
    let words: Vec<&str> = rule.kinds.iter().map(|kind| kind.word()).collect();
    words.join(", ")
}
