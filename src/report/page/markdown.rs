//! A report as Markdown (`CommonMark` with tables), without drawings.

use std::fmt::Write;

use super::model::{Block, Cell, ColumnKind, Fact, Part, Table};
use crate::report::escape;

/// One part, with a blank line after it.
pub(in crate::report) fn part(part: &Part) -> String {
    let text = escape::markdown;
    let mut out = String::new();
    let _ = write!(
        out,
        "# {}\n\n{} · {}\n\n",
        text(&part.title),
        text(&part.kicker),
        text(&part.foot)
    );
    for block in &part.blocks {
        self::block(&mut out, block);
    }
    out
}

fn block(out: &mut String, block: &Block) {
    let text = escape::markdown;
    let _ = match block {
        Block::Heading(words) => write!(out, "## {}\n\n", text(words)),
        Block::Text(words) => write!(out, "{}\n\n", sentence(words)),
        Block::Points(points) | Block::Cautions(points) => {
            for point in points {
                let _ = writeln!(out, "- {}", sentence(point));
            }
            writeln!(out)
        }
        Block::Facts(facts) => {
            self::facts(out, facts, "not stated");
            Ok(())
        }
        Block::Signature(facts) => {
            self::facts(out, facts, "\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_");
            Ok(())
        }
        Block::Verdict { mark, words } => {
            write!(out, "**{mark}.** {}\n\n", text(words))
        }
        Block::Table(table) => {
            self::table(out, table);
            Ok(())
        }
        Block::Figure(figure) => write!(
            out,
            "*{}.* {}\n\n",
            text(&figure.title),
            text(&figure.description)
        ),
    };
}

/// Text at the beginning of a line, where a number or a sign could begin a
/// list.
fn sentence(words: &str) -> String {
    let safe = escape::markdown(words);
    if let Some(first @ ('-' | '+' | '=' | ':')) = safe.chars().next() {
        return format!("\\{first}{}", safe.get(1..).unwrap_or_default());
    }
    let digits = safe.bytes().take_while(u8::is_ascii_digit).count();
    match (digits, safe.get(digits..)) {
        (1.., Some(rest)) if rest.starts_with(['.', ')']) => {
            format!("{}\\{rest}", safe.get(..digits).unwrap_or_default())
        }
        _ => safe,
    }
}

fn facts(out: &mut String, facts: &[Fact], absent: &str) {
    for fact in facts {
        let value = fact.value.as_deref().map(escape::markdown);
        let _ = writeln!(
            out,
            "- {}: {}",
            escape::markdown(&fact.name),
            value.as_deref().unwrap_or(absent)
        );
    }
    out.push('\n');
}

fn table(out: &mut String, table: &Table) {
    let _ = write!(out, "{}\n\n|", sentence(&table.caption));
    for column in &table.columns {
        let _ = write!(out, " {} |", escape::markdown(column.head));
    }
    out.push_str("\n|");
    for column in &table.columns {
        out.push_str(match column.kind {
            ColumnKind::Figures => " ---: |",
            _ => " :--- |",
        });
    }
    out.push('\n');
    for row in &table.rows {
        out.push('|');
        for cell in &row.cells {
            let words = match cell {
                Cell::Text(words) => escape::markdown(words),
                Cell::Mark(mark) => mark.to_string(),
            };
            let _ = write!(out, " {words} |");
        }
        out.push('\n');
    }
    out.push('\n');
}
