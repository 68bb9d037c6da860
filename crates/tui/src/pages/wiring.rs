//! The wiring on the sheet: the chain drawn over the modules, and beside it what is selected.

use drawing::Side;
use geometry::{Cuboid, Point};
use job::wiring::Ordered;
use job::{End, Evaluation, Id, LinkKind, LinkResult, OrderFrom, WiringResult};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use tape::Length;

use super::layout::picture;
use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, cut, width};
use crate::widgets::toast::wrap;

/// The kind whose wiring is shown: the first that is laid out.
pub fn kind(model: &Model) -> Option<Id> {
    model.evaluation.laid_out().next().map(|p| p.kind)
}

/// Its wiring, when it is laid out whole.
pub fn chain(model: &Model) -> Option<&WiringResult> {
    let pack = model.evaluation.laid_out().next()?;
    pack.electric.as_ref()?.wiring.as_ref()
}

/// A place of the chain in words.
pub fn seat_words(chain: &WiringResult, at: usize) -> String {
    let seat = &chain.seats[at];
    let turned = if seat.turned { ", turned round" } else { "" };
    let unit = seat.unit.as_ref().map_or(String::new(), |u| format!(", unit {u}"));
    format!("{} of {}: {}{turned}{unit}", at + 1, chain.seats.len(), seat.seat)
}

/// What speaks for each of two orders, in one text.
pub fn orders_words(model: &Model, orders: &[Ordered; 2]) -> String {
    let [one, two] = [0, 1].map(|i| order_words(model, &orders[i]));
    let nearest = model.evaluation.up(orders[0].nearest);
    format!("1: {one}. 2: {two}. From nearest to nearest it is {nearest}.")
}

fn order_words(model: &Model, ordered: &Ordered) -> String {
    let shown = &model.evaluation;
    let proof = ordered.at_least.map_or("proved".to_owned(), |least| {
        format!("none is under {}", shown.down(least))
    });
    let full = shown
        .laid_out()
        .next()
        .and_then(|p| Some(p.figures?.volts.full.get() / f64::from(p.arrangement?.series.max(1))));
    let volts = full.map_or(String::new(), |v| {
        format!(", {:.0} V between neighbours", v * f64::from(ordered.neighbour))
    });
    format!(
        "links of {} ({proof}){volts}, {} in the way",
        shown.up(ordered.length),
        ordered.tangles
    )
}

/// Draws the page into `body`.
pub fn draw(model: &Model, body: Rect, buf: &mut Buffer) {
    let panel = if body.width >= 110 { 40 } else { 30 };
    let sheet = Rect {
        width: body.width.saturating_sub(panel + 1),
        ..body
    };
    let beside = Rect {
        x: sheet.right() + 1,
        width: panel,
        ..body
    };
    picture::draw_plain(model, model.sheet.side, sheet, buf, |cells, pen| {
        if let Some(chain) = chain(model) {
            draw_links(model, chain, cells, pen);
        }
    });
    draw_panel(model, beside, buf);
}

/// From a place of the sheet to a cell.
pub type Cells<'a> = &'a dyn Fn(Length, Length) -> Option<(u16, u16)>;

/// Where a place of the truck is on the sheet: u and v.
fn on_sheet(side: Side, at: Point) -> (Length, Length) {
    let place = side.rect(&Cuboid::between(at, at));
    (place.u0, place.v0)
}

