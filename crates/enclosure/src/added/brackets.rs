//! Brackets of angle on two opposite walls, which carry the box on the truck's frame.

use tape::Length;

use super::joined::fillet;
use super::{AddedError, Group, Piece, above_zero, around, at_wall, thin_axis, within};
use crate::weld::{At, Draft, Form, Side};
use crate::{BoxSpec, Built, Construction, Hole, Lid, Part, Purpose, Role, Sheet, Wall};

/// How a bracket reaches from the wall to what carries it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// The edge of the level leg is welded to the wall; the other leg hangs down from its far edge, flat against the web
    /// of a rail, and is bolted through it.
    Web,
    /// The upright leg is welded flat to the wall; the level leg stands out from its top, lies on what carries it, and is
    /// bolted down through it.
    Foot,
}

/// Brackets of equal angle on one wall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Brackets {
    /// The wall: one of the four upright ones.
    pub wall: Wall,
    /// The middle of each along the wall: from the left on front and rear, from the front on left and right.
    pub places: Vec<Length>,
    /// Height of the top of the level leg above the floor, inside.
    pub up: Length,
    /// How they reach out.
    pub reach: Reach,
    /// Material and thickness of the angle.
    pub sheet: Sheet,
    /// Leg of the angle.
    pub leg: Length,
    /// Length of each piece.
    pub length: Length,
    /// Bolts of each.
    pub bolts: u32,
    /// Their holes.
    pub hole: Length,
    /// What coatings and the shop's limits may take of the room between them and the skirt of a cap.
    pub under_cap: Length,
}

/// Places of `count` pieces along a side, each in the middle of its equal share of it.
pub fn spread_evenly(count: u32, side: Length) -> Vec<Length> {
    let share = |i: i64| Length::from_nm(side.nm() * (2 * i + 1) / (2 * i64::from(count)));
    (0..i64::from(count)).map(share).collect()
}

impl Brackets {
    /// The middle of a bracket's bolts along its own length, from its end.
    pub fn bolts_along(&self) -> Vec<Length> {
        spread_evenly(self.bolts, self.length)
    }

    /// The least leg that such holes leave metal on both sides in.
    pub const fn least_leg(thickness: Length, hole: Length) -> Length {
        Length::from_nm(thickness.nm() + hole.nm() + 2)
    }

    /// How far the bolts' line is from the outer edge of the leg they are in, where both legs meet.
    pub fn bolt_line(&self) -> Length {
        self.sheet.thickness + (self.leg - self.sheet.thickness).half_down()
    }

    /// Where the bolts of a web bracket are: along the wall, and up from the floor.
    pub fn bolts_in_web(&self) -> Vec<[Length; 2]> {
        let up = self.up - self.bolt_line();
        let of = |&place: &Length| {
            let from = around(place, self.length)[0];
            self.bolts_along().into_iter().map(move |bolt| [from + bolt, up])
        };
        self.places.iter().flat_map(of).collect()
    }

    /// The middles of all its bolts where they go through the angle, in the frame of the space inside the steel.
    pub fn bolts_at(&self, spec: &BoxSpec, built: &Built) -> Vec<[Length; 3]> {
        let (out, up) = match self.reach {
            Reach::Web => (self.leg - self.sheet.thickness.half_down(), self.up - self.bolt_line()),
            Reach::Foot => (self.bolt_line(), self.up),
        };
        let of = |&place: &Length| {
            let from = around(place, self.length)[0];
            let at = move |bolt: Length| {
                let out = built.beside + out;
                at_wall(spec, self.wall, [from + bolt; 2], [out; 2], [up; 2]).lo
            };
            self.bolts_along().into_iter().map(at)
        };
        self.places.iter().flat_map(of).collect()
    }

    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for sizes that make no bracket, one that sticks out beyond its wall, stands in the rim, runs into its
    /// neighbour, or whose holes break out.
    pub fn group(&self, spec: &BoxSpec, built: &Built) -> Result<Group, AddedError> {
        let t = self.sheet.thickness;
        above_zero("brackets, thickness", t)?;
        above_zero("brackets, length", self.length)?;
        above_zero("brackets, hole", self.hole)?;
        within(
            "brackets, leg",
            self.leg,
            [Self::least_leg(t, self.hole), super::MOST],
            "take a wider angle, or smaller bolts",
        )?;
        let share = Length::from_nm(self.length.nm() / i64::from(self.bolts.max(1)));
        within(
            "brackets, length for each bolt",
            share,
            [self.hole + Length::from_nm(1), super::MOST],
            "make the brackets longer, or take fewer or smaller bolts",
        )?;
        let along = usize::from(matches!(self.wall, Wall::Front | Wall::Rear));
        let side = spec.inside[along];
        let half = self.length.half_down();
        let room = [half - built.beside, side + built.beside - (self.length - half)];
        for &place in &self.places {
            within(
                "brackets, place along the wall",
                place,
                room,
                "move it, or make it shorter",
            )?;
        }
        let mut sorted = self.places.clone();
        sorted.sort_unstable();
        for pair in sorted.windows(2) {
            within(
                "brackets, from the middle of one to the next",
                pair[1] - pair[0],
                [self.length, super::MOST],
                "move them apart, or take fewer or shorter ones",
            )?;
        }
        let range = Self::heights(spec, built, t, self.under_cap);
        within(
            "brackets, top of the level leg above the floor",
            self.up,
            range,
            "a bracket is welded to the wall below the rim; on a frame of angle, to the ring at the floor",
        )?;
        if self.places.iter().any(|&place| self.is_over_step(spec, built, place)) {
            let foot = match self.reach {
                Reach::Web => t,
                // Its upright leg is welded along its foot, too.
                Reach::Foot => self.leg,
            };
            let rise = built.step.map_or(Length::ZERO, |step| step.rise);
            within(
                "brackets over the step, top of the level leg above the deep floor",
                self.up,
                [rise + foot - built.under, range[1]],
                "lower it stands in the air, where the wall lacks its corner: set it higher, or beside the step",
            )?;
        }
        Ok(self.made(spec, built))
    }

