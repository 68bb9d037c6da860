//! What was entered of how boxes are built, and the construction and the closing chosen now make no use of.

use crate::assumed::Build;
use crate::document::Design;
use crate::field::show;
use crate::finding::Grave;
use crate::{Closing, ConstructionName, Field, Job, assumed};

/// An entry that nothing is built by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unused {
    /// Which one.
    pub field: Field,
    /// As it was entered.
    pub text: String,
    /// Why it is not used.
    pub why: &'static str,
    /// A caution where a sheet is of another thickness than was entered, or the box is closed otherwise; else a note.
    pub grave: Grave,
}

impl Unused {
    /// As `"floor" 1/8" (a folded tray is one sheet, its floor as thick as its wall)`.
    pub fn words(&self) -> String {
        format!("\"{}\" {} ({})", self.field.label(), self.text, self.why)
    }
}

/// In the order of the Boxes page.
pub(super) fn list(job: &Job, build: &Build) -> Vec<Unused> {
    let design = &job.design;
    let fields: Vec<Field> = entered(design)
        .into_iter()
        .filter_map(|(field, is)| (is && !field.is_asked(design)).then_some(field))
        .collect();
    // Most jobs have none, and to show a field takes a copy of the job.
    if fields.is_empty() {
        return Vec::new();
    }
    let shown = show(job, &fields).into_iter();
    shown
        .map(|(field, shown)| Unused {
            field,
            text: shown.read_text(),
            why: why(field, design),
            grave: if field == Field::Closing || is_other_sheet(field, design, build) {
                Grave::Caution
            } else {
                Grave::Note
            },
        })
        .collect()
}

/// The entries that not every construction asks for, and whether there is one.
fn entered(design: &Design) -> [(Field, bool); 25] {
    [
        (Field::Floor, design.floor.is_some()),
        (Field::Corners, design.corners.is_some()),
        (Field::BendRule, design.bend_rule.is_some()),
        (Field::BendRadius, design.bend_radius.is_some()),
        (Field::CornerGap, design.corner_gap.is_some()),
        (Field::WeldSide, design.weld_side.is_some()),
        (Field::FrameLeg, design.frame_leg.is_some()),
        (Field::FrameThickness, design.frame_thickness.is_some()),
        (Field::PanelsHeld, design.held.is_some()),
        (Field::Rivet, design.rivet.is_some()),
        (Field::RivetPitch, design.rivet_pitch.is_some()),
        (Field::RivetHeads, design.rivet_heads.is_some()),
        (Field::Sealant, design.sealant.is_some()),
        (
            Field::Closing,
            design.closing.is_some_and(|closing| closing != Closing::Flange),
        ),
        (Field::FlangeOut, design.flange_out.is_some()),
        (Field::FlangeThickness, design.flange_thickness.is_some()),
        (Field::FlangeJoint, design.flange_joint.is_some()),
        (Field::CapOut, design.cap_out.is_some()),
        (Field::CapDeep, design.cap_deep.is_some()),
        (Field::CapHeld, design.cap_held.is_some()),
        (Field::ToggleOut, design.toggle_out.is_some()),
        (Field::Screw, design.screw.is_some()),
        (Field::ScrewHead, design.screw_head.is_some()),
        (Field::ScrewBelow, design.screw_below.is_some()),
        (Field::ScrewPitch, design.screw_pitch.is_some()),
    ]
}

fn why(field: Field, design: &Design) -> &'static str {
    let made = design.made();
    match field {
        Field::Closing => {
            "a frame of angle takes only a flat lid that is screwed to its ring: that is drawn, cut and bought"
        }
        Field::Floor => "a folded tray is one sheet, its floor as thick as its wall",
        Field::Corners if made == ConstructionName::Folded => "the walls of a tray are folded up from its floor",
        Field::Corners => "the panels of a frame end on its angle",
        Field::BendRule | Field::BendRadius | Field::CornerGap => "only a folded tray is bent",
        Field::WeldSide => "of a frame only the angle is welded, outside the panels",
        Field::FrameLeg | Field::FrameThickness | Field::PanelsHeld => "only a frame has angle round its panels",
        Field::Rivet | Field::RivetPitch | Field::RivetHeads => "nothing is riveted",
        Field::Sealant => "no panels are riveted",
        Field::FlangeOut | Field::FlangeThickness | Field::FlangeJoint if design.closed_by() != Closing::Flange => {
            "what closes the box has no flange"
        }
        Field::FlangeThickness if made == ConstructionName::Framed => "the ring of a frame is its flange",
        Field::FlangeOut => "the ring of a frame is its flange",
        Field::FlangeThickness | Field::FlangeJoint => "the lips of a tray are of its own sheet",
        Field::CapOut | Field::CapDeep | Field::CapHeld => "no cap closes the box",
        Field::ToggleOut => "no toggle clamps hold the lid",
        _ => "no screws hold the lid",
    }
}

/// Whether what is drawn in its place is a sheet of another thickness.
fn is_other_sheet(field: Field, design: &Design, build: &Build) -> bool {
    let (told, drawn) = match field {
        Field::Floor => (&design.floor, build.floor),
        Field::FlangeThickness if design.closed_by() == Closing::Flange => {
            (&design.flange_thickness, build.flange_thickness)
        }
        _ => return false,
    };
    let told = told.as_ref().and_then(|told| told.value(assumed::material(design)));
    told.is_some_and(|told| told != drawn)
}