fn draw_links(model: &Model, chain: &WiringResult, cells: Cells<'_>, pen: &mut Pen<'_>) {
    let theme = model.theme;
    let cavity = model.sheet.cavity;
    let to_cell = |seat: usize, plus: bool| {
        let s = chain.seats.get(seat).filter(|s| Some(s.cavity) == cavity)?;
        let (u, v) = on_sheet(model.sheet.side, s.terminal(plus) - s.from_cavity);
        cells(u, v)
    };
    for link in &chain.links {
        let ends = [link.from, link.to].map(|end| match end {
            End::Terminal { seat, plus } => to_cell(seat, plus),
            _ => None,
        });
        if let [Some(a), Some(b)] = ends {
            let meaning = if link.touches(model.link) {
                Meaning::Selected
            } else {
                Meaning::Key
            };
            run(pen, a, b, theme.style(meaning), link, theme.ascii);
        }
    }
    for seat in 0..chain.seats.len() {
        for (plus, sign) in [(true, "+"), (false, "-")] {
            if let Some((x, y)) = to_cell(seat, plus) {
                let meaning = if seat == model.link {
                    Meaning::Selected
                } else {
                    Meaning::Heading
                };
                pen.stamp(x, y, sign, theme.style(meaning));
            }
        }
    }
}

/// A link as dots along the row and then the column, its number in the middle where there is room.
fn run(pen: &mut Pen<'_>, a: (u16, u16), b: (u16, u16), style: ratatui::style::Style, link: &LinkResult, ascii: bool) {
    let dot = match (link.kind, ascii) {
        (LinkKind::BoxToBox, _) => "~",
        (_, true) => "*",
        (_, false) => "\u{2022}",
    };
    let (left, right) = (a.0.min(b.0), a.0.max(b.0));
    for x in left + 1..right {
        pen.stamp(x, a.1, dot, style);
    }
    let (top, bottom) = (a.1.min(b.1), a.1.max(b.1));
    for y in top + 1..bottom {
        pen.stamp(b.0, y, dot, style);
    }
    if a.0 != b.0 && a.1 != b.1 {
        pen.stamp(b.0, a.1, dot, style);
    }
    let number = link.number.to_string();
    if usize::from(right - left) > number.len() + 1 {
        pen.text(left + 1 + (right - left - 1) / 2, a.1, &number, style);
    } else if bottom - top > 1 {
        pen.text(b.0, top + 1 + (bottom - top - 1) / 2, &number, style);
    }
}

fn draw_panel(model: &Model, area: Rect, buf: &mut Buffer) {
    let mut pen = Pen::new(buf, area, model.theme);
    let bar = model.theme.glyphs().light.down;
    // Sections, lengths and volts are read whole: what is too long goes on below.
    let lines: Vec<(String, Meaning)> = panel_lines(model)
        .into_iter()
        .flat_map(|(text, meaning)| {
            let before = text.len() - text.trim_start().len();
            let columns = area.width.saturating_sub(u16::try_from(before).unwrap_or(0) + 2);
            let set_in = move |(i, line): (usize, String)| {
                let columns = before + if i > 0 { 2 } else { 0 };
                (format!("{}{line}", " ".repeat(columns)), meaning)
            };
            if width(&text) <= area.width {
                vec![(text, meaning)]
            } else {
                wrap(&text, columns).into_iter().enumerate().map(set_in).collect()
            }
        })
        .collect();
    let lines = whole_or_told(lines, usize::from(area.height));
    for (y, i) in (area.top()..area.bottom()).zip(0..) {
        pen.text(area.x.saturating_sub(1), y, bar, model.theme.style(Meaning::Dim));
        if let Some((text, meaning)) = lines.get(i) {
            pen.text(area.x, y, &cut(text, area.width), model.theme.style(*meaning));
        }
    }
}

/// Of more lines than there are rows, the first; the last row tells how many are not seen.
fn whole_or_told(mut lines: Vec<(String, Meaning)>, rows: usize) -> Vec<(String, Meaning)> {
    if lines.len() > rows && rows > 0 {
        let more = lines.len() - (rows - 1);
        lines.truncate(rows - 1);
        lines.push((format!("! {more} more lines"), Meaning::Caution));
    }
    lines
}

