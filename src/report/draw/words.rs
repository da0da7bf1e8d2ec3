//! How much room text takes. No program tells us which font it will use, so
//! these are the widths of our own, rounded up.

use crate::report::{escape, fit};

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
    #[expect(clippy::cast_possible_truncation, reason = "widths of letters")]
    let letters: Vec<(usize, f32)> = text
        .char_indices()
        .map(|(place, c)| (place, width(c.encode_utf8(&mut [0; 4]), size) as f32))
        .collect();
    #[expect(clippy::cast_possible_truncation, reason = "the width of a drawing")]
    let lines = fit::wrap(&text, &letters, room as f32).into_iter();
    let mut lines: Vec<String> = lines.map(str::to_owned).collect();
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
