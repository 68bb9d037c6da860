//! What reaches the program from outside: keys, pasted text, the mouse, the window, a worker.

use ratatui::crossterm::event::{Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers, MouseEvent};

/// One thing that happened, in the order it happened.
#[derive(Clone, Debug, PartialEq)]
pub enum Input<W> {
    /// A key went down or repeats; releases never arrive here.
    Key(KeyEvent),
    /// Text was pasted. It is for the field that has the cursor, never for commands; see [`clean_paste`].
    Paste(String),
    /// The mouse did something.
    Mouse(MouseEvent),
    /// The window is now this many columns and rows.
    Resize(u16, u16),
    /// The window came to the front (`true`) or went to the back.
    Focus(bool),
    /// A worker reports.
    Worker(W),
    /// A worker is still busy and nothing else happened for a moment.
    Tick,
}

impl<W> Input<W> {
    /// The input made of one terminal event, or `None` for events that mean nothing here.
    ///
    /// Some terminals report keys being released and keys repeating; a release is dropped and a repeat counts as
    /// a press, so that the rest of the program sees one sort of key only.
    pub fn from_event(event: Event) -> Option<Self> {
        match event {
            Event::Key(key) if key.kind == KeyEventKind::Release => None,
            Event::Key(key) => Some(Self::Key(KeyEvent {
                kind: KeyEventKind::Press,
                ..key
            })),
            Event::Paste(text) => Some(Self::Paste(clean_paste(&text))),
            Event::Mouse(mouse) => Some(Self::Mouse(mouse)),
            Event::Resize(columns, rows) => Some(Self::Resize(columns, rows)),
            Event::FocusGained => Some(Self::Focus(true)),
            Event::FocusLost => Some(Self::Focus(false)),
        }
    }
}

/// Whether the key asks to stop the program until the shell resumes it (`Ctrl-Z`).
///
/// With the terminal in raw mode the key arrives as any other; the program has to stop itself.
pub fn asks_to_suspend(key: &KeyEvent) -> bool {
    key.code == KeyCode::Char('z') && key.modifiers == KeyModifiers::CONTROL
}

/// Pasted text made fit for a one-line field.
///
/// Line ends and tabs become one space each run, so that `12` and `3/4` on two lines do not become `123/4`; other
/// control characters and invisible formatting characters are dropped; spaces at the ends go.
pub fn clean_paste(text: &str) -> String {
    let mut clean = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => {
                if !clean.ends_with(' ') {
                    clean.push(' ');
                }
            }
            c if c.is_control() || is_invisible(c) => {}
            c => clean.push(c),
        }
    }
    clean.trim().to_owned()
}

/// Characters that take no room and change how their neighbours read: zero-width marks and direction marks.
const fn is_invisible(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use ratatui::crossterm::event::KeyEventState;
    use rstest::rstest;

    use super::*;

    fn key(kind: KeyEventKind) -> Event {
        Event::Key(KeyEvent {
            code: KeyCode::Char('x'),
            modifiers: KeyModifiers::NONE,
            kind,
            state: KeyEventState::NONE,
        })
    }

    #[test]
    fn a_repeat_is_a_press_and_a_release_is_nothing() {
        let press = Input::<()>::from_event(key(KeyEventKind::Press));
        assert!(press.is_some());
        assert_eq!(Input::from_event(key(KeyEventKind::Repeat)), press);
        assert_eq!(Input::<()>::from_event(key(KeyEventKind::Release)), None);
    }

    #[rstest]
    #[case::line_end("46 3/8\n", "46 3/8")]
    #[case::two_lines_stay_two_words("12\r\n3/4", "12 3/4")]
    #[case::tab("46\t\t3/8", "46 3/8")]
    #[case::escape_sequence("\u{1b}[31m46", "[31m46")]
    #[case::zero_width("4\u{200b}6", "46")]
    #[case::plain("105.7 cm", "105.7 cm")]
    #[case::nothing(" \n ", "")]
    fn pasted_text_becomes_one_clean_line(#[case] pasted: &str, #[case] clean: &str) {
        assert_eq!(clean_paste(pasted), clean);
    }

    #[test]
    fn only_control_z_suspends() {
        let z = |modifiers| KeyEvent::new(KeyCode::Char('z'), modifiers);
        assert!(asks_to_suspend(&z(KeyModifiers::CONTROL)));
        assert!(!asks_to_suspend(&z(KeyModifiers::NONE)));
    }
}
