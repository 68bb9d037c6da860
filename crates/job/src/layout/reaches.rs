//! What reaches out of boxes beyond body and rims, and so has to find room beside them: fittings let into their walls, and
//! the brackets that carry them, which may hang lower than the floor. And the room that the bed sweeps while it tilts.
//!
//! The automatic layout knows bodies and rims. What else stands out is given to it as wider margins at the walls of the
//! cavity, larger keep-outs and boxes farther apart: for a slab as large as a wall of the box that is the same.

use enclosure::added::Brackets;
use geometry::fit::{self, BoxRule};
use geometry::{Axis, Cuboid, Face, Faces, Size};
use tape::Length;

use crate::assumed;
use crate::document::{PartSize, SidesName};
use crate::evaluate::{
    BoxResult, CavityResult, KindResult, allowances, least_leg_on_sale, longest_leg_on_sale, spec, told_leg,
};
use crate::layout::rule::{AMPLE, least_depth};
use crate::way_in::swept_room;
use crate::{Evaluation, Id, Job};

#[cfg(test)]
mod tests;

/// What reaches out at each face of the boxes of one cavity, from the coated body and at the bottom from the rails under it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Reaches {
    /// Fittings, and brackets that hang below the floor: a margin is kept from them.
    free: Faces<Length>,
    /// Brackets: set against what carries them, so no margin is kept.
    seated: Faces<Length>,
    /// How far rims reach out themselves.
    rims: Faces<Length>,
}

/// How much room is kept for the brackets beside boxes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Legs {
    /// For the legs that were entered, else for the least that takes their bolts.
    AsTold,
    /// For the least that takes their bolts, whatever was entered.
    Least,
    /// None.
    None,
}

impl Reaches {
    /// Of the boxes of a cavity that are laid out anew: a box that takes an old one's place has its fittings too.
    pub(super) fn of(
        job: &Job,
        evaluation: &Evaluation,
        rule: &BoxRule,
        cavity: &CavityResult,
        (anew, legs): (&[&BoxResult], Legs),
    ) -> Self {
        let mut found = Self {
            rims: rims(rule),
            ..Self::default()
        };
        let build = assumed::build(&job.design);
        for face in Face::ALL.into_iter().filter(|face| face.axis() != Axis::Z) {
            found.free[face] = build.rivets_stand()[0];
        }
        let below = build.below_body();
        let here: Vec<&BoxResult> = anew.iter().copied().filter(|b| b.cavity == cavity.id).collect();
        for battery_box in &here {
            let Some(body) = battery_box.solids.first() else {
                continue;
            };
            let body = down_to(body, below);
            for outside in battery_box.fittings.iter().filter_map(|f| f.outside) {
                for face in Face::ALL {
                    let out = beyond(&outside, &body, face);
                    found.free[face] = found.free[face].max(out);
                }
            }
        }
        if job.design.carried().reach().is_some() && legs != Legs::None {
            let (told, do_some_follow) = match legs {
                Legs::AsTold => told(job, &here),
                Legs::Least | Legs::None => (None, true),
            };
            let faces = bracket_faces(job, cavity);
            let least = do_some_follow.then(|| least_leg_on_sale(job));
            for face in faces {
                found.seated[face] = told.max(least).unwrap_or_default();
            }
            let follows = do_some_follow.then(|| longest_that_follows(evaluation, rule, cavity, faces[0].axis()));
            let longest = told.max(follows).unwrap_or_default();
            let hang = brackets_below(job, evaluation, longest);
            found.free[Face::Bottom] = found.free[Face::Bottom].max(hang);
        }
        found
    }

    /// The margins at the walls with which everything keeps `margin`, and brackets just reach their wall.
    pub(super) fn at_walls(&self, margin: Length) -> Faces<Length> {
        Faces(Face::ALL.map(|face| {
            let past_rim = |out: Length| (out - self.rims[face]).max(Length::ZERO);
            (margin + past_rim(self.free[face])).max(past_rim(self.seated[face]))
        }))
    }

    /// How far boxes stand apart with it.
    pub(super) fn apart(&self, margin: Length) -> Length {
        let between = |axis: Axis, out: &Faces<Length>| {
            let [low, high] = [Face::low(axis), Face::high(axis)];
            let past_rim = |face: Face| (out[face] - self.rims[face]).max(Length::ZERO);
            past_rim(low) + past_rim(high)
        };
        let along = |axis| (margin + between(axis, &self.free)).max(between(axis, &self.seated));
        along(Axis::X).max(along(Axis::Y))
    }

    /// A keep-out with what would reach into it from the box beside it.
    fn grown(&self, keep_out: fit::KeepOut) -> fit::KeepOut {
        let more = Faces(Face::ALL.map(|face| {
            let from = face.opposite();
            self.free[from].max(self.seated[from])
        }));
        fit::KeepOut {
            cuboid: keep_out.cuboid.grown(more).unwrap_or(keep_out.cuboid),
            ..keep_out
        }
    }

    /// Puts it into what is asked of a cavity.
    pub(super) fn put(&self, cavity: &mut fit::Cavity, margin: Length) {
        cavity.wall_margin = self.at_walls(margin);
        for keep_out in &mut cavity.keep_outs {
            *keep_out = self.grown(*keep_out);
        }
    }
}

