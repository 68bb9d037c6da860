//! Bolts: sizes, strength and what a mount of several bears.

pub mod grade;
pub mod group;
pub mod lengths;
pub mod mount;
pub mod torque;

use std::f64::consts::FRAC_PI_4;

use tape::Length;

use crate::KnownBy;
use tape::show::thousandths_bare;

/// The pitch of a thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pitch {
    /// From crest to crest.
    Metric(Length),
    /// Threads to the inch.
    PerInch(u32),
}

/// A bolt size on the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bolt {
    /// The name as written in a shop: `M10`, `3/8-16`.
    pub name: &'static str,
    /// Thread diameter.
    pub diameter: Length,
    /// Pitch: coarse.
    pub pitch: Pitch,
    /// Clearance hole: medium fit of ISO 273, normal fit of ASME B18.2.8.
    pub hole: Length,
    /// Spanner size across the flats of the head. A 7/16 nut wants 11/16 in.
    pub across_flats: Length,
    /// Outside of a ring spanner's head.
    pub ring_head: Length,
    /// How [`Bolt::ring_head`] is known: read for four inch sizes, else computed as 1.55 times across flats, the largest
    /// ratio of those four.
    pub ring_head_known: KnownBy,
    /// Height of a hexagon nut, 0.8 to 0.95 of the diameter.
    pub nut_height: Length,
}

/// How holes, spanner sizes and nut heights are known.
pub const SIZES_KNOWN_BY: KnownBy = KnownBy::Memory;

/// Where holes, spanner sizes and nut heights come from, and the spanner heads.
pub const SIZES_SOURCE: &str = "ISO 273 medium, ISO 4014, ISO 4032; ASME B18.2.1, B18.2.2, B18.2.8; ring spanner heads of \
     1/2, 9/16, 5/8 and 3/4 in by a maker's table";

/// The bolts offered, metric first, each list from small to large.
pub const BOLTS: [Bolt; 12] = [
    metric("M5", [500, 80, 550], 8, 47),
    metric("M6", [600, 100, 660], 10, 52),
    metric("M8", [800, 125, 900], 13, 68),
    metric("M10", [1_000, 150, 1_100], 16, 84),
    metric("M12", [1_200, 175, 1_350], 18, 108),
    metric("M14", [1_400, 200, 1_550], 21, 128),
    metric("M16", [1_600, 200, 1_750], 24, 148),
    inch("1/4-20", 20, [16, 18, 28, 14], None),
    inch("5/16-18", 18, [20, 22, 32, 17], Some(775)),
    inch("3/8-16", 16, [24, 26, 36, 21], Some(868)),
    inch("7/16-14", 14, [28, 30, 40, 24], Some(946)),
    inch("1/2-13", 13, [32, 36, 48, 28], Some(1125)),
];

/// `[diameter, pitch, hole]` in hundredths of a millimetre, across flats in millimetres, nut height in tenths.
const fn metric(name: &'static str, hundredths: [i64; 3], flats: i64, nut_tenths: i64) -> Bolt {
    let [diameter, pitch, hole] = hundredths;
    let across_flats = Length::mm(flats);
    Bolt {
        name,
        diameter: hundredths_mm(diameter),
        pitch: Pitch::Metric(hundredths_mm(pitch)),
        hole: hundredths_mm(hole),
        across_flats,
        ring_head: usual_ring_head(across_flats),
        ring_head_known: KnownBy::Computed,
        nut_height: Length::tenths_mm(nut_tenths),
    }
}

/// `[diameter, hole, across flats, nut height]` in sixty-fourths of an inch, the spanner's head in thousandths.
const fn inch(name: &'static str, threads: u32, sixty_fourths: [i64; 4], ring_thousandths: Option<i64>) -> Bolt {
    let [diameter, hole, flats, nut] = sixty_fourths;
    let across_flats = Length::sixty_fourths(flats);
    let (ring_head, ring_head_known) = match ring_thousandths {
        Some(thousandths) => (Length::from_nm(thousandths * 25_400), KnownBy::Found),
        None => (usual_ring_head(across_flats), KnownBy::Computed),
    };
    Bolt {
        name,
        diameter: Length::sixty_fourths(diameter),
        pitch: Pitch::PerInch(threads),
        hole: Length::sixty_fourths(hole),
        across_flats,
        ring_head,
        ring_head_known,
        nut_height: Length::sixty_fourths(nut),
    }
}

const fn hundredths_mm(n: i64) -> Length {
    Length::from_nm(n * 10_000)
}

