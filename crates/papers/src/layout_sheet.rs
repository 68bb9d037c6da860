//! One sheet of the whole truck bed: plan, view from the left and view from the rear, with a list of what is drawn.

use drawing::{Direction, Outline, Role, Side, View, truck_view};
use job::{Evaluation, Job, Subject};
use plot::{Anchor, Base, Ink, Item, Layer, Line, Meta, Orientation, Page, Path, Pen, Rect, Text};
use tape::{Length, Units};

use crate::assembly::{Needs, Stand, stand};
use crate::page::flow::Block;
use crate::page::sizes::{ROW, Size};
use crate::page::title::{self, Title};
use crate::page::{TEXT, THIN, flow, frame, framed, wrapped};
use crate::words;

/// How high free paper has to be for lists to begin on it.
const LEAST: f64 = 30.0;
const WALL: Ink = Ink::new(Pen::new(0.25, Line::LongDashDoubleDot), PLACES);
const BOX: Ink = Ink::new(Pen::new(0.5, Line::Continuous), PLACES);
const MODULE: Ink = Ink::new(Pen::new(0.18, Line::Continuous), PLACES);
/// All that covers one another: a layer is painted at once.
const PLACES: Layer = Layer::new("PLACES");
/// What is written on it.
const NAMES: Layer = Layer::new("NAMES");
const BEHIND: Pen = Pen::new(0.18, Line::Dashed);

/// The truck bed from above, from the left and from the rear on one sheet, with keep-outs and boxes listed; more sheets
/// where the lists need them. `None` when no cavity has both a place in the truck and a shape.
pub fn layout_sheet_pdf(job: &Job, evaluation: &Evaluation, date: &str) -> Option<Vec<u8>> {
    let meta = Meta {
        title: "Layout of the truck bed".to_owned(),
        subject: words::title(evaluation),
        ..Meta::default()
    };
    Some(plot::pdf(&pages(job, evaluation, date)?, &meta))
}

pub(crate) fn pages(job: &Job, evaluation: &Evaluation, date: &str) -> Option<Vec<Page>> {
    let mut views = Vec::new();
    for side in Side::ALL {
        let mut view = truck_view(job, evaluation, side)?;
        view.dims.retain(|dim| is_told(side, dim.along));
        views.push(view);
    }
    let size = crate::drawing_paper(evaluation).size_mm(Orientation::Landscape);
    let frame = frame(size);
    let (notes, top) = notes(evaluation, &views, frame);
    let column = frame.high()[0] - title::WIDTH;
    let names = numbered(evaluation);
    let block = Rect::between([column, frame.y], [frame.high()[0], top]);
    let stand = stand(&needs(&views), frame.grown(-3.0), block, evaluation.sheet.projection);
    let drawn = views.iter().zip(stand.at);
    let drawn: Vec<Item> = drawn
        .flat_map(|(view, at)| one_view(view, &names, at, &stand))
        .collect();
    // The lists stand over the title block, as far as views leave that free.
    let beside = stand.taken.iter().filter(|taken| taken.high()[0] > column);
    let free = beside.map(|taken| taken.y).fold(frame.high()[1], f64::min);
    let right = Rect::between([column, top], [frame.high()[0], free.max(top + 4.0)]).grown(-2.0);
    let whole = Rect::between([frame.x, top], frame.high()).grown(-4.0);
    let tables = tables(evaluation, &names);
    let mut lists = if free - top < LEAST {
        let mut own = flow::flow(&tables, whole, whole);
        own.insert(0, Vec::new());
        own.into_iter()
    } else {
        flow::flow(&tables, right, whole).into_iter()
    };
    let first = [notes.clone(), drawn, lists.next().unwrap_or_default()].concat();
    let mut drafts = vec![(first, Some(stand.scale))];
    drafts.extend(lists.map(|page| ([notes.clone(), page].concat(), None)));
    let of = drafts.len();
    let sheet = |(index, (items, scale)): (usize, (Vec<Item>, Option<u32>))| {
        framed(size, items, &title(evaluation, date, [index + 1, of], scale))
    };
    Some(drafts.into_iter().enumerate().map(sheet).collect())
}

