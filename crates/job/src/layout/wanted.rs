//! How many modules the automatic layout is asked for.

use geometry::fit::Wanted;

use super::{Aim, Count, NotYet};
use crate::evaluate::KindResult;
use crate::{Evaluation, Job};

/// What is wanted of the kind that is laid out (the first of the request), by the aim.
pub(super) fn wanted(job: &Job, evaluation: &Evaluation, kind: &KindResult, aim: Aim) -> Result<Wanted, NotYet> {
    match aim {
        Aim::Whole => strings(job, evaluation, kind),
        Aim::Wanted(count) => exactly(kind, count),
        Aim::Fill(_) | Aim::Box(_) => Ok(Wanted::AsMany),
    }
}

/// The number that was asked for, as strings, so that they are kept whole in their boxes where that can be.
fn exactly(kind: &KindResult, count: Count) -> Result<Wanted, NotYet> {
    let on_hand = kind.on_hand.unwrap_or(0);
    let takes = count.modules().unwrap_or(count.series);
    if takes > on_hand {
        return Err(NotYet {
            needs: format!(
                "{count} takes {takes} modules, and {on_hand} of {} are on hand",
                kind.name
            ),
        });
    }
    Ok(Wanted::Strings {
        kind: 0,
        series: vec![count.series],
        parallel: count.parallel.unwrap_or(on_hand / count.series),
    })
}

/// Which strings are wanted: the person's numbers, else all that fit the drive, the best first.
fn strings(job: &Job, evaluation: &Evaluation, kind: &KindResult) -> Result<Wanted, NotYet> {
    let pack = evaluation.packs.iter().find(|p| p.kind == kind.id);
    let Some(pack) = pack else {
        return Err(NotYet {
            needs: "enter the module's volts and amp-hours".to_owned(),
        });
    };
    if job.wanted.series.is_none() && (job.drive.min_volts.is_none() || job.drive.max_volts.is_none()) {
        return Err(NotYet {
            needs: "enter the drive's least and most volts (Pack page)".to_owned(),
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
