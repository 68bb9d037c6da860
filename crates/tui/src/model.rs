//! Everything the screens show, and nothing else: no terminal, no clock, no file, no thread.

use std::path::PathBuf;
use std::sync::Arc;

use job::layout::Aim;
use job::nesting::Nesting;
use job::way_in::{Service, WaysIn};
use job::what_if::{Gain, Tolerance, WhatIf};
use job::{EditError, Evaluation, Field, Finding, Grave, History, Id, Job, evaluate, evaluate_after};

use crate::form::{Form, Refusal, Typing};
use crate::page::Page;
use crate::pages::anchor;
use crate::pages::boxes::changed::{Changed, bought};
use crate::pages::layout::Sheet;
use crate::pages::papers::Papers;
use crate::task::{Found, Task};
use crate::theme::{Meaning, Theme};

/// The state of the screens.
#[derive(Clone, Debug)]
pub struct Model {
    /// The open job with its history.
    pub history: History,
    /// Everything derived from it.
    pub evaluation: Evaluation,
    /// The job that it was derived from.
    pub evaluated: Arc<Job>,
    /// Its file, when it has one.
    pub file: Option<PathBuf>,
    /// Why it cannot be saved there, when somebody else has it open.
    pub read_only: Option<String>,
    /// The job as it is in its file.
    pub saved: Arc<Job>,
    /// The page shown.
    pub page: Page,
    /// The start page.
    pub start: Start,
    /// The Tape page.
    pub tape: Form,
    /// What the Tape page shows beyond its rows.
    pub taping: Taping,
    /// The Modules page.
    pub modules: Form,
    /// The Pack page.
    pub pack: Form,
    /// The Boxes page.
    pub boxes: Form,
    /// The Units page.
    pub units: Form,
    /// The Truck page.
    pub truck: Form,
    /// The place in the chain of the wiring that is selected.
    pub link: usize,
    /// The Layout page.
    pub sheet: Sheet,
    /// The Papers page.
    pub papers: Papers,
    /// What the last edit changed, when it was made on the Boxes page.
    pub changed: Option<Changed>,
    /// Today's date as it stands on papers.
    pub date: String,
    /// What lies over the page.
    pub overlay: Option<Overlay>,
    /// The line that was just filled in, until the shell has done what it is for: asked again when that fails.
    pub asked: Option<Prompt>,
    /// The line that tells what just happened.
    pub message: Message,
    /// The running task.
    pub running: Option<Running>,
    /// Layouts that were found while something else had the keys.
    pub ready: Option<Box<Offer>>,
    /// Layouts that are offered under a long text that lies over them.
    pub behind: Option<Box<Offer>>,
    /// What one more module would take, as far as it was asked.
    pub takes: Option<Takes>,
    /// What is cut from which sheet and bar, as it was asked last.
    pub nests: Option<Nests>,
    /// Which way each box goes in, as it was asked last.
    pub ways: Option<Ways>,
    /// Colours and characters.
    pub theme: Theme,
    /// Whether the mouse is ours.
    pub mouse: bool,
    /// Whether the cursor still walks from one needed value to the next.
    pub walking: bool,
    /// Whether a page of rows is shown the other way: with its picture in a window that has no room for both; the Truck
    /// page, whose picture is always there, without it.
    pub other_way: bool,
    /// Columns and rows of the window.
    pub size: (u16, u16),
}

/// What the Tape page shows beyond its rows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Taping {
    /// Whether it also tells how much of each reading is checked, and how far it is off.
    pub details: bool,
}

/// What the start page offers.
#[derive(Clone, Debug, Default)]
pub struct Start {
    /// The row under the cursor.
    pub cursor: usize,
    /// Work that a killed program left behind.
    pub left_behind: Vec<LeftBehind>,
}

/// Work that a killed program left behind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftBehind {
    /// The recovery file; of a job that has a file, the job's file.
    pub path: PathBuf,
    /// What it holds, in words.
    pub words: String,
    /// Whether it can be read.
    pub readable: bool,
    /// Whether the job has a file, which is opened then.
    pub has_file: bool,
}

