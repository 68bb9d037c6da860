//! The holes that brackets ask for in the frame, against the rules of drilling it.

use enclosure::added::Brackets;
use enclosure::frame_holes::{self, Broken, Place};
use geometry::Face;
use tape::Length;

use crate::Evaluation;
use crate::document::{Places, PlacesOf};

/// How far a bolt may be off a hole that is there already and still use it (common practice, no source): what a
/// clearance hole gives.
const SAME: Length = Length::mm(1);

/// A hole that a bolt of a bracket asks for in the frame.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameHole {
    /// The wall of the box that the bracket is on.
    pub face: Face,
    /// Along the rail from the cavity's front (or left), and up from its floor; `None` of holes in a flange.
    pub at: Option<[Length; 2]>,
    /// Its diameter.
    pub diameter: Length,
    /// Whether a hole that is there already serves.
    pub is_there: bool,
    /// How far from its edge the nearer flange is, where the rail was told.
    pub to_flange: Option<Length>,
    /// The rules that it breaks.
    pub says: Vec<RailSays>,
}

/// A rule that a hole breaks, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RailSays {
    /// What the rule says and what the hole has.
    pub words: String,
    /// Where the rule comes from.
    pub source: &'static str,
}

impl From<Broken> for RailSays {
    fn from(broken: Broken) -> Self {
        Self {
            words: format!("{}; it has {}", broken.rule.says, broken.has),
            source: broken.rule.source,
        }
    }
}

/// A hole that is there already.
#[derive(Clone, Copy, Debug)]
pub(super) struct Existing {
    at: [Length; 2],
    diameter: Length,
}

/// The bolts through one web.
pub(super) struct Web {
    pub(super) face: Face,
    /// Along and up, in the cavity's frame.
    pub(super) bolts: Vec<[Length; 2]>,
    pub(super) existing: Vec<Existing>,
}

pub(super) fn existing(places: &Places, which: PlacesOf) -> Vec<Existing> {
    let list = if which == PlacesOf::HolesLow {
        &places.holes_low
    } else {
        &places.holes_high
    };
    let hole = |[along, up, across]: &[crate::Len; 3]| Existing {
        at: [along.value(), up.value()],
        diameter: across.value(),
    };
    list.iter().map(hole).collect()
}

impl Existing {
    /// Whether a bolt here may go through it: in its middle, and no more than the rule's millimetre larger.
    fn serves(&self, at: [Length; 2], bolt: Length) -> bool {
        let near = (0..2).all(|i| (self.at[i] - at[i]).abs() <= SAME);
        near && self.diameter >= bolt && self.diameter <= bolt + Length::mm(1)
    }

    /// From its edge to that of a hole of this diameter here, rounded down.
    fn apart(&self, at: [Length; 2], diameter: Length) -> Length {
        edges_apart((self.at, self.diameter), (at, diameter))
    }
}

/// Half of a length, rounded up.
fn half_up(length: Length) -> Length {
    length - length.half_down()
}

fn edges_apart((a, across_a): ([Length; 2], Length), (b, across_b): ([Length; 2], Length)) -> Length {
    let [dx, dy] = [0, 1].map(|i| (a[i] - b[i]).as_mm());
    Length::from_mm_down(dx.hypot(dy)) - half_up(across_a) - half_up(across_b)
}

/// Moves brackets that lie by rule to where their bolts go through holes that are there, or at least keep the rule's
/// distance from them: by whole millimetres, the least way, no further than half their share of the wall.
pub(super) fn suit(brackets: &mut Brackets, existing: &[Existing], from: [Length; 2], bolt: Length, side: Length) {
    let least = frame_holes::RULES
        .iter()
        .find(|rule| rule.subject == frame_holes::Subject::BetweenHoles)
        .and_then(|rule| match rule.limit {
            frame_holes::Figure::Length(length) => Some(length),
            frame_holes::Figure::Holes(_) => None,
        })
        .unwrap_or(Length::ZERO);
    let up = brackets.up - brackets.bolt_line() + from[1];
    let own = brackets.bolts_along();
    let half = brackets.length.half_down();
    let reach = side.nm() / (2 * i64::try_from(brackets.places.len().max(1)).unwrap_or(1)) - brackets.length.nm() / 2;
    let reach_mm = reach.max(0) / 1_000_000;
    for place in &mut brackets.places {
        let bolts = |at: Length| own.iter().map(move |&b| [at - half + b + from[0], up]);
        let served = |at: Length| bolts(at).all(|b| existing.iter().any(|hole| hole.serves(b, bolt)));
        let keeps_off = |at: Length| {
            bolts(at).all(|b| {
                existing
                    .iter()
                    .all(|hole| hole.serves(b, bolt) || hole.apart(b, brackets.hole) >= least)
            })
        };
        let ways = || (0..=reach_mm).flat_map(|mm| [*place + Length::mm(mm), *place - Length::mm(mm)]);
        let best = ways()
            .find(|&at| served(at))
            .or_else(|| ways().find(|&at| keeps_off(at)));
        if let Some(best) = best {
            *place = best;
        }
    }
}

