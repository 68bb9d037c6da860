//! From exact edges to cells, without losing an edge or the order of edges.
//!
//! A gap of 1/4 in is a third of a column on a small screen, and is what the person looks for. So two different
//! edges never share a cell and the thinnest gap keeps a free cell, at the price of scale; the true number is
//! printed over it. Where there is room the picture is to scale.

use tape::Length;

/// Where each edge lies, in cells from the first one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Snap {
    /// Edges in rising order with their cells.
    edges: Vec<(Length, u16)>,
    per_cell: Length,
}

/// Gives each different edge a cell of its own, the first one cell 0, the last at or before `max`.
///
/// - `per_cell`: the length that one cell should stand for; taken as 1 nm if it is not above zero.
/// - `sep`: the smallest step between two different edges in cells, at least 1; 2 keeps one cell free between them.
///
/// `None` when the edges do not fit: `sep x (number of different edges - 1) > max`.
///
/// A step that is shorter than `sep` cells gets `sep` cells; all longer ones keep one common scale, so that two
/// modules of one size are drawn in one size (to within a cell). The scale is `per_cell` if the result fits in `max`
/// with it, else the largest that fits. Where every step is long enough the whole is to scale.
pub fn snap(edges: impl IntoIterator<Item = Length>, per_cell: Length, max: u16, sep: u16) -> Option<Snap> {
    let edges = sorted(edges);
    let sep = sep.max(1);
    let per_cell = per_cell.max(least_per_cell(&edges, max, sep)?);
    let mut cells = Vec::with_capacity(edges.len());
    // Cells given to short steps, and the length of the long ones, up to an edge.
    let (mut given, mut long) = (0, 0);
    for (i, edge) in edges.iter().enumerate() {
        match i.checked_sub(1).map(|before| edge.nm() - edges[before].nm()) {
            Some(apart) if is_short(apart, per_cell, sep) => given += i64::from(sep),
            Some(apart) => long += apart,
            None => {}
        }
        let cell = given + div_round(long, per_cell);
        cells.push((*edge, u16::try_from(cell).unwrap_or(max).min(max)));
    }
    Some(Snap { edges: cells, per_cell })
}

/// Gives each edge the nearest cell of its scale, letting edges share cells; for a picture that is too small.
///
/// Order is kept, but not distance: what lies within one cell melts together.
pub fn snap_merged(edges: impl IntoIterator<Item = Length>, per_cell: Length, max: u16) -> Snap {
    let edges = sorted(edges);
    let per_cell = per_cell.max(Length::from_nm(1));
    let cells = edges.iter().map(|edge| {
        let cell = div_round(edge.nm() - edges[0].nm(), per_cell);
        u16::try_from(cell).unwrap_or(max).min(max)
    });
    Snap {
        edges: edges.iter().copied().zip(cells).collect(),
        per_cell,
    }
}

/// The smallest length per cell with which these edges end at or before `max`, or `None` if none does.
///
/// Steps shorter than `sep` cells count as `sep`; with 0 every step counts by its length alone.
pub fn scale_for(edges: impl IntoIterator<Item = Length>, max: u16, sep: u16) -> Option<Length> {
    least_per_cell(&sorted(edges), max, sep)
}

/// As [`scale_for`], for edges in rising order. The more a cell stands for, the shorter the whole: halves the range.
fn least_per_cell(edges: &[Length], max: u16, sep: u16) -> Option<Length> {
    let extent = edges
        .last()
        .zip(edges.first())
        .map_or(0, |(last, first)| last.nm() - first.nm());
    let fits = |per_cell: i64| {
        let (mut given, mut long) = (0_i64, 0_i128);
        for pair in edges.windows(2) {
            let apart = pair[1].nm() - pair[0].nm();
            if is_short(apart, Length::from_nm(per_cell), sep) {
                given += i64::from(sep);
            } else {
                long += i128::from(apart);
            }
        }
        long <= i128::from(per_cell) * i128::from(i64::from(max) - given)
    };
    let (mut too_small, mut enough) = (0, extent.saturating_add(1));
    if !fits(enough) {
        return None;
    }
    while enough - too_small > 1 {
        let middle = too_small + (enough - too_small) / 2;
        if fits(middle) {
            enough = middle;
        } else {
            too_small = middle;
        }
    }
    Some(Length::from_nm(enough))
}

