//! Whether a box can be built as told.

use tape::Length;

use crate::build::{Shell, cap_hold, lid, skeleton};
use crate::{
    BoxSpec, CapHold, Construction, Fastener, Flange, Folding, Frame, Gasket, Held, Lid, Role, Sheet, SideScrew,
    Skeleton, SpecError, Toggle, rivet,
};

/// The largest size of anything, as for a length that is typed in.
const LARGEST: Length = Length::mm(100_000);
/// Pitches along one side; far more than any lid has, so that a slip in the pitch cannot ask for millions of holes.
pub(crate) const MOST_INTERVALS: i64 = 1_000;

/// How much of a folded wall's height, inside, its bends take up: below, and above where it has lips.
pub(crate) fn folded_height(spec: &BoxSpec, folding: &Folding) -> [Length; 2] {
    let lips = matches!(spec.lid, Lid::Flat { flange: Some(_), .. });
    let above = spec.wall.thickness + folding.radius;
    [folding.radius, if lips { above } else { Length::ZERO }]
}

impl BoxSpec {
    /// Checks that the box can be built.
    ///
    /// # Errors
    ///
    /// [`SpecError`], the first thing found: sizes first, then what meets what.
    pub fn check(&self) -> Result<(), SpecError> {
        above_zero("inside length", self.inside[0])?;
        above_zero("inside width", self.inside[1])?;
        above_zero("inside depth", self.inside[2])?;
        above_zero("wall thickness", self.wall.thickness)?;
        above_zero("floor thickness", self.floor.thickness)?;
        match &self.construction {
            Construction::Welded => {}
            Construction::Folded(folding) => self.check_folding(folding)?,
            Construction::Framed(skeleton) => self.check_skeleton(skeleton)?,
        }
        match self.lid {
            Lid::None => {}
            Lid::Flat {
                sheet,
                flange,
                gasket,
                fastener,
                edge,
            } => {
                check_sheet_and_gasket(sheet, gasket)?;
                if let Some(flange) = flange {
                    self.check_flange(flange)?;
                }
                if let Some(fastener) = fastener {
                    self.check_fastener(fastener, flange, edge)?;
                }
            }
            Lid::Cap {
                sheet,
                out,
                deep,
                gasket,
                hold,
            } => {
                check_sheet_and_gasket(sheet, gasket)?;
                self.check_cap(sheet, out, deep, gasket)?;
                hold.map_or(Ok(()), |hold| self.check_hold(hold))?;
            }
        }
        self.frame.map_or(Ok(()), |frame| self.check_frame(frame))?;
        self.step.map_or(Ok(()), |step| step.check(self))?;
        if let Construction::Folded(folding) = self.construction {
            let shell = Shell::of(self);
            shell.tray(self, folding).check()?;
            lid::pan(self, &shell).map_or(Ok(()), |pan| pan.check())?;
        }
        Ok(())
    }

    /// The shorter of the two horizontal sizes over the walls.
    fn outside_short(&self) -> Length {
        self.inside[0].min(self.inside[1]) + self.wall.thickness * 2
    }

    /// What is told of the folding; whether the sheet can be folded so is checked once the lid is known to be sound.
    fn check_folding(&self, folding: &Folding) -> Result<(), SpecError> {
        zero_or_more("inside radius of the bends", folding.radius)?;
        zero_or_more("gap at the corners of the tray", folding.gap)?;
        zero_or_more("corner relief", folding.relief)?;
        let lip = match self.lid {
            Lid::Flat { flange, .. } => flange,
            Lid::None | Lid::Cap { .. } => None,
        };
        if self.floor != self.wall || lip.is_some_and(|lip| lip.thickness != self.wall.thickness) {
            return Err(SpecError::TwoSheets);
        }
        Ok(())
    }

