//! The shell round the screens: terminal, files, worker. It performs what `update` asks for.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;
use std::sync::mpsc;
use std::time::Duration;

use job::Job;
use ratatui::crossterm::event;

use crate::input::Input;
use crate::model::{About, Ask, Effect, Message, Model, Overlay, Tone};
use crate::page::Page;
use crate::pages::nests;
use crate::pages::papers::{Papers, Written, of_job};
use crate::session::Session;
use crate::task::{self, Report, Worker};
use crate::term::{Console, Events, Options as TermOptions};
use crate::theme::Theme;
use crate::update::{begin, update};
use crate::view;

/// What to open at the start.
#[derive(Clone, Debug, PartialEq)]
pub enum Open {
    /// The start page.
    Start,
    /// A file.
    File(PathBuf),
    /// A job that has no file, such as a built-in one.
    Job(Box<Job>),
}

/// How the screens are run.
#[derive(Clone, Debug)]
pub struct Options {
    /// Only ASCII characters.
    pub ascii: bool,
    /// Where recovery files of never-saved jobs are kept.
    pub state_dir: PathBuf,
    /// Today's date as it stands on papers.
    pub date: String,
    /// Date and time now, as text.
    pub clock: fn() -> String,
}

/// Runs the screens until the person leaves.
///
/// # Errors
///
/// When there is no terminal, or it cannot be read or written.
pub fn run(open: Open, options: &Options) -> io::Result<()> {
    let term = TermOptions::from_environment();
    let mut console = Console::enter(term)?;
    let mut events: Events<Report> = Events::new();
    let mut shell = Shell {
        model: Model::new(Theme {
            colour: term.colour,
            ascii: options.ascii,
        }),
        session: Session::new(options.state_dir.clone()),
        worker: None,
        clock: options.clock,
        kept: 0,
        waiting: None,
        held: false,
    };
    shell.model.mouse = console.mouse();
    shell.model.date.clone_from(&options.date);
    // The first look at the events starts listening for other window sizes: from before the size is asked, so that none
    // is missed.
    event::poll(Duration::ZERO)?;
    let size = console.size()?;
    shell.model.size = (size.width, size.height);
    shell.model.start.left_behind = shell.session.left_behind();
    match open {
        Open::Start => {}
        Open::File(path) => shell.open(&path),
        Open::Job(job) => shell.begin(*job, Page::Layout),
    }
    console.draw(|frame| view::draw(&shell.model, frame))?;
    loop {
        // Until the worker's last report is taken in, it counts as busy.
        let model = &shell.model;
        let running = model.running.as_ref().map(|running| patience(running.stopping));
        let patience = running.or(model.papers.making.as_ref().map(|_| patience(false)));
        for input in events.batch(|| patience)? {
            let effects = update(&mut shell.model, input);
            shell.held = false;
            for effect in effects {
                match effect {
                    Effect::Quit if shell.may_quit() => {
                        shell.session.close();
                        return Ok(());
                    }
                    Effect::Suspend => console.suspend()?,
                    Effect::Mouse(on) => console.set_mouse(on)?,
                    Effect::Start(task) => {
                        let job = shell.model.history.shared();
                        shell.worker = Some(Worker::start(task, job, events.reports()));
                    }
                    Effect::MakePapers => task::papers::start(order(&shell.model), events.reports()),
                    other => shell.perform(other),
                }
            }
        }
        shell.keep();
        console.draw(|frame| view::draw(&shell.model, frame))?;
    }
}

/// How long a worker's report may lie unread: what a person waits for after stopping it comes at once.
const fn patience(stopping: bool) -> Duration {
    Duration::from_millis(if stopping { 2 } else { 40 })
}

/// The model with what it cannot touch itself.
struct Shell {
    model: Model,
    session: Session,
    worker: Option<Worker>,
    clock: fn() -> String,
    /// The state of the job that was last put into the recovery file.
    kept: u64,
    /// Later work for the file just opened, waiting for the answer whether to take it.
    waiting: Option<Job>,
    /// Whether leaving is called off: the save before it failed, asks something, or has a warning to be read.
    held: bool,
}

