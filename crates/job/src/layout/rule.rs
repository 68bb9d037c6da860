//! How boxes are built, as the automatic layout needs it.

use geometry::fit::{BoxRule, EmptyMass, MassLimit, Rim};
use geometry::{Face, Faces};
use tape::Length;

use crate::Job;
use crate::assumed::{self, Build};
use crate::evaluate::{Allowances, lining, rims, spec};

#[cfg(test)]
mod tests;

/// A size inside the steel that every construction has room for.
pub(super) const AMPLE: Length = Length::mm(1_000);

/// The rule for boxes of this job; `None` when they cannot be built as the design tells.
pub(super) fn box_rule(job: &Job, build: &Build, allowances: &Allowances, margin: Length) -> Option<BoxRule> {
    // The bands at the rim and what stands above it do not depend on the inside size, only that it is large enough; one that
    // ends below the top, as that round the rivets of a frame, does: `shell` has it below, `Reaches` beside.
    let made = enclosure::build(&spec(build, [AMPLE; 3])).ok()?;
    let shell = Faces(Face::ALL.map(|face| {
        let steel = match face {
            Face::Bottom => made.under + build.below_body(),
            Face::Top => made.above_rim,
            _ => made.beside,
        };
        steel + allowances.liner[face] + allowances.coating
    }));
    let lined = |low, high| allowances.liner[low] + allowances.liner[high];
    let upright = shell[Face::Bottom] + shell[Face::Top] - lined(Face::Bottom, Face::Top);
    let most_g = match job.limits.box_kg {
        None => None,
        Some(limit) => Some(MassLimit {
            limit_g: limit.0,
            empty: empty_mass(build, allowances)?,
        }),
    };
    Some(BoxRule {
        shell,
        fit: allowances.fit,
        room: allowances.room,
        bay: (allowances.bay > Length::ZERO).then_some((assumed::BAY, allowances.bay)),
        rims: rims(&made, allowances.coating)
            .into_iter()
            .filter(|rim| !rim.above_top.is_negative())
            .chain(over_lid(build))
            .collect(),
        least_height: least_depth(build) + upright,
        most_g,
        one_tier: build.one_tier,
        per_cavity: build.boxes_per_cavity,
        apart: margin,
    })
}

/// Angles over the lid, as one block as large as it.
fn over_lid(build: &Build) -> Option<Rim> {
    (build.over_lid > Length::ZERO).then_some(Rim {
        out: Length::ZERO,
        below_top: Length::ZERO,
        above_top: build.over_lid,
    })
}

/// The least depth inside the steel with which the box can be built: flange and skirt end above the floor.
pub(super) fn least_depth(build: &Build) -> Length {
    let builds = |nm: i64| enclosure::build(&spec(build, [AMPLE, AMPLE, Length::from_nm(nm)])).is_ok();
    let (mut refused, mut builds_at) = (0, AMPLE.nm());
    while builds_at - refused > 1 {
        let middle = refused + (builds_at - refused) / 2;
        if builds(middle) {
            builds_at = middle;
        } else {
            refused = middle;
        }
    }
    Length::from_nm(builds_at)
}

/// The mass of an empty box before its holes are made, by the size inside its liner, from boxes built with one metre and
/// two metres a side.
///
/// Every figure is rounded up to the next microgram, and one more is added for what floats lose, so that no box comes
/// out lighter than it is built.
fn empty_mass(build: &Build, allowances: &Allowances) -> Option<EmptyMass> {
    let liner = &allowances.liner;
    let grams = |metres: [i64; 3]| {
        let [x, y, z] = metres.map(|m| Length::mm(1_000 * m));
        let steel = [
            x + liner[Face::Front] + liner[Face::Rear],
            y + liner[Face::Left] + liner[Face::Right],
            z + liner[Face::Bottom] + liner[Face::Top],
        ];
        let spec = spec(build, steel);
        let sheets = lining(build, Vec::new()).and_then(|lining| lining.group(&spec).ok());
        let sheets = sheets.iter().flat_map(|sheets| &sheets.group.parts);
        let in_it: f64 = sheets.map(|part| part.solid_grams * f64::from(part.quantity)).sum();
        Some(enclosure::build(&spec).ok()?.solid_grams() + in_it)
    };
    let base = grams([1, 1, 1])?;
    let [x, y, z] = [
        grams([2, 1, 1])? - base,
        grams([1, 2, 1])? - base,
        grams([1, 1, 2])? - base,
    ];
    let xy = grams([2, 2, 1])? - base - x - y;
    let xz = grams([2, 1, 2])? - base - x - z;
    let yz = grams([1, 2, 2])? - base - y - z;
    // From steps beyond one metre to powers of the size itself.
    let per_metre = [x - xy - xz, y - xy - yz, z - xz - yz];
    Some(EmptyMass {
        fixed_ug: micrograms(base - x - y - z + xy + xz + yz) + 1,
        ug_per_m: per_metre.map(micrograms),
        ug_per_m2: [xy, xz, yz].map(micrograms),
    })
}

#[expect(clippy::cast_possible_truncation, reason = "some kilograms, saturating")]
fn micrograms(grams: f64) -> i64 {
    (grams * 1e6).ceil() as i64
}
