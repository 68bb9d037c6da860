//! The way of one box past what is round it: straight first, then off centre and slid over, then pitched in a plane.

use geometry::fit::Ended;
use geometry::way_in::plan::{Answer, Decision, Limits, Plane, Pose, Query, decide, plan};
use geometry::way_in::straight::{Room, Straight, shifts, straight};
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;

use super::lid;
use super::look::Meter;
use super::picture::posed;
use super::scene::{OFF, Scene, Start, Trust};
use super::{Known, LID, Margin, Motion, Off, PLAN_WORK, Step, Stopped, Tried, Way, What};

/// A way, or what was tried.
pub(super) type Found = Result<Way, Vec<Tried>>;

/// Looks for the simplest way in. Whatever holds for sure comes before what holds only as taped; within that, straight
/// before slid before pitched, and all on before fittings, lid and brackets off. A simple way that holds only as taped
/// gives way to a pitched one with more room. With its lid off it goes in only where the lid goes on after it.
pub(super) fn way(scene: &Scene<'_>, meter: &mut Meter<'_>) -> Found {
    let (first, more) = lid::choices(scene);
    let mut tried: Vec<Tried> = Vec::new();
    for trust in [Trust::Sure, Trust::Expected] {
        let all = || std::iter::once(first).chain(more.iter().copied());
        let simple = all().find_map(|off| {
            let way = Look::new(scene, trust, off).straight_or_slid()?;
            (!off.lid || lid::goes_on(scene, off, meter).is_ok()).then_some(way)
        });
        if let Some(way) = simple {
            let pitched =
                (trust == Trust::Expected).then(|| Look::new(scene, trust, way.off).pitched(way.through, meter));
            return Ok(match pitched {
                Some(Ok(pitched)) if room(&pitched) > room(&way) => pitched,
                _ => way,
            });
        }
        match moved(scene, trust, first, meter) {
            Ok(way) => return Ok(way),
            Err(in_vain) => tried = in_vain,
        }
        // With nothing left on that comes off it has the most room: what does not go so goes in no other state.
        let Some((&last, between)) = more.split_last() else {
            continue;
        };
        match moved(scene, trust, last, meter) {
            Err(in_vain) => tried = in_vain,
            Ok(way) => {
                // The last of these is closed with all else off, and tells the most.
                for &off in between.iter().filter(|off| !off.lid) {
                    match moved(scene, trust, off, meter) {
                        Ok(less) => return Ok(less),
                        Err(in_vain) => tried = in_vain,
                    }
                }
                if !last.lid {
                    return Ok(way);
                }
                let open = between.iter().copied().filter(|off| off.lid).chain([last]);
                match opened(scene, trust, open, meter) {
                    Ok(way) => return Ok(way),
                    Err(known) => tried.iter_mut().for_each(|tried| tried.known = tried.known.and(known)),
                }
            }
        }
    }
    Err(tried)
}

/// A way with the lid off in one of these states, the lid going on after it; else what is known.
fn opened(
    scene: &Scene<'_>,
    trust: Trust,
    open: impl Iterator<Item = Off>,
    meter: &mut Meter<'_>,
) -> Result<Way, Known> {
    let mut known = Known::Proved;
    for off in open {
        if let Err(of_lid) = lid::goes_on(scene, off, meter) {
            known = known.and(of_lid);
            continue;
        }
        match moved(scene, trust, off, meter) {
            Ok(way) => return Ok(way),
            Err(tried) => known = known.and(Known::all(tried.iter().map(|tried| tried.known))),
        }
    }
    Err(known)
}

/// A way level along all axes, else pitched by any face, else what was tried.
fn moved(scene: &Scene<'_>, trust: Trust, off: Off, meter: &mut Meter<'_>) -> Found {
    let look = Look::new(scene, trust, off);
    let level = match look.level(meter) {
        Ok(way) => return Ok(way),
        Err(known) => known,
    };
    let mut tried = Vec::new();
    for &through in &scene.moved.through {
        match look.pitched(through, meter) {
            Ok(way) => return Ok(way),
            Err(known) => tried.push(look.tried(through, known.and(level))),
        }
    }
    Err(tried)
}

/// The least room along a way; a way that passes nothing has the most.
fn room(way: &Way) -> Length {
    way.margin
        .as_ref()
        .map_or(Length::from_nm(i64::MAX), |margin| margin.distance)
}

/// Whether a straight or slid way exists: cheap, for what needs no more than that.
pub(super) fn simple(scene: &Scene<'_>) -> Option<Way> {
    let (first, more) = lid::choices(scene);
    let closed = || std::iter::once(first).chain(more.iter().copied().filter(|off| !off.lid));
    [Trust::Sure, Trust::Expected]
        .into_iter()
        .find_map(|trust| closed().find_map(|off| Look::new(scene, trust, off).straight_or_slid()))
}

