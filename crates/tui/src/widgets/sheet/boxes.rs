//! The boxes of a view: outlines, fills, names, marks.

use ratatui::style::{Modifier, Style};

use super::layout::Laid;
use super::{Across, At, Outline, SheetView, Shown, Upright, ViewBox};
use crate::theme::{Meaning, Theme};
use crate::widgets::pen::{Drawn, Edges, Pen, Stroke, cut, cut_start, width};

/// Draws all boxes: what is hatched first, steel over it, names last, the selected box over its neighbours.
pub(super) fn draw(pen: &mut Pen<'_>, view: &SheetView<'_>, laid: &Laid) {
    let mut parts: Vec<(&ViewBox, Edges, Drawn)> = view
        .boxes
        .iter()
        .filter_map(|part| laid.edges(part).map(|(edges, drawn)| (part, edges, drawn)))
        .collect();
    parts.sort_by_key(|(part, ..)| (!part.hidden, layer(part.outline), part.flagged, part.selected));
    let detail = laid.shown != Shown::ZoomIn;
    for (part, edges, drawn) in &parts {
        let corner = corner(laid, part).filter(|_| *drawn == Drawn::WHOLE);
        draw_outline(pen, view.theme, part, *edges, *drawn, corner);
        // The name of a hatch lies on the hatch, under the modules that stand over it.
        if part.outline == Outline::KeepOut {
            Label::new(view.theme, part, *edges, detail).draw(pen, view.theme, part, *edges, detail);
        }
    }
    for (i, (part, edges, drawn)) in parts.iter().enumerate() {
        let over = parts[i + 1..]
            .iter()
            .filter(|(over, ..)| over.outline == Outline::Module);
        // What stands over a module hides its name as well: two names in one place can be read as a third.
        let is_covered = part.outline == Outline::Module && over.into_iter().any(|(_, over, _)| meets(*edges, *over));
        if part.outline == Outline::KeepOut || is_covered {
            continue;
        }
        let label = Label::new(view.theme, part, *edges, detail);
        if detail && label.leaves_marks {
            draw_marks(pen, view, part, *edges, *drawn);
        }
        label.draw(pen, view.theme, part, *edges, detail);
    }
}

/// Whether the inside of one covers the middle of another, where its name stands.
const fn meets(under: Edges, over: Edges) -> bool {
    let across = under.left + (under.right - under.left) / 2;
    let down = under.top + (under.bottom - under.top) / 2;
    over.left < across && across < over.right && over.top < down && down < over.bottom
}

/// Later layers are drawn over earlier ones; steel comes last, so that a hatch never hides a wall.
const fn layer(outline: Outline) -> u8 {
    match outline {
        Outline::Service => 0,
        Outline::KeepOut => 1,
        Outline::Module => 2,
        Outline::Rim => 3,
        Outline::Body => 4,
        Outline::Space => 5,
    }
}

fn style_of(theme: Theme, part: &ViewBox) -> Style {
    let meaning = match part.outline {
        _ if part.flagged => Meaning::Stop,
        Outline::Space | Outline::Body => Meaning::Steel,
        Outline::Rim => Meaning::Dim,
        Outline::Module => Meaning::Module,
        Outline::KeepOut => Meaning::KeepOut,
        Outline::Service => Meaning::Service,
    };
    let style = theme.style(meaning);
    match (part.hidden, part.selected) {
        (true, _) => style.add_modifier(Modifier::DIM),
        (_, true) => style.add_modifier(Modifier::BOLD),
        _ => style,
    }
}

/// The cells of the corner that a box lacks, where all of it is in the window.
fn corner(laid: &Laid, part: &ViewBox) -> Option<Edges> {
    let [u, v] = part.lacks?;
    let corner = ViewBox::new(part.outline, u, v, "");
    laid.edges(&corner)
        .filter(|(_, drawn)| *drawn == Drawn::WHOLE)
        .map(|(edges, _)| edges)
}

fn draw_outline(pen: &mut Pen<'_>, theme: Theme, part: &ViewBox, edges: Edges, drawn: Drawn, corner: Option<Edges>) {
    let style = style_of(theme, part);
    let glyphs = pen.glyphs();
    let stroke = match part.outline {
        Outline::KeepOut => return pen.fill(edges, glyphs.hatch, style),
        Outline::Service => return pen.fill(edges, glyphs.dots, style),
        _ if part.hidden => Stroke::Dashed,
        Outline::Space => Stroke::Heavy,
        Outline::Body => Stroke::Double,
        Outline::Rim => Stroke::Dashed,
        Outline::Module => {
            // A hatch behind a module would make it unreadable.
            let inside = Edges {
                left: edges.left + 1,
                right: edges.right.saturating_sub(1),
                top: edges.top + 1,
                bottom: edges.bottom.saturating_sub(1),
            };
            pen.fill(inside, " ", theme.style(Meaning::Plain));
            Stroke::Light
        }
    };
    match corner {
        Some(corner) => pen.rect_without(edges, corner, stroke, style),
        None => pen.rect(edges, drawn, stroke, style),
    }
}

