//! Moving what is laid out apart, so that the smallest clearance is as large as it can be.

use tape::Length;

use crate::{Edit, Id, Job};

/// What is moved apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The modules of one box, the box along with them; everything else stays.
    Modules(Id),
    /// The boxes of one cavity, each with its modules as they stand in it.
    Boxes(Id),
    /// All boxes of all cavities, each with its modules as they stand in it.
    AllBoxes,
}

impl Which {
    /// What was done, in words.
    pub fn words(self, job: &Job) -> String {
        match self {
            Self::Modules(id) => {
                let name = job.battery_box(id).map_or("a box", |b| b.name.as_str());
                format!("spread the modules of {name}")
            }
            Self::Boxes(id) => {
                let name = job.cavity(id).map_or("a cavity", |c| c.name.as_str());
                format!("spread the boxes of {name}")
            }
            Self::AllBoxes => "spread all boxes".to_owned(),
        }
    }
}

/// The same layout with the most room to spare.
#[derive(Clone, Debug, PartialEq)]
pub struct Spreading {
    /// The edit that takes it over.
    pub edit: Edit,
    /// What limits it, from wall to wall: "front wall, 6 modules, 5 gaps, rear wall".
    pub words: String,
    /// The least that any clearance had beyond what is asked for; negative where less than asked was kept.
    pub before: Length,
    /// The least that any clearance has then.
    pub after: Length,
}
