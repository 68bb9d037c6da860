//! All cavities of the truck that have a place in it, with everything in them.

use geometry::{Axis, Point};
use job::{Evaluation, Job};
use tape::Length;

use crate::dims::Dims;
use crate::solids::{Texts, mark_hidden};
use crate::{Direction, Rect, Role, Side, View, cavity_view};

/// The truck bed from one side, in the frame of the vehicle: every cavity whose place is known, with its keep-outs, boxes
/// and modules. Sizes are those of each cavity and over all. `None` when no cavity has both a place and a shape.
pub fn truck_view(job: &Job, evaluation: &Evaluation, side: Side) -> Option<View> {
    let texts = Texts::of(evaluation);
    let mut outlines = Vec::new();
    let mut dims = Dims::default();
    let mut left_out = Vec::new();
    let mut views = Vec::new();
    for cavity in &job.cavities {
        let place = cavity
            .place
            .as_ref()
            .map(|place| Point(place.each_ref().map(job::Len::value)));
        match place.zip(cavity_view(evaluation, cavity.id, side)) {
            Some((place, view)) => views.push((view, place)),
            None => left_out.push(cavity.name.clone()),
        }
    }
    let far = |view: &View, place: &Point| {
        view.outlines
            .iter()
            .map(|o| o.depth[1])
            .max()
            .map(|d| d + deeper(side, place))
    };
    views.sort_by_key(|(view, place)| std::cmp::Reverse(far(view, place)));
    for (view, place) in views {
        let [right, down] = [place[side.axis(Direction::U)], -place[side.axis(Direction::V)]];
        for mut outline in view.outlines {
            outline.rect = moved(&outline.rect, right, down);
            outline.lacks = outline.lacks.map(|corner| moved(&corner, right, down));
            outline.depth = outline.depth.map(|depth| depth + deeper(side, &place));
            if outline.role == Role::Cavity {
                for along in [Direction::U, Direction::V] {
                    let [from, to] = outline.rect.ends(along);
                    dims.add(&outline.rect, along, texts.space(to - from), outline.label.clone());
                }
            }
            outlines.push(outline);
        }
    }
    // What sticks out of its cavity is no part of the truck's space.
    let cavities = outlines.iter().filter(|o| o.role == Role::Cavity);
    let whole = cavities.map(|o| o.rect).reduce(|a, b| a.hull(&b))?;
    for along in [Direction::U, Direction::V] {
        let [from, to] = whole.ends(along);
        dims.add(&whole, along, texts.space(to - from), "over all cavities".to_owned());
    }
    mark_hidden(&mut outlines);
    let mut notes = vec![
        "Cavities stand as far apart as their places in the truck say. Boxes are drawn open; what stands behind something nearer \
         is dashed or left out."
            .to_owned(),
    ];
    if !left_out.is_empty() {
        notes.push(format!(
            "Not drawn, since it has no place or no shape yet: {}.",
            left_out.join(", ")
        ));
    }
    Some(View {
        side,
        title: format!("truck bed, {}", side.words()),
        outlines,
        dims: dims.done(),
        gaps: Vec::new(),
        notes,
        assumed: texts.assumed(),
    })
}

fn moved(rect: &Rect, right: Length, down: Length) -> Rect {
    Rect {
        u0: rect.u0 + right,
        u1: rect.u1 + right,
        v0: rect.v0 + down,
        v1: rect.v1 + down,
    }
}

/// How much farther from the viewer something is for standing at a place of the vehicle.
fn deeper(side: Side, place: &Point) -> Length {
    match side {
        Side::Plan => -place[Axis::Z],
        Side::FromLeft => place[Axis::Y],
        Side::FromRear => -place[Axis::X],
    }
}

#[cfg(test)]
mod tests {
    use job::{EXAMPLES, evaluate, example, load};

    use super::*;

    /// A box that does not fit sticks out of its cavity; the cavities are no longer for it.
    #[test]
    fn over_all_cavities_ends_with_them() {
        let mut job = load(example("harbour-tender").unwrap().text.as_bytes()).unwrap();
        let over_all = |job: &Job| {
            let view = truck_view(job, &evaluate(job), Side::FromRear).unwrap();
            let dim = view
                .dims
                .into_iter()
                .find(|dim| dim.name == "over all cavities" && dim.along == Direction::U);
            dim.unwrap().length
        };
        let fits = over_all(&job);
        for battery_box in &mut job.boxes {
            battery_box.at[1] = job::Len::exactly(Length::mm(-900), tape::Units::Millimetre);
        }
        assert_eq!(over_all(&job), fits);
    }

    #[test]
    fn cavities_stand_where_they_were_taped() {
        for name in EXAMPLES.iter().map(|e| e.name) {
            let mut job = load(example(name).unwrap().text.as_bytes()).unwrap();
            let evaluation = evaluate(&job);
            let view = truck_view(&job, &evaluation, Side::Plan).unwrap();
            for cavity in &job.cavities {
                let own = view
                    .outlines
                    .iter()
                    .find(|o| o.role == Role::Cavity && o.label == cavity.name)
                    .unwrap();
                let place = cavity.place.as_ref().unwrap();
                let space = evaluation.cavity(cavity.id).unwrap().space.unwrap();
                assert_eq!(own.rect.u0, place[0].value() + space.lo()[Axis::X]);
                assert_eq!(own.rect.v1, -(place[1].value() + space.lo()[Axis::Y]));
            }
            job.cavities.iter_mut().for_each(|cavity| cavity.place = None);
            assert_eq!(truck_view(&job, &evaluation, Side::Plan), None);
        }
    }
}
