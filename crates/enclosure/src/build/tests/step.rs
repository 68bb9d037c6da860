//! Boxes with a step, put together again from their parts.

use proptest::prelude::*;
use rstest::rstest;
use tape::{Length, Volume};

use super::assembly::Block;
use super::random::{ALL_CORNERS, flanged, length, open};
use super::{part, plain, screwed, volume};
use crate::build::{build, build_with};
use crate::{
    BoxSpec, Built, Construction, Corners, Folding, Hole, Joint, Notch, Part, Purpose, Role, SpecError, Step, Wall,
    WallHole,
};

const WALLS: [Wall; 4] = [Wall::Front, Wall::Rear, Wall::Left, Wall::Right];

/// Gives boxes a step that they can have.
fn stepped(specs: impl Strategy<Value = BoxSpec>) -> impl Strategy<Value = BoxSpec> {
    let wall = prop::sample::select(WALLS.to_vec());
    (specs, wall, length(9, 2_000), length(9, 600)).prop_filter_map("a step it can have", |(spec, at, run, rise)| {
        let axis = Step { at, run, rise }.axis();
        let less = |length: Length, most: Length| {
            let span = most - Length::mm(10);
            Length::mm(9) + Length::from_nm((length - Length::mm(9)).nm() % span.nm().max(1))
        };
        let step = Step {
            at,
            run: less(run, spec.inside[axis]),
            rise: less(rise, spec.inside[2]),
        };
        let spec = BoxSpec {
            step: Some(step),
            ..spec
        };
        spec.check().is_ok().then_some(spec)
    })
}

/// What a part fills, as blocks: a notched wall is two. `at` is its lower corner at the beginning of its length, `along` the
/// axis of its length, `up` that of its width.
fn blocks(part: &Part, at: [Length; 3], along: usize, up: usize, notch: Option<Notch>) -> Vec<Block> {
    let thin = 3 - along - up;
    let block = |from: [Length; 2], size: [Length; 2]| {
        let mut block = Block {
            at,
            size: [part.sheet.thickness; 3],
        };
        block.at[along] += from[0];
        block.at[up] += from[1];
        block.size[along] = size[0];
        block.size[up] = size[1];
        block.size[thin] = part.sheet.thickness;
        block
    };
    let zero = Length::ZERO;
    let Some(Notch { at_far_end, size }) = notch else {
        return vec![block([zero; 2], [part.length, part.width])];
    };
    let from = if at_far_end { zero } else { size[0] };
    vec![
        block([from, zero], [part.length - size[0], size[1]]),
        block([zero, size[1]], [part.length, part.width - size[1]]),
    ]
}

/// Every panel where it stands, along the axes of the box, from the front-left-bottom corner of the outside. Written apart
/// from the code that sizes the parts.
fn stand(spec: &BoxSpec, built: &Built) -> Vec<Block> {
    let step = spec.step.unwrap();
    let (t, f, zero) = (spec.wall.thickness, spec.floor.thickness, Length::ZERO);
    let [axis, other] = [step.axis(), 1 - step.axis()];
    let (floor_edge, foot) = match spec.corners {
        Corners::LongSidesRun | Corners::EndsRun => (zero, f),
        Corners::WallsWrapFloor => (t, zero),
        Corners::CornerToCorner => (t, f),
    };
    let runs = |role: Role| match spec.corners {
        Corners::LongSidesRun | Corners::WallsWrapFloor => role == Role::LongSide,
        Corners::EndsRun => role == Role::End,
        Corners::CornerToCorner => false,
    };
    let [cut, across] = if axis == spec.long_axis() {
        [Role::LongSide, Role::End]
    } else {
        [Role::End, Role::LongSide]
    };
    // All told as if the step were at the low end; turned round after.
    let place = |along: Length, beside: Length, up: Length| {
        let mut at = [up; 3];
        at[axis] = along;
        at[other] = beside;
        at
    };
    let mut all = Vec::new();
    let lies = |role: Role, at: [Length; 3]| {
        let part = part(built, role);
        let [long, short] = [spec.long_axis(), 1 - spec.long_axis()];
        blocks(part, at, long, short, None)
    };
    let behind = |edge: Length| if edge == zero { zero } else { t };
    all.extend(lies(
        Role::Floor,
        place(step.run + behind(floor_edge), floor_edge, zero),
    ));
    all.extend(lies(Role::RaisedFloor, place(floor_edge, floor_edge, step.rise)));
    all.extend(blocks(
        part(built, Role::Riser),
        place(step.run, t, foot),
        other,
        2,
        None,
    ));
    let start = |role: Role| if runs(role) { zero } else { t };
    let walls = part(built, cut);
    let notch = walls.notch().unwrap();
    assert_eq!(walls.quantity, 2);
    assert_eq!(notch.at_far_end, step.is_high());
    let low = Notch {
        at_far_end: false,
        ..notch
    };
    let far = built.shell[other] - t;
    for beside in [zero, far] {
        all.extend(blocks(walls, place(start(cut), beside, foot), axis, 2, Some(low)));
    }
    for (wall, along, up) in [
        (step.at, zero, step.rise + foot),
        (step.at.opposite(), built.shell[axis] - t, foot),
    ] {
        let own = built.parts.iter().find(|p| p.wall == Some(wall)).unwrap();
        assert_eq!((own.role, own.quantity), (across, 1));
        all.extend(blocks(own, place(along, start(across), up), other, 2, None));
    }
    if step.is_high() {
        for block in &mut all {
            block.at[axis] = built.shell[axis] - block.at[axis] - block.size[axis];
        }
    }
    all
}

