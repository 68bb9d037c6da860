//! The steel round the space that the modules of a box take: built, put in its place, and grown to what was taped.

use enclosure::BoxSpec;
use geometry::{Axis, Cuboid, Face, Faces, Point};
use tape::Length;

use super::{Allowances, BoxResult, rims, solid_rims, spec};
use crate::Job;
use crate::assumed::Build;
use crate::document::BatteryBox;
use crate::evaluate::cavity::CavityResult;
use crate::evaluate::kind::KindResult;
use crate::evaluate::{added, fitting, step};

/// Builds the steel round `inside`.
pub(super) fn steel(
    job: &Job,
    result: &mut BoxResult,
    (told, cavity): (&BatteryBox, Option<&CavityResult>),
    inside: Cuboid,
    (build, allowances, kinds): (&Build, &Allowances, &[KindResult]),
) {
    let Some(steel) = inside.grown(allowances.liner) else {
        return;
    };
    let spec = BoxSpec {
        step: result.step,
        ..spec(build, steel.size().0)
    };
    let (holes, faults) = fitting::holes(&spec, told, job.units.units());
    match enclosure::build_with(&spec, &holes) {
        Err(fault) => result.fault = Some(fault),
        Ok(mut made) => {
            let shell = Faces::floor_walls_top(made.under, made.beside, made.above_rim);
            let body = steel.grown(shell).unwrap_or(steel);
            let drawn = body.grown(Faces::all(allowances.coating)).unwrap_or(body);
            let mut coated = drawn;
            let (mut body, mut within_steel, mut within_liner) = (body, steel, inside);
            // What was taped is what stands there: the sheets are the same, so the inside follows. A box smaller than its
            // own sheets is none.
            let taped = as_built(told, &drawn)
                .and_then(|grows| Some((drawn.grown(grows)?, body.grown(grows)?, inside.grown(grows)?)));
            if let Some((outside, own, within)) = taped {
                (coated, body) = (outside, own);
                result.inside = Some(within);
                within_liner = within;
                within_steel = within.grown(allowances.liner).unwrap_or(steel);
                result.drawn = Some(drawn);
            }
            result.body = Some(body);
            result.coated = Some(coated);
            result.solids = step::parts(result.step.as_ref(), &coated);
            let rims = rims(&made, allowances.coating);
            result.solids.extend(rims.iter().map(|rim| rim.around(&coated)));
            let spaces = fitting::Walls {
                steel: within_steel,
                liner: within_liner,
                coated,
                step: result.step,
                rims: solid_rims(&made, allowances.coating),
            };
            result.fittings = fitting::placed(told, faults, &spaces, &result.modules);
            made.coat_area = made.coat_area - fitting::masked(&result.fittings);
            result.solids.extend(result.fittings.iter().filter_map(|f| f.outside));
            let shell_grams = made.grams;
            let there = (result.modules.as_slice(), result.fittings.as_slice());
            result.added = added::add(
                job,
                (build, &spec),
                kinds,
                (told, cavity),
                &within_steel,
                there,
                &mut made,
            );
            added::line((build, job.units.units()), &spec, told, &mut made, &mut result.added);
            result.empty_middle =
                enclosure::empty_middle_mm(&spec, &made).map(|at| within_steel.lo() + Point(at.map(Length::from_mm)));
            result
                .solids
                .extend(added::outside(&made, &within_steel, allowances.coating));
            #[expect(clippy::cast_possible_truncation, reason = "a box weighs far less than 2^53 g")]
            {
                result.mass.shell_g = shell_grams.round() as i64;
                result.mass.added_g = (made.grams - shell_grams + result.added.on_hand_grams).round() as i64;
            }
            result.built = Some(made);
        }
    }
}

/// How far each face of a box lies beyond where it was drawn, by what was taped after welding: lengthwise and crosswise
/// half at each side, in height all of it at the top.
fn as_built(told: &BatteryBox, drawn: &Cuboid) -> Option<Faces<Length>> {
    if told.as_built.is_open() {
        return None;
    }
    let mut grows = Faces::all(Length::ZERO);
    for axis in Axis::ALL {
        let Some(taped) = told.as_built.along(axis) else {
            continue;
        };
        let more = taped.value() - drawn.size()[axis];
        if axis == Axis::Z {
            grows[Face::Top] = more;
        } else {
            let half = Length::from_nm(more.nm().div_euclid(2));
            grows[Face::low(axis)] = half;
            grows[Face::high(axis)] = more - half;
        }
    }
    Some(grows)
}
