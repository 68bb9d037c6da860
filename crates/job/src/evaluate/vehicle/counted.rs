//! What comes out and goes in, as masses at places in the truck.

use geometry::{Axis, Cuboid, Face};
use truck::mass::{Item, Place};

use super::{entered_m, metres};
use crate::assumed::truck as usual;
use crate::document::{Component, WayName};
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kind::KindResult;
use crate::{Id, Job, Len};

/// What a counted mass is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// The component at this place in the list.
    Component(usize),
    /// A box with its modules.
    Box(Id),
}

/// A mass that comes out or goes in.
#[derive(Clone, Debug, PartialEq)]
pub struct Counted {
    /// What it is of.
    pub of: Of,
    /// Its name.
    pub name: String,
    /// Whether it comes out or goes in.
    pub way: WayName,
    /// What it weighs, kilograms, above zero either way.
    pub mass_kg: f64,
    /// Where its middle is.
    pub at: Place,
}

impl Counted {
    /// As a mass that is put on, or taken off.
    pub fn item(&self) -> Item {
        let item = Item {
            mass_kg: self.mass_kg,
            at: self.at,
        };
        match self.way {
            WayName::Out => item.taken_off(),
            WayName::In => item,
        }
    }
}

/// Something that does not count for the axle loads.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncounted {
    /// Its name.
    pub name: String,
    /// What is missing, in words.
    pub why: String,
    /// What to do.
    pub fix: &'static str,
    /// What it puts on, kilograms, below zero for what comes out: a mass is known without a place, and counts for what the
    /// truck weighs on the road. `None` when it is not known, counts only with what is aboard, or was on the scale after the
    /// work.
    pub mass_kg: Option<f64>,
}

impl Uncounted {
    /// What does not count, what of it does, and why, in words: `left box does not count for the axle loads, its 143 kg
    /// only for the road: cavity 1 has no place in the truck`.
    pub fn words(&self) -> String {
        let only = match self.mass_kg {
            Some(kg) if kg < 0.0 => format!(", its {:.0} kg less only for the road", -kg),
            Some(kg) => format!(", its {kg:.0} kg only for the road"),
            None => String::new(),
        };
        format!("{} does not count for the axle loads{only}: {}", self.name, self.why)
    }
}

/// What counts and what does not: components first, then boxes.
pub(super) fn list(job: &Job, boxes: &[BoxResult], kinds: &[KindResult]) -> (Vec<Counted>, Vec<Uncounted>) {
    let components = job.vehicle.components.iter().enumerate();
    let of_components = components.map(|(index, component)| of_component(index, component));
    let of_boxes = boxes.iter().filter_map(|b| of_box(job, b, kinds));
    let (mut counted, mut uncounted) = (Vec::new(), Vec::new());
    for each in of_components.chain(of_boxes) {
        match each {
            Ok(one) => counted.push(one),
            Err(one) => uncounted.push(one),
        }
    }
    (counted, uncounted)
}

fn of_component(index: usize, component: &Component) -> Result<Counted, Uncounted> {
    let missing = |why: &str, mass_kg| Uncounted {
        name: component.name.clone(),
        why: why.to_owned(),
        fix: "open it on the Truck page and enter it",
        mass_kg,
    };
    let [x, y, z] = component.at.each_ref().map(|at| entered_m(at.as_ref()));
    let mass = component
        .mass_kg
        .ok_or_else(|| missing("its mass is not entered", None))?;
    let put_on = match component.way {
        WayName::Out => -mass.kg(),
        WayName::In => mass.kg(),
    };
    let x_m = x.ok_or_else(|| missing("how far it is behind the front axle is not entered", Some(put_on)))?;
    Ok(Counted {
        of: Of::Component(index),
        name: component.name.clone(),
        way: component.way,
        mass_kg: mass.kg(),
        at: Place {
            x_m,
            y_m: y.unwrap_or(0.0),
            z_m: z.unwrap_or_else(|| metres(usual::COMPONENT_HEIGHT)),
        },
    })
}

