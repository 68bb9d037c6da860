//! One number: a decimal, a fraction, or a whole number with a fraction.

use super::amount::{Amount, digits_value};
use super::grammar::{Parser, joins};
use super::token::{Kind, Token, Unit};
use super::{Reason, Trouble};

pub(super) struct Number {
    pub whole: u64,
    pub decimals: Option<Vec<u8>>,
    pub fraction: Option<Fraction>,
    pub at: usize,
}

pub(super) struct Fraction {
    over: u64,
    under: u64,
    pub at: usize,
}

impl Parser<'_> {
    /// A decimal, a fraction, or a whole number with a fraction.
    pub(super) fn number(&mut self) -> Result<Number, Trouble> {
        let Some(first) = self.peek() else {
            return Err(Trouble::new(Reason::NoNumber, self.end()));
        };
        if !first.starts_number() {
            return Err(match first.kind {
                Kind::Unit(_) | Kind::Slash | Kind::PlusMinus => Trouble::new(Reason::NoNumber, first.at),
                _ => self.trouble_here(),
            });
        }
        if let Some(fraction) = self.vulgar() {
            return Ok(Number {
                whole: 0,
                decimals: None,
                fraction: Some(fraction),
                at: first.at,
            });
        }
        let start = self.next;
        let (whole, decimals) = self.decimal()?;
        let fraction = if self.peek().is_some_and(|t| t.kind == Kind::Slash) {
            self.next = start;
            return match self.fraction()? {
                _ if decimals.is_some() => Err(Trouble::new(Reason::DecimalWithFraction, first.at)),
                fraction => Ok(Number {
                    whole: 0,
                    decimals: None,
                    fraction,
                    at: first.at,
                }),
            };
        } else {
            self.joined_fraction()?
        };
        if decimals.is_some() && fraction.is_some() {
            return Err(Trouble::new(Reason::DecimalWithFraction, first.at));
        }
        Ok(Number {
            whole: digits_value(&whole),
            decimals,
            fraction,
            at: first.at,
        })
    }

    /// The fraction after a whole number, if there is one there.
    fn joined_fraction(&mut self) -> Result<Option<Fraction>, Trouble> {
        let start = self.next;
        if let (Some(hyphen), Some(after)) = (self.peek(), self.peek_second())
            && joins(hyphen, after)
        {
            self.next += 1;
        }
        let fraction = match self.vulgar() {
            Some(fraction) => Some(fraction),
            None if self.peek().is_some_and(Token::starts_number) => self.fraction()?,
            None => None,
        };
        if fraction.is_none() {
            self.next = start;
        }
        Ok(fraction)
    }

    /// `5/8`; `None`, somewhere ahead, if the number is not followed by a line.
    fn fraction(&mut self) -> Result<Option<Fraction>, Trouble> {
        let at = self.peek().map_or(self.end(), |t| t.at);
        let (over, decimals_over) = self.decimal()?;
        let Some(line) = self.peek().filter(|t| t.kind == Kind::Slash) else {
            return Ok(None);
        };
        self.next += 1;
        if !self.peek().is_some_and(|t| matches!(t.kind, Kind::Digits(_))) {
            return Err(Trouble::new(Reason::NoNumber, line.at));
        }
        let under_at = self.peek().map_or(line.at, |t| t.at);
        let (under, decimals_under) = self.decimal()?;
        if decimals_over.is_some() || decimals_under.is_some() {
            return Err(Trouble::new(Reason::DecimalWithFraction, at));
        }
        let (over, under) = (digits_value(&over), digits_value(&under));
        match under {
            0 => Err(Trouble::new(Reason::ZeroDenominator, under_at)),
            _ => Ok(Some(Fraction { over, under, at })),
        }
    }

    fn vulgar(&mut self) -> Option<Fraction> {
        let token = self.peek()?;
        let Kind::Vulgar(over, under) = token.kind else {
            return None;
        };
        self.next += 1;
        Some(Fraction {
            over: over.into(),
            under: under.into(),
            at: token.at,
        })
    }

    /// Digits with at most one point or comma, all touching: those before it, and those after it if there is one.
    fn decimal(&mut self) -> Result<(Vec<u8>, Option<Vec<u8>>), Trouble> {
        let start = self.next;
        let at = self.peek().map_or(self.end(), |t| t.at);
        let mut mark: Option<&Token> = None;
        let (mut before, mut after) = (Vec::new(), Vec::new());
        while let Some(token) = self.peek().filter(|t| self.next == start || !t.spaced) {
            match (&token.kind, mark) {
                (Kind::Digits(digits), None) => before.clone_from(digits),
                (Kind::Digits(digits), Some(_)) => after.clone_from(digits),
                (Kind::Point | Kind::Comma, None) => mark = Some(token),
                (Kind::Point | Kind::Comma, Some(first)) => {
                    return Err(second_mark(first, token, after.len()));
                }
                _ => break,
            }
            self.next += 1;
        }
        if before.is_empty() && after.is_empty() {
            return Err(Trouble::new(Reason::NoNumber, at));
        }
        match mark {
            Some(comma) if comma.kind == Kind::Comma && after.len() == 3 => {
                Err(Trouble::new(Reason::AmbiguousComma, comma.at))
            }
            _ => Ok((before, mark.map(|_| after))),
        }
    }
}

fn second_mark(first: &Token, second: &Token, digits_between: usize) -> Trouble {
    if first.kind != second.kind {
        Trouble::new(Reason::MixedSeparators, second.at)
    } else if first.kind == Kind::Comma && digits_between == 3 {
        Trouble::new(Reason::AmbiguousComma, first.at)
    } else {
        Trouble::new(Reason::TrailingText, second.at)
    }
}

impl Number {
    pub(super) fn amount(&self, unit: Unit) -> Result<Amount, Trouble> {
        let amount = Amount::decimal(self.whole, self.decimals.as_deref().unwrap_or_default(), unit.nm());
        let Some(fraction) = &self.fraction else {
            return Ok(amount);
        };
        if !matches!(fraction.under, 2 | 4 | 8 | 16 | 32 | 64) {
            Err(Trouble::new(Reason::NotATapeFraction, fraction.at))
        } else if fraction.over >= fraction.under {
            Err(Trouble::new(Reason::ImproperFraction, fraction.at))
        } else if unit.is_metric() {
            Err(Trouble::new(Reason::FractionWithMetric, fraction.at))
        } else {
            // Exact: the nanometres of a foot and of an inch divide by 64.
            Ok(amount.and(Amount::whole(u128::from(unit.nm() / fraction.under * fraction.over))))
        }
    }
}
