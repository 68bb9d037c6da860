//! The order in which the words of the notation may stand.
//!
//! ```text
//! written    = [sign] length [plus-minus length]
//! length     = part { [hyphen] part }            big unit to small, one system
//! part       = number [unit]                     without a unit: inches after feet, else the session's
//! number     = decimal | [whole (space | hyphen)] fraction
//! ```

use super::amount::Amount;
use super::number::Number;
use super::token::{Kind, Token, Unit};
use super::{Allow, Reason, Trouble};

/// What a text says.
pub(super) struct Found {
    pub negative: bool,
    pub length: Part,
    pub plus_minus: Option<Part>,
}

/// A length, of one part or of several together.
pub(super) struct Part {
    pub amount: Amount,
    /// The unit, of the last part if there are several.
    pub unit: Unit,
    /// Whether a unit was typed anywhere in it.
    pub named: bool,
    /// Index of its first character.
    pub at: usize,
    /// Index after its last character.
    pub end: usize,
}

pub(super) fn parse(tokens: &[Token], bare: Unit, allow: Allow) -> Result<Found, Trouble> {
    let mut parser = Parser { tokens, next: 0 };
    let negative = parser.sign(allow)?;
    let length = parser.length(bare)?;
    let plus_minus = match parser.peek() {
        Some(token) if token.kind == Kind::PlusMinus => {
            parser.next += 1;
            Some(parser.limits(token, length.unit)?)
        }
        _ => None,
    };
    Ok(Found {
        negative,
        length,
        plus_minus,
    })
}

pub(super) struct Parser<'a> {
    pub(super) tokens: &'a [Token],
    pub(super) next: usize,
}

