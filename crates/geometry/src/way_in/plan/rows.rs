//! Free stretches along the first axis, row after row.

use crate::plane::Span;

/// For each of many rows, the stretches that are free, in order.
#[derive(Clone, Debug, Default)]
pub(super) struct Rows {
    ends: Vec<usize>,
    spans: Vec<Span>,
}

impl Rows {
    /// Adds a row: what of `whole` no open stretch of `taken` covers. `taken` is left empty.
    pub(super) fn add(&mut self, whole: Span, taken: &mut Vec<Span>) {
        taken.sort_unstable_by(|a, b| a[0].total_cmp(&b[0]));
        let mut from = whole[0];
        for &[low, high] in taken.iter() {
            if low > whole[1] {
                break;
            }
            if low >= from {
                self.spans.push([from, low]);
            }
            from = from.max(high);
        }
        if from <= whole[1] {
            self.spans.push([from, whole[1]]);
        }
        taken.clear();
        self.ends.push(self.spans.len());
    }

    /// How many stretches there are in all.
    pub(super) fn stretches(&self) -> usize {
        self.spans.len()
    }

    /// The stretches of one row, by their numbers.
    pub(super) fn row(&self, row: usize) -> std::ops::Range<usize> {
        let first = if row == 0 { 0 } else { self.ends[row - 1] };
        first..self.ends[row]
    }

    /// One stretch.
    pub(super) fn span(&self, stretch: usize) -> Span {
        self.spans[stretch]
    }

    /// The row that a stretch is of.
    pub(super) fn row_of(&self, stretch: usize) -> usize {
        self.ends.partition_point(|&end| end <= stretch)
    }

    /// The stretch of a row that holds a place.
    pub(super) fn holding(&self, row: usize, along: f64) -> Option<usize> {
        self.row(row)
            .find(|&s| self.spans[s][0] <= along && along <= self.spans[s][1])
    }
}
