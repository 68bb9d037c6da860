//! The way of a box that is moved level, along one axis after the other, over all that is round it.

use geometry::way_in::level::{Level, LevelWay, Outcome, level};
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;

use super::look::Meter;
use super::scene::OFF;
use super::search::Look;
use super::{Known, LEVEL_WORK, Motion, Way};

/// The shifts that are looked at, and at which sides of them it is out, or nothing goes on.
struct Round {
    within: [[Length; 2]; 3],
    doors: Vec<Face>,
    ends: Vec<Face>,
    /// Whether a face that it may come in by is left out: the ground is too near.
    is_low: bool,
}

/// Straight out and one move over is told as that.
fn motion(found: &LevelWay) -> Motion {
    match found.steps[..] {
        [_, aside, Point::ZERO] => {
            let moves = Axis::ALL.into_iter().filter(|&axis| aside[axis] != Length::ZERO);
            let across: Vec<Axis> = moves.filter(|&axis| axis != found.through.axis()).collect();
            match across[..] {
                [axis] => Motion::ThenSlid { axis, by: aside[axis] },
                _ => Motion::Level,
            }
        }
        _ => Motion::Level,
    }
}

impl Look<'_> {
    /// Level, with as few moves as there can be; otherwise what is known.
    pub(super) fn level(&self, meter: &mut Meter<'_>) -> Result<Way, Known> {
        let hull = Cuboid::hull_of(&self.solids).unwrap_or_default();
        let round = self.round(&hull);
        let asked = Level {
            parts: &self.solids,
            obstacles: &self.obstacles,
            within: round.within,
            doors: &round.doors,
            ends: &round.ends,
        };
        let is_out = |through: Face, by: Point| self.scene.to_go(&hull.moved(by), through, self.trust) == Length::ZERO;
        let budget = meter.budget(LEVEL_WORK);
        let answer = level(&asked, &is_out, budget, meter);
        meter.spent(answer.work);
        match answer.outcome {
            Outcome::Goes(found) => {
                let margin = self.margin(found.room);
                Ok(self.way(found.through, motion(&found), &found.steps, margin, Vec::new()))
            }
            Outcome::Impossible if !round.is_low && self.is_none_level_without_bed(&asked, &is_out, meter) => {
                Err(Known::Proved)
            }
            Outcome::Impossible | Outcome::Beyond => Err(Known::Outside),
            Outcome::Cut(_) => Err(Known::Steps),
        }
    }

    /// Whether a way that was not found is proved not to be.
    fn is_none_level_without_bed(
        &self,
        asked: &Level<'_>,
        is_out: &dyn Fn(Face, Point) -> bool,
        meter: &mut Meter<'_>,
    ) -> bool {
        let Some(rest) = self.without_bed(&self.obstacles) else {
            return true;
        };
        let asked = Level {
            obstacles: &rest,
            ..*asked
        };
        let budget = meter.budget(LEVEL_WORK);
        let answer = level(&asked, is_out, budget, meter);
        meter.spent(answer.work);
        answer.outcome == Outcome::Impossible
    }

    /// Until the box is beside its cavity on every side; at an open face past all that is round it, on the jack below.
    fn round(&self, hull: &Cuboid) -> Round {
        let space = &self.scene.moved.space;
        let mut within = Axis::ALL.map(|axis| [space.lo()[axis] - hull.hi()[axis], space.hi()[axis] - hull.lo()[axis]]);
        let mut round = Round {
            within,
            doors: Vec::new(),
            ends: Vec::new(),
            is_low: false,
        };
        let ground = self.scene.ground;
        for &through in &self.scene.moved.through {
            let end = &mut within[through.axis().index()][usize::from(through.is_high())];
            let least = end.abs();
            let mut by = self.scene.past_all(hull, through, self.trust).max(least) + OFF;
            if let (Face::Bottom, Some(ground)) = (through, ground) {
                by = by.min(hull.face(Face::Bottom) - ground.at - ground.jack);
                if by < least {
                    round.is_low = true;
                    continue;
                }
            }
            *end = if through.is_high() { by } else { -by };
            round.doors.push(through);
        }
        // Where it is not on its jack it may lie on the ground, and no lower.
        if let (Some(ground), false) = (ground, round.doors.contains(&Face::Bottom)) {
            let low = &mut within[Axis::Z.index()][0];
            let rest = (ground.at - hull.face(Face::Bottom)).min(Length::ZERO);
            if rest >= *low {
                *low = rest;
                round.ends.push(Face::Bottom);
            }
        }
        round.within = within;
        round
    }
}
