//! The single figures that may be changed, and the question that a job puts after the change.

use geometry::fit::Request;
use geometry::{Axis, Face};
use tape::Length;

use super::amount::Amount;
use super::ground::Ground;
use crate::Thickness;
use crate::layout::Aim;
use crate::{Evaluation, Grams, Id, Job, Len, Stance};

/// One figure that may be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Figure {
    /// The usable length, width or height of a cavity, made larger.
    Usable(Id, Axis),
    /// Where a keep-out is, moved towards a face.
    KeepOutMoved(Id, Face),
    /// A keep-out, taken away altogether.
    KeepOutGone(Id),
    /// The gap between modules, made smaller.
    Gap,
    /// The margin, made smaller; keep-outs with a margin of their own keep it.
    Margin,
    /// Wall thickness.
    Wall,
    /// Floor thickness.
    Floor,
    /// Lid thickness.
    Lid,
    /// Liner thickness.
    Liner,
    /// Fitting room between liner and modules.
    Fit,
    /// The most that one loaded box may weigh, more of it.
    BoxMass,
    /// The most boxes in one cavity, more of them.
    BoxesPerCavity,
    /// The ways a kind may stand, more of them.
    Stands(Id, Stance),
}

/// The thinnest sheet that is reckoned with: common practice, a thinner one is hard to weld.
const THINNEST_SHEET: Length = Length::mm(1);

/// Boxes in one cavity that are tried beyond what it may have.
const MORE_BOXES: u32 = 2;

/// The most boxes in one cavity that can be entered.
const MOST_BOXES: u32 = 8;

impl Figure {
    /// All figures of a job that may be changed, those of the cavities first.
    pub(super) fn all(ground: &Ground) -> Vec<Self> {
        let mut all = Vec::new();
        let cavities = ground.cavities.iter().filter_map(|&id| ground.evaluation.cavity(id));
        for cavity in cavities.clone() {
            all.extend(Axis::ALL.map(|axis| Self::Usable(cavity.id, axis)));
        }
        for keep_out in cavities.flat_map(|c| &c.keep_outs).filter(|k| k.counts) {
            all.push(Self::KeepOutGone(keep_out.id));
            all.extend(Face::ALL.map(|face| Self::KeepOutMoved(keep_out.id, face)));
        }
        all.extend([
            Self::Gap,
            Self::Margin,
            Self::Wall,
            Self::Floor,
            Self::Lid,
            Self::Liner,
            Self::Fit,
        ]);
        let counted = [Self::BoxMass, Self::BoxesPerCavity].into_iter();
        all.extend(counted.filter(|figure| figure.amount(ground).is_some()));
        if let Some(kind) = ground.job.kind(ground.kind) {
            let terminals = kind.terminals.unwrap_or_default();
            let now = kind.stance.unwrap_or_default().orientations(terminals);
            let more = |stance: &Stance| {
                let then = stance.orientations(terminals);
                then.len() > now.len() && now.iter().all(|o| then.contains(o))
            };
            all.extend(Stance::ALL.into_iter().filter(more).map(|s| Self::Stands(kind.id, s)));
        }
        all
    }

    /// What it is called.
    pub fn name(self, evaluation: &Evaluation) -> String {
        let keep_out = |id: Id| keep_out_name(evaluation, id);
        match self {
            Self::Usable(id, axis) => {
                let cavity = evaluation.cavity(id).map_or("", |c| c.name.as_str());
                format!("usable {} of {cavity}", axis.extent_name())
            }
            Self::KeepOutMoved(id, face) => format!("{} moved {}", keep_out(id), face.towards()),
            Self::KeepOutGone(id) => format!("{} taken away", keep_out(id)),
            Self::Gap => "gap".to_owned(),
            Self::Margin => "margin".to_owned(),
            Self::Wall => "wall thickness".to_owned(),
            Self::Floor => "floor thickness".to_owned(),
            Self::Lid => "lid thickness".to_owned(),
            Self::Liner => "liner".to_owned(),
            Self::Fit => "fitting room".to_owned(),
            Self::BoxMass => "box mass, at most".to_owned(),
            Self::BoxesPerCavity => "boxes per cavity, at most".to_owned(),
            Self::Stands(id, stance) => {
                let kind = evaluation.kind(id).map_or("", |k| k.name.as_str());
                format!("{kind} may stand {}", stance.name())
            }
        }
    }

    /// The figure as it is; `None` for what has no length (a keep-out that is taken away, a mass, a way to stand).
    pub(super) fn now(self, ground: &Ground) -> Option<Length> {
        let build = ground.build();
        Some(match self {
            Self::Usable(id, axis) => ground.evaluation.cavity(id)?.usable?.size()[axis],
            Self::KeepOutMoved(id, face) => {
                let mut all = ground.evaluation.cavities.iter().flat_map(|c| &c.keep_outs);
                all.find(|k| k.id == id)?.cuboid.lo()[face.axis()]
            }
            Self::Gap => ground.evaluation.gap,
            Self::Margin => ground.evaluation.margin,
            Self::Wall => build.wall,
            Self::Floor => build.floor,
            Self::Lid => build.lid,
            Self::Liner => build.liner,
            Self::Fit => build.fit,
            Self::KeepOutGone(_) | Self::BoxMass | Self::BoxesPerCavity | Self::Stands(..) => return None,
        })
    }

