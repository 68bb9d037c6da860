//! The brackets that carry a box, and how long their legs are: as entered, else as far as the box is from its rail.

use enclosure::added::{Brackets, Reach};
use enclosure::section;
use enclosure::{Built, Wall};
use geometry::{Axis, Cuboid, Face, Point};
use tape::show::{Fraction, Style};
use tape::{Length, Units};

use super::{AddedResult, Site, rail, ruled};
use crate::document::{Len, PlacesOf};
use crate::evaluate::boxes;
use crate::evaluate::fitting::wall_of;
use crate::evaluate::strength::{bolt_of, whole};
use crate::{BracketsName, Figure, Job, PartSize, SidesName, assumed};

/// The brackets that carry a box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BracketMount {
    /// Brackets in all.
    pub brackets: u32,
    /// Bolts of each.
    pub bolts_each: u32,
    /// How they reach out.
    pub reach: Reach,
    /// Leg of the angle.
    pub leg: Length,
    /// Thickness of the angle.
    pub thickness: Length,
    /// Length of each.
    pub length: Length,
    /// From the load to the root of the leg that is bent.
    pub lever: Length,
    /// The least leg that takes their bolts.
    pub least_leg: Length,
}

/// The leg of a box's brackets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BracketLeg {
    /// How long it is.
    pub length: Length,
    /// Why it is that long.
    pub from: LegFrom,
}

/// Why the leg of a bracket is as long as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LegFrom {
    /// It was entered for this box.
    OfBox,
    /// It was entered for all boxes, or is the usual one of brackets that lie on something.
    OfAll,
    /// It reaches what the box hangs on, of this name.
    Gap(String),
    /// What the box hangs on, of this name, is farther than the longest on sale reaches.
    Longest(String),
}

/// What a bolt draws together and a tape does not tell.
pub(crate) const DRAWN_UP: Length = Length::mm(1);

impl BracketLeg {
    /// The least angle on sale that it is cut down from; `None` where it is on sale itself, or none is large enough.
    pub fn cut_from(&self) -> Option<Length> {
        let least = section::leg_on_sale(self.length);
        (least != self.length).then_some(least)
    }

    /// As `1 3/4", which reaches the left wall; cut down from an angle of 1.969"`.
    pub fn text(&self, style: Style) -> String {
        let length = style.near(self.length);
        let from = match &self.from {
            LegFrom::OfBox => ", entered for this box".to_owned(),
            LegFrom::OfAll => String::new(),
            LegFrom::Gap(to) => format!(", from its own gap to {to}"),
            LegFrom::Longest(to) => format!(", the longest on sale: {to} is farther"),
        };
        let cut = self.cut_from().filter(|_| matches!(self.from, LegFrom::Gap(_)));
        let cut = cut.map_or(String::new(), |leg| {
            format!("; cut down from an angle of {}", style.near(leg))
        });
        format!("{length}{from}{cut}")
    }
}

/// The leg that was told: of the box, else of all; `None` where it follows from each box's own gap to the rail.
pub(crate) fn told_leg(job: &Job, own: Option<&Len>) -> Option<BracketLeg> {
    let sizes = &job.design.added.sizes;
    let of_all = sizes.entered(PartSize::BracketLeg).map(Len::value);
    let usual = || (job.design.carried() != BracketsName::Web).then(|| sizes.sure(PartSize::BracketLeg));
    let leg = |length: Length, from: LegFrom| BracketLeg { length, from };
    own.map(|own| leg(own.value(), LegFrom::OfBox))
        .or_else(|| of_all.or_else(usual).map(|length| leg(length, LegFrom::OfAll)))
}

/// The diameter of the holes in brackets: the drilling rules take no more than a millimetre over the bolt.
fn hole(job: &Job) -> Length {
    bolt_of(&job.electrics.figures) + Length::mm(1)
}

/// The least leg on sale that takes the bolts: the least room that a box hung on a rail has beside it.
pub(crate) fn least_leg_on_sale(job: &Job) -> Length {
    let least = Brackets::least_leg(job.design.added.sizes.sure(PartSize::BracketThickness), hole(job));
    let units = job.units.units();
    let on_sale = section::legs_on_sale(units).filter(|&leg| leg >= least).min();
    on_sale.unwrap_or_else(|| finest(units, least))
}

/// The longest leg on sale: no bracket follows a wider gap.
pub(crate) fn longest_leg_on_sale(units: Units) -> Length {
    section::legs_on_sale(units).max().unwrap_or(Length::ZERO)
}

fn finest(units: Units, least: Length) -> Length {
    let fraction = Fraction::SixtyFourth;
    least.round_up_to(Style { units, fraction }.step())
}

/// The marks that a leg is told on: the person's, and finer ones.
pub(crate) fn marks(own: Style) -> impl Iterator<Item = Style> {
    let finer = [own.fraction, Fraction::ThirtySecond, Fraction::SixtyFourth];
    finer.into_iter().map(move |fraction| Style { fraction, ..own })
}

