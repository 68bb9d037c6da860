//! From a job to the question for the automatic layout, and from its answer back to boxes.

use geometry::fit::{
    self, Answer, BoundBy, BoxRule, Budget, Ended, Layout, MassLimit, Request, RequestError, Wanted, Watch,
};
use geometry::{Axis, Face, Faces, Point, Size};
use tape::Length;

use crate::assumed::{self, Build};
use crate::document::{BatteryBox, FaceName, Placed, Stands};
use crate::edit::place;
use crate::evaluate::{Allowances, CavityResult, KindResult, allowances, rims, spec};
use crate::{Edit, Evaluation, Id, Job};

/// What the automatic layout is to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// Lay out everything anew: whole strings that fit the drive, in all cavities.
    Whole,
    /// Fill one cavity with as many modules as go in, whatever the strings.
    Fill(Id),
}

/// A question for the automatic layout, with what is needed to take its answer back.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The question itself, for [`fit::fit`].
    pub request: Request,
    /// What was aimed at.
    pub aim: Aim,
    /// For each cavity of the request, its number.
    cavities: Vec<Id>,
    /// For each kind of the request, its number.
    kinds: Vec<Id>,
}

/// Why no layout can be asked for yet: what is still needed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no layout yet: {needs}")]
pub struct NotYet {
    /// What is still needed, in words.
    pub needs: String,
}

/// A layout to offer: what was found, with which margin, and the edit that takes it over.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// What was asked.
    pub question: Question,
    /// The answer, layouts best first; bound and proof hold for `margin`.
    pub answer: Answer,
    /// The margin that the answer keeps: the job's, or a smaller one where nothing (or less) goes in with that.
    pub margin: Length,
    /// Modules that go in with the job's own margin, when `margin` is smaller.
    pub with_asked_margin: Option<u32>,
}

impl Proposal {
    /// The edit that takes over the layout of this index.
    pub fn edit(&self, job: &Job, index: usize) -> Option<Edit> {
        Some(take_over(job, &self.question, self.answer.layouts.get(index)?))
    }

    /// What was found, in one sentence: how many, of how many at most, by what, and with which margin.
    pub fn words(&self, evaluation: &Evaluation) -> String {
        let answer = &self.answer;
        let count = answer.layouts.first().map_or(0, |l| l.count);
        let by = answer.bound_by.words();
        let how = match (answer.proved, answer.bound_by, answer.ended) {
            (true, BoundBy::OnHand, _) if self.question.aim == Aim::Whole => {
                "every whole string that the units on hand allow".to_owned()
            }
            (true, BoundBy::OnHand, _) => "every one on hand".to_owned(),
            (true, BoundBy::WholeStrings, _) => "proved: no further whole string goes in".to_owned(),
            (true, ..) => format!("proved by {by}: no more can go in"),
            (false, _, Ended::Stopped) => format!("stopped; at most {} by {by}", answer.upper_bound),
            (false, ..) => format!("best found; at most {} by {by}", answer.upper_bound),
        };
        match self.with_asked_margin {
            None => format!("{count} modules, {how}"),
            Some(asked) => {
                let margin = evaluation.down(self.margin);
                let asked_for = evaluation.down(evaluation.margin);
                // A proof for the narrower margin is none for the one asked for, so it is not spoken of.
                format!(
                    "{count} modules, but only with a margin of {margin}; with the {asked_for} asked for {asked} go in"
                )
            }
        }
    }
}

/// Works out a layout: with the margin asked for, and when that leaves wanted modules out, with smaller margins too,
/// keeping the widest one that gets most in. A small margin is said with the answer and stays a caution in the job.
///
/// # Errors
///
/// [`NotYet`] with what is missing.
pub fn propose(
    job: &Job,
    evaluation: &Evaluation,
    aim: Aim,
    budget: Budget,
    watch: &mut dyn Watch,
) -> Result<Proposal, NotYet> {
    let asked = question(job, evaluation, aim)?;
    let not_asked = |e: RequestError| NotYet { needs: e.to_string() };
    let answer = fit::fit(&asked.request, budget, watch).map_err(not_asked)?;
    let count = |answer: &Answer| answer.layouts.first().map_or(0, |l| l.count);
    let most = most_wanted(&asked.request);
    let mut best = Proposal {
        question: asked.clone(),
        answer,
        margin: evaluation.margin,
        with_asked_margin: None,
    };
    let with_asked = count(&best.answer);
    let step = match job.units {
        crate::UnitsName::Inch => Length::sixty_fourths(4),
        crate::UnitsName::Millimetre => Length::mm(1),
    };
    // Filling is asked with open eyes at the margin as it is; laying out wants the strings in, at some margin.
    for share in [3, 2, 1] {
        if aim != Aim::Whole || count(&best.answer) >= most || best.answer.ended == Ended::Stopped {
            break;
        }
        let margin = Length::from_nm(evaluation.margin.nm() * share / 4).round_down_to(step);
        let mut narrower = asked.clone();
        narrow(&mut narrower, job, evaluation, margin);
        let answer = fit::fit(&narrower.request, budget, watch).map_err(not_asked)?;
        if count(&answer) > count(&best.answer) {
            best = Proposal {
                question: narrower,
                answer,
                margin,
                with_asked_margin: Some(with_asked),
            };
        }
    }
    Ok(best)
}

