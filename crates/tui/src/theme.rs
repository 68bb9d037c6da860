//! How a meaning looks: by colour, and always by weight, mark or line as well.
//!
//! Only the sixteen named colours are used, since they follow the terminal's own palette. Blue and amber carry the
//! difference between fine and not fine, never red and green; nothing on a screen depends on colour alone.

use ratatui::style::{Color, Modifier, Style};

/// What something on the screen means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Meaning {
    /// Ordinary text.
    Plain,
    /// The name of a page or a section: bold.
    Heading,
    /// Less important text, dimension lines: dim.
    Dim,
    /// The wall of a cavity, the shell of a box: heavy lines, bold.
    Steel,
    /// A module: light lines.
    Module,
    /// Where the cursor is: reversed, and a pointing mark.
    Selected,
    /// Space that must stay free: hatched.
    KeepOut,
    /// Room in front of terminals: dotted.
    Service,
    /// It cannot work or is outside a limit: bold, marked `!!`.
    Stop,
    /// Look at this: marked `!`.
    Caution,
    /// Good to know: marked `.`.
    Note,
    /// At or above its rule: marked `ok`.
    Good,
    /// Rests on an assumed value: italic, marked `~`.
    Assumed,
    /// A key that may be pressed: bold.
    Key,
}

impl Meaning {
    /// The mark that stands for the meaning in a narrow column, at most two characters; empty if it has none.
    pub const fn mark(self) -> &'static str {
        match self {
            Self::Stop => "!!",
            Self::Caution => "!",
            Self::Note => ".",
            Self::Good => "ok",
            Self::Assumed => "~",
            _ => "",
        }
    }
}

/// What the terminal can show.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Theme {
    /// Whether colours may be used.
    pub colour: bool,
    /// Whether only ASCII characters may be used.
    pub ascii: bool,
}

impl Default for Theme {
    fn default() -> Self {
        Self {
            colour: true,
            ascii: false,
        }
    }
}

impl Theme {
    /// The style of a meaning.
    pub const fn style(self, meaning: Meaning) -> Style {
        let (colour, weight) = match meaning {
            Meaning::Plain => (None, Modifier::empty()),
            Meaning::Heading | Meaning::Key | Meaning::Steel => (None, Modifier::BOLD),
            Meaning::Dim => (None, Modifier::DIM),
            Meaning::Module | Meaning::Good => (Some(Color::Cyan), Modifier::empty()),
            Meaning::Note => (Some(Color::Blue), Modifier::empty()),
            Meaning::Selected => (None, Modifier::REVERSED.union(Modifier::BOLD)),
            Meaning::KeepOut | Meaning::Service => (Some(Color::Yellow), Modifier::DIM),
            Meaning::Stop => (Some(Color::Red), Modifier::BOLD),
            Meaning::Caution => (Some(Color::Yellow), Modifier::BOLD),
            Meaning::Assumed => (Some(Color::Magenta), Modifier::ITALIC),
        };
        let style = Style::new().add_modifier(weight);
        match colour {
            Some(colour) if self.colour => style.fg(colour),
            _ => style,
        }
    }

    /// The characters to draw with.
    pub const fn glyphs(self) -> &'static Glyphs {
        if self.ascii { &ASCII } else { &DRAWN }
    }
}