/// Whether a step would come out shorter than `sep` cells.
fn is_short(apart: i64, per_cell: Length, sep: u16) -> bool {
    i128::from(apart) < i128::from(per_cell.nm()) * i128::from(sep)
}

impl Snap {
    /// The cell of an edge that took part, or `None` for another length.
    pub fn cell(&self, edge: Length) -> Option<u16> {
        let i = self.edges.binary_search_by_key(&edge, |(at, _)| *at).ok()?;
        Some(self.edges[i].1)
    }

    /// The last cell that an edge lies in.
    pub fn last(&self) -> u16 {
        self.edges.last().map_or(0, |(_, cell)| *cell)
    }

    /// The length that a cell stands for on the whole.
    pub fn overall(&self) -> Length {
        match (self.edges.first(), self.edges.last()) {
            (Some(first), Some(last)) if last.1 > 0 => Length::from_nm((last.0 - first.0).nm() / i64::from(last.1)),
            _ => self.per_cell,
        }
    }

    /// Whether every edge lies within a cell of where it would by the scale of the whole.
    pub fn is_even(&self) -> bool {
        let Some((first, _)) = self.edges.first() else {
            return true;
        };
        let by = i128::from(self.overall().nm().max(1));
        self.edges.iter().all(|(edge, cell)| {
            let off = i128::from((*edge - *first).nm()) - i128::from(*cell) * by;
            off.abs() <= by
        })
    }

    /// The length that a cell stands for: between two edges by proportion, beyond the ends by scale.
    pub fn length_at(&self, cell: i32) -> Length {
        let Some((first, last)) = self.edges.first().zip(self.edges.last()) else {
            return self.per_cell * i64::from(cell);
        };
        let beyond = |edge: &(Length, u16)| edge.0 + self.per_cell * (i64::from(cell) - i64::from(edge.1));
        if cell <= i32::from(first.1) {
            return beyond(first);
        }
        if cell >= i32::from(last.1) {
            return beyond(last);
        }
        let i = self.edges.partition_point(|(_, at)| i32::from(*at) <= cell);
        let ((low, low_cell), (high, high_cell)) = (self.edges[i - 1], self.edges[i]);
        let part = i128::from(cell) - i128::from(low_cell);
        let whole = i128::from(high_cell) - i128::from(low_cell);
        let into = i128::from((high - low).nm()) * part / whole;
        low + Length::from_nm(i64::try_from(into).unwrap_or(0))
    }
}

fn sorted(edges: impl IntoIterator<Item = Length>) -> Vec<Length> {
    let mut edges: Vec<Length> = edges.into_iter().collect();
    edges.sort_unstable();
    edges.dedup();
    edges
}

/// `length / per_cell` to the nearest whole number, halves upward.
fn div_round(length: i64, per_cell: Length) -> i64 {
    let (length, by) = (i128::from(length), i128::from(per_cell.nm()));
    i64::try_from((2 * length + by).div_euclid(2 * by)).unwrap_or(i64::MAX)
}

#[cfg(test)]
mod tests {
    use proptest::collection::vec;
    use proptest::prelude::*;

    use super::*;

    fn inches(marks: &[i64]) -> Vec<Length> {
        marks.iter().map(|n| Length::sixty_fourths(*n)).collect()
    }

    #[test]
    fn a_thin_gap_keeps_a_free_column() {
        // Wall, 1/2 in, module of 11 1/8 in, gap of 1/4 in, the next module, wall; 1 in a column, so 11 1/8 columns
        // for a module and 2 for each of the others.
        let edges = inches(&[0, 32, 32 + 712, 760, 760 + 712, 1504]);
        let snap = snap(edges.clone(), Length::inches(1), 40, 2).unwrap();
        let cells: Vec<u16> = edges.iter().map(|e| snap.cell(*e).unwrap()).collect();
        assert_eq!(cells, [0, 2, 13, 15, 26, 28]);
    }

