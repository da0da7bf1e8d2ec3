//! A stream of records, a line each.

use std::io::{self, BufRead};

use super::budget;

/// The next line of a stream without its end, or nothing behind the last one. No more of
/// it is kept than a little beyond the budget, so that an endless line costs no memory:
/// that it is too long is then said by the parser.
pub fn next_line(stream: &mut impl BufRead) -> io::Result<Option<Vec<u8>>> {
    let (mut line, mut begun) = (Vec::new(), false);
    loop {
        let read = match stream.fill_buf() {
            Ok(read) => read,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(error),
        };
        if read.is_empty() {
            return Ok(begun.then_some(line));
        }
        begun = true;
        let end = read.iter().position(|byte| *byte == b'\n');
        let part = read.get(..end.unwrap_or(read.len())).unwrap_or_default();
        let room = (budget::BYTES + 1).saturating_sub(line.len());
        line.extend(part.iter().take(room));
        let used = part.len() + usize::from(end.is_some());
        stream.consume(used);
        if end.is_some() {
            if line.last() == Some(&b'\r') {
                line.pop();
            }
            return Ok(Some(line));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(text: &[u8], piece: usize) -> Vec<Vec<u8>> {
        let mut stream = io::BufReader::with_capacity(piece, text);
        std::iter::from_fn(|| next_line(&mut stream).expect("bytes in memory")).collect()
    }

    #[test]
    fn a_line_ends_where_the_text_says_so_however_it_arrives() {
        for piece in [1, 2, 3, 100] {
            let found = lines(b"one\r\n\ntwo\xff\nlast", piece);
            let expected: [&[u8]; 4] = [b"one", b"", b"two\xff", b"last"];
            assert_eq!(found, expected, "{piece}");
            assert_eq!(lines(b"", piece), Vec::<Vec<u8>>::new());
            assert_eq!(lines(b"\n", piece), [b""]);
        }
    }

    #[test]
    fn no_more_of_a_line_is_kept_than_shows_that_it_is_too_long() {
        let mut text = vec![b'a'; 3 * budget::BYTES];
        text.extend(b"\nb\n");
        let found = lines(&text, 8192);
        assert_eq!(found[0].len(), budget::BYTES + 1);
        assert_eq!(found[1], b"b");
    }
}
