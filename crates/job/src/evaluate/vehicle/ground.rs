//! What is under the truck: clearance and angles before and after, and how far it sinks.

use geometry::{Axis, Cuboid, Face};
use truck::TruckError;
use truck::ramp::settle::{Drop, Stiffness, drop, springs_from_heights};
use truck::ramp::{Angles, Flat, Least, Point, Wheels, angles};

use super::{Aboard, Axles, entered_m, metres};
use crate::assumed::truck as usual;
use crate::document::truck::settled;
use crate::document::{RidesName, TruckFigure};
use crate::evaluate::boxes::BoxResult;
use crate::{Id, Job};

/// A point of the underside that governs something.
#[derive(Clone, Debug, PartialEq)]
pub struct Low {
    /// What it is, as `left box, front edge` or, between its edges, `left box, underside`.
    pub name: String,
    /// Behind the front axle, metres.
    pub x_m: f64,
    /// Above the ground, metres.
    pub z_m: f64,
    /// What it rides on: what is on the frame sinks with the springs, what is on an axle with its tyres alone.
    pub rides_on: RidesName,
}

/// An angle and the point that limits it.
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    /// Degrees.
    pub degrees: f64,
    /// The point.
    pub at: Low,
}

/// What the underside allows in one state of the truck; `None` where no point there is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GroundFigures {
    /// The steepest ramp in front.
    pub approach: Option<Corner>,
    /// The sharpest crest.
    pub breakover: Option<Corner>,
    /// The steepest ramp behind.
    pub departure: Option<Corner>,
    /// The lowest point over level ground.
    pub lowest: Option<Low>,
    /// What is on the ground or under it, by name: left out of the angles.
    pub touching: Vec<String>,
}

/// What the underside allows with this much aboard, the springs having given.
#[derive(Clone, Debug, PartialEq)]
pub struct Sunk {
    /// Who and what is aboard.
    pub aboard: Aboard,
    /// How far it sinks at the axles; rising is below zero.
    pub drop: Drop,
    /// What it allows then.
    pub figures: GroundFigures,
}

/// The lowest spot of any box beside the frame.
#[derive(Clone, Debug, PartialEq)]
pub struct LowestBox {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// Its lowest solid above the ground, the truck standing as it did before, metres.
    pub height_m: f64,
    /// How far it hangs below the lowest member of the frame, metres; below zero when it is above. `None` while the
    /// frame's height is not entered.
    pub below_frame_m: Option<f64>,
}

/// A box seen from the side.
#[derive(Clone, Debug, PartialEq)]
pub struct SideBox {
    /// The box.
    pub battery_box: Id,
    /// Its name.
    pub name: String,
    /// Front and rear of the body behind the front axle, metres.
    pub x_m: [f64; 2],
    /// Bottom and top above the ground, metres.
    pub z_m: [f64; 2],
    /// Its outline from the left, corner by corner, places behind the front axle and above the ground, metres: an L where a
    /// step runs in from front or rear.
    pub corners_m: Vec<[f64; 2]>,
    /// The height of the raised underside, metres, where a step at its left or right lets that be seen as an edge.
    pub raised_m: Option<f64>,
}

/// The truck seen from its left side, for drawing it: front on the left.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// From hub to hub, metres.
    pub wheelbase_m: f64,
    /// Height of the hubs, front and rear, metres.
    pub radius_m: [f64; 2],
    /// Front end behind the front axle (below zero) and rear end, metres.
    pub ends_m: [f64; 2],
    /// Whether the front and the rear end were entered; else they are drawn by guess.
    pub ends_entered: [bool; 2],
    /// Underside of the frame, metres; drawn by guess while not entered.
    pub frame_m: f64,
    /// Whether that was entered.
    pub frame_entered: bool,
    /// The boxes whose cavity has a place.
    pub boxes: Vec<SideBox>,
}

/// What is under the truck.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundResult {
    /// Before the work.
    pub before: GroundFigures,
    /// With the boxes, standing as before: nothing sunk.
    pub boxes: GroundFigures,
    /// With the boxes, sunk under what is in it and aboard: of each figure the least, whoever is aboard then; `None`
    /// without spring rates or axle loads.
    pub sunk: Option<GroundFigures>,
    /// The same with nobody aboard, with people, with cargo, with each set of loads.
    pub sunk_with: Vec<Sunk>,
    /// The lowest box.
    pub lowest_box: Option<LowestBox>,
    /// Whether a hub height is assumed.
    pub is_assumed: bool,
    /// For drawing.
    pub outline: Outline,
}

/// How far a truck is drawn beyond its axles while nobody entered it.
const DRAWN_FRONT_M: f64 = 0.8;
const DRAWN_REAR_M: f64 = 1.1;

