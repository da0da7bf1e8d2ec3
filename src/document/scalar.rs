//! Which plain scalars are numbers, and which are too doubtful to read.

use super::Value;

/// How a plain (unquoted) scalar is read.
pub(super) enum Reading {
    /// One clear meaning.
    Clear(Value),
    /// A number to some YAML programs and a text or another number to others,
    /// or no finite number.
    Doubtful {
        /// What is wrong with it.
        message: String,
        /// What to write instead.
        remedy: String,
    },
}

/// Reads a plain scalar. Numbers are those of JSON; other spellings that YAML
/// 1.1 or 1.2 would take for a number (`.nan`, `017`, `0x1F`, `1_000`, `+1`,
/// `.5`, `1.`) are doubtful, and so is a number too large for a double.
pub(super) fn read_plain(text: &str) -> Reading {
    match text {
        "" | "~" | "null" | "Null" | "NULL" => return Reading::Clear(Value::Null),
        "true" => return Reading::Clear(Value::Bool(true)),
        "false" => return Reading::Clear(Value::Bool(false)),
        _ => {}
    }
    if is_json_number(text) {
        return match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Reading::Clear(Value::Number(number)),
            _ => Reading::Doubtful {
                message: format!("`{text}` is too large to be a number"),
                remedy: "write a number that a board can have".to_owned(),
            },
        };
    }
    if looks_numeric(text) {
        return Reading::Doubtful {
            message: format!("`{text}` is a number to some programs and not to others"),
            remedy: format!(
                "write a plain decimal number such as 16 or 0.5, or, if it is a text, quote it: \
                 \"{text}\""
            ),
        };
    }
    Reading::Clear(Value::Text(text.to_owned()))
}

/// `-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?` (RFC 8259, section 6).
fn is_json_number(text: &str) -> bool {
    let text = text.strip_prefix('-').unwrap_or(text);
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, Some(exponent)),
        None => (text, None),
    };
    let (whole, part) = match mantissa.split_once('.') {
        Some((whole, part)) => (whole, Some(part)),
        None => (mantissa, None),
    };
    let digits = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
    digits(whole)
        && (whole == "0" || !whole.starts_with('0'))
        && part.is_none_or(digits)
        && exponent.is_none_or(|e| digits(e.strip_prefix(['+', '-']).unwrap_or(e)))
}

fn looks_numeric(text: &str) -> bool {
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    let words = [".nan", ".inf", "nan", "inf"];
    if words.iter().any(|word| unsigned.eq_ignore_ascii_case(word)) {
        return true;
    }
    // Most texts: nothing more needs to be looked at.
    let begins = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'_');
    if !unsigned.as_bytes().first().is_some_and(begins) {
        return false;
    }
    let lower = unsigned.to_ascii_lowercase();
    let radix = [("0x", 16), ("0o", 8), ("0b", 2)];
    if let Some((digits, radix)) = radix
        .iter()
        .find_map(|(prefix, radix)| Some((lower.strip_prefix(prefix)?, *radix)))
    {
        // `0x` alone and `0b12` are texts to all.
        let mut all = digits.chars();
        return !digits.is_empty() && all.all(|digit| digit.is_digit(radix) || digit == '_');
    }
    let bare = lower.replace('_', "");
    let digits = lower.bytes().filter(u8::is_ascii_digit).count();
    let point = lower.bytes().filter(|&b| b == b'.').count();
    digits > 0
        && point <= 1
        && lower
            .bytes()
            .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'_'))
        || (!bare.starts_with('-') && is_json_number(&bare))
        || text.starts_with('+') && !unsigned.starts_with('-') && is_json_number(unsigned)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use crate::document::parse::parse;
    use crate::document::{Source, Value};

    proptest! {
        /// What we write is read as what it was: ids that look like numbers are quoted, or are
        /// texts to all.
        #[test]
        fn texts_come_back_as_they_were_written(text in "[-+]?(0[xob]|[0-9._]{0,3}|[a-z]{0,3})[0-9a-fA-F_.eE:+-]{0,5}") {
            let written = serde_yaml::to_string(&[&text]).expect("a text");
            let read = parse(Source::new("texts.yaml", written.clone())).map(|read| read.root.value);
            let Ok(Value::List(items)) = read else {
                return Err(TestCaseError::fail(written));
            };
            let texts: Vec<&Value> = items.iter().map(|item| &item.value).collect();
            let same = matches!(texts.as_slice(), [Value::Text(read)] if *read == text);
            prop_assert!(same, "{written}{texts:?}");
        }
    }
}
