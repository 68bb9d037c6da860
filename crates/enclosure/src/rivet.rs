//! Blind rivets: which side they are set from, how far they stand out, how close they may be, and how long they are.

use std::sync::LazyLock;

use tape::{Length, Units};

use crate::{Purpose, listed};

pub(crate) const BLIND: &str = include_str!("../../../assets/stock/blind-rivets.csv");
pub(crate) const SUNK: &str = include_str!("../../../assets/stock/sunk-rivets.csv");

/// On which side of the box the heads of its rivets are, and what shape. A blind rivet is set from the side of its head; its
/// tail is on the other.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RivetHeads {
    /// Set from inside, countersunk into the panel: nothing stands in, the tails are outside.
    #[default]
    FlushInside,
    /// Set from inside, round heads; the tails are outside.
    RoundInside,
    /// Set from outside, round heads; the tails are inside.
    Outside,
}

impl RivetHeads {
    /// How far a rivet in this hole stands out of what it clamps, outside and inside the box: a round head half its hole, a
    /// flush one nothing, a tail as far as its hole is wide; head and tail are both two holes wide. Common practice, no
    /// source; DIN 7337 has flatter heads.
    pub const fn stand(self, hole: Length) -> [Length; 2] {
        match self {
            Self::FlushInside => [hole, Length::ZERO],
            Self::RoundInside => [hole, hole.half_down()],
            Self::Outside => [hole.half_down(), hole],
        }
    }

    /// What the hole of a rivet is for in the part that has its head, if that is inside.
    pub(crate) const fn inside(self, purpose: Purpose) -> Purpose {
        match (self, purpose) {
            (Self::FlushInside, Purpose::Rivet) => Purpose::SunkRivet,
            (Self::FlushInside, Purpose::FixingRivet) => Purpose::SunkFixingRivet,
            (_, purpose) => purpose,
        }
    }

    /// How they are set, for the shop.
    pub const fn set(self) -> &'static str {
        match self {
            Self::FlushInside => "countersink the holes on the inside and rivet from there, heads flush",
            Self::RoundInside => "rivet from the inside",
            Self::Outside => "rivet from the outside",
        }
    }

    /// What is kept free over a rivet, outside and inside, for it to go in: a flush one as much as a round head.
    pub(crate) fn free(self, hole: Length) -> [Length; 2] {
        self.stand(hole).map(|out| out.max(hole.half_down()))
    }

    /// The thinnest sheet that the heads can be sunk into; `None` where they are not.
    pub fn least_sheet(self, hole: Length) -> Option<Length> {
        (self == Self::FlushInside).then(|| least_sunk_sheet(hole))
    }
}

/// From the middle of a rivet's hole to the edge of the sheet at least, across the pull: one and a half holes.
///
/// Source: EN 1993-1-3, whose tables for screws and bolts (read) have 1.5 d, as has that for blind rivets (as recalled).
/// It is more than the 1.2 d0 of EN 1993-1-8 table 3.3 and less than the 2 d of FAA AC 43.13-1B.
pub const fn least_edge(hole: Length) -> Length {
    Length::from_nm(hole.nm() * 3 / 2)
}

/// From rivet to rivet at least: three holes.
///
/// Source: FAA AC 43.13-1B and EN 1993-1-3, 3 d; EN 1993-1-8 table 3.3 has 2.2 d0.
pub const fn least_pitch(hole: Length) -> Length {
    Length::from_nm(hole.nm() * 3)
}

/// What a hole is drilled over the rivet at the most: 0.1 to 0.2 mm of rivets in millimetres, 0.003 to 0.011 in of those in inches
/// (blind rivet selection chart of US Army TM 10-5410-221-14).
const OVER: Length = Length::from_nm(279_400);

