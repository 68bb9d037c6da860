//! Angles and flat bars that are on no list of what is on sale.

use enclosure::Construction;
use enclosure::added::{Bar, Fixed};
use enclosure::section;
use tape::{Length, Units};

use super::{Look, finding, for_all_boxes};
use crate::document::{Closing, StiffenersName};
use crate::finding::{Finding, Grave, Subject};
use crate::{PartSize, assumed};

const LISTS: &str = "the program's list of common sections, in part from memory: the supplier decides";

pub(super) fn list(look: &Look<'_>, findings: &mut Vec<Finding>) {
    for battery_box in &look.evaluation.boxes {
        let Some(mount) = battery_box.added.mount else { continue };
        let told = Told {
            what: "brackets",
            leg: mount.leg,
            thickness: mount.thickness,
            cut_down: true,
        };
        if let Some((words, fix)) = told.off_list(look) {
            let subject = Subject::Box(battery_box.id);
            findings.push(finding(Grave::Note, subject, &battery_box.name, words, LISTS, &fix));
        }
    }
    let of_all = angles(look).into_iter().filter_map(|told| told.off_list(look));
    for (words, fix) in of_all.chain(flange(look)) {
        findings.extend(for_all_boxes(look, Grave::Note, words, LISTS, fix));
    }
}

/// An angle that parts are cut from.
struct Told {
    what: &'static str,
    leg: Length,
    thickness: Length,
    /// Whether a larger one may be cut down.
    cut_down: bool,
}

impl Told {
    /// That none on the list is so large and so thick, and which are; nothing where one is.
    fn off_list(&self, look: &Look<'_>) -> Option<(String, String)> {
        let has_leg = |leg: Length| {
            let near = (leg - self.leg).abs() <= section::OFF[1];
            near || (self.cut_down && leg > self.leg)
        };
        let fits: Vec<_> = section::angles().iter().filter(|angle| has_leg(angle.leg)).collect();
        if fits
            .iter()
            .any(|angle| (angle.thickness - self.thickness).abs() <= section::OFF[0])
        {
            return None;
        }
        let units = look.job.units.units();
        let or_more = if self.cut_down { " or more" } else { "" };
        let words = format!(
            "{}: no angle with a leg of {}{or_more} on the list is {} thick",
            self.what,
            assumed::told(self.leg, units),
            assumed::told(self.thickness, units)
        );
        let mut names: Vec<String> = fits
            .iter()
            .map(|angle| name(angle.leg, angle.thickness, units))
            .collect();
        names.truncate(4);
        let fix = if names.is_empty() {
            "ask the supplier for it, or take another leg".to_owned()
        } else {
            format!("take {}; or ask the supplier for it", names.join(", "))
        };
        Some((words, fix))
    }
}

fn name(width: Length, thickness: Length, units: Units) -> String {
    format!("{} x {}", assumed::told(width, units), assumed::told(thickness, units))
}

/// The angles of frame, hold-down, stiffeners and floor rails.
fn angles(look: &Look<'_>) -> Vec<Told> {
    let design = &look.job.design;
    let size = |size| design.added.sizes.sure(size);
    let mut told = Vec::new();
    if let Construction::Framed(skeleton) = look.build.construction {
        told.push(Told {
            what: "frame",
            leg: skeleton.leg,
            thickness: skeleton.thickness,
            cut_down: false,
        });
    }
    if let Some(bars) = assumed::hold_down(design, look.build.material) {
        if let Fixed::Lugs { leg, thickness, .. } = bars.fixed {
            told.push(Told {
                what: "hold-down lugs",
                leg,
                thickness,
                cut_down: true,
            });
        }
        if let Bar::Angle { leg } = bars.bar {
            told.push(Told {
                what: "hold-down bars",
                leg,
                thickness: bars.sheet.thickness,
                cut_down: false,
            });
        }
    }
    if design.added.stiffeners.is_some_and(|how| how != StiffenersName::None) {
        told.push(Told {
            what: "lid stiffeners",
            leg: size(PartSize::StiffenerLeg),
            thickness: size(PartSize::StiffenerThickness),
            cut_down: true,
        });
    }
    if design.is_floor_railed() {
        told.push(Told {
            what: "floor rails",
            leg: size(PartSize::FloorRailLeg),
            thickness: size(PartSize::FloorRailThickness),
            cut_down: true,
        });
    }
    told
}

/// A flange of flat bar that nobody sells: strips of sheet do as well. A ring of angle and lips of a tray are none.
fn flange(look: &Look<'_>) -> Option<(String, String)> {
    let build = look.build;
    let is_bar = build.closing == Closing::Flange && matches!(build.construction, Construction::Welded);
    let (width, thickness) = (build.flange_out, build.flange_thickness);
    let is_listed = section::flat_bars().iter().any(|bar| {
        (bar.width - width).abs() <= section::OFF[1] && (bar.thickness - thickness).abs() <= section::OFF[0]
    });
    (is_bar && !is_listed).then(|| {
        let words = format!(
            "flange: no flat bar of {} is on the list",
            name(width, thickness, look.job.units.units())
        );
        let fix = "cut strips of it from sheet, take a width that is on sale, or ask the supplier for it";
        (words, fix.to_owned())
    })
}
