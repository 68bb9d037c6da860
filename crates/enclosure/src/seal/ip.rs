//! What the digits and letters of an IP code mean: IEC 60529, from memory, for explaining text.

use crate::KnownBy;

/// How every meaning here is known.
pub const KNOWN_BY: KnownBy = KnownBy::Memory;

/// Where the meanings come from.
pub const SOURCE: &str = "IEC 60529, ISO 20653, meanings as recalled";

/// What the second digit does not say.
pub const NOTE: &str = "x7 and x8 do not imply x5 or x6: a box for both is marked with both, as IP66/IP67";

/// What one character of a code means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// The digit or letter.
    pub mark: char,
    /// In a few words: `dust tight`.
    pub short: &'static str,
    /// In a sentence.
    pub long: &'static str,
}

/// The first digit: what solid things do not get in.
pub const FIRST: [Meaning; 7] = [
    meaning('0', "nothing", "No protection against solid things."),
    meaning(
        '1',
        "hand 50 mm",
        "A ball of 50 mm, the back of a hand, does not get in.",
    ),
    meaning(
        '2',
        "finger 12 mm",
        "A finger of 12 mm does not reach what is live; a ball of 12.5 mm does not get in.",
    ),
    meaning('3', "tool 2.5 mm", "A tool or wire of 2.5 mm does not get in."),
    meaning('4', "1 mm wire", "A wire of 1 mm does not get in."),
    meaning('5', "dust limited", "Dust gets in, but not so much that it does harm."),
    meaning('6', "dust tight", "No dust gets in."),
];

/// The second digit: what water does no harm.
pub const SECOND: [Meaning; 10] = [
    meaning('0', "nothing", "No protection against water."),
    meaning('1', "drip", "Drops falling straight down."),
    meaning(
        '2',
        "drip at 15 degrees",
        "Drops falling straight down on a box tilted by up to 15 degrees.",
    ),
    meaning('3', "spray to 60 degrees", "Spray at up to 60 degrees from upright."),
    meaning('4', "splash", "Splashes from all sides."),
    meaning(
        '5',
        "jet 12.5 l/min 6.3 mm nozzle",
        "A jet from all sides: 12.5 litres a minute from a 6.3 mm nozzle.",
    ),
    meaning(
        '6',
        "strong jet 100 l/min 12.5 mm nozzle",
        "A strong jet from all sides: 100 litres a minute from a 12.5 mm nozzle.",
    ),
    meaning('7', "1 m for 30 min", "Under 1 m of water for 30 minutes."),
    meaning(
        '8',
        "deeper, as agreed",
        "Under water for longer or deeper, as maker and user agree.",
    ),
    meaning(
        '9',
        "hot high pressure jet (IPx9; ISO 20653 writes 9K)",
        "A hot jet at high pressure from near by.",
    ),
];

/// The letter after the digits: what does not reach live parts.
pub const LETTERS: [Meaning; 4] = [
    meaning(
        'A',
        "back of hand",
        "A ball of 50 mm, the back of a hand, does not reach live parts.",
    ),
    meaning(
        'B',
        "test finger",
        "A jointed test finger, 12 mm thick and 80 mm long, does not reach live parts.",
    ),
    meaning(
        'C',
        "tool 2.5 mm x 100 mm",
        "A tool of 2.5 mm, 100 mm long, does not reach live parts.",
    ),
    meaning(
        'D',
        "test wire 1 mm x 100 mm",
        "A wire of 1 mm, 100 mm long, does not reach live parts.",
    ),
];

const fn meaning(mark: char, short: &'static str, long: &'static str) -> Meaning {
    Meaning { mark, short, long }
}

/// What a code of two digits asks of a box, in words: `IP67: dust tight; 1 m for 30 min; x7 and x8 do not ...`.
///
/// A digit that is not asked for is an X, and so is one that no list has.
pub fn asks(solids: Option<u8>, water: Option<u8>) -> String {
    let find = |list: &'static [Meaning], digit: Option<u8>| list.get(usize::from(digit?));
    let (first, second) = (find(&FIRST, solids), find(&SECOND, water));
    let mark = |meaning: Option<&Meaning>| meaning.map_or('X', |meaning| meaning.mark);
    let mut words: Vec<&str> = [first, second]
        .into_iter()
        .flatten()
        .map(|meaning| meaning.short)
        .collect();
    if water.is_some_and(|digit| matches!(digit, 7 | 8)) {
        words.push(NOTE);
    }
    format!("IP{}{}: {}", mark(first), mark(second), words.join("; "))
}

/// The meaning of a mark in one of the lists; `None` when it is not in it.
pub fn look_up(list: &'static [Meaning], mark: char) -> Option<&'static Meaning> {
    list.iter().find(|meaning| meaning.mark == mark)
}

/// A code of two digits in a few words: `IP67: dust tight; 1 m for 30 min`; `None` when it is none.
pub fn explain(code: &str) -> Option<String> {
    let mut marks = code.strip_prefix("IP")?.chars();
    let solids = look_up(&FIRST, marks.next()?)?.short;
    let water = look_up(&SECOND, marks.next()?)?.short;
    marks.next().is_none().then(|| format!("{code}: {solids}; {water}"))
}

/// What a box under a bed is commonly held to: spray from the wheels, and a ford.
pub const UNDER_A_BED: [&str; 2] = ["IP66", "IP67"];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_digit_has_one_meaning_in_order() {
        for list in [&FIRST[..], &SECOND] {
            let digits: Vec<char> = list.iter().map(|meaning| meaning.mark).collect();
            let counted: Vec<char> = ('0'..='9').take(list.len()).collect();
            assert_eq!(digits, counted);
        }
        assert_eq!(LETTERS.map(|letter| letter.mark), ['A', 'B', 'C', 'D']);
    }

    #[test]
    fn a_code_is_told_in_words() {
        assert_eq!(explain("IP67").as_deref(), Some("IP67: dust tight; 1 m for 30 min"));
        assert!(UNDER_A_BED.iter().all(|code| explain(code).is_some()));
        assert_eq!(
            [explain("IP7"), explain("IPX7"), explain("IP677"), explain("67")],
            [const { None }; 4]
        );
        assert_eq!(asks(Some(5), Some(4)), "IP54: dust limited; splash");
        assert_eq!(asks(None, Some(6)), "IPX6: strong jet 100 l/min 12.5 mm nozzle");
        let under_water = asks(Some(6), Some(7));
        assert!(under_water.starts_with("IP67: dust tight; 1 m for 30 min; ") && under_water.contains("do not imply"));
        assert_eq!(asks(Some(9), None), "IPXX: ");
    }

    #[test]
    fn marks_are_found_in_their_own_list() {
        assert_eq!(look_up(&FIRST, '6').map(|meaning| meaning.short), Some("dust tight"));
        assert_eq!(look_up(&FIRST, '7'), None);
    }
}
