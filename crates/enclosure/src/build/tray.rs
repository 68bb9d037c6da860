//! Sheets folded up on four sides: the tray of a folded box, with or without lips, and a pan lid.
//!
//! The flat sheet is drawn from its inside face, its lower left corner at 0, 0. Each wall begins at the floor's tangent
//! line and ends, on both sides, a gap short of the inside corner; the corner between two walls is a groove for the
//! weld. Where two floor bends meet, a hole at the crossing of their inside tangent lines takes the corner of the notch
//! away, so that nothing tears.

use tape::Length;

use super::holes::{Holes, Place};
use crate::part::{area_within, outline};
use crate::{Bend, BendLine, EndCut, Fold, Folding, Hole, Part, Role, Sheet, SpecError, Vertex};

/// A sheet with four walls to fold up.
pub(crate) struct Tray {
    /// Between the walls, along the longer side and the shorter one.
    pub(crate) inside: [Length; 2],
    /// From the floor to the rim.
    pub(crate) depth: Length,
    /// How far lips reach out from the walls; none when the rim is bare.
    pub(crate) lip: Option<Length>,
    /// What it is folded from.
    pub(crate) sheet: Sheet,
    /// How.
    pub(crate) folding: Folding,
}

/// Distances from the edge of the flat sheet inward; the same on all four sides.
struct Stations {
    /// The lip's tangent line on the lip's side; zero without lips.
    lip: Length,
    /// The middle line of the lip's bend.
    lip_bend: Length,
    /// The middle line of the floor's bend.
    floor_bend: Length,
    /// The floor's tangent line.
    floor: Length,
    /// Where the walls of the neighbouring sides end.
    notch: Length,
}

impl Tray {
    fn bend(&self) -> Bend {
        Bend::square(self.folding.radius, self.sheet.thickness, self.folding.rule)
    }

    fn stations(&self) -> Stations {
        let (r, t) = (self.folding.radius, self.sheet.thickness);
        let allowance = self.bend().allowance();
        let half = allowance.half_down();
        let [lip, above, wall] = match self.lip {
            // The lip's top is level with the rim, so its bend begins its thickness and radius below.
            Some(lip) => [lip - r, allowance, self.depth - t - r * 2],
            None => [Length::ZERO, Length::ZERO, self.depth - r],
        };
        let floor = lip + above + wall + allowance;
        Stations {
            lip,
            lip_bend: lip + half,
            floor_bend: floor - allowance + half,
            floor,
            notch: floor - r + self.folding.gap,
        }
    }

    /// Length and width of the flat sheet.
    ///
    /// `inside - 2 r + 2 (floor's tangent line)`: the straight lengths and the allowances of the bends, which is the
    /// outside legs less a deduction for each bend.
    pub(crate) fn blank(&self) -> [Length; 2] {
        let floor = self.stations().floor;
        self.inside.map(|side| side - self.folding.radius * 2 + floor * 2)
    }

    /// How far from the sheet's edge a place on a wall lies that is `up` above the floor inside, between the bends.
    pub(super) fn edge_to(&self, up: Length) -> Length {
        let stations = self.stations();
        stations.floor - self.bend().allowance() - (up - self.folding.radius)
    }

    /// Checks that it can be folded.
    pub(crate) fn check(&self) -> Result<(), SpecError> {
        let (r, t) = (self.folding.radius, self.sheet.thickness);
        let short = |what| Err(SpecError::TooShortToFold { what });
        if self.inside.iter().any(|&side| side <= r * 2) {
            return short("each side of the tray");
        }
        let wall = self.depth - r - self.lip.map_or(Length::ZERO, |_| t + r);
        if wall <= Length::ZERO {
            return short("the wall of the tray");
        }
        let stations = self.stations();
        if let Some(lip) = self.lip {
            if stations.lip <= Length::ZERO {
                return short("the lip");
            }
            if stations.notch - t - lip < stations.lip {
                return Err(SpecError::LipsOverlap);
            }
        }
        if self.folding.gap.is_negative() || self.folding.gap >= r + t {
            return Err(SpecError::TooShortToFold {
                what: "the wall between the gaps at its ends",
            });
        }
        Ok(())
    }

    /// The piece, its area that of the sheet without the corner reliefs.
    pub(crate) fn part(&self, role: Role, fold: Fold) -> Part {
        let blank = self.blank();
        let stations = self.stations();
        let mut part = Part::plate(role, 1, self.sheet, blank);
        part.area = area_within(&outline(self.corners(&stations).concat()));
        part.solid_grams = self.sheet.grams(part.area);
        part.outline = self.relieved(&stations);
        part.bends = self.bends(&stations, fold);
        part
    }

    /// The holes of a lid that lie wholly on one lip, in the measures of the flat sheet.
    pub(super) fn lip_holes(&self, holes: &Holes) -> Vec<Hole> {
        let Some(lip) = self.lip else { return Vec::new() };
        let stations = self.stations();
        let t = self.sheet.thickness;
        let over = self.inside.map(|side| side + (t + lip) * 2);
        // The lid's edge in the measures of the sheet: a wall is straight along its length, so nothing is lost there.
        let start = stations.floor - self.folding.radius - t - lip;
        let blank = self.blank();
        let lower = holes.on(&Place::long_bar(over, stations.lip, EndCut::Mitre45));
        let right = holes.on(&Place::short_bar(over, Length::ZERO, stations.lip, EndCut::Mitre45));
        let at = |x, y, hole: &Hole| Hole { x, y, ..*hole };
        let mut found: Vec<Hole> = lower
            .iter()
            .flat_map(|hole| {
                let x = start + hole.x;
                [at(x, hole.y, hole), at(blank[0] - x, blank[1] - hole.y, hole)]
            })
            .chain(right.iter().flat_map(|hole| {
                let y = start + hole.x;
                [at(blank[0] - hole.y, y, hole), at(hole.y, blank[1] - y, hole)]
            }))
            .collect();
        found.sort_by_key(|hole| (hole.x, hole.y));
        found
    }