fn title<'a>(evaluation: &'a Evaluation, date: &'a str, sheet: [usize; 2], scale: Option<u32>) -> Title<'a> {
    let headline = &evaluation.headline;
    let mark = words::mark(headline.assumed.mass);
    let mass = headline
        .mass_g
        .map_or_else(String::new, |g| format!("{mark}{}", words::mass_of(evaluation, g)));
    Title {
        evaluation,
        date,
        name: "truck bed with boxes and modules".to_owned(),
        number: "L0".to_owned(),
        kind: "layout",
        scale,
        sheet,
        units: title::Told::Own,
        about: [
            ("cavities", evaluation.cavities.len().to_string()),
            ("boxes", evaluation.boxes.len().to_string()),
            ("modules", headline.placed.to_string()),
            ("mass", mass),
        ],
    }
}

/// The lines above the title block, and how high they reach.
fn notes(evaluation: &Evaluation, views: &[View], frame: Rect) -> (Vec<Item>, f64) {
    const INSET: f64 = 3.0;
    let left = frame.high()[0] - title::WIDTH;
    let mut said: Vec<(String, f64)> = Vec::new();
    let mut say = |text: &str, height: f64| {
        let lines = wrapped(text, title::WIDTH - 2.0 * INSET, height);
        said.extend(lines.into_iter().map(|line| (line, height)));
    };
    for note in views.first().map_or(&[][..], |view| &view.notes) {
        say(&words::plain(note), 2.0);
    }
    say("K are keep-outs, as they were taped. Spaces are rounded down.", 2.0);
    if evaluation.headline.assumed.clearance {
        say("~ rests on assumed values: see the report.", 2.0);
    }
    say(&crate::cautions().join(" "), 1.6);
    let mut y = title::top(frame) + 2.0;
    let mut items = Vec::new();
    for (words, height) in said.into_iter().rev() {
        items.push(Text::new(words, [left + INSET, y], height, TEXT).into());
        y += height * 1.6;
    }
    items.push(Item::line([left, y + 0.5], [frame.high()[0], y + 0.5], THIN));
    items.push(Item::line([left, frame.y], [left, y + 0.5], THIN));
    (items, y + 0.5)
}

/// Keep-outs and boxes with the short name that each has on the sheet.
fn numbered(evaluation: &Evaluation) -> Vec<(Subject, String)> {
    let keep_outs = evaluation.cavities.iter().flat_map(|cavity| &cavity.keep_outs);
    let keep_outs = keep_outs
        .enumerate()
        .map(|(index, k)| (Subject::KeepOut(k.id), format!("K{}", index + 1)));
    let boxes = evaluation.boxes.iter().enumerate();
    let boxes = boxes.map(|(index, b)| (Subject::Box(b.id), format!("BOX {}", index + 1)));
    keep_outs.chain(boxes).collect()
}

/// Whether the sizes along a direction are told in a view: those that another view tells as well stand once on the sheet.
fn is_told(side: Side, along: Direction) -> bool {
    match side {
        Side::Plan => along == Direction::V,
        Side::FromLeft => true,
        Side::FromRear => along == Direction::U,
    }
}

/// What the views need.
fn needs(views: &[View]) -> Needs {
    let level = |view: &View, along: Direction| {
        let levels = view.dims.iter().filter(|dim| dim.along == along);
        let most = levels.map(|dim| dim.level + 1).max().unwrap_or(0);
        f64::from(u32::try_from(most).unwrap_or(u32::MAX)) * ROW
    };
    let size = |view: &View| {
        let extent = view.extent();
        extent.map_or([0.0; 2], |all| [all.width().as_mm(), all.height().as_mm()])
    };
    let beside = views
        .iter()
        .map(|view| level(view, Direction::V) + 8.0)
        .fold(0.0, f64::max);
    Needs {
        sizes: [0, 1, 2].map(|view| size(&views[view])),
        beside,
        // Names that have no room on their outlines stand under them.
        below: [0, 1, 2].map(|view| level(&views[view], Direction::U) + 4.0),
        welds: 0,
    }
}