/// `None` without a wheelbase.
pub(super) fn evaluate(
    job: &Job,
    boxes: &[BoxResult],
    axles: Option<&Axles>,
) -> Result<Option<GroundResult>, TruckError> {
    let Some(wheelbase_m) = entered_m(job.vehicle.masses.wheelbase.as_ref()) else {
        return Ok(None);
    };
    let ground = &job.vehicle.ground;
    let usual_m = || metres(usual::RADIUS);
    let wheels = Wheels {
        wheelbase_m,
        front_radius_m: entered_m(ground.front_radius.as_ref()).unwrap_or_else(usual_m),
        rear_radius_m: entered_m(ground.rear_radius.as_ref()).unwrap_or_else(usual_m),
    };
    let of_truck = of_truck(job, wheelbase_m);
    let of_boxes: Vec<(Id, Under)> = boxes.iter().flat_map(|b| of_box(job, b)).collect();
    let all: Vec<Under> = of_truck
        .iter()
        .chain(of_boxes.iter().map(|(_, under)| under))
        .cloned()
        .collect();
    let sunk_with = axles.map_or(Ok(Vec::new()), |axles| sinking(job, axles, wheels, &all))?;
    let frame_m = entered_m(ground.frame.as_ref());
    let lowest_box = of_boxes
        .iter()
        .min_by(|a, b| a.1.flat.from.z_m.total_cmp(&b.1.flat.from.z_m))
        .and_then(|(id, under)| {
            Some(LowestBox {
                battery_box: *id,
                name: boxes.iter().find(|b| b.id == *id)?.name.clone(),
                height_m: under.flat.from.z_m,
                below_frame_m: frame_m.map(|frame_m| frame_m - under.flat.from.z_m),
            })
        });
    Ok(Some(GroundResult {
        before: figures(wheels, &of_truck)?,
        boxes: figures(wheels, &all)?,
        sunk: least_of(&sunk_with),
        sunk_with,
        lowest_box,
        is_assumed: ground.front_radius.is_none() || ground.rear_radius.is_none(),
        outline: outline(job, boxes, wheels),
    }))
}

/// A flat of the underside and whose it is.
#[derive(Clone, Debug)]
struct Under {
    name: String,
    /// Whether its edges are told apart from what is between them.
    has_edges: bool,
    flat: Flat,
    rides_on: RidesName,
}

impl Under {
    /// A point of it that governs something.
    fn low(&self, at: Point) -> Low {
        let part = if !self.has_edges {
            ""
        } else if at == self.flat.from {
            ", front edge"
        } else if at == self.flat.to {
            ", rear edge"
        } else {
            ", underside"
        };
        Low {
            name: format!("{}{part}", self.name),
            x_m: at.x_m,
            z_m: at.z_m,
            rides_on: self.rides_on,
        }
    }

    /// Its lower end.
    fn lowest(&self) -> Point {
        let Flat { from, to } = self.flat;
        if to.z_m < from.z_m { to } else { from }
    }

    /// Whether a flat of the same thing, no higher and no shorter, makes this one needless.
    fn is_above(&self, other: &Self) -> bool {
        other.flat.from.x_m <= self.flat.from.x_m
            && self.flat.to.x_m <= other.flat.to.x_m
            && other.flat.from.z_m <= self.flat.from.z_m
    }
}

/// A level flat, its ends in either order.
fn level(ends_m: [f64; 2], z_m: f64) -> Flat {
    let [a, b] = ends_m;
    let [from, to] = [a.min(b), a.max(b)].map(|x_m| Point { x_m, z_m });
    Flat { from, to }
}

/// What the truck itself has, as far as it was entered.
fn of_truck(job: &Job, wheelbase_m: f64) -> Vec<Under> {
    let ground = &job.vehicle.ground;
    let mut found = Vec::new();
    let mut add = |name: &str, ends_m: Option<[f64; 2]>, z_m: Option<f64>, rides_on| {
        if let (Some(ends_m), Some(z_m)) = (ends_m, z_m) {
            let flat = level(ends_m, z_m);
            found.push(Under {
                name: name.to_owned(),
                has_edges: flat.from != flat.to && name != FRAME,
                flat,
                rides_on,
            });
        }
    };
    let on_frame = RidesName::Frame;
    let front = entered_m(ground.front_overhang.as_ref()).map(|out| [-out; 2]);
    let rear = entered_m(ground.rear_overhang.as_ref()).map(|out| [wheelbase_m + out; 2]);
    add("front overhang", front, entered_m(ground.front_low.as_ref()), on_frame);
    add(
        FRAME,
        Some([0.0, wheelbase_m]),
        entered_m(ground.frame.as_ref()),
        on_frame,
    );
    add("rear overhang", rear, entered_m(ground.rear_low.as_ref()), on_frame);
    for point in &ground.points {
        let along_m = entered_m(point.along.as_ref());
        let ends_m = along_m.map(|along_m| [along_m, entered_m(point.to.as_ref()).unwrap_or(along_m)]);
        add(&point.name, ends_m, entered_m(point.height.as_ref()), point.rides_on);
    }
    found
}

