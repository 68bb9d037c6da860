//! The outside of a box in full size on paper, to be glued on cardboard and tried in the real opening.

mod faces;

use job::{BoxResult, Evaluation};
use plot::{Anchor, Base, Item, Layer, Meta, Page, Rect, Template, Text, TileError, Tiling};
use tape::Length;

use crate::page::paper::printer_paper;
use crate::page::wrapped;
use crate::words;
pub(crate) use faces::{FaceSheet, faces};

const TEXT: Layer = Layer::TEXT;
/// What is shown around an outline, so that its line is seen whole.
const AROUND: f64 = 2.0;

/// Cardboard templates of a box, in full size over several sheets of paper: floor, sides and ends of its body, outside, with
/// tabs for glue and every hole; its lid as wide as it is; its brackets; and the faces of modules where they were asked for.
/// `None` for a box that is not built.
pub fn templates_pdf(evaluation: &Evaluation, battery_box: &BoxResult) -> Option<Vec<u8>> {
    let name = words::plain(&battery_box.name);
    let pages: Vec<Page> = faces(evaluation, battery_box)?
        .iter()
        .flat_map(|face| face_pages(evaluation, battery_box, &name, face))
        .collect();
    let meta = Meta {
        title: format!("Templates of {name}"),
        subject: words::title(evaluation),
        ..Meta::default()
    };
    Some(plot::pdf(&pages, &meta))
}

/// How a face is spread over paper, and what of it.
pub(crate) fn spread(evaluation: &Evaluation, face: &FaceSheet) -> Result<(Tiling, Rect), TileError> {
    let drawing = plot::bounds(&face.items()).unwrap_or_default().grown(AROUND);
    let tiling = Tiling {
        paper: printer_paper(evaluation),
        orientation: plot::Orientation::Portrait,
        margin_mm: 10.0,
        overlap_mm: 10.0,
    };
    let tiling = tiling.with_fewest_pages([drawing.width, drawing.height])?;
    Ok((tiling, drawing))
}

fn face_pages(evaluation: &Evaluation, battery_box: &BoxResult, name: &str, face: &FaceSheet) -> Vec<Page> {
    let title = format!("{name}, {}", face.name);
    let pages = spread(evaluation, face).and_then(|(tiling, drawing)| {
        let first = tiling.windows(drawing)?.first().map_or(drawing, |tile| tile.window);
        let items = items(evaluation, battery_box, &title, face, written_in(face, first, &tiling));
        let template = Template {
            name: &title,
            drawing,
            items: &items,
        };
        plot::tile_pages(&template, &tiling)
    });
    pages.unwrap_or_else(|error| {
        let mut page = Page::new(printer_paper(evaluation).size_mm(plot::Orientation::Portrait));
        let says = [title.clone(), format!("No template: {error}.")];
        for (words, y) in says.into_iter().zip([250.0, 240.0]) {
            page.items.push(Text::new(words, [15.0, y], 3.0, TEXT).into());
        }
        vec![page]
    })
}

/// Where words stand on a face.
#[cfg(test)]
pub(crate) fn written(evaluation: &Evaluation, battery_box: &BoxResult, face: &FaceSheet) -> Vec<Rect> {
    let (tiling, drawing) = spread(evaluation, face).expect("a face of an example goes on paper");
    let first = tiling.windows(drawing).expect("it has sheets")[0].window;
    items(
        evaluation,
        battery_box,
        "left box, left side",
        face,
        written_in(face, first, &tiling),
    )
    .iter()
    .filter(|item| matches!(item, Item::Text(_)))
    .filter_map(Item::bounds)
    .collect()
}

/// Where on a face is written: on its first sheet, clear of what that shares with its neighbours.
fn written_in(face: &FaceSheet, first: Rect, tiling: &Tiling) -> Rect {
    const CLEAR: f64 = 6.0;
    let [width, height] = face.sides.map(Length::as_mm);
    let clear = tiling.overlap_mm + CLEAR;
    let [[_, low], [right, _]] = [first.low(), first.high()];
    // A sheet that reaches beyond the face has no neighbour there.
    let right = if right >= width { width } else { right - clear };
    let low = if low <= 0.0 { 0.0 } else { low + clear };
    let shared = Rect::between([0.0, low], [right, height]);
    shared.common(face.room()).unwrap_or(shared)
}

