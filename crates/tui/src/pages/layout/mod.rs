//! The Layout page: plan, side and end views, one thing selected, nudged with its clearances beside it.

pub mod hand;
pub mod offer;
mod panel;
pub mod picture;
mod tiers;
mod verdict;

pub use verdict::verdict;

use drawing::{Edge, Side};
use geometry::Face;
use job::{Evaluation, Id, SixClearances};
use tape::{Length, Units};

use crate::keys::Toward;

/// What is selected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Thing {
    /// A box with everything in it.
    Box(Id),
    /// A module or a stack.
    Module(Id),
}

/// How far an arrow moves after a key that asks for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// Until no clearance is sure any more: it touches, or would if the tape was off as far as is held back.
    Touch,
    /// Until just what was asked for is sure.
    Keep,
}

/// A thing being dragged with the mouse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drag {
    /// Where in the world the pointer was when the last move was made: u and v.
    pub from: (Length, Length),
    /// Whether it was moved already: all moves of a drag are undone together.
    pub begun: bool,
}

/// The state of the page.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The cavity shown.
    pub cavity: Option<Id>,
    /// What is selected.
    pub selected: Option<Thing>,
    /// Which side is looked from.
    pub side: Side,
    /// Index into the steps.
    pub step: usize,
    /// Whether only the selected box is shown.
    pub zoomed: bool,
    /// What the next arrow does.
    pub reach: Option<Reach>,
    /// The thing being dragged.
    pub drag: Option<Drag>,
}

impl Default for Sheet {
    fn default() -> Self {
        Self {
            cavity: None,
            selected: None,
            side: Side::Plan,
            step: 0,
            zoomed: false,
            reach: None,
            drag: None,
        }
    }
}

/// The three steps of a nudge, fine to coarse.
pub const fn steps(units: Units) -> [Length; 3] {
    match units {
        Units::Inch => [Length::sixty_fourths(4), Length::sixty_fourths(8), Length::inches(1)],
        Units::Millimetre => [Length::from_nm(500_000), Length::mm(1), Length::mm(10)],
    }
}

impl Sheet {
    /// Keeps to what is there: a cavity, and a thing in it.
    pub fn settle(&mut self, evaluation: &Evaluation) {
        if self.cavity.is_none_or(|id| evaluation.cavity(id).is_none()) {
            let with_box = evaluation.boxes.first().map(|b| b.cavity);
            self.cavity = with_box.or(evaluation.cavities.first().map(|c| c.id));
        }
        let there = match self.selected {
            Some(Thing::Box(id)) => evaluation
                .battery_box(id)
                .is_some_and(|b| Some(b.cavity) == self.cavity),
            Some(Thing::Module(id)) => evaluation
                .module(id)
                .is_some_and(|(b, _)| Some(b.cavity) == self.cavity),
            None => false,
        };
        if !there {
            self.selected = self.things(evaluation).first().copied();
        }
    }

    /// Everything that can be selected in the cavity shown: each box's modules in the order of the job; an empty box
    /// itself.
    pub fn things(&self, evaluation: &Evaluation) -> Vec<Thing> {
        let boxes = evaluation.boxes.iter().filter(|b| Some(b.cavity) == self.cavity);
        boxes
            .flat_map(|b| {
                if b.modules.is_empty() {
                    vec![Thing::Box(b.id)]
                } else {
                    b.modules.iter().map(|m| Thing::Module(m.id)).collect()
                }
            })
            .collect()
    }

    /// What is selected, as far as it is in `evaluation`; else the first thing there, as in a layout that is offered.
    pub fn selected_in(&self, evaluation: &Evaluation) -> Option<Thing> {
        let things = self.things(evaluation);
        let is_there = |thing: &Thing| match thing {
            Thing::Box(id) => evaluation.battery_box(*id).is_some(),
            Thing::Module(_) => things.contains(thing),
        };
        self.selected.filter(is_there).or(things.first().copied())
    }

    /// The box that is selected, or holds what is selected.
    pub fn battery_box(&self, evaluation: &Evaluation) -> Option<Id> {
        match self.selected_in(evaluation)? {
            Thing::Box(id) => Some(id),
            Thing::Module(id) => evaluation.module(id).map(|(b, _)| b.id),
        }
    }

    /// The clearances of what is selected.
    pub fn around<'a>(&self, evaluation: &'a Evaluation) -> Option<&'a SixClearances> {
        match self.selected_in(evaluation)? {
            Thing::Box(id) => evaluation.battery_box(id)?.around.as_ref(),
            Thing::Module(id) => evaluation.module(id)?.1.around.as_ref(),
        }
    }

    /// The direction in the cavity of a direction on the sheet.
    pub fn face(&self, toward: Toward) -> Face {
        self.facing(match toward {
            Toward::Left => Edge::Left,
            Toward::Right => Edge::Right,
            Toward::Up => Edge::Top,
            Toward::Down => Edge::Bottom,
        })
    }

    /// The two directions in depth: away from the viewer, and towards the viewer.
    pub fn depth(&self) -> [Face; 2] {
        [self.facing(Edge::Away), self.facing(Edge::Facing)]
    }

    /// The face that shows at this edge of the sheet.
    fn facing(&self, edge: Edge) -> Face {
        let face = Face::ALL.into_iter().find(|&face| self.side.edge(face) == edge);
        face.expect("the six faces show at the six edges")
    }

    /// The step of a nudge.
    pub fn nudge(&self, units: Units) -> Length {
        let steps = steps(units);
        steps[self.step.min(steps.len() - 1)]
    }
}
