//! A report as Markdown (`CommonMark` with tables), without drawings.

use std::fmt::Write;

use super::model::{Block, Cell, ColumnKind, Fact, Grid, Part};
use crate::report::escape;

/// A document of one part.
pub(in crate::report) fn document(part: &Part) -> String {
    format!("{}\n", self::part(part).trim_end())
}

/// One part, with a blank line after it.
pub(in crate::report) fn part(part: &Part) -> String {
    let text = escape::markdown;
    let mut out = String::new();
    let _ = write!(out, "# {}\n\n", text(&part.title));
    if !part.foot.is_empty() {
        let _ = write!(out, "{} · {}\n\n", text(&part.kicker), text(&part.foot));
    }
    for block in &part.blocks {
        if let Block::Grid(grid) = block {
            self::grid(&mut out, grid, &part.blocks);
        } else {
            self::block(&mut out, block);
        }
    }
    out
}

fn block(out: &mut String, block: &Block) {
    let text = escape::markdown;
    let _ = match block {
        Block::Heading(words) => write!(out, "## {}\n\n", text(words)),
        Block::Text(words) | Block::Note(words) => write!(out, "{}\n\n", sentence(words)),
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
        Block::Answer { headline, words } => {
            write!(out, "**{}.** {}\n\n", text(headline), text(words))
        }
        Block::Grid(grid) => {
            self::grid(out, grid, &[]);
            Ok(())
        }
        Block::Code {
            caption,
            text: code,
        } => {
            // Longer than any fence in the code.
            let longest = code.split(|c| c != '`').map(str::len).max();
            let fence = "`".repeat(longest.unwrap_or_default().max(2) + 1);
            let lines: Vec<_> = code.lines().map(escape::terminal).collect();
            let code = lines.join("\n");
            write!(
                out,
                "{}\n\n{fence}yaml\n{code}\n{fence}\n\n",
                sentence(caption)
            )
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

/// `blocks` are those of the whole part: a row that links to one of its headings
/// becomes a link. To other parts there are no links in Markdown.
fn grid(out: &mut String, grid: &Grid, blocks: &[Block]) {
    if !grid.caption.is_empty() {
        let _ = write!(out, "{}\n\n", sentence(&grid.caption));
    }
    out.push('|');
    for column in &grid.columns {
        let _ = write!(out, " {} |", escape::markdown(&column.head));
    }
    out.push_str("\n|");
    for column in &grid.columns {
        out.push_str(match column.kind {
            ColumnKind::Figures => " ---: |",
            _ => " :--- |",
        });
    }
    out.push('\n');
    for row in &grid.rows {
        out.push('|');
        let leads = |block: &Block| matches!(block, Block::Heading(words) if Some(words) == row.link.as_ref());
        let mut link = row.link.as_ref().filter(|_| blocks.iter().any(leads));
        for cell in &row.cells {
            let words = match (cell, link.take()) {
                (Cell::Text(words), Some(anchor)) => {
                    format!("[{}](#{anchor})", escape::markdown(words))
                }
                (Cell::Text(words), None) => escape::markdown(words),
                (Cell::Mark(mark), _) => mark.to_string(),
            };
            let _ = write!(out, " {words} |");
        }
        out.push('\n');
    }
    out.push('\n');
}
