//! What the Layout page shows: the sheet with its views, and beside it the panel.

use drawing::{Direction, Edge, Outline as Drawn, Role, Side, View, box_view, cavity_view};
use job::{Evaluation, Subject};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;
use tape::Length;

use super::{Thing, offer, panel, tiers};
use crate::model::{Model, Overlay};
use crate::theme::{Meaning, Theme};
use crate::view::areas;
use crate::widgets::pen::{Pen, cut, width};
use crate::widgets::sheet::{self, Along, At, DimLine, EdgeMark, GapMark, Outline, SheetView, ViewBox};

/// A place on the sheet that the mouse points at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hit {
    /// The thing there, when it can be selected.
    pub thing: Option<Thing>,
    /// Where in the world that is: u and v of the view.
    pub world: (Length, Length),
}

/// A view turned into what the sheet widget draws.
struct Ready {
    boxes: Vec<ViewBox>,
    /// Whether a key brings the box nearer.
    zooms: bool,
    things: Vec<Option<Thing>>,
    dims: Vec<DimLine>,
    gaps: Vec<GapMark>,
}

impl Ready {
    fn sheet(&self, theme: Theme) -> SheetView<'_> {
        SheetView {
            dims: &self.dims,
            gaps: &self.gaps,
            zooms: self.zooms,
            ..SheetView::new(&self.boxes, theme)
        }
    }
}

/// Where the parts of the page stand: the main view, the two others where there is room, the panel.
struct Parts {
    main: Rect,
    others: Option<[Rect; 2]>,
    panel: Rect,
}

/// Rows from which the two other views are drawn too.
const ROWS_FOR_ALL: u16 = 38;

/// Where the parts stand; layouts that are offered need the width of the panel for their own picture in a small window.
fn parts(body: Rect, is_offer: bool) -> Parts {
    let panel_width = match body.width {
        150.. => 44,
        110.. => 36,
        _ if is_offer => 0,
        _ => 28,
    };
    let sheet = Rect {
        width: body.width.saturating_sub(panel_width + u16::from(panel_width > 0)),
        ..body
    };
    let panel = Rect {
        x: sheet.right() + u16::from(panel_width > 0),
        width: panel_width,
        ..body
    };
    if body.height < ROWS_FOR_ALL {
        return Parts {
            main: sheet,
            others: None,
            panel,
        };
    }
    let below = body.height * 2 / 5;
    let main = Rect {
        height: body.height - below,
        ..sheet
    };
    let left = Rect {
        y: main.bottom(),
        height: below,
        width: sheet.width * 3 / 5,
        ..sheet
    };
    let right = Rect {
        x: left.right() + 1,
        width: sheet.width.saturating_sub(left.width + 1),
        ..left
    };
    Parts {
        main,
        others: Some([left, right]),
        panel,
    }
}

/// Draws the page into `body`.
pub fn draw(model: &Model, body: Rect, buf: &mut Buffer) {
    let offer = match &model.overlay {
        Some(Overlay::Offer(offer)) => Some(offer),
        _ => None,
    };
    let below = offer.map_or(0, |offer| offer::height(offer, body.height));
    let sheet = Rect {
        height: body.height - below,
        ..body
    };
    if let Some(offer) = offer {
        let table = Rect {
            y: sheet.bottom(),
            height: below,
            ..body
        };
        offer::draw(model, offer, table, buf);
    }
    let parts = parts(sheet, offer.is_some());
    draw_view(model, model.sheet.side, parts.main, buf);
    if let Some(places) = parts.others {
        let others = Side::ALL.into_iter().filter(|&s| s != model.sheet.side);
        for (side, place) in others.zip(places) {
            draw_view(model, side, place, buf);
        }
    }
    if parts.panel.width > 0 {
        panel::draw(model, parts.panel, buf);
    }
}

/// Draws one view without numbers and marks, and lets something be drawn over it: it is told where a place of
/// the view is in cells, and given the pen.
pub fn draw_plain(
    model: &Model,
    side: Side,
    area: Rect,
    buf: &mut Buffer,
    over: impl FnOnce(crate::pages::wiring::Cells<'_>, &mut Pen<'_>),
) {
    let Some(view) = view_of(model, side) else {
        return draw_view(model, side, area, buf);
    };
    let mut pen = Pen::new(buf, area, model.theme);
    let title = cut(&view.title, area.width.saturating_sub(1));
    pen.text(area.x + 1, area.y, &title, model.theme.style(Meaning::Heading));
    let place = below_title(area);
    let mut ready = ready(model, &view, place);
    ready.dims.clear();
    ready.gaps.clear();
    for part in &mut ready.boxes {
        part.marks.clear();
        part.sub.clear();
    }
    let sheet = ready.sheet(model.theme);
    (&sheet).render(place, buf);
    let cells = |u: Length, v: Length| sheet.cell_of(place, u, v);
    over(&cells, &mut Pen::new(buf, place, model.theme));
}

