//! The lid, with the flange it is screwed to or the skirt that hangs from it.

use std::iter;

use tape::{Area, Length};

use super::RimBand;
use super::cap_hold;
use super::holes::{Holes, Place};
use super::shell::Shell;
use super::skeleton;
use super::tray::Tray;
use crate::check::squeezed;
use crate::{BoxSpec, Construction, EndCut, Fastener, Flange, Fold, Gasket, Joint, Lid, Part, Role, Sheet};

/// What closes the box.
#[derive(Default)]
pub(super) struct Closed {
    /// Flange bars and lid, or cap.
    pub(super) parts: Vec<Part>,
    /// What stands out beyond the body.
    pub(super) rims: Vec<RimBand>,
    /// From the rim to the top of the lid.
    pub(super) above_rim: Length,
    /// How far it reaches out from the walls on every side.
    pub(super) overhang: Length,
    /// Height of screw heads above the lid.
    pub(super) head_height: Length,
    /// The lid's holes.
    pub(super) holes: Option<Holes>,
    /// Surface to coat beyond the shell's own.
    pub(super) coat_area: Area,
    /// Whether it is sealed.
    pub(super) gasket: bool,
}

impl Closed {
    /// How long the gasket is along the line of the screws, or where there are none once round the walls.
    pub(super) fn gasket_length(&self, shell: &Shell) -> Length {
        let line = |holes: &Holes| (holes.pattern.line_length + holes.pattern.line_width) * 2;
        match &self.holes {
            _ if !self.gasket => Length::ZERO,
            Some(holes) => line(holes),
            None => shell.girth(),
        }
    }

    pub(super) fn of(spec: &BoxSpec, shell: &Shell) -> Self {
        match spec.lid {
            Lid::None => Self::default(),
            Lid::Flat {
                sheet,
                flange,
                gasket,
                fastener,
                edge,
            } => {
                let flat = Flat {
                    sheet,
                    flange,
                    gasket,
                    fastener,
                    edge,
                };
                flat.close(spec, shell)
            }
            Lid::Cap {
                sheet,
                out,
                deep,
                gasket,
                hold: _,
            } => Cap {
                sheet,
                out,
                deep,
                gasket,
            }
            .close(spec, shell),
        }
    }
}

/// A flat lid, as in [`Lid::Flat`].
struct Flat {
    sheet: Sheet,
    flange: Option<Flange>,
    gasket: Option<Gasket>,
    fastener: Option<Fastener>,
    edge: Option<Length>,
}

impl Flat {
    fn close(&self, spec: &BoxSpec, shell: &Shell) -> Closed {
        let overhang = self.flange.map_or(Length::ZERO, |flange| flange.width);
        let over_walls = shell.within_angle();
        let over_lid = over_walls.map(|side| side + overhang * 2);
        let holes = self
            .fastener
            .zip(self.hole_line())
            .map(|(fastener, edge)| Holes::round(over_lid, edge, fastener.hole, fastener.most_pitch));

        let mut parts = match (self.flange, &spec.construction) {
            (None, _) | (_, Construction::Folded(_)) => Vec::new(),
            (Some(flange), Construction::Welded) => flange_bars(flange, spec, over_walls, holes.as_ref()),
            (Some(_), Construction::Framed(skeleton)) => {
                skeleton::ring(skeleton, spec.wall.material, over_walls, holes.as_ref()).to_vec()
            }
        };
        let mut plate = Part::plate(Role::LidPlate, 1, self.sheet, over_lid);
        if let Some(holes) = &holes {
            plate.holes = holes.on(&Place::lid(over_lid));
        }
        parts.push(plate);

        let above_rim = squeezed(self.gasket) + self.sheet.thickness;
        Closed {
            parts,
            rims: self.rims(above_rim, overhang),
            above_rim,
            overhang: overhang + shell.line,
            head_height: self.fastener.map_or(Length::ZERO, |fastener| fastener.head_height),
            holes,
            coat_area: self.coat_area(over_walls, over_lid),
            gasket: self.gasket.is_some(),
        }
    }

    /// Distance of the hole line from the lid's edge; `None` when neither it nor a flange is given.
    fn hole_line(&self) -> Option<Length> {
        self.edge.or(self.flange.map(|flange| flange.width.half_down()))
    }