    fn check_skeleton(&self, skeleton: &Skeleton) -> Result<(), SpecError> {
        let Lid::Flat {
            flange: Some(flange), ..
        } = self.lid
        else {
            return Err(SpecError::LidOnFrame);
        };
        if flange.width != skeleton.leg || flange.thickness != skeleton.thickness || self.frame.is_some() {
            return Err(SpecError::LidOnFrame);
        }
        self.check_frame(skeleton.foot())?;
        let shell = Shell::of(self);
        if skeleton::post_length(skeleton, &shell) <= Length::ZERO {
            return Err(SpecError::PartsMeet {
                first: "ring at the floor",
                second: "ring at the rim",
            });
        }
        if let Held::Riveted {
            hole, most_pitch, bead, ..
        } = skeleton.held
        {
            above_zero("rivet hole", hole)?;
            zero_or_more("bead of sealant", bead)?;
            let panels = [Role::Floor, Role::LongSide, Role::End];
            let edges = panels
                .into_iter()
                .filter_map(|role| skeleton::edges(skeleton, &shell, role));
            let needs = rivet::least_edge(hole);
            if let Some(has) = edges.flatten().min().filter(|&has| has < needs) {
                return Err(SpecError::RivetsOffAngle { has, needs });
            }
            let longest = self.inside[0].max(self.inside[1]) + self.wall.thickness * 2;
            let least = rivet::least_pitch(hole);
            if most_pitch < least || most_pitch * MOST_INTERVALS < longest {
                return Err(SpecError::RivetsTooClose { least });
            }
        }
        Ok(())
    }

    fn check_flange(&self, flange: Flange) -> Result<(), SpecError> {
        above_zero("flange width", flange.width)?;
        above_zero("flange thickness", flange.thickness)?;
        if flange.thickness > self.inside[2] {
            return Err(SpecError::PartsMeet {
                first: "flange",
                second: "floor",
            });
        }
        Ok(())
    }

    fn check_fastener(
        &self,
        fastener: Fastener,
        flange: Option<Flange>,
        edge: Option<Length>,
    ) -> Result<(), SpecError> {
        above_zero("screw diameter", fastener.diameter)?;
        above_zero("screw hole", fastener.hole)?;
        zero_or_more("screw head height", fastener.head_height)?;
        zero_or_more("screw length below the flange", fastener.below)?;
        above_zero("screw pitch", fastener.most_pitch)?;
        if fastener.hole < fastener.diameter {
            return Err(SpecError::HoleTooSmall);
        }
        let overhang = flange.map_or(Length::ZERO, |flange| flange.width);
        let edge = edge
            .or(flange.map(|flange| flange.width.half_down()))
            .ok_or(SpecError::ScrewsWithoutFlange)?;
        above_zero("distance of the hole line from the lid's edge", edge)?;
        let line_short = self.outside_short() + overhang * 2 - edge * 2;
        let breaks_out = edge * 2 < fastener.hole
            || line_short < fastener.hole * 2
            || flange.is_some_and(|flange| edge * 2 + fastener.hole > flange.width * 2);
        if breaks_out {
            return Err(SpecError::HoleOffFlange);
        }
        let longest = self.inside[0].max(self.inside[1]) + (self.wall.thickness + overhang) * 2;
        if fastener.most_pitch < fastener.hole * 2 || fastener.most_pitch * MOST_INTERVALS < longest {
            return Err(SpecError::PitchTooSmall);
        }
        Ok(())
    }

    fn check_cap(&self, sheet: Sheet, out: Length, deep: Length, gasket: Option<Gasket>) -> Result<(), SpecError> {
        above_zero("distance of the skirt's outside from the wall", out)?;
        above_zero("depth of the skirt", deep)?;
        if out < sheet.thickness {
            return Err(SpecError::SkirtInsideWall);
        }
        let top_to_floor = sheet.thickness + squeezed(gasket) + self.inside[2];
        if deep <= sheet.thickness || deep > top_to_floor {
            return Err(SpecError::SkirtDepth);
        }
        Ok(())
    }

