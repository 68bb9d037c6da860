//! The layout that there is, as the spreading takes it.

use geometry::fit::{BoxPlace, Layout, Placement, Request, Wanted};
use geometry::spread::Spread;
use tape::Length;

use super::Which;
use crate::assumed;
use crate::edit::place;
use crate::evaluate::{BoxResult, CavityResult, KindResult, ModuleResult, allowances};
use crate::layout::question::Beside;
use crate::layout::question::{Scope, apart, cavity, fit_kind};
use crate::layout::reaches::{self, Reaches, down_to};
use crate::layout::rule::box_rule;
use crate::layout::{NotYet, needs};
use crate::{BatteryBox, Evaluation, Job};

/// The layout that there is, with what each of its parts is in the job.
pub(super) struct Kept<'a> {
    pub(super) request: Request,
    pub(super) layout: Layout,
    /// For each box of the layout, the box.
    pub(super) boxes: Vec<&'a BoxResult>,
    /// For each placement, the module.
    pub(super) modules: Vec<&'a ModuleResult>,
    /// For each cavity and each keep-out in it, its name.
    pub(super) keep_outs: Vec<Vec<String>>,
    which: Which,
}

/// The parts of the job that the layout is made of.
struct Parts<'a> {
    cavities: Vec<&'a CavityResult>,
    kinds: Vec<&'a KindResult>,
    boxes: Vec<&'a BoxResult>,
    /// Each module with its box's place in `boxes`; the pinned ones first, for that is how they are told.
    modules: Vec<(usize, &'a ModuleResult)>,
}

impl<'a> Parts<'a> {
    fn of(evaluation: &'a Evaluation, scope: &Scope<'a>) -> Self {
        let cavities = scope.cavities(evaluation);
        let laid_out = evaluation
            .boxes
            .iter()
            .filter(|b| scope.lays_out(b) && !b.modules.is_empty() && !b.solids.is_empty());
        let boxes: Vec<&BoxResult> = laid_out.filter(|b| cavities.iter().any(|c| c.id == b.cavity)).collect();
        let mut modules: Vec<(usize, &ModuleResult)> = boxes
            .iter()
            .enumerate()
            .flat_map(|(i, b)| b.modules.iter().map(move |m| (i, m)))
            .collect();
        modules.sort_by_key(|(_, m)| !m.pinned);
        Self {
            cavities,
            kinds: evaluation.kinds.iter().filter(|k| k.size.is_some()).collect(),
            boxes,
            modules,
        }
    }

    fn cavity_of(&self, battery_box: &BoxResult) -> Option<usize> {
        self.cavities.iter().position(|c| c.id == battery_box.cavity)
    }

    fn placements(&self) -> Option<Vec<Placement>> {
        let one = |&(in_box, module): &(usize, &ModuleResult)| {
            Some(Placement {
                cavity: self.cavity_of(self.boxes[in_box])?,
                in_box: Some(in_box),
                kind: self.kinds.iter().position(|k| k.id == module.kind)?,
                orientation: module.stands,
                cuboid: module.cuboid,
                count: module.count,
            })
        };
        self.modules.iter().map(one).collect()
    }

    /// The boxes, `below` being how far rails hang down under the body of those that have them.
    fn box_places(&self, below: Length) -> Option<Vec<BoxPlace>> {
        let one = |b: &&BoxResult| {
            let below = b.added.floor_rails.as_ref().map_or(Length::ZERO, |_| below);
            Some(BoxPlace {
                cavity: self.cavity_of(b)?,
                body: down_to(b.solids.first()?, below),
                inside: b.inside?,
                bay: b.bay,
            })
        };
        self.boxes.iter().map(one).collect()
    }

    fn layout(&self, below: Length) -> Option<Layout> {
        let placements = self.placements()?;
        let of_kind = |kind| placements.iter().filter(|p| p.kind == kind).map(|p| p.count).sum();
        Some(Layout {
            boxes: self.box_places(below)?,
            count: placements.iter().map(|p| p.count).sum(),
            by_kind: (0..self.kinds.len()).map(of_kind).collect(),
            placements,
            to_spare: Length::ZERO,
        })
    }
}

/// Which boxes stay where others are moved, and why, in words; `None` where none does.
pub(super) fn staying(evaluation: &Evaluation, which: Which) -> Option<String> {
    let here = |b: &&BoxResult| match which {
        Which::Boxes(cavity) => b.cavity == cavity,
        Which::AllBoxes => true,
        Which::Modules(_) => false,
    };
    let stepped = evaluation.boxes.iter().filter(here).filter(|b| b.step.is_some());
    let names: Vec<&str> = stepped.map(|b| b.name.as_str()).collect();
    match names.as_slice() {
        [] => None,
        [name] => Some(format!(
            "{name} has a step in its underside, so it stays as it stands; move it yourself, or take the step out"
        )),
        _ => Some(format!(
            "{} have a step in their undersides, so they stay as they stand; move them yourself, or take the steps out",
            names.join(", ")
        )),
    }
}

