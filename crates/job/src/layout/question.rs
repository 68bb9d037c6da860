//! The question that a job puts to the automatic layout.

use geometry::Faces;
use geometry::fit::{self, Request};
use tape::Length;

use super::Aim;
use super::pins::{Pins, pins};
use super::reaches::{self, Legs, Reaches};
use super::rule::box_rule;
use super::wanted::wanted;
use crate::assumed;
use crate::evaluate::{BoxResult, CavityResult, KindResult, allowances};
use crate::{Evaluation, Id, Job};

/// A question for the automatic layout, with what is needed to take its answer back.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The question itself, for [`fit::fit`].
    pub request: Request,
    /// What was aimed at.
    pub aim: Aim,
    /// For each cavity of the request, its number.
    pub(crate) cavities: Vec<Id>,
    /// For each kind of the request, its number.
    pub(crate) kinds: Vec<Id>,
    /// For each cavity of the request, what reaches out of its boxes beyond body and rims.
    pub(crate) reaches: Vec<Reaches>,
    /// For each box that holds pinned modules, in the order of the request, its number.
    pub(crate) pinned_boxes: Vec<Id>,
    /// Whether boxes are looked for that keep every rule in the middle between the walls that their brackets hang on.
    pub(crate) in_the_middle: bool,
}

/// Why no layout can be asked for yet: what is still needed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no layout yet: {needs}")]
pub struct NotYet {
    /// What is still needed, in words.
    pub needs: String,
}

pub(crate) fn needs(needs: impl Into<String>) -> NotYet {
    NotYet { needs: needs.into() }
}

/// The question that `job` puts to the automatic layout.
///
/// # Errors
///
/// [`NotYet`] with what is missing: a measured cavity, a module with size and number on hand, the drive's window.
pub fn question(job: &Job, evaluation: &Evaluation, aim: Aim) -> Result<Question, NotYet> {
    question_with(job, evaluation, aim, Beside::Kept(Legs::AsTold))
}

/// Whether room is kept for what reaches out of boxes, and for the bed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// It is; for brackets as these legs take it.
    Kept(Legs),
    /// It is not: boxes with pinned modules already stand where it is short.
    Ignored,
}