/// What the frame is called; it runs from axle to axle.
const FRAME: &str = "frame";

/// The undersides of everything that belongs to a box whose cavity has a place, its brackets with it.
fn of_box(job: &Job, battery_box: &BoxResult) -> Vec<(Id, Under)> {
    let Some(place) = job.cavity(battery_box.cavity).and_then(|c| c.place.as_ref()) else {
        return Vec::new();
    };
    let [x_m, _, z_m] = place.each_ref().map(|at| metres(at.value()));
    let under = |solid: &Cuboid| {
        let ends_m = [Face::Front, Face::Rear].map(|face| x_m + metres(solid.face(face)));
        Under {
            name: battery_box.name.clone(),
            has_edges: true,
            flat: level(ends_m, z_m + metres(solid.face(Face::Bottom))),
            rides_on: RidesName::Frame,
        }
    };
    let mut found: Vec<Under> = Vec::new();
    for next in battery_box.solids.iter().chain(&battery_box.added.brackets).map(under) {
        if !found.iter().any(|other| next.is_above(other)) {
            found.retain(|other| !other.is_above(&next));
            found.push(next);
        }
    }
    found.into_iter().map(|under| (battery_box.id, under)).collect()
}

/// What is left with each much aboard, sunk from how it was weighed; empty without both spring rates.
fn sinking(job: &Job, axles: &Axles, wheels: Wheels, under: &[Under]) -> Result<Vec<Sunk>, TruckError> {
    let figure = |figure| job.vehicle.figures.get(figure).map(|n_per_mm| n_per_mm * 1_000.0);
    let ground = &job.vehicle.ground;
    let [front, rear] = [
        (TruckFigure::FrontSpring, ground.front_settled.as_deref()),
        (TruckFigure::RearSpring, ground.rear_settled.as_deref()),
    ]
    .map(|(entry, heights)| figure(entry).map_or_else(|| by_heights(job, heights), |rate| Ok(Some(rate))));
    let (Some(front), Some(rear)) = (front?, rear?) else {
        return Ok(Vec::new());
    };
    let front = Stiffness::apart("front", front, figure(TruckFigure::FrontTyreRate))?;
    let rear = Stiffness::apart("rear", rear, figure(TruckFigure::RearTyreRate))?;
    let mut found = Vec::new();
    for stated in &axles.stated {
        let drop = drop(axles.before, stated.loads, front, rear)?;
        found.push(Sunk {
            aboard: stated.aboard.clone(),
            drop,
            figures: sunk(wheels, &drop, under)?,
        });
    }
    Ok(found)
}

/// Newtons a metre of springs and tyres together, from a load and the heights before and with it; `None` while not entered.
fn by_heights(job: &Job, heights: Option<&str>) -> Result<Option<f64>, TruckError> {
    let read = heights.and_then(|text| settled::read(text, job.units.units()).ok());
    read.map(|trial| {
        let [before_m, with_m] = trial.heights.map(metres);
        springs_from_heights((0.0, before_m), (trial.load_kg, with_m))
    })
    .transpose()
}

/// The figures with every point as far down as the frame there, or as the hub that it rides on.
fn sunk(wheels: Wheels, drop: &Drop, under: &[Under]) -> Result<GroundFigures, TruckError> {
    let lower = |under: &Under| {
        let down = |point: Point| {
            let by_m = match under.rides_on {
                RidesName::Frame => drop.at_m(point.x_m, wheels.wheelbase_m),
                RidesName::FrontAxle => drop.front_hub_m,
                RidesName::RearAxle => drop.rear_hub_m,
            };
            let z_m = point.z_m - by_m;
            Point { z_m, ..point }
        };
        let Flat { from, to } = under.flat;
        let flat = Flat {
            from: down(from),
            to: down(to),
        };
        Under { flat, ..under.clone() }
    };
    let lower: Vec<Under> = under.iter().map(lower).collect();
    figures(drop.wheels(wheels), &lower)
}

