//! What is under the truck: clearance and angles before and after, and how far it sinks.

use geometry::{Axis, Face};
use truck::TruckError;
use truck::ramp::settle::{Drop, Stiffness, drop};
use truck::ramp::{Angles, Point, Wheels, angles};

use super::{Aboard, Axles, entered_m, metres};
use crate::assumed::truck as usual;
use crate::document::{RidesName, TruckFigure};
use crate::evaluate::boxes::BoxResult;
use crate::{Id, Job};

/// A point of the underside that governs something.
#[derive(Clone, Debug, PartialEq)]
pub struct Low {
    /// What it is, as `left box, front edge`.
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
    let of_boxes: Vec<(Id, Low)> = boxes.iter().flat_map(|b| of_box(job, b)).collect();
    let all: Vec<Low> = of_truck
        .iter()
        .chain(of_boxes.iter().map(|(_, low)| low))
        .cloned()
        .collect();
    let sunk_with = axles.map_or(Ok(Vec::new()), |axles| sinking(job, axles, wheels, &all))?;
    let frame_m = entered_m(ground.frame.as_ref());
    let lowest_box = of_boxes
        .iter()
        .min_by(|a, b| a.1.z_m.total_cmp(&b.1.z_m))
        .and_then(|(id, low)| {
            Some(LowestBox {
                battery_box: *id,
                name: boxes.iter().find(|b| b.id == *id)?.name.clone(),
                height_m: low.z_m,
                below_frame_m: frame_m.map(|frame_m| frame_m - low.z_m),
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

/// The points of the truck itself, as far as they were entered.
fn of_truck(job: &Job, wheelbase_m: f64) -> Vec<Low> {
    let ground = &job.vehicle.ground;
    let mut points = Vec::new();
    let mut add = |name: &str, x_m: Option<f64>, z_m: Option<f64>| {
        if let (Some(x_m), Some(z_m)) = (x_m, z_m) {
            points.push(Low {
                name: name.to_owned(),
                x_m,
                z_m,
                rides_on: RidesName::Frame,
            });
        }
    };
    let front = entered_m(ground.front_overhang.as_ref()).map(|out| -out);
    let rear = entered_m(ground.rear_overhang.as_ref()).map(|out| wheelbase_m + out);
    add("front overhang", front, entered_m(ground.front_low.as_ref()));
    // A level frame comes down on a crest first halfway between the axles.
    add("frame", Some(wheelbase_m / 2.0), entered_m(ground.frame.as_ref()));
    add("rear overhang", rear, entered_m(ground.rear_low.as_ref()));
    for point in &ground.points {
        if let (Some(x_m), Some(z_m)) = (entered_m(point.along.as_ref()), entered_m(point.height.as_ref())) {
            points.push(Low {
                name: point.name.clone(),
                x_m,
                z_m,
                rides_on: point.rides_on,
            });
        }
    }
    points
}

/// The bottom edges, front and rear, of everything that belongs to a box whose cavity has a place, its brackets with it.
fn of_box(job: &Job, battery_box: &BoxResult) -> Vec<(Id, Low)> {
    let Some(place) = job.cavity(battery_box.cavity).and_then(|c| c.place.as_ref()) else {
        return Vec::new();
    };
    let [x_m, _, z_m] = place.each_ref().map(|at| metres(at.value()));
    let edge = |solid: &geometry::Cuboid, face: Face, name: &str| {
        let low = Low {
            name: format!("{}, {name} edge", battery_box.name),
            x_m: x_m + metres(solid.face(face)),
            z_m: z_m + metres(solid.face(Face::Bottom)),
            rides_on: RidesName::Frame,
        };
        (battery_box.id, low)
    };
    battery_box
        .solids
        .iter()
        .chain(&battery_box.added.brackets)
        .flat_map(|solid| [edge(solid, Face::Front, "front"), edge(solid, Face::Rear, "rear")])
        .collect()
}

/// What is left with each much aboard, sunk from how it was weighed; empty without both spring rates.
fn sinking(job: &Job, axles: &Axles, wheels: Wheels, points: &[Low]) -> Result<Vec<Sunk>, TruckError> {
    let figure = |figure| job.vehicle.figures.get(figure).map(|n_per_mm| n_per_mm * 1_000.0);
    let (Some(front), Some(rear)) = (figure(TruckFigure::FrontSpring), figure(TruckFigure::RearSpring)) else {
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
            figures: sunk(wheels, &drop, points)?,
        });
    }
    Ok(found)
}

/// The figures with every point as far down as the frame there, or as the hub that it rides on.
fn sunk(wheels: Wheels, drop: &Drop, points: &[Low]) -> Result<GroundFigures, TruckError> {
    let by_m = |low: &Low| match low.rides_on {
        RidesName::Frame => drop.at_m(low.x_m, wheels.wheelbase_m),
        RidesName::FrontAxle => drop.front_hub_m,
        RidesName::RearAxle => drop.rear_hub_m,
    };
    let lower: Vec<Low> = points
        .iter()
        .map(|low| Low {
            z_m: low.z_m - by_m(low),
            ..low.clone()
        })
        .collect();
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
fn figures(wheels: Wheels, points: &[Low]) -> Result<GroundFigures, TruckError> {
    let (clear, touching): (Vec<&Low>, Vec<&Low>) = points.iter().partition(|low| low.z_m > 0.0);
    let plain: Vec<Point> = clear
        .iter()
        .map(|low| Point {
            x_m: low.x_m,
            z_m: low.z_m,
        })
        .collect();
    let found: Angles = angles(wheels, &plain)?;
    let corner = |least: Option<(usize, f64)>| {
        least.map(|(point, angle_rad)| Corner {
            degrees: angle_rad.to_degrees(),
            at: clear[point].clone(),
        })
    };
    Ok(GroundFigures {
        approach: corner(found.least_approach()),
        breakover: corner(found.least_breakover()),
        departure: corner(found.least_departure()),
        lowest: points.iter().min_by(|a, b| a.z_m.total_cmp(&b.z_m)).cloned(),
        touching: touching.into_iter().map(|low| low.name.clone()).collect(),
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
