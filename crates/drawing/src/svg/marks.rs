//! How each thing is drawn: heavy lines for steel, light ones for modules, hatching for what must stay free, dashes
//! for what is hidden or taken out.

use std::fmt::Write as _;

use job::Source;

use super::frame::{Frame, rect};
use super::text::{Anchor, Look, text, width};
use crate::{Edge, Outline, Role};

/// Line, fill and dashes of a role, line and dashes in parts of the text height.
struct Style {
    line: f64,
    fill: &'static str,
    dashes: &'static [f64],
}

const fn style(role: Role) -> Style {
    const DASHED: &[f64] = &[0.5, 0.3];
    const DOTTED: &[f64] = &[0.08, 0.2];
    let (line, fill, dashes): (f64, &'static str, &'static [f64]) = match role {
        Role::Cavity => (0.1, "#fff", &[0.9, 0.2, 0.2, 0.2]),
        Role::KeepOut(Source::Frame) => (0.08, "url(#frame)", &[]),
        Role::KeepOut(Source::Sweep) => (0.08, "url(#sweep)", &[]),
        Role::KeepOut(Source::Removable) => (0.08, "url(#removable)", &[]),
        Role::TakenOut => (0.06, "none", DASHED),
        Role::Rim => (0.12, "#fff", &[]),
        Role::Body => (0.18, "#fff", &[]),
        Role::Inside => (0.04, "none", &[]),
        Role::Module => (0.06, "#fff", &[]),
        Role::Part | Role::Stack => (0.1, "#fff", &[]),
        Role::Service => (0.05, "none", DOTTED),
    };
    Style { line, fill, dashes }
}

/// The hatchings, as fine as the text is large.
pub(super) fn patterns(frame: &Frame) -> String {
    let pattern = |id: &str, step: f64, path: &str| {
        let mut out = String::new();
        let _ = writeln!(
            out,
            "<pattern id=\"{id}\" width=\"{step:.2}\" height=\"{step:.2}\" patternUnits=\"userSpaceOnUse\" \
             patternTransform=\"rotate(45)\"><rect width=\"{step:.2}\" height=\"{step:.2}\" fill=\"#fff\"/>\
             <path d=\"{path}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{:.2}\"/></pattern>",
            frame.text * 0.06
        );
        out
    };
    let (fine, wide) = (frame.text * 0.45, frame.text * 0.9);
    let mut out = String::from("<defs>\n");
    out += &pattern("frame", fine, &format!("M0 0V{fine:.2}"));
    out += &pattern("sweep", fine, &format!("M0 0V{fine:.2}M0 0H{fine:.2}"));
    out += &pattern("removable", wide, &format!("M0 0V{wide:.2}"));
    out += "</defs>\n";
    out
}

/// A rectangle in the line and fill of a role.
pub(super) fn swatch([x0, y0, x1, y1]: [f64; 4], role: Role, frame: &Frame) -> String {
    let shape = format!(
        "rect x=\"{x0:.2}\" y=\"{y0:.2}\" width=\"{:.2}\" height=\"{:.2}\"",
        x1 - x0,
        y1 - y0
    );
    shaped(&shape, role, frame)
}

/// A shape in the line and fill of a role.
fn shaped(shape: &str, role: Role, frame: &Frame) -> String {
    let style = style(role);
    let dashes: Vec<String> = style.dashes.iter().map(|d| format!("{:.2}", d * frame.text)).collect();
    let dashes = if dashes.is_empty() {
        String::new()
    } else {
        format!(" stroke-dasharray=\"{}\"", dashes.join(" "))
    };
    let mut out = String::new();
    let _ = writeln!(
        out,
        "<{shape} fill=\"{}\" stroke=\"#000\" stroke-width=\"{:.2}\"{dashes}/>",
        style.fill,
        style.line * frame.text
    );
    out
}