/// The leg that reaches over the nearer and the farther gap: the shortest on sale that ends at both, or no farther off than
/// is drawn up; else one cut down to the nearer, on the person's marks or on finer ones. None is shorter than takes its
/// bolts, or longer than is on sale.
fn reaching([near, far]: [Length; 2], least: Length, style: Style) -> Length {
    let on_sale =
        section::legs_on_sale(style.units).filter(|&leg| leg >= least && leg <= near && leg >= far - DRAWN_UP);
    if let Some(leg) = on_sale.min() {
        return leg;
    }
    let on_marks = |gap: Length| {
        let mut legs = marks(style).map(|style| near.round_down_to(style.step()));
        legs.find(|&leg| leg >= gap - DRAWN_UP)
    };
    let leg = on_marks(far)
        .or_else(|| on_marks(near))
        .unwrap_or(near)
        .min(longest_leg_on_sale(style.units));
    leg.max(finest(style.units, least))
}

/// What the brackets of one wall hang on, as far as it matters before their leg is known.
struct Hanging<'a> {
    face: Face,
    brackets: &'a Brackets,
    /// From the corner of the cavity to that of the space inside the steel.
    from: Point,
    /// The outside of the wall, which they are welded to.
    wall: Length,
}

impl Hanging<'_> {
    /// From the wall to the first thing that a bracket which reaches it would end before, with its name.
    fn gap(&self, space: Cuboid, keep_outs: &[(Cuboid, &str)], least: Length) -> (Length, String) {
        let out = |to: Length| {
            if self.face.is_high() {
                to - self.wall
            } else {
                self.wall - to
            }
        };
        let along = along(self.face);
        let up = self.from[Axis::Z] + self.brackets.up;
        let half = self.brackets.length.half_down();
        let beside = |thing: &Cuboid| {
            self.brackets.places.iter().any(|&place| {
                let at = self.from[along] + place - half;
                thing.lo()[along] < at + self.brackets.length && thing.hi()[along] > at
            })
        };
        let mut gaps: Vec<(Length, &str)> = keep_outs
            .iter()
            .filter(|(thing, _)| out(thing.face(self.face)) > Length::ZERO && beside(thing))
            .filter_map(|(thing, name)| {
                let gap = out(thing.face(self.face.opposite()));
                let foot = up - gap.max(least);
                (thing.lo()[Axis::Z] < up && thing.hi()[Axis::Z] > foot).then_some((gap, *name))
            })
            .collect();
        gaps.push((out(space.face(self.face)), boxes::wall_name(self.face)));
        let nearest = gaps.into_iter().min_by_key(|(gap, _)| *gap);
        let (gap, name) = nearest.unwrap_or((Length::ZERO, ""));
        (gap, name.to_owned())
    }
}

/// The leg of the brackets on both walls.
fn leg(here: &Site<'_>, made: &Built, sides: &[(Face, Brackets)]) -> BracketLeg {
    let usual = || BracketLeg {
        length: here.size(PartSize::BracketLeg),
        from: LegFrom::OfAll,
    };
    if let Some(told) = told_leg(here.job, here.leg) {
        return told;
    }
    let Some((space, cavity)) = here.cavity.and_then(|cavity| Some((cavity.space?, cavity))) else {
        return usual();
    };
    let keep_outs: Vec<(Cuboid, &str)> = cavity
        .keep_outs
        .iter()
        .filter(|keep_out| keep_out.counts)
        .map(|keep_out| (keep_out.cuboid, keep_out.name.as_str()))
        .collect();
    let least = Brackets::least_leg(here.size(PartSize::BracketThickness), hole(here.job));
    let gaps: Vec<(Length, String)> = sides
        .iter()
        .map(|(face, brackets)| {
            let out = if face.is_high() { made.beside } else { -made.beside };
            let hanging = Hanging {
                face: *face,
                brackets,
                from: here.steel.lo(),
                wall: here.steel.face(*face) + out,
            };
            hanging.gap(space, &keep_outs, least)
        })
        .collect();
    let near = gaps.iter().min_by_key(|(gap, _)| *gap);
    let far = gaps.iter().map(|(gap, _)| *gap).max();
    let Some(((near, name), far)) = near.zip(far) else {
        return usual();
    };
    let length = reaching([*near, far], least, here.style());
    let from = if *near > length + DRAWN_UP && length >= longest_leg_on_sale(here.style().units) {
        LegFrom::Longest(name.clone())
    } else {
        LegFrom::Gap(name.clone())
    };
    BracketLeg { length, from }
}

/// The two faces that brackets are on.
fn faces(here: &Site<'_>) -> [Face; 2] {
    let sides = here.job.design.added.bracket_sides.unwrap_or(SidesName::Long);
    let other = if here.long == Axis::X { Axis::Y } else { Axis::X };
    // The long sides face along the short axis.
    let axis = match sides {
        SidesName::Long => other,
        SidesName::Short => here.long,
    };
    [Face::low(axis), Face::high(axis)]
}