    #[test]
    fn modules_of_one_size_stay_of_one_size_when_room_is_short() {
        let edges = inches(&[0, 32, 32 + 712, 760, 760 + 712, 1504]);
        let snap = snap(edges.clone(), Length::inches(1), 20, 2).unwrap();
        let cells: Vec<u16> = edges.iter().map(|e| snap.cell(*e).unwrap()).collect();
        assert_eq!(cells, [0, 2, 9, 11, 18, 20]);
    }

    #[test]
    fn one_edge_too_many_does_not_fit() {
        let edges = inches(&[0, 1, 2, 3]);
        assert!(snap(edges.clone(), Length::inches(1), 6, 2).is_some());
        assert_eq!(snap(edges, Length::inches(1), 5, 2), None);
    }

    #[test]
    fn merged_edges_share_a_cell_and_stay_inside() {
        let edges = inches(&[0, 1, 64, 6400]);
        let snap = snap_merged(edges.clone(), Length::inches(1), 10);
        let cells: Vec<u16> = edges.iter().map(|e| snap.cell(*e).unwrap()).collect();
        assert_eq!(cells, [0, 0, 1, 10]);
    }

    #[test]
    fn nothing_to_snap_is_no_trouble() {
        let none = snap([], Length::inches(1), 10, 2).unwrap();
        assert_eq!(none.last(), 0);
        assert_eq!(none.length_at(3), Length::inches(3));
        assert_eq!(none.cell(Length::ZERO), None);
    }

    fn any_edges() -> impl Strategy<Value = Vec<Length>> {
        vec(-400_000_000_i64..3_000_000_000, 1..30).prop_map(|nm| nm.into_iter().map(Length::from_nm).collect())
    }

    proptest! {
        #[test]
        fn edges_keep_their_order_and_distance_and_stay_inside(
            edges in any_edges(),
            per_cell in 1_i64..200_000_000,
            max in 0_u16..260,
            sep in 1_u16..4,
        ) {
            let mut rising = edges.clone();
            rising.sort_unstable();
            rising.dedup();
            let fits = (rising.len() - 1) * usize::from(sep) <= usize::from(max);
            let snapped = snap(edges, Length::from_nm(per_cell), max, sep);
            prop_assert_eq!(snapped.is_some(), fits);
            if let Some(snapped) = snapped {
                let cells: Vec<u16> = rising.iter().map(|e| snapped.cell(*e).unwrap()).collect();
                prop_assert!(cells.windows(2).all(|w| w[0] + sep <= w[1]), "{:?}", cells);
                prop_assert!(cells.iter().all(|cell| *cell <= max), "{:?}", cells);
                prop_assert_eq!(snapped.last(), *cells.last().unwrap());
            }
        }

        #[test]
        fn with_room_everything_is_to_scale_within_one_cell(
            steps in vec(2_000_i64..20_000, 1..12),
        ) {
            // Steps of 2 to 20 cells of 1 mm, in micrometres.
            let mut edges = vec![Length::mm(-3)];
            for step in steps {
                edges.push(edges[edges.len() - 1] + Length::from_nm(step * 1_000));
            }
            let snapped = snap(edges.clone(), Length::mm(1), 240, 2).unwrap();
            for edge in &edges {
                let true_mm = (*edge - edges[0]).as_mm();
                let off = f64::from(snapped.cell(*edge).unwrap()) - true_mm;
                prop_assert!(off.abs() < 1.0, "{} cells off", off);
            }
        }

        #[test]
        fn order_and_repetition_of_the_input_do_not_matter(
            (edges, mixed) in any_edges().prop_flat_map(|edges| {
                let twice: Vec<Length> = edges.iter().chain(&edges).copied().collect();
                (Just(edges), Just(twice).prop_shuffle())
            }),
        ) {
            let cell = Length::mm(25);
            prop_assert_eq!(snap(edges, cell, 200, 2), snap(mixed, cell, 200, 2));
        }

        #[test]
        fn the_length_at_an_edges_cell_is_that_edge(edges in any_edges(), cell in -5_i32..250) {
            let snapped = snap(edges.clone(), Length::mm(20), 240, 1).unwrap();
            for edge in edges {
                prop_assert_eq!(snapped.length_at(i32::from(snapped.cell(edge).unwrap())), edge);
            }
            prop_assert!(snapped.length_at(cell) <= snapped.length_at(cell + 1));
        }
    }
}
