//! Sizes round a view, and which of them stands farther out.

use tape::Length;

use crate::{Dim, Direction, Edge, Rect};

/// Sizes of a view under way.
#[derive(Default)]
pub(crate) struct Dims(Vec<Dim>);

impl Dims {
    /// Adds one size of `rect`, unless one with the same ends is there.
    pub(crate) fn add(&mut self, rect: &Rect, along: Direction, text: String, name: String) {
        let [from, to] = rect.ends(along);
        if self.0.iter().any(|d| d.along == along && d.from == from && d.to == to) {
            return;
        }
        let stands_on = match along {
            Direction::U => Edge::Bottom,
            Direction::V => Edge::Left,
        };
        self.0.push(Dim {
            along,
            from,
            to,
            stands_on,
            level: 0,
            length: to - from,
            text,
            name,
        });
    }

    /// The sizes with their levels, shorter ones first.
    pub(crate) fn done(mut self) -> Vec<Dim> {
        self.0.sort_by_key(|d| (d.along, d.length, d.from));
        let mut placed: Vec<Dim> = Vec::with_capacity(self.0.len());
        for mut dim in self.0 {
            let beside = |other: &Dim| other.to <= dim.from || dim.to <= other.from;
            let in_the_way = placed.iter().filter(|other| other.along == dim.along && !beside(other));
            dim.level = in_the_way.map(|other| other.level + 1).max().unwrap_or(0);
            placed.push(dim);
        }
        placed
    }
}

/// The middle of what two spans share, or of the nearer ends when they share nothing.
pub(crate) fn middle_of_shared(a: [Length; 2], b: [Length; 2]) -> Length {
    (a[0].max(b[0]) + a[1].min(b[1])).half_down()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn longer_sizes_stand_outside_and_equal_ones_are_told_once() {
        let span = |from: i64, to: i64| Rect {
            u0: Length::mm(from),
            u1: Length::mm(to),
            v0: Length::ZERO,
            v1: Length::mm(1),
        };
        let mut dims = Dims::default();
        for (from, to) in [(0, 100), (5, 45), (45, 90), (5, 45), (0, 60)] {
            dims.add(&span(from, to), Direction::U, String::new(), String::new());
        }
        let levels: Vec<(i64, usize)> = dims
            .done()
            .iter()
            .map(|d| (d.length.nm() / 1_000_000, d.level))
            .collect();
        assert_eq!(levels, [(40, 0), (45, 0), (60, 1), (100, 2)]);
    }
}
