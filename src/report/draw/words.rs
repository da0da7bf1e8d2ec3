//! How much room text takes. No program tells us which font it will use, so
//! these are the widths of our own, rounded up.

use crate::report::escape;

/// The width of a line, in the unit of its size.
pub(super) fn width(text: &str, size: f64) -> f64 {
    // Shares of the size, as in DejaVu Sans Condensed, which is wide.
    let share = |c: char| match c {
        ' ' | '.' | ',' | ':' | ';' | '\'' | 'i' | 'j' | 'l' | 'I' | '|' => 0.30,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '-' | '/' => 0.38,
        'm' | 'w' | 'M' | 'W' | '%' | '±' | '+' | '−' | '✓' | '✗' | '–' => 0.88,
        c if c.is_ascii_lowercase() || c.is_ascii_digit() => 0.58,
        c if c.is_ascii() => 0.70,
        // Anything else may come from a font with wide letters.
        _ => 1.0,
    };
    size * text.chars().map(share).sum::<f64>()
}

/// Breaks text into lines that fit, at spaces where it can. What does not go
/// into so many lines ends in an ellipsis. Characters that are not printed as
/// they are take the room of what is printed for them.
pub(super) fn wrap(text: &str, size: f64, room: f64, most: usize) -> Vec<String> {
    let text = escape::terminal(text);
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let Some(line) = lines.last_mut() else { break };
        let fits = width(line, size) + width(word, size) + 0.3 * size <= room;
        if !line.is_empty() && fits {
            line.push(' ');
            line.push_str(word);
            continue;
        }
        if !line.is_empty() {
            lines.push(String::new());
        }
        // A word that is longer than a line is broken anywhere.
        for c in word.chars() {
            let Some(line) = lines.last_mut() else { break };
            if width(line, size) + width(c.encode_utf8(&mut [0; 4]), size) > room {
                lines.push(c.to_string());
            } else {
                line.push(c);
            }
        }
    }
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            while !last.is_empty() && width(last, size) + size > room {
                last.pop();
            }
            last.push('…');
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_nothing_is_lost_that_has_room() {
        let text = "a board whose name is rather long, and then some";
        let lines = wrap(text, 10.0, 100.0, 9);
        assert!(lines.len() > 2);
        assert!(lines.iter().all(|line| width(line, 10.0) <= 100.0));
        assert_eq!(lines.join(" "), text);
        let cut = wrap(&"W".repeat(500), 10.0, 100.0, 2);
        assert_eq!(cut.len(), 2);
        assert!(cut.iter().all(|line| width(line, 10.0) <= 100.0), "{cut:?}");
        assert!(cut.concat().ends_with('…'));
    }
}