fn draw_marks(pen: &mut Pen<'_>, view: &SheetView<'_>, part: &ViewBox, edges: Edges, drawn: Drawn) {
    if edges.inner_width() < 2 || edges.inner_height() == 0 {
        return;
    }
    let (left, right) = (edges.left + 1, edges.right - 1);
    let (top, bottom) = (edges.top + 1, edges.bottom - 1);
    for (i, mark) in part.marks.iter().enumerate() {
        let is_first = !part.marks[..i].iter().any(|before| before.at == mark.at);
        let at = turned(mark.at, view);
        let is_cut_off = match at {
            At::LowU => !drawn.across[0],
            At::HighU => !drawn.across[1],
            At::LowV => !drawn.down[0],
            At::HighV => !drawn.down[1],
            At::Facing => false,
        };
        if is_cut_off {
            continue;
        }
        let (x, y) = match at {
            At::LowU => (left, if is_first { top } else { bottom }),
            At::HighU => (right, if is_first { top } else { bottom }),
            At::LowV => (if is_first { left } else { right }, top),
            At::HighV => (if is_first { left } else { right }, bottom),
            At::Facing => {
                let inset = u16::from(edges.inner_width() >= 7);
                let x = if is_first { left + inset } else { right - inset };
                (x, edges.top + 1 + (edges.inner_height() - 1) / 2)
            }
        };
        let mut bytes = [0; 4];
        let sign = match mark.sign {
            '-' => pen.glyphs().minus,
            other => &*other.encode_utf8(&mut bytes),
        };
        pen.stamp(x, y, sign, view.theme.style(Meaning::Heading));
    }
}

/// The edge of the screen at which an edge of the box lies.
fn turned(at: At, view: &SheetView<'_>) -> At {
    match (at, view.across, view.upright) {
        (At::LowU, Across::Left, _) => At::HighU,
        (At::HighU, Across::Left, _) => At::LowU,
        (At::LowV, _, Upright::Up) => At::HighV,
        (At::HighV, _, Upright::Up) => At::LowV,
        _ => at,
    }
}

/// A name made to fit its box.
struct Label {
    text: String,
    /// Whether the marks have cells of their own beside it; a name goes before marks.
    leaves_marks: bool,
}

impl Label {
    fn new(theme: Theme, part: &ViewBox, edges: Edges, detail: bool) -> Self {
        let (wide, high) = (edges.inner_width(), edges.inner_height());
        let text = |room: u16| full_label(theme, part, room);
        if is_on_edge(part.outline) {
            return Self {
                text: text(wide.saturating_sub(4)),
                leaves_marks: true,
            };
        }
        if detail && marks_share_row(part, high) {
            let beside = wide.saturating_sub(if wide >= 7 { 4 } else { 2 });
            let whole = width(&part.label) + u16::from(part.flagged) + width(part.sign);
            return if whole <= beside {
                Self {
                    text: text(beside),
                    leaves_marks: true,
                }
            } else {
                Self {
                    text: text(wide),
                    leaves_marks: false,
                }
            };
        }
        Self {
            text: text(wide),
            leaves_marks: true,
        }
    }

    fn draw(&self, pen: &mut Pen<'_>, theme: Theme, part: &ViewBox, edges: Edges, detail: bool) {
        let (wide, high) = (edges.inner_width(), edges.inner_height());
        let style = label_style(theme, part);
        let spaced = format!(" {} ", self.text);
        if self.text.is_empty() {
            return;
        }
        if is_on_edge(part.outline) {
            if width(&spaced) + 2 <= wide {
                pen.text(edges.left + 2, edges.top, &spaced, style);
            }
            return;
        }
        if high == 0 {
            return;
        }
        let row = edges.top + 1 + (high - 1) / 2;
        // On a hatch a name needs air; on a blank one it does not.
        let is_blank = part.outline == Outline::Module;
        let text = if is_blank || width(&spaced) > wide {
            &self.text
        } else {
            &spaced
        };
        centred(pen, edges, row, text, style);
        if detail && high >= 2 && !part.sub.is_empty() && width(&part.sub) <= wide {
            centred(pen, edges, row + 1, &part.sub, theme.style(Meaning::Dim));
        }
    }
}

/// Whether the name stands in the top edge: the insides of these are full of other things.
const fn is_on_edge(outline: Outline) -> bool {
    matches!(outline, Outline::Space | Outline::Body | Outline::Rim)
}

/// Whether a mark may stand in the row of the label: in the first two rows, or on the face that is looked at.
fn marks_share_row(part: &ViewBox, high: u16) -> bool {
    part.marks.iter().any(|mark| high <= 2 || mark.at == At::Facing)
}

/// The label with its sign, its flag and pointers as far as there is room, else the label alone, cut.
///
/// One column could not tell two modules apart, so nothing is shown there unless it is the whole name.
fn full_label(theme: Theme, part: &ViewBox, room: u16) -> String {
    if part.label.is_empty() {
        return String::new();
    }
    let glyphs = theme.glyphs();
    let flag = format!("{}{}", part.sign, if part.flagged { "!" } else { "" });
    let flagged = format!("{flag}{}", part.label);
    let pointed = format!("{}{flagged}{}", glyphs.right, glyphs.left);
    let text = match room {
        _ if part.selected && width(&pointed) <= room => pointed,
        _ if width(&flagged) <= room => flagged,
        _ if part.outline == Outline::Module => {
            format!("{flag}{}", cut_start(&part.label, room.saturating_sub(width(&flag))))
        }
        _ => cut(&flagged, room),
    };
    if width(&text) < 2 + width(&flag) && width(&part.label) > 1 {
        String::new()
    } else {
        text
    }
}

fn label_style(theme: Theme, part: &ViewBox) -> Style {
    match (part.selected, part.flagged, part.hidden) {
        (true, true, _) => theme.style(Meaning::Stop).patch(theme.style(Meaning::Selected)),
        (true, ..) => theme.style(Meaning::Selected),
        (_, true, _) => theme.style(Meaning::Stop),
        (_, _, true) => theme.style(Meaning::Dim),
        _ => theme.style(Meaning::Plain),
    }
}

fn centred(pen: &mut Pen<'_>, edges: Edges, row: u16, text: &str, style: Style) {
    let spare = edges.inner_width().saturating_sub(width(text));
    pen.text(edges.left + 1 + spare / 2, row, text, style);
}