/// The links of a place in the chain; where the leads leave the box, the cable on to the drive with them, so that the
/// numbers begin with 1.
fn links_at(chain: &WiringResult, at: usize) -> Vec<&LinkResult> {
    let exit = |end: End| match end {
        End::Exit { plus } => Some(plus),
        End::Terminal { .. } | End::Drive { .. } => None,
    };
    let own = chain.links.iter().filter(|l| l.touches(at));
    let left_by: Vec<bool> = own.flat_map(|l| [exit(l.from), exit(l.to)]).flatten().collect();
    let goes_on = |l: &LinkResult| {
        let is_cable = [l.from, l.to].iter().any(|end| matches!(end, End::Drive { .. }));
        let leaves = [l.from, l.to].into_iter().filter_map(exit);
        is_cable && leaves.into_iter().any(|plus| left_by.contains(&plus))
    };
    chain.links.iter().filter(|l| l.touches(at) || goes_on(l)).collect()
}

/// The selected module with its links, then what the wiring comes to.
fn panel_lines(model: &Model) -> Vec<(String, Meaning)> {
    let shown = &model.evaluation;
    let Some(chain) = chain(model) else {
        return vec![
            ("no chain yet:".to_owned(), Meaning::Caution),
            ("lay out a whole pack first,".to_owned(), Meaning::Plain),
            ("with no module left over".to_owned(), Meaning::Plain),
        ];
    };
    let mut lines = selected_lines(shown, chain, model.link.min(chain.seats.len() - 1));
    let mut say = |text: String, meaning| lines.push((text, meaning));
    let word = match chain.parallel {
        1 => "",
        _ if chain.strings() > 1 => " in strings",
        _ => " in groups",
    };
    say(format!("{}s{}p{word}", chain.series, chain.parallel), Meaning::Heading);
    match chain.from {
        OrderFrom::Given => say("your order".to_owned(), Meaning::Plain),
        OrderFrom::Mended => say("! your order, mended".to_owned(), Meaning::Caution),
        OrderFrom::Nearest => say("~ nearest to nearest: f".to_owned(), Meaning::Assumed),
    }
    say(format!("links {}", shown.up(chain.length)), Meaning::Plain);
    if let Some(neighbour) = &chain.neighbour {
        let [a, b] = neighbour.seats.map(|s| chain.seats[s].seat);
        say(
            format!("neighbours {} V: {a} {b}", neighbour.volts.shown(0)),
            Meaning::Plain,
        );
    }
    let tangles = chain.crossing + chain.passing_over;
    if tangles > 0 {
        say(
            format!("! {} cross, {} over a terminal", chain.crossing, chain.passing_over),
            Meaning::Caution,
        );
    }
    if let Some(open) = &chain.disconnect {
        let each = if chain.strings() > 1 { "s" } else { "" };
        say(
            format!(
                "disconnect{each} at link {}: {}/{} V",
                open.link,
                open.halves[0].shown(0),
                open.halves[1].shown(0)
            ),
            Meaning::Plain,
        );
    }
    let [along, low] = &chain.fitting;
    say("fitted by hand, above 60 V:".to_owned(), Meaning::Dim);
    say(
        format!(" along {} links, {} V most", along.above, along.largest.shown(0)),
        Meaning::Plain,
    );
    say(
        format!(" low   {} links, {} V most", low.above, low.largest.shown(0)),
        Meaning::Plain,
    );
    lines
}

/// A module of the chain with its links.
fn selected_lines(shown: &Evaluation, chain: &WiringResult, at: usize) -> Vec<(String, Meaning)> {
    let mut lines = vec![(seat_words(chain, at), Meaning::Heading)];
    let mut say = |text: String, meaning| lines.push((text, meaning));
    for link in links_at(chain, at) {
        let lock = if link.locked { " kept" } else { "" };
        say(
            format!(
                "{:>2} {} > {}{lock}",
                link.number,
                chain.end_name(link.from),
                chain.end_name(link.to)
            ),
            Meaning::Plain,
        );
        let cut = link.to_cut().map_or_else(String::new, |cut| shown.up(cut));
        say(
            format!("   {} {cut}", link.made_of()).trim_end().to_owned(),
            Meaning::Dim,
        );
    }
    lines
}
