//! Keys and the mouse, as the bytes that a terminal sends for them.

/// A key without a character of its own, or with Ctrl.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Key {
    Enter,
    Esc,
    Left,
    Right,
    Up,
    Down,
    /// F2 to F7, the pages.
    F(u8),
    /// A letter with Ctrl.
    Ctrl(char),
    /// A letter or sign that is a command.
    Press(char),
}

impl Key {
    /// What a terminal of the xterm family sends.
    pub(crate) fn bytes(self) -> Vec<u8> {
        let text = match self {
            Self::Enter => "\r",
            Self::Esc => "\x1b",
            Self::Left => "\x1b[D",
            Self::Right => "\x1b[C",
            Self::Up => "\x1b[A",
            Self::Down => "\x1b[B",
            Self::F(n) => {
                const FROM_F2: [&str; 6] = ["\x1bOQ", "\x1bOR", "\x1bOS", "\x1b[15~", "\x1b[17~", "\x1b[18~"];
                FROM_F2[usize::from(n) - 2]
            }
            Self::Ctrl(c) => return vec![c as u8 & 0x1f],
            Self::Press(c) => return c.to_string().into_bytes(),
        };
        text.as_bytes().to_vec()
    }
}

/// What the left button of the mouse does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mouse {
    Down,
    Drag,
    Up,
}

impl Mouse {
    /// What a terminal sends that reports the mouse with decimal numbers; the cell is counted from 0.
    pub(crate) fn bytes(self, (x, y): (u16, u16)) -> Vec<u8> {
        let (button, end) = match self {
            Self::Down => (0, 'M'),
            Self::Drag => (32, 'M'),
            Self::Up => (0, 'm'),
        };
        format!("\x1b[<{button};{};{}{end}", x + 1, y + 1).into_bytes()
    }
}
