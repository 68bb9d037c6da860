//! Angles across a flat lid that keep it from giving.

use tape::Length;

use super::joined::{Joined, Lying, fillet};
use super::{AddedError, Group, OutOf, Piece, above_zero, apart, around, level, lid_sheet, under_lid, within};
use crate::strength::plate::{Edges, Panel};
use crate::weld::{At, Form, Side};
use crate::{BoxSpec, Built, Part, Role, Sheet, Wall};

/// Pieces of equal angle across the lid, along the shorter side of the box, one leg flat on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stiffeners {
    /// The middle of each along the longer side, from the inside of the wall.
    pub places: Vec<Length>,
    /// Whether they stand over the lid or hang under it.
    pub over: bool,
    /// Leg of the angle.
    pub leg: Length,
    /// Material and thickness of the angle.
    pub sheet: Sheet,
    /// What those under the lid stay clear of the walls at each end.
    pub play: Length,
    /// How they are held to the lid.
    pub joined: Joined,
}

impl Stiffeners {
    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for an angle without size, one outside the lid or on another, and a box without a lid.
    pub fn group(&self, spec: &BoxSpec, built: &Built) -> Result<Group, AddedError> {
        let t = self.sheet.thickness;
        above_zero("lid stiffeners, thickness", t)?;
        let range = [t + Length::from_nm(1), super::MOST];
        within("lid stiffeners, leg", self.leg, range, "take a wider angle")?;
        let Some(lid) = lid_sheet(spec) else {
            return Err(AddedError {
                what: "lid stiffeners",
                out: OutOf::Words {
                    given: "a box without a lid",
                    allowed: "a box with a lid",
                },
                mend: "give the box a lid",
            });
        };
        let long = spec.long_axis();
        let half = self.leg.half_down();
        let room = [half, spec.inside[long] - (self.leg - half)];
        for &place in &self.places {
            within(
                "lid stiffeners, place",
                place,
                room,
                "they lie over the inside of the box",
            )?;
        }
        apart(
            "lid stiffeners, from the middle of one to the next",
            &self.places,
            self.leg,
        )?;
        let short = spec.inside[1 - long];
        let ends = if self.over { -spec.wall.thickness } else { self.play };
        let length = short - ends * 2;
        above_zero("lid stiffeners, length", length)?;
        let under = under_lid(spec, built);
        let [lying, standing] = if self.over {
            let top = under + lid.thickness;
            [[top, top + t], [top + t, top + self.leg]]
        } else {
            [[under - t, under], [under - self.leg, under - t]]
        };
        let count = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        let mut pieces = Vec::new();
        for &place in &self.places {
            let across = around(place, self.leg);
            let along = [ends, ends + length];
            pieces.extend([(across, lying, 2), ([across[0], across[0] + t], standing, long)].map(
                |(across, up, thin)| Piece {
                    part: 0,
                    role: Role::Stiffener,
                    block: level(1 - long, along, across, up),
                    thin,
                },
            ));
        }
        let mut group = Group {
            parts: vec![Part::angle(Role::Stiffener, count, self.sheet, [length, self.leg])],
            pieces,
            ..Group::default()
        };
        let side = if self.over { Side::Outside } else { Side::Inside };
        let along = fillet(
            spec,
            (Role::Stiffener, t),
            (Wall::Lid, side),
            (At::Stiffener, Form::Lap, "along both edges of the flat leg"),
            (length, 2),
        );
        let starts: Vec<Length> = self.places.iter().map(|&place| around(place, self.leg)[0]).collect();
        let lying = Lying {
            wall: Wall::Lid,
            side,
            along: (1 - long, [ends, ends + length]),
            starts: &starts,
            line: t + (self.leg - t).half_down(),
            flat: self.leg - t,
        };
        self.joined.hold(&mut group, spec, &lying, along)?;
        if self.over {
            group.coat_area = length * (self.leg * 4) * i64::from(count);
        }
        Ok(group)
    }
}

/// The fewest stiffeners with which no field of the lid gives more than `most`, each field resting on all sides;
/// `None` when 16 will not do.
///
/// - `sides`: the lid between its supports.
/// - `load_kg`: spread evenly over the whole lid.
///
/// Source: the panel sums of [`crate::strength::plate`]; that a stiffener holds like an edge is taken for granted.
pub fn least_stiffeners(sides: [Length; 2], lid: Sheet, load_kg: f64, most: Length) -> Option<u32> {
    (0..=16).find(|&count| lid_gives_mm(sides, lid, load_kg, count).is_some_and(|gives| gives <= most.as_mm()))
}

/// How far a field of the lid gives in its middle, in millimetres; `None` for a lid without size.
pub(super) fn lid_gives_mm(sides: [Length; 2], lid: Sheet, load_kg: f64, stiffeners: u32) -> Option<f64> {
    let [long, short] = [sides[0].max(sides[1]), sides[0].min(sides[1])];
    let field = Length::from_nm(long.nm() / i64::from(stiffeners + 1));
    field_gives_mm([field, short], sides, lid, load_kg)
}

/// How far one field of a lid gives in its middle, in millimetres, its edges resting; `None` for one without size.
///
/// - `field`: its sides.
/// - `sides`: of the whole lid, over which `load_kg` is spread evenly.
pub fn field_gives_mm(field: [Length; 2], sides: [Length; 2], lid: Sheet, load_kg: f64) -> Option<f64> {
    let whole = Panel::new(sides, lid.thickness, Edges::Simple).ok()?;
    let panel = Panel::new(field, lid.thickness, Edges::Simple).ok()?;
    let figures = lid.material.stiffness();
    let pressure = whole.pressure_mpa(load_kg, 1.0);
    Some(panel.under(pressure, figures.e_mpa, figures.nu).deflection_mm)
}
