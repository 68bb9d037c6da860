//! Space cut at the faces of what is forbidden.

use tape::Length;

use crate::{Axis, Cuboid, Point};

/// A cell: along each axis a place where a face is (an even number), or what lies between two of them (an odd one).
pub(super) type Cell = [usize; 3];

/// The cells, and which of them are free. Touching is allowed, so a cell that is no more than a face may be free.
pub(super) struct Grid {
    /// Along each axis the places of faces, the least first.
    places: [Vec<Length>; 3],
    /// Along each axis, for each cell, which forbidden cuboids it is within: a bit each, `words` numbers a cell.
    within: [Vec<u64>; 3],
    words: usize,
}

impl Grid {
    pub(super) fn of(forbidden: &[Cuboid], bounds: [[Length; 2]; 3]) -> Self {
        let words = forbidden.len().div_ceil(64);
        let places = Axis::ALL.map(|axis| {
            let [least, most] = bounds[axis.index()];
            let faces = forbidden.iter().flat_map(|c| [c.lo()[axis], c.hi()[axis]]);
            let mut places: Vec<Length> = faces
                .filter(|place| (least..=most).contains(place))
                .chain([least, Length::ZERO, most])
                .collect();
            places.sort_unstable();
            places.dedup();
            places
        });
        let within = Axis::ALL.map(|axis| {
            let places = &places[axis.index()];
            let mut bits = vec![0; (2 * places.len() - 1) * words];
            for (n, cuboid) in forbidden.iter().enumerate() {
                // Its open inside: from behind its low face to before its high one.
                let first = places.partition_point(|&place| place <= cuboid.lo()[axis]);
                let end = places.partition_point(|&place| place < cuboid.hi()[axis]);
                let cells = (2 * first).saturating_sub(1)..(2 * end).min(2 * places.len() - 1);
                for cell in cells {
                    bits[cell * words + n / 64] |= 1 << (n % 64);
                }
            }
            bits
        });
        Self { places, within, words }
    }

    /// Cells along an axis.
    pub(super) fn count(&self, axis: usize) -> usize {
        2 * self.places[axis].len() - 1
    }

    /// What it takes to look at a cell.
    pub(super) fn cost(&self) -> u64 {
        u64::try_from(40 + 6 * self.words).unwrap_or(u64::MAX)
    }

    pub(super) fn is_free(&self, cell: Cell) -> bool {
        let bits = |axis: usize| &self.within[axis][cell[axis] * self.words..][..self.words];
        let (x, y, z) = (bits(0), bits(1), bits(2));
        (0..self.words).all(|k| x[k] & y[k] & z[k] == 0)
    }

    /// The cell of no shift.
    pub(super) fn goal(&self) -> Cell {
        [0, 1, 2].map(|axis| 2 * self.places[axis].partition_point(|place| place.is_negative()))
    }

    /// The place of a cell along an axis: a face, or the middle between two of them.
    pub(super) fn place(&self, axis: usize, cell: usize) -> Length {
        let places = &self.places[axis];
        match cell % 2 {
            0 => places[cell / 2],
            _ => (places[cell / 2] + places[cell / 2 + 1]).half_down(),
        }
    }

    pub(super) fn point(&self, cell: Cell) -> Point {
        Point([0, 1, 2].map(|axis| self.place(axis, cell[axis])))
    }
}
