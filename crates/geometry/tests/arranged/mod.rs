//! Arrangements made by throwing darts, and what keeps things apart in them, written down from the words of the
//! definition and sharing nothing with `spread`.

// Each test program and bench uses a part of this.
#![allow(dead_code, reason = "shared by several programs, each of which uses a part")]

use geometry::fit::{BoxPlace, BoxRule, Cavity, KeepOut, Kind, Layout, Placement, Request, Rim, Wanted, to_spare};
use geometry::spread::Move;
use geometry::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};
use tape::Length;

/// Even numbers in a fixed order for a seed (splitmix64).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub(crate) fn one_in(&mut self, n: u64) -> bool {
        self.roll().is_multiple_of(n)
    }

    /// From `low` to `high`, both included.
    pub(crate) fn between(&mut self, low: i64, high: i64) -> i64 {
        let span = u64::try_from(high - low).expect("low is not above high") + 1;
        low + i64::try_from(self.roll() % span).expect("small")
    }

    fn nm(&mut self, low: Length, high: Length) -> Length {
        Length::from_nm(self.between(low.nm(), high.nm().max(low.nm())))
    }

    fn mm(&mut self, low: i64, high: i64) -> Length {
        Length::mm(self.between(low, high))
    }
}

/// A question, an arrangement that answers it more or less, and what may move.
pub(crate) struct Arranged {
    pub(crate) request: Request,
    pub(crate) layout: Layout,
    pub(crate) how: Move,
}

/// An arrangement for the seed: bare or boxed, sometimes with things a little too near each other.
pub(crate) fn arranged(seed: u64) -> Arranged {
    let mut dice = Dice(seed);
    let boxed = dice.one_in(2);
    let how = if dice.one_in(3) { Move::Boxes } else { Move::Everything };
    let near = if dice.one_in(4) { Length::mm(-2) } else { Length::ZERO };
    let kinds = (0..dice.between(1, 2)).map(|_| kind(&mut dice)).collect();
    let mut request = Request {
        cavities: (0..dice.between(1, 2)).map(|_| cavity(&mut dice)).collect(),
        kinds,
        gap: dice.mm(0, 6),
        boxes: boxed.then(|| box_rule(&mut dice)),
        wanted: Wanted::AsMany,
        pinned: Vec::new(),
    };
    let mut layout = Layout {
        by_kind: vec![0; request.kinds.len()],
        ..Layout::default()
    };
    for cavity in 0..request.cavities.len() {
        let berths = if boxed { dice.between(1, 3) } else { 1 };
        for berth in 0..berths {
            throw(&mut dice, &request, &mut layout, (cavity, berth, berths), near);
        }
    }
    layout.to_spare = to_spare(&request, &layout);
    if dice.one_in(4) && !layout.placements.is_empty() {
        request.pinned = vec![layout.placements[0]];
    }
    Arranged { request, layout, how }
}

fn kind(dice: &mut Dice) -> Kind {
    let mut service = Faces::default();
    for face in Face::ALL {
        if dice.one_in(5) {
            service[face] = dice.mm(5, 40);
        }
    }
    Kind {
        size: Size(std::array::from_fn(|_| dice.mm(40, 180))),
        orientations: Orientation::all(),
        service,
        on_hand: None,
        mass_g: 5000,
        stack: None,
    }
}

fn cavity(dice: &mut Dice) -> Cavity {
    let size = Size([dice.mm(700, 1500), dice.mm(500, 900), dice.mm(300, 600)]);
    let keep_outs = (0..dice.between(0, 3))
        .map(|_| {
            let lo = Point(std::array::from_fn(|k| dice.nm(Length::ZERO, size.0[k])));
            KeepOut {
                cuboid: Cuboid::at(lo, Size([dice.mm(5, 200), dice.mm(5, 60), dice.mm(5, 60)])),
                margin: dice.mm(0, 10),
            }
        })
        .collect();
    Cavity {
        space: Cuboid::at(Point::ZERO, size),
        wall_margin: Faces(std::array::from_fn(|_| dice.mm(0, 12))),
        keep_outs,
    }
}

