//! The liner as sheets to cut, and what is cut in place.

use enclosure::added::Lining;
use enclosure::weld::At;
use enclosure::{BoxSpec, Built, Role, Sheet, WallHole};
use tape::Length;

use super::AddedResult;
use crate::assumed::Build;
use crate::document::BatteryBox;
use crate::evaluate::fitting::hole_of;

/// What a liner asks for beyond its sheets as listed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LinerResult {
    /// Holes that run over a sheet's edge or into each other, by what they are for.
    pub in_place: Vec<String>,
    /// What stands at floor and walls, and rivets that stand in, which it is cut round, by name, with how many: dividers part it.
    pub round: Vec<(&'static str, u32)>,
}

impl LinerResult {
    /// How what is cut in place is done.
    pub const HOW: &'static str = "lay each sheet in when all is welded, mark through from the steel, and cut";

    /// What of the sheets is cut in place: `the liner's sheets are cut in place round what is fixed to the steel (4 x strip)`; `None` where
    /// they go in as listed.
    pub fn words(&self) -> Option<String> {
        let mut told: Vec<String> = Vec::new();
        if !self.round.is_empty() {
            let what = self.round.iter().map(|(name, count)| format!("{count} x {name}"));
            told.push(format!(
                "round what is fixed to the steel ({})",
                what.collect::<Vec<_>>().join(", ")
            ));
        }
        if !self.in_place.is_empty() {
            told.push(format!(
                "for holes that run over a sheet's edge or into each other ({})",
                self.in_place.join("; ")
            ));
        }
        (!told.is_empty()).then(|| format!("the liner's sheets are cut in place {}", told.join(", and ")))
    }
}

/// The liner of a box, as its design asks for; `None` without one.
pub(crate) fn lining(build: &Build, holes: Vec<WallHole>) -> Option<Lining> {
    (build.liner > Length::ZERO).then_some(Lining {
        sheet: Sheet {
            material: build.liner_material,
            thickness: build.liner,
        },
        holes,
        across: 0,
        dividers: Vec::new(),
    })
}

/// Lines the box as drawn, whatever was taped of it afterwards, as its other parts are, and notes what is left to cut in place.
pub(in crate::evaluate) fn line(
    (build, units): (&Build, tape::Units),
    spec: &BoxSpec,
    told: &BatteryBox,
    made: &mut Built,
    result: &mut AddedResult,
) {
    // A hole that could not be made in the steel is none in the liner.
    let own = told.fittings.iter().filter(|fitting| {
        let hole = hole_of(fitting);
        made.wall_holes.contains(&hole)
    });
    let through = own.map(|fitting| {
        let sizes = fitting.sizes();
        let hole = hole_of(fitting);
        // A nut or a body inside bears on the steel.
        let is_nutted = sizes.inward > Length::ZERO && sizes.across > hole.diameter;
        WallHole {
            diameter: if is_nutted { sizes.across } else { hole.diameter },
            ..hole
        }
    });
    // What keeps a cap on stands in from the walls.
    let through = through.chain(made.side_screws.iter().copied());
    let Some(mut lining) = lining(build, through.collect()) else {
        return;
    };
    // What is set in loose comes out again, and stands before the liner.
    if made.seams.iter().any(|seam| seam.at == At::Divider) {
        let dividers = made.added.iter().filter(|piece| piece.role == Role::Divider);
        for piece in dividers {
            lining.across = piece.thin;
            lining
                .dividers
                .push([piece.block.lo[piece.thin], piece.block.hi[piece.thin]]);
        }
        lining.dividers.sort_unstable();
    }
    match lining.group(spec) {
        Ok(lined) => {
            result.liner.in_place = lined
                .in_place
                .iter()
                .map(|hole| format!("{}, {}", hole.purpose.name(), hole.wall.name()))
                .collect();
            let stand = [Role::Standoff, Role::Lug, Role::HoldDownRod, Role::EyePlate];
            // What goes with the lid lies over no liner.
            let count = |role| {
                let of_role = made.added.iter().filter(|piece| piece.role == role);
                of_role.filter(|piece| !made.goes_with_lid(piece)).count()
            };
            let counted = stand.map(|role| (role.name(), u32::try_from(count(role)).unwrap_or(u32::MAX)));
            let [_, stand_in] = build.rivets_stand();
            let rivets = ("rivet", if stand_in > Length::ZERO { made.rivets } else { 0 });
            let counted = counted.into_iter().chain([rivets]);
            result.liner.round = counted.filter(|&(_, count)| count > 0).collect();
            made.add(lined.group);
        }
        Err(fault) => result.faults.push(fault.words(units)),
    }
}