fn block([lo, hi]: [[Length; 3]; 2], by: [Length; 3]) -> Block {
    Block {
        at: [0, 1, 2].map(|axis| lo[axis] + by[axis]),
        size: [0, 1, 2].map(|axis| hi[axis] - lo[axis]),
    }
}

proptest! {
    #[test]
    fn panels_put_together_are_the_stepped_shell_and_nothing_twice(spec in stepped(open())) {
        let built = build(&spec).unwrap();
        let step = spec.step.unwrap();
        let (t, f, zero) = (spec.wall.thickness, spec.floor.thickness, Length::ZERO);
        let whole = Block { at: [zero; 3], size: built.shell };
        let under = block(step.block(built.shell), [zero; 3]);
        let hollow = Block { at: [t, t, f], size: spec.inside };
        // The same block inside the steel, as deep and as long: it is no hollow.
        let within = block(step.block(spec.inside), [t, t, f]);
        let panels = stand(&spec, &built);
        let solids: Vec<&Block> = panels.iter().chain([&whole, &under, &hollow, &within]).collect();
        let edges = [0, 1, 2].map(|axis| {
            let mut edges: Vec<Length> = solids.iter().flat_map(|b| [b.at[axis], b.at[axis] + b.size[axis]]).collect();
            edges.sort_unstable();
            edges.dedup();
            edges
        });
        let cell = |place: [usize; 3]| Block {
            at: [0, 1, 2].map(|axis| edges[axis][place[axis]]),
            size: [0, 1, 2].map(|axis| edges[axis][place[axis] + 1] - edges[axis][place[axis]]),
        };
        let is_inside = |cell: &Block| hollow.holds(cell) && !within.holds(cell);
        let mut grooves = Volume::default();
        for x in 0..edges[0].len() - 1 {
            for y in 0..edges[1].len() - 1 {
                for z in 0..edges[2].len() - 1 {
                    let here = cell([x, y, z]);
                    let is_steel = whole.holds(&here) && !under.holds(&here) && !is_inside(&here);
                    let filled = panels.iter().filter(|panel| panel.holds(&here)).count();
                    prop_assert!(filled <= usize::from(is_steel), "{here:?} is filled {filled} times, {spec:?}");
                    if is_steel && filled == 0 {
                        prop_assert_eq!(spec.corners, Corners::CornerToCorner, "{:?} is a hole", here);
                        grooves = grooves + volume(here.size);
                        // A groove lies along an edge: straight in from it there is no hollow.
                        for axis in 0..3 {
                            for by in [-t.max(f), t.max(f)] {
                                let mut moved = Block { at: here.at, size: here.size };
                                moved.at[axis] += by;
                                prop_assert!(!is_inside(&moved), "{here:?} opens into the box");
                            }
                        }
                    }
                }
            }
        }
        let shell = volume(whole.size) - volume(under.size) - volume(hollow.size) + volume(within.size);
        let steel: Volume = built.parts.iter().map(|p| p.area * p.sheet.thickness * i64::from(p.quantity)).sum();
        prop_assert_eq!(steel + grooves, shell);
    }

    #[test]
    fn mass_is_that_of_the_areas_and_the_same_whichever_panel_runs(spec in stepped(flanged())) {
        let masses = ALL_CORNERS.map(|corners| {
            let built = build(&BoxSpec { corners, ..spec }).unwrap();
            // Only lid and flange have holes, each a disc of its sheet.
            let disc = |hole: &Hole| std::f64::consts::PI * (hole.diameter.as_mm() / 2.0).powi(2);
            let of = |part: &Part| {
                let drilled_mm2: f64 = part.holes.iter().map(disc).sum();
                let face_mm2 = part.area.as_mm2() - drilled_mm2;
                let sheet = part.sheet;
                face_mm2 * sheet.thickness.as_mm() * sheet.material.density_kg_m3() * 1e-6 * f64::from(part.quantity)
            };
            let sum: f64 = built.parts.iter().map(of).sum();
            assert!((built.grams - sum).abs() <= 1e-9 * sum);
            built.grams
        });
        prop_assert!((masses[0] - masses[2]).abs() <= 1e-9 * masses[0]);
        prop_assert!(masses[3] < masses[0], "the grooves are missing");
    }

    #[test]
    fn outside_sizes_lid_and_flange_are_those_without_the_step(spec in stepped(flanged())) {
        let built = build(&spec).unwrap();
        let bare = build(&BoxSpec { step: None, ..spec }).unwrap();
        prop_assert_eq!((built.shell, built.body, built.overall), (bare.shell, bare.body, bare.overall));
        prop_assert_eq!(&built.rims, &bare.rims);
        for role in [Role::LidPlate, Role::FlangeLong, Role::FlangeShort] {
            prop_assert_eq!(part(&built, role), part(&bare, role));
        }
        // Riser for wall; the walls beside lose the step's side.
        let step = spec.step.unwrap();
        prop_assert_eq!(built.coat_area + step.run * step.rise * 2, bare.coat_area);
    }

    #[test]
    fn a_hole_lies_wholly_on_its_panel(
        spec in stepped(open()),
        wall in prop::sample::select(Wall::ALL[..5].to_vec()),
        [along, up] in prop::array::uniform2(0.0..1.0_f64),
        room in 0..2_usize,
    ) {
        let diameter = Length::mm(8);
        let rooms = spec.hole_rooms(wall, diameter);
        prop_assume!(!rooms.is_empty());
        let [a, u] = rooms[room % rooms.len()];
        let within = |range: [Length; 2], share: f64| range[0] + Length::from_mm((range[1] - range[0]).as_mm() * share * 0.999);
        let hole = WallHole { wall, along: within(a, along), up: within(u, up), diameter, purpose: Purpose::Drain };
        let built = build_with(&spec, &[hole]).unwrap();
        let pieces: Vec<&Part> = built.parts.iter().filter(|p| !p.holes.is_empty()).collect();
        prop_assert_eq!(pieces.len(), 1);
        let piece = pieces[0];
        prop_assert_eq!(piece.quantity, 1);
        let made = piece.holes[0];
        let radius = Length::mm(4) - Length::from_nm(2);
        prop_assert!(made.x >= radius && made.x <= piece.length - radius, "{:?} in {:?}", made, piece);
        prop_assert!(made.y >= radius && made.y <= piece.width - radius, "{:?} in {:?}", made, piece);
        if let Some(notch) = piece.notch() {
            let from_end = if notch.at_far_end { piece.length - made.x } else { made.x };
            prop_assert!(from_end >= notch.size[0] + radius || made.y >= notch.size[1] + radius);
        }
    }
}

