//! The open job's file: its lock, its recovery file, saving, and what a killed program left behind.

use std::path::{Path, PathBuf};

use job::store::{self, Fingerprint, Lock, LockError, Recovered, Recovery, Writer};
use job::{Job, load, to_text};

use crate::form::Refusal;
use crate::model::LeftBehind;

/// What keeps an open job: the lock on its file and the writer of its recovery file.
#[derive(Debug, Default)]
pub(crate) struct Session {
    lock: Option<Lock>,
    writer: Option<Writer>,
    state_dir: PathBuf,
}

/// A job file as opened.
#[derive(Debug)]
pub(crate) struct Opened {
    /// The job in the file.
    pub(crate) job: Job,
    /// Where it is.
    pub(crate) path: PathBuf,
    /// Why it cannot be saved there, when somebody else has it open or the folder cannot be written.
    pub(crate) read_only: Option<String>,
    /// Later work that a killed program left beside it, when it can be read.
    pub(crate) left: Option<(Job, String)>,
    /// What to tell of a recovery file that cannot be read.
    pub(crate) trouble: Option<String>,
}

impl Session {
    /// A session with nothing open; never-saved jobs leave their recovery files in `state_dir`.
    pub(crate) fn new(state_dir: PathBuf) -> Self {
        Self {
            lock: None,
            writer: None,
            state_dir,
        }
    }

    /// Work that killed programs left behind: beside job files of the folder that the program was started in, and for jobs
    /// that had no file.
    pub(crate) fn left_behind(&self) -> Vec<LeftBehind> {
        let beside = store::find_beside(Path::new(".")).into_iter().map(|path| {
            let path = path.strip_prefix(".").map_or(path.clone(), Path::to_path_buf);
            LeftBehind {
                words: format!(
                    "{}, edited since it was saved; the program was ended in the middle",
                    path.display()
                ),
                path,
                readable: true,
                has_file: true,
            }
        });
        beside.chain(self.never_saved()).collect()
    }

    fn never_saved(&self) -> Vec<LeftBehind> {
        store::find_unsaved(&self.state_dir)
            .into_iter()
            .map(|found| match found.content.as_ref().map(|c| load(&c.bytes)) {
                Ok(Ok(job)) => {
                    let words = format!("\"{}\", never saved; the program was ended in the middle", job.name);
                    LeftBehind {
                        path: found.path,
                        words,
                        readable: true,
                        has_file: false,
                    }
                }
                Ok(Err(why)) => LeftBehind {
                    words: format!("{}: {why}", found.path.display()),
                    path: found.path,
                    readable: false,
                    has_file: false,
                },
                Err(why) => LeftBehind {
                    words: why.to_string(),
                    path: found.path,
                    readable: false,
                    has_file: false,
                },
            })
            .collect()
    }

    /// Opens a file: takes its lock, reads it, and looks for later work left behind. What was open stays open until
    /// [`Session::keep`].
    ///
    /// # Errors
    ///
    /// What is wrong and how to mend it; nothing is changed then.
    pub(crate) fn open(&mut self, path: &Path) -> Result<Opened, Refusal> {
        let bytes = std::fs::read(path).map_err(|e| Refusal {
            problem: format!("{}: {e}", path.display()),
            mend: "check the name and the folder".to_owned(),
        })?;
        let job = load(&bytes).map_err(|e| Refusal {
            problem: format!("{}: {e}", path.display()),
            mend: e.fix(),
        })?;
        // What was open is closed first: its lock may be on this very file.
        self.close();
        let read_only = match Lock::take(path) {
            Ok(lock) => {
                self.lock = Some(lock);
                store::sweep_stale(path);
                None
            }
            Err(LockError::Held { by, .. }) => {
                let by = by.map_or(String::new(), |by| format!(" ({by})"));
                Some(format!("{} is open in another program{by}", path.display()))
            }
            Err(error) => Some(format!("{error}; it can be looked at and saved elsewhere")),
        };
        let mut opened = Opened {
            job,
            path: path.to_path_buf(),
            read_only,
            left: None,
            trouble: None,
        };
        if opened.read_only.is_none() {
            match store::find(path) {
                Ok(Some(recovered)) => opened.left = Self::later(&recovered, &mut opened.trouble),
                Ok(None) => {}
                Err(error) => opened.trouble = Some(Self::aside(&error, path)),
            }
            self.keep_recovery(Some(path), Some(Fingerprint::of(&bytes)), &mut opened.trouble);
        }
        Ok(opened)
    }