/// A simple way, else any: for what is to be told that it goes, and not how it goes best.
pub(super) fn some_way(scene: &Scene<'_>, meter: &mut Meter<'_>) -> Option<Way> {
    simple(scene).or_else(|| way(scene, meter).ok())
}

/// The planes in which a box that comes in by a face is pitched.
pub(super) const fn planes(through: Face) -> &'static [Plane] {
    match through {
        Face::Top | Face::Bottom => &[Plane::Side, Plane::Across],
        Face::Front | Face::Rear => &[Plane::Side],
        Face::Left | Face::Right => &[Plane::Across],
    }
}

/// One way of looking at a scene.
pub(super) struct Look<'a> {
    pub(super) scene: &'a Scene<'a>,
    pub(super) trust: Trust,
    off: Off,
    pub(super) solids: Vec<Cuboid>,
    pub(super) obstacles: Vec<Cuboid>,
}

impl<'a> Look<'a> {
    pub(super) fn new(scene: &'a Scene<'a>, trust: Trust, off: Off) -> Self {
        Self {
            scene,
            trust,
            off,
            solids: scene.solids(off),
            obstacles: scene.obstacles(trust),
        }
    }

    pub(super) fn straight_or_slid(&self) -> Option<Way> {
        let faces = || self.scene.moved.through.iter().copied();
        faces()
            .find_map(|through| self.straight(through))
            .or_else(|| faces().find_map(|through| self.slid(through)))
    }

    fn from(&self, through: Face) -> Option<Length> {
        match self.scene.start(&self.solids, through, self.trust) {
            Start::From(from) => Some(from),
            Start::NoRoom(_) => None,
        }
    }

