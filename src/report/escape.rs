//! Text from a file, made safe for the place that it is printed in.

use std::borrow::Cow;
use std::fmt::Write;

/// Whether a character could move a terminal's cursor, reorder or hide text.
fn is_unsafe(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{00ad}' | '\u{061c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
            | '\u{e0000}'..='\u{e007f}')
}

/// What hosts take for a command to them where it begins a line of a job's output, white
/// space before it aside, or stands anywhere in one (from memory).
const COMMANDS: [&str; 3] = ["::", "##[", "##vso["];

/// One line for a terminal: control, bidirectional and invisible characters
/// are spelt out as `\u{…}`, and so is what would begin a command to the host of a job,
/// wherever a line may be broken.
pub fn terminal(text: &str) -> Cow<'_, str> {
    if !text.contains(is_unsafe) && !COMMANDS.iter().any(|command| text.contains(command)) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len() + 16);
    let mut before = ' ';
    for (at, c) in text.char_indices() {
        let rest = text.get(at..).unwrap_or_default();
        let [word, anywhere @ ..] = COMMANDS;
        let begins = rest.starts_with(word) && (before.is_whitespace() || is_unsafe(before));
        if is_unsafe(c) || begins || anywhere.iter().any(|command| rest.starts_with(command)) {
            safe.extend(c.escape_unicode());
        } else {
            safe.push(c);
        }
        before = c;
    }
    Cow::Owned(safe)
}

/// A result of many lines for a terminal: every line but for its end.
pub fn lines(text: &str) -> String {
    let each = text.split_inclusive('\n').map(|line| {
        let content = line.trim_end_matches(['\n', '\r']);
        let end = if line.ends_with('\n') { "\n" } else { "" };
        terminal(content).into_owned() + end
    });
    each.collect()
}

/// A text that no spreadsheet runs: what would be a formula gets an apostrophe in
/// front, which reading a sheet takes off again. A spreadsheet that parts cells at
/// semicolons would find one behind a semicolon: there a space is put between.
pub fn no_formula(text: &str) -> Cow<'_, str> {
    let runs = |text: &str| text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let hidden = |part: &str| runs(part.trim_start_matches([' ', '"']));
    let first = if runs(text) { "'" } else { "" };
    if !text.split(';').skip(1).any(hidden) {
        return match first {
            "" => Cow::Borrowed(text),
            _ => Cow::Owned(format!("{first}{text}")),
        };
    }
    let parts = text.split(';').enumerate().map(|(nth, part)| match nth {
        0 => part.to_owned(),
        _ if hidden(part) => format!("; '{}", part.trim_start()),
        _ => format!(";{part}"),
    });
    Cow::Owned(std::iter::once(first.to_owned()).chain(parts).collect())
}

/// A cell of CSV that is no formula.
pub fn csv(text: &str, separator: char) -> String {
    let text = no_formula(text);
    if text.contains([separator, '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.into_owned()
    }
}

/// A JSON document in which every unsafe character is written as an escape. In
/// JSON such characters can only stand inside strings, so the meaning stays.
pub fn json(text: &str) -> Cow<'_, str> {
    let unsafe_here = |c: char| is_unsafe(c) && c != '\n';
    if !text.contains(unsafe_here) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if unsafe_here(c) {
            let mut units = [0; 2];
            for unit in c.encode_utf16(&mut units) {
                // Writing into a string cannot fail.
                let _ = write!(safe, "\\u{unit:04x}");
            }
        } else {
            safe.push(c);
        }
    }
    Cow::Owned(safe)
}

/// Text inside an HTML or SVG element, or inside a quoted attribute of one.
pub fn html(text: &str) -> String {
    let mut safe = String::with_capacity(text.len() + 16);
    for c in terminal(text).chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            c => safe.push(c),
        }
    }
    safe
}

/// Text in a line of Markdown, inside a table too: whatever could start a mark,
/// a link or an HTML element, or end a cell, is escaped. A pair of backticks
/// stays one, and so does what stands between them. A line must not begin with
/// it.
pub fn markdown(text: &str) -> String {
    let mut safe = String::with_capacity(text.len() + 16);
    let text = terminal(text);
    let mut rest = &*text;
    while let Some((before, after)) = rest.split_once('`') {
        escape_marks(&mut safe, before);
        rest = after;
        match after.split_once('`') {
            // Inside of code a bar would still end a cell, and cannot be escaped.
            Some((code, behind)) if is_code(code) && !behind.starts_with('`') => {
                safe.push('`');
                safe.push_str(code);
                safe.push('`');
                rest = behind;
            }
            _ => safe.push_str("\\`"),
        }
    }
    escape_marks(&mut safe, rest);
    safe
}

