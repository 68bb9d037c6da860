//! How close the rivets of a box in a frame of angle are set when nobody said: as is usual, or closer where the load of
//! a crash asks for it.
//!
//! The load is known before any rivet is: it is what the modules weigh, and a panel before it is drilled. The holes are left
//! out of the panel's mass, some grams of kilograms, on the safe side; the rivets' own are no load on them.

use enclosure::strength::crash::{Direction, Factor};
use enclosure::strength::force_n;
use enclosure::strength::joint::{Allowed, least_hole, widest_pitch};
use enclosure::{Construction, Held, RivetLine, Role, rivet, rivet_lines};
use geometry::Axis;
use tape::Length;

use super::boxes::{allowances, inside_of, spec, stands};
use super::kind::{self, KindResult};
use super::strength;
use crate::assumed::{self, Build, Trust};
use crate::{Grams, Job};

/// What the load on a panel asks of its rivets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Asked {
    /// They bear it at this pitch, in whole millimetres; closer than rivets may be, where none do.
    pub(super) pitch: Length,
    /// Rivets in this hole would bear it as close as rivets may be.
    pub(super) hole: Length,
}

impl Asked {
    /// What a line of rivets is asked for by a force.
    pub(super) fn of(around: Length, force_n: f64, hole: Length, allowed: Allowed) -> Self {
        Self {
            pitch: widest_pitch(around, force_n, hole, allowed).round_down_to(Length::mm(1)),
            hole: least_hole(around, force_n, allowed),
        }
    }

    /// Whether rivets in this hole may be as close as that.
    pub(super) fn can_be(self, hole: Length) -> bool {
        self.pitch >= rivet::least_pitch(hole)
    }
}

/// The pitch that the load of a crash asks of the panels' rivets, when that is closer than usual and nobody entered one: the least
/// that any panel of any box asks for, no closer than rivets may be.
pub(crate) fn from_the_load(job: &Job, trust: &Trust, build: &Build, kinds: &[KindResult]) -> Option<Length> {
    let Construction::Framed(skeleton) = build.construction else {
        return None;
    };
    let (Held::Riveted { hole, .. }, None) = (skeleton.held, &job.design.rivet_pitch) else {
        return None;
    };
    let around = allowances(build, trust);
    let allowed = strength::rivets_allowed(&job.electrics.figures);
    let asked = |battery_box: &crate::document::BatteryBox| {
        let modules = || stands(battery_box, kinds);
        let inside = inside_of(battery_box, modules(), &around)?;
        let spec = spec(build, inside.grown(around.liner)?.size().0);
        let modules_g = modules().map(|stands| stands.grams()).sum();
        let lines = rivet_lines(&spec).into_iter();
        let of_line = |line: RivetLine| {
            let (_, _, factor) = pushed(job, spec.long_axis(), line.role)?;
            let force = force_n(Grams(modules_g).kg() + line.grams / 1e3, factor.g);
            Some(Asked::of(line.around, force, hole, allowed).pitch)
        };
        lines.filter_map(of_line).min()
    };
    let least = job.boxes.iter().filter_map(asked).min()?;
    let closest = rivet::least_pitch(hole).round_up_to(Length::mm(1));
    (least < assumed::RIVET_PITCH).then(|| least.max(closest).min(assumed::RIVET_PITCH))
}

/// The same of a job by itself.
pub(crate) fn of_job(job: &Job) -> Option<Length> {
    let build = assumed::build(&job.design);
    let trust = assumed::trust(&job.settings, job.units);
    let kinds: Vec<KindResult> = job.kinds.iter().map(|k| kind::evaluate(k, job)).collect();
    from_the_load(job, &trust, &build, &kinds)
}

/// What a panel is called, and which way it is pushed hardest; `None` of what is no panel.
///
/// - `long`: which level axis the long sides run along.
pub(super) fn pushed(job: &Job, long: usize, role: Role) -> Option<(&'static str, Direction, Factor)> {
    let along = Axis::ALL[long];
    let (name, axis) = match role {
        Role::Floor => ("floor", Axis::Z),
        Role::LongSide => ("long sides", if along == Axis::X { Axis::Y } else { Axis::X }),
        Role::End => ("ends", along),
        _ => return None,
    };
    let ways: &[Direction] = match axis {
        Axis::X => &[Direction::Front, Direction::Rear],
        Axis::Y => &[Direction::Side],
        Axis::Z => &[Direction::Down],
    };
    let factors = ways
        .iter()
        .filter_map(|&way| Some((way, strength::factor(&job.electrics.figures, way)?)));
    let (way, factor) = factors.reduce(|most, other| if other.1.g > most.1.g { other } else { most })?;
    Some((name, way, factor))
}
