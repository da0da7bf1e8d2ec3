//! Text broken into lines.

use super::face::Faces;

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

/// Ideographs and kana have no spaces between words: a line may end after each.
fn breaks_anywhere(c: char) -> bool {
    matches!(u32::from(c), 0x2e80..=0x9fff | 0xac00..=0xd7af | 0xf900..=0xfaff | 0x2_0000..=0x3_ffff)
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
            ' ' => next != ' ',
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

/// A word of a text with its letters: where each starts in the text, and how
/// wide it is in points.
struct Word<'t> {
    text: &'t str,
    start: usize,
    letters: Vec<(usize, f32)>,
}

impl Word<'_> {
    fn width(&self) -> f32 {
        self.letters.iter().map(|&(_, width)| width).sum()
    }

    /// Without the space after it.
    fn bare(&self) -> f32 {
        let end = self.start + self.text.trim_end_matches(' ').len();
        let letters = self.letters.iter().filter(|&&(start, _)| start < end);
        letters.map(|&(_, width)| width).sum()
    }
}

/// The words of a text, which is shaped only once.
fn measured<'t>(faces: &Faces<'_>, text: &'t str, style: Style) -> Vec<Word<'t>> {
    let mut clusters = faces.clusters(text, style.bold).into_iter().peekable();
    let mut end = 0;
    let mut out = Vec::new();
    for word in words(text) {
        let start = end;
        end += word.len();
        let mut letters = Vec::new();
        while let Some((place, ems)) = clusters.next_if(|&(place, _)| place < end) {
            letters.push((place, ems * style.size));
        }
        out.push(Word {
            text: word,
            start,
            letters,
        });
    }
    out
}

/// The widest piece that a line cannot break, in points.
pub(super) fn widest_word(faces: &Faces<'_>, text: &str, style: Style) -> f32 {
    let words = measured(faces, text, style);
    words.iter().map(Word::bare).fold(0.0, f32::max)
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
    let mut lines = Vec::new();
    let (mut line, mut width) = (String::new(), 0.0);
    for word in measured(faces, text, style) {
        let bare = word.bare();
        if width + bare > room && !line.is_empty() {
            lines.push(set(&std::mem::take(&mut line)));
            width = 0.0;
        }
        if bare <= room {
            line.push_str(word.text);
            width += word.width();
            continue;
        }
        // A word longer than a line breaks between any two letters.
        for (n, &(start, advance)) in word.letters.iter().enumerate() {
            let next = word.letters.get(n + 1).map(|&(next, _)| next);
            let end = next.unwrap_or(word.start + word.text.len());
            if width + advance > room && !line.is_empty() {
                lines.push(set(&std::mem::take(&mut line)));
                width = 0.0;
            }
            line.push_str(text.get(start..end).unwrap_or_default());
            width += advance;
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(set(&line));
    }
    lines
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
    fn a_sign_stays_with_its_figure() {
        assert_eq!(words("from -0.5 to 1/2"), ["from ", "-0.5 ", "to ", "1/2"]);
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
