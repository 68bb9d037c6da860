//! How boxes are built, as the automatic layout needs it.

use geometry::fit::{BoxRule, MassLimit};
use geometry::{Face, Faces};
use tape::Length;

use crate::Job;
use crate::assumed::{self, Build};
use crate::evaluate::{Allowances, rims, spec};

/// The rule for boxes of this job; `None` when they cannot be built as the design tells.
pub(super) fn box_rule(job: &Job, build: &Build, allowances: &Allowances, margin: Length) -> Option<BoxRule> {
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
