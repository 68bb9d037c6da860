//! How a piece is made once it is marked out: what cuts it, and which of its edges are deburred.

use super::Line;
use crate::Form;
use crate::nest::sheets::Cutting;

impl Line {
    /// Whether it is a sheet of the liner: laminate or plastic, which burns or chars under a laser and is none for a shear.
    pub fn is_liner(&self) -> bool {
        self.roles.iter().any(|role| role.is_liner())
    }

    /// What makes it, in order: `shear, notch, drill, fold`; `laser`; `saw, drill`; of the liner `knife or saw, hole cutter`.
    ///
    /// A laser cuts outline and holes in one go. On a shear only a rectangle comes off; what is let into its corners is
    /// notched, and holes are drilled. Common practice, no source.
    pub fn machine(&self, cutting: Cutting) -> String {
        let mut steps = Vec::new();
        if self.is_liner() {
            steps.push("knife or saw");
            if !self.holes.is_empty() {
                steps.push("hole cutter");
            }
            return steps.join(", ");
        }
        let is_sheet = self.form() == Form::Sheet;
        if is_sheet && cutting == Cutting::Free {
            steps.push("laser");
        } else {
            steps.push(if is_sheet { "shear" } else { "saw" });
            if is_sheet && self.outline.len() > 4 {
                steps.push("notch");
            }
            if !self.holes.is_empty() {
                steps.push("drill");
            }
        }
        if !self.bends.is_empty() {
            steps.push("fold");
        }
        steps.join(", ")
    }

    /// What is deburred before it is welded or handled: every cut edge and both sides of every hole. Common practice, no
    /// source: cables, gaskets and hands meet all of them.
    pub fn deburr(&self) -> String {
        let edges = if self.form() == Form::Sheet {
            "all edges"
        } else {
            "both ends"
        };
        match self.holes.len() {
            0 => edges.to_owned(),
            1 => format!("{edges}, 1 hole"),
            holes => format!("{edges}, {holes} holes"),
        }
    }
}