fn one_view(view: &View, names: &[(Subject, String)], at: Rect, stand: &Stand) -> Vec<Item> {
    let Some(all) = view.extent() else { return Vec::new() };
    let ratio = f64::from(stand.scale);
    let u = |u: Length| at.x + (u - all.u0).as_mm() / ratio;
    let v = |v: Length| at.high()[1] - (v - all.v0).as_mm() / ratio;
    let rect = |o: &Outline| Rect::between([u(o.rect.u0), v(o.rect.v1)], [u(o.rect.u1), v(o.rect.v0)]);
    let shape = |o: &Outline| match &o.lacks {
        Some(corner) => Path::through(o.rect.without(corner).map(|[along, down]| [u(along), v(down)]), true),
        None => Path::rect(rect(o)),
    };
    let mut name = view.side.words().to_owned();
    if stand.moved && view.side == Side::FromRear {
        name.push_str(", moved here");
    }
    let mut items = vec![Text::new(name, [at.x, at.high()[1] + 4.0], 2.5, TEXT).into()];
    for outline in view.outlines.iter().filter(|o| !o.hidden) {
        items.extend(marks(outline, rect(outline), shape(outline)));
    }
    for outline in view.outlines.iter().filter(|o| o.hidden && o.role == Role::Body) {
        items.push(Item::path(shape(outline), Ink::new(BEHIND, PLACES)));
    }
    let mut taken: Vec<Rect> = items
        .iter()
        .filter(|item| matches!(item, Item::Text(_)))
        .filter_map(Item::bounds)
        .collect();
    // Near to far, so that what is in front has the first choice; what is painted over has no name.
    for (index, outline) in view.outlines.iter().enumerate().rev().filter(|(_, o)| !o.hidden) {
        let middle = rect(outline).middle();
        let covers = |o: &Outline| {
            let its = rect(o);
            matches!(o.role, Role::Body | Role::KeepOut(_))
                && its.common(Rect::new(middle[0], middle[1], 0.0, 0.0)).is_some()
        };
        if view.outlines[index + 1..].iter().any(covers) {
            continue;
        }
        // A cavity is a line; all else covers what is behind it.
        let others = view
            .outlines
            .iter()
            .enumerate()
            .filter(|(other, o)| *other != index && !o.hidden);
        let others = others.filter(|(_, o)| !matches!(o.role, Role::Part | Role::Inside | Role::Service));
        let others: Vec<(Rect, bool)> = others.map(|(_, o)| (rect(o), o.role == Role::Cavity)).collect();
        let short = names.iter().find(|(subject, _)| *subject == outline.subject);
        let words = match outline.role {
            Role::Body | Role::KeepOut(_) | Role::TakenOut => short.map(|(_, name)| name.clone()),
            Role::Module | Role::Stack => Some(outline.label.clone()),
            _ => None,
        };
        items.extend(
            words
                .into_iter()
                .flat_map(|words| label(&words, rect(outline), outline.role, &others, &mut taken)),
        );
    }
    for dim in &view.dims {
        let level = f64::from(u32::try_from(dim.level + 1).unwrap_or(u32::MAX)) * ROW;
        let (axis, ends, edge) = match dim.along {
            Direction::U => (0, [u(dim.from), u(dim.to)], at.y),
            Direction::V => (1, [v(dim.to), v(dim.from)], at.x),
        };
        let long = format!("{} {}", words::plain(&dim.name), dim.text);
        let words = if plot::text_width(&long, 2.2) < ends[1] - ends[0] {
            long
        } else {
            dim.text.clone()
        };
        let line = Size {
            axis,
            ends,
            at: edge - level,
            edge,
            words,
        };
        items.extend(line.items());
    }
    items
}

/// One outline: what is solid covers what is behind it.
fn marks(outline: &Outline, rect: Rect, shape: Path) -> Vec<Item> {
    let filled = |grey: f64, layer: Layer| Item::Filled {
        path: shape.clone(),
        grey,
        layer,
    };
    match outline.role {
        Role::Cavity => vec![Item::rect(rect, WALL)],
        Role::KeepOut(_) => vec![
            filled(0.8, PLACES),
            Item::rect(rect, Ink::new(Pen::new(0.18, Line::Continuous), PLACES)),
        ],
        Role::TakenOut => vec![Item::rect(rect, Ink::new(Pen::new(0.18, Line::Dotted), PLACES))],
        Role::Rim | Role::Body => vec![filled(1.0, PLACES), Item::path(shape, BOX)],
        Role::Module | Role::Stack => vec![filled(0.95, PLACES), Item::rect(rect, MODULE)],
        Role::Part | Role::Inside | Role::Service => Vec::new(),
    }
}

