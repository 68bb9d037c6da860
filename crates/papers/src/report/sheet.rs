//! A sheet of text 80 columns wide.

use crate::words::plain;

/// Its width in characters.
pub(crate) const WIDTH: usize = 80;
/// How wide the names of facts are.
const NAMES: usize = 16;

/// A sheet under way.
#[derive(Default)]
pub(crate) struct Sheet(String);

impl Sheet {
    /// A heading with a line under it, set off from what came before.
    pub(crate) fn heading(&mut self, words: &str) {
        if !self.0.is_empty() {
            self.0.push('\n');
        }
        let before = self.0.len();
        self.item(0, "", &plain(words).to_uppercase());
        let longest = self.0[before..]
            .lines()
            .map(|line| line.chars().count())
            .max()
            .unwrap_or(0);
        self.0 += &"-".repeat(longest);
        self.0.push('\n');
    }

    /// A name and what is said of it.
    pub(crate) fn fact(&mut self, name: &str, words: &str) {
        // A long name keeps a space behind it.
        let short = NAMES - 1;
        self.item(0, &format!("{name:<short$} "), words);
    }

    /// `lead`, then `words` wrapped so that further lines stand under the first word.
    pub(crate) fn item(&mut self, indent: usize, lead: &str, words: &str) {
        let hang = indent + lead.chars().count();
        let room = WIDTH - hang;
        let mut lines = wrap(&plain(words), room).into_iter();
        let first = lines.next().unwrap_or_default();
        self.line(&format!("{}{lead}{first}", " ".repeat(indent)));
        for line in lines {
            self.line(&format!("{}{line}", " ".repeat(hang)));
        }
    }

    /// A line that is known to fit.
    pub(crate) fn line(&mut self, line: &str) {
        self.0 += line.trim_end();
        self.0.push('\n');
    }

    pub(crate) fn done(self) -> String {
        self.0
    }
}

/// `text` in lines of at most `room` characters, broken at spaces where there are any.
fn wrap(text: &str, room: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split(' ') {
        let mut word: Vec<char> = word.chars().collect();
        let used = line.chars().count();
        if used > 0 && used + 1 + word.len() > room {
            lines.push(std::mem::take(&mut line));
        }
        while word.len() > room {
            let rest = word.split_off(room);
            lines.push(word.into_iter().collect());
            word = rest;
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.extend(word);
    }
    lines.push(line);
    lines
}