fn box_rule(dice: &mut Dice) -> BoxRule {
    let mut six = |most: i64| Faces(std::array::from_fn(|_| dice.mm(0, most)));
    let (shell, fit, room) = (six(6), six(4), six(15));
    BoxRule {
        shell,
        fit,
        room,
        bay: dice.one_in(2).then(|| (Face::Front, dice.mm(10, 80))),
        rims: (0..dice.between(0, 2))
            .map(|_| Rim {
                out: dice.mm(2, 25),
                below_top: dice.mm(3, 40),
                above_top: dice.mm(0, 5),
            })
            .collect(),
        least_height: Length::ZERO,
        most_g: None,
        one_tier: false,
        per_cavity: 3,
        apart: dice.mm(0, 10),
    }
}

/// Throws modules into one of so many even parts of a cavity; boxes them when the request asks for boxes.
fn throw(
    dice: &mut Dice,
    request: &Request,
    layout: &mut Layout,
    (cavity, berth, berths): (usize, i64, i64),
    near: Length,
) {
    let space = request.cavities[cavity].space;
    let share = |part: i64| Length::from_nm(space.hi().0[0].nm() * part / berths);
    let index = layout.boxes.len();
    let bay = request.boxes.as_ref().and_then(|rule| rule.bay).map(|(face, _)| face);
    let aim = if request.boxes.is_some() { 6 } else { 24 };
    let mut placed = 0;
    for _ in 0..200 {
        if placed == aim {
            break;
        }
        let kind = usize::try_from(dice.between(0, i64::try_from(request.kinds.len()).expect("few") - 1)).expect("few");
        let turn = usize::try_from(dice.between(0, 23)).expect("one of 24");
        let orientation = request.kinds[kind].orientations[turn];
        let size = orientation.extents(request.kinds[kind].size);
        let mut lo = Point(std::array::from_fn(|k| {
            dice.nm(Length::ZERO, space.size().0[k] - size.0[k])
        }));
        lo.0[0] = dice.nm(share(berth), share(berth + 1) - size.0[0]);
        let before = layout.clone();
        if request.boxes.is_some() && placed == 0 {
            layout.boxes.push(BoxPlace {
                cavity,
                body: Cuboid::default(),
                inside: Cuboid::default(),
                bay,
            });
        }
        layout.placements.push(Placement {
            cavity,
            in_box: request.boxes.as_ref().map(|_| index),
            kind,
            orientation,
            cuboid: Cuboid::at(lo, size),
            count: 1,
        });
        layout.count += 1;
        layout.by_kind[kind] += 1;
        wrap(request, layout);
        if least(request, layout, Move::Everything).is_some_and(|over| over >= near) {
            placed += 1;
        } else {
            *layout = before;
        }
    }
}

/// Makes every box as large as its modules need.
pub(crate) fn wrap(request: &Request, layout: &mut Layout) {
    let Some(rule) = &request.boxes else {
        return;
    };
    for index in 0..layout.boxes.len() {
        let inside = layout
            .placements
            .iter()
            .filter(|p| p.in_box == Some(index))
            .map(|p| {
                let needs = Faces(Face::ALL.map(|face| inside_need(request, rule, p, layout.boxes[index].bay, face)));
                p.cuboid.grown(needs).expect("needs are not negative")
            })
            .reduce(|a, b| a.hull(&b))
            .expect("no box is empty");
        let place = &mut layout.boxes[index];
        place.inside = inside;
        place.body = inside.grown(rule.shell).expect("shells are not negative");
    }
}

fn inside_need(request: &Request, rule: &BoxRule, p: &Placement, bay: Option<Face>, face: Face) -> Length {
    let depth = rule.bay.filter(|_| bay == Some(face)).map_or(Length::ZERO, |bay| bay.1);
    rule.fit[face] + rule.room[face].max(service(request, p, face)) + depth
}

fn service(request: &Request, p: &Placement, face: Face) -> Length {
    let kind = &request.kinds[p.kind];
    let own = p.orientation.own_face(face);
    if kind.stack.is_some_and(|stack| stack.along == own.axis()) {
        Length::ZERO
    } else {
        kind.service[own]
    }
}

/// What a coordinate moves with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Mover {
    Ground,
    Module(usize),
    BoxLow(usize),
    BoxHigh(usize),
    Whole(usize),
}

