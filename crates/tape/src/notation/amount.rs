//! Exact arithmetic on typed digits, however many there are.

use crate::Length;

/// A length above or at zero, exact: whole nanometres and how the rest compares with half a nanometre.
///
/// The rest is all that rounding and comparing need, so decimals of any number of digits are exact without big
/// integers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Amount {
    nm: u128,
    rest: Rest,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Rest {
    None,
    UnderHalf,
    Half,
    OverHalf,
}

/// Above any number that is in range, in any unit; far below what overflows.
const HUGE: u64 = 1_000_000_000_000_000;

/// The value of a run of ASCII digits; huge ones stop at a value that is out of range anyway.
pub(super) fn digits_value(digits: &[u8]) -> u64 {
    digits
        .iter()
        .fold(0, |value: u64, digit| (value * 10 + u64::from(digit - b'0')).min(HUGE))
}

impl Amount {
    pub(super) const ZERO: Self = Self::whole(0);

    pub(super) const fn whole(nm: u128) -> Self {
        Self { nm, rest: Rest::None }
    }

    /// `whole.decimals` units of `unit_nm` nanometres each.
    pub(super) fn decimal(whole: u64, decimals: &[u8], unit_nm: u64) -> Self {
        // Long multiplication from the last digit on: what is carried out at the point is the whole nanometres,
        // the digits left behind it are the rest.
        let mut carry = 0;
        let mut first_left = 0;
        let mut others_left = false;
        for digit in decimals.iter().rev() {
            others_left |= first_left != 0;
            let product = u64::from(digit - b'0') * unit_nm + carry;
            first_left = product % 10;
            carry = product / 10;
        }
        let rest = match (first_left, others_left) {
            (0, false) => Rest::None,
            (0..5, _) => Rest::UnderHalf,
            (5, false) => Rest::Half,
            _ => Rest::OverHalf,
        };
        Self {
            nm: u128::from(whole) * u128::from(unit_nm) + u128::from(carry),
            rest,
        }
    }

    /// This and `other` together, where only `other` may have a rest.
    pub(super) fn and(self, other: Self) -> Self {
        debug_assert!(self.rest == Rest::None, "only the last part may carry a decimal");
        Self {
            nm: self.nm + other.nm,
            rest: other.rest,
        }
    }

    /// The nearest nanometre, ties to even, and whether it is exact; `None` if it is too big for a length.
    pub(super) fn nearest(self) -> Option<(Length, bool)> {
        let up = match self.rest {
            Rest::None | Rest::UnderHalf => 0,
            Rest::Half => self.nm % 2,
            Rest::OverHalf => 1,
        };
        let nm = i64::try_from(self.nm + up).ok()?;
        Some((Length::from_nm(nm), self.rest == Rest::None))
    }
}
