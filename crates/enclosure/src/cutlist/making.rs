//! How a piece is made once it is marked out: what cuts it, and which of its edges are deburred.

use std::f64::consts::FRAC_PI_4;

use tape::Length;

use super::Line;
use crate::nest::sheets::Cutting;
use crate::part::outline_mm2;
use crate::section::listed_root_radius;
use crate::{EndCut, Form, Hole};

/// What is cut off the foot at a coped end of an angle, over the foot's whole width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cope {
    /// Along the bar, from its end: as far as the foot of the bar that it meets reaches in from that one's upright leg.
    pub length: Length,
    /// From the underside up: as thick as that foot, which the upright leg then stands on.
    pub depth: Length,
    /// The radius in the root of the bar that it meets, which the corner over the cope is filed to; zero where no table has it.
    pub root: Length,
}

impl Line {
    /// How its coped ends are cut; `None` when it has none. The bar that it meets is of the same angle.
    pub fn cope(&self) -> Option<Cope> {
        let (leg, thickness) = (self.width.exact, self.sheet.thickness);
        self.ends.contains(&EndCut::Coped).then(|| Cope {
            length: leg - thickness,
            depth: thickness,
            root: listed_root_radius(leg, thickness),
        })
    }

    /// Area within its edge in square millimetres, arcs with it; holes are not taken off.
    pub fn contour_mm2(&self) -> f64 {
        outline_mm2(&self.outline)
    }

    /// Face area of one in square millimetres: what is within its edge, less its holes; of an angle that of the leg that is drawn.
    pub fn net_mm2(&self) -> f64 {
        let hole = |hole: &Hole| FRAC_PI_4 * hole.diameter.as_mm() * hole.diameter.as_mm();
        self.contour_mm2() - self.holes.iter().map(hole).sum::<f64>()
    }

    /// Whether it is a sheet of the liner: laminate or plastic, which burns or chars under a laser and is none for a shear.
    pub fn is_liner(&self) -> bool {
        self.roles.iter().any(|role| role.is_liner())
    }

    /// What makes it, in order: `shear, notch, drill, fold`; `laser, countersink`; `saw, drill`; of the liner `knife or saw, hole cutter`.
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
            if self.ends.contains(&EndCut::Coped) {
                steps.push("cope");
            }
            if !is_sheet && self.bought_width() != self.width.exact {
                steps.push("cut legs down");
            }
            if is_sheet && self.outline.len() > 4 {
                steps.push("notch");
            }
            if !self.holes.is_empty() {
                steps.push("drill");
            }
        }
        if self.holes.iter().any(|hole| hole.purpose != hole.purpose.plain()) {
            steps.push("countersink");
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
