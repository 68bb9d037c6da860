//! The frame of angle that panels are riveted or bonded into.

use tape::{Area, Length};

use super::frame;
use super::holes::{Drill, Holes, Place};
use super::shell::Shell;
use crate::material::Material;
use crate::{EndCut, Frame, Held, Joint, Part, Purpose, Role, Sheet, Skeleton};

impl Skeleton {
    /// Its ring at the floor.
    pub(crate) const fn foot(&self) -> Frame {
        Frame {
            leg: self.leg,
            thickness: self.thickness,
            grams_per_m: self.grams_per_m,
            joint: self.joint,
        }
    }

    fn bar(&self, role: Role, quantity: u32, material: Material, length: Length, end: EndCut) -> Part {
        let sheet = Sheet {
            material,
            thickness: self.thickness,
        };
        let mut bar = Part::plate(role, quantity, sheet, [length, self.leg]);
        bar.ends = [end; 2];
        bar.solid_grams = frame::grams(self.foot(), length);
        bar
    }
}

/// The ring at the rim: its upright leg outside the wall, down from the rim, its level leg standing out, flush with it.
///
/// Long bars, and mitred short ones, reach over the level legs beside them; a butted short bar stands between the long
/// ones, as long as the wall, and needs no coping.
pub(super) fn ring(
    skeleton: &Skeleton,
    material: Material,
    [long, short]: [Length; 2],
    holes: Option<&Holes>,
) -> [Part; 2] {
    let leg = skeleton.leg;
    let over = [long + leg * 2, short + leg * 2];
    let (short_length, short_start, end) = match skeleton.joint {
        Joint::Mitred => (over[1], Length::ZERO, EndCut::Mitre45),
        Joint::Butt => (short, leg, EndCut::Square),
    };
    let mut bars = [
        skeleton.bar(Role::RingLong, 2, material, over[0], end),
        skeleton.bar(Role::RingShort, 2, material, short_length, end),
    ];
    if let Some(holes) = holes {
        let free = leg - skeleton.thickness;
        bars[0].holes = holes.on(&Place::long_bar(over, free, end));
        bars[1].holes = holes.on(&Place::short_bar(over, short_start, free, end));
    }
    bars
}

/// Four posts at the corners, outside the walls, between the two rings.
pub(crate) fn posts(skeleton: &Skeleton, material: Material, shell: &Shell) -> Part {
    skeleton.bar(Role::Post, 4, material, post_length(skeleton, shell), EndCut::Square)
}

/// From the upper edge of the foot's upright, its leg less the foot's thickness above the floor's underside, to the lower
/// edge of the ring's.
pub(crate) fn post_length(skeleton: &Skeleton, shell: &Shell) -> Length {
    shell.height() - skeleton.leg * 2 + skeleton.thickness
}

/// Rivet holes in floor, long sides and ends, in the middle of what they share with the angle; how many in all.
///
/// They are drilled on through the angle once the panel is clamped in it, so the bars have none.
pub(crate) fn rivet(skeleton: &Skeleton, shell: &Shell, panels: &mut [Part]) -> u32 {
    let Held::Riveted { hole, most_pitch } = skeleton.held else {
        return 0;
    };
    let mut count = 0;
    for panel in panels {
        let Some([side, lower, upper]) = edges(skeleton, shell, panel.role) else {
            continue;
        };
        let line = [panel.length - side * 2, panel.width - lower - upper];
        let drill = Drill {
            diameter: hole,
            most_pitch,
            purpose: Purpose::Rivet,
        };
        let holes = Holes::on_line([side, lower], line, drill);
        count += holes.pattern.count * panel.quantity;
        panel.holes = holes.all();
    }
    count
}

/// How far the rivets' line runs inside a panel's edges: left and right, below, above.
pub(crate) fn edges(skeleton: &Skeleton, shell: &Shell, role: Role) -> Option<[Length; 3]> {
    let shared = skeleton.leg - skeleton.thickness;
    let middle = shared.half_down();
    let lower = (shared - shell.floor).half_down();
    match role {
        Role::Floor => Some([middle, middle, middle]),
        Role::LongSide => Some([middle, lower, skeleton.leg.half_down()]),
        // An end stands between the long sides.
        Role::End => Some([middle - shell.wall, lower, skeleton.leg.half_down()]),
        _ => None,
    }
}

/// What one panel of this role shares with the angle round it: where it is riveted or bonded.
///
/// As wide on each side as twice the way to the middle of the rivets' line, so never more than there is.
pub(super) fn shared(skeleton: &Skeleton, shell: &Shell, panel: &Part) -> Option<Area> {
    let [side, lower, upper] = edges(skeleton, shell, panel.role)?;
    let free = [panel.length - side * 4, panel.width - (lower + upper) * 2].map(|free| free.max(Length::ZERO));
    Some(panel.length * panel.width - free[0] * free[1])
}

/// The outside of the ring's upright legs and of the posts.
pub(crate) fn coat_area(skeleton: &Skeleton, shell: &Shell) -> Area {
    let girth = shell.girth() + skeleton.thickness * 8;
    girth * skeleton.leg + post_length(skeleton, shell) * (skeleton.leg * 8)
}
