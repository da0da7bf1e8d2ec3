//! How files are changed: as a fuzzer changes bytes, and in whole lines and parts, so that
//! more of what comes of it gets past the parser.

use std::io::{Cursor, Read, Write};

use libfuzzer_sys::fuzzer_mutate;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

/// Numbers that follow from a seed (Marsaglia's xorshift, from memory; the fuzzer's own
/// randomness is the seed).
struct Chance(u64);

impl Chance {
    fn of(seed: u32) -> Self {
        Self(u64::from(seed) << 1 | 1)
    }

    /// A number below `end`; zero where there is none.
    fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let number = usize::try_from(self.0 >> 11).unwrap_or_default();
        number.checked_rem(end).unwrap_or_default()
    }
}

/// Changes a text in `data[..size]`: every second time as bytes, otherwise a line or a value.
pub fn change_text(data: &mut [u8], size: usize, most: usize, seed: u32) -> usize {
    let mut chance = Chance::of(seed);
    let text = data.get(..size).map(String::from_utf8_lossy);
    let Some(text) = text.filter(|_| chance.below(2) == 0) else {
        return fuzzer_mutate(data, size, most);
    };
    let changed = in_lines(&text, &mut chance);
    put(data, most, changed.as_bytes()).unwrap_or_else(|| fuzzer_mutate(data, size, most))
}

/// The new size, where there is room.
fn put(data: &mut [u8], most: usize, bytes: &[u8]) -> Option<usize> {
    let room = data.get_mut(..bytes.len().min(most))?;
    (room.len() == bytes.len()).then(|| room.copy_from_slice(bytes))?;
    Some(bytes.len())
}

fn in_lines(text: &str, chance: &mut Chance) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let at = chance.below(lines.len());
    let other = chance.below(lines.len());
    let Some(line) = lines.get(at).cloned() else {
        return text.to_owned();
    };
    match chance.below(7) {
        0 => drop(lines.remove(at)),
        1 => lines.insert(other, line),
        2 => lines.swap(at, other),
        3 => lines[at] = format!("  {line}"),
        4 => lines[at] = line.strip_prefix("  ").unwrap_or(&line).to_owned(),
        // A value or a cell of one line in the place of another's.
        5 => {
            let taken = lines[other].clone();
            let (from, to) = (pieces(&taken), pieces(&line));
            let (from, to) = (chance.below(from.len()), chance.below(to.len()));
            let piece = pieces(&taken)[from].to_owned();
            let mut own: Vec<&str> = pieces(&line);
            own[to] = &piece;
            lines[at] = own.concat();
        }
        _ => {
            let digits: Vec<usize> = line
                .match_indices(|c: char| c.is_ascii_digit())
                .map(|(place, _)| place)
                .collect();
            if let Some(&place) = digits.get(chance.below(digits.len())) {
                let digit = chance.below(10).to_string();
                lines[at].replace_range(place..=place, &digit);
            }
        }
    }
    lines.join("\n") + "\n"
}

/// A line cut where values begin and end, with what stands between them. Never empty.
fn pieces(line: &str) -> Vec<&str> {
    let between = |c: char| matches!(c, ':' | ',' | ';' | '{' | '}' | '[' | ']' | '\t');
    let mut all: Vec<&str> = line.split_inclusive(between).collect();
    if all.is_empty() {
        all.push(line);
    }
    all
}

/// Changes a workbook in `data[..size]`: mostly what one of its parts unpacks to, so that the
/// sums over the parts stay right; now and then its bytes.
pub fn change_workbook(data: &mut [u8], size: usize, most: usize, seed: u32) -> usize {
    let mut chance = Chance::of(seed);
    let whole = data.get(..size).unwrap_or_default();
    let changed = if chance.below(8) == 0 {
        None
    } else {
        in_parts(whole, &mut chance, seed)
    };
    let placed = changed.and_then(|changed| put(data, most, &changed));
    placed.unwrap_or_else(|| fuzzer_mutate(data, size, most))
}

/// Bytes that a part may grow by in one step.
const GROWTH: usize = 200;

/// Bytes of a part that is changed: what unpacks to more is another target's business.
const LARGEST: u64 = 1 << 20;

fn in_parts(whole: &[u8], chance: &mut Chance, seed: u32) -> Option<Vec<u8>> {
    let mut parts = unpacked(whole)?;
    let at = chance.below(parts.len());
    let (name, content) = parts.get_mut(at)?;
    match chance.below(40) {
        0 => drop(parts.remove(at)),
        1 => *name = format!("{name}x"),
        _ => {
            let size = content.len();
            let most = size + GROWTH;
            content.resize(most, 0);
            let text = chance.below(3) > 0;
            let size = if text {
                in_tags(content, size, chance).unwrap_or_else(|| fuzzer_mutate(content, size, most))
            } else {
                change_text(content, size, most, seed.rotate_left(7))
            };
            content.truncate(size);
        }
    }
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for (name, content) in &parts {
        zip.start_file(name.as_str(), stored).ok()?;
        zip.write_all(content).ok()?;
    }
    Some(zip.finish().ok()?.into_inner())
}

fn unpacked(whole: &[u8]) -> Option<Vec<(String, Vec<u8>)>> {
    let mut zip = ZipArchive::new(Cursor::new(whole)).ok()?;
    let mut parts = Vec::new();
    for index in 0..zip.len() {
        let part = zip.by_index(index).ok()?;
        let name = part.name().ok()?.into_owned();
        let mut content = Vec::new();
        part.take(LARGEST).read_to_end(&mut content).ok()?;
        parts.push((name, content));
    }
    Some(parts)
}

/// Changes one tag, or what stands between two, of a part in XML.
fn in_tags(content: &mut [u8], size: usize, chance: &mut Chance) -> Option<usize> {
    let text = String::from_utf8(content.get(..size)?.to_vec()).ok()?;
    let mut tags: Vec<String> = text.split_inclusive('>').map(str::to_owned).collect();
    let (at, other) = (chance.below(tags.len()), chance.below(tags.len()));
    let tag = tags.get(at)?.clone();
    match chance.below(5) {
        0 => drop(tags.remove(at)),
        1 => tags.insert(other, tag),
        2 => tags.swap(at, other),
        // The value of an attribute, or a text, in the place of another.
        3 => {
            let cut = |tag: &str| -> Vec<String> {
                tag.split_inclusive(['"', '<']).map(str::to_owned).collect()
            };
            let (from, mut own) = (cut(&tags[other]), cut(&tag));
            let piece = from.get(chance.below(from.len()))?;
            let place = chance.below(own.len());
            piece.clone_into(own.get_mut(place)?);
            tags[at] = own.concat();
        }
        _ => {
            let mut bytes = tag.into_bytes();
            let size = bytes.len();
            bytes.resize(size + 30, 0);
            let most = bytes.len();
            let size = fuzzer_mutate(&mut bytes, size, most);
            bytes.truncate(size);
            tags[at] = String::from_utf8_lossy(&bytes).into_owned();
        }
    }
    let changed = tags.concat();
    let room = content.len();
    put(content, room, changed.as_bytes())
}