/// Why nothing is moved: what there is stays for the step in its underside, or there is nothing.
fn nothing_to_move(evaluation: &Evaluation, which: Which) -> NotYet {
    let nothing = || "put modules in a box, in a cavity that is taped".to_owned();
    needs(staying(evaluation, which).unwrap_or_else(nothing))
}

impl<'a> Kept<'a> {
    pub(super) fn of(job: &Job, evaluation: &'a Evaluation, which: Which, beside: Beside) -> Result<Self, NotYet> {
        let scope = Scope::of(evaluation, which.aim())?;
        let parts = Parts::of(evaluation, &scope);
        let build = assumed::build(&job.design);
        let layout = parts
            .layout(build.below_body())
            .filter(|layout| !layout.boxes.is_empty());
        let layout = layout.ok_or_else(|| nothing_to_move(evaluation, which))?;
        let trust = assumed::trust(&job.settings, job.units);
        let mut rule = box_rule(job, &build, &allowances(&build, &trust), trust.margin)
            .ok_or_else(|| needs("the box cannot be built as the Boxes page tells"))?;
        let beside_of = |c: &&CavityResult| match beside {
            Beside::Kept(legs) => Reaches::of(job, evaluation, &rule, c, (&parts.boxes, legs)),
            Beside::Ignored => Reaches::default(),
        };
        let reaches: Vec<Reaches> = parts.cavities.iter().map(beside_of).collect();
        rule.apart = apart(&reaches, trust.margin);
        let swept = |c: &CavityResult| match beside {
            Beside::Kept(_) => reaches::bed(job, evaluation, c),
            Beside::Ignored => Vec::new(),
        };
        let cavities = parts.cavities.iter();
        let pinned = parts.modules.iter().filter(|(_, m)| m.pinned).count();
        Ok(Self {
            request: Request {
                cavities: cavities
                    .clone()
                    .zip(&reaches)
                    .map(|(c, reaches)| {
                        let in_the_way = scope.in_the_way(evaluation, c.id).map(|(cuboid, _)| cuboid);
                        let mut asked = cavity(c, trust.margin, in_the_way);
                        reaches.put(&mut asked, trust.margin);
                        asked.keep_outs.extend(swept(c));
                        asked
                    })
                    .collect(),
                kinds: parts
                    .kinds
                    .iter()
                    .map(|k| fit_kind(k, k.on_hand.unwrap_or(k.placed).max(k.placed)))
                    .collect(),
                gap: trust.gap.max(build.divider),
                boxes: Some(rule),
                wanted: Wanted::AsMany,
                pinned: layout.placements[..pinned].to_vec(),
            },
            layout,
            keep_outs: cavities
                .map(|c| {
                    let own = c.keep_outs.iter().filter(|k| k.counts).map(|k| k.name.clone());
                    let boxes = scope.in_the_way(evaluation, c.id).map(|(_, name)| name.to_owned());
                    let swept = swept(c).into_iter().map(|_| "what the bed sweeps".to_owned());
                    own.chain(boxes).chain(swept).collect()
                })
                .collect(),
            boxes: parts.boxes,
            modules: parts.modules.into_iter().map(|(_, m)| m).collect(),
            which,
        })
    }

    /// The job's boxes with everything where the spreading puts it.
    pub(super) fn boxes(&self, job: &Job, spread: &Spread) -> Vec<BatteryBox> {
        let units = job.units.units();
        let mut boxes = job.boxes.clone();
        for battery_box in &mut boxes {
            let Some(at) = self.boxes.iter().position(|b| b.id == battery_box.id) else {
                continue;
            };
            let datum = battery_box.datum();
            match self.which {
                Which::Boxes(_) | Which::AllBoxes => {
                    let step = spread.layout.boxes[at].body.lo() - self.layout.boxes[at].body.lo();
                    battery_box.at = place(datum + step, units);
                }
                Which::Modules(_) => {
                    for placed in &mut battery_box.modules {
                        if let Some(index) = self.modules.iter().position(|m| m.id == placed.id) {
                            let corner = spread.layout.placements[index].cuboid.lo();
                            placed.at = place(corner - datum, units);
                        }
                    }
                }
            }
        }
        boxes
    }
}
