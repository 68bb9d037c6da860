//! A short number that tells two versions of a file apart.

use std::fmt;

/// The FNV-1a hash (64 bits) of a file's bytes.
///
/// Tells whether a file changed since it was read and whether a recovery file is whole. It
/// guards against accidents, not against forgery.
///
/// Source: the FNV-1a definition and its published test values (RFC 9923).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fingerprint(u64);

impl Fingerprint {
    /// The fingerprint of `bytes`.
    pub const fn of(bytes: &[u8]) -> Self {
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        let mut at = 0;
        while at < bytes.len() {
            hash = (hash ^ bytes[at] as u64).wrapping_mul(0x0100_0000_01b3);
            at += 1;
        }
        Self(hash)
    }

    /// Reads the sixteen hexadecimal digits that [`fmt::Display`] writes.
    pub(super) fn from_hex(text: &str) -> Option<Self> {
        let digits = text.len() == 16 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
        if !digits {
            return None;
        }
        u64::from_str_radix(text, 16).ok().map(Self)
    }
}

impl fmt::Display for Fingerprint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:016x}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rstest::rstest;

    // Published FNV-1a 64-bit test values.
    #[rstest]
    #[case::nothing("", "cbf29ce484222325")]
    #[case::one_letter("a", "af63dc4c8601ec8c")]
    #[case::a_word("foobar", "85944171f73967e8")]
    fn agrees_with_the_published_values(#[case] text: &str, #[case] hex: &str) {
        let fingerprint = Fingerprint::of(text.as_bytes());
        assert_eq!(fingerprint.to_string(), hex);
        assert_eq!(Fingerprint::from_hex(hex), Some(fingerprint));
    }

    #[rstest]
    #[case("")]
    #[case("85944171f73967e")]
    #[case("+5944171f73967e8")]
    #[case("85944171f73967e8 ")]
    fn refuses_what_is_not_sixteen_digits(#[case] text: &str) {
        assert_eq!(Fingerprint::from_hex(text), None);
    }
}
