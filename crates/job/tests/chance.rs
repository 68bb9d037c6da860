//! How likely boxes go in, and what follows from a box as it was built.

#![expect(clippy::unwrap_used, reason = "a test that cannot be set up fails")]

mod common;

use common::{Dice, assert_consistent, built_in};
use geometry::{Axis, Cuboid, Face, Orientation, Point};
use job::{Cause, Edit, Evaluation, Field, Grave, Id, Job, Near, Room, Subject, UnitsName, evaluate};
use proptest::prelude::*;
use rstest::rstest;
use tape::survey::chance::normal_below;
use tape::{Length, inside};

fn set(job: &Job, field: Field, text: &str) -> Job {
    let text = text.to_owned();
    job.with(&Edit::Set { field, text }).unwrap()
}

fn share(room: &Room, cause: Cause) -> Option<(f64, f64)> {
    let found = room.shares.iter().find(|share| share.cause == cause)?;
    Some((found.limits.as_mm(), found.sigma.as_mm()))
}

fn close(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-5, "{got}, not {expected}");
}

/// A square cavity of 1000 x 500 x 300 mm with one box of modules of 300 x 200 x 150 mm in it, terminals on top.
fn plain(modules: &[[i64; 3]], count: u32) -> (Job, Id, Id) {
    let (cavity, kind, in_box) = (Id(1001), Id(1002), Id(1003));
    let mut job = Job::empty(UnitsName::Millimetre);
    for (line, text) in [("length", "1000"), ("width", "500"), ("height", "300")] {
        let edit = Edit::AddReading {
            cavity,
            line: line.parse().unwrap(),
            text: text.to_owned(),
        };
        job = job.with(&edit).unwrap();
    }
    for (axis, text) in Axis::ALL.into_iter().zip(["300", "200", "150"]) {
        job = set(&job, Field::KindSize(kind, axis), text);
    }
    if count > 1 {
        job = set(&job, Field::KindStacked(kind), "clamped stacks");
        job = set(&job, Field::StackAlong(kind), "width");
    }
    let at = Point([100, 100, 50].map(Length::mm));
    job = job.with(&Edit::AddBox { cavity, at }).unwrap();
    for at in modules {
        let edit = Edit::AddModule {
            into: in_box,
            kind,
            at: Point(at.map(Length::mm)),
            stands: Orientation::UPRIGHT,
            count,
        };
        job = job.with(&edit).unwrap();
    }
    (job, in_box, kind)
}

fn room(evaluation: &Evaluation, of: Id, axis: Axis) -> (&Room, &Room) {
    let fit = &evaluation.battery_box(of).unwrap().fit;
    (&fit.outside[axis.index()], &fit.inside[axis.index()])
}

/// Two modules in a row are 602 mm; 3 of fitting room, 1.5 of liner, 3 of wall and 0.125 of coating at each end make 617.25
/// over the body.
#[test]
fn a_box_grows_about_its_middle_and_from_its_floor_up() {
    let (job, of, _) = plain(&[[0, 0, 0], [302, 0, 0]], 1);
    let drawn = evaluate(&job);
    let before = drawn.battery_box(of).unwrap();
    assert_eq!(before.drawn, None);
    let body = before.solids[0].size();
    assert_eq!(body[Axis::X], Length::from_mm(617.25));
    let built = [Axis::X, Axis::Z].into_iter().fold(job.clone(), |job, axis| {
        let longer = body[axis] + Length::mm(3);
        set(&job, Field::BoxBuilt(of, axis), &format!("{} mm", longer.as_mm()))
    });
    let evaluation = evaluate(&built);
    assert_consistent(&built, &evaluation);
    let after = evaluation.battery_box(of).unwrap();
    assert_eq!(after.drawn, Some(before.solids[0]), "what was drawn stays beside it");
    for (face, closer) in [
        (Face::Front, 1.5),
        (Face::Rear, 1.5),
        (Face::Left, 0.0),
        (Face::Right, 0.0),
        (Face::Bottom, 0.0),
        (Face::Top, 3.0),
    ] {
        let distance = |result: &job::BoxResult| result.around.as_ref().unwrap().faces[face.index()].distance;
        close((distance(before) - distance(after)).as_mm(), closer);
    }
    assert_eq!(after.built, before.built, "the parts stay as they were drawn");
    let entry = "as built, larger than drawn";
    let sums: Vec<f64> = after
        .ledgers
        .iter()
        .map(|ledger| {
            let own = ledger.entries.iter().filter(|e| e.words == entry);
            own.map(|e| e.length.as_mm()).sum()
        })
        .collect();
    assert_eq!(sums, [3.0, 0.0, 3.0]);
    let notes: Vec<&str> = evaluation
        .findings
        .iter()
        .filter(|f| f.subject == Subject::Box(of) && f.words.starts_with("as built"))
        .map(|f| f.words.as_str())
        .collect();
    assert_eq!(notes.len(), 2, "{notes:?}");
}

