//! The outside of a box in full size on paper, to be glued on cardboard and tried in the real opening.

use enclosure::Step;
use job::{BoxResult, Evaluation};
use plot::{Anchor, Base, Ink, Item, Layer, Meta, Page, Path, Pen, Rect, Template, Text, TileError, Tiling};
use tape::{Length, Units};

use crate::words;

const TEXT: Layer = Layer::TEXT;
/// What is shown around an outline, so that its line is seen whole.
const AROUND: f64 = 2.0;

/// One outside face of a box.
pub(crate) struct FaceSheet {
    /// Its name, with how many are alike.
    pub(crate) name: &'static str,
    /// Level and upright size.
    pub(crate) sides: [Length; 2],
    /// The lower corner that it lacks: whether it is the right one, and its level and upright size.
    lacks: Option<(bool, [Length; 2])>,
    /// What is written along its left edge.
    left: &'static str,
    /// What is written along its upper edge.
    top: &'static str,
}

/// Cardboard templates of a box, in full size over several sheets of paper: floor, sides and ends of its body, outside.
/// `None` for a box that is not built.
pub fn templates_pdf(evaluation: &Evaluation, battery_box: &BoxResult) -> Option<Vec<u8>> {
    let name = words::plain(&battery_box.name);
    let pages: Vec<Page> = faces(battery_box)?
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

/// The floor, a side and an end.
pub(crate) fn faces(battery_box: &BoxResult) -> Option<Vec<FaceSheet>> {
    battery_box.built.as_ref()?;
    let body = battery_box.body?;
    let [along, across, up] = [0, 1, 2].map(|axis| body.size().0[axis]);
    if let Some(step) = &battery_box.step {
        return Some(stepped_faces(step, [along, across, up]));
    }
    Some(vec![
        FaceSheet {
            name: "floor",
            sides: [along, across],
            lacks: None,
            left: "this side to cab",
            top: "right-hand side of the truck (seen from above)",
        },
        FaceSheet {
            name: "side x 2",
            sides: [along, up],
            lacks: None,
            left: "this side to cab (for the other side turn it over)",
            top: "top",
        },
        FaceSheet {
            name: "end x 2",
            sides: [across, up],
            lacks: None,
            left: "left side",
            top: "top (front end: this side to cab)",
        },
    ])
}

/// Both floors, the riser, the two walls beside the step, the wall at it and the one across from it.
fn stepped_faces(step: &Step, [along, across, up]: [Length; 3]) -> Vec<FaceSheet> {
    const CAB: &str = "this side to cab";
    const RIGHT: &str = "right-hand side of the truck (seen from above)";
    let face = |name, sides, lacks, left, top| FaceSheet {
        name,
        sides,
        lacks,
        left,
        top,
    };
    let lacks = Some((step.is_high(), [step.run, step.rise]));
    let over = up - step.rise;
    if step.axis() == 0 {
        let deep = along - step.run;
        vec![
            face("deep floor", [deep, across], None, CAB, RIGHT),
            face("raised floor", [step.run, across], None, CAB, RIGHT),
            face("riser", [across, step.rise], None, "left side", "top"),
            face(
                "side x 2",
                [along, up],
                lacks,
                "this side to cab (for the other side turn it over)",
                "top",
            ),
            face("end at the step", [across, over], None, "left side", "top"),
            face("end across from the step", [across, up], None, "left side", "top"),
        ]
    } else {
        let deep = across - step.run;
        vec![
            face("deep floor", [along, deep], None, CAB, RIGHT),
            face("raised floor", [along, step.run], None, CAB, RIGHT),
            face("riser", [along, step.rise], None, CAB, "top"),
            face("end x 2", [across, up], lacks, "left side", "top (seen from the rear)"),
            face("side at the step", [along, over], None, CAB, "top"),
            face("side across from the step", [along, up], None, CAB, "top"),
        ]
    }
}

/// How a face is spread over paper, and what of it.
pub(crate) fn spread(units: Units, face: &FaceSheet) -> Result<(Tiling, Rect), TileError> {
    let [width, height] = face.sides.map(Length::as_mm);
    let drawing = Rect::new(0.0, 0.0, width, height).grown(AROUND);
    let tiling = Tiling {
        paper: paper(units),
        orientation: plot::Orientation::Portrait,
        margin_mm: 10.0,
        overlap_mm: 10.0,
    };
    let tiling = tiling.with_fewest_pages([drawing.width, drawing.height])?;
    Ok((tiling, drawing))
}

/// The paper that is in the printer.
pub(crate) const fn paper(units: Units) -> plot::Paper {
    match units {
        Units::Inch => plot::Paper::Letter,
        Units::Millimetre => plot::Paper::A4,
    }
}

fn face_pages(evaluation: &Evaluation, battery_box: &BoxResult, name: &str, face: &FaceSheet) -> Vec<Page> {
    let title = format!("{name}, {}", face.name);
    let pages = spread(evaluation.units, face).and_then(|(tiling, drawing)| {
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
        let mut page = Page::new(paper(evaluation.units).size_mm(plot::Orientation::Portrait));
        let says = [title.clone(), format!("No template: {error}.")];
        for (words, y) in says.into_iter().zip([250.0, 240.0]) {
            page.items.push(Text::new(words, [15.0, y], 3.0, TEXT).into());
        }
        vec![page]
    })
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
    Rect::between([0.0, low], [right, height])
}

/// The outline of a face, from its lower left corner.
fn edge(face: &FaceSheet) -> Path {
    let [width, height] = face.sides.map(Length::as_mm);
    let Some((right, sides)) = face.lacks else {
        return Path::rect(Rect::new(0.0, 0.0, width, height));
    };
    let [run, rise] = sides.map(Length::as_mm);
    let corners = if right {
        let inner = width - run;
        [
            [0.0, 0.0],
            [inner, 0.0],
            [inner, rise],
            [width, rise],
            [width, height],
            [0.0, height],
        ]
    } else {
        [
            [run, 0.0],
            [width, 0.0],
            [width, height],
            [0.0, height],
            [0.0, rise],
            [run, rise],
        ]
    };
    Path::through(corners, true)
}

/// The face in its own millimetres.
fn items(evaluation: &Evaluation, battery_box: &BoxResult, title: &str, face: &FaceSheet, written: Rect) -> Vec<Item> {
    const GAP: f64 = 4.0;
    let height = face.sides[1].as_mm();
    let mut items = vec![Item::path(edge(face), Ink::new(Pen::WIDE, Layer::CUT))];
    let size = face.sides.map(|side| both(evaluation, side)).join(" x ");
    let mut said = vec![
        (title.to_owned(), 7.0),
        (size, 5.0),
        ("outside of the body before coating, full size".to_owned(), 3.5),
    ];
    if let Some(built) = &battery_box.built
        && built.overall != built.body
    {
        let over = built.overall.map(words::tenth_mm_up).join(" x ");
        said.push((
            format!("rim, lid edge, frame and what is added outside stick out beyond it: {over} mm over all"),
            3.5,
        ));
    }
    if let Some(caution) = crate::cautions().last() {
        said.push(((*caution).to_owned(), 3.5));
    }
    // Written as large as the sheet takes it, in one block in its middle.
    let room = [written.width - 30.0, written.height - 30.0];
    let widest = said
        .iter()
        .map(|(words, high)| plot::text_width(words, *high))
        .fold(1.0, f64::max);
    let tall: f64 = said.iter().map(|(_, high)| high + GAP).sum();
    let shrink = (room[0] / widest).min(room[1] / tall).clamp(0.1, 1.0);
    let [middle, centre] = written.middle();
    let mut y = centre + tall * shrink / 2.0;
    for (words, high) in said {
        y -= (high + GAP) * shrink;
        items.push(
            Text::new(words, [middle, y], high * shrink, TEXT)
                .anchored(Anchor::Middle, Base::Baseline)
                .into(),
        );
    }
    let fit = |words: &str, room: f64| 4.0_f64.min(4.0 * (room - 10.0).max(1.0) / plot::text_width(words, 4.0));
    items.push(
        Text::new(face.left, [7.0, centre], fit(face.left, written.height), TEXT)
            .anchored(Anchor::Middle, Base::Baseline)
            .turned(90.0)
            .into(),
    );
    items.push(
        Text::new(face.top, [middle, height - 7.0], fit(face.top, written.width), TEXT)
            .anchored(Anchor::Middle, Base::Baseline)
            .into(),
    );
    items
}

/// `779.5 mm (30 11/16")`, marked when it rests on assumed values.
fn both(evaluation: &Evaluation, length: Length) -> String {
    let mark = words::mark(evaluation.headline.assumed.cut);
    format!(
        "{mark}{} mm ({})",
        words::tenth_mm(length),
        evaluation.near_inches(length)
    )
}