    /// Whether any of a bracket is where the wall begins only over the raised floor: at the step, or in part beside it.
    fn is_over_step(&self, spec: &BoxSpec, built: &Built, place: Length) -> bool {
        let Some(step) = built.step else { return false };
        let along = usize::from(matches!(self.wall, Wall::Front | Wall::Rear));
        if along != step.axis() {
            return self.wall == step.at;
        }
        step.is_over(around(place, self.length), spec.inside[along]) != Some(false)
    }

    /// The least and the greatest height of the top of the level leg above the floor: below the rim's flange, which
    /// stands out where the bracket does; on a frame of angle, which stands proud of the panels, within its foot.
    ///
    /// The skirt of a cap comes down as the gasket gives: it stays clear of the bracket by `under_cap`, and by as much as the
    /// gasket is squeezed once more, so that the lid never lands on a bracket.
    pub fn heights(spec: &BoxSpec, built: &Built, thickness: Length, under_cap: Length) -> [Length; 2] {
        let top = spec.inside[2] + built.above_rim;
        // The foot of a frame under the box is a band, too: from the floor up.
        let rims = built.rims.iter().filter(|band| band.above_top >= Length::ZERO);
        let lowest_rim = rims.map(|band| top - band.below_top).min();
        let lowest_rim = match spec.lid {
            Lid::Cap { gasket, .. } => {
                let gives = gasket.map_or(Length::ZERO, |gasket| gasket.free - gasket.squeezed);
                lowest_rim.map(|rim| rim - under_cap - gives)
            }
            Lid::None | Lid::Flat { .. } => lowest_rim,
        };
        let highest = lowest_rim.unwrap_or(spec.inside[2]).min(spec.inside[2]);
        let highest = match spec.construction {
            Construction::Framed(skeleton) => (skeleton.leg - built.under).min(highest),
            Construction::Welded | Construction::Folded(_) => highest,
        };
        [thickness - built.under, highest]
    }

    fn made(&self, spec: &BoxSpec, built: &Built) -> Group {
        let (t, leg, up) = (self.sheet.thickness, self.leg, self.up);
        let count = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        let mut part = Part::angle(Role::Bracket, count, self.sheet, [self.length, leg]);
        let hole = |x: Length| Hole {
            x,
            y: self.bolt_line(),
            diameter: self.hole,
            purpose: Purpose::MountBolt,
        };
        part.holes = self.bolts_along().into_iter().map(hole).collect();
        let from = |out: Length| built.beside + out;
        let mut pieces = Vec::new();
        for &place in &self.places {
            let along = around(place, self.length);
            let legs = match self.reach {
                Reach::Web => [
                    ([Length::ZERO, leg], [up - t, up], 2),
                    ([leg - t, leg], [up - leg, up - t], thin_axis(self.wall)),
                ],
                Reach::Foot => [
                    ([Length::ZERO, t], [up - leg, up], thin_axis(self.wall)),
                    ([t, leg], [up - t, up], 2),
                ],
            };
            pieces.extend(legs.map(|(out, heights, thin)| Piece {
                part: 0,
                role: Role::Bracket,
                block: at_wall(spec, self.wall, along, out.map(from), heights),
                thin,
            }));
        }
        Group {
            coat_area: self.length * (leg * 4) * i64::from(count),
            parts: vec![part],
            pieces,
            seams: self.seams(spec, count),
            ..Group::default()
        }
    }

    /// Outside, on the wall: of a web bracket on both faces of the level leg, of a foot all round the upright one.
    fn seams(&self, spec: &BoxSpec, count: u32) -> Vec<Draft> {
        let part = (Role::Bracket, self.sheet.thickness);
        let seam = |form, place, length| {
            let where_it_runs = (At::Bracket, form, place);
            fillet(
                spec,
                part,
                (self.wall, Side::Outside),
                where_it_runs,
                (length, count * 2),
            )
        };
        match self.reach {
            Reach::Web => vec![seam(Form::Tee, "over and under the level leg", self.length)],
            Reach::Foot => vec![
                seam(Form::Lap, "along head and foot of the upright leg", self.length),
                seam(Form::Lap, "up both ends of the upright leg", self.leg),
            ],
        }
    }
}