/// The shop's share and the coating's give way to that of the reading: 1 mm typed is 1 / sqrt 3. The flange was not taped:
/// it stands out by less than 30 mm at each side, held to 1 mm there (ISO 13920, Table 1).
#[test]
fn the_reading_of_a_box_stands_in_for_the_shop() {
    let (job, of, _) = plain(&[[0, 0, 0], [302, 0, 0]], 1);
    let drawn = evaluate(&job);
    let (outside, inside) = room(&drawn, of, Axis::X);
    let shop = 3.0 / 3.0_f64.sqrt();
    let (limits, sigma) = share(outside, Cause::Shop).unwrap();
    close(limits, 3.0);
    close(sigma, shop);
    assert!(share(outside, Cause::Coating).is_some());
    close(share(inside, Cause::Shop).unwrap().1, shop);
    let built = evaluate(&set(&job, Field::BoxBuilt(of, Axis::X), "617.25 mm +- 1"));
    let (outside, inside) = room(&built, of, Axis::X);
    close(share(outside, Cause::AsBuilt).unwrap().1, 1.0 / 3.0_f64.sqrt());
    let (limits, sigma) = share(outside, Cause::Shop).unwrap();
    close(limits, 2.0);
    close(sigma, (2.0_f64 / 3.0).sqrt());
    assert_eq!(share(outside, Cause::Coating), None);
    close(share(inside, Cause::AsBuilt).unwrap().1, 1.0 / 3.0_f64.sqrt());
    assert_eq!(share(inside, Cause::Shop), None);
    // Across, nothing was taped.
    assert!(share(room(&built, of, Axis::Y).0, Cause::AsBuilt).is_none());
}

#[rstest]
#[case::one("1 mm")]
#[case::less_than_its_walls("5 mm")]
fn a_size_that_leaves_no_inside_is_told_and_not_used(#[case] text: &str) {
    let (job, of, _) = plain(&[[0, 0, 0]], 1);
    let told = set(&job, Field::BoxBuilt(of, Axis::Y), text);
    let evaluation = evaluate(&told);
    assert_consistent(&told, &evaluation);
    let result = evaluation.battery_box(of).unwrap();
    assert_eq!(result.drawn, None);
    assert_eq!(result.solids, evaluate(&job).battery_box(of).unwrap().solids);
    assert!(share(&result.fit.outside[1], Cause::AsBuilt).is_none());
    let said = |f: &&job::Finding| f.words.starts_with("what was taped of it as built is not used");
    assert_eq!(evaluation.findings.iter().find(said).unwrap().grave, Grave::Caution);
}

/// A box whose front wall is 12 mm from the cavity's, asked to keep 12: longer as built, it does not.
#[test]
fn longer_than_its_clearance_allows_is_a_caution() {
    let (job, of, _) = plain(&[[0, 0, 0]], 1);
    let job = set(&job, Field::Margin, "12 mm");
    let front = evaluate(&job).battery_box(of).unwrap().around.clone().unwrap().faces[0].distance;
    let job = job
        .with(&Edit::NudgeBox {
            battery_box: of,
            by: Point::along(Axis::X, Length::mm(12) - front),
        })
        .unwrap();
    let length = evaluate(&job).battery_box(of).unwrap().solids[0].size()[Axis::X];
    let grave = |more: i64| {
        let text = format!("{} mm", (length + Length::mm(more)).as_mm());
        let evaluation = evaluate(&set(&job, Field::BoxBuilt(of, Axis::X), &text));
        let found = evaluation.findings.iter().find(|f| f.words.starts_with("as built"));
        found.map(|f| f.grave)
    };
    assert_eq!(grave(0), None);
    assert_eq!(grave(2), Some(Grave::Caution));
    assert_eq!(grave(-2), Some(Grave::Note));
}

