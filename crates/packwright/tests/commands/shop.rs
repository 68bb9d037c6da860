//! A folder with a job in it, and the built program to run there.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

/// A folder to work in, with the program at hand.
pub(crate) struct Shop(TempDir);

/// What a command printed, and how it ended.
pub(crate) struct Ended {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl From<Output> for Ended {
    fn from(output: Output) -> Self {
        let text = |bytes| String::from_utf8(bytes).expect("the program prints text");
        Self {
            code: output.status.code(),
            out: text(output.stdout),
            err: text(output.stderr),
        }
    }
}

impl Ended {
    /// What was printed by a command that ended well and had nothing else to say.
    pub(crate) fn quiet(self) -> String {
        assert_eq!((self.code, self.err.as_str()), (Some(0), ""), "{}", self.out);
        self.out
    }

    /// What was said by a command that was refused and printed no data.
    pub(crate) fn refused(self) -> String {
        assert_eq!((self.code, self.out.as_str()), (Some(2), ""), "{}", self.err);
        assert!(
            self.err.starts_with("error: ") && self.err.contains("\n  fix: "),
            "{}",
            self.err
        );
        self.err
    }

    pub(crate) fn json(self) -> Value {
        serde_json::from_str(&self.out).expect("it prints JSON")
    }
}

impl Shop {
    pub(crate) fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    /// A shop with a built-in job in `job.json`.
    pub(crate) fn with(example: &str) -> Self {
        let shop = Self::new();
        assert_eq!(shop.run(&["example", example, "--to", "job.json"]).code, Some(0));
        shop
    }

    /// A shop with `content` in `job.json`.
    pub(crate) fn holding(content: impl AsRef<[u8]>) -> Self {
        let shop = Self::new();
        fs::write(shop.path().join("job.json"), content).unwrap();
        shop
    }

    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_packwright"));
        command.args(args).current_dir(self.path()).stdin(Stdio::null());
        command.env("HOME", self.path()).env_remove("XDG_STATE_HOME");
        command
    }

    pub(crate) fn run(&self, args: &[&str]) -> Ended {
        self.command(args).output().expect("the program starts").into()
    }

    /// Runs a command with `text` at standard input.
    pub(crate) fn feed(&self, args: &[&str], text: &str) -> Ended {
        let mut command = self.command(args);
        command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        let mut child = command.spawn().expect("the program starts");
        // A program that refuses may be gone before it has read anything.
        if let Err(error) = child.stdin.take().unwrap().write_all(text.as_bytes()) {
            assert_eq!(error.kind(), std::io::ErrorKind::BrokenPipe, "{error}");
        }
        child.wait_with_output().unwrap().into()
    }

    pub(crate) fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path().join(name)).unwrap()
    }

    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.path()).unwrap();
        let mut names: Vec<String> = entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

/// The figures as they are printed. Compared as text: a decimal that is read back may differ in its last digit.
pub(crate) fn figures(evaluation: &job::Evaluation) -> String {
    format!("{:#}\n", papers::evaluation_json(evaluation))
}

/// What `check` makes of a job: its figures with what ways in have to say, as text and as data.
pub(crate) fn checked(job: &job::Job) -> (job::Evaluation, String, String) {
    let evaluation = job::evaluate(job);
    let ways = job::way_in::ways_in(job, &evaluation);
    let evaluation = evaluation.with_findings(ways.findings());
    let text = format!("{}\nways in: {}\n", papers::check_text(&evaluation), ways.summary());
    let mut data = papers::evaluation_json(&evaluation);
    data["ways_in"] = papers::ways_json(&ways);
    (evaluation, text, format!("{data:#}\n"))
}

pub(crate) fn example_text(name: &str) -> &'static str {
    job::example(name).expect("it is built in").text
}

/// The orchard job with its layout taken out and its cavities nearly closed: nothing goes in.
pub(crate) fn too_tight() -> String {
    changed("orchard-flatbed", |job| {
        job["boxes"] = Value::Array(Vec::new());
        for reading in job["cavities"]
            .as_array_mut()
            .unwrap()
            .iter_mut()
            .flat_map(|c| c["readings"].as_array_mut().unwrap())
        {
            reading["read"] = "3 in".into();
        }
    })
}

/// The orchard job with its first module pushed far out of its cavity: a stop.
pub(crate) fn with_a_stop() -> String {
    changed("orchard-flatbed", |job| {
        job["boxes"][0]["at"] = serde_json::json!(["-500 mm", "0 mm", "0 mm"]);
    })
}

pub(crate) fn changed(example: &str, change: impl FnOnce(&mut Value)) -> String {
    let mut job: Value = serde_json::from_str(example_text(example)).unwrap();
    change(&mut job);
    let text = job.to_string();
    job::load(text.as_bytes()).expect("the changed job is still a job");
    text
}

/// The orchard job without diagonals and with nothing held back for the tape: for tests of what is laid out, which are
/// not to follow what the readings are trusted with.
pub(crate) fn plain_orchard() -> String {
    changed("orchard-flatbed", |job| {
        job["settings"]["sigmas"] = 0.0.into();
        for cavity in job["cavities"].as_array_mut().unwrap() {
            let readings = cavity["readings"].as_array_mut().unwrap();
            readings.retain(|reading| {
                let line: job::Line = reading["line"].as_str().unwrap().parse().unwrap();
                line.dimension().is_some()
            });
        }
    })
}

pub(crate) const EXAMPLES: [&str; 3] = ["orchard-flatbed", "harbour-tender", "mountain-rescue"];
