//! The lists of the Truck page: what comes out and goes in, where the boxes are, and low points.

use job::{Component, Edit, Field, Grams, LowPoint, RidesName, TruckEdit, TruckField, WayName};

use crate::form::{Group, Row};
use crate::model::Model;
use crate::pages;
use crate::theme::Meaning;

/// What comes out and goes in, and where the cavities of the boxes are.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let job = model.job();
    let mut rows = vec![Row::Heading("out and in".to_owned())];
    for (index, component) in job.vehicle.components.iter().enumerate() {
        let of = Group::Component(index);
        let open = model.truck.open == Some(of);
        rows.push(Row::Group {
            of,
            title: format!("{:<3} {}", component.way.name(), component.name),
            detail: detail(component),
            open,
        });
        if open {
            let fields = TruckField::of_component(index);
            rows.extend(fields.map(|field| Row::Field(Field::OfTruck(field))));
        }
    }
    if job.vehicle.components.is_empty() {
        let text = "nothing yet: a adds what comes out (engine, tank, exhaust) and goes in (motor, controller)";
        rows.push(Row::Text(text.to_owned(), Meaning::Dim));
    }
    for cavity in &job.cavities {
        rows.push(Row::Heading(job::Cavity::said(&cavity.name)));
        rows.push(Row::Field(Field::OfTruck(TruckField::CavityAt(cavity.id))));
    }
    rows
}

/// `45.5 kg at 12"`.
fn detail(component: &Component) -> String {
    let mass = component.mass_kg.map_or_else(
        || "no mass yet".to_owned(),
        |Grams(g)| format!("{:.1} kg", Grams(g).kg()),
    );
    let at = component.at[0]
        .as_ref()
        .map_or_else(|| "no place yet".to_owned(), |at| format!("at {at}"));
    format!("{mass} {at}")
}

/// The loads of the sets.
pub(super) fn carried(model: &Model) -> Vec<Row> {
    let mut rows = vec![Row::Heading("sets of loads".to_owned())];
    for (index, load) in model.job().vehicle.carried.iter().enumerate() {
        let of = Group::Carried(index);
        let open = model.truck.open == Some(of);
        let mass = load
            .mass_kg
            .map_or_else(|| "no mass yet".to_owned(), |mass| format!("{:.1} kg", mass.kg()));
        rows.push(Row::Group {
            of,
            title: load.name.clone(),
            detail: format!("{mass}: {}", load.sets),
            open,
        });
        if open {
            rows.extend(TruckField::of_carried(index).map(|field| Row::Field(Field::OfTruck(field))));
        }
    }
    if model.job().vehicle.carried.is_empty() {
        let text = "none: j adds a load (driver, mate, tools) to sets that you name; each set is told by itself";
        rows.push(Row::Text(text.to_owned(), Meaning::Dim));
    }
    rows
}

/// The low points.
pub(super) fn points(model: &Model) -> Vec<Row> {
    let mut rows = Vec::new();
    for (index, point) in model.job().vehicle.ground.points.iter().enumerate() {
        let of = Group::Point(index);
        let open = model.truck.open == Some(of);
        rows.push(Row::Group {
            of,
            title: point.name.clone(),
            detail: point_detail(point),
            open,
        });
        if open {
            let fields = TruckField::of_point(index);
            rows.extend(fields.map(|field| Row::Field(Field::OfTruck(field))));
        }
    }
    rows
}

fn point_detail(point: &LowPoint) -> String {
    let text = |length: &Option<job::Len>| length.as_ref().map_or("?".to_owned(), ToString::to_string);
    let on = match point.rides_on {
        RidesName::Frame => String::new(),
        axle => format!(", on the {}", axle.name()),
    };
    let to = point.to.as_ref().map_or(String::new(), |to| format!(" to {to}"));
    format!(
        "{} above the ground at {}{to}{on}",
        text(&point.height),
        text(&point.along)
    )
}

/// Adds a component and opens it.
pub fn add(model: &mut Model) {
    // A refusal is already told in the message line.
    if model.apply(Edit::Truck(TruckEdit::AddComponent(WayName::In))).is_ok() {
        let last = model.job().vehicle.components.len().saturating_sub(1);
        open(model, Group::Component(last), TruckField::ComponentName(last));
    }
}

/// Adds a low point and opens it.
pub fn add_point(model: &mut Model) {
    if model.apply(Edit::Truck(TruckEdit::AddPoint)).is_ok() {
        let last = model.job().vehicle.ground.points.len().saturating_sub(1);
        open(model, Group::Point(last), TruckField::PointName(last));
    }
}

/// Adds a load to the set of the one before it and opens it.
pub fn add_carried(model: &mut Model) {
    if model.apply(Edit::Truck(TruckEdit::AddCarried)).is_ok() {
        let last = model.job().vehicle.carried.len().saturating_sub(1);
        open(model, Group::Carried(last), TruckField::CarriedName(last));
    }
}

fn open(model: &mut Model, of: Group, field: TruckField) {
    model.truck.open = Some(of);
    let rows = pages::rows(model);
    if let Some(at) = rows.iter().position(|r| *r == Row::Field(Field::OfTruck(field))) {
        model.truck.cursor = at;
        // Its name is typed at once: as commands, the letters would do other things.
        model.truck.type_in("");
    }
}

/// Removes the component or low point of a group.
pub fn remove(model: &mut Model, of: Group) {
    let edit = match of {
        Group::Point(index) => TruckEdit::RemovePoint(index),
        Group::Component(index) => TruckEdit::RemoveComponent(index),
        Group::Carried(index) => TruckEdit::RemoveCarried(index),
        _ => return,
    };
    // A refusal is already told in the message line.
    let _ = model.apply(Edit::Truck(edit));
}