/// 800 x 400 x 200 inside, 2 mm walls, 3 mm floor, with a step.
fn with_step(at: Wall, run: i64, rise: i64) -> BoxSpec {
    BoxSpec {
        step: Some(Step {
            at,
            run: Length::mm(run),
            rise: Length::mm(rise),
        }),
        ..plain()
    }
}

fn sizes(built: &Built) -> Vec<(Role, Option<Wall>, [Length; 2])> {
    let of = |p: &Part| (p.role, p.wall, [p.length, p.width]);
    built.parts.iter().map(of).collect()
}

// By hand: 804 x 404 x 203 outside, the step 250 long and 80 high.
#[rstest]
#[case::floor_under(Corners::LongSidesRun, [[554, 404], [250, 404], [400, 80], [804, 200], [400, 120], [400, 200]], [250, 80])]
#[case::walls_wrap(Corners::WallsWrapFloor, [[550, 400], [248, 400], [400, 83], [804, 203], [400, 123], [400, 203]], [250, 80])]
#[case::ends_run(Corners::EndsRun, [[554, 404], [250, 404], [400, 80], [800, 200], [404, 120], [404, 200]], [248, 80])]
#[case::corner_to_corner(Corners::CornerToCorner, [[550, 400], [248, 400], [400, 80], [800, 200], [400, 120], [400, 200]], [250, 80])]
fn a_step_at_the_rear_end(#[case] corners: Corners, #[case] wanted: [[i64; 2]; 6], #[case] notch: [i64; 2]) {
    let built = build(&BoxSpec {
        corners,
        ..with_step(Wall::Rear, 250, 80)
    })
    .unwrap();
    let roles = [
        (Role::Floor, None),
        (Role::RaisedFloor, None),
        (Role::Riser, None),
        (Role::LongSide, None),
        (Role::End, Some(Wall::Rear)),
        (Role::End, Some(Wall::Front)),
    ];
    let wanted: Vec<_> = roles
        .into_iter()
        .zip(wanted)
        .map(|((role, wall), size)| (role, wall, size.map(Length::mm)))
        .collect();
    assert_eq!(sizes(&built), wanted);
    let cut = part(&built, Role::LongSide).notch().unwrap();
    assert_eq!(
        cut,
        Notch {
            at_far_end: true,
            size: notch.map(Length::mm)
        }
    );
}