/// The thinnest sheet that heads of rivets in this hole can be sunk into by a countersink: of the rivet in
/// `assets/stock/sunk-rivets.csv` that the hole is for, of thicker ones in proportion.
pub fn least_sunk_sheet(hole: Length) -> Length {
    static LIST: LazyLock<Vec<[Length; 2]>> = LazyLock::new(|| {
        let row = |row: listed::Row| [row.length(0), row.length(1)];
        listed::rows(SUNK).map(row).collect()
    });
    let of = LIST.iter().find(|[rivet, _]| *rivet + OVER >= hole);
    of.map_or_else(
        || {
            let [rivet, sheet] = LIST[LIST.len() - 1];
            Length::from_mm_up(hole.as_mm() * sheet.as_mm() / rivet.as_mm())
        },
        |[_, sheet]| *sheet,
    )
}

/// A blind rivet that is on sale.
struct OnSale {
    units: Units,
    across: Length,
    length: Length,
    grip: [Length; 2],
}

/// How long a blind rivet in this hole is asked for, under its head: the one in `assets/stock/blind-rivets.csv` whose grip range
/// has this grip, of two that meet there the longer, since sheet with sealant between is rather thicker; below the least grip the
/// shortest. What no row has is grip and hole, to the next 2 mm or 1/16 in (common practice, no source). The
/// grip printed on the box of rivets has the last word.
pub fn length(hole: Length, grip: Length, units: Units) -> Length {
    static LIST: LazyLock<Vec<OnSale>> = LazyLock::new(|| {
        let row = |row: listed::Row| OnSale {
            units: if row.text(0) == "inch" {
                Units::Inch
            } else {
                Units::Millimetre
            },
            across: row.length(1),
            length: row.length(2),
            grip: [row.length(3), row.length(4)],
        };
        listed::rows(BLIND).map(row).collect()
    });
    let fits = |rivet: &&OnSale| rivet.units == units && (rivet.across..=rivet.across + OVER).contains(&hole);
    let reaches = || LIST.iter().filter(fits).filter(|rivet| rivet.grip[1] >= grip);
    let has = reaches()
        .filter(|rivet| rivet.grip[0] <= grip)
        .map(|rivet| rivet.length);
    let listed = has.max().or_else(|| reaches().map(|rivet| rivet.length).min());
    listed.unwrap_or_else(|| {
        let step = match units {
            Units::Inch => Length::sixty_fourths(4),
            Units::Millimetre => Length::mm(2),
        };
        (grip + hole).round_up_to(step)
    })
}

/// What a round bead takes along a seam, in cubic millimetres: `pi / 4 d^2 l`.
///
/// Source: geometry.
pub fn bead_mm3(across: Length, along: Length) -> f64 {
    std::f64::consts::FRAC_PI_4 * across.as_mm() * across.as_mm() * along.as_mm()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// The rows of the tables, and grip plus hole where none is: 3.1 + 2.5 mm goes to 6, 41 + 4.9 to 46.
    #[rstest]
    #[case::in_the_middle_of_a_range(49, 70, 120)]
    #[case::where_two_ranges_meet(49, 60, 120)]
    #[case::just_under_it(49, 59, 100)]
    #[case::too_thin_for_the_shortest(49, 10, 60)]
    #[case::no_such_rivet(25, 31, 60)]
    #[case::too_thick(49, 410, 460)]
    fn the_one_that_grips_is_asked_for(#[case] hole: i64, #[case] grip: i64, #[case] wanted: i64) {
        let [hole, grip, wanted] = [hole, grip, wanted].map(Length::tenths_mm);
        assert_eq!(length(hole, grip, Units::Millimetre), wanted);
    }

    #[test]
    fn flush_heads_take_no_room_inside() {
        let hole = Length::tenths_mm(49);
        assert_eq!(RivetHeads::FlushInside.stand(hole), [hole, Length::ZERO]);
        assert_eq!(RivetHeads::Outside.stand(hole), [hole.half_down(), hole]);
        // 0.072 in for 3/16 in; of 6.5 mm in proportion: 6.5 x 1.8288 / 4.7625 = 2.496.
        assert_eq!(least_sunk_sheet(hole), Length::from_mm(1.8288));
        assert!((least_sunk_sheet(Length::tenths_mm(65)).as_mm() - 2.496).abs() < 1e-6);
        assert_eq!(RivetHeads::RoundInside.least_sheet(hole), None);
    }
}
