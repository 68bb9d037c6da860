//! Which modules have to come out of an open box before another, and in which order they go in. Exact.
//!
//! A module comes out straight, most often up with the lid off. What its solids and the room for the hand that holds it
//! pass through must be free of other modules and of the box. The room for a hand may overlap that of another.

use tape::Length;

use super::straight::{Straight, straight};
use crate::{Cuboid, Face};

/// A module in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unit {
    /// Its solids.
    pub solids: Vec<Cuboid>,
    /// Room for the hand or the tool that lifts it, which moves with it.
    pub hand: Vec<Cuboid>,
}

/// Modules in an open box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Open<'a> {
    /// The modules.
    pub units: &'a [Unit],
    /// The box without its lid: walls, flange, tie rods that stay.
    pub fixed: &'a [Cuboid],
    /// The side that is open.
    pub through: Face,
    /// How far a module has to be lifted to be out.
    pub lift: Length,
}

/// A module that does not come out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Held {
    /// Something of the box is in the way, by its index: of the module asked for, or of one that would have to come out
    /// before it.
    ByBox {
        /// The module.
        unit: usize,
        /// What of the box.
        fixed: usize,
    },
    /// These keep each other in.
    ByEachOther(Vec<usize>),
}

/// What is directly over each module, and what of the box is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Over {
    /// For each module the others that its way out passes through, in order.
    pub units: Vec<Vec<usize>>,
    /// For each module the first part of the box that its way out passes through.
    pub fixed: Vec<Option<usize>>,
}

/// Finds what is over what.
pub fn over(open: &Open<'_>) -> Over {
    let met = |unit: &Unit, obstacles: &[Cuboid]| {
        let parts: Vec<Cuboid> = unit.solids.iter().chain(&unit.hand).copied().collect();
        let way = straight(&Straight {
            parts: &parts,
            obstacles,
            through: open.through,
            from: open.lift,
        });
        way.stops.iter().map(|stop| stop.obstacle).min()
    };
    let units = open.units.iter().enumerate().map(|(index, unit)| {
        let others = open.units.iter().enumerate().filter(|&(other, _)| other != index);
        others
            .filter(|(_, other)| met(unit, &other.solids).is_some())
            .map(|(other, _)| other)
            .collect()
    });
    Over {
        units: units.collect(),
        fixed: open.units.iter().map(|unit| met(unit, open.fixed)).collect(),
    }
}

impl Over {
    /// The modules that have to come out before one, in an order that works; none when it comes out at once.
    ///
    /// # Errors
    ///
    /// [`Held`] when it does not come out whatever is taken out before.
    pub fn before(&self, unit: usize) -> Result<Vec<usize>, Held> {
        // Everything over it, and over that.
        let mut needed = vec![unit];
        let mut next = 0;
        while next < needed.len() {
            let over = &self.units[needed[next]];
            let new: Vec<usize> = over.iter().copied().filter(|over| !needed.contains(over)).collect();
            needed.extend(new);
            next += 1;
        }
        needed.sort_unstable();
        let mut out = self.out(needed)?;
        out.pop();
        Ok(out)
    }

    /// An order in which all go in so that the last still does.
    ///
    /// # Errors
    ///
    /// [`Held`] when there is none.
    pub fn loading(&self) -> Result<Vec<usize>, Held> {
        let mut out = self.out((0..self.units.len()).collect())?;
        out.reverse();
        Ok(out)
    }

    /// The order in which these come out, of which each has all that is over it among them; what is over nothing last.
    fn out(&self, mut left: Vec<usize>) -> Result<Vec<usize>, Held> {
        let held = left.iter().find_map(|&unit| Some((unit, self.fixed[unit]?)));
        if let Some((unit, fixed)) = held {
            return Err(Held::ByBox { unit, fixed });
        }
        let mut out = Vec::new();
        while !left.is_empty() {
            let free = |&place: &usize| self.units[left[place]].iter().all(|over| !left.contains(over));
            match (0..left.len()).rev().find(free) {
                Some(place) => out.push(left.remove(place)),
                None => return Err(Held::ByEachOther(left)),
            }
        }
        Ok(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Point;

    fn block(lo: [i64; 3], hi: [i64; 3]) -> Cuboid {
        Cuboid::between(Point(lo.map(Length::mm)), Point(hi.map(Length::mm)))
    }

    fn unit(lo: [i64; 3], hi: [i64; 3]) -> Unit {
        Unit {
            solids: vec![block(lo, hi)],
            hand: Vec::new(),
        }
    }

    fn upward<'a>(units: &'a [Unit], fixed: &'a [Cuboid]) -> Open<'a> {
        Open {
            units,
            fixed,
            through: Face::Top,
            lift: Length::mm(1000),
        }
    }

    #[test]
    fn what_is_on_top_comes_out_first() {
        // 0 under 1 under 2, which lies across; 3 stands apart.
        let units = [
            unit([0, 0, 0], [100, 100, 100]),
            unit([0, 0, 100], [100, 100, 200]),
            unit([50, 0, 200], [150, 100, 300]),
            unit([200, 0, 0], [300, 100, 100]),
        ];
        let over = over(&upward(&units, &[]));
        assert_eq!(over.before(0), Ok(vec![2, 1]));
        assert_eq!(over.before(1), Ok(vec![2]));
        assert_eq!(over.before(2), Ok(vec![]));
        assert_eq!(over.before(3), Ok(vec![]));
        assert_eq!(over.loading(), Ok(vec![0, 1, 2, 3]));
    }

    #[test]
    fn a_lip_of_the_box_holds_what_is_under_it() {
        let units = [unit([0, 0, 0], [100, 100, 100]), unit([100, 0, 0], [200, 100, 100])];
        let lip = [block([190, 0, 200], [260, 100, 203])];
        let over = over(&upward(&units, &lip));
        assert_eq!(over.before(0), Ok(vec![]));
        assert_eq!(over.before(1), Err(Held::ByBox { unit: 1, fixed: 0 }));
        assert_eq!(over.loading(), Err(Held::ByBox { unit: 1, fixed: 0 }));
    }

    #[test]
    fn room_for_a_hand_decides_which_is_last() {
        // Side by side without a gap: the second needs a hand where the first stands.
        let mut units = [unit([0, 0, 0], [100, 100, 100]), unit([100, 0, 0], [200, 100, 100])];
        units[1].hand = vec![block([80, 30, 20], [100, 70, 100])];
        let found = over(&upward(&units, &[]));
        assert_eq!(found.before(1), Ok(vec![0]));
        assert_eq!(found.loading(), Ok(vec![1, 0]));
        // When each needs the other's place, neither comes out.
        units[0].hand = vec![block([100, 30, 20], [120, 70, 100])];
        assert_eq!(over(&upward(&units, &[])).loading(), Err(Held::ByEachOther(vec![0, 1])));
    }
}