impl Shell {
    fn perform(&mut self, effect: Effect) {
        match effect {
            Effect::Save(path) => self.save(&path),
            Effect::Open(path) => self.open(&path),
            Effect::Begin(job) => {
                let page = if job.boxes.is_empty() { Page::Tape } else { Page::Layout };
                self.begin(*job, page);
            }
            Effect::Adopt(path) => match self.session.adopt(&path) {
                Ok(job) => {
                    self.show(job, None, Page::Layout);
                    self.model.tell("taken up again; save it with s");
                    // It was never in a file, so it is not saved.
                    self.model.saved = std::sync::Arc::new(Job::default());
                }
                Err(why) => self.model.refuse(why),
            },
            Effect::Recover(take) => self.recover(take),
            Effect::Stop => {
                if let Some(worker) = &self.worker {
                    worker.stop();
                }
            }
            Effect::WritePapers(folder) => self.write_papers(&folder),
            Effect::ReadSheet(path) => self.read_sheet(&path),
            Effect::Close => self.close(),
            Effect::Quit | Effect::Suspend | Effect::Mouse(_) | Effect::Start(_) | Effect::MakePapers => {}
        }
    }

    /// A refusal told earlier must not keep anybody in; only the save that leads to leaving may.
    const fn may_quit(&self) -> bool {
        !self.held
    }

    fn show(&mut self, job: Job, file: Option<PathBuf>, page: Page) {
        if let Some(worker) = self.worker.take() {
            worker.stop();
        }
        self.model.show_job(job, file, page);
        self.kept = self.model.history.changes();
        begin(&mut self.model);
    }

    fn begin(&mut self, job: Job, page: Page) {
        let trouble = self.session.begin();
        self.show(job, None, page);
        if let Some(trouble) = trouble {
            self.model.refuse(trouble);
        }
    }

    fn open(&mut self, path: &Path) {
        match self.session.open(path) {
            Err(why) => self.model.refuse_asked(why.problem, why.mend),
            Ok(opened) => {
                let page = if opened.job.boxes.is_empty() {
                    Page::Tape
                } else {
                    Page::Layout
                };
                self.show(opened.job, Some(opened.path), page);
                self.model.read_only.clone_from(&opened.read_only);
                if let Some(why) = opened.read_only {
                    self.model
                        .refuse(format!("{why}: it can be looked at; S saves it elsewhere"));
                }
                if let Some(trouble) = opened.trouble {
                    self.model.refuse(trouble);
                }
                if let Some((job, words)) = opened.left {
                    self.waiting = Some(job);
                    self.model.overlay = Some(Overlay::Ask(Ask::new(words, "take it up", "drop it", About::Recover)));
                }
            }
        }
    }

    fn recover(&mut self, take: bool) {
        let Some(job) = self.waiting.take() else { return };
        if take {
            let saved = std::sync::Arc::clone(&self.model.saved);
            let file = self.model.file.clone();
            self.show(job, file, Page::Layout);
            self.model.saved = saved;
            self.model.tell("the later work is taken up; s saves it");
            self.session.put(self.model.job());
        } else {
            // The state in the file replaces what was left behind.
            self.session.put(self.model.job());
            self.model.tell("the work left behind is dropped");
        }
    }

    fn save(&mut self, path: &Path) {
        // Without the lock the file is somebody else's, whatever its name: it has to be taken first.
        let owned = self.model.read_only.is_none();
        let moves = !(owned && self.model.file.as_deref().is_some_and(|file| is_same(file, path)));
        let asked = self.model.message.words == overwrite_words(path);
        if moves && path.exists() && !asked {
            let words = overwrite_words(path);
            self.model.message = Message {
                words: words.clone(),
                grave: Tone::Refused,
            };
            let ask = Ask::new(words, "write over it", "keep it", About::Overwrite(path.to_path_buf()));
            self.model.overlay = Some(Overlay::Ask(ask));
            self.held = true;
            return;
        }
        match self.session.save(self.model.job(), path, moves) {
            Ok(warning) => {
                self.model.saved = self.model.history.shared();
                self.model.file = Some(path.to_path_buf());
                self.model.read_only = None;
                match warning {
                    None => self.model.tell(format!("saved as {}", path.display())),
                    Some(warning) => {
                        self.model.refuse(warning);
                        self.held = true;
                    }
                }
            }
            Err(why) => {
                self.model.refuse_asked(why.problem, why.mend);
                self.held = true;
            }
        }
    }

    fn close(&mut self) {
        if !self.may_quit() {
            return;
        }
        if let Some(worker) = self.worker.take() {
            worker.stop();
        }
        self.session.close();
        let fresh = Model::new(self.model.theme);
        let (size, mouse) = (self.model.size, self.model.mouse);
        let papers = Papers {
            unticked: std::mem::take(&mut self.model.papers.unticked),
            ..Papers::default()
        };
        self.model = Model {
            mouse,
            size,
            papers,
            date: std::mem::take(&mut self.model.date),
            ..fresh
        };
        self.model.start.left_behind = self.session.left_behind();
        self.kept = 0;
    }

