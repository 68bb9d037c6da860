use rstest::rstest;

use super::*;

/// One cavity for each berth, all different.
fn one_each(most: &[u32], string: u32) -> Vec<Divided> {
    let cavity = |(berth, &room): (usize, &u32)| Divided {
        divisions: vec![Division {
            berths: vec![berth],
            room,
            whole: room / string,
        }],
        sort: berth,
        pinned: false,
    };
    most.iter().enumerate().map(cavity).collect()
}

fn best(total: u32, string: u32, most: &[u32]) -> Way {
    let lot = Lot {
        total,
        string,
        stack: 1,
    };
    let choices = choices(&one_each(most, string), total, string);
    let all = choices
        .iter()
        .flat_map(|c| ways(lot, &c.berths, &vec![0; most.len()], most));
    all.min_by_key(|way| way.rank).expect("there is room")
}

#[rstest]
#[case::a_string_each(10, 5, &[6, 6], &[(0, 5), (1, 5)], 0)]
#[case::both_in_one_when_they_go_in(10, 5, &[7, 10], &[(1, 10)], 0)]
#[case::one_string_whole_and_one_split(48, 24, &[36, 12], &[(0, 36), (1, 12)], 1)]
#[case::whole_before_level(12, 4, &[9, 9], &[(0, 8), (1, 4)], 0)]
#[case::level_without_strings(9, 1, &[6, 6], &[(0, 5), (1, 4)], 0)]
#[case::the_two_that_keep_strings_whole(20, 10, &[19, 18, 11], &[(0, 10), (1, 10)], 0)]
#[case::few_boxes_before_whole_strings(10, 5, &[9, 4, 5, 1], &[(0, 5), (2, 5)], 0)]
#[case::split_rather_than_a_third_box(12, 6, &[10, 3, 3], &[(0, 9), (1, 3)], 1)]
fn shares_out(
    #[case] total: u32,
    #[case] string: u32,
    #[case] most: &[u32],
    #[case] expected: &[(usize, u32)],
    #[case] split: u32,
) {
    let way = best(total, string, most);
    assert_eq!(way.rank.1, split);
    assert_eq!(way.counts, expected);
}

#[test]
fn full_stacks_are_dealt_out_before_single_modules() {
    let lot = Lot {
        total: 60,
        string: 1,
        stack: 12,
    };
    let ways = ways(lot, &[0, 1], &[0, 0], &[36, 36]);
    assert!(ways.iter().any(|way| way.counts == [(0, 36), (1, 24)]), "{ways:?}");
}

#[test]
fn what_is_pinned_stays_in_its_berth() {
    let lot = Lot {
        total: 10,
        string: 5,
        stack: 1,
    };
    let ways = ways(lot, &[0, 1], &[0, 7], &[9, 9]);
    assert!(!ways.is_empty());
    for way in &ways {
        let second = way.counts.iter().find(|&&(berth, _)| berth == 1);
        assert!(second.is_some_and(|&(_, n)| n >= 7), "{ways:?}");
    }
}

/// Twenty cavities of a hundred: nothing but all of them holds two thousand.
#[test]
fn many_cavities_are_used_together() {
    let most = [100; 20];
    let mut cavities = one_each(&most, 1);
    for cavity in &mut cavities {
        cavity.sort = 0;
    }
    let choices = choices(&cavities, 2000, 1);
    assert_eq!(choices.len(), 1);
    assert_eq!(choices[0].berths.len(), 20);
}
