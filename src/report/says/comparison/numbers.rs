//! Numbers of a comparison as text.

/// A difference in percent with its uncertainty.
pub(super) fn percent(value: f64, u: Option<f64>) -> String {
    let sign = if value.abs() < 0.05 { 0.0 } else { value };
    let value = if sign == 0.0 {
        "0.0".to_owned()
    } else {
        format!("{value:+.1}")
    };
    match u {
        Some(u) => format!("{value} ± {u:.1} %"),
        None => format!("{value} %"),
    }
}

/// A ratio to three decimals; a dash where there is none.
pub(super) fn ratio(ratio: Option<f64>) -> String {
    ratio.map_or_else(dash, |ratio| match ratio {
        r if r >= 100.0 => format!("{r:.0}"),
        r => format!("{r:.3}"),
    })
}

pub(super) fn tenth(value: Option<f64>) -> String {
    value.map_or_else(dash, |value| format!("{value:.1}"))
}

fn dash() -> String {
    "–".to_owned()
}

/// Tries for one success: three digits, in groups of thousands while they can
/// be read.
pub(super) fn one_in(tries: Option<f64>) -> String {
    tries.map_or_else(dash, |tries| {
        if tries < 99.95 {
            return format!("{tries:.1}");
        }
        if tries >= 1e9 {
            return format!("{tries:.2e}").replace('e', "·10^");
        }
        let digits = format!("{tries:.0}");
        let mut grouped = String::new();
        for (index, digit) in digits.chars().enumerate() {
            if index > 0 && (digits.len() - index) % 3 == 0 {
                grouped.push(' ');
            }
            grouped.push(digit);
        }
        grouped
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tries_are_grouped_while_they_can_be_read() {
        assert_eq!(one_in(Some(3.0)), "3.0");
        assert_eq!(one_in(Some(123.4)), "123");
        assert_eq!(one_in(Some(1_234_567.0)), "1 234 567");
        assert_eq!(one_in(Some(1.5e12)), "1.50·10^12");
        assert_eq!(one_in(None), "–");
    }

    #[test]
    fn a_difference_of_nothing_has_no_sign() {
        assert_eq!(percent(-0.01, None), "0.0 %");
        assert_eq!(percent(-15.66, Some(1.02)), "-15.7 ± 1.0 %");
    }
}
