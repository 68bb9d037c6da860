//! The order of the wiring: which module follows which, and which way round each is built in.
//!
//! A link joins the plus of one module to the minus of the next, or like to like within a group; nothing else can be
//! said, so a wrong polarity cannot either. A link is as long as its way along the axes, `|dx| + |dy| + |dz|`.

mod bound;
mod cost;
mod counts;
mod disconnect;
mod exact;
pub mod fitting;
mod links;
mod low;
mod nearest;
mod search;

pub use counts::{LinkCounts, link_counts};
pub use disconnect::{Disconnected, best_places, disconnected};
pub use links::{End, Link, LinkKind, Pole, links, place_levels, touching, worst_neighbours};
pub use nearest::{mended, nearest};

use cost::Costs;

/// A place, whole nanometres along the three axes.
pub type Place = [i64; 3];

/// One module where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Module {
    /// Its plus terminal, as it stands now.
    pub plus: Place,
    /// Its minus terminal.
    pub minus: Place,
    /// Its body, from its lowest to its highest corner.
    pub body: [Place; 2],
    /// Which box it is in.
    pub in_box: u32,
    /// Whether it may be built in the other way round, its terminals changing places.
    pub may_turn: bool,
}

/// How the modules are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joined {
    /// Whole strings, each with its own leads to the pack's ends.
    Strings,
    /// Groups in parallel, one after the other: links from like to like through a group, and one from the plus of its
    /// last module to the minus of the first of the next, so that the current crosses every group from end to end.
    Groups,
}

/// What is to be put in order.
#[derive(Clone, Copy, Debug)]
pub struct Question<'a> {
    /// The modules: as many as series times parallel.
    pub modules: &'a [Module],
    /// In series.
    pub series: usize,
    /// In parallel.
    pub parallel: usize,
    /// How.
    pub joined: Joined,
    /// Where the leads of the pack's minus and plus go, if that counts.
    pub exits: [Option<Place>; 2],
    /// What the link in the middle of each string, or of the groups, has to pass through.
    pub disconnect: Option<Place>,
    /// Pairs that have to follow one another.
    pub locks: &'a [[usize; 2]],
    /// How near bodies are neighbours, nanometres.
    pub reach: i64,
}

/// An order: string after string or group after group, and which modules are turned (by module).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// The modules, by their place in the question.
    pub order: Vec<usize>,
    /// Whether each module, by its place in the question, is built in the other way round.
    pub turned: Vec<bool>,
}

/// What is wanted first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// The shortest links.
    Shortest,
    /// The lowest volts between neighbours, then the shortest links.
    LowVolts,
}

/// How sure an answer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proof {
    /// No order has shorter links.
    Proved,
    /// The links of no order are shorter than this, nanometres.
    AtLeast(i64),
}

/// An order with what speaks for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The order.
    pub order: Order,
    /// All links and leads, nanometres.
    pub length: i64,
    /// The chain from nearest to nearest, for comparison.
    pub nearest: i64,
    /// The largest number of modules in series between touching neighbours, both counted.
    pub neighbour: usize,
    /// Links that cross another or pass over a terminal.
    pub tangles: usize,
    /// How sure the length is.
    pub proof: Proof,
    /// Steps of search that it took.
    pub work: u64,
}

/// Steps of search that are enough for a hundred modules, about half a second.
pub const WORK: u64 = 12_000_000;

/// Tells how far a search is, and may stop it.
pub type Watch<'a> = dyn FnMut(u64) -> bool + 'a;

impl Question<'_> {
    /// Whether the numbers fit: as many modules as series times parallel, at least one, and locks that name modules.
    pub fn is_whole(&self) -> bool {
        let needed = self.series.checked_mul(self.parallel);
        let n = self.modules.len();
        n > 0 && needed == Some(n) && self.locks.iter().flatten().all(|&i| i < n)
    }
}

/// The order for a goal; `None` when the question is not whole. `watch` is told the steps so far and stops the search by
/// returning false: the best order so far is then the answer.
///
/// Small packs are proved by dynamic programming. Larger ones start from the chain from nearest to nearest and from rows
/// to and fro, are bettered by moving and turning pieces of the chain, and are told with a bound. Of orders within 2 %
/// of the shortest found, the one with the fewest links that cross or pass over a terminal is taken.
pub fn order(question: &Question<'_>, goal: Goal, work: u64, watch: &mut Watch<'_>) -> Option<Answer> {
    if !question.is_whole() {
        return None;
    }
    let costs = Costs::new(question);
    let start = nearest(question);
    let nearest = costs.length(&start);
    let found = match goal {
        Goal::Shortest => search::shortest(question, &costs, &start, work, watch),
        Goal::LowVolts => low::low_volts(question, &costs, &start, work, watch),
    };
    let length = costs.length(&found.order);
    let proof = if found.proved {
        Proof::Proved
    } else {
        let at_least = bound::at_least(question, &costs);
        if at_least >= length {
            Proof::Proved
        } else {
            Proof::AtLeast(at_least)
        }
    };
    Some(Answer {
        neighbour: worst_neighbours(question, &found.order).map_or(1, |(steps, _)| steps),
        tangles: links::tangles(question, &found.order),
        length,
        nearest,
        proof,
        work: found.work,
        order: found.order,
    })
}

/// All links and leads of an order, nanometres.
pub fn length(question: &Question<'_>, order: &Order) -> i64 {
    Costs::new(question).length(order)
}

#[cfg(test)]
mod tests;
