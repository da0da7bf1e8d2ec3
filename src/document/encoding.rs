//! Which characters the bytes of a text are, where spreadsheet programs write
//! another encoding than UTF-8.

use super::{InvalidFile, Recognised, Source};

/// An encoding that a file is declared to have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Encoding {
    /// UTF-8.
    Utf8,
    /// Windows code page 1252, that of most of western Europe.
    Windows1252,
}

/// The characters of code page 1252 from 0x80 to 0x9F; below and above, it is
/// ISO 8859-1, whose numbers are those of Unicode. Five bytes stand for nothing
/// (the registered table, from memory).
const WINDOWS_1252: [Option<char>; 32] = [
    Some('€'),
    None,
    Some('‚'),
    Some('ƒ'),
    Some('„'),
    Some('…'),
    Some('†'),
    Some('‡'),
    Some('ˆ'),
    Some('‰'),
    Some('Š'),
    Some('‹'),
    Some('Œ'),
    None,
    Some('Ž'),
    None,
    None,
    Some('‘'),
    Some('’'),
    Some('“'),
    Some('”'),
    Some('•'),
    Some('–'),
    Some('—'),
    Some('˜'),
    Some('™'),
    Some('š'),
    Some('›'),
    Some('œ'),
    None,
    Some('ž'),
    Some('Ÿ'),
];

impl Source {
    /// The text of a CSV file from its bytes: UTF-8, or UTF-16 where the file begins
    /// with the mark that says so, or as it is declared. `most` is how many bytes it
    /// may have.
    pub fn of_bytes(
        name: &str,
        bytes: Vec<u8>,
        declared: Option<Encoding>,
        most: usize,
    ) -> Result<Self, InvalidFile> {
        let refuse = |why: String, remedy: &str| InvalidFile::unreadable(name, &why, remedy);
        if bytes.len() > most {
            let why = format!("this file has more than {} MiB", most >> 20);
            return Err(refuse(why, "split it into several"));
        }
        let wide = match bytes.as_slice() {
            [0xff, 0xfe, rest @ ..] => Some((rest, u16::from_le_bytes as fn([u8; 2]) -> u16)),
            [0xfe, 0xff, rest @ ..] => Some((rest, u16::from_be_bytes as fn([u8; 2]) -> u16)),
            _ => None,
        };
        if let Some((rest, unit)) = wide {
            let pairs = rest.chunks(2).map(|pair| match *pair {
                [a, b] => unit([a, b]),
                // Half a letter is none.
                _ => 0xdc00,
            });
            let text: Result<String, _> = char::decode_utf16(pairs).collect();
            return match text {
                Ok(text) => Ok(Self::new(name, text)),
                Err(_) => Err(refuse(
                    "this file begins as UTF-16 does, and is not".to_owned(),
                    "save it as CSV in UTF-8",
                )),
            };
        }
        if declared == Some(Encoding::Windows1252) {
            return windows_1252(&bytes)
                .map(|text| Self::new(name, text))
                .map_err(|line| {
                    let why = format!("line {line} holds a byte that Windows-1252 does not have");
                    refuse(why, "save the file as CSV in UTF-8")
                });
        }
        if let Some(kind) = Recognised::of_bytes(&bytes) {
            return Err(kind.invalid(name, &format!("this is {}", kind.phrase())));
        }
        String::from_utf8(bytes)
            .map(|text| Self::new(name, text))
            .map_err(|error| {
                let line = line(error.as_bytes(), error.utf8_error().valid_up_to());
                refuse(
                    format!("line {line} holds a byte that is not UTF-8 text"),
                    "save the file as CSV in UTF-8, or declare what it is: `--encoding windows-1252`",
                )
            })
    }
}

/// The line in which a byte stands.
fn line(bytes: &[u8], at: usize) -> usize {
    bytes.iter().take(at).filter(|&&byte| byte == b'\n').count() + 1
}

/// The text, or the first line with a byte that stands for nothing.
fn windows_1252(bytes: &[u8]) -> Result<String, usize> {
    let characters = bytes.iter().enumerate().map(|(at, &byte)| match byte {
        0x80..=0x9f => {
            let known = WINDOWS_1252
                .get(usize::from(byte - 0x80))
                .copied()
                .flatten();
            known.ok_or_else(|| line(bytes, at))
        }
        byte => Ok(char::from(byte)),
    });
    characters.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(bytes: &[u8], declared: Option<Encoding>) -> Result<String, InvalidFile> {
        let source = Source::of_bytes("a.csv", bytes.to_vec(), declared, 1 << 20)?;
        Ok(source.text().to_owned())
    }

    #[test]
    fn what_the_bytes_say_is_read_and_what_they_do_not_say_is_asked_for() {
        let words = "name;Schänke „7“ – €";
        assert_eq!(text(words.as_bytes(), None).as_deref(), Ok(words));
        for big in [false, true] {
            let mut bytes = if big {
                vec![0xfe, 0xff]
            } else {
                vec![0xff, 0xfe]
            };
            for unit in words.encode_utf16() {
                bytes.extend(if big {
                    unit.to_be_bytes()
                } else {
                    unit.to_le_bytes()
                });
            }
            assert_eq!(text(&bytes, None).as_deref(), Ok(words));
            bytes.pop();
            assert!(text(&bytes, None).is_err());
        }
        // The bytes of the code page, from memory.
        let western = b"name;Sch\xe4nke \x847\x93 \x96 \x80";
        assert!(text(western, None).is_err());
        let declared = Some(Encoding::Windows1252);
        assert_eq!(text(western, declared).as_deref(), Ok(words));
        assert!(text(b"a\x81", declared).is_err());
    }
}
