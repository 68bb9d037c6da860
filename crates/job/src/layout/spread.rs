//! Moving what is laid out apart, so that the smallest clearance is as large as it can be.

mod chain;

use geometry::fit::{BoxPlace, Layout, Placement, Request, Wanted};
use geometry::spread::{self, Move, Spread};
use tape::Length;

use super::question::{Scope, cavity, fit_kind};
use super::rule::box_rule;
use super::{Aim, NotYet, needs};
use crate::assumed;
use crate::edit::place;
use crate::evaluate::{BoxResult, ModuleResult, allowances};
use crate::{Edit, Evaluation, Id, Job};

/// What is moved apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The modules of one box, the box along with them; everything else stays.
    Modules(Id),
    /// The boxes of one cavity, each with its modules as they stand in it.
    Boxes(Id),
    /// All boxes of all cavities, each with its modules as they stand in it.
    AllBoxes,
}

impl Which {
    /// What was done, in words.
    pub fn words(self, job: &Job) -> String {
        match self {
            Self::Modules(id) => {
                let name = job.battery_box(id).map_or("a box", |b| b.name.as_str());
                format!("spread the modules of {name}")
            }
            Self::Boxes(id) => {
                let name = job.cavity(id).map_or("a cavity", |c| c.name.as_str());
                format!("spread the boxes of {name}")
            }
            Self::AllBoxes => "spread all boxes".to_owned(),
        }
    }

    /// What a layout of the same things would aim at.
    const fn aim(self) -> Aim {
        match self {
            Self::Modules(id) => Aim::Box(id),
            Self::Boxes(id) => Aim::Fill(id),
            Self::AllBoxes => Aim::Whole,
        }
    }
}

/// The same layout with the most room to spare.
#[derive(Clone, Debug, PartialEq)]
pub struct Spreading {
    /// The edit that takes it over.
    pub edit: Edit,
    /// What limits it, from wall to wall: "front wall, 6 modules, 5 gaps, rear wall", and what they share.
    pub words: String,
    /// The least that any clearance had beyond what is asked for; negative where less than asked was kept.
    pub before: Length,
    /// The least that any clearance has then.
    pub after: Length,
}

impl Spreading {
    /// Whether anything is gained.
    pub fn helps(&self) -> bool {
        self.after > self.before
    }
}

/// Moves what is laid out apart, each thing staying among its neighbours; what is pinned stays where it is.
///
/// # Errors
///
/// [`NotYet`] with what is missing: a box with modules in a measured cavity.
pub fn spread(job: &Job, evaluation: &Evaluation, which: Which) -> Result<Spreading, NotYet> {
    let kept = Kept::of(job, evaluation, which)?;
    let how = match which {
        Which::Modules(_) => Move::Everything,
        Which::Boxes(_) | Which::AllBoxes => Move::Boxes,
    };
    let spread = spread::spread(&kept.request, &kept.layout, how).map_err(|e| needs(e.to_string()))?;
    let edit = Edit::Spread {
        which,
        boxes: kept.boxes(job, &spread),
    };
    let words = spread
        .chain
        .as_ref()
        .map_or_else(String::new, |chain| chain::words(chain, &kept, evaluation));
    Ok(Spreading {
        edit,
        words,
        before: spread.before,
        after: spread.least,
    })
}

/// The layout that there is, as the spreading takes it.
struct Kept<'a> {
    request: Request,
    layout: Layout,
    /// For each box of the layout, the box.
    boxes: Vec<&'a BoxResult>,
    /// For each placement, the module.
    modules: Vec<&'a ModuleResult>,
    /// For each cavity and each keep-out in it, its name.
    keep_outs: Vec<Vec<String>>,
    which: Which,
}

impl<'a> Kept<'a> {
    fn of(job: &Job, evaluation: &'a Evaluation, which: Which) -> Result<Self, NotYet> {
        let scope = Scope::of(evaluation, which.aim())?;
        let cavities = scope.cavities(evaluation);
        let boxes: Vec<&BoxResult> = evaluation
            .boxes
            .iter()
            .filter(|b| scope.lays_out(b) && !b.modules.is_empty() && !b.solids.is_empty())
            .filter(|b| cavities.iter().any(|c| c.id == b.cavity))
            .collect();
        if boxes.is_empty() {
            return Err(needs("put modules in a box, in a cavity that is taped"));
        }
        let trust = assumed::trust(&job.settings, job.units);
        let build = assumed::build(&job.design);
        let rule = box_rule(job, &build, &allowances(&build, &trust), trust.margin)
            .ok_or_else(|| needs("the box cannot be built as the Boxes page tells"))?;
        let kinds: Vec<_> = evaluation.kinds.iter().filter(|k| k.size.is_some()).collect();
        // The pinned ones come first: that is how they are told.
        let mut placed: Vec<(usize, &BoxResult, &ModuleResult)> = boxes
            .iter()
            .enumerate()
            .flat_map(|(i, &b)| b.modules.iter().map(move |m| (i, b, m)))
            .collect();
        placed.sort_by_key(|(_, _, m)| !m.pinned);
        let placements: Option<Vec<Placement>> = placed
            .iter()
            .map(|&(in_box, b, m)| {
                Some(Placement {
                    cavity: cavities.iter().position(|c| c.id == b.cavity)?,
                    in_box: Some(in_box),
                    kind: kinds.iter().position(|k| k.id == m.kind)?,
                    orientation: m.stands,
                    cuboid: m.cuboid,
                    count: m.count,
                })
            })
            .collect();
        let placements = placements.ok_or_else(|| needs("enter the size of every kind that is laid out"))?;
        let places: Option<Vec<BoxPlace>> = boxes
            .iter()
            .map(|b| {
                Some(BoxPlace {
                    cavity: cavities.iter().position(|c| c.id == b.cavity)?,
                    body: *b.solids.first()?,
                    inside: b.inside?,
                    bay: b.bay,
                })
            })
            .collect();
        let pinned = placed.iter().filter(|(_, _, m)| m.pinned).count();
        let in_the_way = |id| scope.in_the_way(evaluation, id);
        Ok(Self {
            request: Request {
                cavities: cavities
                    .iter()
                    .map(|c| cavity(c, trust.margin, in_the_way(c.id).map(|(cuboid, _)| cuboid)))
                    .collect(),
                kinds: kinds
                    .iter()
                    .map(|k| fit_kind(k, job.kind(k.id).and_then(|k| k.on_hand).unwrap_or(k.placed)))
                    .collect(),
                gap: trust.gap,
                boxes: Some(rule),
                wanted: Wanted::AsMany,
                pinned: placements[..pinned].to_vec(),
            },
            layout: Layout {
                boxes: places.unwrap_or_default(),
                count: placements.iter().map(|p| p.count).sum(),
                by_kind: (0..kinds.len())
                    .map(|kind| placements.iter().filter(|p| p.kind == kind).map(|p| p.count).sum())
                    .collect(),
                placements,
                to_spare: Length::ZERO,
            },
            keep_outs: cavities
                .iter()
                .map(|c| {
                    let own = c.keep_outs.iter().filter(|k| k.counts).map(|k| k.name.clone());
                    own.chain(in_the_way(c.id).map(|(_, name)| name.to_owned())).collect()
                })
                .collect(),
            boxes,
            modules: placed.into_iter().map(|(_, _, m)| m).collect(),
            which,
        })
    }

    /// The job's boxes with everything where the spreading puts it.
    fn boxes(&self, job: &Job, spread: &Spread) -> Vec<crate::BatteryBox> {
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