    pub(super) fn question(&self, through: Face, from: Length) -> Straight<'_> {
        Straight {
            parts: &self.solids,
            obstacles: &self.obstacles,
            through,
            from,
        }
    }

    fn straight(&self, through: Face) -> Option<Way> {
        let from = self.from(through)?;
        let asked = self.question(through, from);
        let found = straight(&asked);
        if !found.goes() {
            return None;
        }
        let play = shifts(&asked, self.most()).into_iter().filter_map(|shifts| {
            let holds = |stretch: &&[Length; 2]| stretch[0] <= Length::ZERO && Length::ZERO <= stretch[1];
            Some((shifts.axis, *shifts.then_slid.iter().find(holds)?))
        });
        let play = play.collect();
        let steps = vec![out(through, from), Point::ZERO];
        Some(self.way(through, Motion::Straight, &steps, self.margin(found.room), play))
    }

    /// Off its place along one axis, by the middle of the widest stretch that is free and from which it can be slid over.
    fn slid(&self, through: Face) -> Option<Way> {
        let from = self.from(through)?;
        let [first, second] = shifts(&self.question(through, from), self.most());
        let stretches = [first, second].into_iter().flat_map(|shifts| {
            let axis = shifts.axis;
            shifts.then_slid.into_iter().map(move |stretch| (axis, stretch))
        });
        let (axis, [low, high]) =
            stretches.max_by_key(|(_, [low, high])| (*high - *low, -(low.abs().min(high.abs()))))?;
        let by = (low + high).half_down();
        let aside = Point::along(axis, by);
        let shifted: Vec<Cuboid> = self.solids.iter().map(|solid| solid.moved(aside)).collect();
        let down = straight(&Straight {
            parts: &shifted,
            ..self.question(through, from)
        });
        let across = straight(&Straight {
            through: if by.is_negative() {
                Face::low(axis)
            } else {
                Face::high(axis)
            },
            ..self.question(through, by.abs())
        });
        if !down.goes() || !across.goes() {
            return None;
        }
        let room = [down.room, across.room]
            .into_iter()
            .flatten()
            .min_by_key(|room| room.distance);
        let steps = vec![aside + out(through, from), aside, Point::ZERO];
        Some(self.way(
            through,
            Motion::ThenSlid { axis, by },
            &steps,
            self.margin(room),
            Vec::new(),
        ))
    }

    /// Pitched in a plane; otherwise what is known of this face over all planes.
    pub(super) fn pitched(&self, through: Face, meter: &mut Meter<'_>) -> Result<Way, Known> {
        let Some(from) = self.from(through) else {
            // Level on its jack it does not even start; how it would get under the truck otherwise is not looked at.
            return Err(Known::Outside);
        };
        let mut known = Known::Proved;
        for &plane in planes(through) {
            let query = self.query(through, from, plane);
            let budget = meter.budget(PLAN_WORK);
            let Ok(answer) = plan(&query, budget, meter) else {
                known = known.and(Known::Outside);
                continue;
            };
            meter.spent(answer.work);
            if let Some(way) = self.planned(through, plane, &query, &answer) {
                return Ok(way);
            }
            known = known.and(none(&answer));
            if is_none(&answer) && !self.is_none_without_bed(&query, meter) {
                known = known.and(Known::Outside);
            }
        }
        Err(known)
    }

    /// Obstacles without the blocks of the bed; `None` where none is of it. The blocks are larger than it is: what they stop, it may
    /// not, so a proof is made without them.
    pub(super) fn without_bed(&self, obstacles: &[Cuboid]) -> Option<Vec<Cuboid>> {
        let things = self.scene.things.iter();
        let bed: Vec<Cuboid> = things
            .filter(|thing| matches!(thing.what, What::Bed(_)))
            .map(|thing| self.trust.of(thing))
            .collect();
        let rest: Vec<Cuboid> = obstacles.iter().copied().filter(|o| !bed.contains(o)).collect();
        (rest.len() < obstacles.len()).then_some(rest)
    }

    /// Whether a way that was not found is proved not to be.
    fn is_none_without_bed(&self, query: &Query, meter: &mut Meter<'_>) -> bool {
        let Some(obstacles) = self.without_bed(&query.obstacles) else {
            return true;
        };
        let query = Query {
            obstacles,
            ..query.clone()
        };
        let budget = meter.budget(PLAN_WORK);
        let Ok(answer) = decide(&query, budget, meter) else {
            return false;
        };
        meter.spent(answer.work);
        is_none(&answer)
    }

    /// The question to the planner. Only what the box can meet at all is in it.
    pub(super) fn query(&self, through: Face, from: Length, plane: Plane) -> Query {
        let [first, _] = plane.axes();
        let hull = Cuboid::hull_of(&self.solids).unwrap_or_default();
        let pivot = Query::middle(&self.solids, plane);
        let start = out(through, from);
        let pose = |by: Point| Pose {
            along: pivot[0] + by[first],
            up: pivot[1] + by[Axis::Z],
            turn_deg: 0.0,
        };
        let (start, goal) = (pose(start), pose(Point::ZERO));
        // Until the box, however it is turned, is beside its cavity on that side; no higher than a closed roof, no lower than a
        // closed floor, which its middle stays between.
        let size = hull.size();
        let reach = Length::from_mm_up(size[first].as_mm().hypot(size[Axis::Z].as_mm())).half_down() + OFF;
        let space = &self.scene.moved.space;
        let span = |a: Length, b: Length, axis: Axis| {
            let [low, high] = [Face::low(axis), Face::high(axis)].map(|face| {
                let is_open = axis != Axis::Z || self.scene.moved.through.contains(&face);
                (space.face(face), if is_open { reach } else { Length::ZERO })
            });
            [a.min(b).min(low.0 - low.1), a.max(b).max(high.0 + high.1)]
        };
        let mut obstacles = self.obstacles.clone();
        if let Some(ground) = self.scene.ground {
            let far = Length::mm(20_000);
            let corner = |x, z| Point([x, x, z]);
            obstacles.push(Cuboid::between(corner(-far, ground.at - far), corner(far, ground.at)));
        }
        obstacles.retain(|o| Axis::ALL.iter().all(|&axis| o.size()[axis] > Length::ZERO));
        Query {
            plane,
            parts: self.solids.clone(),
            pivot,
            obstacles,
            start,
            goal,
            limits: Limits {
                along: span(start.along, goal.along, first),
                up: span(start.up, goal.up, Axis::Z),
                turn_deg: [-self.scene.pitch_deg, self.scene.pitch_deg],
            },
        }
    }

    fn planned(&self, through: Face, plane: Plane, query: &Query, answer: &Answer) -> Option<Way> {
        let found = answer.way.as_ref()?;
        let [first, second] = plane.axes();
        let steps = found.poses.iter().map(|pose| {
            let mut by = Point::ZERO;
            by[first] = pose.along - query.goal.along;
            by[second] = pose.up - query.goal.up;
            // Of the body itself: under the reach of a flange there is nothing to put a jack.
            let edges = self.solids.first().map(|body| {
                let flat = [first, second].map(|axis| [body.lo()[axis], body.hi()[axis]]);
                let corners = posed(&flat, query.pivot, [by[first], by[second]], pose.turn_deg);
                [corners[0][1], corners[1][1]]
            });
            let ground = self.scene.ground.map(|ground| ground.at);
            let above_ground = edges.zip(ground).map(|(edges, ground)| edges.map(|edge| edge - ground));
            Step {
                by,
                turn_deg: pose.turn_deg,
                above_ground,
            }
        });
        let met = found
            .margins
            .iter()
            .find(|margin| margin.obstacle < self.scene.things.len());
        let margin = met.map(|margin| self.named(margin.obstacle, margin.distance));
        Some(Way {
            through,
            motion: Motion::Pitched(plane),
            steps: steps.collect(),
            margin,
            play: Vec::new(),
            sure: self.trust == Trust::Sure,
            without: self.taken_off(),
            off: self.off,
        })
    }

    /// What a straight way by a face meets.
    pub(super) fn tried(&self, through: Face, known: Known) -> Tried {
        let mut stops = Vec::new();
        let names: Vec<&str> = self.parts().map(|part| part.name.as_str()).collect();
        let from = match self.scene.start(&self.solids, through, self.trust) {
            Start::From(from) => from,
            Start::NoRoom(short) => {
                stops.push(Stopped {
                    name: "the ground under the jack".to_owned(),
                    what: What::Ground,
                    part: names.first().map_or_else(String::new, |name| (*name).to_owned()),
                    overlap: (Axis::Z, short),
                    left: Length::ZERO,
                });
                Length::ZERO
            }
        };
        let way = straight(&self.question(through, from));
        for stop in &way.stops {
            let thing = &self.scene.things[stop.obstacle];
            let stop = Stopped {
                name: thing.name.clone(),
                what: thing.what,
                part: names[stop.part].to_owned(),
                overlap: stop.overlap,
                left: stop.left,
            };
            // Of one thing in several pieces that which is met first, and of those the one that overlaps most.
            match stops.iter_mut().find(|told| told.what == stop.what) {
                Some(told) if told.left == stop.left && told.overlap.1 < stop.overlap.1 => *told = stop,
                Some(_) => {}
                None => stops.push(stop),
            }
        }
        Tried {
            through,
            known,
            stops,
            in_the_middle: self.scene.moved.in_the_middle.clone(),
            lid_stays: self.scene.moved.lid_stays.is_some() && self.scene.moved.has_lid(),
            off: self.off,
        }
    }

    fn parts(&self) -> impl Iterator<Item = &'a super::Part> {
        let off = self.off;
        self.scene
            .moved
            .parts
            .iter()
            .filter(move |part| part.with(off).is_some())
    }

    /// What is put on afterwards, the lid last.
    fn taken_off(&self) -> Vec<String> {
        let off = self.scene.moved.parts.iter().filter(|part| self.off.takes(part.loose));
        let mut names: Vec<String> = Vec::new();
        for name in off.map(|part| &part.name) {
            if !names.contains(name) {
                names.push(name.clone());
            }
        }
        names.extend(self.off.lid.then(|| LID.to_owned()));
        names
    }

    pub(super) fn way(
        &self,
        through: Face,
        motion: Motion,
        steps: &[Point],
        margin: Option<Margin>,
        play: Vec<(Axis, [Length; 2])>,
    ) -> Way {
        let low = self.solids.first().copied().unwrap_or_default().face(Face::Bottom);
        let step = |&by: &Point| Step {
            by,
            turn_deg: 0.0,
            above_ground: self.scene.ground.map(|ground| [low + by[Axis::Z] - ground.at; 2]),
        };
        Way {
            through,
            motion,
            steps: steps.iter().map(step).collect(),
            margin,
            play,
            sure: self.trust == Trust::Sure,
            without: self.taken_off(),
            off: self.off,
        }
    }

    pub(super) fn margin(&self, room: Option<Room>) -> Option<Margin> {
        room.map(|room| self.named(room.obstacle, room.distance))
    }

    fn named(&self, thing: usize, distance: Length) -> Margin {
        let thing = &self.scene.things[thing];
        Margin {
            distance,
            name: thing.name.clone(),
            what: thing.what,
        }
    }

    /// How far off its place a box is looked at: its own longest side.
    fn most(&self) -> Length {
        let size = Cuboid::hull_of(&self.solids).unwrap_or_default().size();
        size.0.into_iter().fold(Length::ZERO, Length::max)
    }
}

/// What is known where no way was found.
fn none(answer: &Answer) -> Known {
    match answer.resolution {
        _ if is_none(answer) => Known::Proved,
        Some(looked) if answer.ended != Ended::Stopped => Known::TooClose {
            up: looked.up,
            turn_deg: looked.turn_deg,
        },
        _ => Known::Steps,
    }
}

/// Whether it is proved that there is no way.
const fn is_none(answer: &Answer) -> bool {
    matches!(answer.decision, Decision::Impossible | Decision::NoRoom { .. })
}

/// The step from its place out through a face.
pub(super) fn out(through: Face, by: Length) -> Point {
    Point::along(through.axis(), if through.is_high() { by } else { -by })
}