/// Limits of modules that stand in a row add up; so do those of the modules in a stack, but only along the stack.
#[rstest]
#[case::one(&[[0, 0, 0]], 1, [1, 1, 1])]
#[case::row(&[[0, 0, 0], [302, 0, 0]], 1, [2, 1, 1])]
#[case::stack(&[[0, 0, 0]], 2, [1, 2, 1])]
#[case::row_of_stacks(&[[0, 0, 0], [302, 0, 0]], 2, [2, 2, 1])]
fn each_module_of_a_row_counts(#[case] modules: &[[i64; 3]], #[case] count: u32, #[case] expected: [i32; 3]) {
    let (job, of, kind) = plain(modules, count);
    let evaluation = evaluate(&job);
    for (axis, count) in Axis::ALL.into_iter().zip(expected) {
        let (limits, sigma) = share(room(&evaluation, of, axis).1, Cause::Modules).unwrap();
        close(limits, 0.5 * f64::from(count));
        close(sigma, 0.5 * (f64::from(count) / 3.0).sqrt());
    }
    // What is typed with a size wins.
    let typed = evaluate(&set(&job, Field::KindSize(kind, Axis::Y), "200 +- 2"));
    let (limits, _) = share(room(&typed, of, Axis::Y).1, Cause::Modules).unwrap();
    close(limits, 2.0 * f64::from(expected[1]));
    close(
        share(room(&typed, of, Axis::X).1, Cause::Modules).unwrap().0,
        0.5 * f64::from(expected[0]),
    );
}

#[test]
fn a_typed_give_or_take_wins_over_that_of_its_sort() {
    let (job, of, _) = plain(&[[0, 0, 0]], 1);
    let job = set(&job, Field::SheetLimits, "0.2 mm");
    let sheet = |job: &Job, axis| share(room(&evaluate(job), of, axis).1, Cause::Sheet).unwrap().0;
    close(sheet(&job, Axis::X), 0.4);
    close(sheet(&job, Axis::Z), 0.4);
    let job = set(&job, Field::Wall, "2.95 mm +- 0.05");
    close(sheet(&job, Axis::X), 0.1);
    close(sheet(&job, Axis::Z), 0.4);
    let job = set(&job, Field::Lid, "2 mm +- 0.1");
    close(sheet(&job, Axis::Z), 0.3);
    let job = set(&job, Field::Liner, "3 mm +- 0.4");
    close(
        share(room(&evaluate(&job), of, Axis::Z).1, Cause::Liner).unwrap().0,
        0.4,
    );
    let job = set(&job, Field::Coating, "0.1 mm +- 0.012");
    close(
        share(room(&evaluate(&job), of, Axis::Z).0, Cause::Coating).unwrap().0,
        0.024,
    );
}

/// Half of what the other box is off comes out at each of its sides: here that of a reading of 2 mm and of its walls.
#[test]
fn a_box_beside_another_counts_with_what_that_one_is_off() {
    let (job, of, kind) = plain(&[[0, 0, 0]], 1);
    let at = Point([540, 100, 50].map(Length::mm));
    let job = job.with(&Edit::AddBox { cavity: Id(1001), at }).unwrap();
    let other = job.boxes[1].id;
    let edit = Edit::AddModule {
        into: other,
        kind,
        at: Point::ZERO,
        stands: Orientation::UPRIGHT,
        count: 1,
    };
    let job = job.with(&edit).unwrap();
    let evaluation = evaluate(&job);
    let own = &evaluation.battery_box(other).unwrap().fit.outside[0];
    let off: f64 = own
        .shares
        .iter()
        .filter(|s| s.cause != Cause::Tape && s.cause != Cause::Neighbour)
        .map(|s| s.sigma.as_mm().powi(2))
        .sum();
    let (_, sigma) = share(room(&evaluation, of, Axis::X).0, Cause::Neighbour).unwrap();
    assert!((sigma - off.sqrt() / 2.0).abs() < 1e-4, "{sigma}");
    assert!(share(room(&evaluation, of, Axis::Y).0, Cause::Neighbour).is_none());
}

