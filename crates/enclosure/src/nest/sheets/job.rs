//! The request in grown sizes: parts and sheets with the kerf added, sheets without trim.

use tape::Length;

use super::tree::Node;
use super::{Part, Request};
use crate::nest::cover::Counts;
use crate::nest::{LeftOut, Supply, Why};

/// Parts of one grown size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Class {
    /// Grown sides as told (the longer first where it may be turned).
    pub(in crate::nest) sides: [i64; 2],
    /// Sides along x and y, each way it may lie and fits some sheet.
    pub(in crate::nest) ways: Vec<Way>,
    pub(in crate::nest) may_turn: bool,
    /// One for each piece: its id, and whether its sides are told the other way round.
    pub(in crate::nest) ids: Vec<(usize, bool)>,
}

/// One way for a part to lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Way {
    pub(in crate::nest) w: i64,
    pub(in crate::nest) h: i64,
    pub(in crate::nest) turned: bool,
}

impl Class {
    pub(in crate::nest) fn area(&self) -> i128 {
        area(self.sides)
    }
}

/// The area of grown sides.
pub(in crate::nest) fn area([w, h]: [i64; 2]) -> i128 {
    i128::from(w) * i128::from(h)
}

/// A kind of sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Kind {
    /// Grown usable sides; zero when trim uses it up.
    pub(in crate::nest) sides: [i64; 2],
    pub(in crate::nest) bought: bool,
    /// How many there are; `u16::MAX` when bought.
    pub(in crate::nest) on_hand: u16,
}

impl Kind {
    pub(in crate::nest) fn takes(&self, way: &Way) -> bool {
        way.w <= self.sides[0] && way.h <= self.sides[1]
    }
}

/// The whole of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Job {
    /// Largest area first.
    pub(in crate::nest) classes: Vec<Class>,
    pub(in crate::nest) counts: Counts,
    pub(in crate::nest) kinds: Vec<Kind>,
    pub(in crate::nest) left_out: Vec<LeftOut>,
}

/// A part in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Spot {
    pub(in crate::nest) class: usize,
    pub(in crate::nest) x: i64,
    pub(in crate::nest) y: i64,
    pub(in crate::nest) way: Way,
}

/// One sheet with its parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Laid {
    pub(in crate::nest) kind: usize,
    pub(in crate::nest) counts: Counts,
    pub(in crate::nest) spots: Vec<Spot>,
    /// How it is cut edge to edge, if it is.
    pub(in crate::nest) tree: Option<Node>,
}

impl Job {
    pub(in crate::nest) fn of(request: &Request) -> Self {
        let kinds: Vec<Kind> = request
            .stock
            .iter()
            .map(|stock| {
                let usable = stock.sides.map(|side| side - request.trim * 2);
                let used_up = usable.iter().any(|&side| side <= Length::ZERO);
                Kind {
                    sides: if used_up {
                        [0; 2]
                    } else {
                        usable.map(|side| (side + request.kerf).nm())
                    },
                    bought: stock.supply == Supply::Bought,
                    on_hand: stock.supply.number(),
                }
            })
            .collect();
        let mut job = Self {
            classes: Vec::new(),
            counts: Vec::new(),
            kinds,
            left_out: Vec::new(),
        };
        for part in request.parts.iter().filter(|part| part.quantity > 0) {
            job.put(part, request.kerf);
        }
        job.classes
            .sort_by_key(|class| (std::cmp::Reverse(class.area()), std::cmp::Reverse(class.sides)));
        job.counts = job
            .classes
            .iter()
            .map(|class| u16::try_from(class.ids.len()).unwrap_or(u16::MAX))
            .collect();
        job
    }

    fn put(&mut self, part: &Part, kerf: Length) {
        let told = part.sides.map(|side| (side + kerf).nm());
        let swapped = part.may_turn && told[0] < told[1];
        let sides = if swapped { [told[1], told[0]] } else { told };
        let lies = |way: &Way| self.kinds.iter().any(|kind| kind.takes(way));
        let mut ways = vec![Way {
            w: sides[0],
            h: sides[1],
            turned: false,
        }];
        if part.may_turn && sides[0] != sides[1] {
            ways.push(Way {
                w: sides[1],
                h: sides[0],
                turned: true,
            });
        }
        ways.retain(lies);
        if ways.is_empty() {
            self.left_out.push(LeftOut {
                id: part.id,
                quantity: part.quantity,
                why: Why::FitsNoStock,
            });
            return;
        }
        let ids = (0..part.quantity).map(|_| (part.id, swapped));
        let same = |class: &&mut Class| class.sides == sides && class.may_turn == part.may_turn;
        match self.classes.iter_mut().find(same) {
            Some(class) => class.ids.extend(ids),
            None => self.classes.push(Class {
                sides,
                ways,
                may_turn: part.may_turn,
                ids: ids.collect(),
            }),
        }
    }

    pub(in crate::nest) fn content(&self, counts: &[u16]) -> i128 {
        self.classes
            .iter()
            .zip(counts)
            .map(|(class, &n)| class.area() * i128::from(n))
            .sum()
    }

    /// The kinds of bought sheet that none of the others is at least as large as both ways, largest area first.
    pub(in crate::nest) fn largest_bought(&self) -> Vec<usize> {
        let bought: Vec<usize> = (0..self.kinds.len())
            .filter(|&k| self.kinds[k].bought && self.kinds[k].sides[0] > 0)
            .collect();
        let sides = |k: usize| self.kinds[k].sides;
        let covers = |a: usize, b: usize| sides(a)[0] >= sides(b)[0] && sides(a)[1] >= sides(b)[1];
        let mut largest: Vec<usize> = bought
            .iter()
            .copied()
            .filter(|&k| {
                !bought
                    .iter()
                    .any(|&other| other != k && covers(other, k) && (!covers(k, other) || other < k))
            })
            .collect();
        largest.sort_by_key(|&k| std::cmp::Reverse(area(sides(k))));
        largest
    }

    /// How many of some sheets are bought.
    pub(in crate::nest) fn bought(&self, sheets: &[Laid]) -> u32 {
        let bought = sheets.iter().filter(|laid| self.kinds[laid.kind].bought);
        u32::try_from(bought.count()).unwrap_or(u32::MAX)
    }
}