/// What lies over the page.
#[derive(Clone, Debug)]
pub enum Overlay {
    /// The keys of the page, with help; the first line shown.
    Help(u16),
    /// All findings; the first line shown.
    Findings(u16),
    /// All that the last edit changed; the first line shown.
    Changed(u16),
    /// A question with yes and no.
    Ask(Ask),
    /// A line to fill in.
    Prompt(Prompt),
    /// The choices of the value under the cursor.
    Pick(Pick),
    /// Layouts to choose from, or to leave.
    Offer(Box<Offer>),
    /// A task to choose.
    Choose(Choose),
    /// What one more module would take.
    Takes,
    /// What is cut from which sheet and bar.
    Nests,
    /// Which way each box goes in.
    Ways,
    /// Orders of the wiring to choose from, and the one under the cursor.
    Orders(Box<[job::wiring::Ordered; 2]>, usize),
}

/// A question.
#[derive(Clone, Debug)]
pub struct Ask {
    /// The question.
    pub words: String,
    /// What yes does, in a word.
    pub yes: &'static str,
    /// What no does, in a word.
    pub no: &'static str,
    /// What it is about.
    pub about: About,
}

/// What a question is about.
#[derive(Clone, Debug, PartialEq)]
pub enum About {
    /// Leaving with changes that are not saved: yes saves first, no drops them.
    Leave {
        /// To the shell, not to the start page.
        program: bool,
    },
    /// Work left behind by a killed program for the file being opened: yes takes it.
    Recover,
    /// Writing over a file that is there.
    Overwrite(PathBuf),
    /// Removing something with what belongs to it.
    Remove(job_edit::Removal),
    /// Taking over what a task found.
    Take(Box<job::Edit>),
}

/// What can be removed with a question first.
pub mod job_edit {
    use job::Id;

    /// What is to be removed.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Removal {
        /// A cavity with its boxes.
        Cavity(Id),
        /// A kind with its modules.
        Kind(Id),
        /// A box with its modules.
        Box(Id),
    }
}

/// A line to fill in.
#[derive(Clone, Debug)]
pub struct Prompt {
    /// What is asked for.
    pub label: &'static str,
    /// What it takes.
    pub help: String,
    /// What is being typed.
    pub typing: Typing,
    /// What it is for.
    pub goal: Goal,
}

/// What a filled-in line is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Goal {
    /// The job's file.
    SaveAs {
        /// Leave when saved: the program (true) or the job (false).
        then_leave: Option<bool>,
    },
    /// A file to open.
    Open,
    /// A folder for the papers.
    Papers,
    /// A test sheet to read.
    Sheet,
    /// Where a reading was taken.
    ReadingLine(Id, usize),
    /// A reading of a line once more.
    Again(Id, job::Line),
    /// What holds of a line from corner to corner.
    Statement(Id, tape::survey::Line),
}

/// The choices of a value, to take one of.
#[derive(Clone, Debug)]
pub struct Pick {
    /// The value.
    pub field: Field,
    /// The words to choose from; at least one.
    pub options: Vec<&'static str>,
    /// The one under the cursor.
    pub cursor: usize,
    /// The letters typed so far.
    pub letters: String,
}

/// Layouts to choose from, or to leave.
#[derive(Clone, Debug)]
pub struct Offer {
    /// The state of the job that they are for.
    pub job: Arc<Job>,
    /// What was found; at least one layout.
    pub found: Found,
    /// Which of its layouts is shown.
    pub shown: usize,
}

impl Offer {
    /// The job as the layout that is shown would make it.
    pub fn preview(&self) -> Option<&Evaluation> {
        self.found.candidates.get(self.shown).map(|c| &c.evaluation)
    }
}

/// A task to choose out of a few.
#[derive(Clone, Debug)]
pub struct Choose {
    /// What is asked.
    pub question: &'static str,
    /// The tasks, each with what it does in words.
    pub tasks: Vec<(Task, String)>,
    /// The one under the cursor.
    pub cursor: usize,
}