/// 1.55 times across flats.
const fn usual_ring_head(across_flats: Length) -> Length {
    Length::from_nm(across_flats.nm() / 100 * 155)
}

/// A thread as it is asked for in a shop, by its diameter: `M10`, `3/8-16`; of one that is not on the list `5/8"` where it is a whole
/// number of sixty-fourths of an inch, else `M9`.
pub fn thread_name(diameter: Length) -> String {
    match Bolt::of_thread(diameter) {
        Some(bolt) => bolt.name.to_owned(),
        None if diameter.nm() % Length::sixty_fourths(1).nm() == 0 => tape::show::hole_inches(diameter),
        None => format!("M{}", thousandths_bare(diameter)),
    }
}

impl Bolt {
    /// The bolt of that name; `None` when it is not on the list.
    pub fn named(name: &str) -> Option<&'static Self> {
        BOLTS.iter().find(|bolt| bolt.name == name)
    }

    /// The area that a thread bears tension with, in square millimetres.
    ///
    /// Metric `(pi/4) (d - 0.9382 P)^2`, inch `(pi/4) (D - 0.9743/n)^2`. Tables print it to three figures.
    ///
    /// Source: ISO 898-1, ASME B1.1.
    pub fn stress_area_mm2(&self) -> f64 {
        let across = match self.pitch {
            Pitch::Metric(pitch) => self.diameter.as_mm() - 0.9382 * pitch.as_mm(),
            Pitch::PerInch(threads) => self.diameter.as_mm() - 0.9743 * 25.4 / f64::from(threads),
        };
        FRAC_PI_4 * across * across
    }

    /// Across the flanks of the thread in millimetres, where thread and gap are equally wide: `d - 0.6495 P`. A rod that is threaded
    /// all along weighs about as much as a plain one of that diameter.
    ///
    /// Source: ISO 724; the same formula for inch threads, whose profile is the same.
    pub fn pitch_diameter_mm(&self) -> f64 {
        let pitch_mm = match self.pitch {
            Pitch::Metric(pitch) => pitch.as_mm(),
            Pitch::PerInch(threads) => 25.4 / f64::from(threads),
        };
        self.diameter.as_mm() - 0.6495 * pitch_mm
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// 3/8 in are 9.525 mm; 5/8, 15.875 mm, is no bolt on the list, and 9 mm no thread at all.
    #[test]
    fn a_thread_is_named_as_a_shop_asks_for_it() {
        let names = [9_525_000, 10_000_000, 15_875_000, 9_000_000].map(|nm| thread_name(Length::from_nm(nm)));
        assert_eq!(names, ["3/8-16", "M10", "5/8\"", "M9"]);
    }

    /// As thread tables print them.
    #[rstest]
    #[case("M5", 14.2)]
    #[case("M6", 20.1)]
    #[case("M8", 36.6)]
    #[case("M10", 58.0)]
    #[case("M12", 84.3)]
    #[case("M14", 115.0)]
    #[case("M16", 157.0)]
    #[case("1/4-20", 0.0318 * 645.16)]
    #[case("5/16-18", 0.0524 * 645.16)]
    #[case("3/8-16", 0.0775 * 645.16)]
    #[case("7/16-14", 0.1063 * 645.16)]
    #[case("1/2-13", 0.1419 * 645.16)]
    fn areas_are_those_of_thread_tables(#[case] name: &str, #[case] mm2: f64) {
        let area = Bolt::named(name).unwrap().stress_area_mm2();
        assert!((area - mm2).abs() < 0.005 * mm2, "{name}: {area}");
    }

    #[test]
    fn sizes_grow_together_and_every_bolt_goes_through_its_hole() {
        for list in [&BOLTS[..7], &BOLTS[7..]] {
            let grows = |size: fn(&Bolt) -> Length| list.is_sorted_by(|small, large| size(small) < size(large));
            assert!(grows(|bolt| bolt.diameter) && grows(|bolt| bolt.hole) && grows(|bolt| bolt.nut_height));
            assert!(grows(|bolt| bolt.across_flats) && grows(|bolt| bolt.ring_head));
        }
        for bolt in BOLTS {
            assert!(
                bolt.diameter < bolt.hole && bolt.hole < bolt.across_flats,
                "{}",
                bolt.name
            );
            let nut = bolt.nut_height.as_mm() / bolt.diameter.as_mm();
            assert!((0.8..0.96).contains(&nut), "{}: {nut}", bolt.name);
            let ring = bolt.ring_head.as_mm() / bolt.across_flats.as_mm();
            assert!((1.49..=1.551).contains(&ring), "{}: {ring}", bolt.name);
        }
    }
}
