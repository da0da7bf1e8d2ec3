//! A report as one self-contained HTML page without a script.

use super::contents;
use super::model::{Block, Cell, Column, ColumnKind, Fact, Grid, Part, Row, beside};
use crate::report::draw::{Figure, style as drawing};
use crate::report::escape;
use crate::report::style::Mark;
use std::fmt::Write;

/// What stands before the first part. `landscape` is how the page asks to be
/// printed.
pub(in crate::report) fn opening(title: &str, landscape: bool) -> String {
    let heading = unbroken(title);
    let title = escape::html(title);
    let paper = if landscape {
        "@page{size:landscape}"
    } else {
        ""
    };
    // Nothing is loaded and nothing runs, whatever a board file says.
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" \
         content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{title}</title>\n<style>{}{}{}{paper}</style>\n</head>\n<body>\n<main>\n\
         <h1 class=\"title\">{}</h1>\n",
        drawing::page(),
        PAGE,
        contents::LOOK,
        heading
    )
}

/// A heading in which the ids of boards are not broken at their hyphens. House rule:
/// what is longer is no id.
fn unbroken(heading: &str) -> String {
    const LONGEST: usize = 16;
    let words = heading.split(' ').map(|word| {
        let safe = escape::html(word);
        if word.contains('-') && word.chars().count() <= LONGEST {
            format!("<span class=\"whole\">{safe}</span>")
        } else {
            safe
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

/// What stands after the last part.
pub(in crate::report) fn closing() -> String {
    "</main>\n</body>\n</html>\n".to_owned()
}

/// A page of one part.
pub(in crate::report) fn document(title: &str, part: &Part, landscape: bool) -> String {
    opening(title, landscape) + &self::part(part) + &closing()
}

/// One part.
pub(in crate::report) fn part(part: &Part) -> String {
    let mut out = String::with_capacity(64 * 1024);
    let anchor = &part.anchor;
    let listed = part.listed.as_ref();
    let listed = listed.map_or_else(String::new, |listed| {
        format!(" data-mark=\"{}\"", class(listed.mark))
    });
    let _ = write!(
        out,
        "<article class=\"part\" id=\"{anchor}\"{listed} aria-labelledby=\"{anchor}-title\">\n\
         <header><p class=\"kicker\">{} · {}</p>\n<h2 id=\"{anchor}-title\">{}</h2></header>\n",
        escape::html(&part.kicker),
        escape::html(&part.foot),
        unbroken(&part.title)
    );
    out += &blocks(&part.blocks);
    out.push_str("</article>\n");
    out
}

/// Blocks as pieces of a page.
pub(in crate::report) fn blocks(blocks: &[Block]) -> String {
    let mut out = String::new();
    let mut blocks = blocks.iter().peekable();
    while let Some(block) = blocks.next() {
        let Block::Figure(first) = block else {
            self::block(&mut out, block);
            continue;
        };
        // Drawings of one group stand side by side where there is room.
        let mut row = vec![first];
        while let Some(Block::Figure(next)) =
            blocks.next_if(|next| matches!(next, Block::Figure(next) if beside(first, next)))
        {
            row.push(next);
        }
        self::figures(&mut out, &row);
    }
    out
}

/// The style of pages and their drawings.
pub(in crate::report) fn style() -> String {
    format!("{}{PAGE}", drawing::page())
}

fn block(out: &mut String, block: &Block) {
    let text = escape::html;
    let _ = match block {
        Block::Heading(words) => writeln!(out, "<h3>{}</h3>", text(words)),
        Block::Text(words) => writeln!(out, "<p>{}</p>", text(words)),
        Block::Points(points) => {
            points_of(out, "points", points);
            Ok(())
        }
        Block::Facts(facts) => {
            self::facts(
                out,
                "facts",
                facts,
                "<span class=\"absent\">not stated</span>",
            );
            Ok(())
        }
        Block::Signature(facts) => {
            let line = "<span class=\"blank\" aria-label=\"to be filled in by hand\" \
                        role=\"img\"></span>";
            self::facts(out, "signature", facts, line);
            Ok(())
        }
        Block::Verdict { mark, words } => writeln!(
            out,
            "<p class=\"verdict {}\"><strong>{}</strong> {}</p>",
            class(*mark),
            self::mark(*mark),
            text(words)
        ),
        Block::Answer { headline, words } => writeln!(
            out,
            "<p class=\"verdict answer\"><strong>{}</strong> {}</p>",
            text(headline),
            text(words)
        ),
        Block::Grid(grid) => {
            self::grid(out, grid);
            Ok(())
        }
        Block::Note(words) => writeln!(out, "<p class=\"note\">{}</p>", text(words)),
        Block::Figure(figure) => {
            self::figures(out, &[figure]);
            Ok(())
        }
        Block::Code {
            caption,
            text: code,
        } => writeln!(
            out,
            "<figure><figcaption>{}</figcaption><pre tabindex=\"0\">{}</pre></figure>",
            text(caption),
            code.lines()
                .map(|line| text(line) + "\n")
                .collect::<String>()
        ),
        Block::Cautions(points) => {
            points_of(out, "cautions", points);
            Ok(())
        }
    };
}

fn points_of(out: &mut String, class: &str, points: &[String]) {
    if points.is_empty() {
        return;
    }
    let _ = writeln!(out, "<ul class=\"{class}\">");
    for point in points {
        let _ = writeln!(out, "<li>{}</li>", escape::html(point));
    }
    out.push_str("</ul>\n");
}

fn facts(out: &mut String, class: &str, facts: &[Fact], absent: &str) {
    let _ = writeln!(out, "<dl class=\"{class}\">");
    for fact in facts {
        let value = fact.value.as_deref().map(escape::html);
        let value = value.as_deref().unwrap_or(absent);
        let name = escape::html(&fact.name);
        let _ = writeln!(out, "<div><dt>{name}</dt><dd>{value}</dd></div>");
    }
    out.push_str("</dl>\n");
}

fn figures(out: &mut String, row: &[&Figure]) {
    if row.len() > 1 {
        out.push_str("<div class=\"beside\">\n");
    }
    for figure in row {
        let _ = writeln!(
            out,
            "<figure class=\"{}\">{}<figcaption><strong>{}.</strong> <span class=\"said\">{}</span>\
             </figcaption></figure>",
            figure.group,
            figure.element(),
            escape::html(&figure.title),
            escape::html(&figure.description)
        );
    }
    if row.len() > 1 {
        out.push_str("</div>\n");
    }
}

/// The class of what bears a mark.
pub(super) fn class(mark: Mark) -> &'static str {
    match mark {
        Mark::Conforms => "good",
        Mark::DoesNotConform => "bad",
        Mark::Inconclusive => "open",
        Mark::NotChecked => "unchecked",
        Mark::NoLimit => "none",
    }
}

/// A mark and its word.
pub(super) fn mark(mark: Mark) -> String {
    let (class, sign, word) = (class(mark), mark.sign(), mark.word());
    format!("<span class=\"mark {class}\"><span aria-hidden=\"true\">{sign}</span> {word}</span>")
}

fn grid(out: &mut String, grid: &Grid) {
    // What scrolls sideways on a narrow screen must be reachable by keyboard.
    // Its name is cut before it is escaped: an escape ends with a semicolon.
    let caption = escape::html(&grid.caption);
    let name = grid.caption.split(['.', ';', ':']).next();
    let short = if grid.rows.len() <= SHORT {
        " short"
    } else {
        ""
    };
    let _ = write!(
        out,
        "<div class=\"wide{short}\" tabindex=\"0\" role=\"group\" aria-label=\"table: {}\"><table{}>\n\
         <caption>{caption}</caption>\n<thead><tr>",
        escape::html(name.unwrap_or_default()),
        if is_wordy(grid) {
            " class=\"cards\""
        } else {
            ""
        }
    );
    for column in &grid.columns {
        let _ = write!(
            out,
            "<th scope=\"col\"{}>{}</th>",
            kind(column.kind),
            escape::html(&column.head)
        );
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in &grid.rows {
        self::row(out, grid, row);
    }
    out.push_str("</tbody>\n</table></div>\n");
}

/// A table of so many rows at most stays together on paper. House rule: a quarter of a
/// page.
const SHORT: usize = 12;

/// Whether much of a table is sentences: on a phone each row is then a card, with the
/// head of its column before each cell. House rule: more than a quarter of the width.
fn is_wordy(grid: &Grid) -> bool {
    let whole: f64 = grid.columns.iter().map(|column| column.weight).sum();
    let sentences =
        |column: &Column| column.kind == ColumnKind::Words && column.weight > 0.25 * whole;
    let room = |column: &Column| column.kind == ColumnKind::Room;
    grid.columns.iter().any(sentences) && !grid.columns.iter().any(room)
}

fn kind(kind: ColumnKind) -> &'static str {
    match kind {
        ColumnKind::Head | ColumnKind::Words => "",
        ColumnKind::Figures => " class=\"figure\"",
        ColumnKind::Mark => " class=\"word\"",
        ColumnKind::Room => " class=\"room\"",
    }
}

fn row(out: &mut String, grid: &Grid, row: &Row) {
    let _ = if row.key.is_empty() {
        write!(out, "<tr>")
    } else {
        write!(out, "<tr data-key=\"{}\">", escape::html(&row.key))
    };
    let wordy = is_wordy(grid);
    for (column, cell) in grid.columns.iter().zip(&row.cells) {
        let mut words = match cell {
            Cell::Text(words) => escape::html(words),
            Cell::Mark(mark) => self::mark(*mark),
        };
        if column.kind == ColumnKind::Head {
            if let Some(anchor) = &row.link {
                words = format!("<a href=\"#{anchor}\">{words}</a>");
            }
            let _ = write!(out, "<th scope=\"row\">{words}</th>");
        } else {
            let kind = kind(column.kind);
            let _ = if wordy {
                let head = escape::html(&column.head);
                write!(out, "<td{kind} data-head=\"{head}\">{words}</td>")
            } else {
                write!(out, "<td{kind}>{words}</td>")
            };
        }
    }
    out.push_str("</tr>\n");
}

/// Sober, made to be printed: serif headings, a double rule, no colour that says
/// anything that a word does not say too.
pub(super) const PAGE: &str = "\
body{background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,'DejaVu Sans',sans-serif;\
margin:0 auto;padding:1.5rem;max-width:60rem}\
h1,h2,h3{font-family:Georgia,'DejaVu Serif','Times New Roman',serif;line-height:1.25;\
overflow-wrap:anywhere;text-wrap:balance}\
h1{font-size:1.2rem;font-weight:400;margin:0;padding-bottom:.4rem;border-bottom:3px double var(--ink)}\
h2{font-size:1.7rem;margin:.1rem 0 .8rem}\
h3{font-size:1.1rem;margin:1.8rem 0 .4rem}\
.part{margin-bottom:4rem}.part+.part{border-top:3px double var(--ink);padding-top:1rem}\
.kicker{font-size:.85rem;margin:1.2rem 0 0;overflow-wrap:anywhere}\
p,li,dd{overflow-wrap:anywhere}p{max-width:46rem}\
ul{padding-left:1.2rem;max-width:46rem}\
a{color:inherit}\
:focus-visible{outline:3px solid var(--ink);outline-offset:2px}\
.verdict{border:2px solid var(--ink);padding:.6rem .9rem;max-width:none}\
.verdict strong{font-size:1.25rem;display:block}\
.verdict.bad{border-width:5px}.verdict.open,.verdict.unchecked{border-style:dashed}\
.mark{white-space:nowrap}.mark.bad{font-weight:700}\
.mark>span{display:inline-block;width:1.1em;text-align:center}\
.facts,.signature{margin:.4rem 0;font-size:.92rem}\
.facts>div,.signature>div{display:grid;grid-template-columns:11rem 1fr;gap:.8rem;\
padding:.16rem 0;border-bottom:1px solid var(--line);break-inside:avoid}\
dt{font-weight:600}dd{margin:0}.absent{font-style:italic}\
.signature{break-inside:avoid}.signature>div{border:0;padding:.5rem 0;align-items:end}\
pre{overflow-x:auto;font-size:.85rem}.note{font-size:.9rem}\
.beside{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(20rem,100%),1fr));gap:1rem}\
.beside figure{margin:.4rem 0}\
.room{border:1px solid var(--ink);overflow-wrap:anywhere;min-width:3.4rem;height:2rem}th.room{text-align:center;overflow-wrap:normal}.whole{white-space:nowrap}\
.blank{display:block;border-bottom:1px solid var(--ink);height:2rem;max-width:22rem}\
.wide{overflow-x:auto;margin:.4rem 0}\
table{border-collapse:collapse;width:100%;font-size:.85rem;line-height:1.35;\
font-variant-numeric:tabular-nums}\
caption{text-align:left;font-style:italic;padding:.2rem 0 .4rem}\
th,td{padding:.25rem .4rem;border-bottom:1px solid var(--line);text-align:left;vertical-align:top}\
thead th{border-bottom:2px solid var(--ink);vertical-align:bottom}\
.figure{text-align:right}td.figure{white-space:nowrap}td.word{white-space:nowrap}\
th.word{text-align:left}tbody th{font-weight:600}\
tr{break-inside:avoid}thead{display:table-header-group}\
figure{margin:1.4rem 0;break-inside:avoid}\
figure svg{width:100%;max-width:30rem;height:auto;display:block;margin:0 auto}\
figcaption{font-size:.85rem;margin-top:.4rem}\
.cautions{border-left:4px solid var(--ink);padding:.2rem 1rem .2rem 1.8rem;margin:1.6rem 0 0;\
font-size:.9rem;break-inside:avoid}\
@media (max-width:40rem){.facts>div,.signature>div{grid-template-columns:1fr;gap:0}}\
@media screen and (max-width:40rem){caption{max-width:calc(100vw - 3rem)}\
.wide:not(:has(.cards)){border-right:4px double var(--line)}\
.cards,.cards caption,.cards tbody,.cards tr,.cards th,.cards td{display:block}.cards thead{display:none}\
.cards tr{border-bottom:1px solid var(--line);padding:.4rem 0}\
.cards tbody th,.cards td{border:0;padding:.1rem 0;text-align:left;white-space:normal}\
.cards tbody th{font-size:1rem}.cards td:empty{display:none}\
.cards td::before{content:attr(data-head) ': ';font-weight:600}}\
@page{margin:16mm 14mm 18mm;@bottom-right{content:'page ' counter(page) ' of ' counter(pages);\
font:8pt sans-serif}}\
@media print{body{font-size:9.5pt;padding:0;max-width:none}.wide{overflow:visible}\
table{font-size:7.8pt}th,td{padding:.15rem .25rem}h3{break-after:avoid}\
.part{margin:0;break-before:page}h1+.part{break-before:auto}.part+.part{border:0;padding:0}\
figure svg{max-height:150mm}.beside{grid-template-columns:1fr 1fr}.beside .said{display:none}\
.short{break-inside:avoid}caption,thead{break-after:avoid}tbody tr:first-child{break-before:avoid}p,li{orphans:3;widows:3}}";