/// Inside, a module's side may be off by half of what the inside is, and by half of its own.
#[test]
fn clearances_inside_say_what_they_may_be_off() {
    let (job, of, _) = plain(&[[0, 0, 0], [302, 0, 0]], 1);
    let evaluation = evaluate(&job);
    let result = evaluation.battery_box(of).unwrap();
    let own = 0.5 / 3.0_f64.sqrt() / 2.0;
    let faces = &result.modules[0].around.as_ref().unwrap().faces;
    // Towards the other module: two of them.
    close(faces[Face::Rear.index()].sigma.as_mm(), own * 2.0_f64.sqrt());
    let inside = &result.fit.inside[0];
    let (_, modules) = share(inside, Cause::Modules).unwrap();
    let shell = (inside.sigma.as_mm().powi(2) - modules.powi(2)).sqrt() / 2.0;
    close(faces[Face::Front.index()].sigma.as_mm(), shell.hypot(own));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Every millimetre is listed once whatever was taped of a box, and a longer box never goes in more likely.
    #[test]
    fn the_ledger_adds_up_with_any_box_as_built(
        name in prop::sample::select(&["orchard-flatbed", "harbour-tender", "mountain-rescue"][..]),
        more in -4_000_000_i64..4_000_000,
        axis in 0_usize..3,
    ) {
        let job = built_in(name);
        let axis = Axis::ALL[axis];
        let drawn = evaluate(&job);
        let of = drawn.boxes[0].id;
        let size = drawn.boxes[0].solids[0].size()[axis];
        let as_built = |more: i64| {
            let length = size + Length::from_nm(more);
            let job = set(&job, Field::BoxBuilt(of, axis), &format!("{}.{:06} mm", length.nm() / 1_000_000, length.nm() % 1_000_000));
            let evaluation = evaluate(&job);
            assert_consistent(&job, &evaluation);
            let solid = evaluation.boxes[0].solids[0].size()[axis];
            assert_eq!(solid, length);
            evaluation.boxes[0].fit.outside[axis.index()].fits
        };
        prop_assert!(as_built(more + 1_000_000) <= as_built(more));
    }
}

