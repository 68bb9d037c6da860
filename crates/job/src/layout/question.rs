//! The question that a job puts to the automatic layout.

use geometry::Faces;
use geometry::fit::{self, Request, Wanted};
use tape::Length;

use super::rule::box_rule;
use crate::assumed;
use crate::evaluate::{CavityResult, KindResult, allowances};
use crate::{Evaluation, Id, Job};

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
    pub(super) cavities: Vec<Id>,
    /// For each kind of the request, its number.
    pub(super) kinds: Vec<Id>,
}

/// Why no layout can be asked for yet: what is still needed.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("no layout yet: {needs}")]
pub struct NotYet {
    /// What is still needed, in words.
    pub needs: String,
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
            pinned: Vec::new(),
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