/// The most modules that the question wants in.
fn most_wanted(request: &Request) -> u32 {
    let on_hand: u32 = request.kinds.iter().map(|k| k.on_hand.unwrap_or(u32::MAX / 4)).sum();
    match &request.wanted {
        Wanted::AsMany => on_hand,
        Wanted::Exactly(counts) => counts.iter().sum(),
        Wanted::Strings { series, parallel, .. } => series
            .iter()
            .map(|s| s * parallel.min(&(on_hand / s.max(&1))))
            .max()
            .unwrap_or(0),
    }
}

/// Takes the job's margin down to `to`; keep-outs with a margin of their own keep it.
fn narrow(question: &mut Question, job: &Job, evaluation: &Evaluation, to: Length) {
    let has_own = |id: Id| {
        let asked = job.cavities.iter().flat_map(|c| &c.keep_outs).find(|k| k.id == id);
        asked.is_some_and(|k| k.margin.is_some())
    };
    for (cavity, id) in question.request.cavities.iter_mut().zip(&question.cavities) {
        cavity.wall_margin = Faces::all(to);
        let told = evaluation
            .cavity(*id)
            .into_iter()
            .flat_map(|c| c.keep_outs.iter().filter(|k| k.counts));
        for (keep_out, _) in cavity
            .keep_outs
            .iter_mut()
            .zip(told)
            .filter(|(_, told)| !has_own(told.id))
        {
            keep_out.margin = to;
        }
    }
    if let Some(rule) = &mut question.request.boxes {
        rule.apart = to;
    }
}

