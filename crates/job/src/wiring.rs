//! Working out the order of the wiring: a task, whose answer a person takes over as an edit.

use pack::wiring::{self, Answer, Goal, Proof};
use tape::Length;

use crate::units::chain_of;
use crate::{Evaluation, Id, Job, Seat, WiringEdit};

/// An order that was worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Ordered {
    /// What it was worked out for.
    pub goal: Goal,
    /// What takes it over.
    pub edit: WiringEdit,
    /// All links and leads in the boxes; leads to the drive not counted.
    pub length: Length,
    /// The chain from nearest to nearest, for comparison.
    pub nearest: Length,
    /// The most modules in series between touching neighbours.
    pub neighbour: u32,
    /// Links that cross another or pass over a terminal.
    pub tangles: u32,
    /// No order is shorter than this; `None` when none is shorter than it itself.
    pub at_least: Option<Length>,
}

/// Both goals side by side, shortest first; `None` when the pack of that kind is not laid out whole. `watch` is told the
/// steps of work so far and stops the search by returning false.
pub fn orders(
    job: &Job,
    evaluation: &Evaluation,
    kind: Id,
    work: u64,
    watch: &mut wiring::Watch<'_>,
) -> Option<[Ordered; 2]> {
    let chain = chain_of(job, evaluation, kind)?;
    let question = chain.question();
    let mut find = |goal| -> Option<Ordered> {
        let answer: Answer = wiring::order(&question, goal, work, watch)?;
        let seat = |&m: &usize| chain.seats[m].seat;
        let turned: Vec<Seat> = (0..chain.seats.len())
            .filter(|&m| answer.order.turned[m])
            .map(|m| chain.seats[m].seat)
            .collect();
        Some(Ordered {
            goal,
            edit: WiringEdit::Order {
                order: answer.order.order.iter().map(seat).collect(),
                turned,
            },
            length: Length::from_nm(answer.length),
            nearest: Length::from_nm(answer.nearest),
            neighbour: u32::try_from(answer.neighbour).unwrap_or(u32::MAX),
            tangles: u32::try_from(answer.tangles).unwrap_or(u32::MAX),
            at_least: match answer.proof {
                Proof::Proved => None,
                Proof::AtLeast(length) => Some(Length::from_nm(length)),
            },
        })
    };
    Some([find(Goal::Shortest)?, find(Goal::LowVolts)?])
}
