use enclosure::{Corners, Joint};
use geometry::{Axis, Size};
use proptest::prelude::*;
use rstest::rstest;

use super::*;
use crate::assumed::Trust;
use crate::document::{CapHeldName, Closing, Grams, Limits, UnitsName};
use crate::evaluate::allowances;

fn job() -> Job {
    Job {
        limits: Limits {
            box_kg: Some(Grams(60_000)),
        },
        ..Job::empty(UnitsName::Millimetre)
    }
}

fn trust(job: &Job) -> Trust {
    assumed::trust(&job.settings, job.units)
}

/// The rule for boxes built like this.
fn rule(build: &Build) -> BoxRule {
    let job = job();
    let trust = trust(&job);
    box_rule(&job, build, &allowances(build, &trust), trust.margin).expect("it can be built")
}

fn builds() -> impl Strategy<Value = Build> {
    let corners = prop::sample::select(vec![
        Corners::LongSidesRun,
        Corners::WallsWrapFloor,
        Corners::EndsRun,
        Corners::CornerToCorner,
    ]);
    let closing = prop::sample::select(vec![Closing::Flange, Closing::Cap, Closing::Flat]);
    let held = prop::sample::select(CapHeldName::ALL.to_vec());
    let joint = prop::sample::select(vec![Joint::Mitred, Joint::Butt]);
    let sheets = prop::array::uniform4(1_000_000..6_000_000_i64);
    (corners, closing, held, joint, sheets, 16..60_i64, 20..120_i64, 0..5_i64).prop_map(
        |(corners, closing, cap_held, flange_joint, [wall, floor, lid, flange], out, deep, liner)| Build {
            corners,
            closing,
            cap_held,
            flange_joint,
            wall: Length::from_nm(wall),
            floor: Length::from_nm(floor),
            lid: Length::from_nm(lid),
            flange_thickness: Length::from_nm(flange),
            flange_out: Length::mm(out),
            cap_out: Length::from_nm(lid) + Length::mm(out - 16),
            // Screws take a skirt that hangs as far over the wall as twice their nuts are wide.
            cap_deep: Length::mm(if cap_held == CapHeldName::Screws {
                deep + 20
            } else {
                deep
            }),
            liner: Length::tenths_mm(liner * 5),
            ..assumed::build(&job().design)
        },
    )
}

proptest! {
    /// What the layout takes for an empty box is what is built before its holes are made, rounded up to the gram and
    /// never below.
    #[test]
    fn an_empty_box_is_never_taken_for_lighter_than_it_is_built(
        build in builds(),
        inside in prop::array::uniform3(130_000_000..2_500_000_000_i64),
    ) {
        let allowances = allowances(&build, &trust(&job()));
        let inside = inside.map(Length::from_nm);
        let steel = Axis::ALL.map(|axis| {
            inside[axis.index()] + allowances.liner[Face::low(axis)] + allowances.liner[Face::high(axis)]
        });
        let spec = spec(&build, steel);
        let mut built = enclosure::build(&spec).expect("an ample size");
        if let Some(lining) = lining(&build, Vec::new()) {
            built.add(lining.group(&spec).expect("an ample size").group);
        }
        let taken = rule(&build).most_g.expect("a limit is given").empty.grams(Size(inside));
        #[expect(clippy::cast_precision_loss, reason = "some kilograms")]
        let taken = taken as f64;
        prop_assert!(taken >= built.grams, "{taken} for {}", built.grams);
        prop_assert!(taken <= built.solid_grams() + 1.001, "{taken} for {}", built.solid_grams());
    }

    /// A body as high as the rule asks for can be built, and one a nanometre lower cannot.
    #[test]
    fn the_least_height_is_the_least_that_can_be_built(build in builds()) {
        let allowances = allowances(&build, &trust(&job()));
        let rule = rule(&build);
        let depth = rule.least_height - rule.shell[Face::Bottom] - rule.shell[Face::Top]
            + allowances.liner[Face::Bottom] + allowances.liner[Face::Top];
        let with = |depth| enclosure::build(&spec(&build, [Length::mm(400), Length::mm(300), depth]));
        prop_assert!(with(depth).is_ok());
        prop_assert!(with(depth - Length::from_nm(1)).is_err());
    }
}

/// Worked by hand: a 40 mm skirt under a 2 mm cap on a 4 mm gasket needs a body of 3 mm floor and 40 mm skirt, coated
/// with 0.125 mm on both faces; a 3 mm flange under lid and gasket needs 3 + 3 + 4 + 2.
#[rstest]
#[case::cap(Closing::Cap, 43_250_000)]
#[case::flange(Closing::Flange, 12_250_000)]
#[case::flat(Closing::Flat, 9_250_001)]
fn what_the_lid_needs(#[case] closing: Closing, #[case] least_nm: i64) {
    let build = Build {
        closing,
        ..assumed::build(&crate::document::Design::default())
    };
    assert_eq!(rule(&build).least_height, Length::from_nm(least_nm));
}
