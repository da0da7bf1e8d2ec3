//! What a page of many parts begins with: a list to jump by, and a choice of what is
//! shown. Both without a script: a browser that cannot choose shows everything.

use std::fmt::Write;

use super::html::{class, mark};
use super::model::Entry;
use crate::report::escape;
use crate::report::style::Mark;

/// In the order in which people ask.
const MARKS: [Mark; 3] = [Mark::DoesNotConform, Mark::Inconclusive, Mark::Conforms];

/// How it looks, and what it hides. On paper everything is there, and the list is not.
pub(super) const LOOK: &str = "\
@media screen{.contents{position:sticky;top:0;z-index:2;background:var(--paper);\
border-bottom:1px solid var(--ink);margin:0 0 1rem;padding:.2rem 0;font-size:.9rem}\
.contents fieldset{border:0;margin:0;padding:0;white-space:nowrap;overflow-x:auto}\
.contents legend{float:left;font-weight:600;padding:.3rem .8rem .3rem 0}\
.contents label{display:inline-block;padding:.3rem .8rem .3rem 0}\
.contents summary{padding:.3rem 0;font-weight:600;cursor:pointer}\
.contents details>div{max-height:60vh;overflow-y:auto;columns:16rem}\
.contents section{break-inside:avoid}.contents h2{font-size:1rem;margin:.4rem 0 .1rem}\
.contents ul{list-style:none;margin:0;padding:0}.contents li{padding:.1rem 0}\
.contents~.part{scroll-margin-top:5rem}\
.contents~.part>header{position:sticky;top:4.4rem;z-index:1;background:var(--paper)}\
@media (max-width:40rem){.contents{position:static}.contents fieldset{white-space:normal}\
.contents~.part{scroll-margin-top:0}.contents~.part>header{top:0}\
.contents~.part h2{font-size:1.15rem;margin:.2rem 0}}\
body:has(#only-bad:checked) [data-mark]:not([data-mark=bad]),\
body:has(#only-open:checked) [data-mark]:not([data-mark=open]),\
body:has(#only-good:checked) [data-mark]:not([data-mark=good]){display:none}}\
@media print{.contents{display:none}}";

/// The list of a page's parts, under what they are listed under.
pub(in crate::report) fn contents(entries: &[Entry<'_>]) -> String {
    let mut out = "<nav class=\"contents\" aria-label=\"parts of this page\">\n".to_owned();
    choice(&mut out, entries);
    out.push_str("<details><summary>go to a board</summary><div>\n");
    let mut groups: Vec<(&str, Vec<&Entry<'_>>)> = Vec::new();
    for entry in entries {
        let name = entry.listed.group.as_str();
        match groups.iter_mut().find(|(known, _)| *known == name) {
            Some((_, entries)) => entries.push(entry),
            None => groups.push((name, vec![entry])),
        }
    }
    for (name, entries) in groups {
        let _ = write!(out, "<section><h2>{}</h2><ul>", escape::html(name));
        for entry in entries {
            let _ = write!(
                out,
                "<li data-mark=\"{}\"><a href=\"#{}\">{}</a> {}</li>",
                class(entry.listed.mark),
                entry.anchor,
                escape::html(entry.title),
                mark(entry.listed.mark)
            );
        }
        out.push_str("</ul></section>\n");
    }
    out.push_str("</div></details></nav>\n");
    out
}

/// Which parts are shown: all, or those of one mark, where there are several.
fn choice(out: &mut String, entries: &[Entry<'_>]) {
    let of = |mark: Mark| entries.iter().filter(|e| e.listed.mark == mark).count();
    let marks = MARKS.map(|mark| (mark, of(mark)));
    if marks.iter().filter(|(_, count)| *count > 0).count() < 2 {
        return;
    }
    let _ = write!(
        out,
        "<fieldset><legend>show</legend><label><input type=\"radio\" name=\"only\" checked> \
         all {}</label>",
        entries.len()
    );
    for (mark, count) in marks {
        if count > 0 {
            let _ = write!(
                out,
                "<label><input type=\"radio\" name=\"only\" id=\"only-{}\"> {} {count}</label>",
                class(mark),
                self::mark(mark)
            );
        }
    }
    out.push_str("</fieldset>\n");
}