    fn check_hold(&self, hold: CapHold) -> Result<(), SpecError> {
        let longest = self.inside[0].max(self.inside[1]);
        let most_pitch = match hold {
            CapHold::Screws(SideScrew { fastener, nut_hole, .. }) => {
                above_zero("screw diameter", fastener.diameter)?;
                above_zero("screw hole", fastener.hole)?;
                above_zero("hole of the rivet nut", nut_hole)?;
                zero_or_more("screw head height", fastener.head_height)?;
                zero_or_more("what the rivet nut stands in from the wall", fastener.below)?;
                if fastener.hole < fastener.diameter {
                    return Err(SpecError::HoleTooSmall);
                }
                let larger = fastener.hole.max(nut_hole);
                // From the hole to the edge at least half its diameter.
                let overlap = cap_hold::screwed(self).map_or(Length::ZERO, |(_, overlap)| overlap);
                // The wall at a step is lower than the others.
                let lowest = self.inside[2] - self.step.map_or(Length::ZERO, |step| step.rise);
                let shorter = self.inside[0].min(self.inside[1]);
                if overlap < larger * 2 || overlap > lowest || shorter < larger * 4 {
                    return Err(SpecError::HoleOffSkirt);
                }
                if fastener.most_pitch < larger * 2 {
                    return Err(SpecError::PitchTooSmall);
                }
                fastener.most_pitch
            }
            CapHold::Toggles(Toggle { out, most_pitch }) => {
                zero_or_more("what a toggle clamp stands out", out)?;
                most_pitch
            }
        };
        above_zero("pitch of what holds the cap", most_pitch)?;
        if most_pitch * MOST_INTERVALS < longest {
            return Err(SpecError::PitchTooSmall);
        }
        Ok(())
    }

    fn check_frame(&self, frame: Frame) -> Result<(), SpecError> {
        above_zero("frame leg", frame.leg)?;
        above_zero("frame thickness", frame.thickness)?;
        if frame.grams_per_m <= 0 {
            return Err(SpecError::NotAboveZero {
                what: "frame mass per metre",
            });
        }
        if frame.thickness >= frame.leg {
            return Err(SpecError::PartsMeet {
                first: "frame's upright",
                second: "frame's foot",
            });
        }
        // Two feet under the floor, each reaching in from the outside of its upright.
        if frame.leg * 2 > self.outside_short() + frame.thickness * 2 {
            return Err(SpecError::PartsMeet {
                first: "frame",
                second: "frame's other side",
            });
        }
        // Heights over the floor's underside.
        let upright_top = frame.leg - frame.thickness;
        let rim = self.inside[2] + self.floor.thickness;
        let (lowest, what) = match self.lid {
            Lid::Flat {
                flange: Some(flange), ..
            } => (rim - flange.thickness, "lid's flange"),
            Lid::Cap {
                sheet, gasket, deep, ..
            } => (rim + squeezed(gasket) + sheet.thickness - deep, "cap's skirt"),
            Lid::None | Lid::Flat { flange: None, .. } => (rim, "rim"),
        };
        if upright_top > lowest {
            return Err(SpecError::PartsMeet {
                first: "frame",
                second: what,
            });
        }
        Ok(())
    }
}

/// The thickness of a gasket under a closed lid; zero without one.
pub(crate) fn squeezed(gasket: Option<Gasket>) -> Length {
    gasket.map_or(Length::ZERO, |gasket| gasket.squeezed)
}

fn check_sheet_and_gasket(sheet: Sheet, gasket: Option<Gasket>) -> Result<(), SpecError> {
    above_zero("lid thickness", sheet.thickness)?;
    let Some(gasket) = gasket else { return Ok(()) };
    above_zero("gasket thickness", gasket.free)?;
    above_zero("gasket thickness when squeezed", gasket.squeezed)?;
    // As thick squeezed as free passes: hard gaskets are told so.
    if gasket.squeezed > gasket.free {
        Err(SpecError::GasketGrows)
    } else {
        Ok(())
    }
}

fn above_zero(what: &'static str, length: Length) -> Result<(), SpecError> {
    if length <= Length::ZERO {
        Err(SpecError::NotAboveZero { what })
    } else {
        at_most(what, length)
    }
}

fn zero_or_more(what: &'static str, length: Length) -> Result<(), SpecError> {
    if length.is_negative() {
        Err(SpecError::BelowZero { what })
    } else {
        at_most(what, length)
    }
}

fn at_most(what: &'static str, length: Length) -> Result<(), SpecError> {
    if length > LARGEST {
        Err(SpecError::TooLarge { what })
    } else {
        Ok(())
    }
}

#[cfg(test)]
mod tests;