/// A coordinate: where its mover is, and so much more.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Edge {
    pub(crate) mover: Mover,
    pub(crate) more: i64,
}

/// `to` is at least `asked` above `from`, and by what is over where it counts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rule {
    pub(crate) axis: Axis,
    pub(crate) from: Edge,
    pub(crate) to: Edge,
    pub(crate) asked: i64,
    pub(crate) counts: bool,
}

#[derive(Clone)]
struct Body {
    owner: (u8, usize),
    cavity: usize,
    now: Cuboid,
    lo: [Edge; 3],
    hi: [Edge; 3],
    service: [i64; 6],
}

impl Body {
    /// A body whose corners go with two movers that now are at `at`.
    fn new(owner: (u8, usize), cavity: usize, now: Cuboid, low: (Mover, Point), high: (Mover, Point)) -> Self {
        let edge = |corner: Point, (mover, at): (Mover, Point)| {
            std::array::from_fn(|k| Edge {
                mover,
                more: (corner.0[k] - at.0[k]).nm(),
            })
        };
        Self {
            owner,
            cavity,
            now,
            lo: edge(now.lo(), low),
            hi: edge(now.hi(), high),
            service: [0; 6],
        }
    }
}

/// The smallest clearance beyond what is asked, by the definition; `None` when there is none.
pub(crate) fn least(request: &Request, layout: &Layout, how: Move) -> Option<Length> {
    let (_, overs) = rules(request, layout, how);
    overs.into_iter().min().map(Length::from_nm)
}

/// Everything that must be kept with each two things apart the way that leaves most, and what is over each.
pub(crate) fn rules(request: &Request, layout: &Layout, how: Move) -> (Vec<Rule>, Vec<i64>) {
    let mut rules = Vec::new();
    let mut overs = Vec::new();
    let pinned = |p: usize| p < request.pinned.len();
    let moving = |p: usize| if pinned(p) { Mover::Ground } else { Mover::Module(p) };
    let at = |p: usize, cuboid: &Cuboid| if pinned(p) { Point::ZERO } else { cuboid.lo() };
    let module = |p: usize| {
        let placement = &layout.placements[p];
        let mover = (moving(p), at(p, &placement.cuboid));
        Body {
            service: Face::ALL.map(|face| service(request, placement, face).nm()),
            ..Body::new((0, p), placement.cavity, placement.cuboid, mover, mover)
        }
    };
    let mut outer: Vec<Body> = Vec::new();
    match &request.boxes {
        None => outer.extend((0..layout.placements.len()).map(module)),
        Some(rule) => {
            for (index, place) in layout.boxes.iter().enumerate() {
                let mine: Vec<usize> = (0..layout.placements.len())
                    .filter(|&p| layout.placements[p].in_box == Some(index))
                    .collect();
                let (low, high) = match how {
                    Move::Boxes if mine.iter().any(|&p| pinned(p)) => {
                        ((Mover::Ground, Point::ZERO), (Mover::Ground, Point::ZERO))
                    }
                    Move::Boxes => ((Mover::Whole(index), Point::ZERO), (Mover::Whole(index), Point::ZERO)),
                    Move::Everything => (
                        (Mover::BoxLow(index), place.body.lo()),
                        (Mover::BoxHigh(index), place.body.hi()),
                    ),
                };
                outer.push(Body::new((1, index), place.cavity, place.body, low, high));
                for rim in &rule.rims {
                    let mut body = Body::new((1, index), place.cavity, rim.around(&place.body), low, high);
                    let hung = Body::new((1, index), place.cavity, rim.around(&place.body), high, high);
                    body.lo[2] = hung.lo[2];
                    outer.push(body);
                }
                if how == Move::Everything {
                    let modules: Vec<Body> = mine.iter().map(|&p| module(p)).collect();
                    for (body, &p) in modules.iter().zip(&mine) {
                        for face in Face::ALL {
                            let need =
                                rule.shell[face] + inside_need(request, rule, &layout.placements[p], place.bay, face);
                            let k = face.axis().index();
                            let (mover, _) = if face.is_high() { high } else { low };
                            let wall = Edge { mover, more: 0 };
                            rules.push(inward(
                                face,
                                wall,
                                if face.is_high() { body.hi[k] } else { body.lo[k] },
                                need.nm(),
                                false,
                            ));
                        }
                    }
                    crowd(&modules, request.gap.nm(), &Axis::ALL, &mut rules, &mut overs);
                }
            }
        }
    }
    for (index, hollow) in request.cavities.iter().enumerate() {
        let here: Vec<Body> = outer.iter().filter(|body| body.cavity == index).cloned().collect();
        let apart = request.boxes.as_ref().map_or(request.gap, |rule| rule.apart);
        // Boxes stand beside each other, for a lid comes off upward.
        let along = if request.boxes.is_some() {
            &Axis::ALL[..2]
        } else {
            &Axis::ALL[..]
        };
        crowd(&here, apart.nm(), along, &mut rules, &mut overs);
        for body in &here {
            for face in Face::ALL {
                let k = face.axis().index();
                let wall = Edge {
                    mover: Mover::Ground,
                    more: hollow.space.face(face).nm(),
                };
                let asked = hollow.wall_margin[face].nm().max(body.service[face.index()]);
                let (own, distance) = if face.is_high() {
                    (body.hi[k], hollow.space.face(face) - body.now.face(face))
                } else {
                    (body.lo[k], body.now.face(face) - hollow.space.face(face))
                };
                rules.push(inward(face, wall, own, asked, true));
                overs.push(distance.nm() - asked);
            }
            for keep in &hollow.keep_outs {
                let ground = (Mover::Ground, Point::ZERO);
                let solid = Body::new((2, 0), index, keep.cuboid, ground, ground);
                apart_best(body, &solid, keep.margin.nm(), &Axis::ALL, &mut rules, &mut overs);
            }
        }
    }
    (rules, overs)
}

