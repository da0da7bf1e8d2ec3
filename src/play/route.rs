//! Routes: sequences of targets, written as the trade writes them.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;

use super::limits::MOST_DARTS;
use super::{PlayError, Target};

/// A sequence of targets, at least one.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Route(Vec<Target>);

impl Route {
    /// From targets, in the order in which they are thrown at.
    pub fn new(targets: Vec<Target>) -> Result<Self, PlayError> {
        match targets.len() {
            0 => Err(PlayError::EmptyRoute),
            1..=MOST_DARTS => Ok(Self(targets)),
            _ => Err(PlayError::RouteTooLong),
        }
    }

    /// The targets, in order.
    pub fn targets(&self) -> &[Target] {
        &self.0
    }

    /// The distinct targets, and how many darts each gets.
    pub fn counted(&self) -> BTreeMap<Target, u32> {
        let mut counts = BTreeMap::new();
        for target in &self.0 {
            *counts.entry(*target).or_insert(0) += 1;
        }
        counts
    }

    /// What it scores.
    pub fn total(&self) -> u32 {
        self.0.iter().map(|target| u32::from(target.score())).sum()
    }
}

impl fmt::Display for Route {
    /// Up to three in a row are written out, more as a count: `T20 T20 T20`,
    /// `8xT20 D12`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let runs = self.0.chunk_by(|a, b| a == b);
        let mut gap = "";
        for run in runs {
            let Some(target) = run.first() else { continue };
            if run.len() > 3 {
                write!(f, "{gap}{}x{target}", run.len())?;
                gap = " ";
                continue;
            }
            for target in run {
                write!(f, "{gap}{target}")?;
                gap = " ";
            }
        }
        Ok(())
    }
}

impl FromStr for Route {
    type Err = PlayError;

    /// Targets with blanks, commas or hyphens between them, each with a count
    /// before it if it is repeated: `8xT20 D12`, `8×T20, D12`.
    fn from_str(text: &str) -> Result<Self, PlayError> {
        let mut targets = Vec::new();
        let words = text.split(|c: char| c.is_whitespace() || c == ',' || c == '-');
        for word in words.filter(|word| !word.is_empty()) {
            let (count, target) = match word.split_once(['x', 'X', '×', '*']) {
                Some((count, target)) => {
                    let digits = count.bytes().all(|byte| byte.is_ascii_digit());
                    let count = count.parse().ok().filter(|count| digits && *count > 0);
                    (
                        count.ok_or_else(|| PlayError::Count(word.to_owned()))?,
                        target,
                    )
                }
                None => (1, word),
            };
            let target: Target = target.parse()?;
            if count > MOST_DARTS - targets.len() {
                return Err(PlayError::RouteTooLong);
            }
            targets.extend(std::iter::repeat_n(target, count));
        }
        Self::new(targets)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_route_prints_as_the_trade_writes_it_and_reads_back() {
        for (text, printed, darts, total) in [
            ("T20 T20 T20", "T20 T20 T20", 3, 180),
            ("8xT20 D12", "8xT20 D12", 9, 504),
            ("7xt20,t19 d12", "7xT20 T19 D12", 9, 501),
            ("Bull", "Bull", 1, 50),
            ("25 S20 5", "25 S20 S5", 3, 50),
            ("2×T20 - T20 T20", "4xT20", 4, 240),
            ("16*T20 bull", "16xT20 Bull", 17, 1010),
        ] {
            let route: Route = text.parse().expect("a route");
            assert_eq!(route.to_string(), printed);
            assert_eq!(route.targets().len(), darts);
            assert_eq!(route.total(), total);
            assert_eq!(printed.parse(), Ok(route));
        }
    }

    #[test]
    fn what_is_no_route_is_refused_with_a_remedy() {
        let fault = |text: &str| text.parse::<Route>().expect_err("no route");
        assert_eq!(fault("  "), PlayError::EmptyRoute);
        for text in ["0xT20", "xT20", "-1xT20 +2xD5", "1.5xT20", "+2xT20"] {
            assert!(
                matches!(fault(text), PlayError::Count(_)),
                "{text}: {:?}",
                fault(text)
            );
        }
        assert!(matches!(fault("T20 T21"), PlayError::NoSuchNumber { .. }));
        assert!(matches!(fault("8xx20"), PlayError::NotATarget(_)));
        assert_eq!(fault("600xT20 600xT20"), PlayError::RouteTooLong);
        assert!(matches!(
            fault("99999999999999999999xT20"),
            PlayError::Count(_)
        ));
    }
}