/// What the bed sweeps of a cavity, when that is to be kept free: nothing of a box stands there.
pub(super) fn bed(job: &Job, evaluation: &Evaluation, cavity: &CavityResult) -> Vec<fit::KeepOut> {
    if !assumed::handling(&job.way_in, evaluation.units).is_bed_kept_free {
        return Vec::new();
    }
    let (Some(told), Some(space)) = (job.cavity(cavity.id), cavity.usable) else {
        return Vec::new();
    };
    let kept = swept_room(job, told, space).into_iter();
    kept.map(|cuboid| fit::KeepOut {
        cuboid,
        margin: Length::ZERO,
    })
    .collect()
}

/// The longest leg that was entered for these boxes, or for all, and whether that of some follows from the box's gap.
fn told(job: &Job, boxes: &[&BoxResult]) -> (Option<Length>, bool) {
    let own = |id: Id| job.battery_box(id).and_then(|b| b.bracket_leg.as_ref());
    let legs: Vec<Option<Length>> = if boxes.is_empty() {
        vec![told_leg(job, None).map(|leg| leg.length)]
    } else {
        let legs = boxes.iter().map(|b| told_leg(job, own(b.id)));
        legs.map(|leg| leg.map(|leg| leg.length)).collect()
    };
    (legs.iter().flatten().copied().max(), legs.contains(&None))
}

/// The longest leg that a box may take whose brackets follow its gap: half of what the narrowest box leaves of the cavity,
/// and none longer than is on sale.
fn longest_that_follows(evaluation: &Evaluation, rule: &BoxRule, cavity: &CavityResult, axis: Axis) -> Length {
    let across = cavity.usable.unwrap_or_default().size()[axis];
    let sides = [Face::low(axis), Face::high(axis)];
    let round: Length = sides
        .into_iter()
        .map(|face| rule.shell[face] + rule.fit[face] + rule.room[face])
        .fold(Length::ZERO, |a, b| a + b);
    let level = |extents: Size| [Axis::X, Axis::Y].map(|axis| extents[axis]).into_iter().min();
    let narrowest = extents(evaluation).filter_map(level).min().unwrap_or(Length::ZERO);
    (across - narrowest - round)
        .half_down()
        .min(longest_leg_on_sale(evaluation.style().units))
        .max(Length::ZERO)
}

/// The space that a module takes in each of the ways it may stand.
fn extents(evaluation: &Evaluation) -> impl Iterator<Item = Size> {
    let kinds = evaluation.kinds.iter();
    let of_kind = |kind: &KindResult| kind.size.map(|size| (size, kind.orientations.clone()));
    kinds
        .filter_map(of_kind)
        .flat_map(|(size, stands)| stands.into_iter().map(move |stands| stands.extents(size)))
}

/// How far brackets of this leg hang below the body and the rails under it, at the most: on a frame of angle they begin at
/// its foot, else where they were told to, or under the rim, which is low on the lowest box that holds a module.
pub(super) fn brackets_below(job: &Job, evaluation: &Evaluation, leg: Length) -> Length {
    let build = assumed::build(&job.design);
    let trust = assumed::trust(&job.settings, job.units);
    let sizes = &job.design.added.sizes;
    let thickness = sizes.sure(PartSize::BracketThickness);
    let around = allowances(&build, &trust);
    let [under, over] = [Face::Bottom, Face::Top].map(|face| around.fit[face] + around.room[face] + around.liner[face]);
    let lowest = extents(evaluation).map(|extents| extents[Axis::Z]).min();
    let least = lowest.map_or(AMPLE, |lowest| (lowest + under + over).max(least_depth(&build)));
    let spec = spec(&build, [AMPLE, AMPLE, least]);
    let Ok(made) = enclosure::build(&spec) else {
        return Length::ZERO;
    };
    let under_cap = assumed::under_cap(job, least);
    let [_, highest] = Brackets::heights(&spec, &made, thickness, under_cap);
    let up = sizes.get(PartSize::BracketUp).unwrap_or(highest);
    let lowest = made.under + trust.coating + build.below_body();
    (leg - up - lowest).max(Length::ZERO)
}

/// A body with what hangs down so far under all of it, as the automatic layout takes it.
pub(super) fn down_to(body: &Cuboid, below: Length) -> Cuboid {
    let mut more = Faces::all(Length::ZERO);
    more[Face::Bottom] = below;
    body.grown(more).unwrap_or(*body)
}

/// How far one solid reaches beyond another on a face.
fn beyond(outer: &Cuboid, inner: &Cuboid, face: Face) -> Length {
    let out = outer.face(face) - inner.face(face);
    if face.is_high() { out } else { -out }.max(Length::ZERO)
}

/// How far the rims reach beyond the body on each face.
fn rims(rule: &BoxRule) -> Faces<Length> {
    let most = |of: fn(&fit::Rim) -> Length| rule.rims.iter().map(of).fold(Length::ZERO, Length::max);
    let (out, above) = (most(|rim| rim.out), most(|rim| rim.above_top));
    Faces(Face::ALL.map(|face| match face {
        Face::Top => above,
        Face::Bottom => Length::ZERO,
        _ => out,
    }))
}

/// The faces that brackets are on. Which side of a box is the longer one is not known before it is laid out: it is taken
/// to lie as its cavity does.
pub(super) fn bracket_faces(job: &Job, cavity: &CavityResult) -> [Face; 2] {
    let size = cavity.usable.unwrap_or_default().size();
    let (long, short) = if size[Axis::Y] > size[Axis::X] {
        (Axis::Y, Axis::X)
    } else {
        (Axis::X, Axis::Y)
    };
    let axis = match job.design.added.bracket_sides.unwrap_or(SidesName::Long) {
        SidesName::Long => short,
        SidesName::Short => long,
    };
    [Face::low(axis), Face::high(axis)]
}