    /// Puts a changed job into the recovery file.
    fn keep(&mut self) {
        let changes = self.model.history.changes();
        if changes != self.kept && self.model.page != Page::Start {
            self.kept = changes;
            self.session.put(self.model.job());
        }
    }

    /// Writes the ticked papers, and notes where they went.
    fn write_papers(&mut self, folder: &Path) {
        let made = match of_job(&self.model) {
            Some(made) => std::sync::Arc::clone(made),
            None => std::sync::Arc::new(task::papers::make(order(&self.model))),
        };
        let (files, titles) = self.model.papers.ticked(&made);
        let written = std::fs::create_dir_all(folder).and_then(|()| {
            files
                .iter()
                .try_for_each(|paper| std::fs::write(folder.join(&paper.file_name), &paper.content))
        });
        if let Err(e) = written {
            let problem = format!("no papers written to {}: {e}", folder.display());
            return self.model.refuse_asked(problem, folder_mend(e.kind()));
        }
        self.model
            .tell(format!("{} papers written to {}", titles.len(), folder.display()));
        self.model.papers.written = Some(Written {
            job: std::sync::Arc::clone(&made.job),
            folder: std::path::absolute(folder).unwrap_or_else(|_| folder.to_path_buf()),
            files: files.len(),
            titles,
            when: (self.clock)(),
        });
        self.model.papers.made = Some(made);
    }

    /// Reads a test sheet: what is right is taken over, what is wrong is told, by line.
    fn read_sheet(&mut self, path: &Path) {
        let text = match std::fs::read_to_string(path) {
            Ok(text) => text,
            Err(e) => {
                let problem = format!("{}: {e}", path.display());
                return self.model.refuse_asked(problem, "check the name and the folder");
            }
        };
        let Some(kind) = job::units::kind_of_sheet(self.model.job()) else {
            return self
                .model
                .refuse("no kind of module yet; add one on the Modules page (F3)");
        };
        let sheet = job::units::read_sheet(&text);
        let units = job::units::units_of(&sheet.rows, kind);
        let count = units.len();
        let read = format!("{count} unit{} read", if count == 1 { "" } else { "s" });
        if count > 0
            && self
                .model
                .apply(job::Edit::Units(job::UnitsEdit::TakeSheet(units)))
                .is_err()
        {
            return;
        }
        match sheet.faults.first() {
            None => self.model.tell(read),
            Some(first) => {
                let more = match sheet.faults.len() - 1 {
                    0 => String::new(),
                    n => format!("; {n} more"),
                };
                self.model.refuse(format!("{read}; {first}; {}{more}", first.mend));
            }
        }
    }
}

/// What the papers of the job as it is are made of.
fn order(model: &Model) -> task::papers::Order {
    task::papers::Order {
        job: model.history.shared(),
        nesting: nests::of_job(model)
            .filter(|nests| !nests.nesting.stopped)
            .map(|nests| nests.nesting.clone()),
        date: model.date.clone(),
    }
}

/// What can be done when files cannot be written into a folder.
const fn folder_mend(kind: io::ErrorKind) -> &'static str {
    match kind {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "free some space there, or name another folder",
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => "a file has that name: name another folder",
        _ => "name a folder that you may write in",
    }
}

/// Whether two names stand for one file.
fn is_same(one: &Path, other: &Path) -> bool {
    one == other || matches!((one.canonicalize(), other.canonicalize()), (Ok(one), Ok(other)) if one == other)
}

fn overwrite_words(path: &Path) -> String {
    format!("{} is there already. Write over it?", path.display())
}

/// A model with `job` open, for tests and pictures that need no terminal.
pub fn open_model(job: Job, theme: Theme, size: (u16, u16)) -> Model {
    let mut model = Model::new(theme);
    model.size = size;
    let page = if job.boxes.is_empty() { Page::Tape } else { Page::Layout };
    model.show_job(job, None, page);
    begin(&mut model);
    model
}

/// Feeds inputs to a model and does tasks where they are asked for, without a thread: for tests.
pub fn feed(model: &mut Model, inputs: impl IntoIterator<Item = Input<Report>>) -> Vec<Effect> {
    let mut left = Vec::new();
    for input in inputs {
        for effect in update(model, input) {
            match effect {
                Effect::Start(task) => {
                    let (reports, done) = mpsc::channel();
                    task::work(task, &model.history.shared(), &reports, &AtomicBool::new(false));
                    for report in done.try_iter() {
                        update(model, Input::Worker(report));
                    }
                }
                Effect::MakePapers => {
                    let made = task::papers::make(order(model));
                    update(model, Input::Worker(Report::Papers(std::sync::Arc::new(made))));
                }
                other => left.push(other),
            }
        }
    }
    left
}