/// A box as a mass at a place; `None` for one that is empty and wraps nothing.
fn of_box(job: &Job, battery_box: &BoxResult, kinds: &[KindResult]) -> Option<Result<Counted, Uncounted>> {
    let missing = |why: String, fix, mass_kg| Uncounted {
        name: battery_box.name.clone(),
        why,
        fix,
        mass_kg,
    };
    if battery_box.modules.is_empty() && battery_box.body.is_none() {
        return None;
    }
    if let Some(fault) = &battery_box.fault {
        return Some(Err(missing(
            format!("it cannot be built: {}", fault.words(job.units.units())),
            "mend it on the Boxes page",
            None,
        )));
    }
    let Some(centre) = centre(battery_box, kinds) else {
        let why = "the mass of its modules is not entered".to_owned();
        return Some(Err(missing(why, "weigh one and enter it on the Modules page", None)));
    };
    let cavity = job.cavity(battery_box.cavity)?;
    let Some(place) = cavity.place.as_ref() else {
        let why = format!("{} has no place in the truck", named("cavity", &cavity.name));
        return Some(Err(missing(
            why,
            "enter its place in the truck on the Truck page: corner from front axle, middle and ground",
            Some(centre.mass_kg),
        )));
    };
    let [x_m, y_m, z_m] = [0, 1, 2].map(|i| centre.at_m[i] + metres(Len::value(&place[i])));
    Some(Ok(Counted {
        of: Of::Box(battery_box.id),
        name: battery_box.name.clone(),
        way: WayName::In,
        mass_kg: centre.mass_kg,
        at: Place { x_m, y_m, z_m },
    }))
}

/// What a box weighs with its modules, and where the middle of that is in the cavity's frame, metres.
pub(in crate::evaluate) struct Centre {
    pub(super) mass_kg: f64,
    pub(in crate::evaluate) at_m: [f64; 3],
}

/// The middles of the modules weighed by their mass, and the box with what is in and on it taken at the middle of the body,
/// with a step at that of its parts; `None` while a module's mass is not known, or without a body.
pub(in crate::evaluate) fn centre(battery_box: &BoxResult, kinds: &[KindResult]) -> Option<Centre> {
    let empty_kg = crate::Grams(battery_box.mass.empty_g()).kg();
    let mut sum = Centre {
        mass_kg: empty_kg,
        at_m: empty_m(battery_box)?.map(|at| at * empty_kg),
    };
    for module in &battery_box.modules {
        let kind = kinds.iter().find(|k| k.id == module.kind)?;
        let mass_kg = crate::Grams(kind.mass_g?).kg() * f64::from(module.count);
        sum.mass_kg += mass_kg;
        for (to, at) in sum.at_m.iter_mut().zip(middle(&module.cuboid)) {
            *to += at * mass_kg;
        }
    }
    sum.at_m = sum.at_m.map(|moment| moment / sum.mass_kg);
    (sum.mass_kg > 0.0).then_some(sum)
}

/// Where the empty box counts, metres: with a step at the middle of its parts' mass, else at the middle of the body.
fn empty_m(battery_box: &BoxResult) -> Option<[f64; 3]> {
    let body = battery_box.body.as_ref()?;
    let of_parts = battery_box.empty_middle.map(|at| at.0.map(metres));
    Some(of_parts.unwrap_or_else(|| middle(body)))
}

/// Metres.
fn middle(cuboid: &Cuboid) -> [f64; 3] {
    Axis::ALL.map(|axis| {
        f64::midpoint(
            metres(cuboid.face(Face::low(axis))),
            metres(cuboid.face(Face::high(axis))),
        )
    })
}

/// A thing's name with what it is before it, once: `cavity 1`, `cavity behind the cab`.
fn named(what: &str, name: &str) -> String {
    if name.starts_with(what) {
        name.to_owned()
    } else {
        format!("{what} {name}")
    }
}