/// Of each figure the least over all that may be aboard; `None` where nothing sinks.
fn least_of(sunk: &[Sunk]) -> Option<GroundFigures> {
    let each = || sunk.iter().rev().map(|sunk| &sunk.figures);
    sunk.first()?;
    let corner = |of: fn(&GroundFigures) -> Option<&Corner>| {
        let least = each().filter_map(of).min_by(|a, b| a.degrees.total_cmp(&b.degrees));
        least.cloned()
    };
    let mut touching: Vec<String> = Vec::new();
    for name in each().flat_map(|figures| &figures.touching) {
        if !touching.contains(name) {
            touching.push(name.clone());
        }
    }
    let lowest = each().filter_map(|figures| figures.lowest.as_ref());
    Some(GroundFigures {
        approach: corner(|figures| figures.approach.as_ref()),
        breakover: corner(|figures| figures.breakover.as_ref()),
        departure: corner(|figures| figures.departure.as_ref()),
        lowest: lowest.min_by(|a, b| a.z_m.total_cmp(&b.z_m)).cloned(),
        touching,
    })
}

/// Angles of what is clear of the ground; what is not is told by name.
fn figures(wheels: Wheels, under: &[Under]) -> Result<GroundFigures, TruckError> {
    let (clear, touching): (Vec<&Under>, Vec<&Under>) = under.iter().partition(|under| under.lowest().z_m > 0.0);
    let flats: Vec<Flat> = clear.iter().map(|under| under.flat).collect();
    let found: Angles = angles(wheels, &flats)?;
    let corner = |least: Option<Least>| {
        least.map(|(flat, at, angle_rad)| Corner {
            degrees: angle_rad.to_degrees(),
            at: clear[flat].low(at),
        })
    };
    let low = |under: &Under| under.low(under.lowest());
    Ok(GroundFigures {
        approach: corner(found.least_approach()),
        breakover: corner(found.least_breakover()),
        departure: corner(found.least_departure()),
        lowest: under.iter().map(low).min_by(|a, b| a.z_m.total_cmp(&b.z_m)),
        touching: touching.into_iter().map(|under| low(under).name).collect(),
    })
}

fn outline(job: &Job, boxes: &[BoxResult], wheels: Wheels) -> Outline {
    let ground = &job.vehicle.ground;
    let front = entered_m(ground.front_overhang.as_ref());
    let rear = entered_m(ground.rear_overhang.as_ref());
    let frame = entered_m(ground.frame.as_ref());
    Outline {
        wheelbase_m: wheels.wheelbase_m,
        radius_m: [wheels.front_radius_m, wheels.rear_radius_m],
        ends_m: [
            -front.unwrap_or(DRAWN_FRONT_M),
            wheels.wheelbase_m + rear.unwrap_or(DRAWN_REAR_M),
        ],
        ends_entered: [front.is_some(), rear.is_some()],
        frame_m: frame.unwrap_or(wheels.rear_radius_m),
        frame_entered: frame.is_some(),
        boxes: boxes.iter().filter_map(|b| side_box(job, b)).collect(),
    }
}

fn side_box(job: &Job, battery_box: &BoxResult) -> Option<SideBox> {
    let place = job.cavity(battery_box.cavity)?.place.as_ref()?;
    let body = battery_box.body?;
    let at =
        |solid: &geometry::Cuboid, face: Face| metres(place[face.axis().index()].value()) + metres(solid.face(face));
    let along = |axis: Axis| [Face::low(axis), Face::high(axis)].map(|face| at(&body, face));
    let (x_m, z_m) = (along(Axis::X), along(Axis::Z));
    let step = battery_box.step_under().zip(battery_box.step_wall());
    let raised = step.map(|(under, wall)| (wall, at(&under, wall.opposite()), at(&under, Face::Top)));
    Some(SideBox {
        battery_box: battery_box.id,
        name: battery_box.name.clone(),
        corners_m: corners(x_m, z_m, raised),
        raised_m: raised.filter(|(wall, ..)| wall.axis() == Axis::Y).map(|(.., up)| up),
        x_m,
        z_m,
    })
}

/// The corners of a box from the left; of the step its wall, where its riser is, and how high it raises the underside.
fn corners([front, rear]: [f64; 2], [bottom, top]: [f64; 2], step: Option<(Face, f64, f64)>) -> Vec<[f64; 2]> {
    let below = match step {
        Some((Face::Front, riser, up)) => vec![[front, up], [riser, up], [riser, bottom], [rear, bottom]],
        Some((Face::Rear, riser, up)) => vec![[front, bottom], [riser, bottom], [riser, up], [rear, up]],
        _ => vec![[front, bottom], [rear, bottom]],
    };
    below.into_iter().chain([[rear, top], [front, top]]).collect()
}
