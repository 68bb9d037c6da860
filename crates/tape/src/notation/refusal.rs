//! Why a text is no length, said in one sentence, and how to mend it.

use std::fmt;

macro_rules! reasons {
    ($($(#[$doc:meta])* $name:ident $id:literal,)*) => {
        /// Why a text was refused.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Reason {
            $($(#[$doc])* $name,)*
        }

        impl Reason {
            /// Every reason.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// The name of the reason in files and in the check values: `improper_fraction`.
            pub const fn id(self) -> &'static str {
                match self {
                    $(Self::$name => $id,)*
                }
            }
        }
    };
}

reasons! {
    /// Nothing typed.
    Empty "empty",
    /// NaN and infinity are not readings.
    NotANumber "not_a_number",
    /// A zero under the line of the fraction.
    ZeroDenominator "zero_denominator",
    /// The fraction is one or more: the whole number is wrong, or the space was left out (`415/8` for `41 5/8`).
    ImproperFraction "improper_fraction",
    /// A tape is marked in 2, 4, 8, 16, 32 or 64 parts; `5/6` is usually `5/16` with a digit lost.
    NotATapeFraction "not_a_tape_fraction",
    /// Two signs.
    DoubleSign "double_sign",
    /// A minus where no length can be below zero.
    Negative "negative",
    /// Zero where there has to be some length.
    ZeroLength "zero_length",
    /// A small unit before a bigger one.
    BadOrder "bad_order",
    /// A part that holds one or more of the bigger unit before it, as 14 inches after feet.
    PartTooBig "part_too_big",
    /// A comma and three digits may be thousands or decimals.
    AmbiguousComma "ambiguous_comma",
    /// A comma and a point in one number.
    MixedSeparators "mixed_separators",
    /// A power of ten.
    Exponent "exponent",
    /// A word that is no unit.
    UnknownUnit "unknown_unit",
    /// A unit, a line or a sign without its number.
    NoNumber "no_number",
    /// A fraction of a millimetre, centimetre or metre.
    FractionWithMetric "fraction_with_metric",
    /// A decimal and a fraction in one part.
    DecimalWithFraction "decimal_with_fraction",
    /// A decimal or a fraction before a smaller unit.
    DecimalOrFractionNotLast "decimal_or_fraction_not_last",
    /// Something left over that belongs to no length, or more than 64 characters.
    TrailingText "trailing_text",
    /// A hyphen with a space beside it: `41 - 5/8` may be 41 5/8, or 41 less 5/8.
    SpacedHyphen "spaced_hyphen",
    /// The same unit twice.
    RepeatedUnit "repeated_unit",
    /// More than 100 m.
    OutOfRange "out_of_range",
    /// Feet or inches and metric in one length.
    MixedSystems "mixed_systems",
    /// What follows plus-or-minus is missing or not a length.
    BadPlusMinus "bad_plus_minus",
    /// Digits of another script, full width or raised.
    NonAsciiDigit "non_ascii_digit",
}

impl Reason {
    /// The reason as a sentence without its subject's text; `word` is what stands at the trouble.
    fn sentence(self, word: &str) -> String {
        match self {
            Self::Empty => "nothing was typed",
            Self::NotANumber => return format!("{word} is not a number that a tape can show"),
            Self::ZeroDenominator => "the fraction has a zero under the line",
            Self::ImproperFraction => return format!("the fraction {word} is one or more"),
            Self::NotATapeFraction => return format!("no tape is marked in {word}"),
            Self::DoubleSign => "there are two signs",
            Self::Negative => "this length cannot be below zero",
            Self::ZeroLength => "this length cannot be zero",
            Self::BadOrder => "the bigger unit has to come first",
            Self::PartTooBig => "the smaller part makes up one or more of the bigger unit before it",
            Self::AmbiguousComma => "a comma and three digits may be thousands or decimals",
            Self::MixedSeparators => "there are both a comma and a point in one number",
            Self::Exponent => "powers of ten are not tape notation",
            Self::UnknownUnit => return format!("{word} is not a unit known here"),
            Self::NoNumber => "a number is missing",
            Self::FractionWithMetric => "fractions go with feet and inches only",
            Self::DecimalWithFraction => "a decimal and a fraction are in one number",
            Self::DecimalOrFractionNotLast => "only the last part may have a decimal or a fraction",
            Self::TrailingText => return format!("{word} is left over"),
            Self::SpacedHyphen => "the hyphen may join the fraction or take it away",
            Self::RepeatedUnit => "the same unit is there twice",
            Self::OutOfRange => "it is more than 100 m",
            Self::MixedSystems => "feet or inches and metric are mixed in one length",
            Self::BadPlusMinus => "what follows plus-or-minus is not a length",
            Self::NonAsciiDigit => return format!("{word} is not one of the plain digits 0 to 9"),
        }
        .to_owned()
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.id())
    }
}

/// A text that is no length: why, and where in it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", self.sentence())]
pub struct NotationError {
    /// Why it was refused.
    pub reason: Reason,
    /// Index of the character, counted from 0, where the trouble is; at most the number of characters.
    pub at: usize,
    /// What was typed; cut short, with `…`, when it was too long.
    pub text: String,
}

impl NotationError {
    fn sentence(&self) -> String {
        let sentence = self.reason.sentence(&self.word());
        let text = self.text.trim();
        if text.is_empty() {
            sentence
        } else {
            format!("{} cannot be read: {sentence}", printable(text))
        }
    }

    /// How to mend it, as an instruction in the words of the shop.
    pub fn mend(&self) -> String {
        match self.reason {
            Reason::Empty | Reason::NoNumber | Reason::NotANumber => "type what the tape shows, as 41 5/8\" or 1057 mm",
            Reason::ZeroDenominator => "write 2, 4, 8, 16, 32 or 64 under the line",
            Reason::ImproperFraction => return self.mend_improper(),
            Reason::NotATapeFraction => return self.mend_parts(),
            Reason::DoubleSign => "leave one sign out; plus-or-minus is written +-",
            Reason::Negative => "leave the minus out",
            Reason::ZeroLength => "type a length above zero",
            Reason::BadOrder => "write feet before inches, and metres before centimetres before millimetres",
            Reason::PartTooBig => {
                "keep the inches after feet under 12, the centimetres after metres under 100; or use one unit only"
            }
            Reason::AmbiguousComma => return self.mend_comma(),
            Reason::MixedSeparators => "leave the thousands mark out and keep one decimal point",
            Reason::Exponent => "write the number out in full",
            Reason::UnknownUnit => "use ' or ft, \" or in, mm, cm or m",
            Reason::FractionWithMetric => {
                "if it is inches, put \" behind the fraction; if it is metric, write a decimal such as 41.5 mm"
            }
            Reason::DecimalWithFraction => "write either 41.625 or 41 5/8",
            Reason::DecimalOrFractionNotLast => "write whole feet before inches: 3' 6 1/2\", not 3.5' 1/2\"",
            Reason::TrailingText => {
                "type one length and nothing else, in at most 64 characters, as 41 5/8\" or 1057 mm"
            }
            Reason::SpacedHyphen => return self.mend_hyphen(),
            Reason::RepeatedUnit => "write each unit once, as 3' 5 1/2\"",
            Reason::OutOfRange => "check the digits and the unit; 100 m is the most",
            Reason::MixedSystems => "write it all in feet and inches, or all in metric",
            Reason::BadPlusMinus => "write one length after it, as 41 5/8\" +- 1/16\"; or leave it out",
            Reason::NonAsciiDigit => "type it with the plain digits 0 to 9",
        }
        .to_owned()
    }

    /// The digits with a line through them, the letters, or the one character at the trouble.
    fn word(&self) -> String {
        let rest = || self.text.chars().skip(self.at);
        let first = rest().next();
        let word: String = match first {
            Some(c) if c.is_ascii_digit() => rest().take_while(|&c| c.is_ascii_digit() || is_line(c)).collect(),
            Some(c) if c.is_alphabetic() => rest().take_while(|&c| c.is_alphabetic()).collect(),
            Some('…') => "what is over 64 characters".to_owned(),
            Some(c) => c.to_string(),
            None => "the end".to_owned(),
        };
        printable(&word)
    }

    /// What stands over and under the line at the trouble.
    fn fraction(&self) -> Option<(String, u64)> {
        let rest: String = self.text.chars().skip(self.at).filter(|c| !c.is_whitespace()).collect();
        let (over, under) = rest.split_once(is_line)?;
        let under: String = under.chars().take_while(char::is_ascii_digit).collect();
        Some((over.to_owned(), under.parse().ok()?))
    }

    fn mend_improper(&self) -> String {
        const OTHERWISE: &str = "check the fraction and the whole number before it";
        let Some((over, under)) = self.fraction() else {
            return OTHERWISE.to_owned();
        };
        let whole_before = self.text.chars().take(self.at).any(|c| c.is_ascii_digit());
        // The shortest whole number that leaves a proper fraction: `4111/16` is 41 11/16, hardly 411 1/16.
        let split = (1..over.len())
            .filter_map(|i| over.split_at_checked(i))
            .find(|(_, left)| !left.starts_with('0') && left.parse::<u64>().is_ok_and(|left| left < under));
        match split {
            Some((whole, left)) if !whole_before => {
                format!("did you mean {whole} {left}/{under}? put a space between the whole number and the fraction")
            }
            _ => format!("{OTHERWISE}: what is over the line has to be less than {under}"),
        }
    }

    fn mend_parts(&self) -> String {
        const PARTS: &str = "a tape is marked in 2, 4, 8, 16, 32 or 64 parts";
        let likely = self.fraction().and_then(|(over, under)| {
            let lost = [16, 32, 64]
                .into_iter()
                .find(|parts| parts / 10 == under || parts % 10 == under)?;
            Some((over.parse::<u64>().ok().filter(|over| *over < lost)?, lost))
        });
        match likely {
            Some((over, parts)) => format!("did you mean {over}/{parts}? {PARTS}"),
            None => PARTS.to_owned(),
        }
    }

    fn mend_comma(&self) -> String {
        let chars: Vec<char> = self.text.chars().collect();
        let of_number = |c: &&char| c.is_ascii_digit() || **c == ',';
        let (before, after) = chars.split_at(self.at.min(chars.len()));
        let mut number: Vec<char> = before.iter().rev().take_while(of_number).copied().collect();
        number.reverse();
        number.extend(after.iter().take_while(of_number));
        let plain: String = number.iter().filter(|c| **c != ',').collect();
        match number.iter().filter(|c| **c == ',').count() {
            1 if number[0] != ',' => {
                let decimal: String = number.iter().map(|c| if *c == ',' { '.' } else { *c }).collect();
                format!("write {plain} if the comma marks thousands, {decimal} if it marks decimals")
            }
            _ => "leave out commas that mark thousands, and use a point for decimals".to_owned(),
        }
    }

    fn mend_hyphen(&self) -> String {
        let before: String = self.text.chars().take(self.at).collect();
        let after: String = self.text.chars().skip(self.at + 1).collect();
        let joined = format!("{} {}", before.trim(), after.trim());
        format!("did you mean {}? write it without the hyphen", printable(&joined))
    }
}

const fn is_line(c: char) -> bool {
    matches!(c, '/' | '\u{2044}' | '\u{2215}')
}

/// The text without control characters, which could garble a screen.
fn printable(text: &str) -> String {
    text.chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect()
}