fn inward(face: Face, wall: Edge, own: Edge, asked: i64, counts: bool) -> Rule {
    let (from, to) = if face.is_high() { (own, wall) } else { (wall, own) };
    Rule {
        axis: face.axis(),
        from,
        to,
        asked,
        counts,
    }
}

fn crowd(bodies: &[Body], asked: i64, along: &[Axis], rules: &mut Vec<Rule>, overs: &mut Vec<i64>) {
    for (i, a) in bodies.iter().enumerate() {
        for b in &bodies[i + 1..] {
            if a.owner != b.owner {
                apart_best(a, b, asked, along, rules, overs);
            }
        }
    }
}

/// The way of two bodies with the most over: along one axis by the gap and any service space between; or along one axis
/// by the gap alone, and beside each other along a second. First come, first taken.
fn apart_best(a: &Body, b: &Body, gap: i64, along: &[Axis], rules: &mut Vec<Rule>, overs: &mut Vec<i64>) {
    let mut ways: Vec<(i64, Vec<Rule>)> = Vec::new();
    let ordered = |axis: Axis| {
        let k = axis.index();
        let a_low = a.now.lo().0[k] + a.now.hi().0[k] <= b.now.lo().0[k] + b.now.hi().0[k];
        let (low, high) = if a_low { (a, b) } else { (b, a) };
        let distance = (high.now.lo().0[k] - low.now.hi().0[k]).nm();
        let service = low.service[Face::high(axis).index()].max(high.service[Face::low(axis).index()]);
        (low, high, distance, service)
    };
    let rule = |axis: Axis, asked: i64| {
        let (low, high, ..) = ordered(axis);
        Rule {
            axis,
            from: low.hi[axis.index()],
            to: high.lo[axis.index()],
            asked,
            counts: true,
        }
    };
    for &axis in along {
        let (_, _, distance, service) = ordered(axis);
        let asked = gap.max(service);
        ways.push((distance - asked, vec![rule(axis, asked)]));
    }
    for &axis in along {
        let (_, _, distance, service) = ordered(axis);
        for &beside in along {
            if service > gap && beside != axis {
                let over = (distance - gap).min(ordered(beside).2);
                ways.push((over, vec![rule(axis, gap), rule(beside, 0)]));
            }
        }
    }
    let most = ways.iter().map(|way| way.0).max().expect("two axes or three");
    let best = ways
        .into_iter()
        .find(|way| way.0 == most)
        .expect("the largest is there");
    overs.push(best.0);
    rules.extend(best.1);
}