/// An outline with its terminals.
pub(super) fn outline(outline: &Outline, frame: &Frame) -> String {
    let corners = rect(&outline.rect);
    let mut out = seen(outline, outline.role, frame);
    // Two terminals on one face, or one on each of two.
    let count = if outline.terminals.len() > 1 { 1 } else { 2 };
    for &edge in &outline.terminals {
        out += &terminals(corners, edge, count, frame);
    }
    out
}

/// The same outline dashed, for what lies behind.
pub(super) fn dashed(outline: &Outline, frame: &Frame) -> String {
    seen(outline, Role::TakenOut, frame)
}

/// A rectangle, or what is there of one that lacks a corner.
fn seen(outline: &Outline, role: Role, frame: &Frame) -> String {
    let Some(corner) = &outline.lacks else {
        return swatch(rect(&outline.rect), role, frame);
    };
    let points = outline.rect.without(corner).map(|[u, v]| {
        let [x, y, ..] = rect(&crate::Rect {
            u0: u,
            v0: v,
            u1: u,
            v1: v,
        });
        format!("{x:.2},{y:.2}")
    });
    shaped(&format!("polygon points=\"{}\"", points.join(" ")), role, frame)
}

fn terminals([x0, y0, x1, y1]: [f64; 4], edge: Edge, count: u32, frame: &Frame) -> String {
    let size = (frame.text * 0.3).min((x1 - x0).min(y1 - y0) * 0.12);
    let shares: &[f64] = if count == 1 { &[0.5] } else { &[0.22, 0.78] };
    let (wide, high) = (x1 - x0, y1 - y0);
    let mut out = String::new();
    for share in shares {
        let (x, y) = match edge {
            Edge::Left => (x0, y0 + high * share),
            Edge::Right => (x1, y0 + high * share),
            Edge::Top => (x0 + wide * share, y0),
            Edge::Bottom => (x0 + wide * share, y1),
            Edge::Facing if wide > high => (x0 + wide * share.mul_add(0.9, 0.05), y0 + high * 0.2),
            Edge::Facing => (x0 + wide * 0.5, y0 + high * share.mul_add(0.9, 0.05)),
            Edge::Away => continue,
        };
        let _ = match edge {
            Edge::Facing => writeln!(out, "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{size:.1}\"/>"),
            _ => writeln!(
                out,
                "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"{wide:.1}\" height=\"{wide:.1}\"/>",
                x - size,
                y - size,
                wide = size * 2.0
            ),
        };
    }
    out
}

/// Name and second line of a module, as large as fits, turned where it is narrow. Other names stand beside the view.
pub(super) fn words(outline: &Outline, frame: &Frame) -> String {
    if !matches!(outline.role, Role::Module | Role::Stack) || outline.hidden {
        return String::new();
    }
    let [x0, y0, x1, y1] = rect(&outline.rect);
    let (wide, high) = (x1 - x0, y1 - y0);
    let upright = high > wide && width(&outline.label, frame.text, true) > wide * 0.85;
    let (along, across) = if upright { (high, wide) } else { (wide, high) };
    let size = frame
        .text
        .min(along * 0.85 / width(&outline.label, 1.0, true))
        .min(across * 0.7);
    if size < frame.text * 0.3 {
        return String::new();
    }
    let both = size
        .min(across * 0.38)
        .min(along * 0.85 / width(&outline.sub, 1.0, false).max(0.1));
    let two = !outline.sub.is_empty() && both > frame.text * 0.5;
    let [x, y] = [f64::midpoint(x0, x1), f64::midpoint(y0, y1)];
    // Baselines below the middle line, or to its right for turned text.
    let at = |down: f64| {
        if upright { [x + down, y] } else { [x, y + down] }
    };
    let look = |size, bold| Look {
        bold,
        upright,
        ..Look::plain(size, Anchor::Middle)
    };
    if two {
        let label = both.min(along * 0.85 / width(&outline.label, 1.0, true));
        text(at(-0.15 * both), &outline.label, look(label, true))
            + &text(at(both), &outline.sub, look(both * 0.9, false))
    } else {
        text(at(size * 0.36), &outline.label, look(size, true))
    }
}
