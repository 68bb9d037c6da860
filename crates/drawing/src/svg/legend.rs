//! Title above, key of marks and notes below.

use job::Source;

use super::frame::Frame;
use super::marks::swatch;
use super::text::{Anchor, Look, width};
use crate::{Role, View};

const KEY: [(Role, &str); 9] = [
    (Role::Cavity, "usable space"),
    (Role::KeepOut(Source::Frame), "frame: stays"),
    (Role::KeepOut(Source::Sweep), "reach of a moving thing"),
    (Role::KeepOut(Source::Removable), "can be taken out"),
    (Role::TakenOut, "hidden, or taken out"),
    (Role::Body, "box"),
    (Role::Part, "piece to cut"),
    (Role::Module, "module"),
    (Role::Service, "service space"),
];

/// Draws title, key and notes.
pub(super) fn draw(view: &View, frame: &mut Frame) -> String {
    let size = frame.text;
    let [left, top, right, bottom] = frame.taken();
    let mut out = frame.text(
        [left, top - size * 1.2],
        &view.title,
        Look {
            bold: true,
            ..Look::plain(size * 1.4, Anchor::Start)
        },
    );
    let right = right.max(left + size * 50.0);
    let (mut x, mut y) = (left, bottom + size * 2.0);
    let small = size * 0.8;
    for (role, words) in KEY {
        if !shows(view, role) {
            continue;
        }
        let wide = size * 2.2 + width(words, small, false) + size * 1.5;
        if x + wide > right {
            x = left;
            y += size * 1.6;
        }
        out += &swatch([x, y - size * 0.8, x + size * 1.6, y], role, frame);
        out += &frame.text(
            [x + size * 2.1, y - size * 0.15],
            words,
            Look::plain(small, Anchor::Start),
        );
        x += wide;
    }
    if view.gaps.iter().any(|gap| gap.short) {
        let words = "! less than asked for";
        let wide = width(words, small, true) + size * 1.5;
        if x + wide > right {
            x = left;
            y += size * 1.6;
        }
        out += &frame.text(
            [x, y - size * 0.15],
            words,
            Look {
                bold: true,
                ..Look::plain(small, Anchor::Start)
            },
        );
    }
    y += size * 0.6;
    for note in view
        .notes
        .iter()
        .flat_map(|note| wrap(note, (right - left) / width("m", small, false)))
    {
        y += size * 1.2;
        out += &frame.text([left, y], &note, Look::plain(small, Anchor::Start));
    }
    out
}

fn shows(view: &View, role: Role) -> bool {
    view.outlines.iter().any(|o| match role {
        Role::TakenOut => o.role == role || o.hidden,
        Role::Module => matches!(o.role, Role::Module | Role::Stack),
        _ => o.role == role,
    })
}

/// Breaks a note into lines of at most `most` characters where it can.
fn wrap(note: &str, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in note.split_whitespace() {
        #[expect(clippy::cast_precision_loss, reason = "a note is short")]
        let fits = |line: &String| (line.chars().count() + 1 + word.chars().count()) as f64 <= most;
        match lines.last_mut() {
            Some(line) if fits(line) => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
