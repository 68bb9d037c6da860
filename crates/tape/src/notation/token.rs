//! Typed characters, grouped into the words of the notation.

use super::{Reason, Trouble};

/// A unit of length that a reading may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unit {
    Foot,
    Inch,
    Metre,
    Centimetre,
    Millimetre,
}

impl Unit {
    /// Nanometres in one; those of feet and inches divide by 64.
    pub(super) const fn nm(self) -> u64 {
        match self {
            Self::Foot => 304_800_000,
            Self::Inch => 25_400_000,
            Self::Metre => 1_000_000_000,
            Self::Centimetre => 10_000_000,
            Self::Millimetre => 1_000_000,
        }
    }

    pub(super) const fn is_metric(self) -> bool {
        !matches!(self, Self::Foot | Self::Inch)
    }

    fn from_word(word: &str) -> Option<Self> {
        Some(match word {
            "ft" | "foot" | "feet" => Self::Foot,
            "in" | "inch" | "inches" => Self::Inch,
            "m" | "metre" | "metres" | "meter" | "meters" => Self::Metre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            _ => return None,
        })
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// ASCII digits.
    Digits(Vec<u8>),
    /// A decimal point.
    Point,
    /// A decimal comma, perhaps.
    Comma,
    /// The line of a fraction.
    Slash,
    /// A fraction in one character, over and under the line.
    Vulgar(u8, u8),
    /// A hyphen or an en dash: a sign, or what joins whole number and fraction.
    Hyphen,
    /// The mathematical minus: only ever a sign.
    Minus,
    Plus,
    PlusMinus,
    Unit(Unit),
    /// A word that is no unit.
    Word,
    /// Anything else.
    Other,
}

#[derive(Clone, Debug)]
pub(super) struct Token {
    pub kind: Kind,
    /// Index of the first character.
    pub at: usize,
    /// Index after the last character.
    pub end: usize,
    /// Whether there is a space in front.
    pub spaced: bool,
}

impl Token {
    pub(super) const fn starts_number(&self) -> bool {
        matches!(
            self.kind,
            Kind::Digits(_) | Kind::Point | Kind::Comma | Kind::Vulgar(..)
        )
    }

    pub(super) const fn is_sign(&self) -> bool {
        matches!(self.kind, Kind::Hyphen | Kind::Minus | Kind::Plus)
    }
}

/// Groups the characters; refuses what can be no part of a reading wherever it stands.
pub(super) fn scan(chars: &[char]) -> Result<Vec<Token>, Trouble> {
    let mut tokens: Vec<Token> = Vec::new();
    let mut at = 0;
    let mut spaced = false;
    while at < chars.len() {
        if chars[at].is_whitespace() {
            spaced = true;
            at += 1;
            continue;
        }
        let (kind, taken) = token(&chars[at..]).map_err(|reason| Trouble::new(reason, at))?;
        let after_number = !spaced
            && matches!(
                tokens.last().map(|t| &t.kind),
                Some(Kind::Digits(_) | Kind::Point | Kind::Comma)
            );
        if kind == Kind::Word && after_number && is_exponent(&chars[at..]) {
            return Err(Trouble::new(Reason::Exponent, at));
        }
        tokens.push(Token {
            kind,
            at,
            end: at + taken,
            spaced,
        });
        at += taken;
        spaced = false;
    }
    Ok(tokens)
}

/// The token that starts `chars`, and how many characters it has.
fn token(chars: &[char]) -> Result<(Kind, usize), Reason> {
    let next = |i: usize| chars.get(i).copied().unwrap_or(' ');
    Ok(match chars[0] {
        c if c.is_ascii_digit() => {
            let digits: Vec<u8> = chars
                .iter()
                .map_while(|c| u8::try_from(*c).ok().filter(u8::is_ascii_digit))
                .collect();
            let taken = digits.len();
            (Kind::Digits(digits), taken)
        }
        '.' => (Kind::Point, 1),
        ',' => (Kind::Comma, 1),
        '/' | '\u{2044}' | '\u{2215}' => (Kind::Slash, 1),
        '±' => (Kind::PlusMinus, 1),
        '+' if is_dash(next(1)) => (Kind::PlusMinus, 2),
        '+' if next(1) == '/' && is_dash(next(2)) => (Kind::PlusMinus, 3),
        '+' => (Kind::Plus, 1),
        '\u{2212}' => (Kind::Minus, 1),
        c if is_dash(c) => (Kind::Hyphen, 1),
        c if is_prime(c) && is_prime(next(1)) => (Kind::Unit(Unit::Inch), 2),
        c if is_prime(c) => (Kind::Unit(Unit::Foot), 1),
        '"' | '\u{2033}' | '\u{201c}' | '\u{201d}' => (Kind::Unit(Unit::Inch), 1),
        '\u{221e}' => return Err(Reason::NotANumber),
        '^' => return Err(Reason::Exponent),
        c if c.is_alphabetic() => return word(chars),
        c => match vulgar(c) {
            Some((over, under)) => (Kind::Vulgar(over, under), 1),
            None if c.is_numeric() => return Err(Reason::NonAsciiDigit),
            None => (Kind::Other, 1),
        },
    })
}

fn word(chars: &[char]) -> Result<(Kind, usize), Reason> {
    let word: String = chars
        .iter()
        .take_while(|c| c.is_alphabetic())
        .map(char::to_ascii_lowercase)
        .collect();
    let letters = word.chars().count();
    if matches!(&*word, "nan" | "inf" | "infinity") {
        return Err(Reason::NotANumber);
    }
    let Some(unit) = Unit::from_word(&word) else {
        return Ok((Kind::Word, letters));
    };
    // `3 ft.5 in` may be 5 in or half an inch, so a full stop with a digit behind it is no full stop.
    let behind = |i: usize| chars.get(letters + i).copied().unwrap_or(' ');
    let stop = matches!(&*word, "in" | "ft") && behind(0) == '.' && !behind(1).is_ascii_digit();
    Ok((Kind::Unit(unit), letters + usize::from(stop)))
}

/// Whether the word after a number is the `e` of a power of ten: `e5`, `E-3`.
fn is_exponent(chars: &[char]) -> bool {
    match chars {
        ['e' | 'E', digit, ..] if digit.is_ascii_digit() => true,
        ['e' | 'E', sign, digit, ..] => (*sign == '+' || is_dash(*sign)) && digit.is_ascii_digit(),
        _ => false,
    }
}

/// Hyphen-minus, hyphen, no-break hyphen, en dash, minus.
const fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2010}' | '\u{2011}' | '\u{2013}' | '\u{2212}')
}

/// Apostrophe, prime, and the curly quotes that a word processor makes of them.
const fn is_prime(c: char) -> bool {
    matches!(c, '\'' | '\u{2032}' | '\u{2018}' | '\u{2019}')
}

const fn vulgar(c: char) -> Option<(u8, u8)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        // Not on a tape, but a fraction all the same: refused as what it is.
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        '↉' => (0, 3),
        _ => return None,
    })
}
