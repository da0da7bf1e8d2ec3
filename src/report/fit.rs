//! How text fits into a width: where lines may break, and how columns share the
//! room that there is. Terminals, pages and drawings each measure letters in a
//! unit of their own; what follows from the measures is the same.

use unicode_width::UnicodeWidthChar;

use super::escape;

/// Ideographs and kana have no spaces between words: a line may end after each.
fn breaks_anywhere(c: char) -> bool {
    matches!(u32::from(c), 0x2e80..=0x9fff | 0xac00..=0xd7af | 0xf900..=0xfaff | 0x2_0000..=0x3_ffff)
}

/// Units that stay with their figure. House rule: those that we print.
const UNITS: [&str; 5] = ["%", "mm", "mm²", "°", "SWG"];

/// Whether the space between these may end a line.
fn apart(before: &str, after: &str) -> bool {
    let unit = after.split(' ').next().unwrap_or_default();
    let unit = unit.trim_end_matches([',', ';', ':', '.', ')']);
    !(before.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&unit))
}

/// Words between spaces, figures with their units.
fn spaced(text: &str) -> Vec<&str> {
    let mut out = Vec::new();
    let mut start = 0;
    for (place, _) in text.match_indices(' ') {
        let (before, after) = (text.get(start..place), text.get(place + 1..));
        let (before, after) = (before.unwrap_or_default(), after.unwrap_or_default());
        if apart(before, after) {
            out.push(before);
            start = place + 1;
        }
    }
    out.extend(text.get(start..));
    out
}

/// Pieces after which a line may end: after spaces, hyphens, dashes, slashes.
fn words(text: &str) -> Vec<&str> {
    let mut out = Vec::new();
    let mut start = 0;
    let mut chars = text.char_indices().peekable();
    while let Some((place, c)) = chars.next() {
        let end = place + c.len_utf8();
        let Some(&(_, next)) = chars.peek() else {
            break;
        };
        let may = match c {
            ' ' => {
                let (before, after) = (text.get(start..place), text.get(end..));
                next != ' ' && apart(before.unwrap_or_default(), after.unwrap_or_default())
            }
            // "3-inch" may break; "-0.5" must keep its sign.
            '-' | '–' | '/' => next.is_alphabetic() && place > start,
            c => breaks_anywhere(c) || breaks_anywhere(next),
        };
        if may {
            out.extend(text.get(start..end));
            start = end;
        }
    }
    out.extend(text.get(start..));
    out
}

/// A word of a text: where it starts and ends, and its letters, each with its
/// start in the text and its width.
struct Word<'l> {
    start: usize,
    /// Without the space after it.
    bare_end: usize,
    letters: &'l [(usize, f32)],
}

impl Word<'_> {
    fn width(&self) -> f32 {
        self.letters.iter().map(|&(_, width)| width).sum()
    }

    fn bare(&self) -> f32 {
        let bare = |&&(start, _): &&(usize, f32)| start < self.bare_end;
        let letters = self.letters.iter().take_while(bare);
        letters.map(|&(_, width)| width).sum()
    }
}

fn measured<'l>(text: &str, mut letters: &'l [(usize, f32)]) -> Vec<Word<'l>> {
    let mut end = 0;
    let mut out = Vec::new();
    for word in words(text) {
        let start = end;
        end += word.len();
        let count = letters.partition_point(|&(place, _)| place < end);
        let own;
        (own, letters) = letters.split_at(count);
        out.push(Word {
            start,
            bare_end: start + word.trim_end_matches(' ').len(),
            letters: own,
        });
    }
    out
}

/// The widest piece that a line cannot break.
pub(in crate::report) fn widest_word(text: &str, letters: &[(usize, f32)]) -> f32 {
    let words = measured(text, letters);
    words.iter().map(Word::bare).fold(0.0, f32::max)
}

/// A text in lines that are no wider than `room`: at least one, if an empty one.
/// `letters` are the starts of its letters, in order, with their widths.
pub(in crate::report) fn wrap<'t>(
    text: &'t str,
    letters: &[(usize, f32)],
    room: f32,
) -> Vec<&'t str> {
    let text = text.trim_end_matches(' ');
    let line = |start, end| {
        let line: &str = text.get(start..end).unwrap_or_default();
        line.trim_end_matches(' ')
    };
    let mut lines = Vec::new();
    let (mut start, mut width) = (0, 0.0);
    for word in measured(text, letters) {
        let bare = word.bare();
        if width + bare > room && word.start > start {
            lines.push(line(start, word.start));
            (start, width) = (word.start, 0.0);
        }
        if bare <= room {
            width += word.width();
            continue;
        }
        // A word longer than a line breaks between any two letters.
        for &(place, advance) in word.letters {
            if width + advance > room && place > start {
                lines.push(line(start, place));
                (start, width) = (place, 0.0);
            }
            width += advance;
        }
    }
    lines.push(line(start, text.len()));
    lines
}