fn draw_view(model: &Model, side: Side, area: Rect, buf: &mut Buffer) {
    let theme = model.theme;
    let Some(view) = view_of(model, side) else {
        let mut pen = Pen::new(buf, area, theme);
        let words = match model.sheet.cavity {
            Some(_) => "this cavity has no length, width and height yet: Tape page (F2)",
            None => "no cavity yet: add one on the Tape page (F2)",
        };
        pen.text(
            area.x + 1,
            area.y + 1,
            &cut(words, area.width.saturating_sub(2)),
            theme.style(Meaning::Caution),
        );
        return;
    };
    let [left, right, top, _] = side.edge_words();
    let whose = match (&model.overlay, model.live()) {
        (Some(Overlay::Offer(offer)), _) => format!("layout {}: ", offer.shown + 1),
        (_, Some(_)) => "best so far: ".to_owned(),
        _ => String::new(),
    };
    let short = format!("{whose}{}", view.title);
    let long = format!("{short}  ({left} at the left, {right} at the right, {top} at the top)");
    let place = below_title(area);
    let ready = ready(model, &view, place);
    let sheet = ready.sheet(theme);
    let tier = tiers::words(model, &view).map_or_else(String::new, |words| format!(", {words}"));
    let scale = if sheet.is_to_scale(place) { "" } else { ", not to scale" };
    let room = area.width.saturating_sub(1);
    let titles = [format!("{long}{tier}{scale}"), format!("{short}{tier}{scale}")];
    let title = titles
        .into_iter()
        .find(|title| width(title) <= room)
        .unwrap_or_else(|| {
            // What is seen and how far it can be trusted is not cut; of rows behind each other the picture tells as well.
            let more = if side == Side::Plan {
                format!("{tier}{scale}")
            } else {
                scale.to_owned()
            };
            format!("{}{more}", cut(&short, room.saturating_sub(width(&more))))
        });
    let mut pen = Pen::new(buf, area, theme);
    pen.text(
        area.x + 1,
        area.y,
        &cut(&title, area.width.saturating_sub(1)),
        theme.style(Meaning::Heading),
    );
    (&sheet).render(place, buf);
}

/// The part of a view's area under its title.
const fn below_title(area: Rect) -> Rect {
    Rect {
        y: area.y + 1,
        height: area.height.saturating_sub(1),
        ..area
    }
}

fn view_of(model: &Model, side: Side) -> Option<View> {
    let shown = model.shown();
    match model.sheet.battery_box(shown) {
        Some(id) if model.sheet.zoomed => box_view(shown, id, side),
        _ => cavity_view(shown, model.sheet.cavity?, side),
    }
}

/// What is at a cell of the main view.
pub fn hit(model: &Model, x: u16, y: u16) -> Option<Hit> {
    let area = below_title(parts(areas(model, model.size).body, false).main);
    let view = view_of(model, model.sheet.side)?;
    let ready = ready(model, &view, area);
    let sheet = ready.sheet(model.theme);
    if !area.contains((x, y).into()) && model.sheet.drag.is_none() {
        return None;
    }
    let thing = sheet.hit(area, x, y).and_then(|i| ready.things[i]);
    Some(Hit {
        thing,
        world: sheet.world_at(area, x, y)?,
    })
}

/// Columns and rows that the selected thing takes in the main view. `None` when it is not drawn there.
pub fn selected_size(model: &Model) -> Option<(u16, u16)> {
    let area = below_title(parts(areas(model, model.size).body, false).main);
    let view = view_of(model, model.sheet.side)?;
    size_in(model, &ready(model, &view, area), area)
}

fn size_in(model: &Model, ready: &Ready, area: Rect) -> Option<(u16, u16)> {
    let selected = model.sheet.selected_in(model.shown());
    let is_it = |thing: &Option<Thing>| thing.is_some() && *thing == selected;
    let at = ready.things.iter().position(is_it)?;
    ready.sheet(model.theme).size_of(area, at)
}

/// What is drawn of a view in `area`. The box by itself is never drawn smaller than with the cavity round it: numbers that
/// take its room go first, then the room in front of terminals.
fn ready(model: &Model, view: &View, area: Rect) -> Ready {
    let mut ready = all_of(model, view);
    let cavity = model.sheet.cavity.filter(|_| model.sheet.zoomed);
    let whole = cavity.and_then(|id| cavity_view(model.shown(), id, view.side));
    let Some(whole) = whole.map(|whole| all_of(model, &whole)) else {
        return ready;
    };
    let Some(least) = size_in(model, &whole, area) else {
        return ready;
    };
    let is_smaller = |ready: &Ready| size_in(model, ready, area).is_none_or(|now| now.0 < least.0 || now.1 < least.1);
    let steps: [fn(&mut Ready); 3] = [
        |ready| ready.dims.clear(),
        |ready| ready.gaps.clear(),
        |ready| {
            let is_service = |part: &ViewBox| part.outline == Outline::Service;
            let mut kept = ready
                .boxes
                .iter()
                .map(|part| !is_service(part))
                .collect::<Vec<_>>()
                .into_iter();
            ready.things.retain(|_| kept.next().unwrap_or(true));
            ready.boxes.retain(|part| !is_service(part));
        },
    ];
    for step in steps {
        if !is_smaller(&ready) {
            return ready;
        }
        step(&mut ready);
    }
    if is_smaller(&ready) { whole } else { ready }
}