/// The same with or without room for what reaches out of boxes.
pub(super) fn question_with(job: &Job, evaluation: &Evaluation, aim: Aim, beside: Beside) -> Result<Question, NotYet> {
    let scope = Scope::of(evaluation, aim)?;
    let stepped = evaluation
        .boxes
        .iter()
        .find(|b| b.step.is_some() && !b.modules.is_empty());
    if let Some(stepped) = stepped.filter(|_| matches!(aim, Aim::Whole | Aim::Wanted(_))) {
        let name = &stepped.name;
        return Err(needs(format!(
            "{name} has a step in its underside, so it is laid out by hand, and whole strings can't be counted round it; fill one \
             cavity instead, which leaves {name} as it stands, or take the step out first"
        )));
    }
    let cavities = scope.cavities(evaluation);
    if cavities.is_empty() {
        return Err(needs("tape the length, width and height of a cavity"));
    }
    let ready: Vec<(&KindResult, u32)> = evaluation
        .kinds
        .iter()
        .filter_map(|k| {
            let left = k.on_hand?.saturating_sub(scope.elsewhere(evaluation, k.id));
            (k.size.is_some() && k.mass_g.is_some() && left > 0).then_some((k, left))
        })
        .collect();
    let (kind, on_hand) = scope
        .kind(evaluation, &ready)
        .ok_or_else(|| needs("enter a module's size, mass and number on hand"))?;
    let trust = assumed::trust(&job.settings, job.units);
    let build = assumed::build(&job.design);
    let mut rule = box_rule(job, &build, &allowances(&build, &trust), trust.margin)
        .ok_or_else(|| needs("the box cannot be built as the Boxes page tells"))?;
    if matches!(aim, Aim::Box(_)) {
        rule.per_cavity = 1;
    }
    let cavity_ids: Vec<Id> = cavities.iter().map(|c| c.id).collect();
    let Pins {
        kinds,
        placements,
        boxes,
    } = pins(job, evaluation, kind, &cavity_ids, |b| scope.lays_out(b))?;
    let of_kind = |kind: usize| placements.iter().filter(|p| p.kind == kind).map(|p| p.count).sum();
    let fit_kinds = kinds.iter().enumerate().filter_map(|(i, &id)| {
        let pinned: u32 = of_kind(i);
        // Of other kinds only what is pinned takes part.
        let most = if i == 0 { on_hand.max(pinned) } else { pinned };
        Some(fit_kind(evaluation.kind(id)?, most))
    });
    let margin = trust.margin;
    let anew: Vec<&BoxResult> = evaluation.boxes.iter().filter(|b| scope.lays_out(b)).collect();
    let reaches: Vec<Reaches> = match beside {
        Beside::Kept(legs) => cavities
            .iter()
            .map(|c| Reaches::of(job, evaluation, &rule, c, (&anew, legs)))
            .collect(),
        Beside::Ignored => vec![Reaches::default(); cavities.len()],
    };
    rule.apart = apart(&reaches, margin);
    Ok(Question {
        request: Request {
            cavities: cavities
                .iter()
                .zip(&reaches)
                .map(|(c, reaches)| {
                    let in_the_way = scope.in_the_way(evaluation, c.id).map(|(cuboid, _)| cuboid);
                    let mut asked = cavity(c, margin, in_the_way);
                    reaches.put(&mut asked, margin);
                    if beside != Beside::Ignored {
                        asked.keep_outs.extend(reaches::bed(job, evaluation, c));
                    }
                    asked
                })
                .collect(),
            kinds: fit_kinds.collect(),
            gap: trust.gap.max(build.divider),
            boxes: Some(rule),
            wanted: wanted(job, evaluation, kind, aim)?,
            pinned: placements,
        },
        aim,
        cavities: cavity_ids,
        kinds,
        reaches,
        pinned_boxes: boxes,
        in_the_middle: false,
    })
}

/// How far boxes stand apart, whichever cavity they are in.
pub(super) fn apart(reaches: &[Reaches], margin: Length) -> Length {
    reaches
        .iter()
        .map(|reaches| reaches.apart(margin))
        .fold(margin, Length::max)
}

/// What of the job is laid out anew.
pub(super) struct Scope<'a> {
    aim: Aim,
    /// The one box that is laid out anew.
    one: Option<&'a BoxResult>,
}

impl<'a> Scope<'a> {
    pub(super) fn of(evaluation: &'a Evaluation, aim: Aim) -> Result<Self, NotYet> {
        let one = match aim {
            Aim::Box(id) => Some(
                evaluation
                    .battery_box(id)
                    .ok_or_else(|| needs("choose a box that is in the job"))?,
            ),
            _ => None,
        };
        if let Some(one) = one.filter(|b| b.fixed) {
            let name = &one.name;
            return Err(needs(format!(
                "the inside of {name} has a fixed size; let {name} wrap its modules first"
            )));
        }
        if let Some(one) = one.filter(|b| b.step.is_some()) {
            let name = &one.name;
            return Err(needs(format!(
                "{name} has a step in its underside, so it is laid out by hand; take the step out first, or move its modules \
                 yourself: they come to rest on the raised floor"
            )));
        }
        Ok(Self { aim, one })
    }

