//! Who may do what: secrets in links, and the cookies that they are changed into.

use sha2::{Digest, Sha256};

/// What somebody may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Right {
    /// See everything, and change nothing.
    Look,
    /// Also measure and save.
    Measure,
}

/// Only digests are kept, so that comparing takes no longer for what nearly fits.
type Hidden = [u8; 32];

/// The secrets that are good for something.
#[derive(Debug, Default)]
pub(super) struct Keys {
    links: Vec<(Hidden, Right, Use)>,
    browsers: Vec<(Hidden, Right)>,
}

/// How often a link opens the desk.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Use {
    Once,
    Always,
}

/// Browsers that may be in at once; the oldest must open its link again. House rule.
const MOST_BROWSERS: usize = 200;

impl Keys {
    /// A new secret for a link.
    pub(super) fn link(&mut self, right: Right, times: Use) -> Result<String, getrandom::Error> {
        let secret = secret()?;
        self.links.push((hidden(&secret), right, times));
        Ok(secret)
    }

    /// Whether a link is good.
    pub(super) fn opens(&self, secret: &str) -> bool {
        let hidden = hidden(secret);
        self.links.iter().any(|(known, ..)| *known == hidden)
    }

    /// Changes the secret of a link into that of a cookie; says too whether the link
    /// is used up.
    pub(super) fn enter(&mut self, secret: &str) -> Option<(String, Use)> {
        let own = hidden(secret);
        let index = self.links.iter().position(|(known, ..)| *known == own)?;
        let (_, right, times) = *self.links.get(index)?;
        let cookie = self::secret().ok()?;
        if times == Use::Once {
            self.links.remove(index);
        }
        if self.browsers.len() >= MOST_BROWSERS {
            self.browsers.remove(0);
        }
        self.browsers.push((hidden(&cookie), right));
        Some((cookie, times))
    }

    /// What the bearer of a cookie may do.
    pub(super) fn right(&self, cookie: &str) -> Option<Right> {
        let own = hidden(cookie);
        let known = self.browsers.iter().find(|(known, _)| *known == own);
        known.map(|(_, right)| *right)
    }
}

/// 128 random bits of the system, in hexadecimal digits.
fn secret() -> Result<String, getrandom::Error> {
    let mut bytes = [0; 16];
    getrandom::fill(&mut bytes)?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

fn hidden(secret: &str) -> Hidden {
    Sha256::digest(secret.as_bytes()).into()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_for_once_opens_once_and_its_cookie_goes_on() {
        let mut keys = Keys::default();
        let secret = keys.link(Right::Look, Use::Once).unwrap_or_default();
        assert_eq!(secret.len(), 32);
        let (cookie, _) = keys.enter(&secret).unwrap_or((String::new(), Use::Always));
        assert_eq!(keys.right(&cookie), Some(Right::Look));
        assert!(keys.enter(&secret).is_none() && !keys.opens(&secret));
        assert_eq!(keys.right(&secret), None);
        assert_eq!(keys.right(""), None);
    }

    #[test]
    fn the_oldest_of_too_many_browsers_is_forgotten() {
        let mut keys = Keys::default();
        let secret = keys.link(Right::Measure, Use::Always).unwrap_or_default();
        let cookies: Vec<String> = (0..=MOST_BROWSERS)
            .filter_map(|_| keys.enter(&secret).map(|(cookie, _)| cookie))
            .collect();
        let good = cookies.iter().filter(|cookie| keys.right(cookie).is_some());
        assert_eq!(good.count(), MOST_BROWSERS);
        assert_eq!(cookies.first().and_then(|first| keys.right(first)), None);
    }
}