/// The question that `job` puts to the automatic layout.
///
/// # Errors
///
/// [`NotYet`] with what is missing: a measured cavity, a module with size and number on hand, the drive's window.
pub fn question(job: &Job, evaluation: &Evaluation, aim: Aim) -> Result<Question, NotYet> {
    let needs = |needs: &str| NotYet {
        needs: needs.to_owned(),
    };
    let cavities: Vec<&CavityResult> = evaluation
        .cavities
        .iter()
        .filter(|c| c.space.is_some() && (aim == Aim::Whole || aim == Aim::Fill(c.id)))
        .collect();
    if cavities.is_empty() {
        return Err(needs("tape the length, width and height of a cavity"));
    }
    let elsewhere = |kind: &KindResult| match aim {
        Aim::Whole => 0,
        Aim::Fill(cavity) => evaluation
            .boxes
            .iter()
            .filter(|b| b.cavity != cavity)
            .flat_map(|b| &b.modules)
            .filter(|m| m.kind == kind.id)
            .map(|m| m.count)
            .sum(),
    };
    let ready: Vec<(&KindResult, u32)> = evaluation
        .kinds
        .iter()
        .filter_map(|k| {
            let left = k.on_hand?.saturating_sub(elsewhere(k));
            (k.size.is_some() && k.mass_g.is_some() && left > 0).then_some((k, left))
        })
        .collect();
    // Different kinds do not mix in a string: the layout is made of the kind whose pack comes out best.
    let best = best_kind(evaluation, &ready);
    let Some(&(kind, on_hand)) = best
        .and_then(|id| ready.iter().find(|(k, _)| k.id == id))
        .or_else(|| ready.first())
    else {
        return Err(needs("enter a module's size, mass and number on hand"));
    };
    let trust = assumed::trust(&job.settings, job.units);
    let build = assumed::build(&job.design);
    let rule = box_rule(job, &build, &allowances(&build, &trust), trust.margin)
        .ok_or_else(|| needs("the box cannot be built as the Boxes page tells"))?;
    Ok(Question {
        request: Request {
            cavities: cavities.iter().map(|c| cavity(c, trust.margin)).collect(),
            kinds: vec![fit_kind(kind, on_hand)],
            gap: trust.gap,
            boxes: Some(rule),
            wanted: match aim {
                Aim::Whole => wanted(job, evaluation, kind)?,
                Aim::Fill(_) => Wanted::AsMany,
            },
        },
        aim,
        cavities: cavities.iter().map(|c| c.id).collect(),
        kinds: vec![kind.id],
    })
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

/// Which strings are wanted: the person's numbers, else all that fit the drive, the best first.
fn wanted(job: &Job, evaluation: &Evaluation, kind: &KindResult) -> Result<Wanted, NotYet> {
    let pack = evaluation.packs.iter().find(|p| p.kind == kind.id);
    let Some(pack) = pack else {
        return Err(NotYet {
            needs: "enter the module's volts and amp-hours".to_owned(),
        });
    };
    if job.wanted.series.is_none() && (job.drive.min_volts.is_none() || job.drive.max_volts.is_none()) {
        return Err(NotYet {
            needs: "enter the drive's least and most volts".to_owned(),
        });
    }
    let parallel = job
        .wanted
        .parallel
        .unwrap_or(u32::MAX)
        .min(kind.on_hand.unwrap_or(1))
        .max(1);
    let mut series: Vec<u32> = Vec::new();
    match job.wanted.series {
        Some(given) => series.push(given),
        None => {
            for choice in pack.choices.iter().filter(|c| c.fits()) {
                if !series.contains(&choice.arrangement.series) {
                    series.push(choice.arrangement.series);
                }
            }
        }
    }
    if series.is_empty() {
        return Err(NotYet {
            needs: match pack.fits {
                Some((least, most)) if least == most => {
                    format!("the drive needs {least} in series, and {} are on hand", pack.on_hand)
                }
                Some((least, most)) => {
                    format!(
                        "the drive needs {least} to {most} in series, and {} are on hand",
                        pack.on_hand
                    )
                }
                None => "no number in series fits the drive's window (see the Pack page)".to_owned(),
            },
        });
    }
    Ok(Wanted::Strings {
        kind: 0,
        series,
        parallel,
    })
}

fn cavity(cavity: &CavityResult, margin: Length) -> fit::Cavity {
    fit::Cavity {
        space: cavity.space.unwrap_or_default(),
        wall_margin: Faces::all(margin),
        keep_outs: cavity
            .keep_outs
            .iter()
            .filter(|k| k.counts)
            .map(|k| fit::KeepOut {
                cuboid: k.cuboid,
                margin: k.margin,
            })
            .collect(),
    }
}

fn fit_kind(kind: &KindResult, on_hand: u32) -> fit::Kind {
    fit::Kind {
        size: kind.size.unwrap_or_default(),
        orientations: kind.orientations.clone(),
        service: kind.service,
        on_hand: Some(on_hand),
        mass_g: kind.mass_g.unwrap_or(0),
        stack: kind.stack,
    }
}

fn box_rule(job: &Job, build: &Build, allowances: &Allowances, margin: Length) -> Option<BoxRule> {
    // The bands and what stands above the rim do not depend on the inside size, only that it is large enough.
    let any = Length::mm(1_000);
    let made = enclosure::build(&spec(build, [any, any, any])).ok()?;
    let shell = Faces(Face::ALL.map(|face| {
        let steel = match face {
            Face::Bottom => build.floor,
            Face::Top => made.above_rim,
            _ => build.wall,
        };
        steel + allowances.liner[face] + allowances.coating
    }));
    let grams_per_m2 =
        build.wall.as_mm().max(build.floor.as_mm()).max(build.lid.as_mm()) * build.material.density_kg_m3();
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a few tens of kilograms per square metre"
    )]
    let shell_g_per_m2 = grams_per_m2.ceil() as i64;
    Some(BoxRule {
        shell,
        fit: allowances.fit,
        room: allowances.room,
        bay: (allowances.bay > Length::ZERO).then_some((assumed::BAY, allowances.bay)),
        rims: rims(&made, allowances.coating),
        most_g: job.limits.box_kg.map(|limit| MassLimit {
            limit_g: limit.0,
            shell_g_per_m2,
        }),
        per_cavity: build.boxes_per_cavity,
        apart: margin,
    })
}