/// The holes of one web, with the rules that those break which are to be drilled.
pub(super) fn holes(web: &Web, bolt: Length, rail: Option<(Length, Length)>) -> Vec<FrameHole> {
    let diameter = bolt + Length::mm(1);
    let serves = |at: [Length; 2]| web.existing.iter().find(|hole| hole.serves(at, bolt));
    let one = |(index, &at): (usize, &[Length; 2])| {
        if let Some(hole) = serves(at) {
            return FrameHole {
                face: web.face,
                at: Some(hole.at),
                diameter: hole.diameter,
                is_there: true,
                to_flange: None,
                says: Vec::new(),
            };
        }
        let half = half_up(diameter);
        let to_flange = rail.map(|(low, web)| (at[1] - half - low).min(low + web - at[1] - half));
        let old = web.existing.iter().map(|hole| (hole.at, hole.diameter));
        let new = web
            .bolts
            .iter()
            .enumerate()
            .filter(|&(other, &at)| other != index && serves(at).is_none());
        let others: Vec<([Length; 2], Length)> = old.chain(new.map(|(_, &at)| (at, diameter))).collect();
        let apart: Vec<Length> = others.iter().map(|&other| edges_apart((at, diameter), other)).collect();
        let above = others
            .iter()
            .filter(|(other, _)| (other[0] - at[0]).abs() < diameter)
            .count();
        let place = match to_flange {
            Some(free) if free.is_negative() => Place::Flange,
            Some(to_flange) => Place::Web { to_flange },
            // What is not known breaks no rule here; that the rail is to be told is said apart.
            None => Place::Web {
                to_flange: Length::mm(12_000),
            },
        };
        let broken = frame_holes::broken(&frame_holes::FrameHole {
            diameter,
            place,
            to_others: &apart,
            in_row: u32::try_from(above + 1).unwrap_or(u32::MAX),
            bolt: Some(bolt),
        });
        FrameHole {
            face: web.face,
            at: Some(at),
            diameter,
            is_there: false,
            to_flange,
            says: broken.into_iter().map(RailSays::from).collect(),
        }
    };
    web.bolts.iter().enumerate().map(one).collect()
}

/// Holes in a flange: each breaks the rule that there be none.
pub(super) fn in_flange(webs: &[Web], bolt: Length, count: u32) -> Vec<FrameHole> {
    let diameter = bolt + Length::mm(1);
    let broken = frame_holes::broken(&frame_holes::FrameHole {
        diameter,
        place: Place::Flange,
        to_others: &[],
        in_row: 1,
        bolt: Some(bolt),
    });
    let says: Vec<RailSays> = broken.into_iter().map(RailSays::from).collect();
    let face = webs.first().map_or(Face::Left, |web| web.face);
    (0..count)
        .map(|_| FrameHole {
            face,
            at: None,
            diameter,
            is_there: false,
            to_flange: None,
            says: says.clone(),
        })
        .collect()
}

impl Evaluation {
    /// Where a hole in the frame is, how large, and whether it is to be drilled.
    pub fn frame_hole_text(&self, hole: &FrameHole) -> String {
        let what = if hole.is_there { "is there" } else { "to drill" };
        let at = hole.at.map_or("in a flange".to_owned(), |[along, up]| {
            format!("{} along, {} up", self.near(along), self.near(up))
        });
        let flange = hole.to_flange.map_or(String::new(), |to| {
            let to = if to.is_negative() {
                "in the flange".to_owned()
            } else {
                format!("{} to the flange", self.down(to))
            };
            format!(", {to}")
        });
        format!(
            "{}: {at}, {} across, {what}{flange}",
            hole.face.name(),
            self.near(hole.diameter)
        )
    }
}

