//! The job with every state before it: undo and redo cover everything, and cannot be wrong.

use std::sync::Arc;

use crate::{Edit, EditError, Job};

/// How many steps can be undone: a job is small, but a day's nudging should not fill the memory.
const MOST_STEPS: usize = 1_000;

/// A job, and the states it had before and after.
#[derive(Clone, Debug)]
pub struct History {
    now: Arc<Job>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    changes: u64,
}

#[derive(Clone, Debug)]
struct Step {
    edit: Edit,
    other: Arc<Job>,
}

impl History {
    /// Starts at `job` with nothing to undo.
    pub fn new(job: Job) -> Self {
        Self {
            now: Arc::new(job),
            undo: Vec::new(),
            redo: Vec::new(),
            changes: 0,
        }
    }

    /// The job as it is.
    pub fn job(&self) -> &Job {
        &self.now
    }

    /// The job as it is, to share with a worker.
    pub fn shared(&self) -> Arc<Job> {
        Arc::clone(&self.now)
    }

    /// A number that grows with every change, undo and redo: tells whether a late answer still belongs to this job.
    pub const fn changes(&self) -> u64 {
        self.changes
    }

    /// Changes the job. An edit that leaves the job as it was leaves no step.
    ///
    /// # Errors
    ///
    /// [`EditError`] when the edit does not fit the job, which is then unchanged.
    pub fn apply(&mut self, edit: Edit) -> Result<(), EditError> {
        let next = self.now.with(&edit)?;
        if next == *self.now {
            return Ok(());
        }
        let before = std::mem::replace(&mut self.now, Arc::new(next));
        self.changes += 1;
        // After an undo a nudge starts a step of its own.
        let continues = self.redo.is_empty() && self.undo.last().is_some_and(|step| edit.continues(&step.edit));
        self.redo.clear();
        if !continues {
            if self.undo.len() == MOST_STEPS {
                self.undo.remove(0);
            }
            self.undo.push(Step { edit, other: before });
        }
        Ok(())
    }

    /// Goes back one step; the words tell what was undone.
    pub fn undo(&mut self) -> Option<String> {
        let step = self.undo.pop()?;
        let words = step.edit.words(&self.now);
        let after = std::mem::replace(&mut self.now, step.other);
        self.redo.push(Step {
            edit: step.edit,
            other: after,
        });
        self.changes += 1;
        Some(words)
    }

    /// Goes forward again one step; the words tell what was done again.
    pub fn redo(&mut self) -> Option<String> {
        let step = self.redo.pop()?;
        let before = std::mem::replace(&mut self.now, step.other);
        let words = step.edit.words(&self.now);
        self.undo.push(Step {
            edit: step.edit,
            other: before,
        });
        self.changes += 1;
        Some(words)
    }
}
