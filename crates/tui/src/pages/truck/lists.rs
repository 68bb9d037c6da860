//! The lists of the Truck page: what comes out and goes in, where the boxes are, and low points.

use job::{Component, Edit, Field, Grams, Id, LowPoint, RidesName, TruckEdit, TruckField, WayName};

use crate::form::Row;
use crate::model::Model;
use crate::pages;
use crate::theme::Meaning;

/// Groups of components and low points are told from each other by numbers that nothing of a job has.
const COMPONENTS: u32 = 2_000_000;
const POINTS: u32 = 3_000_000;
const CARRIED: u32 = 3_500_000;

fn group_id(first: u32, index: usize) -> Id {
    Id(u32::try_from(index).unwrap_or(u32::MAX).saturating_add(first))
}

/// What comes out and goes in, and where the cavities of the boxes are.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let job = model.job();
    let mut rows = vec![Row::Heading("out and in".to_owned())];
    for (index, component) in job.vehicle.components.iter().enumerate() {
        let id = group_id(COMPONENTS, index);
        let open = model.truck.open == Some(id);
        rows.push(Row::Group {
            id,
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
        rows.push(Row::Heading(format!("cavity {}", cavity.name)));
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
        let id = group_id(CARRIED, index);
        let open = model.truck.open == Some(id);
        let mass = load
            .mass_kg
            .map_or_else(|| "no mass yet".to_owned(), |mass| format!("{:.1} kg", mass.kg()));
        rows.push(Row::Group {
            id,
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
        let id = group_id(POINTS, index);
        let open = model.truck.open == Some(id);
        rows.push(Row::Group {
            id,
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
    format!("{} above the ground at {}{on}", text(&point.height), text(&point.along))
}

/// Adds a component and opens it.
pub fn add(model: &mut Model) {
    // A refusal is already told in the message line.
    if model.apply(Edit::Truck(TruckEdit::AddComponent(WayName::In))).is_ok() {
        let last = model.job().vehicle.components.len().saturating_sub(1);
        open(model, group_id(COMPONENTS, last), TruckField::ComponentName(last));
    }
}

/// Adds a low point and opens it.
pub fn add_point(model: &mut Model) {
    if model.apply(Edit::Truck(TruckEdit::AddPoint)).is_ok() {
        let last = model.job().vehicle.ground.points.len().saturating_sub(1);
        open(model, group_id(POINTS, last), TruckField::PointName(last));
    }
}

/// Adds a load to the set of the one before it and opens it.
pub fn add_carried(model: &mut Model) {
    if model.apply(Edit::Truck(TruckEdit::AddCarried)).is_ok() {
        let last = model.job().vehicle.carried.len().saturating_sub(1);
        open(model, group_id(CARRIED, last), TruckField::CarriedName(last));
    }
}

fn open(model: &mut Model, id: Id, field: TruckField) {
    model.truck.open = Some(id);
    let rows = pages::rows(model);
    if let Some(at) = rows.iter().position(|r| *r == Row::Field(Field::OfTruck(field))) {
        model.truck.cursor = at;
    }
}

/// Removes the component or low point of a group.
pub fn remove(model: &mut Model, id: Id) {
    let index = |first: u32| id.0.checked_sub(first).and_then(|n| usize::try_from(n).ok());
    let edit = index(CARRIED)
        .map(TruckEdit::RemoveCarried)
        .or_else(|| index(POINTS).map(TruckEdit::RemovePoint))
        .or_else(|| index(COMPONENTS).map(TruckEdit::RemoveComponent));
    if let Some(edit) = edit {
        // A refusal is already told in the message line.
        let _ = model.apply(Edit::Truck(edit));
    }
}
