//! Text broken into lines.

use super::face::Faces;
use crate::report::fit;

/// How words are set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Style {
    pub(super) bold: bool,
    /// In points.
    pub(super) size: f32,
    /// From one line to the next, in points.
    pub(super) lead: f32,
    /// Darkness: 0 is black, 255 is paper.
    pub(super) ink: u8,
}

/// A line with its width in points.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    pub(super) words: String,
    pub(super) width: f32,
}

/// The letters of a text, which is shaped only once, with their widths in points.
fn letters(faces: &Faces<'_>, text: &str, style: Style) -> Vec<(usize, f32)> {
    let clusters = faces.clusters(text, style.bold).into_iter();
    clusters
        .map(|(place, ems)| (place, ems * style.size))
        .collect()
}

/// The widest piece that a line cannot break, in points.
pub(super) fn widest_word(faces: &Faces<'_>, text: &str, style: Style) -> f32 {
    fit::widest_word(text, &letters(faces, text, style))
}

/// A clean text in lines that are no wider than `room`. There is always at least
/// one line, if an empty one.
pub(super) fn wrap(faces: &Faces<'_>, text: &str, style: Style, room: f32) -> Vec<Line> {
    let text = text.trim_end_matches(' ');
    let set = |words: &str| {
        let words = words.trim_end_matches(' ').to_owned();
        let width = faces.width(&words, style.bold) * style.size;
        Line { words, width }
    };
    // Most texts fit on one line; what is longer than any line of ours is not
    // shaped only to find that out. House rule: 400 bytes.
    if text.len() <= 400 {
        let line = set(text);
        if line.width <= room {
            return vec![line];
        }
    }
    let letters = letters(faces, text, style);
    fit::wrap(text, &letters, room)
        .into_iter()
        .map(set)
        .collect()
}

/// The beginning of a clean text, with an ellipsis where it does not fit: for
/// the head and the foot of a page, which repeat what is set in full elsewhere.
pub(super) fn clip(faces: &Faces<'_>, text: &str, style: Style, room: f32) -> Line {
    // More letters than a line can hold need not be measured, page after page.
    const MOST: usize = 300;
    let end = text
        .char_indices()
        .nth(MOST)
        .map_or(text.len(), |(end, _)| end);
    let start = text.get(..end).unwrap_or_default();
    let mut lines = wrap(faces, start, style, room).into_iter();
    if let (Some(line), None, true) = (lines.next(), lines.next(), end == text.len()) {
        return line;
    }
    let dots = faces.width("…", style.bold) * style.size;
    let mut lines = wrap(faces, start, style, room - dots).into_iter();
    let words = format!(
        "{}…",
        lines.next().map(|line| line.words).unwrap_or_default()
    );
    let width = faces.width(&words, style.bold) * style.size;
    Line { words, width }
}

#[cfg(test)]
mod tests {
    use super::super::look::BODY;
    use super::*;

    fn lines(text: &str, room: f32) -> Vec<String> {
        let faces = Faces::new(&[]).expect("fonts");
        let lines = wrap(&faces, text, BODY, room);
        assert!(
            lines.iter().all(|line| line.width <= room + 0.5),
            "{lines:?}"
        );
        lines.into_iter().map(|line| line.words).collect()
    }

    #[test]
    fn lines_break_at_spaces_hyphens_and_slashes() {
        assert_eq!(lines("one two three", 45.0), ["one two", "three"]);
        assert_eq!(lines("inner/outer", 30.0), ["inner/", "outer"]);
        assert_eq!(lines("sub-standard", 40.0), ["sub-", "standard"]);
        assert_eq!(lines("", 40.0), [""]);
    }

    #[test]
    fn no_letter_of_a_long_word_is_lost() {
        let word = "abcdefghij".repeat(1_000);
        let broken = lines(&word, 200.0);
        assert!(broken.len() > 100);
        assert_eq!(broken.concat(), word);
        let word = "שלום".repeat(100);
        assert_eq!(lines(&word, 200.0).concat(), word);
    }

    #[test]
    fn what_is_clipped_ends_with_an_ellipsis_and_fits() {
        let faces = Faces::new(&[]).expect("fonts");
        let line = clip(&faces, &"word ".repeat(40), BODY, 100.0);
        assert!(line.words.ends_with('…') && line.width <= 100.5, "{line:?}");
        assert_eq!(clip(&faces, "word", BODY, 100.0).words, "word");
    }
}