#[cfg(test)]
mod tests {
    use enclosure::added::Reach;
    use enclosure::material::Material;
    use enclosure::{Sheet, Wall};

    use super::*;

    const BOLT: Length = Length::mm(10);

    fn at(along: i64, up: i64) -> [Length; 2] {
        [Length::mm(along), Length::mm(up)]
    }

    fn web(bolts: &[[Length; 2]], existing: &[Existing]) -> Web {
        Web {
            face: Face::Left,
            bolts: bolts.to_vec(),
            existing: existing.to_vec(),
        }
    }

    fn hole(along: i64, up: i64, across: i64) -> Existing {
        Existing {
            at: at(along, up),
            diameter: Length::mm(across),
        }
    }

    fn broken(holes: &[FrameHole]) -> Vec<&str> {
        holes.iter().flat_map(|h| &h.says).map(|s| s.words.as_str()).collect()
    }

    /// A web of 200 mm from 20 up: the hole's edge must keep 38.1 mm off 20 and 220, its own radius being 5.5.
    #[test]
    fn a_hole_near_the_flange_is_told_and_one_just_clear_is_not() {
        let rail = Some((Length::mm(20), Length::mm(200)));
        let near = holes(&web(&[at(100, 63)], &[]), BOLT, rail);
        assert_eq!(broken(&near).len(), 1, "{near:?}");
        assert_eq!(near[0].to_flange, Some(Length::from_mm_down(37.5)));
        assert_eq!(
            broken(&holes(&web(&[at(100, 64)], &[]), BOLT, rail)),
            Vec::<&str>::new()
        );
        let above = holes(&web(&[at(100, 225)], &[]), BOLT, rail);
        assert!(broken(&above)[0].contains("never drill the flanges"), "{above:?}");
    }

    #[test]
    fn a_hole_that_is_there_is_used_when_the_bolt_goes_through_it() {
        let web = web(&[at(100, 120)], &[hole(101, 120, 11)]);
        let used = holes(&web, BOLT, None);
        assert!(used[0].is_there && used[0].says.is_empty());
        // Too wide for the rule's millimetre, and so near that a new one beside it breaks another.
        let wide = self::web(&[at(100, 120)], &[hole(101, 120, 13)]);
        assert!(!holes(&wide, BOLT, None)[0].is_there);
        assert_eq!(broken(&holes(&wide, BOLT, None)).len(), 1);
    }

    #[test]
    fn four_above_each_other_are_too_many() {
        let row = [at(100, 50), at(100, 100), at(100, 150), at(100, 200)];
        assert_eq!(broken(&holes(&web(&row, &[]), BOLT, None)).len(), 4);
        assert_eq!(broken(&holes(&web(&row[..3], &[]), BOLT, None)).len(), 0);
    }

    #[test]
    fn brackets_go_to_holes_that_are_there_or_keep_off_them() {
        let place = |existing: &[Existing]| {
            let mut brackets = Brackets {
                wall: Wall::Left,
                places: vec![Length::mm(200)],
                up: Length::mm(100),
                reach: Reach::Web,
                sheet: Sheet {
                    material: Material::MildSteel,
                    thickness: Length::mm(5),
                },
                leg: Length::mm(55),
                length: Length::mm(60),
                bolts: 1,
                hole: Length::mm(11),
                under_cap: Length::ZERO,
            };
            suit(&mut brackets, existing, at(0, 0), BOLT, Length::mm(400));
            brackets.places[0]
        };
        // Bolts are at 100 - 5 - 25 up.
        assert_eq!(place(&[hole(230, 70, 11)]), Length::mm(229), "within a millimetre");
        // 13 wide serves no bolt: the new one keeps 25.4 + 6.5 + 5.5 away, to the next whole millimetre.
        assert_eq!(place(&[hole(205, 70, 13)]), Length::mm(167));
        assert_eq!(place(&[]), Length::mm(200));
    }
}
