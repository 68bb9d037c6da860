//! Where things go along a box while the person has not said: from where its modules stand.
//!
//! Ranges are along the box from the inside of the steel, sorted, each once.

use tape::Length;

/// Rows longer than this get two bars.
const LONG_ROW: Length = Length::mm(400);

/// Ranges that overlap joined into rows.
fn rows(ranges: &[[Length; 2]]) -> Vec<[Length; 2]> {
    let mut rows: Vec<[Length; 2]> = Vec::new();
    for &[from, to] in ranges {
        match rows.last_mut() {
            Some(last) if from < last[1] => last[1] = last[1].max(to),
            _ => rows.push([from, to]),
        }
    }
    rows
}

/// One in the middle of each row, two at its quarters when it is long, and so on.
pub(super) fn over_each(ranges: &[[Length; 2]]) -> Vec<Length> {
    let over = |[from, to]: [Length; 2]| {
        let count = u32::try_from((to - from).nm().div_euclid(LONG_ROW.nm()) + 1).unwrap_or(1);
        let places = enclosure::added::spread_evenly(count, to - from);
        places.into_iter().map(move |place| from + place)
    };
    rows(ranges).into_iter().flat_map(over).collect()
}

/// The near faces of walls in the middle of the gaps between rows, and the gaps too narrow for one.
pub(super) fn between_rows(ranges: &[[Length; 2]], thickness: Length) -> (Vec<Length>, Vec<Length>) {
    let (mut places, mut narrow) = (Vec::new(), Vec::new());
    for pair in rows(ranges).windows(2) {
        let gap = pair[1][0] - pair[0][1];
        if gap < thickness {
            narrow.push(gap);
        } else {
            places.push(pair[0][1] + (gap - thickness).half_down());
        }
    }
    (places, narrow)
}

/// Strips a fifth in from both ends of each range, those left out that would lie over another; moved in from the walls
/// where they must be.
pub(super) fn under_each(ranges: &[[Length; 2]], width: Length, side: Length) -> Vec<Length> {
    let half = width - width.half_down();
    let mut wanted: Vec<Length> = ranges
        .iter()
        .flat_map(|&[from, to]| {
            let fifth = Length::from_nm((to - from).nm() / 5);
            [from + fifth, to - fifth]
        })
        .map(|place| place.min(side - half).max(half))
        .collect();
    wanted.sort_unstable();
    let mut places: Vec<Length> = Vec::new();
    for place in wanted {
        if places.last().is_none_or(|&last| place - last >= width) {
            places.push(place);
        }
    }
    places
}

/// Whether a module over this range rests on two strips, one on each side of its middle.
pub(super) fn on_at_least_two([from, to]: [Length; 2], strips: &[Length], width: Length) -> bool {
    let half = width.half_down();
    let middle = (from + to).half_down();
    let under = |low: Length, high: Length| strips.iter().any(|&s| s + half > low && s - half < high);
    let left = strips.iter().any(|&s| s <= middle && s + half > from);
    let right = strips.iter().any(|&s| s >= middle && s - half < to);
    left && right && under(from, to)
}

/// The lines that divide a side into equal fields.
pub(super) fn fields(count: u32, side: Length) -> Vec<Length> {
    let line = |i: i64| Length::from_nm(side.nm() * i / (i64::from(count) + 1));
    (1..=i64::from(count)).map(line).collect()
}

/// The widest field that lines leave of a side; `None` when a line lies beyond it.
pub(super) fn widest_field(lines: &[Length], side: Length) -> Option<Length> {
    let mut all = vec![Length::ZERO, side];
    all.extend(lines);
    all.sort_unstable();
    if all.first() != Some(&Length::ZERO) || all.last() != Some(&side) {
        return None;
    }
    all.windows(2).map(|pair| pair[1] - pair[0]).max()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm<const N: usize>(places: [i64; N]) -> Vec<Length> {
        places.into_iter().map(Length::mm).collect()
    }

    fn ranges<const N: usize>(ranges: [[i64; 2]; N]) -> Vec<[Length; 2]> {
        ranges.into_iter().map(|range| range.map(Length::mm)).collect()
    }

    #[test]
    fn bars_lie_over_rows_not_over_modules() {
        // Two modules side by side that overlap lengthwise are one row.
        let rows = ranges([[0, 200], [100, 300], [310, 910]]);
        assert_eq!(over_each(&rows), mm([150, 460, 760]));
    }

    #[test]
    fn a_divider_stands_in_the_middle_of_its_gap() {
        let rows = ranges([[0, 200], [206, 400], [401, 600]]);
        assert_eq!(between_rows(&rows, Length::mm(2)), (mm([202]), mm([1])));
    }

    #[test]
    fn strips_lie_a_fifth_in_and_never_over_each_other() {
        let strips = under_each(&ranges([[0, 200], [10, 210]]), Length::mm(30), Length::mm(300));
        assert_eq!(strips, mm([40, 160]));
        assert!(on_at_least_two(
            [Length::mm(10), Length::mm(210)],
            &strips,
            Length::mm(30)
        ));
        assert!(!on_at_least_two(
            [Length::mm(120), Length::mm(260)],
            &strips,
            Length::mm(30)
        ));
    }

    #[test]
    fn fields_are_equal_and_the_widest_is_found() {
        assert_eq!(fields(2, Length::mm(600)), mm([200, 400]));
        assert_eq!(widest_field(&mm([150, 400]), Length::mm(600)), Some(Length::mm(250)));
        assert_eq!(widest_field(&mm([700]), Length::mm(600)), None);
    }
}