fn all_of(model: &Model, view: &View) -> Ready {
    let mut ready = Ready {
        boxes: Vec::new(),
        zooms: !model.sheet.zoomed,
        things: Vec::new(),
        dims: Vec::new(),
        gaps: Vec::new(),
    };
    let tier = tiers::selected(model, view);
    for outline in &view.outlines {
        if let Some(part) = view_box(model, outline) {
            let hidden = tiers::is_behind(view, tier, outline).unwrap_or(part.hidden);
            ready.things.push(thing_of(outline));
            ready.boxes.push(ViewBox { hidden, ..part });
        }
    }
    ready.dims.extend(view.dims.iter().map(|dim| DimLine {
        from: dim.from,
        to: dim.to,
        text: dim.text.clone(),
        side: match dim.stands_on {
            Edge::Left => sheet::Side::Left,
            Edge::Right => sheet::Side::Right,
            Edge::Top => sheet::Side::Above,
            _ => sheet::Side::Below,
        },
        flagged: false,
    }));
    ready.gaps.extend(view.gaps.iter().map(|gap| GapMark {
        along: match gap.along {
            Direction::U => Along::U,
            Direction::V => Along::V,
        },
        from: gap.from,
        to: gap.to,
        text: gap.text.clone(),
        flagged: gap.short,
    }));
    ready
}

pub(super) fn thing_of(outline: &Drawn) -> Option<Thing> {
    match (outline.role, outline.subject) {
        (Role::Module | Role::Stack, Subject::Module(id)) => Some(Thing::Module(id)),
        (Role::Body | Role::Rim, Subject::Box(id)) => Some(Thing::Box(id)),
        _ => None,
    }
}

/// An outline as the widget draws it; what would only crowd the sheet is left out.
fn view_box(model: &Model, outline: &Drawn) -> Option<ViewBox> {
    let kind = match outline.role {
        Role::Cavity => Outline::Space,
        Role::KeepOut(_) => Outline::KeepOut,
        Role::Rim => Outline::Rim,
        Role::Body => Outline::Body,
        Role::Module | Role::Stack => Outline::Module,
        // Service space matters where the hand is: at the selected module, close up.
        Role::Service if model.sheet.zoomed => Outline::Service,
        Role::Service | Role::TakenOut | Role::Part | Role::Inside => return None,
    };
    let selected = thing_of(outline).is_some_and(|t| Some(t) == model.sheet.selected_in(model.shown()));
    let grave = |f: &&job::Finding| f.subject == outline.subject && f.grave != job::Grave::Note;
    let is_flagged = kind == Outline::Module && model.shown().findings.iter().any(|f| grave(&f));
    let label = match outline.role {
        // Modules inside carry the names; the box's own stands on the panel.
        Role::Cavity | Role::Rim | Role::Service | Role::Body => String::new(),
        _ => outline.label.clone(),
    };
    Some(ViewBox {
        sub: if kind == Outline::Module {
            outline.sub.clone()
        } else {
            String::new()
        },
        marks: outline.terminals.iter().filter_map(|&edge| mark(edge)).collect(),
        selected,
        flagged: is_flagged,
        sign: if is_pinned(model.shown(), outline.subject) {
            model.theme.glyphs().pin
        } else {
            ""
        },
        hidden: outline.hidden && kind != Outline::KeepOut,
        lacks: outline
            .lacks
            .map(|corner| [[corner.u0, corner.u1], [corner.v0, corner.v1]]),
        ..ViewBox::new(
            kind,
            [outline.rect.u0, outline.rect.u1],
            [outline.rect.v0, outline.rect.v1],
            label,
        )
    })
}

fn is_pinned(shown: &Evaluation, subject: Subject) -> bool {
    match subject {
        Subject::Module(id) => shown.module(id).is_some_and(|(_, m)| m.pinned),
        _ => false,
    }
}

/// A terminal face is marked where it shows; one that faces away is not.
const fn mark(edge: Edge) -> Option<EdgeMark> {
    let at = match edge {
        Edge::Left => At::LowU,
        Edge::Right => At::HighU,
        Edge::Top => At::LowV,
        Edge::Bottom => At::HighV,
        Edge::Facing => At::Facing,
        Edge::Away => return None,
    };
    Some(EdgeMark { at, sign: 't' })
}