/// Where the middle of a block of words goes, and how large it is: as near to the middle of the room as holes and what stands on the
/// face leave it, smaller where there is no other way; in the middle where it goes nowhere.
fn clear_of(marks: &[Rect], room: Rect, [wide, tall]: [f64; 2], shrink: f64) -> ([f64; 2], f64) {
    /// Steps to each side of the middle.
    const STEPS: i32 = 8;
    let middle = room.middle();
    for share in [1.0, 0.8, 0.6, 0.45] {
        let shrink = shrink * share;
        let size = [wide * shrink, tall * shrink];
        let free = [
            (room.width - size[0]).max(0.0) / 2.0,
            (room.height - size[1]).max(0.0) / 2.0,
        ];
        let grid = (-STEPS..=STEPS).flat_map(|i| (-STEPS..=STEPS).map(move |j| [i, j]));
        let mut places: Vec<[f64; 2]> = grid
            .map(|step| [0, 1].map(|axis| middle[axis] + free[axis] * f64::from(step[axis]) / f64::from(STEPS)))
            .collect();
        let away = |at: &[f64; 2]| libm::hypot(at[0] - middle[0], at[1] - middle[1]);
        places.sort_by(|a, b| away(a).total_cmp(&away(b)));
        let is_clear = |at: &[f64; 2]| {
            let block = Rect::new(at[0] - size[0] / 2.0, at[1] - size[1] / 2.0, size[0], size[1]);
            marks.iter().all(|mark| block.common(*mark).is_none())
        };
        if let Some(at) = places.into_iter().find(is_clear) {
            return (at, shrink);
        }
    }
    (middle, shrink)
}

/// The face in its own millimetres.
fn items(evaluation: &Evaluation, battery_box: &BoxResult, title: &str, face: &FaceSheet, written: Rect) -> Vec<Item> {
    const GAP: f64 = 4.0;
    /// How long a line of words is at least before it goes on in the next.
    const LINE: f64 = 70.0;
    let [_, height] = face.sides.map(Length::as_mm);
    let mut items = face.items();
    let size = face.sides.map(|side| words::both(evaluation, side)).join(" x ");
    let mut said = vec![(title.to_owned(), 7.0), (size, 5.0)];
    if let Some(corner) = face.lacking() {
        let words = corner.map(|side| words::both(evaluation, side)).join(" x ");
        said.push((format!("less {words} at a lower corner"), 4.0));
    }
    said.extend(face.says.iter().map(|words| (words.clone(), 3.5)));
    if let Some(built) = &battery_box.built
        && built.overall != built.body
        && face.left.starts_with("this side")
    {
        let beyond = "rim, lid edge, frame and what is added outside stick out beyond it:".to_owned();
        let over = words::OverAll::of(evaluation, battery_box).map(|over| over.told(evaluation));
        let told = std::iter::once(beyond).chain(over.into_iter().flatten());
        said.extend(told.map(|words| (words, 3.5)));
    }
    if let Some(caution) = crate::cautions().last() {
        said.push(((*caution).to_owned(), 3.5));
    }
    // Written as large as the sheet takes it, in one block in its middle; on a small piece in more lines rather than too low to read.
    let room = [written.width, written.height].map(|side| side - 2.0 * face.inset - 16.0);
    let line = room[0].max(LINE);
    let said: Vec<(String, f64)> = said
        .into_iter()
        .flat_map(|(words, high): (String, f64)| {
            let high = high.min(line / LINE * 3.5);
            wrapped(&words, line, high).into_iter().map(move |words| (words, high))
        })
        .collect();
    let widest = said
        .iter()
        .map(|(words, high)| plot::text_width(words, *high))
        .fold(1.0, f64::max);
    let tall: f64 = said.iter().map(|(_, high)| high + GAP).sum();
    let shrink = (room[0] / widest).min(room[1] / tall).clamp(0.1, 1.0);
    let ([middle, centre], shrink) = clear_of(
        &face.mark_bounds(),
        written.grown(-face.inset - 4.0),
        [widest, tall],
        shrink,
    );
    let mut y = centre + tall * shrink / 2.0;
    for (words, high) in said {
        y -= (high + GAP) * shrink;
        items.push(
            Text::new(words, [middle, y], high * shrink, TEXT)
                .anchored(Anchor::Middle, Base::Baseline)
                .into(),
        );
    }
    let fit =
        |words: &str, room: f64| 4.0_f64.min(4.0 * (room - 2.0 * face.inset).max(1.0) / plot::text_width(words, 4.0));
    items.push(
        Text::new(
            face.left,
            [written.x + face.inset, written.middle()[1]],
            fit(face.left, written.height),
            TEXT,
        )
        .anchored(Anchor::Middle, Base::Baseline)
        .turned(90.0)
        .into(),
    );
    items.push(
        Text::new(
            face.top,
            [written.middle()[0], height - face.inset],
            fit(face.top, written.width),
            TEXT,
        )
        .anchored(Anchor::Middle, Base::Baseline)
        .into(),
    );
    items
}