fn is_code(text: &str) -> bool {
    !text.trim().is_empty() && !text.contains(['|', '\\'])
}

fn escape_marks(safe: &mut String, text: &str) {
    for c in text.chars() {
        if matches!(
            c,
            '\\' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '&' | '~' | '$' | '#' | '!'
        ) {
            safe.push('\\');
        }
        safe.push(c);
    }
}

/// A file's text for display in a diagnostic: every unsafe character is
/// replaced by a harmless one of the same length in bytes, so that places in
/// the text stay right. Line breaks and tabs stay.
pub fn same_length(text: &str) -> Cow<'_, str> {
    let harmful = |c: char| is_unsafe(c) && !matches!(c, '\n' | '\t');
    if !text.contains(harmful) {
        return Cow::Borrowed(text);
    }
    let replaced = text.chars().map(|c| match (harmful(c), c.len_utf8()) {
        (false, _) => c,
        (true, 1) if c == '\r' => ' ',
        (true, 1) => '?',
        (true, 2) => '·',
        // A byte-order mark is nothing to warn of.
        (true, 3) if c == '\u{feff}' => '\u{2003}',
        (true, 3) => '\u{fffd}',
        (true, _) => '\u{1f6ab}',
    });
    Cow::Owned(replaced.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_and_bidirectional_characters_are_spelt_out() {
        assert_eq!(terminal("Müller’s"), "Müller’s");
        assert_eq!(terminal("a\u{1b}[2Jb\u{202e}c"), "a\\u{1b}[2Jb\\u{202e}c");
        assert_eq!(terminal("a\nb"), "a\\u{a}b");
        assert_eq!(lines("a\u{1b}\r\nb"), "a\\u{1b}\nb");
    }

    #[test]
    fn no_text_is_a_command_to_the_host_of_a_job() {
        assert_eq!(terminal("::error::x"), "\\u{3a}:error::x");
        assert_eq!(terminal("a ::stop"), "a \\u{3a}:stop");
        assert_eq!(terminal("a\n::stop"), "a\\u{a}\\u{3a}:stop");
        assert_eq!(terminal("a##vso[b]"), "a\\u{23}#vso[b]");
        assert_eq!(terminal("a::b # c"), "a::b # c");
    }

    #[test]
    fn cells_are_quoted_and_formulas_are_not_run() {
        assert_eq!(csv("a, \"b\"", ','), "\"a, \"\"b\"\"\"");
        assert_eq!(csv("a, b", ';'), "a, b");
        assert_eq!(csv("=HYPERLINK(1)", ','), "'=HYPERLINK(1)");
        assert_eq!(csv("a;=1+1", ','), "a; '=1+1");
        assert_eq!(csv("a; b; -3", ','), "a; b; '-3");
        assert_eq!(csv("=1; b", ','), "'=1; b");
    }

    #[test]
    fn text_stays_text_in_html_and_markdown() {
        let text = "<b onclick=\"x\">A & 'B'</b>\u{202e}";
        let safe = html(text);
        assert!(!safe.contains(['<', '>', '"', '\'', '\u{202e}']), "{safe}");
        assert!(safe.starts_with("&lt;b onclick=&quot;x&quot;&gt;A &amp; &#39;B&#39;"));
        assert_eq!(
            markdown("a|b*c_[d](e)`f`\n#"),
            "a\\|b\\*c\\_\\[d\\](e)`f`\\\\u{a}\\#"
        );
        assert_eq!(markdown("`a|b` ``c`` `"), "\\`a\\|b\\` \\`\\`c\\`\\` \\`");
        assert_eq!(
            markdown("`<<`, or `a` and `<b>"),
            "`<<`, or `a` and \\`\\<b\\>"
        );
    }

    #[test]
    fn json_stays_the_same_document() {
        let value = serde_json::json!({ "a": "x\u{9b}\u{7f}\u{202e}\u{e0001}y" });
        let text = value.to_string();
        let safe = json(&text);
        assert!(!safe.contains(is_unsafe));
        assert_eq!(
            serde_json::from_str::<serde_json::Value>(&safe).expect("JSON"),
            value
        );
    }

    #[test]
    fn replaced_text_keeps_every_place() {
        let text = "a\u{1b}b\u{85}c\u{202e}d\u{e0001}e\n";
        let safe = same_length(text);
        assert_eq!(safe.len(), text.len());
        assert_eq!(safe, "a?b·c\u{fffd}d\u{1f6ab}e\n");
    }
}
