use proptest::prelude::*;
use rstest::rstest;

use super::*;

fn length(nm: std::ops::Range<i64>) -> impl Strategy<Value = Length> {
    nm.prop_map(Length::from_nm)
}

proptest! {
    #[test]
    fn pitches_are_even_and_never_wider_than_allowed(
        line in length(20_000_000..3_000_000_000),
        most in length(14_000_000..300_000_000),
    ) {
        let n = intervals(line, most);
        let stations: Vec<Length> = (0..=n).map(|i| station(line, n, i)).collect();
        let pitches: Vec<Length> = stations.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let widest = *pitches.iter().max().unwrap();
        let narrowest = *pitches.iter().min().unwrap();
        prop_assert!(widest <= most);
        prop_assert!(widest - narrowest <= Length::from_nm(1));
        prop_assert!(n == 1 || line > most * i64::from(n - 1), "one pitch less would do");
        prop_assert_eq!(stations[0], Length::ZERO);
        prop_assert_eq!(stations[n as usize], line);
    }

    #[test]
    fn holes_mirror_about_both_centre_lines_and_share_corners(
        lid in [length(100_000_000..2_000_000_000), length(100_000_000..2_000_000_000)],
        edge in length(5_000_000..15_000_000),
        most in length(14_000_000..200_000_000),
    ) {
        let holes = Holes::round(lid, edge, Length::mm(7), most);
        let pattern = holes.pattern;
        prop_assert_eq!(pattern.count, 2 * (pattern.intervals_long + pattern.intervals_short));
        prop_assert_eq!(pattern.line_length, lid[0] - edge * 2);
        prop_assert_eq!(pattern.line_width, lid[1] - edge * 2);
        let mut sorted = holes.centres.clone();
        sorted.sort_unstable();
        sorted.dedup();
        prop_assert_eq!(sorted.len(), pattern.count as usize, "no hole twice");
        let near = |a: Length, b: Length| (a - b).abs() <= Length::from_nm(1);
        for &[u, v] in &holes.centres {
            let on_line = u == edge || u == lid[0] - edge || v == edge || v == lid[1] - edge;
            prop_assert!(on_line);
            for [x, y] in [[lid[0] - u, v], [u, lid[1] - v]] {
                prop_assert!(holes.centres.iter().any(|other| near(other[0], x) && near(other[1], y)));
            }
        }
    }
}

#[rstest]
#[case::shorter_than_a_pitch(50, 75, 1)]
#[case::just_one(75, 75, 1)]
#[case::just_two(150, 75, 2)]
#[case::a_hair_more(151, 75, 3)]
fn as_few_pitches_as_the_widest_allows(#[case] line: i64, #[case] most: i64, #[case] n: u32) {
    assert_eq!(intervals(Length::mm(line), Length::mm(most)), n);
}

#[test]
fn a_hole_across_a_butt_joint_is_on_neither_bar() {
    // Flange 25 wide, hole line in its middle: the second hole of a side stands at 12.5 + 14.
    let over = [Length::mm(200), Length::mm(200)];
    let long = Place::long_bar(over, Length::mm(25), EndCut::Square);
    let short = Place::short_bar(over, Length::mm(25), Length::mm(25), EndCut::Square);
    let centre = [Length::tenths_mm(1_875), Length::tenths_mm(265)];
    for place in [long, short] {
        assert!(!place.holds(&hole(place.locate(centre))));
    }
}

#[test]
fn stations_mirror_to_the_nanometre_and_rounding_widens_no_pitch() {
    for n in 1..=12 {
        for line in (i64::from(n)..300).map(Length::from_nm) {
            let at = |i| station(line, n, i);
            let widest = Length::from_nm((line.nm() + i64::from(n) - 1) / i64::from(n));
            for i in 0..n {
                assert!(at(i + 1) - at(i) <= widest, "{i} of {n} on {line:?}");
                if 2 * i != n {
                    assert_eq!(at(i) + at(n - i), line, "{i} of {n}");
                }
            }
        }
    }
}

// 7 mm holes: 3.5 mm to the mitre is 4.95 mm along the bar.
#[rstest]
#[case::on_the_mitre(12_500, false)]
#[case::across_it(17_440, false)]
#[case::just_clear(17_460, true)]
#[case::beyond_it(5_000, false)]
fn a_hole_must_be_clear_of_the_mitre(#[case] x_um: i64, #[case] clear: bool) {
    let (over, width) = ([Length::mm(400), Length::mm(200)], Length::mm(25));
    let [x, y] = [x_um, 12_500].map(|um| Length::from_nm(um * 1_000));
    let bar = Place::long_bar(over, width, EndCut::Mitre45);
    for x in [x, over[0] - x] {
        assert_eq!(bar.holds(&hole(bar.locate([x, y]))), clear);
    }
}

fn hole(at: [Length; 2]) -> Hole {
    Drill {
        diameter: Length::mm(7),
        most_pitch: Length::mm(100),
        purpose: Purpose::LidScrew,
    }
    .hole(at)
}