/// A short name on its outline where there is room, else beside it, clear of everything else that is drawn and led to it from
/// farther away; where nothing is free, on the lines that are in its way.
fn label(words: &str, rect: Rect, role: Role, others: &[(Rect, bool)], taken: &mut Vec<Rect>) -> Vec<Item> {
    let is_free = |space: &Rect| {
        let is_clear = |(other, is_cavity): &(Rect, bool)| {
            other.common(*space).is_none() || (*is_cavity && other.with(*space) == *other)
        };
        others.iter().all(is_clear)
    };
    let places = places(rect, role);
    for strict in [true, false] {
        for (at, inside) in &places {
            for high in [2.0, 1.4] {
                let text = Text::new(words, *at, high, NAMES).anchored(Anchor::Middle, Base::Middle);
                let item = Item::from(text);
                let space = item.bounds().unwrap_or_default();
                let fits = if *inside {
                    rect.with(space) == rect
                } else {
                    !strict || is_free(&space.grown(0.3))
                };
                if fits && taken.iter().all(|other| other.common(space).is_none()) {
                    taken.push(space);
                    // Clear of the lines that it stands on.
                    let clear = Item::Filled {
                        path: Path::rect(space.grown(-0.4)),
                        grey: if *inside { 0.95 } else { 1.0 },
                        layer: NAMES,
                    };
                    let mut items = vec![clear, item];
                    items.extend(leader(&space, &rect).filter(|_| !inside));
                    return items;
                }
            }
        }
    }
    Vec::new()
}

/// Where a name may stand, the best first, and whether that is inside its outline.
fn places(rect: Rect, role: Role) -> Vec<([f64; 2], bool)> {
    /// Half the height of a name and a little paper, and half its length.
    const BESIDE: [f64; 2] = [2.8, 1.8];
    /// Farther away, still clear of the sizes under a view.
    const STEPS: [f64; 3] = [0.0, 1.4, 2.6];
    const PAST: f64 = 3.6;
    let middle = rect.middle();
    if matches!(role, Role::Module | Role::Stack) {
        return vec![(middle, true)];
    }
    let mut places = Vec::new();
    if role != Role::Body {
        places.push((middle, true));
    }
    for far in STEPS {
        let [left, right] = [rect.x - BESIDE[0] - far, rect.high()[0] + BESIDE[0] + far];
        let [low, high] = [rect.y - BESIDE[1] - far, rect.high()[1] + BESIDE[1] + far];
        // Near its ends, too: a long thing over the middle of a box leaves those free.
        let along = [0.5, 0.2, 0.8, 0.05, 0.95].map(|share| rect.x + rect.width * share);
        places.extend(along.map(|x| ([x, high], false)));
        if role != Role::Body {
            places.extend([[right, middle[1]], [left, middle[1]]].map(|at| (at, false)));
        }
        places.extend(along.map(|x| ([x, low], false)));
        if role != Role::Body {
            places.extend([[right, high], [left, high], [right, low], [left, low]].map(|at| (at, false)));
        }
    }
    // Over a view no sizes stand, so a name may go as far as past the cavity's edge there.
    places.push(([middle[0], rect.high()[1] + BESIDE[1] + PAST], false));
    places
}

/// From a name to what it names, where it stands away from it.
fn leader(space: &Rect, rect: &Rect) -> Option<Item> {
    /// Nearer than this it needs none.
    const NEAR: f64 = 1.2;
    let near = |low: f64, high: f64, own: f64| own.clamp(low, high);
    let centre = space.middle();
    let to = [
        near(rect.x, rect.high()[0], centre[0]),
        near(rect.y, rect.high()[1], centre[1]),
    ];
    let from = [
        near(space.x, space.high()[0], to[0]),
        near(space.y, space.high()[1], to[1]),
    ];
    let far = libm::hypot(to[0] - from[0], to[1] - from[1]);
    (far > NEAR).then(|| Item::line(from, to, Ink::new(Pen::new(0.13, Line::Continuous), NAMES)))
}

