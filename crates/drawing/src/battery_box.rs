//! One box with its parts and its modules.

use geometry::Cuboid;
use job::{BoxResult, Evaluation, FittingResult, Id, Subject};

use crate::dims::Dims;
use crate::solids::{self, Texts, bare, contents, extent, mark_hidden, shell};
use crate::{Direction, Outline, Role, Side, View, gaps, parts};

/// What a size over all says of screw heads, the same on every paper: with them it is the room that the box takes, with nuts and
/// clamps that stand out too.
pub const WITH_HEADS: &str = "over all with screw heads";
/// The same without: what is drawn, and measured of the sheets.
pub const WITHOUT_HEADS: &str = "over all without screw heads";

/// A box by itself from one side, with its parts and its modules: lid off from above, near wall off from the side.
///
/// `None` when there is no such box, or it cannot be built as told.
pub fn box_view(evaluation: &Evaluation, battery_box: Id, side: Side) -> Option<View> {
    let battery_box = evaluation.battery_box(battery_box)?;
    let overall = solids::overall(battery_box)?;
    let texts = Texts::of(evaluation);

    let mut outlines = shell(battery_box, side, texts);
    // The flange is there as its bars, exact; the rim is the block that clearances are reckoned with.
    outlines.retain(|o| o.role != Role::Rim);
    outlines.extend(parts::of(evaluation, battery_box, side));
    outlines.extend(fittings(battery_box, side));
    outlines.extend(contents(battery_box, evaluation, side, texts));
    mark_hidden(&mut outlines);

    let mut found = gaps::between_modules(evaluation, battery_box, side);
    found.extend(gaps::to_liner(evaluation, battery_box, side));
    Some(View {
        side,
        title: format!("{}, {}", battery_box.name, side.words()),
        outlines,
        dims: dims(battery_box, &overall, side, texts),
        gaps: found,
        notes: notes(battery_box, side, texts),
        assumed: texts.assumed(),
    })
}

/// What is let into the walls: outside the box, and inside where it reaches in.
fn fittings(battery_box: &BoxResult, side: Side) -> Vec<Outline> {
    let outline = |fitting: &FittingResult, cuboid: &Cuboid, label: &str| Outline {
        label: label.to_owned(),
        sub: fitting.what.name().to_owned(),
        ..bare(Role::Part, cuboid, side, Subject::Box(battery_box.id))
    };
    let both = |fitting: &FittingResult| {
        let outside = fitting
            .outside
            .as_ref()
            .map(|c| outline(fitting, c, fitting.what.name()));
        let inside = fitting.inside.as_ref().map(|c| outline(fitting, c, ""));
        [outside, inside]
    };
    battery_box.fittings.iter().flat_map(both).flatten().collect()
}

fn dims(battery_box: &BoxResult, overall: &Cuboid, side: Side, texts: Texts<'_>) -> Vec<crate::Dim> {
    let mut dims = Dims::default();
    for along in [Direction::U, Direction::V] {
        dims.add(
            &side.rect(overall),
            along,
            texts.size(extent(overall, side, along)),
            WITH_HEADS.to_owned(),
        );
        if let Some(body) = &battery_box.body {
            dims.add(
                &side.rect(body),
                along,
                texts.size(extent(body, side, along)),
                "body".to_owned(),
            );
        }
        if let Some(inside) = &battery_box.inside {
            dims.add(
                &side.rect(inside),
                along,
                texts.space(extent(inside, side, along)),
                "inside liner".to_owned(),
            );
        }
    }
    if let Some((step, true)) = solids::step_seen(battery_box, side) {
        let [run, rise] = [step.width(), step.height()].map(|length| texts.size(length));
        dims.add(&step, Direction::U, run, "step runs in".to_owned());
        dims.add(&step, Direction::V, rise, "step rises".to_owned());
    }
    dims.done()
}

fn notes(battery_box: &BoxResult, side: Side, texts: Texts<'_>) -> Vec<String> {
    let mut notes = vec![match side {
        Side::Plan => "Drawn with the lid off. Sizes before coating; room inside rounded down.".to_owned(),
        _ => "Drawn with the near wall off. Sizes before coating; room inside rounded down.".to_owned(),
    }];
    if let Some(face) = battery_box.bay {
        notes.push(format!("Bay for fuse, contactor and cable at the {}.", face.name()));
    }
    if texts.assumed() {
        notes.push("~ rests on assumed values: see the report.".to_owned());
    }
    notes
}