/// The edit that takes over `layout` as the answer to `question`.
///
/// Boxes get the cavity's name. Numbers start after the largest that stays in use, so that no box or module that stays
/// shares its number with a new one.
pub fn take_over(job: &Job, question: &Question, layout: &Layout) -> Edit {
    let units = job.units.units();
    let mut boxes: Vec<BatteryBox> = match question.aim {
        Aim::Whole => Vec::new(),
        Aim::Fill(cavity) => job.boxes.iter().filter(|b| b.cavity != cavity).cloned().collect(),
    };
    let mut next = Job {
        boxes: boxes.clone(),
        ..job.clone()
    }
    .next_id()
    .0;
    let mut id = || {
        next += 1;
        Id(next - 1)
    };
    for (index, placed_box) in layout.boxes.iter().enumerate() {
        let inside = layout.placements.iter().filter(|p| p.in_box == Some(index));
        // The datum is the corner of the modules, so that their places in the box are plain sums.
        let corner = inside
            .clone()
            .map(|p| p.cuboid)
            .reduce(|a, b| a.hull(&b))
            .map_or(Point::ZERO, |all| all.lo());
        let cavity = question.cavities[placed_box.cavity];
        let modules: Vec<Placed> = inside
            .map(|p| Placed {
                id: id(),
                kind: question.kinds[p.kind],
                at: place(p.cuboid.lo() - corner, units),
                stands: Stands::of(p.orientation),
                count: p.count,
            })
            .collect();
        let name = box_name(job, cavity, &boxes);
        let bay = placed_box.bay.map(FaceName::of);
        boxes.push(BatteryBox {
            id: id(),
            name,
            cavity,
            at: place(corner, units),
            bay,
            fixed: None,
            modules,
        });
    }
    Edit::AcceptLayout(boxes)
}

/// "box" and the cavity's name, with a number where there are several.
fn box_name(job: &Job, cavity: Id, boxes: &[BatteryBox]) -> String {
    let cavity_name = job.cavity(cavity).map_or("", |c| c.name.as_str());
    let before = boxes.iter().filter(|b| b.cavity == cavity).count();
    if before == 0 {
        format!("{cavity_name} box")
    } else {
        format!("{cavity_name} box {}", before + 1)
    }
}

/// A datum for a new box at the front-left-bottom corner of a cavity, so that its first module keeps the margin with
/// everything that comes round it.
pub fn start_corner(job: &Job) -> Point {
    let trust = assumed::trust(&job.settings, job.units);
    let build = assumed::build(&job.design);
    let allowances = allowances(&build, &trust);
    let service = job.kinds.iter().map(assumed::service).max().unwrap_or(Length::ZERO);
    let rim = match build.closing {
        crate::Closing::Flange => build.flange_out,
        crate::Closing::Cap => build.cap_out,
        crate::Closing::Flat => Length::ZERO,
    };
    let shell = trust.margin + rim + allowances.coating + build.wall + build.liner + build.fit;
    let floor = trust.margin + allowances.coating + build.floor + build.liner;
    Point([
        shell + build.room_ends.max(service) + allowances.bay,
        shell + service,
        floor,
    ])
}

/// A place for one more module in a box, from the box's datum: beside, behind or on top of those in it, with the gap
/// kept, without overlap, growing the box least.
///
/// `None` when the kind's size is not known.
pub fn next_place(
    evaluation: &Evaluation,
    into: Id,
    kind: Id,
    count: u32,
    datum: Point,
) -> Option<(Point, geometry::Orientation)> {
    let battery_box = evaluation.battery_box(into)?;
    let kind = evaluation.kind(kind)?;
    let stands = battery_box
        .modules
        .iter()
        .rev()
        .find(|m| m.kind == kind.id)
        .map_or_else(
            || {
                kind.orientations
                    .first()
                    .copied()
                    .unwrap_or(geometry::Orientation::UPRIGHT)
            },
            |m| m.stands,
        );
    let size: Size = stands.extents(kind.own_size(count)?);
    let Some(all) = battery_box.modules.iter().map(|m| m.cuboid).reduce(|a, b| a.hull(&b)) else {
        return Some((Point::ZERO, stands));
    };
    let gap = evaluation.gap;
    let room = kind.service_towards(stands);
    let apart = |face: Face| gap.max(room[face]).max(room[face.opposite()]);
    let free = |corner: Point| {
        let here = geometry::Cuboid::at(corner, size);
        battery_box.modules.iter().all(|m| {
            Axis::ALL
                .into_iter()
                .any(|axis| here.gap_along(&m.cuboid, axis) >= apart(Face::high(axis)))
        })
    };
    let beside = battery_box.modules.iter().flat_map(|m| {
        Axis::ALL.into_iter().map(move |axis| {
            let mut corner = m.cuboid.lo();
            corner[axis] = m.cuboid.hi()[axis] + apart(Face::high(axis));
            corner
        })
    });
    let space = evaluation.cavity(battery_box.cavity).and_then(|c| c.space);
    let cost = |corner: &Point| {
        let here = geometry::Cuboid::at(*corner, size);
        let outside = space.is_some_and(|s| !s.contains(&here));
        (outside, all.hull(&here).size().volume())
    };
    beside
        .filter(|&corner| free(corner))
        .min_by_key(cost)
        .map(|corner| (corner - datum, stands))
}
