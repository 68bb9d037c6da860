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
        let joined = self.undo.last().and_then(|step| edit.continues(&step.edit));
        self.take(edit, joined)
    }

    /// Changes the job as [`History::apply`] does, for one more step of a drag: nudges of one thing right after each
    /// other are one step whatever way they go.
    ///
    /// # Errors
    ///
    /// [`EditError`] when the edit does not fit the job, which is then unchanged.
    pub fn drag(&mut self, edit: Edit) -> Result<(), EditError> {
        let joined = self.undo.last().and_then(|step| edit.after_nudge(&step.edit));
        self.take(edit, joined)
    }

    /// Changes the job as the first step of a drag: a step of its own, whatever came before it.
    ///
    /// # Errors
    ///
    /// [`EditError`] when the edit does not fit the job, which is then unchanged.
    pub fn grab(&mut self, edit: Edit) -> Result<(), EditError> {
        self.take(edit, None)
    }

    /// Changes the job by `edit`; with `joined` the last step and this one are one, told by those words.
    fn take(&mut self, edit: Edit, joined: Option<Edit>) -> Result<(), EditError> {
        let next = self.now.with(&edit)?;
        if next == *self.now {
            return Ok(());
        }
        let before = std::mem::replace(&mut self.now, Arc::new(next));
        self.changes += 1;
        // After an undo a nudge starts a step of its own.
        let joined = joined.filter(|_| self.redo.is_empty());
        self.redo.clear();
        match (joined, self.undo.last_mut()) {
            (Some(joined), Some(step)) => step.edit = joined,
            _ => {
                if self.undo.len() == MOST_STEPS {
                    self.undo.remove(0);
                }
                self.undo.push(Step { edit, other: before });
            }
        }
        Ok(())
    }

    /// The edit that an undo would take back: right after a redo, the one that was made again.
    pub fn last_done(&self) -> Option<&Edit> {
        self.undo.last().map(|step| &step.edit)
    }

    /// The edit that a redo would make again: right after an undo, the one that was taken back.
    pub fn last_undone(&self) -> Option<&Edit> {
        self.redo.last().map(|step| &step.edit)
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