    /// The figure as it is, and the most that is looked at: for what is counted in grams or boxes and not in lengths.
    pub(super) fn amount(self, ground: &Ground) -> Option<(Amount, Amount)> {
        match self {
            Self::BoxMass => {
                let limit = ground.job.limits.box_kg?.0;
                Some((Amount::Grams(limit), Amount::Grams(limit * 2)))
            }
            // A box that is laid out by itself stays one.
            Self::BoxesPerCavity if matches!(ground.aim, Aim::Box(_)) => None,
            Self::BoxesPerCavity => {
                let now = ground.build().boxes_per_cavity;
                let most = (now + MORE_BOXES).min(MOST_BOXES);
                (most > now).then_some((Amount::Boxes(now), Amount::Boxes(most)))
            }
            _ => None,
        }
    }

    /// The question with a figure that is counted brought to `to`; `None` where the job cannot be so.
    pub(super) fn brought_to(self, ground: &Ground, to: Amount) -> Option<Request> {
        let mut job = ground.job.clone();
        match (self, to) {
            (Self::BoxMass, Amount::Grams(grams)) => job.limits.box_kg = Some(Grams(grams)),
            (Self::BoxesPerCavity, Amount::Boxes(boxes)) => job.design.boxes_per_cavity = Some(boxes),
            _ => return None,
        }
        ground.of_changed(&job)
    }

    /// Whether the figure grows with the change (a longer cavity, a keep-out farther back), or becomes smaller.
    pub(super) const fn grows(self) -> bool {
        match self {
            Self::Usable(..) => true,
            Self::KeepOutMoved(_, face) => face.is_high(),
            _ => false,
        }
    }

    /// The farthest change that is looked at.
    pub(super) fn up_to(self, ground: &Ground) -> Option<Length> {
        let now = self.now(ground)?;
        let most = match self {
            Self::Usable(..) => ground.one_more(),
            Self::KeepOutMoved(id, face) => {
                // Once it is out of the cavity with its margin it is as good as gone.
                let cavity = ground
                    .evaluation
                    .cavities
                    .iter()
                    .find(|c| c.keep_outs.iter().any(|k| k.id == id))?;
                let keep_out = cavity.keep_outs.iter().find(|k| k.id == id)?;
                let (inner, wall) = (keep_out.sure.face(face.opposite()), cavity.usable?.face(face));
                let out = if face.is_high() { wall - inner } else { inner - wall };
                (out + keep_out.margin).min(ground.one_more())
            }
            Self::Wall | Self::Floor | Self::Lid => now - THINNEST_SHEET,
            _ => now,
        };
        (most > Length::ZERO).then_some(most)
    }

    /// The question after the change; `None` where the job cannot be so.
    pub(super) fn changed(self, ground: &Ground, by: Length) -> Option<Request> {
        // Readings bind the usable size and the place of a keep-out, and another reading would be off by something else:
        // it is the question that is changed and not the readings.
        let mut request = ground.request.clone();
        match self {
            Self::Usable(id, axis) => {
                let at = ground.cavities.iter().position(|&c| c == id)?;
                let space = &mut request.cavities[at].space;
                let mut far = space.hi();
                far[axis] += by;
                *space = geometry::Cuboid::between(space.lo(), far);
                Some(request)
            }
            Self::KeepOutMoved(id, face) => {
                let (at, index) = ground.cavities.iter().enumerate().find_map(|(at, &cavity)| {
                    // The question has those that count, in the order of the cavity.
                    let mut asked = ground.evaluation.cavity(cavity)?.keep_outs.iter().filter(|k| k.counts);
                    Some((at, asked.position(|k| k.id == id)?))
                })?;
                let cuboid = &mut request.cavities[at].keep_outs[index].cuboid;
                let step = if face.is_high() { by } else { -by };
                *cuboid = cuboid.moved(geometry::Point::along(face.axis(), step));
                Some(request)
            }
            _ => ground.of_changed(&self.changed_job(&ground.job, self.now(ground), by)?),
        }
    }

    /// The job after the change.
    fn changed_job(self, job: &Job, now: Option<Length>, by: Length) -> Option<Job> {
        let mut job = job.clone();
        let units = job.units.units();
        let smaller = |now: Option<Length>| Some(Len::exactly(now? - by, units));
        match self {
            Self::Usable(..) | Self::KeepOutMoved(..) | Self::BoxMass | Self::BoxesPerCavity => return None,
            Self::KeepOutGone(id) => job.cavities.iter_mut().for_each(|c| c.keep_outs.retain(|k| k.id != id)),
            Self::Gap => job.settings.gap = smaller(now),
            Self::Margin => job.settings.margin = smaller(now),
            Self::Wall => job.design.wall = smaller(now).map(Thickness::Length),
            Self::Floor => job.design.floor = smaller(now).map(Thickness::Length),
            Self::Lid => job.design.lid = smaller(now).map(Thickness::Length),
            Self::Liner => job.design.liner = smaller(now),
            Self::Fit => job.design.fit = smaller(now),
            Self::Stands(id, stance) => {
                job.kinds.iter_mut().find(|k| k.id == id)?.stance = Some(stance);
            }
        }
        Some(job)
    }
}

/// What a keep-out is called, with its cavity where another has the same name.
pub(super) fn keep_out_name(evaluation: &Evaluation, id: Id) -> String {
    let all = || {
        evaluation
            .cavities
            .iter()
            .flat_map(|c| c.keep_outs.iter().map(move |k| (c, k)))
    };
    let Some((cavity, keep_out)) = all().find(|(_, k)| k.id == id) else {
        return "keep-out".to_owned();
    };
    if all().filter(|(_, k)| k.name == keep_out.name).count() > 1 {
        format!("{} in {}", keep_out.name, cavity.name)
    } else {
        keep_out.name.clone()
    }
}
