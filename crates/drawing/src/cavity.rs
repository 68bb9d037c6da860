//! A cavity with everything in it.

use geometry::Cuboid;
use job::{CavityResult, Evaluation, Id, Subject};

use crate::dims::Dims;
use crate::solids::{self, Texts, bare, contents, extent, keep_out, mark_hidden, shell};
use crate::{Direction, Outline, Role, Side, View, gaps};

/// A cavity from one side: its walls, keep-outs, and the boxes with their modules.
///
/// `None` when there is no such cavity, or one of its three dimensions is not known yet.
pub fn cavity_view(evaluation: &Evaluation, cavity: Id, side: Side) -> Option<View> {
    let cavity = evaluation.cavity(cavity)?;
    let space = cavity.space.as_ref()?;
    let texts = Texts::of(evaluation);
    let boxes: Vec<_> = evaluation.boxes.iter().filter(|b| b.cavity == cavity.id).collect();

    let mut dims = Dims::default();
    let whole = side.rect(space);
    for along in [Direction::U, Direction::V] {
        let name = format!("{} of the cavity", side.axis(along).extent_name());
        dims.add(&whole, along, texts.space(extent(space, side, along)), name);
    }
    let mut found = Vec::new();
    for battery_box in &boxes {
        if let Some(overall) = solids::overall(battery_box) {
            let rect = side.rect(&overall);
            for along in [Direction::U, Direction::V] {
                dims.add(
                    &rect,
                    along,
                    texts.size(extent(&overall, side, along)),
                    battery_box.name.clone(),
                );
            }
        }
        found.extend(gaps::of_box(evaluation, cavity, battery_box, side));
        found.extend(gaps::between_modules(evaluation, battery_box, side));
    }
    let mut outlines = vec![Outline {
        label: cavity.name.clone(),
        ..bare(Role::Cavity, space, side, Subject::Cavity(cavity.id))
    }];
    outlines.extend(far_to_near(evaluation, cavity, space, side));
    mark_hidden(&mut outlines);
    Some(View {
        side,
        title: format!("{}, {}", cavity.name, side.words()),
        outlines,
        dims: dims.done(),
        gaps: found,
        notes: notes(evaluation, cavity, texts),
        assumed: texts.assumed(),
    })
}

/// Keep-outs and boxes with what is in them, far to near; what is taken out comes last, since it covers nothing.
fn far_to_near(evaluation: &Evaluation, cavity: &CavityResult, space: &Cuboid, side: Side) -> Vec<Outline> {
    let texts = Texts::of(evaluation);
    let (counting, taken_out): (Vec<_>, Vec<_>) = cavity.keep_outs.iter().partition(|k| k.counts);
    let mut groups: Vec<Vec<Outline>> = counting.into_iter().map(|k| vec![keep_out(k, space, side)]).collect();
    for battery_box in evaluation.boxes.iter().filter(|b| b.cavity == cavity.id) {
        let mut group = shell(battery_box, side, texts);
        group.extend(contents(battery_box, evaluation, side, texts));
        groups.push(group);
    }
    groups.sort_by_key(|group| std::cmp::Reverse(group.iter().map(|o| o.depth[0]).min()));
    groups
        .into_iter()
        .flatten()
        .chain(taken_out.into_iter().map(|k| keep_out(k, space, side)))
        .collect()
}

fn notes(evaluation: &Evaluation, cavity: &CavityResult, texts: Texts<'_>) -> Vec<String> {
    let mut notes = vec![
        format!(
            "Cavity {}: {}. Walls where they are expected; the readings guarantee {}, {} sigma held back. Spaces \
             rounded down, coating on; box sizes over everything, before coating.",
            cavity.name,
            cavity.survey.basis(),
            evaluation.usable_text(cavity).unwrap_or_default(),
            evaluation.sigmas
        ),
        "Boxes are drawn open. Bulges between taped points and things nobody entered are not in this drawing."
            .to_owned(),
    ];
    if let Some(found) = &cavity.survey.out_of_square {
        notes.push(format!(
            "The two diagonals of the {} differ by {}.",
            found.face,
            evaluation.up(found.by)
        ));
    }
    if texts.assumed() {
        notes.push("~ rests on assumed values: see the report.".to_owned());
    }
    notes
}