/// What one more module would take, as far as it is worked out.
#[derive(Clone, Debug)]
pub struct Takes {
    /// The state of the job that was asked about.
    pub job: Arc<Job>,
    /// What is laid out.
    pub aim: Aim,
    /// How wrong each reading may be before the layout as it is no longer fits.
    pub tolerances: Vec<Tolerance>,
    /// The smallest changes; `None` until it is known what goes in now.
    pub what_if: Option<WhatIf>,
    /// What each keep-out costs.
    pub gains: Vec<Gain>,
    /// What is missing for an answer.
    pub needs: Option<String>,
    /// Whether all of it is worked out.
    pub is_whole: bool,
    /// The row under the cursor, among those that can hold it.
    pub cursor: usize,
}

/// What is cut from which sheet and bar.
#[derive(Clone, Debug)]
pub struct Nests {
    /// The state of the job that was asked about.
    pub job: Arc<Job>,
    /// The answer.
    pub nesting: Nesting,
    /// The nest that is shown, from 0.
    pub at: usize,
}

/// Which way each box goes in.
#[derive(Clone, Debug)]
pub struct Ways {
    /// The state of the job that was asked about.
    pub job: Arc<Job>,
    /// The answer.
    pub found: WaysIn,
    /// The box that is shown, in the order they go in.
    pub at: usize,
    /// The pose that is shown, from 0.
    pub step: usize,
    /// What comes off before the selected module comes out, where that is asked.
    pub service: Option<Service>,
    /// The page of it that is shown, from 0.
    pub page: usize,
}

/// The line that tells what just happened.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Message {
    /// The words.
    pub words: String,
    /// How grave they are.
    pub grave: Tone,
}

/// How grave a message is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tone {
    /// It went well.
    #[default]
    Fine,
    /// It did not.
    Refused,
}

/// What is known of the best layout so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Best {
    /// Modules placed.
    pub count: u32,
    /// At most this many can be.
    pub at_most: u32,
    /// Whether that is with a smaller margin than the one asked for.
    pub narrower: bool,
}

/// A running task.
#[derive(Clone, Debug)]
pub struct Running {
    /// What it does.
    pub task: Task,
    /// The state of the job it started from.
    pub job: Arc<Job>,
    /// Whether its result is taken over without asking: the first layout of a job.
    pub first: bool,
    /// Work done, and work allowed.
    pub done: (u64, u64),
    /// The best layout so far, when there is one to tell of.
    pub best: Option<Best>,
    /// The job as the best layout so far would make it.
    pub live: Option<Box<Evaluation>>,
    /// Whether that is drawn, and not the job as it is.
    pub watching: bool,
    /// Whether it was told to stop.
    pub stopping: bool,
}

/// Something for the shell to do.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Save the job to this file.
    Save(PathBuf),
    /// Open this file.
    Open(PathBuf),
    /// Start a job that has no file yet.
    Begin(Box<Job>),
    /// Take the work left behind in this recovery file.
    Adopt(PathBuf),
    /// Answer to the question whether to take the work left behind for the file being opened.
    Recover(bool),
    /// Start a task.
    Start(Task),
    /// Stop the running one.
    Stop,
    /// Make all papers of the job as it is.
    MakePapers,
    /// Write the ticked papers into this folder.
    WritePapers(PathBuf),
    /// Read this test sheet of units.
    ReadSheet(PathBuf),
    /// Stop until the shell resumes the program.
    Suspend,
    /// Take or give back the mouse.
    Mouse(bool),
    /// Close the job, dropping what is not saved.
    Close,
    /// Leave the program.
    Quit,
}

impl Model {
    /// The start page.
    pub fn new(theme: Theme) -> Self {
        let job = Job::default();
        Self {
            evaluation: evaluate(&job),
            saved: Arc::new(job.clone()),
            evaluated: Arc::new(job.clone()),
            history: History::new(job),
            file: None,
            read_only: None,
            page: Page::Start,
            start: Start::default(),
            tape: Form::default(),
            taping: Taping::default(),
            modules: Form::default(),
            pack: Form::default(),
            boxes: Form::default(),
            units: Form::default(),
            truck: Form::default(),
            link: 0,
            sheet: Sheet::default(),
            papers: Papers::default(),
            changed: None,
            date: String::new(),
            overlay: None,
            asked: None,
            message: Message::default(),
            running: None,
            ready: None,
            behind: None,
            takes: None,
            nests: None,
            ways: None,
            theme,
            mouse: true,
            walking: false,
            other_way: false,
            size: (80, 24),
        }
    }