    /// The corners of the sheet, anticlockwise: those of the lower left notch (from its upper end to its right one), then
    /// lower right, upper right, upper left. The fourth of five, or the second of three, is the notch's own.
    fn corners(&self, stations: &Stations) -> [Vec<[Length; 2]>; 4] {
        let zero = Length::ZERO;
        let notch = stations.notch;
        let one: Vec<[Length; 2]> = match self.lip {
            None => vec![[zero, notch], [notch, notch], [notch, zero]],
            Some(lip) => {
                let t = self.sheet.thickness;
                // The mitre runs from the walls' outside corner to the lips' own; on the lip it begins at the tangent.
                let [inner, outer] = [notch - t - self.folding.radius, notch - t - lip];
                vec![
                    [zero, outer],
                    [stations.lip, inner],
                    [stations.lip, notch],
                    [notch, notch],
                    [notch, stations.lip],
                    [inner, stations.lip],
                    [outer, zero],
                ]
            }
        };
        let [length, width] = self.blank();
        let mirrored = |flip: fn([Length; 2], [Length; 2]) -> [Length; 2]| {
            one.iter()
                .map(|&corner| flip(corner, [length, width]))
                .collect::<Vec<_>>()
        };
        let mut right = mirrored(|[x, y], [length, _]| [length - x, y]);
        let upper_right = mirrored(|[x, y], [length, width]| [length - x, width - y]);
        let mut left = mirrored(|[x, y], [_, width]| [x, width - y]);
        // A mirrored corner runs the other way round.
        right.reverse();
        left.reverse();
        [one, right, upper_right, left]
    }

    /// The outline with the notches' corners taken away by the relief holes.
    fn relieved(&self, stations: &Stations) -> Vec<Vertex> {
        let [length, width] = self.blank();
        let floors = [
            [stations.floor, stations.floor],
            [length - stations.floor, stations.floor],
            [length - stations.floor, width - stations.floor],
            [stations.floor, width - stations.floor],
        ];
        let mut vertices = Vec::new();
        for (corner, centre) in self.corners(stations).into_iter().zip(floors) {
            let own = corner.len() / 2;
            for (index, &at) in corner.iter().enumerate() {
                if index == own {
                    vertices.extend(self.relief(at, centre).arc(corner[index - 1], at, corner[index + 1]));
                } else {
                    vertices.push(Vertex::straight(at));
                }
            }
        }
        vertices
    }

    /// The relief hole of one notch.
    fn relief(&self, notch: [Length; 2], centre: [Length; 2]) -> Relief {
        let d = (centre[0] - notch[0]).abs().as_mm();
        // Large enough to open well into the notch, even where walls reach far into their bend's corner.
        let radius = (self.folding.relief.as_mm() / 2.0).max(d * 2.0);
        let reach = (radius * radius - d * d).sqrt();
        let turn = std::f64::consts::PI * 1.5 + 2.0 * libm::atan2(d, reach);
        Relief {
            back: Length::from_mm(reach - d),
            bulge: -libm::tan(turn / 4.0),
        }
    }

    fn bends(&self, stations: &Stations, fold: Fold) -> Vec<BendLine> {
        let [length, width] = self.blank();
        let lines = |from_edge: Length, fold| {
            let [x, y] = [stations.notch, stations.notch];
            [
                ([x, from_edge], [length - x, from_edge]),
                ([length - from_edge, y], [length - from_edge, width - y]),
                ([length - x, width - from_edge], [x, width - from_edge]),
                ([from_edge, width - y], [from_edge, y]),
            ]
            .map(|(from, to)| BendLine {
                from,
                to,
                turn_deg: 90.0,
                radius: self.folding.radius,
                fold,
            })
        };
        let mut bends = lines(stations.floor_bend, fold).to_vec();
        if self.lip.is_some() {
            let other = match fold {
                Fold::Up => Fold::Down,
                Fold::Down => Fold::Up,
            };
            bends.extend(lines(stations.lip_bend, other));
        }
        bends
    }
}

/// What a relief hole takes of a notch's corner.
struct Relief {
    /// How far it reaches back along the notch's edges from where they would meet.
    back: Length,
    bulge: f64,
}

impl Relief {
    /// The two corners, with an arc between them, that take the place of the notch's own.
    fn arc(&self, before: [Length; 2], notch: [Length; 2], after: [Length; 2]) -> [Vertex; 2] {
        let towards =
            |end: [Length; 2]| [0, 1].map(|axis| notch[axis] + self.back * (end[axis] - notch[axis]).nm().signum());
        let [x, y] = towards(before);
        let bulge = self.bulge;
        [Vertex { x, y, bulge }, Vertex::straight(towards(after))]
    }
}
