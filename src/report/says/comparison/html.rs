//! The page as one self-contained HTML file without a script.

use std::fmt::Write;

use super::page::{Page, Section, Table};
use super::style;
use crate::report::draw::{Figure, style as drawing};
use crate::report::escape;

pub(super) fn write(page: &Page, figures: &[Figure]) -> String {
    let mut out = String::new();
    let title = escape::html(&page.title);
    // Nothing is loaded and nothing runs, whatever a board file says.
    let _ = write!(
        out,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" \
         content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{title}</title>\n<style>{}{}</style>\n</head>\n<body>\n<header>\n<h1>{title}</h1>\n",
        drawing::page(),
        style::PAGE
    );
    out.push_str("<section class=\"given\" aria-label=\"What was assumed\">\n<ul>\n");
    for line in &page.assumptions {
        let _ = writeln!(out, "<li>{}</li>", escape::html(line));
    }
    out.push_str("</ul>\n</section>\n</header>\n<main>\n");
    group(&mut out, figures, "boards");
    for section in &page.sections {
        self::section(&mut out, section);
    }
    for name in ["odds", "averages", "scores"] {
        group(&mut out, figures, name);
    }
    out.push_str("</main>\n<footer>\n");
    for caution in &page.cautions {
        let _ = writeln!(out, "<p>{}</p>", escape::html(caution));
    }
    out.push_str("</footer>\n</body>\n</html>\n");
    out
}

fn group(out: &mut String, figures: &[Figure], name: &str) {
    let beside = matches!(name, "boards" | "scores");
    let own: Vec<&Figure> = figures.iter().filter(|f| f.group == name).collect();
    if own.is_empty() {
        return;
    }
    let _ = writeln!(
        out,
        "<div class=\"{}\">",
        if beside { "boards" } else { "plots" }
    );
    for figure in own {
        let _ = writeln!(
            out,
            "<figure>{}<figcaption><strong>{}.</strong> {}</figcaption></figure>",
            figure.element(),
            escape::html(&figure.title),
            escape::html(&figure.description)
        );
    }
    out.push_str("</div>\n");
}

fn section(out: &mut String, section: &Section) {
    let _ = writeln!(
        out,
        "<section>\n<h2>{}</h2>",
        escape::html(&section.heading)
    );
    for table in &section.tables {
        self::table(out, table);
    }
    for note in &section.notes {
        let _ = writeln!(out, "<p class=\"note\">{}</p>", escape::html(note));
    }
    out.push_str("</section>\n");
}

fn table(out: &mut String, table: &Table) {
    let caption = escape::html(&table.caption);
    // What scrolls sideways on a narrow screen must be reachable by keyboard.
    let _ = write!(
        out,
        "<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=\"table: {caption}\">\
         <table>\n<caption>{caption}</caption>\n<thead><tr>"
    );
    for column in &table.columns {
        let _ = write!(out, "<th scope=\"col\">{}</th>", escape::html(column));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in &table.rows {
        out.push_str("<tr>");
        for (index, cell) in row.iter().enumerate() {
            let cell = escape::html(cell);
            let _ = if index == 0 {
                write!(out, "<th scope=\"row\">{cell}</th>")
            } else {
                write!(out, "<td>{cell}</td>")
            };
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</tbody>\n</table></div>\n");
}