    /// Shows `job`. A job without a file counts as not saved unless it is one of the examples as it stands.
    pub fn show_job(&mut self, job: Job, file: Option<PathBuf>, page: Page) {
        let papers = Papers {
            unticked: std::mem::take(&mut self.papers.unticked),
            ..Papers::default()
        };
        let fresh = Self {
            mouse: self.mouse,
            size: self.size,
            date: std::mem::take(&mut self.date),
            papers,
            ..Self::new(self.theme)
        };
        *self = fresh;
        self.evaluation = evaluate(&job);
        self.history = History::new(job);
        self.evaluated = self.history.shared();
        self.saved = self.history.shared();
        self.file = file;
        self.page = page;
        self.sheet.settle(&self.evaluation);
    }

    /// The job as it is.
    pub fn job(&self) -> &Job {
        self.history.job()
    }

    /// Whether the job differs from its file.
    pub fn is_changed(&self) -> bool {
        *self.saved != *self.job()
    }

    /// Makes an edit; a refusal is told in the message line and given back.
    ///
    /// # Errors
    ///
    /// [`Refusal`] with what is wrong and how to mend it; the job is unchanged.
    pub fn apply(&mut self, edit: job::Edit) -> Result<(), Refusal> {
        self.change(edit, History::apply)
    }

    /// Makes an edit as the first step of a drag, or as one more when it is `begun`: it is undone as a whole.
    ///
    /// # Errors
    ///
    /// As [`Model::apply`].
    pub fn drag(&mut self, edit: job::Edit, begun: bool) -> Result<(), Refusal> {
        self.change(edit, if begun { History::drag } else { History::grab })
    }

    fn change(
        &mut self,
        edit: job::Edit,
        by: fn(&mut History, job::Edit) -> Result<(), EditError>,
    ) -> Result<(), Refusal> {
        let words = edit.words(self.job());
        let held = anchor::hold(self);
        let changes = self.history.changes();
        let before = self.job().clone();
        match by(&mut self.history, edit) {
            Ok(()) => {
                // An edit that leaves the job as it was leaves what the one before changed.
                if self.history.changes() != changes {
                    self.refresh_and_compare(&words);
                }
                self.stay_on(held, anchor::keep);
                let anew = self.job().gauges_read_anew(&before);
                self.tell([vec![words], anew].concat().join("; "));
                Ok(())
            }
            Err(refused) => {
                let refusal = Refusal {
                    problem: refused.to_string(),
                    mend: refused.mend(),
                };
                self.refuse(format!("{}; {}", refusal.problem, refusal.mend));
                Err(refusal)
            }
        }
    }

    /// Takes back the last edit, and gives it in words.
    pub fn undo(&mut self) -> Option<String> {
        let held = anchor::hold(self);
        let words = self.history.undo()?;
        self.refresh_and_compare(&format!("undo of {words}"));
        self.stay_on(held, anchor::keep_or_before);
        Some(words)
    }

    /// Makes an edit again that was taken back, and gives it in words.
    pub fn redo(&mut self) -> Option<String> {
        let held = anchor::hold(self);
        let words = self.history.redo()?;
        self.refresh_and_compare(&format!("redo of {words}"));
        self.stay_on(held, anchor::keep_or_before);
        Some(words)
    }

    /// Takes the window's new size: what is told in a narrow one takes more rows.
    pub fn resize(&mut self, size: (u16, u16)) {
        let held = anchor::hold(self);
        self.size = size;
        self.stay_on(held, anchor::keep);
    }

    /// Keeps the cursor on what it is on: an edit lets rows above it come and go, and the next key must not mean
    /// another reading.
    fn stay_on(&mut self, held: Option<anchor::Anchor>, how: fn(&mut Self, &anchor::Anchor)) {
        if let Some(held) = held {
            how(self, &held);
        }
        let rows = crate::pages::rows(self);
        if let Some(form) = self.form_mut() {
            form.settle(&rows);
        }
    }