/// A text for a terminal, without harmful characters, in lines that end between
/// words. A word that is longer than a line stays whole, so that the name of a file
/// can be copied.
pub(in crate::report) fn lines(text: &str, columns: usize) -> Vec<String> {
    let text = escape::terminal(text);
    let mut lines = Vec::new();
    let (mut line, mut used) = (String::new(), 0);
    for word in spaced(&text) {
        let width: usize = word.chars().filter_map(UnicodeWidthChar::width).sum();
        if used > 0 && used + 1 + width > columns {
            lines.push(std::mem::take(&mut line).trim_end().to_owned());
            used = 0;
        } else if used > 0 {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += width;
    }
    lines.push(line);
    lines
}

/// The letters of a text as a terminal shows them.
pub(in crate::report) fn letters(text: &str) -> Vec<(usize, f32)> {
    let width = |c: char| c.width().unwrap_or_default() as f32;
    let all = text.char_indices();
    all.map(|(place, c)| (place, width(c))).collect()
}

/// Shares `room` among columns: first what each must have, then what it would
/// like. What is left is nobody's.
pub(in crate::report) fn share(
    room: f32,
    least: &[f32],
    natural: &[f32],
    weights: &[f32],
) -> Vec<f32> {
    let sum = |widths: &[f32]| widths.iter().sum::<f32>();
    if sum(least) > room {
        return level(room, least);
    }
    let mut widths = least.to_vec();
    // Columns reach what they would like at different times, so in rounds; each
    // round settles at least one column.
    for _ in 0..=natural.len() {
        let rest = room - sum(&widths);
        let open: Vec<bool> = widths
            .iter()
            .zip(natural)
            .map(|(w, n)| w + 0.01 < *n)
            .collect();
        let total: f32 = weights
            .iter()
            .zip(&open)
            .filter(|(_, open)| **open)
            .map(|(w, _)| w)
            .sum();
        if rest < 0.05 || total <= 0.0 {
            break;
        }
        for (n, width) in widths.iter_mut().enumerate() {
            if let (Some(true), Some(most), Some(weight)) =
                (open.get(n), natural.get(n), weights.get(n))
            {
                *width = (*width + rest * weight / total).min(*most);
            }
        }
    }
    widths
}

/// Widths when not even what must be has room: the widest columns break, at one
/// width for all of them, and the narrow ones keep what they need. Scaling all
/// alike would leave a figure beside an endless word no room at all.
fn level(room: f32, least: &[f32]) -> Vec<f32> {
    let mut sorted = least.to_vec();
    sorted.sort_by(f32::total_cmp);
    let (mut rest, mut open) = (room, sorted.len() as f32);
    for width in sorted {
        if width * open > rest {
            break;
        }
        rest -= width;
        open -= 1.0;
    }
    let most = rest / open.max(1.0);
    least.iter().map(|width| width.min(most)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every letter is one wide.
    fn lines(text: &str, room: f32) -> Vec<&str> {
        let letters: Vec<_> = text.char_indices().map(|(at, _)| (at, 1.0)).collect();
        wrap(text, &letters, room)
    }

    #[test]
    fn lines_break_at_spaces_hyphens_and_slashes() {
        assert_eq!(lines("one two three", 7.0), ["one two", "three"]);
        assert_eq!(lines("inner/outer", 6.0), ["inner/", "outer"]);
        assert_eq!(lines("sub-standard", 8.0), ["sub-", "standard"]);
        assert_eq!(lines("", 8.0), [""]);
        assert_eq!(lines("abcdefgh ij", 3.0), ["abc", "def", "gh", "ij"]);
    }

    #[test]
    fn a_sign_stays_with_its_figure() {
        assert_eq!(words("from -0.5 to 1/2"), ["from ", "-0.5 ", "to ", "1/2"]);
    }

    #[test]
    fn a_unit_stays_with_its_figure() {
        let text = "off by -3.6 %, or 2 mm (5 mm²) in 7 mmm";
        let kept = [
            "off ",
            "by ",
            "-3.6 %, ",
            "or ",
            "2 mm ",
            "(5 mm²) ",
            "in ",
            "7 ",
            "mmm",
        ];
        assert_eq!(words(text), kept);
        assert_eq!(
            super::lines(text, 8),
            ["off by", "-3.6 %,", "or 2 mm", "(5 mm²)", "in 7 mmm"]
        );
    }

    #[test]
    fn columns_get_what_they_need_and_share_the_rest() {
        let widths = share(100.0, &[10.0, 20.0], &[15.0, 400.0], &[1.0, 1.0]);
        assert_eq!(widths, [15.0, 85.0]);
        let least = [10.0, 5_000.0, 20.0, 9_000.0];
        // An endless word leaves its neighbours their room.
        let widths = share(100.0, &least, &least, &[1.0; 4]);
        assert_eq!(widths, [10.0, 35.0, 20.0, 35.0]);
    }
}
