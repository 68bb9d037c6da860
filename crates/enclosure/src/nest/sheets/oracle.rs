//! Whether some parts go on one sheet, whichever way it is cut.

use std::collections::HashMap;

use super::bound::may_hold;
use super::fitting::{Rule, fill};
use super::job::{Job, Laid};
use super::patterns::Patterns;
use super::{Cutting, corner};
use crate::nest::cover::{Counts, Holds, Oracle};
use crate::nest::meter::{Dice, Meter};

/// The most steps for settling one sheet that is cut freely.
const FOR_ONE: u64 = 2_000_000;

/// Cut freely: quick fillings first, then every way.
pub(in crate::nest) struct Freely<'a> {
    job: &'a Job,
    known: HashMap<(usize, Counts), (Holds, Option<Laid>)>,
}

impl Freely<'_> {
    fn settled(&mut self, kind: usize, counts: &[u16], meter: &mut Meter<'_>) -> &(Holds, Option<Laid>) {
        let key = (kind, counts.to_vec());
        if !self.known.contains_key(&key) {
            let answer = self.look(kind, &key.1, meter);
            self.known.insert(key.clone(), answer);
        }
        &self.known[&key]
    }

    fn look(&self, kind: usize, counts: &Counts, meter: &mut Meter<'_>) -> (Holds, Option<Laid>) {
        meter.spend(20);
        if !may_hold(self.job, kind, counts) {
            return (Holds::No, None);
        }
        let pieces: Vec<usize> = (0..counts.len())
            .flat_map(|class| std::iter::repeat_n(class, usize::from(counts[class])))
            .collect();
        let mut dice = Dice::new();
        for cutting in [Cutting::Free, Cutting::Guillotine] {
            for rule in Rule::all() {
                let filled = fill(self.job, kind, &pieces, cutting, rule, &mut dice);
                meter.spend(filled.steps / 8);
                if filled.over.is_empty() {
                    return (Holds::Yes, Some(filled.laid));
                }
            }
        }
        corner::settle(self.job, kind, counts, FOR_ONE, meter)
    }
}

impl Oracle for Freely<'_> {
    fn holds(&mut self, stock: usize, counts: &[u16], meter: &mut Meter<'_>) -> Holds {
        self.settled(stock, counts, meter).0
    }

    fn rows_decide(&self) -> bool {
        false
    }
}

/// An oracle for either way of cutting, which also tells how.
pub(in crate::nest) enum Anyhow<'a> {
    Shear(Patterns<'a>),
    Freely(Freely<'a>),
}

impl<'a> Anyhow<'a> {
    /// `most_waste`: of one sheet, the most that may be wasted.
    pub(in crate::nest) fn new(job: &'a Job, cutting: Cutting, most_waste: i128) -> Self {
        match cutting {
            Cutting::Guillotine => Self::Shear(Patterns::new(job, most_waste)),
            Cutting::Free => Self::Freely(Freely {
                job,
                known: HashMap::new(),
            }),
        }
    }

    /// The layout of parts that are known to hold.
    pub(in crate::nest) fn laid(&mut self, kind: usize, counts: &[u16], meter: &mut Meter<'_>) -> Option<Laid> {
        match self {
            Self::Shear(patterns) => patterns.laid(kind, counts, meter),
            Self::Freely(freely) => freely.settled(kind, counts, meter).1.clone(),
        }
    }
}

impl Oracle for Anyhow<'_> {
    fn holds(&mut self, stock: usize, counts: &[u16], meter: &mut Meter<'_>) -> Holds {
        match self {
            Self::Shear(patterns) => patterns.holds(stock, counts, meter),
            Self::Freely(freely) => freely.holds(stock, counts, meter),
        }
    }

    fn rows_decide(&self) -> bool {
        false
    }
}
