//! What the terminal shows, and the answers that it owes the program.

use std::fmt;
use std::num::NonZeroU16;

/// Answers that a terminal owes to queries; a program that gets none waits for them.
#[derive(Default)]
struct Replies(Vec<u8>);

impl vt100::Callbacks for Replies {
    fn unhandled_csi(
        &mut self,
        screen: &mut vt100::Screen,
        first: Option<u8>,
        _: Option<u8>,
        params: &[&[u16]],
        command: char,
    ) {
        match (first, command, params.first().and_then(|p| p.first())) {
            (None, 'n', Some(6)) => {
                let (row, column) = screen.cursor_position();
                self.0.extend(format!("\x1b[{};{}R", row + 1, column + 1).bytes());
            }
            (None, 'c', _) => self.0.extend(b"\x1b[?62;22c"),
            (Some(b'?'), 'u', _) => self.0.extend(b"\x1b[?0u"),
            _ => {}
        }
    }
}

/// What the terminal shows, and all it was sent.
pub(crate) struct Shown {
    term: vt100::Parser<Replies>,
    sent: Vec<u8>,
    ended: bool,
}

impl Shown {
    /// An empty terminal of so many columns and rows.
    pub(crate) fn new(size: (u16, u16)) -> Self {
        let (columns, rows) = (cells(size.0), cells(size.1));
        let term = vt100::Parser::new_with_callbacks(rows, columns, 0, Replies::default());
        Self {
            term,
            sent: Vec::new(),
            ended: false,
        }
    }

    /// Takes in what the program wrote, nothing for its end; what the terminal answers.
    pub(crate) fn take_in(&mut self, bytes: &[u8]) -> Vec<u8> {
        self.term.process(bytes);
        self.sent.extend_from_slice(bytes);
        self.ended = bytes.is_empty();
        std::mem::take(&mut self.term.callbacks_mut().0)
    }

    /// Gives the terminal another size.
    pub(crate) fn resize(&mut self, size: (u16, u16)) {
        self.term.set_size(cells(size.1), cells(size.0));
    }

    /// Whether the program has ended and everything it wrote is here.
    pub(crate) const fn has_ended(&self) -> bool {
        self.ended
    }

    /// The cells, modes and cursor.
    pub(crate) fn screen(&self) -> &vt100::Screen {
        self.term.screen()
    }

    /// Whether no frame is half drawn: a frame ends by hiding the cursor, or by showing it and putting it somewhere.
    pub(crate) fn is_whole(&self) -> bool {
        let ends_placed = || {
            let place = self.sent.windows(2).rposition(|two| two == b"\x1b[");
            place.is_some_and(|at| self.sent.ends_with(b"H") && self.sent[..at].ends_with(b"\x1b[?25h"))
        };
        let is_ours = self.screen().alternate_screen() && !self.ended;
        !is_ours || self.sent.ends_with(b"\x1b[?25l") || ends_placed()
    }

    /// Everything the program has written.
    pub(crate) fn sent(&self) -> &[u8] {
        &self.sent
    }

    /// The rows as text, of equal width.
    pub(crate) fn rows(&self) -> Vec<String> {
        let (rows, columns) = self.screen().size();
        let cell = |row, column| {
            let text = self.screen().cell(row, column).map_or("", vt100::Cell::contents);
            if text.is_empty() {
                " ".to_owned()
            } else {
                text.to_owned()
            }
        };
        (0..rows.get())
            .map(|row| (0..columns.get()).map(|column| cell(row, column)).collect())
            .collect()
    }

    /// Whether `text` stands on one row.
    pub(crate) fn has(&self, text: &str) -> bool {
        self.rows().iter().any(|row| row.contains(text))
    }

    /// Column and row of the first place where `text` stands, from 0.
    pub(crate) fn find(&self, text: &str) -> Option<(u16, u16)> {
        self.rows().iter().zip(0..).find_map(|(row, y)| {
            let x = row[..row.find(text)?].chars().count();
            Some((u16::try_from(x).ok()?, y))
        })
    }

    /// The row that holds `text`, without blanks at its end.
    pub(crate) fn row_with(&self, text: &str) -> Option<String> {
        let rows = self.rows();
        rows.iter()
            .find(|row| row.contains(text))
            .map(|row| row.trim_end().to_owned())
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (rows, columns) = self.screen().size();
        writeln!(
            f,
            "{columns}x{rows}{}",
            if self.ended { ", the program has ended" } else { "" }
        )?;
        self.rows().iter().try_for_each(|row| writeln!(f, "|{row}|"))
    }
}

fn cells(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count).expect("a window has a row and a column")
}