    /// The cavities that are laid out anew.
    pub(super) fn cavities(&self, evaluation: &'a Evaluation) -> Vec<&'a CavityResult> {
        let only = match (self.aim, self.one) {
            (Aim::Fill(cavity), _) => Some(cavity),
            (_, Some(one)) => Some(one.cavity),
            _ => None,
        };
        let measured = evaluation.cavities.iter().filter(|c| c.usable.is_some());
        measured.filter(|c| only.is_none_or(|only| only == c.id)).collect()
    }

    /// Whether a box is laid out anew; one with a step in its underside stays as it stands.
    pub(super) fn lays_out(&self, battery_box: &BoxResult) -> bool {
        if battery_box.step.is_some() {
            return false;
        }
        match self.aim {
            Aim::Whole | Aim::Wanted(_) => true,
            Aim::Fill(cavity) => battery_box.cavity == cavity,
            Aim::Box(id) => battery_box.id == id,
        }
    }

    /// Modules of a kind that stay where they are.
    fn elsewhere(&self, evaluation: &Evaluation, kind: Id) -> u32 {
        let staying = evaluation.boxes.iter().filter(|b| !self.lays_out(b));
        staying
            .flat_map(|b| &b.modules)
            .filter(|m| m.kind == kind)
            .map(|m| m.count)
            .sum()
    }

    /// What stays in the cavity and is in the way: the solids of its other boxes, each with its box's name.
    pub(super) fn in_the_way(
        &self,
        evaluation: &'a Evaluation,
        cavity: Id,
    ) -> impl Iterator<Item = (geometry::Cuboid, &'a str)> + use<'a, '_> {
        let staying = evaluation
            .boxes
            .iter()
            .filter(move |b| b.cavity == cavity && !self.lays_out(b));
        staying.flat_map(|b| b.solids.iter().map(|&solid| (solid, b.name.as_str())))
    }

    /// The kind that is laid out: different kinds do not mix in a string, so it is one. That of the box, else the one
    /// that has enough and whose pack comes out best.
    fn kind(&self, evaluation: &Evaluation, ready: &[(&'a KindResult, u32)]) -> Option<(&'a KindResult, u32)> {
        let of = |id: Id| ready.iter().find(|(k, _)| k.id == id).copied();
        let in_box = self.one.and_then(|one| {
            let counts = ready.iter().map(|(k, _)| {
                let here = one.modules.iter().filter(|m| m.kind == k.id);
                (here.map(|m| m.count).sum::<u32>(), std::cmp::Reverse(k.id))
            });
            let (count, id) = counts.max()?;
            if count > 0 { of(id.0) } else { None }
        });
        let takes = match self.aim {
            Aim::Wanted(count) => count.modules().unwrap_or(count.series),
            _ => 0,
        };
        let enough: Vec<(&KindResult, u32)> = ready.iter().filter(|(_, left)| *left >= takes).copied().collect();
        in_box
            .or_else(|| best_kind(evaluation, &enough).and_then(of))
            .or_else(|| enough.first().copied())
            .or_else(|| ready.first().copied())
    }
}

/// The kind whose best choice fits the drive with the most energy.
fn best_kind(evaluation: &Evaluation, ready: &[(&KindResult, u32)]) -> Option<Id> {
    let fitting = evaluation
        .packs
        .iter()
        .filter(|p| ready.iter().any(|(k, _)| k.id == p.kind));
    fitting
        .filter_map(|p| Some((p.kind, p.choices.iter().find(|c| c.fits())?.figures.energy)))
        .max_by_key(|&(id, energy)| (energy, std::cmp::Reverse(id)))
        .map(|(id, _)| id)
}

pub(super) fn cavity(
    cavity: &CavityResult,
    margin: Length,
    in_the_way: impl Iterator<Item = geometry::Cuboid>,
) -> fit::Cavity {
    let keep_outs = cavity.keep_outs.iter().filter(|k| k.counts).map(|k| fit::KeepOut {
        cuboid: k.sure,
        margin: k.margin,
    });
    let in_the_way = in_the_way.map(|cuboid| fit::KeepOut { cuboid, margin });
    fit::Cavity {
        space: cavity.usable.unwrap_or_default(),
        wall_margin: Faces::all(margin),
        keep_outs: keep_outs.chain(in_the_way).collect(),
    }
}

pub(super) fn fit_kind(kind: &KindResult, on_hand: u32) -> fit::Kind {
    fit::Kind {
        size: kind.size.unwrap_or_default(),
        orientations: kind.orientations.clone(),
        service: kind.service,
        on_hand: Some(on_hand),
        mass_g: kind.mass_g.unwrap_or(0),
        stack: kind.stack,
    }
}