/// What the short names mean.
fn tables(evaluation: &Evaluation, names: &[(Subject, String)]) -> Vec<Block> {
    let short = |subject: Subject| {
        let found = names.iter().find(|(own, _)| *own == subject);
        found.map_or_else(String::new, |(_, name)| name.clone())
    };
    let mass = words::mark(evaluation.headline.assumed.mass);
    let size = words::mark(evaluation.headline.assumed.clearance);
    let size_mark = words::mark(evaluation.headline.assumed.cut);
    let boxes = evaluation.boxes.iter().map(|b| {
        vec![
            short(Subject::Box(b.id)),
            words::plain(&b.name),
            b.modules.iter().map(|m| m.count).sum::<u32>().to_string(),
            format!("{mass}{}", words::mass_cell_of(evaluation, b.mass.total_g())),
            b.around.as_ref().map_or_else(String::new, |around| {
                format!("{size}{}", evaluation.down(around.nearest.distance))
            }),
        ]
    });
    let (loaded, wide) = match evaluation.units {
        Units::Millimetre => ("loaded kg", 15.0),
        Units::Inch => ("loaded kg (lb)", 22.0),
    };
    let boxes = Block {
        title: "boxes".to_owned(),
        heads: vec![
            ("", 14.0),
            ("name", 26.0),
            ("modules", 14.0),
            (loaded, wide),
            ("tightest", 15.0),
        ],
        rows: boxes.collect(),
    };
    let over = evaluation.boxes.iter().filter_map(|b| {
        let over = words::OverAll::of(evaluation, b)?;
        let told = [over.without_heads, over.with_heads];
        // Three sizes with their unit each have no room.
        let bare = |length| evaluation.up(length).trim_end_matches(" mm").to_owned();
        let told = told.map(|size| format!("{size_mark}{}", words::triple(size, bare)));
        Some([vec![short(Subject::Box(b.id))], told.to_vec()].concat())
    });
    let over = Block {
        title: match evaluation.units {
            Units::Millimetre => "boxes before coating, mm".to_owned(),
            Units::Inch => "boxes before coating".to_owned(),
        },
        heads: vec![("", 10.0), (drawing::WITHOUT_HEADS, 37.0), (drawing::WITH_HEADS, 37.0)],
        rows: over.collect(),
    };
    let mut rows = Vec::new();
    for cavity in &evaluation.cavities {
        for keep_out in &cavity.keep_outs {
            rows.push(vec![
                short(Subject::KeepOut(keep_out.id)),
                words::plain(&keep_out.name),
                if keep_out.counts {
                    keep_out.source.name()
                } else {
                    "taken out"
                }
                .to_owned(),
                words::plain(&cavity.name),
            ]);
        }
    }
    let keep_outs = Block {
        title: "keep-outs".to_owned(),
        heads: vec![("", 7.0), ("name", 40.0), ("what", 14.0), ("cavity", 23.0)],
        rows,
    };
    [boxes, over, keep_outs]
        .into_iter()
        .filter(|block| !block.rows.is_empty())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A pipe along the lower side of a box has its name beside it, not on the lines of the box; one with no free place at all keeps
    /// its name.
    #[test]
    fn names_keep_clear_of_what_is_drawn() {
        let pipe = Rect::new(10.0, 10.0, 40.0, 1.0);
        let the_box = (Rect::new(10.0, 11.2, 40.0, 30.0), false);
        let cavity = (Rect::new(0.0, 0.0, 60.0, 60.0), true);
        let name = |others: &[(Rect, bool)]| {
            let items = label("K2", pipe, Role::KeepOut(job::Source::Frame), others, &mut Vec::new());
            let text = items.iter().find(|item| matches!(item, Item::Text(_)));
            (text.and_then(Item::bounds).unwrap(), items.len())
        };
        let (beside, _) = name(&[the_box, cavity]);
        assert!(
            beside.common(the_box.0).is_none() && beside.common(pipe).is_none(),
            "{beside:?}"
        );
        let (above, _) = name(&[cavity]);
        assert!(above.y > pipe.high()[1], "{above:?}");
        let (_, items) = name(&[(Rect::new(-50.0, -50.0, 200.0, 200.0), false)]);
        assert_eq!(items, 2, "on the lines in its way");
    }
}
