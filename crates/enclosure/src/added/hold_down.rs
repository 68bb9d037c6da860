//! Bars over the modules that hold them down.

use tape::Length;

use super::joined::fillet;
use super::{AddedError, Group, OutOf, Piece, above_zero, apart, around, at_wall, level, within};
use crate::material::Material;
use crate::section;
use crate::strength::beam;
use crate::strength::bolt::{Bolt, thread_name};
use crate::weld::{At, Form, Side};
use crate::{BoxSpec, Hole, Part, Purpose, Role, Sheet, Step, Wall};

/// The section of the bars.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bar {
    /// Flat bar of this width, lying down.
    Flat {
        /// Across.
        width: Length,
    },
    /// Equal angle, one leg lying down and the other standing up from its edge.
    Angle {
        /// Of the angle.
        leg: Length,
    },
}

impl Bar {
    /// How much it resists bending up and down, in cubic millimetres: `b t^2 / 6` of a flat bar; of an angle with one leg
    /// level, [`section::equal_angle_modulus_mm3`] with the radius that the list has for its size, else as of sharp corners.
    ///
    /// Source: beam theory.
    pub fn section_modulus_mm3(self, thickness: Length) -> f64 {
        match self {
            Self::Flat { width } => beam::section_modulus_mm3(width, thickness),
            Self::Angle { leg } => {
                section::equal_angle_modulus_mm3(leg, thickness, section::listed_root_radius(leg, thickness))
            }
        }
    }

    /// What it covers, seen from above.
    pub const fn width(self) -> Length {
        match self {
            Self::Flat { width } => width,
            Self::Angle { leg } => leg,
        }
    }
}

/// What the ends of the bars are bolted to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fixed {
    /// Lugs of angle welded to the walls, as long as the bar is wide: their level legs lie under the bar's ends, a gap
    /// below it so that it can be drawn down, with a stud standing up from each; their other legs stand up along the wall.
    Lugs {
        /// Leg of the angle.
        leg: Length,
        /// Its thickness.
        thickness: Length,
        /// From the level leg to the underside of the bar before it is drawn down.
        gap: Length,
    },
    /// Threaded rods that stand on the floor, welded to it.
    Rods,
}

/// Bars from wall to wall.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldDown {
    /// The axis they lie along: 0 length, 1 width.
    pub along: usize,
    /// The middle of each, on the other level axis.
    pub places: Vec<Length>,
    /// Underside of each above the floor, in the order of their places: a bar lies on the modules that it crosses.
    pub unders: Vec<Length>,
    /// Material and thickness.
    pub sheet: Sheet,
    /// Their section.
    pub bar: Bar,
    /// What they are bolted to.
    pub fixed: Fixed,
    /// Diameter of the thread.
    pub thread: Length,
    /// What the bar's ends stay clear of walls and lugs.
    pub play: Length,
}

/// Nut and thread end above the bar: one and a half times the thread, a nut of 0.8 d with its washer and what the rod
/// stands out (common practice, no source).
pub fn nut_height(thread: Length) -> Length {
    Length::from_nm(thread.nm() * 3 / 2)
}

/// From the middle of a hole to the end of what it is in, at least: two diameters of the thread.
///
/// Common practice, no source.
pub fn least_edge(thread: Length) -> Length {
    thread * 2
}

/// Where that distance comes from.
pub const EDGE_SOURCE: &str = "two diameters of the thread: common practice, no source";

/// From the wall to the middle of a rod: the bar's play, and what the hole stays off the bar's end.
pub fn rod_from_wall(thread: Length, play: Length) -> Length {
    play + least_edge(thread)
}

/// Threaded rod as it is bought: of steel, whatever the box is made of.
pub(super) const fn threaded_rod(thread: Length) -> Sheet {
    Sheet {
        material: Material::MildSteel,
        thickness: thread,
    }
}

impl HoldDown {
    /// What the bars take up above their undersides, nuts and lugs included.
    pub fn height(&self) -> Length {
        let t = self.sheet.thickness;
        let stands = match self.bar {
            Bar::Flat { .. } => t,
            Bar::Angle { leg } => leg,
        };
        let lug = match self.fixed {
            Fixed::Lugs { leg, thickness, gap } => leg - thickness - gap,
            Fixed::Rods => Length::ZERO,
        };
        stands.max(lug).max(t + nut_height(self.thread))
    }

    /// How far the middle of the bolts is from the wall. On a lug it is as far from the end of the bar as from the edge of
    /// the lug.
    pub fn bolt(&self) -> Length {
        match self.fixed {
            Fixed::Lugs { leg, .. } => (self.ends() + leg).half_down(),
            Fixed::Rods => rod_from_wall(self.thread, self.play),
        }
    }

    /// From the middle of a hole to the end of the bar; on lugs as much to the edge of the lug.
    pub fn edge(&self) -> Length {
        self.bolt() - self.ends()
    }