    /// Derives everything again after the job changed, and gives what there was before.
    pub fn refresh(&mut self) -> (Arc<Job>, Evaluation) {
        let evaluation = evaluate_after(self.job(), Some((&self.evaluated, &self.evaluation)));
        let before = std::mem::replace(&mut self.evaluation, evaluation);
        let job = std::mem::replace(&mut self.evaluated, self.history.shared());
        self.sheet.settle(&self.evaluation);
        (job, before)
    }

    /// The same; on the Boxes page what changed is kept to be shown, and on others what was kept is dropped.
    fn refresh_and_compare(&mut self, words: &str) {
        let before = bought(self, &self.evaluated);
        let (job, evaluation) = self.refresh();
        self.changed = (self.page == Page::Boxes).then(|| Changed {
            bought: before,
            ..Changed::of(words.to_owned(), (&job, &evaluation), (self.job(), &self.evaluation))
        });
    }

    /// Tells what went well.
    pub fn tell(&mut self, words: impl Into<String>) {
        self.message = Message {
            words: words.into(),
            grave: Tone::Fine,
        };
    }

    /// Tells what could not be done: at the line that was just filled in for it, which stays open with what was typed,
    /// else in the message line.
    pub fn refuse_asked(&mut self, problem: impl Into<String>, mend: impl Into<String>) {
        let refusal = Refusal {
            problem: problem.into(),
            mend: mend.into(),
        };
        match self.asked.take() {
            Some(mut prompt) => {
                prompt.typing.refused = Some(refusal);
                self.overlay = Some(Overlay::Prompt(prompt));
                self.tell("");
            }
            None => self.refuse(format!("{}; {}", refusal.problem, refusal.mend)),
        }
    }

    /// Tells what was refused, and why.
    pub fn refuse(&mut self, words: impl Into<String>) {
        self.message = Message {
            words: words.into(),
            grave: Tone::Refused,
        };
    }

    /// The form of the page shown, when it is one of rows.
    pub fn form(&self) -> Option<&Form> {
        match self.page {
            Page::Tape => Some(&self.tape),
            Page::Modules => Some(&self.modules),
            Page::Pack => Some(&self.pack),
            Page::Boxes => Some(&self.boxes),
            Page::Units => Some(&self.units),
            Page::Truck => Some(&self.truck),
            Page::Start | Page::Layout | Page::Wiring | Page::Papers => None,
        }
    }

    /// The form of the page shown, to change.
    pub fn form_mut(&mut self) -> Option<&mut Form> {
        match self.page {
            Page::Tape => Some(&mut self.tape),
            Page::Modules => Some(&mut self.modules),
            Page::Pack => Some(&mut self.pack),
            Page::Boxes => Some(&mut self.boxes),
            Page::Units => Some(&mut self.units),
            Page::Truck => Some(&mut self.truck),
            Page::Start | Page::Layout | Page::Wiring | Page::Papers => None,
        }
    }

    /// What is shown: the job as it is, or as an offered layout or the best so far would make it.
    pub fn shown(&self) -> &Evaluation {
        let offered = match (&self.overlay, &self.behind) {
            (Some(Overlay::Offer(offer)), _) | (_, Some(offer)) => offer.preview(),
            _ => self.live(),
        };
        offered.unwrap_or(&self.evaluation)
    }

    /// The job as the best layout so far would make it, while that is drawn on the sheet.
    pub fn live(&self) -> Option<&Evaluation> {
        let running = self.running.as_ref().filter(|running| running.watching)?;
        let is_seen = self.page == Page::Layout && self.overlay.is_none();
        let is_of_job = std::ptr::eq(Arc::as_ptr(&running.job), self.job());
        running.live.as_deref().filter(|_| is_seen && is_of_job)
    }

    /// Draws the job as it is again while a layout is worked out: what is done by hand is done to that.
    pub fn look_away(&mut self) {
        if let Some(running) = &mut self.running {
            running.watching = false;
        }
    }
}

/// How a finding is drawn.
pub const fn finding_meaning(finding: &Finding) -> Meaning {
    match finding.grave {
        Grave::Stop => Meaning::Stop,
        Grave::Caution => Meaning::Caution,
        Grave::Note => Meaning::Note,
    }
}