/// The brackets as they are told, their leg left open, on the two walls.
fn told(here: &Site<'_>, made: &Built, reach: Reach) -> [(Face, Brackets); 2] {
    let per_side = whole(here.figures().sure(Figure::BracketsPerSide));
    let thickness = here.size(PartSize::BracketThickness);
    let under_cap = assumed::under_cap(here.job, here.spec.inside[2]);
    let [_, highest] = Brackets::heights(&here.spec, made, thickness, under_cap);
    let up = here.job.design.added.sizes.get(PartSize::BracketUp).unwrap_or(highest);
    let lists = [PlacesOf::BracketsLow, PlacesOf::BracketsHigh];
    let faces = faces(here);
    [0, 1].map(|i| {
        let face = faces[i];
        let own = here.places.of(lists[i]);
        let wall: Wall = wall_of(face);
        let brackets = Brackets {
            wall,
            places: if own.is_empty() {
                enclosure::added::spread_evenly(per_side, here.steel.size()[along(face)])
            } else {
                own
            },
            up,
            reach,
            sheet: here.sheet(thickness),
            leg: Length::ZERO,
            length: here.size(PartSize::BracketLength),
            bolts: whole(here.figures().sure(Figure::BracketBolts)),
            hole: hole(here.job),
            under_cap,
        };
        (face, brackets)
    })
}

/// The level axis along the wall of this face.
fn along(face: Face) -> Axis {
    if face.axis() == Axis::X { Axis::Y } else { Axis::X }
}

pub(super) fn brackets(here: &Site<'_>, made: &mut Built, result: &mut AddedResult) {
    let carried = here.job.design.carried();
    let Some(reach) = carried.reach() else { return };
    let bolt = bolt_of(here.figures());
    let sides = told(here, made, reach);
    let leg = leg(here, made, &sides);
    let (bolts, length, sheet, hole) = {
        let one = &sides[0].1;
        (one.bolts, one.length, one.sheet, one.hole)
    };
    let mut count = 0;
    let mut web = Vec::new();
    let lists = [
        (PlacesOf::BracketsLow, PlacesOf::HolesLow),
        (PlacesOf::BracketsHigh, PlacesOf::HolesHigh),
    ];
    for ((face, mut brackets), (list, holes)) in sides.into_iter().zip(lists) {
        brackets.leg = leg.length;
        let along = along(face);
        let from = [here.steel.lo()[along], here.steel.lo()[Axis::Z]];
        let existing = if reach == Reach::Web {
            rail::existing(here.places, holes)
        } else {
            Vec::new()
        };
        if here.places.of(list).is_empty() && !existing.is_empty() {
            rail::suit(&mut brackets, &existing, from, bolt, here.steel.size()[along]);
        }
        let group = match brackets.group(&here.spec, made) {
            Ok(group) => group,
            Err(fault) => {
                let why = fault.words(here.job.units.units());
                result.faults.push(format!("{} wall: {why}", face.name()));
                continue;
            }
        };
        ruled(here, result, list, &brackets.places);
        count += u32::try_from(brackets.places.len()).unwrap_or(u32::MAX);
        result.bracket_walls.extend(brackets.places.iter().map(|_| face));
        result
            .brackets
            .extend(group.pieces.iter().map(|piece| here.cuboid(&piece.block)));
        let bolts_at = brackets.bolts_at(&here.spec, made);
        result
            .mount_bolts
            .extend(bolts_at.into_iter().map(|bolt| here.steel.lo() + Point(bolt)));
        made.add(group);
        web.push(rail::Web {
            face,
            bolts: brackets
                .bolts_in_web()
                .iter()
                .map(|[a, u]| [*a + from[0], *u + from[1]])
                .collect(),
            existing,
        });
    }
    if count == 0 {
        return;
    }
    let [low, height] = [PartSize::RailLow, PartSize::RailWeb].map(|size| here.job.design.added.sizes.get(size));
    let rail = low.zip(height);
    match carried {
        BracketsName::Web => {
            result.frame_holes = web.iter().flat_map(|web| rail::holes(web, bolt, rail)).collect();
        }
        BracketsName::Flange => result.frame_holes = rail::in_flange(&web, bolt, count * bolts),
        BracketsName::None | BracketsName::OwnRail => {}
    }
    result.mount = Some(BracketMount {
        brackets: count,
        bolts_each: bolts,
        reach,
        thickness: sheet.thickness,
        length,
        lever: match reach {
            // From the weld at the wall to the middle of the leg at the web.
            Reach::Web => leg.length - sheet.thickness.half_down(),
            Reach::Foot => (leg.length - sheet.thickness).half_down(),
        },
        leg: leg.length,
        least_leg: Brackets::least_leg(sheet.thickness, hole),
    });
    result.bracket_leg = Some(leg);
}
