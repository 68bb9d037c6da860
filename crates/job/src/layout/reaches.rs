//! What reaches out of boxes beyond body and rims, and so has to find room beside them: fittings let into their walls, and
//! the brackets that carry them, which may hang lower than the floor. And the room that the bed sweeps while it tilts.
//!
//! The automatic layout knows bodies and rims. What else stands out is given to it as wider margins at the walls of the
//! cavity, larger keep-outs and boxes farther apart: for a slab as large as a wall of the box that is the same.

use enclosure::added::Brackets;
use geometry::fit::{self, BoxRule};
use geometry::{Axis, Cuboid, Face, Faces};
use tape::Length;

use crate::assumed;
use crate::document::{PartSize, SidesName};
use crate::evaluate::{BoxResult, CavityResult, spec};
use crate::layout::rule::AMPLE;
use crate::way_in::swept_room;
use crate::{Evaluation, Job};

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

impl Reaches {
    /// Of the boxes of a cavity that are laid out anew: a box that takes an old one's place has its fittings too.
    pub(super) fn of(job: &Job, rule: &BoxRule, cavity: &CavityResult, anew: &[&BoxResult]) -> Self {
        let mut found = Self {
            rims: rims(rule),
            ..Self::default()
        };
        let below = assumed::build(&job.design).below_body();
        for battery_box in anew.iter().filter(|b| b.cavity == cavity.id) {
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
        if job.design.carried().reach().is_some() {
            let leg = job.design.added.sizes.sure(PartSize::BracketLeg);
            for face in bracket_faces(job, cavity) {
                found.seated[face] = leg;
            }
            found.free[Face::Bottom] = found.free[Face::Bottom].max(brackets_below(job));
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

/// How far brackets hang below the body and the rails under it: on a frame of angle they begin at its foot, else where they
/// were told to; those that begin under the rim of a high box end above its floor.
fn brackets_below(job: &Job) -> Length {
    let build = assumed::build(&job.design);
    let spec = spec(&build, [AMPLE; 3]);
    let Ok(made) = enclosure::build(&spec) else {
        return Length::ZERO;
    };
    let sizes = &job.design.added.sizes;
    let under_cap = assumed::under_cap(job, AMPLE);
    let [_, highest] = Brackets::heights(&spec, &made, sizes.sure(PartSize::BracketThickness), under_cap);
    let up = sizes.get(PartSize::BracketUp).unwrap_or(highest);
    let coating = assumed::trust(&job.settings, job.units).coating;
    let lowest = made.under + coating + build.below_body();
    (sizes.sure(PartSize::BracketLeg) - up - lowest).max(Length::ZERO)
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
fn bracket_faces(job: &Job, cavity: &CavityResult) -> [Face; 2] {
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