/// Sizes of the box drawn evenly within their limits, and true corners drawn from what the survey leaves open, leave room
/// as often as the chance says; the walls moved as their slopes tell. For a box that stands between walls, made longer by
/// what makes the chance low or high.
///
/// With the walls laid anew through the drawn corners there is room a little less often where several corners of a wall are
/// nearly the nearest: the scatter that the survey's own shape has then counts twice.
#[rstest]
#[case::length("orchard-flatbed", 1, Axis::X)]
#[case::width("mountain-rescue", 1, Axis::Y)]
#[case::height("mountain-rescue", 1, Axis::Z)]
fn cavities_and_boxes_drawn_at_random_give_the_same_chance(#[case] name: &str, #[case] of: usize, #[case] axis: Axis) {
    let evaluation = evaluate(&built_in(name));
    let result = &evaluation.boxes[of];
    let cavity = evaluation.cavity(result.cavity).unwrap();
    let shape = cavity.survey.shape.as_ref().unwrap();
    let overall = result.solids.iter().copied().reduce(|a, b| a.hull(&b)).unwrap();
    let faces = &result.around.as_ref().unwrap().faces[2 * axis.index()..][..2];
    assert!(faces.iter().all(|c| matches!(c.near, Near::Wall(_))), "{faces:?}");
    let told = &result.fit.outside[axis.index()];
    let walls = &shape.clearances(&overall)[2 * axis.index()..][..2];
    let to_walls: f64 = walls.iter().map(|c| c.distance.as_mm()).sum();
    assert!(
        told.free.as_mm() <= to_walls + 1e-5,
        "no room is told that is not there"
    );

    let built: Vec<(f64, f64)> = told
        .shares
        .iter()
        .filter(|s| s.cause != Cause::Tape)
        .map(|s| (s.limits.as_mm(), s.sigma.as_mm()))
        .collect();
    let factor = root(&shape.adjustment.covariance_rows().concat());
    let mut dice = Dice(7);
    let draws = 4000;
    let offs: Vec<[f64; 2]> = (0..draws)
        .map(|_| {
            let normal: Vec<f64> = (0..24).map(|_| normal(&mut dice)).collect();
            let by: Vec<f64> = factor
                .iter()
                .map(|row| row.iter().zip(&normal).map(|(a, b)| a * b).sum())
                .collect();
            let sloped: f64 = walls
                .iter()
                .flat_map(|c| c.gradient.iter().zip(&by).map(|(slope, by)| slope * by))
                .sum();
            let mut corners = shape.adjustment.corners;
            by.iter().enumerate().for_each(|(i, by)| corners[i / 3][i % 3] += by);
            let laid = slack(corners, &overall, axis) - to_walls;
            let size: f64 = built.iter().map(|&share| drawn(share, &mut dice)).sum();
            [sloped + size, laid + size]
        })
        .collect();
    for chance in [0.1, 0.3, 0.5, 0.7, 0.9, 0.97] {
        let longer = quantile(chance) * told.sigma.as_mm();
        #[expect(clippy::cast_precision_loss, reason = "counts are small")]
        let share =
            |which: usize| offs.iter().filter(|off| longer + off[which] > 0.0).count() as f64 / f64::from(draws);
        // Three and a half sampling errors, and what a sum of a few even draws differs from a normal one.
        let allowed = 3.5 * (chance * (1.0 - chance) / f64::from(draws)).sqrt() + 0.01;
        assert!((share(0) - chance).abs() < allowed, "{}: {chance} told", share(0));
        assert!(share(1) < chance + allowed, "{}: {chance} told", share(1));
        assert!(share(1) > chance - allowed - 0.04, "{}: {chance} told", share(1));
    }
}

/// The room of a cuboid, placed from the front left bottom corner, between the walls through these corners.
fn slack(corners: [[f64; 3]; 8], cuboid: &Cuboid, axis: Axis) -> f64 {
    let shape = inside::Shape::exact(corners).unwrap();
    let walls = inside::Cavity::new(&shape, inside::Frame::default()).unwrap();
    let origin = walls.corners()[0].map(Length::from_mm);
    let space = inside::Space {
        lo: std::array::from_fn(|a| cuboid.lo().0[a] + origin[a]),
        hi: std::array::from_fn(|a| cuboid.hi().0[a] + origin[a]),
    };
    walls.slack(&space, axis.index()).distance.as_mm()
}

/// What a share takes in one draw: limits and sigma tell of how many even draws it is the sum.
fn drawn((limits, sigma): (f64, f64), dice: &mut Dice) -> f64 {
    let count = (limits / (sigma * 3.0_f64.sqrt())).powi(2).round();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "one or two")]
    let draws = 0..count as usize;
    draws.map(|_| limits / count * (2.0 * even(dice) - 1.0)).sum()
}

#[expect(clippy::cast_precision_loss, reason = "53 bits")]
fn even(dice: &mut Dice) -> f64 {
    (dice.next() >> 11) as f64 / (1_u64 << 53) as f64
}