    fn later(recovered: &Recovered, trouble: &mut Option<String>) -> Option<(Job, String)> {
        match load(&recovered.bytes) {
            Ok(job) => {
                let words = match recovered.base {
                    store::Base::Same => "The program was ended in the middle. Take up the later work?",
                    _ => {
                        "The program was ended in the middle, and the file was changed since. Take up the work left then?"
                    }
                };
                Some((job, words.to_owned()))
            }
            Err(why) => {
                *trouble = Some(match store::set_aside(&recovered.path) {
                    Ok(to) => format!(
                        "work left behind cannot be read ({why}); it is kept as {}",
                        to.display()
                    ),
                    Err(error) => error.to_string(),
                });
                None
            }
        }
    }

    fn aside(error: &store::RecoveryError, path: &Path) -> String {
        let name = path
            .file_name()
            .map_or_else(String::new, |n| n.to_string_lossy().into_owned());
        let recovery = path.with_file_name(format!(".{name}.recovery"));
        match store::set_aside(&recovery) {
            Ok(to) => format!("{error}; it is kept as {}", to.display()),
            Err(_) => error.to_string(),
        }
    }

    /// Starts keeping a job that has no file.
    pub(crate) fn begin(&mut self) -> Option<String> {
        self.close();
        let mut trouble = None;
        self.keep_recovery(None, None, &mut trouble);
        trouble
    }

    /// Takes over work that a killed program left behind for a job without a file.
    ///
    /// # Errors
    ///
    /// One message; the recovery file stays.
    pub(crate) fn adopt(&mut self, path: &Path) -> Result<Job, String> {
        let told = |e: store::RecoveryError| format!("{e}; fix: {}", e.fix());
        let recovery = Recovery::adopt(path).map_err(told)?;
        let recovered = store::read(path).map_err(told)?;
        let job = load(&recovered.bytes).map_err(|e| format!("{e}; fix: {}", e.fix()))?;
        self.close();
        self.writer = Some(Writer::start(recovery, None).map_err(told)?);
        Ok(job)
    }

    fn keep_recovery(&mut self, path: Option<&Path>, base: Option<Fingerprint>, trouble: &mut Option<String>) {
        let started = Recovery::beside(path, &self.state_dir).and_then(|r| Writer::start(r, base));
        match started {
            Ok(writer) => self.writer = Some(writer),
            Err(error) => {
                trouble.get_or_insert_with(|| format!("no recovery file can be kept: {error}"));
            }
        }
    }

    /// Keeps the job as it is now, for the case that the program is killed.
    pub(crate) fn put(&self, job: &Job) {
        if let Some(writer) = &self.writer {
            writer.put(to_text(job).into_bytes());
        }
    }

    /// Saves the job; with another file than before, goes on with that.
    ///
    /// # Errors
    ///
    /// What is wrong and how to mend it; the file is as it was, and so is the recovery file.
    pub(crate) fn save(&mut self, job: &Job, path: &Path, moves: bool) -> Result<Option<String>, Refusal> {
        let bytes = to_text(job).into_bytes();
        let lock = if moves {
            Some(Lock::take(path).map_err(|e| Refusal {
                problem: format!("not saved: {e}"),
                mend: e.fix(),
            })?)
        } else {
            None
        };
        let mut warning = None;
        match store::save(path, &bytes) {
            Ok(()) => {}
            Err(store::SaveError::NotSettled(trouble)) => warning = Some(format!("saved, but {trouble}")),
            Err(error) => {
                let problem = match &error {
                    store::SaveError::Failed(trouble) => format!("not saved: {trouble}"),
                    other => format!("not saved: {other}"),
                };
                return Err(Refusal {
                    problem,
                    mend: error.fix(),
                });
            }
        }
        match lock {
            None => {
                if let Some(writer) = &self.writer {
                    writer.saved(&bytes);
                }
            }
            Some(lock) => {
                self.close();
                self.lock = Some(lock);
                self.keep_recovery(Some(path), Some(Fingerprint::of(&bytes)), &mut warning);
            }
        }
        Ok(warning)
    }

    /// Closes what is open. The recovery file goes: everything in it is saved or was dropped on purpose.
    pub(crate) fn close(&mut self) {
        if let Some(writer) = self.writer.take() {
            writer.discard();
            // A file that cannot be removed is found, and offered, at the next start.
            let _ = writer.finish();
        }
        self.lock = None;
    }
}
