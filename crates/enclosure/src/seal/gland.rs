//! Cable glands by the outside of the cable.

use tape::Length;

use crate::KnownBy;

/// A metric gland: brass or plastic, one cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gland {
    /// The thread, as it is asked for: `M25`.
    pub name: &'static str,
    /// The hole it goes through.
    pub hole: Length,
    /// The thinnest and the thickest cable that it seals on.
    pub seals: [Length; 2],
    /// Across the corners of its body and nut.
    pub across: Length,
    /// How far it stands out, its cap screwed down, without the cable.
    pub out: Length,
    /// How far its thread and nut reach in.
    pub inward: Length,
}

/// Where the sizes come from.
pub const SOURCE: &str = "usual metric glands (common practice, no source): the range is printed on the one in hand";
/// How they are known.
pub const KNOWN_BY: KnownBy = KnownBy::Memory;

/// From small to large.
pub const GLANDS: [Gland; 8] = [
    gland("M12", [125, 30, 65, 180, 220]),
    gland("M16", [165, 45, 100, 240, 260]),
    gland("M20", [205, 70, 130, 290, 280]),
    gland("M25", [255, 90, 170, 350, 320]),
    gland("M32", [325, 130, 210, 430, 360]),
    gland("M40", [405, 190, 280, 550, 400]),
    gland("M50", [505, 270, 350, 660, 450]),
    gland("M63", [635, 350, 450, 790, 500]),
];

/// `[hole, thinnest, thickest, across, out]` in tenths of a millimetre.
const fn gland(name: &'static str, [hole, thin, thick, across, out]: [i64; 5]) -> Gland {
    Gland {
        name,
        hole: Length::tenths_mm(hole),
        seals: [Length::tenths_mm(thin), Length::tenths_mm(thick)],
        across: Length::tenths_mm(across),
        out: Length::tenths_mm(out),
        inward: Length::tenths_mm(150),
    }
}

/// The smallest gland that seals on a cable of this outside; `None` when none does.
pub fn for_cable(outside: Length) -> Option<&'static Gland> {
    GLANDS
        .iter()
        .find(|gland| (gland.seals[0]..=gland.seals[1]).contains(&outside))
}

/// Whether a gland let into such a hole serves a cable: the largest that goes through the hole seals on it, the hole up to
/// 0.5 mm small for it. For a cable that none seals on whatever is wider than the cable does.
pub fn serves(hole: Length, outside: Length) -> bool {
    if for_cable(outside).is_none() {
        return hole > outside;
    }
    let goes = |gland: &&Gland| gland.hole <= hole + Length::tenths_mm(5);
    let through = GLANDS.iter().rev().find(goes);
    through.is_some_and(|gland| (gland.seals[0]..=gland.seals[1]).contains(&outside))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case(64, Some("M12"))]
    #[case(100, Some("M16"))]
    #[case(101, Some("M20"))]
    #[case(171, Some("M32"))]
    #[case(450, Some("M63"))]
    #[case(20, None)]
    #[case(451, None)]
    fn the_smallest_that_seals_is_taken(#[case] tenths: i64, #[case] name: Option<&str>) {
        assert_eq!(for_cable(Length::tenths_mm(tenths)).map(|gland| gland.name), name);
    }

    /// A cable of 18 mm asks for an M32 and fits no M25 or M50.
    #[rstest]
    #[case(205, 180, false)]
    #[case(255, 180, false)]
    #[case(320, 180, true)]
    #[case(325, 180, true)]
    #[case(334, 180, true)]
    #[case(405, 200, true)]
    #[case(505, 180, false)]
    #[case(80, 60, false)]
    #[case(635, 460, true)]
    #[case(405, 460, false)]
    fn a_hole_serves_a_cable_when_the_gland_in_it_seals_on_it(
        #[case] hole: i64,
        #[case] outside: i64,
        #[case] is: bool,
    ) {
        assert_eq!(serves(Length::tenths_mm(hole), Length::tenths_mm(outside)), is);
    }

    #[test]
    fn sizes_grow_together_and_no_cable_between_them_is_left_without() {
        for pair in GLANDS.windows(2) {
            assert!(pair[0].hole < pair[1].hole && pair[0].across < pair[1].across && pair[0].out < pair[1].out);
            assert!(
                pair[1].seals[0] <= pair[0].seals[1],
                "{} and {}",
                pair[0].name,
                pair[1].name
            );
        }
    }
}