    /// The flange with the lid's edge, and the screws as one band round it: their heads stand within the flange.
    fn rims(&self, above_rim: Length, overhang: Length) -> Vec<RimBand> {
        let flange = self.flange.map(|flange| RimBand {
            is_solid: true,
            out: overhang,
            below_top: flange.thickness + above_rim,
            above_top: Length::ZERO,
        });
        let screws = self.fastener.map(|fastener| RimBand {
            is_solid: true,
            out: overhang,
            // Without a flange the screws end inside the body.
            below_top: flange.map_or(Length::ZERO, |band| band.below_top + fastener.below),
            above_top: fastener.head_height,
        });
        flange.into_iter().chain(screws).collect()
    }

    /// Top and edge of the lid, both faces of the flange and its edge.
    fn coat_area(&self, over_walls: [Length; 2], over_lid: [Length; 2]) -> Area {
        let [long, short] = over_lid;
        let girth = (long + short) * 2;
        let flange = self.flange.map_or(Area::default(), |flange| {
            (long * short - over_walls[0] * over_walls[1]) * 2 + girth * flange.thickness
        });
        long * short + girth * self.sheet.thickness + flange
    }
}

/// Two long and two short bars of the flange, with the holes that lie wholly on one bar.
fn flange_bars(flange: Flange, spec: &BoxSpec, [long, short]: [Length; 2], holes: Option<&Holes>) -> Vec<Part> {
    let sheet = Sheet {
        material: spec.wall.material,
        thickness: flange.thickness,
    };
    let width = flange.width;
    let over_flange = [long + width * 2, short + width * 2];
    // A butted short bar starts where the long bar beside it ends.
    let (short_length, short_start, end) = match flange.joint {
        Joint::Mitred => (over_flange[1], Length::ZERO, EndCut::Mitre45),
        Joint::Butt => (short, width, EndCut::Square),
    };
    let mut long_bar = Part::flat_bars(Role::FlangeLong, sheet, [over_flange[0], width], end);
    let mut short_bar = Part::flat_bars(Role::FlangeShort, sheet, [short_length, width], end);
    if let Some(holes) = holes {
        long_bar.holes = holes.on(&Place::long_bar(over_flange, width, end));
        short_bar.holes = holes.on(&Place::short_bar(over_flange, short_start, width, end));
    }
    vec![long_bar, short_bar]
}

/// A cap, as in [`Lid::Cap`].
struct Cap {
    sheet: Sheet,
    out: Length,
    deep: Length,
    gasket: Option<Gasket>,
}

impl Cap {
    /// The plate covers the skirt, whose strips stand under it, flush with its edge. On a folded box the cap is folded
    /// too, of the same outside sizes.
    fn close(&self, spec: &BoxSpec, shell: &Shell) -> Closed {
        let thickness = self.sheet.thickness;
        let [long, short] = shell.outside().map(|side| side + self.out * 2);
        let hang = self.deep - thickness;
        let between = short - thickness * 2;
        let skirt = RimBand {
            is_solid: true,
            out: self.out,
            below_top: self.deep,
            above_top: Length::ZERO,
        };
        let band = cap_hold::band(spec, self.out);
        Closed {
            parts: match pan(spec, shell) {
                Some(pan) => vec![pan.part(Role::PanLid, Fold::Up)],
                None => vec![
                    Part::plate(Role::LidPlate, 1, self.sheet, [long, short]),
                    Part::plate(Role::SkirtLong, 2, self.sheet, [long, hang]),
                    Part::plate(Role::SkirtShort, 2, self.sheet, [between, hang]),
                ],
            },
            rims: iter::once(skirt).chain(band).collect(),
            above_rim: squeezed(self.gasket) + thickness,
            overhang: band.map_or(self.out, |band| band.out),
            // Top, the outside down to the skirt's lower edge, the skirt's inside.
            coat_area: long * short + (long + short) * 2 * self.deep + (long + short - thickness * 4) * 2 * hang,
            gasket: self.gasket.is_some(),
            ..Closed::default()
        }
    }
}

/// The pan of a folded box that is closed by a cap: of the cap's outside sizes, from one sheet.
pub(crate) fn pan(spec: &BoxSpec, shell: &Shell) -> Option<Tray> {
    let (Construction::Folded(folding), Lid::Cap { sheet, out, deep, .. }) = (spec.construction, spec.lid) else {
        return None;
    };
    let thickness = sheet.thickness;
    Some(Tray {
        inside: shell.outside().map(|side| side + (out - thickness) * 2),
        depth: deep - thickness,
        lip: None,
        sheet,
        folding,
    })
}