#[test]
fn a_step_at_a_long_side_cuts_the_ends() {
    let built = build(&with_step(Wall::Left, 100, 80)).unwrap();
    let end = part(&built, Role::End);
    assert_eq!((end.quantity, [end.length, end.width]), (2, [400, 200].map(Length::mm)));
    // The end begins behind the long side, 2 mm in.
    assert_eq!(end.notch().unwrap().size, [98, 80].map(Length::mm));
    assert_eq!(part(&built, Role::Riser).length, Length::mm(800));
    let floors = [Role::Floor, Role::RaisedFloor].map(|role| [part(&built, role).length, part(&built, role).width]);
    assert_eq!(floors, [[804, 304], [804, 100]].map(|size| size.map(Length::mm)));
}

#[test]
fn the_pair_beside_a_step_is_mirrored_once_one_has_a_hole() {
    let hole = WallHole {
        wall: Wall::Left,
        along: Length::mm(600),
        up: Length::mm(30),
        diameter: Length::mm(20),
        purpose: Purpose::CableGland,
    };
    let built = build_with(&with_step(Wall::Front, 250, 80), &[hole]).unwrap();
    let side = |wall| built.parts.iter().find(|p| p.wall == Some(wall)).unwrap();
    // From inside, the left wall has the front at its right hand.
    assert!(side(Wall::Left).notch().unwrap().at_far_end);
    assert!(!side(Wall::Right).notch().unwrap().at_far_end);
    let made = side(Wall::Left).holes[0];
    assert_eq!([made.x, made.y], [202, 30].map(Length::mm));
    assert!(side(Wall::Right).holes.is_empty());
}

#[test]
fn a_hole_in_the_step_is_refused_with_where_it_may_be() {
    let hole = WallHole {
        wall: Wall::Right,
        along: Length::mm(100),
        up: Length::mm(50),
        diameter: Length::mm(20),
        purpose: Purpose::Drain,
    };
    let fault = build_with(&with_step(Wall::Front, 250, 80), &[hole]).unwrap_err();
    assert_eq!(
        fault.to_string(),
        "a hole of 20 mm in the right must have its middle 260 to 790 mm along it and 10 to 190 mm up it, or 10 to 790 \
         mm along it and 90 to 190 mm up it"
    );
}

fn tray() -> BoxSpec {
    let folding = Folding {
        radius: Length::mm(3),
        rule: crate::BendRule::K(0.42),
        gap: Length::ZERO,
        relief: Length::mm(4),
    };
    BoxSpec {
        construction: Construction::Folded(folding),
        floor: plain().wall,
        ..with_step(Wall::Front, 250, 80)
    }
}

#[rstest]
#[case::folded(
    tray(),
    "a step in the underside is built in a welded box without a frame of angle only: make the box welded, or take the step out"
)]
#[case::at_the_lid(
    with_step(Wall::Lid, 250, 80),
    "a step is at the lid: it may be at the front, rear, left or right wall"
)]
#[case::too_long(
    with_step(Wall::Front, 800, 80),
    "the step runs in 800 mm: it may be above 2 and below 800 mm; leave the deep part some of the length"
)]
#[case::too_short(
    with_step(Wall::Front, 2, 80),
    "the step runs in 2 mm: it may be above 2 and below 800 mm; leave the deep part some of the length"
)]
#[case::too_high(
    with_step(Wall::Left, 100, 200),
    "the step rises 200 mm: it may be above 3 and below 200 mm; leave the wall over it room for what stands at the rim"
)]
#[case::into_the_flange(BoxSpec { step: with_step(Wall::Left, 100, 196).step, ..screwed(Joint::Butt) }, "the step rises 196 mm: it may be above 3 and below 196 mm; leave the wall over it room for what stands at the rim")]
fn what_does_not_go_is_refused(#[case] spec: BoxSpec, #[case] words: &str) {
    let fault: SpecError = build(&spec).unwrap_err();
    assert_eq!(fault.to_string(), words);
}

#[test]
fn a_notch_is_found_whatever_corner_an_outline_begins_with() {
    for at_far_end in [false, true] {
        let notch = Notch {
            at_far_end,
            size: [300, 120].map(Length::mm),
        };
        let mut outline = notch.outline([900, 280].map(Length::mm));
        for _ in 0..6 {
            outline.rotate_left(1);
            assert_eq!(Notch::of(&outline), Some(notch));
        }
        assert_eq!(
            crate::part::area_within(&outline),
            Length::mm(900) * Length::mm(280) - Length::mm(300) * Length::mm(120)
        );
    }
    assert_eq!(Notch::of(&part(&build(&plain()).unwrap(), Role::End).outline), None);
}
