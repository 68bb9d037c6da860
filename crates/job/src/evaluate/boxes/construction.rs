//! What the design asks of every box of a job: the room it keeps between modules and steel, and how the steel is made.

use enclosure::RimBand;
use enclosure::build::Built;
use enclosure::stock::rivet_nut;
use enclosure::{BoxSpec, CapHold, Fastener, Flange, Gasket, Lid, Sheet, SideScrew, Toggle};
use geometry::fit::Rim;
use geometry::{Face, Faces};
use tape::Length;

use crate::assumed::{Build, Trust};
use crate::document::{CapHeldName, Closing};
use crate::evaluate::welds;

/// The allowances from the inside of the liner outward and from it inward, as every box of the job has them.
pub(crate) struct Allowances {
    /// Room between liner and module, whatever the service space.
    pub(crate) fit: Faces<Length>,
    /// Least room beyond it; service space counts within.
    pub(crate) room: Faces<Length>,
    /// Liner on each face.
    pub(crate) liner: Faces<Length>,
    /// Coating on every outer face.
    pub(crate) coating: Length,
    /// What the room beyond the fitting room has to be at the walls for square edges to clear beads and bends in the
    /// corners; within `room`.
    pub(crate) corner: Length,
    /// The bay's length.
    pub(crate) bay: Length,
    /// What hold-down bars and stiffeners under the lid take over the modules; within `room`.
    pub(crate) over: Length,
    /// What modules stand on; within `room`.
    pub(crate) under: Length,
}

pub(crate) fn allowances(build: &Build, trust: &Trust) -> Allowances {
    let mut room = Faces::all(Length::ZERO);
    room[Face::Front] = build.room_ends;
    room[Face::Rear] = build.room_ends;
    room[Face::Top] = build.room_over.max(build.over_modules);
    room[Face::Bottom] = build.under_modules;
    let corner = (welds::Fills::of(build).off_walls(build.liner) - build.liner - build.fit).max(Length::ZERO);
    for wall in [Face::Front, Face::Rear, Face::Left, Face::Right] {
        room[wall] = room[wall]
            .max(corner)
            .max(build.beside_modules - build.liner - build.fit);
    }
    Allowances {
        fit: Faces::floor_walls_top(Length::ZERO, build.fit, Length::ZERO),
        room,
        liner: Faces::floor_walls_top(build.liner, build.liner, Length::ZERO),
        coating: trust.coating,
        corner,
        bay: build.bay,
        over: build.over_modules,
        under: build.under_modules,
    }
}

/// The construction of a box with this much space inside the steel.
pub(crate) fn spec(build: &Build, inside: [Length; 3]) -> BoxSpec {
    let sheet = |thickness| Sheet {
        material: build.material,
        thickness,
    };
    let gasket = (build.gasket > Length::ZERO).then_some(Gasket {
        free: build.gasket,
        squeezed: build.gasket_squeezed,
    });
    let fastener = Fastener {
        diameter: build.screw,
        hole: clearance_hole(build.screw),
        head_height: build.screw_head,
        below: build.screw_below,
        most_pitch: build.screw_pitch,
    };
    let lid = match build.closing {
        Closing::Flange => Lid::Flat {
            sheet: sheet(build.lid),
            flange: Some(Flange {
                width: build.flange_out,
                thickness: build.flange_thickness,
                joint: build.flange_joint,
            }),
            gasket,
            fastener: Some(fastener),
            edge: None,
        },
        Closing::Cap => Lid::Cap {
            sheet: sheet(build.lid),
            out: build.cap_out,
            deep: build.cap_deep,
            gasket,
            hold: match build.cap_held {
                CapHeldName::Screws => {
                    let nut = rivet_nut(build.screw);
                    Some(CapHold::Screws(SideScrew {
                        fastener,
                        nut_hole: nut.hole,
                        nut_rim: nut.rim,
                    }))
                }
                CapHeldName::Toggles => Some(CapHold::Toggles(Toggle {
                    out: build.toggle_out,
                    most_pitch: build.screw_pitch,
                })),
                CapHeldName::Nothing => None,
            },
        },
        Closing::Flat => Lid::Flat {
            sheet: sheet(build.lid),
            flange: None,
            gasket,
            fastener: None,
            edge: None,
        },
    };
    BoxSpec {
        inside,
        wall: sheet(build.wall),
        floor: sheet(build.floor),
        construction: build.construction,
        corners: build.corners,
        lid,
        frame: None,
        step: None,
    }
}

/// A medium clearance hole: a tenth larger than the screw, rounded up to half a millimetre.
pub(crate) fn clearance_hole(screw: Length) -> Length {
    Length::from_mm_up(screw.as_mm() * 1.1).round_up_to(Length::tenths_mm(5))
}

/// The bands round a coated body, as the automatic layout and the clearances take them.
pub(crate) fn rims(built: &Built, coating: Length) -> Vec<Rim> {
    around(&built.rims, coating)
}

/// Those of them that are solid all round: what is let into a wall runs into them wherever it is along it.
pub(crate) fn solid_rims(built: &Built, coating: Length) -> Vec<Rim> {
    around(built.solid_rims(), coating)
}

fn around<'a>(bands: impl IntoIterator<Item = &'a RimBand>, coating: Length) -> Vec<Rim> {
    bands
        .into_iter()
        .map(|band| Rim {
            out: band.out,
            below_top: band.below_top + coating * 2,
            above_top: band.above_top,
        })
        .collect()
}
