//! What a person does to the lists of the truck.

use crate::{Carried, Component, EditError, Job, LowPoint, WayName};

/// One thing done to the lists of the truck. What is entered of an entry is set through its fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TruckEdit {
    /// Adds a component that comes out or goes in, to be filled in.
    AddComponent(WayName),
    /// Removes the component at a place in the list.
    RemoveComponent(usize),
    /// Adds a low point, to be filled in.
    AddPoint,
    /// Removes the low point at a place in the list.
    RemovePoint(usize),
    /// Adds a load to a set, to be filled in.
    AddCarried,
    /// Removes the load at a place in the list.
    RemoveCarried(usize),
}

pub(super) fn apply(job: &mut Job, edit: TruckEdit) -> Result<(), EditError> {
    let vehicle = &mut job.vehicle;
    match edit {
        TruckEdit::AddComponent(way) => {
            let names = vehicle.components.iter().map(|c| c.name.as_str());
            let name = super::free_name("component", names);
            vehicle.components.push(Component {
                name,
                way,
                ..Component::default()
            });
        }
        TruckEdit::RemoveComponent(at) => {
            if at >= vehicle.components.len() {
                return Err(EditError::Gone("the component"));
            }
            vehicle.components.remove(at);
        }
        TruckEdit::AddPoint => {
            let name = super::free_name("low point", vehicle.ground.points.iter().map(|p| p.name.as_str()));
            vehicle.ground.points.push(LowPoint {
                name,
                ..LowPoint::default()
            });
        }
        TruckEdit::RemovePoint(at) => {
            if at >= vehicle.ground.points.len() {
                return Err(EditError::Gone("the low point"));
            }
            vehicle.ground.points.remove(at);
        }
        TruckEdit::AddCarried => {
            let name = super::free_name("load", vehicle.carried.iter().map(|c| c.name.as_str()));
            // Loads are entered one after another, mostly for the same sets.
            let sets = vehicle
                .carried
                .last()
                .map_or_else(|| "full".to_owned(), |last| last.sets.clone());
            vehicle.carried.push(Carried {
                name,
                sets,
                ..Carried::default()
            });
        }
        TruckEdit::RemoveCarried(at) => {
            if at >= vehicle.carried.len() {
                return Err(EditError::Gone("the load"));
            }
            vehicle.carried.remove(at);
        }
    }
    Ok(())
}

impl TruckEdit {
    pub(super) fn words(self, job: &Job) -> String {
        let component = |at: usize| {
            job.vehicle
                .components
                .get(at)
                .map_or("a component", |c| c.name.as_str())
        };
        let point = |at: usize| {
            job.vehicle
                .ground
                .points
                .get(at)
                .map_or("a low point", |p| p.name.as_str())
        };
        let carried = |at: usize| job.vehicle.carried.get(at).map_or("a load", |c| c.name.as_str());
        match self {
            Self::AddCarried => "add a load".to_owned(),
            Self::RemoveCarried(at) => format!("remove {}", carried(at)),
            Self::AddComponent(WayName::Out) => "add a component that comes out".to_owned(),
            Self::AddComponent(WayName::In) => "add a component that goes in".to_owned(),
            Self::RemoveComponent(at) => format!("remove {}", component(at)),
            Self::AddPoint => "add a low point".to_owned(),
            Self::RemovePoint(at) => format!("remove {}", point(at)),
        }
    }
}