    /// The least leg of the lugs with which holes keep [`least_edge`] off the ends; `None` on rods.
    pub fn least_lug(&self) -> Option<Length> {
        match self.fixed {
            Fixed::Lugs { .. } => Some(self.ends() + least_edge(self.thread) * 2),
            Fixed::Rods => None,
        }
    }

    /// From the stud to the upright leg of its lug, whose root bends; `None` on rods.
    pub fn lug_lever(&self) -> Option<Length> {
        match self.fixed {
            Fixed::Lugs { thickness, .. } => Some(self.bolt() - thickness),
            Fixed::Rods => None,
        }
    }

    /// What the ends of the bars stay away from the walls.
    fn ends(&self) -> Length {
        match self.fixed {
            Fixed::Lugs { thickness, .. } => thickness + self.play,
            Fixed::Rods => self.play,
        }
    }

    /// From bolt to bolt of a bar in a box this wide along it.
    pub fn span(&self, side: Length) -> Length {
        side - self.bolt() * 2
    }

    /// The bolt's hole: as wide as the thread and a tenth, rounded up to half a millimetre.
    fn hole(&self) -> Length {
        Length::from_mm_up(self.thread.as_mm() * 1.1).round_up_to(Length::tenths_mm(5))
    }

    /// The middle of each with its underside.
    fn each(&self) -> impl Iterator<Item = (Length, Length)> + '_ {
        self.places.iter().copied().zip(self.unders.iter().copied())
    }

    fn check(&self, spec: &BoxSpec) -> Result<(), AddedError> {
        let (width, t) = (self.bar.width(), self.sheet.thickness);
        above_zero("hold-down bars, thickness", t)?;
        above_zero("hold-down bars, thread", self.thread)?;
        let least = [self.hole() + t + Length::from_nm(2), super::MOST];
        within(
            "hold-down bars, width",
            width,
            least,
            "take a wider bar, or a thinner thread",
        )?;
        let across = 1 - self.along;
        let half = width.half_down();
        let room = [half, spec.inside[across] - (width - half)];
        for &place in &self.places {
            within("hold-down bars, place", place, room, "they lie inside the box")?;
        }
        apart("hold-down bars, from one to the next", &self.places, width)?;
        let mut lowest = Length::ZERO;
        if let Fixed::Lugs { leg, thickness, gap } = self.fixed {
            // The hole lies wholly on what the bar and the lug share.
            let range = [thickness + self.play + self.hole() + Length::from_nm(2), super::MOST];
            within("lugs, leg", leg, range, "take a wider angle, or a thinner thread")?;
            above_zero("lugs, thickness", thickness)?;
            lowest = thickness + gap;
        }
        if self.fixed == Fixed::Rods && spec.floor.material.is_aluminium() {
            return Err(AddedError {
                what: "hold-down rods, floor they are welded to",
                out: OutOf::Words {
                    given: spec.floor.material.name(),
                    allowed: "steel, as the rods are",
                },
                mend: "take bars on lugs at the walls, or a box of steel",
            });
        }
        let heights = [lowest, spec.inside[2] - t];
        for &under in &self.unders {
            within(
                "hold-down bars, underside above the floor",
                under,
                heights,
                "the box must be deeper",
            )?;
        }
        let least_side = (self.bolt() + self.hole()) * 2 + Length::from_nm(2);
        let range = [least_side, super::MOST];
        within(
            "hold-down bars, wall to wall",
            spec.inside[self.along],
            range,
            "the box is too narrow for them",
        )
    }

    /// The parts and their solids.
    ///
    /// # Errors
    ///
    /// [`AddedError`] for sizes that make no bar, and bars outside the box or over each other.
    pub fn group(&self, spec: &BoxSpec) -> Result<Group, AddedError> {
        self.check(spec)?;
        let count = u32::try_from(self.places.len()).unwrap_or(u32::MAX);
        let (t, side, width) = (self.sheet.thickness, spec.inside[self.along], self.bar.width());
        let length = side - self.ends() * 2;
        let (role, mut part) = match self.bar {
            Bar::Flat { width } => (
                Role::HoldDownBar,
                Part::bar(Role::HoldDownBar, count, self.sheet, [length, width]),
            ),
            Bar::Angle { leg } => (
                Role::HoldDownAngle,
                Part::angle(Role::HoldDownAngle, count, self.sheet, [length, leg]),
            ),
        };
        // In an angle beside its upright leg.
        let line = match self.bar {
            Bar::Flat { width } => width.half_down(),
            Bar::Angle { leg } => t + (leg - t).half_down(),
        };
        let from_end = self.bolt() - self.ends();
        let at = [from_end, length - from_end];
        part.holes = at.map(|x| self.hole_at(x, line)).to_vec();
        let mut group = Group {
            parts: vec![part],
            ..Group::default()
        };
        for (place, under) in self.each() {
            let bar = around(place, width);
            let along = [self.ends(), self.ends() + length];
            let lying = level(self.along, along, bar, [under, under + t]);
            group.pieces.push(Piece {
                part: 0,
                role,
                block: lying,
                thin: 2,
            });
            if let Bar::Angle { leg } = self.bar {
                let standing = [under + t, under + leg];
                group.pieces.push(Piece {
                    part: 0,
                    role,
                    block: level(self.along, along, [bar[0], bar[0] + t], standing),
                    thin: 1 - self.along,
                });
            }
            let bolts = [self.bolt(), side - self.bolt()];
            let nut = [under + t, under + t + nut_height(self.thread)];
            let across = around(bar[0] + line, self.thread * 2);
            group
                .nuts
                .extend(bolts.map(|bolt| level(self.along, around(bolt, self.thread * 2), across, nut)));
        }
        match self.fixed {
            Fixed::Lugs { leg, thickness, gap } => self.lugs(spec, [leg, thickness, gap], count, line, &mut group),
            Fixed::Rods => self.rods(spec, count, line, &mut group),
        }
        Ok(group)
    }

    fn hole_at(&self, x: Length, y: Length) -> Hole {
        Hole {
            x,
            y,
            diameter: self.hole(),
            purpose: Purpose::HoldDown,
        }
    }

    fn lugs(&self, spec: &BoxSpec, [leg, thickness, gap]: [Length; 3], count: u32, line: Length, group: &mut Group) {
        let sheet = Sheet {
            thickness,
            ..self.sheet
        };
        let width = self.bar.width();
        let mut part = Part::angle(Role::Lug, count * 2, sheet, [width, leg]);
        part.holes = vec![self.hole_at(line, self.bolt())];
        group.parts.push(part);
        let walls = if self.along == 0 {
            [Wall::Front, Wall::Rear]
        } else {
            [Wall::Left, Wall::Right]
        };
        let lug = ((Role::Lug, thickness), (walls[0], Side::Inside));
        let seam = |place, length| fillet(spec, lug.0, lug.1, (At::Lug, Form::Lap, place), (length, count * 4));
        group.seams = vec![
            seam("over and under the lug", width),
            seam("up both ends of the lug", leg),
        ];
        for (place, under) in self.each() {
            let top = under - gap;
            for wall in walls {
                let along = around(place, width);
                let lying = at_wall(spec, wall, along, [-leg, Length::ZERO], [top - thickness, top]);
                let up = [top, top - thickness + leg];
                let standing = at_wall(spec, wall, along, [-thickness, Length::ZERO], up);
                group
                    .pieces
                    .extend([(lying, 2), (standing, self.along)].map(|(block, thin)| Piece {
                        part: 1,
                        role: Role::Lug,
                        block,
                        thin,
                    }));
            }
        }
        let stud = Bolt::of_thread(self.thread).and_then(|bolt| {
            let grip = thickness + gap + self.sheet.thickness;
            Some(bolt.sized(bolt.on_sale(bolt.needed_stud(grip))?))
        });
        let stud = stud.unwrap_or_else(|| thread_name(self.thread));
        let what = format!("studs {stud} with a nut and washer at each end, hold-down bars");
        group.fasteners.push((what, count * 2));
    }

    /// Rods of bars at one height are alike.
    fn rods(&self, spec: &BoxSpec, count: u32, line: Length, group: &mut Group) {
        let rod = threaded_rod(self.thread);
        let round = Length::from_mm_up(self.thread.as_mm() * std::f64::consts::PI);
        let foot = (At::RodFoot, Form::Tee, "round the foot of the rod");
        let seam = ((Role::HoldDownRod, self.thread), (Wall::Floor, Side::Inside));
        group.seams = vec![fillet(spec, seam.0, seam.1, foot, (round, count * 2))];
        let side = spec.inside[self.along];
        for (place, under) in self.each() {
            let top = under + self.sheet.thickness + nut_height(self.thread);
            let across = around(around(place, self.bar.width())[0] + line, self.thread);
            for bolt in [self.bolt(), side - self.bolt()] {
                let along = around(bolt, self.thread);
                let foot = raised(
                    spec,
                    if self.along == 0 {
                        [along, across]
                    } else {
                        [across, along]
                    },
                );
                let length = top - foot;
                let alike = |part: &Part| part.role == Role::HoldDownRod && part.length == length;
                let index = group.parts.iter().position(alike).unwrap_or_else(|| {
                    group.parts.push(Part::rod(Role::HoldDownRod, 0, rod, length));
                    group.parts.len() - 1
                });
                group.parts[index].quantity += 1;
                group.pieces.push(Piece {
                    part: index,
                    role: Role::HoldDownRod,
                    block: level(self.along, along, across, [foot, top]),
                    thin: self.along,
                });
            }
        }
        let what = format!("nuts {} with washer, hold-down rods", thread_name(self.thread));
        group.fasteners.push((what, count * 2));
    }
}

/// How high over the deep floor the floor lies under these ranges of length and width: what a step rises, where they are
/// wholly over it.
fn raised(spec: &BoxSpec, ranges: [[Length; 2]; 2]) -> Length {
    let over = |step: &Step| step.is_over(ranges[step.axis()], spec.inside[step.axis()]) == Some(true);
    spec.step.filter(over).map_or(Length::ZERO, |step| step.rise)
}