/// Box and Muller.
fn normal(dice: &mut Dice) -> f64 {
    let (a, b) = (1.0 - even(dice), even(dice));
    (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
}

/// Where the normal distribution reaches this chance, by halving.
fn quantile(chance: f64) -> f64 {
    let (mut low, mut high) = (-10.0, 10.0);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if normal_below(middle) < chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// A matrix whose square is this one, 24 x 24, singular by the six freedoms of a body: Cholesky, rows without anything
/// left are zero.
fn root(covariance: &[f64]) -> Vec<Vec<f64>> {
    const N: usize = 24;
    let largest = (0..N).map(|i| covariance[i * N + i]).fold(0.0, f64::max);
    let mut factor = vec![vec![0.0; N]; N];
    for j in 0..N {
        let left = covariance[j * N + j] - factor[j][..j].iter().map(|x| x * x).sum::<f64>();
        if left < 1e-10 * largest {
            continue;
        }
        factor[j][j] = left.sqrt();
        for i in j + 1..N {
            let done: f64 = (0..j).map(|k| factor[i][k] * factor[j][k]).sum();
            factor[i][j] = (covariance[i * N + j] - done) / factor[j][j];
        }
    }
    factor
}

/// Long sides run through, so the ends are drawn in between them: width loses up to twice 0.8 mm; the floor under the walls
/// takes 0.8 off the height; along the seams 0.8 mm in 3 m go. A shop that was told what to hold allows for it.
#[test]
fn welds_that_draw_in_take_from_the_room_inside_until_the_shop_is_told_what_to_hold() {
    let (job, of, _) = plain(&[[0, 0, 0], [302, 0, 0]], 1);
    let evaluation = evaluate(&job);
    let result = evaluation.battery_box(of).unwrap();
    let [length, width, height] = result.losses.welds.map(Length::as_mm);
    let body = result.body.unwrap().size().0.map(Length::as_mm);
    assert!(length > 0.0 && length < 0.001 * body[0], "{length}");
    assert!((1.6..1.6 + 0.001 * body[1]).contains(&width), "{width}");
    assert!((0.8..0.8 + 0.001 * body[2]).contains(&height), "{height}");
    let inside = room(&evaluation, of, Axis::Y).1;
    let drawn = inside.shares.iter().find(|s| s.cause == Cause::DrawIn).unwrap();
    close(drawn.takes.as_mm(), width / 2.0);
    assert!(inside.takes >= drawn.takes && drawn.fits_without >= inside.fits);
    assert!(drawn.words(evaluation.style()).contains(", 0 to "));
    assert!(
        room(&evaluation, of, Axis::Y)
            .0
            .shares
            .iter()
            .all(|s| s.cause != Cause::DrawIn),
        "inside only"
    );
    // The lines of the ledger still add up, the loss among them.
    let ledger = &result.ledgers[1];
    let lost: f64 = ledger
        .entries
        .iter()
        .filter(|e| e.words == "may go: welds that draw in")
        .map(|e| e.length.as_mm())
        .sum();
    close(lost, width);
    assert_eq!(ledger.entries.iter().map(|e| e.length).sum::<Length>(), ledger.total);
    let told = evaluate(&set(&job, Field::ShopLimits, "1 mm"));
    assert_eq!(told.battery_box(of).unwrap().losses.welds, [Length::ZERO; 3]);
    assert!(
        room(&told, of, Axis::Y)
            .1
            .shares
            .iter()
            .all(|s| s.cause != Cause::DrawIn)
    );
}

/// One who marks out in inches loses up to a sixteenth, in millimetres a tenth.
#[test]
fn what_rounding_takes_follows_the_marks_of_the_person() {
    let (job, of, _) = plain(&[[0, 0, 0], [302, 0, 0]], 1);
    let rounding = |job: &Job| evaluate(job).battery_box(of).unwrap().losses.rounding;
    let marked = |units: &str| set(&job, Field::Units, units);
    let tenth = Length::tenths_mm(1);
    assert!(rounding(&marked("millimetres")).iter().all(|&loss| loss < tenth));
    let inches = rounding(&marked("inches"));
    assert!(inches.iter().all(|&loss| loss < Length::sixty_fourths(4)));
    assert!(inches.iter().any(|&loss| loss > tenth), "{inches:?}");
    let evaluation = evaluate(&marked("inches"));
    let shares = &room(&evaluation, of, Axis::X).1.shares;
    assert!(shares.iter().any(|s| s.cause == Cause::Rounding), "{inches:?}");
}