impl<'a> Parser<'a> {
    pub(super) fn peek(&self) -> Option<&'a Token> {
        self.tokens.get(self.next)
    }

    pub(super) fn peek_second(&self) -> Option<&'a Token> {
        self.tokens.get(self.next + 1)
    }

    /// Index after the last character that was taken.
    pub(super) fn end(&self) -> usize {
        self.next.checked_sub(1).map_or(0, |last| self.tokens[last].end)
    }

    /// Takes one leading minus; whether there was one.
    fn sign(&mut self, allow: Allow) -> Result<bool, Trouble> {
        let Some(sign) = self.peek().filter(|t| t.is_sign()) else {
            return Ok(false);
        };
        match self.peek_second() {
            Some(second) if second.is_sign() || second.kind == Kind::PlusMinus => {
                return Err(Trouble::new(Reason::DoubleSign, second.at));
            }
            None => return Err(Trouble::new(Reason::NoNumber, sign.at)),
            _ if sign.kind == Kind::Plus => {
                return Err(Trouble::new(Reason::TrailingText, sign.at));
            }
            Some(second) if allow != Allow::Signed && second.starts_number() => {
                return Err(Trouble::new(Reason::Negative, sign.at));
            }
            Some(_) => {}
        }
        self.next += 1;
        Ok(true)
    }

    /// What stands after plus-or-minus, up to the end.
    fn limits(&mut self, sign: &Token, unit: Unit) -> Result<Part, Trouble> {
        let limits = self.length(unit).and_then(|part| match self.peek() {
            Some(left) => Err(Trouble::new(Reason::TrailingText, left.at)),
            None => Ok(part),
        });
        limits.map_err(|trouble| match trouble.reason {
            // Where the mend is in the number itself, that reason says more.
            Reason::ZeroDenominator
            | Reason::ImproperFraction
            | Reason::NotATapeFraction
            | Reason::FractionWithMetric
            | Reason::DecimalWithFraction
            | Reason::AmbiguousComma
            | Reason::MixedSeparators => trouble,
            _ => Trouble::new(Reason::BadPlusMinus, trouble.at.max(sign.at)),
        })
    }

    /// Parts from big to small, up to a plus-or-minus or the end.
    fn length(&mut self, bare: Unit) -> Result<Part, Trouble> {
        let mut total: Option<Part> = None;
        let mut before: Option<(Number, Unit)> = None;
        loop {
            let number = self.number()?;
            let named = match self.peek().map(|t| &t.kind) {
                Some(Kind::Unit(unit)) => {
                    self.next += 1;
                    Some(*unit)
                }
                Some(Kind::Word) => return Err(self.trouble_here()),
                _ => None,
            };
            let unit = match (named, &before) {
                (Some(unit), _) => unit,
                (None, None) => bare,
                (None, Some((_, Unit::Foot))) => Unit::Inch,
                (None, Some(_)) => return Err(Trouble::new(Reason::TrailingText, number.at)),
            };
            let amount = number.amount(unit)?;
            if let Some((number_before, unit_before)) = &before {
                check_order(number_before, *unit_before, &number, unit, amount)?;
            }
            let sum = total.as_ref().map_or(Amount::ZERO, |t| t.amount).and(amount);
            total = Some(Part {
                amount: sum,
                unit,
                named: named.is_some() || total.as_ref().is_some_and(|t| t.named),
                at: total.map_or(number.at, |t| t.at),
                end: self.end(),
            });
            before = Some((number, unit));
            if let Some(total) = total.take_if(|_| self.peek().is_none_or(|t| t.kind == Kind::PlusMinus)) {
                return Ok(total);
            }
            if named.is_none() {
                return Err(self.trouble_here());
            }
            self.join()?;
        }
    }

    /// Goes over what may stand between two parts: nothing, or a hyphen without spaces.
    fn join(&mut self) -> Result<(), Trouble> {
        match (self.peek(), self.peek_second()) {
            (Some(hyphen), Some(after)) if joins(hyphen, after) && after.starts_number() => {
                self.next += 1;
                Ok(())
            }
            // `3 ft,5 in` is no half inch: a comma or point must not touch the unit before it.
            (
                Some(Token {
                    kind: Kind::Point | Kind::Comma,
                    spaced: false,
                    at,
                    ..
                }),
                _,
            ) => Err(Trouble::new(Reason::TrailingText, *at)),
            (Some(token), _) if token.starts_number() => Ok(()),
            _ => Err(self.trouble_here()),
        }
    }

    /// Why the token here can't stand here.
    pub(super) fn trouble_here(&self) -> Trouble {
        let Some(token) = self.peek() else {
            return Trouble::new(Reason::NoNumber, self.end());
        };
        let after = self.peek_second();
        let reason = match token.kind {
            Kind::Word => Reason::UnknownUnit,
            Kind::Unit(_) => Reason::NoNumber,
            _ if token.is_sign() && after.is_some_and(Token::is_sign) => {
                return Trouble::new(Reason::DoubleSign, after.map_or(token.at, |t| t.at));
            }
            Kind::Hyphen | Kind::Minus if after.is_some_and(|after| after.starts_number() && !joins(token, after)) => {
                Reason::SpacedHyphen
            }
            _ => Reason::TrailingText,
        };
        Trouble::new(reason, token.at)
    }
}

/// Whether `hyphen` is one that joins, with no space on either side.
pub(super) fn joins(hyphen: &Token, after: &Token) -> bool {
    hyphen.kind == Kind::Hyphen && !hyphen.spaced && !after.spaced
}

/// Checks that a part may follow the one before it.
fn check_order(
    number_before: &Number,
    unit_before: Unit,
    number: &Number,
    unit: Unit,
    amount: Amount,
) -> Result<(), Trouble> {
    let reason = if unit.is_metric() != unit_before.is_metric() {
        Reason::MixedSystems
    } else if unit == unit_before {
        Reason::RepeatedUnit
    } else if unit.nm() > unit_before.nm() {
        Reason::BadOrder
    } else if number_before.decimals.is_some() || number_before.fraction.is_some() {
        return Err(Trouble::new(Reason::DecimalOrFractionNotLast, number_before.at));
    } else if amount >= Amount::whole(unit_before.nm().into()) {
        Reason::PartTooBig
    } else {
        return Ok(());
    };
    Err(Trouble::new(reason, number.at))
}
