//! The screen as a picture: an SVG that needs nothing else.

use std::fmt::Write;
use std::fs;
use std::path::Path;

use vt100::{Cell, Color};

use crate::harness::{Home, Key, Screen, Shown, Start};

/// Width and height of a cell, and the size of the letters: such that box drawing of common fonts joins up.
const CELL: (u32, u32) = (9, 18);
const LETTERS: u32 = 15;

/// The room round the screen.
const EDGE: u32 = 10;

const BACK: &str = "#14171c";
const FRONT: &str = "#d5d8de";

/// The sixteen colours, readable on [`BACK`].
const PALETTE: [&str; 16] = [
    "#2a2f38", "#ef6b73", "#8cc265", "#d9b24c", "#5aa7f0", "#c780e8", "#42b3c2", "#d5d8de", "#6b7482", "#ff8f96",
    "#a9dd84", "#f0cd74", "#84c1ff", "#dba3f5", "#6fd3e0", "#ffffff",
];

/// How a run of cells looks.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Look {
    front: String,
    back: Option<String>,
    bold: bool,
    dim: bool,
    italic: bool,
}

impl Look {
    fn of(cell: &Cell) -> Self {
        let (front, back) = (colour(cell.fgcolor()), colour(cell.bgcolor()));
        let (front, back) = if cell.inverse() {
            (
                back.unwrap_or_else(|| BACK.to_owned()),
                Some(front.unwrap_or_else(|| FRONT.to_owned())),
            )
        } else {
            (front.unwrap_or_else(|| FRONT.to_owned()), back)
        };
        Self {
            front,
            back,
            bold: cell.bold(),
            dim: cell.dim(),
            italic: cell.italic(),
        }
    }

    fn attributes(&self) -> String {
        let mut text = String::new();
        if self.front != FRONT {
            let _ = write!(text, " fill=\"{}\"", self.front);
        }
        let more = [
            (self.bold, " font-weight=\"bold\""),
            (self.dim, " fill-opacity=\"0.6\""),
            (self.italic, " font-style=\"italic\""),
        ];
        text.extend(more.into_iter().filter(|(on, _)| *on).map(|(_, words)| words));
        text
    }
}

/// `None` for the terminal's own colour.
fn colour(colour: Color) -> Option<String> {
    match colour {
        Color::Default => None,
        Color::Idx(n) => PALETTE.get(usize::from(n)).map(|&c| c.to_owned()),
        Color::Rgb(r, g, b) => Some(format!("#{r:02x}{g:02x}{b:02x}")),
    }
}

/// Neighbouring cells of one row that look alike.
struct Run {
    look: Look,
    from: u32,
    cells: Vec<String>,
}

fn runs(shown: &Shown, row: u16) -> Vec<Run> {
    let (_, columns) = shown.screen().size();
    let mut runs: Vec<Run> = Vec::new();
    for (column, x) in (0..columns.get()).zip(0..) {
        let Some(cell) = shown.screen().cell(row, column) else {
            continue;
        };
        let look = Look::of(cell);
        let text = cell.contents().to_owned();
        match runs.last_mut() {
            Some(run) if run.look == look => run.cells.push(text),
            _ => runs.push(Run {
                look,
                from: x,
                cells: vec![text],
            }),
        }
    }
    runs
}

/// The screen as an SVG. Every glyph has its own x, so that a font of other widths cannot break the grid.
pub(crate) fn svg(shown: &Shown) -> String {
    let (rows, columns) = shown.screen().size();
    let size = |cells: u16, cell: u32| u32::from(cells) * cell + 2 * EDGE;
    let (width, height) = (size(columns.get(), CELL.0), size(rows.get(), CELL.1));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\">\n<rect width=\"100%\" height=\"100%\" rx=\"6\" fill=\"{BACK}\"/>\n\
         <g font-family=\"'DejaVu Sans Mono', 'Liberation Mono', Menlo, Consolas, monospace\" \
         font-size=\"{LETTERS}\" fill=\"{FRONT}\">\n"
    );
    for (row, y) in (0..rows.get()).zip(0..) {
        for run in runs(shown, row) {
            draw(&mut out, &run, EDGE + y * CELL.1);
        }
    }
    out.push_str("</g>\n</svg>\n");
    out
}

fn draw(out: &mut String, run: &Run, top: u32) {
    let x = |i: u32| EDGE + (run.from + i) * CELL.0;
    let count = u32::try_from(run.cells.len()).unwrap_or(u32::MAX);
    if let Some(back) = &run.look.back {
        let (width, height) = (count * CELL.0, CELL.1);
        let _ = writeln!(
            out,
            "<rect x=\"{}\" y=\"{top}\" width=\"{width}\" height=\"{height}\" fill=\"{back}\"/>",
            x(0)
        );
    }
    let base = top + CELL.1 * 3 / 4;
    let attributes = run.look.attributes();
    for (cell, i) in run.cells.iter().zip(0..) {
        if !cell.trim().is_empty() {
            let glyph = cell.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
            let _ = writeln!(out, "<text x=\"{}\" y=\"{base}\"{attributes}>{glyph}</text>", x(i));
        }
    }
}

#[test]
fn a_picture_has_every_glyph_in_its_place() {
    let home = Home::new();
    let screen = Screen::start(&home, &Start::default());
    screen.wait_for("new job in inches");
    let shown = screen.shown();
    let picture = svg(&shown);
    let glyphs = shown.rows().concat().chars().filter(|c| !c.is_whitespace()).count();
    assert_eq!(picture.matches("<text ").count(), glyphs);
    let (x, y) = shown.find("packwright").expect("the name is on the start page");
    let place = format!(
        "<text x=\"{}\" y=\"{}\"",
        EDGE + u32::from(x) * CELL.0,
        EDGE + u32::from(y) * CELL.1 + CELL.1 * 3 / 4
    );
    assert!(
        picture
            .lines()
            .any(|l| l.starts_with(&place) && l.ends_with(">p</text>")),
        "{place}"
    );
    // The row under the cursor is reversed.
    assert!(picture.contains(&format!("fill=\"{FRONT}\"/>")));
}

/// Writes the manual's picture of the Layout page into the file that `PACKWRIGHT_PICTURE` names, from the root of the
/// tree: `PACKWRIGHT_PICTURE=docs/layout.svg cargo test -p packwright --test screens -- --ignored`.
#[test]
#[ignore = "writes the manual's picture"]
fn picture_for_the_manual() {
    let Some(path) = std::env::var_os("PACKWRIGHT_PICTURE") else {
        return;
    };
    let home = Home::new();
    let args = ["example", "orchard-flatbed", "--open"];
    let mut screen = Screen::start(
        &home,
        &Start {
            args: &args,
            size: (100, 30),
            env: &[],
        },
    );
    screen.wait_for("M13  crate");
    screen.key(Key::Press('n'));
    screen.wait_for("M14  crate");
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    fs::write(root.join(path), svg(&screen.shown())).expect("the picture can be written");
}