/// The characters of one sort of line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineGlyphs {
    /// Along a row.
    pub across: &'static str,
    /// Along a column.
    pub down: &'static str,
    /// The four corners: top left, top right, bottom left, bottom right.
    pub corners: [&'static str; 4],
    /// The free ends of a line: left, right, top, bottom.
    pub ends: [&'static str; 4],
}

/// The characters that drawings are made of.
///
/// Box drawing has the width class "ambiguous" and cannot be avoided; everything else here is of a class that takes
/// one cell everywhere. For terminals where box drawing is trouble there is the ASCII set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Glyphs {
    /// Modules.
    pub light: LineGlyphs,
    /// The walls of cavities.
    pub heavy: LineGlyphs,
    /// The shells of boxes.
    pub double: LineGlyphs,
    /// Rims, bands, service spaces and hidden things.
    pub dashed: LineGlyphs,
    /// Space that must stay free.
    pub hatch: &'static str,
    /// Room in front of terminals.
    pub dots: &'static str,
    /// Extension lines of dimensions: across, down.
    pub extension: [&'static str; 2],
    /// Arrowheads that point left.
    pub left: &'static str,
    /// Arrowheads that point right.
    pub right: &'static str,
    /// Arrowheads that point up.
    pub up: &'static str,
    /// Arrowheads that point down.
    pub down: &'static str,
    /// The minus sign of a terminal.
    pub minus: &'static str,
    /// What is pinned where it stands.
    pub pin: &'static str,
    /// The done and the open part of a bar.
    pub bar: [&'static str; 2],
}

const DRAWN: Glyphs = Glyphs {
    light: LineGlyphs {
        across: "─",
        down: "│",
        corners: ["┌", "┐", "└", "┘"],
        ends: ["╶", "╴", "╷", "╵"],
    },
    heavy: LineGlyphs {
        across: "━",
        down: "┃",
        corners: ["┏", "┓", "┗", "┛"],
        ends: ["╺", "╸", "╻", "╹"],
    },
    double: LineGlyphs {
        across: "═",
        down: "║",
        corners: ["╔", "╗", "╚", "╝"],
        ends: ["═", "═", "║", "║"],
    },
    dashed: LineGlyphs {
        across: "╌",
        down: "╎",
        corners: ["┌", "┐", "└", "┘"],
        ends: ["╶", "╴", "╷", "╵"],
    },
    hatch: "╱",
    dots: ".",
    extension: ["╌", "╎"],
    left: "◂",
    right: "▸",
    up: "▴",
    down: "▾",
    minus: "−",
    pin: "◉",
    bar: ["━", "╌"],
};

const ASCII: Glyphs = Glyphs {
    light: LineGlyphs {
        across: "-",
        down: "|",
        corners: ["+"; 4],
        ends: ["-", "-", "|", "|"],
    },
    heavy: LineGlyphs {
        across: "=",
        down: "#",
        corners: ["#"; 4],
        ends: ["=", "=", "#", "#"],
    },
    double: LineGlyphs {
        across: "=",
        down: "|",
        corners: ["+"; 4],
        ends: ["=", "=", "|", "|"],
    },
    dashed: LineGlyphs {
        across: ".",
        down: ":",
        corners: ["."; 4],
        ends: [".", ".", ":", ":"],
    },
    hatch: "/",
    dots: ".",
    extension: [".", ":"],
    left: "<",
    right: ">",
    up: "^",
    down: "v",
    minus: "-",
    pin: "@",
    bar: ["=", "-"],
};

#[cfg(test)]
mod tests {
    use unicode_width::UnicodeWidthStr;

    use super::*;

    const ALL: [Meaning; 14] = [
        Meaning::Plain,
        Meaning::Heading,
        Meaning::Dim,
        Meaning::Steel,
        Meaning::Module,
        Meaning::Selected,
        Meaning::KeepOut,
        Meaning::Service,
        Meaning::Stop,
        Meaning::Caution,
        Meaning::Note,
        Meaning::Good,
        Meaning::Assumed,
        Meaning::Key,
    ];

    #[test]
    fn without_colour_no_meaning_has_one_and_weights_stay() {
        let (with, without) = (
            Theme::default(),
            Theme {
                colour: false,
                ascii: false,
            },
        );
        for meaning in ALL {
            let plain = without.style(meaning);
            assert_eq!((plain.fg, plain.bg), (None, None), "{meaning:?}");
            assert_eq!(plain.add_modifier, with.style(meaning).add_modifier, "{meaning:?}");
        }
    }

    #[test]
    fn what_a_finding_weighs_is_told_by_its_mark_alone() {
        let marks = [
            Meaning::Stop,
            Meaning::Caution,
            Meaning::Note,
            Meaning::Good,
            Meaning::Assumed,
        ]
        .map(Meaning::mark);
        for (i, mark) in marks.iter().enumerate() {
            assert!((1..=2).contains(&mark.len()), "{mark:?}");
            assert!(!marks[..i].contains(mark), "{mark:?} twice");
        }
    }

    #[test]
    fn nothing_is_green() {
        let theme = Theme::default();
        assert!(
            ALL.iter()
                .all(|m| !matches!(theme.style(*m).fg, Some(Color::Green | Color::LightGreen)))
        );
    }

    #[test]
    fn every_glyph_takes_one_cell_and_the_plain_set_is_plain() {
        for glyphs in [DRAWN, ASCII] {
            for glyph in every(&glyphs) {
                assert_eq!(glyph.width(), 1, "{glyph:?}");
            }
        }
        assert!(every(&ASCII).iter().all(|glyph| glyph.is_ascii()));
    }

    #[test]
    fn arrowheads_are_not_of_the_width_class_that_doubles_in_east_asian_fonts() {
        for glyph in [DRAWN.left, DRAWN.right, DRAWN.up, DRAWN.down, DRAWN.minus, DRAWN.pin] {
            assert_eq!(UnicodeWidthStr::width_cjk(glyph), 1, "{glyph:?}");
        }
    }

    fn every(glyphs: &Glyphs) -> Vec<&'static str> {
        let mut all = vec![
            glyphs.hatch,
            glyphs.dots,
            glyphs.left,
            glyphs.right,
            glyphs.up,
            glyphs.down,
            glyphs.minus,
            glyphs.pin,
        ];
        all.extend(glyphs.extension);
        all.extend(glyphs.bar);
        for line in [glyphs.light, glyphs.heavy, glyphs.double, glyphs.dashed] {
            all.extend([line.across, line.down]);
            all.extend(line.corners);
            all.extend(line.ends);
        }
        all
    }
}
