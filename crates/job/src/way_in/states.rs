//! What is lifted of a box, and what goes into it in its place: empty, half loaded, loaded.

use truck::lift::Hands;

use super::in_place::{Barred, lid_barred, module_barred};
use super::loading::{Held, Loading, Open};
use super::scene::Scene;
use super::{Outcome, Question};

/// How far a box is loaded when it is lifted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filled {
    /// No module is in it.
    Empty,
    /// The first half of its modules, in the order of loading; of an odd number the larger half.
    Half,
    /// All its modules are in it.
    Loaded,
}

impl Filled {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Empty => "empty",
            Self::Half => "half loaded",
            Self::Loaded => "loaded",
        }
    }
}

/// A box lifted in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// How far it is loaded.
    pub filled: Filled,
    /// The modules in it, by their places in the open box.
    pub within: Vec<usize>,
    /// Those that go in where it stands, first one first.
    pub rest: Vec<usize>,
    /// What is lifted, in grams; `None` while the mass of a module in it is not entered.
    pub mass_g: Option<i64>,
    /// What bars lid and modules where it stands: nothing for a box that goes in loaded.
    pub barred: Vec<Barred>,
    /// What keeps its modules out of the open box in whatever order, wherever that is loaded; not what lacks room for hand
    /// or spanner alone.
    pub held: Vec<Held>,
    /// Whether it goes in so: there is a way for the box, its modules go into it, and nothing is barred.
    pub goes: bool,
}

impl State {
    /// Who lifts it.
    pub fn hands(&self) -> Option<Hands> {
        truck::lift::hands(crate::Grams(self.mass_g?).kg()).ok()
    }
}

/// The states of one box. The way is the same in each, since its solids are; `others` stand in their places already.
pub(super) fn of(
    question: &Question,
    at: usize,
    others: &[usize],
    (outcome, loading): (&Outcome, &Loading),
) -> Vec<State> {
    let (open, moved) = (&question.loading[at], &question.boxes[at]);
    let count = open.modules.len();
    // Where no order of loading is known they are taken as they are listed.
    let order: Vec<usize> = if loading.order.len() == count {
        loading.order.clone()
    } else {
        (0..count).collect()
    };
    let has_way = outcome.way().is_some();
    let scene = Scene::of(question, at, others);
    let lid = lid_barred(&scene);
    // What goes in open has its lid put on in its place: that it goes on there was looked at with the way.
    let goes_in_open = outcome.way().is_some_and(|way| way.off.lid);
    let modules: Vec<Option<Barred>> = open.modules.iter().map(|m| module_barred(&scene, open, m)).collect();
    let held: Vec<Held> = loading.held.iter().filter(|held| !held.room_only).cloned().collect();
    let state = |filled: Filled, within: usize| {
        let (within, rest) = order.split_at(within);
        let lid = lid.clone().filter(|_| !goes_in_open && !rest.is_empty());
        let barred: Vec<Barred> = lid
            .into_iter()
            .chain(rest.iter().filter_map(|&m| modules[m].clone()))
            .collect();
        State {
            filled,
            mass_g: mass(open, moved.empty_g, within),
            within: within.to_vec(),
            rest: rest.to_vec(),
            goes: has_way && held.is_empty() && barred.is_empty(),
            held: held.clone(),
            barred,
        }
    };
    let mut states = vec![state(Filled::Empty, 0)];
    if count > 1 {
        states.push(state(Filled::Half, count.div_ceil(2)));
    }
    if count > 0 {
        states.push(state(Filled::Loaded, count));
    }
    states
}

/// Box and these modules; `None` while one of them has no mass.
fn mass(open: &Open, empty_g: i64, within: &[usize]) -> Option<i64> {
    let modules: Option<i64> = within.iter().map(|&m| open.modules[m].mass_g).sum();
    Some(empty_g + modules?)
}
