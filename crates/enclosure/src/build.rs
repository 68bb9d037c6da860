//! From a box to its parts.
//!
//! All sizes are exact. The shell comes first ([`BoxSpec::corners`] decides which panel runs through at a corner),
//! then the lid with what it stands on, then the frame.

pub(crate) mod cap_hold;
mod centre;
mod frame;
pub(crate) mod gasket;
pub(crate) mod holes;
pub(crate) mod lid;
pub(crate) mod past;
mod shell;
pub(crate) mod skeleton;
mod step;
#[cfg(test)]
pub(crate) mod tests;
mod tray;
pub(crate) mod wall_holes;

use tape::{Area, Length};

use crate::{BoxSpec, Construction, Fold, HolePattern, Part, Purpose, Role, SpecError, Step, WallHole};
pub use centre::empty_middle_mm;
pub use gasket::{Lies, Strip};
use lid::Closed;
pub use past::Unspaced;
pub(crate) use shell::Shell;
pub use skeleton::{RivetLine, rivet_lines};

/// A band that sticks out beyond the body, told from the top of the lid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RimBand {
    /// How far it reaches out from the body's sides.
    pub out: Length,
    /// Its lower edge, below the top of the lid.
    pub below_top: Length,
    /// Its upper edge, above the top of the lid (screw heads); negative when it lies below the top (the angle frame
    /// at the floor).
    pub above_top: Length,
    /// Whether it is solid all round; else it is the block that single rivets are counted as, and what stands between them on the bare
    /// panel is not in it.
    pub is_solid: bool,
}

/// A box as built: sizes, parts, mass.
#[derive(Clone, Debug, PartialEq)]
pub struct Built {
    /// Length and width over the walls, height from under the floor to the rim: no lid, flange or frame.
    pub shell: [Length; 3],
    /// Length and width over the walls, height from under the floor to the top of the lid; with a frame of angle round
    /// the panels over and from under that.
    pub body: [Length; 3],
    /// From the inside to the outside of the body at every side.
    pub beside: Length,
    /// From the inside to the outside of the body at the floor.
    pub under: Length,
    /// Length and width over everything (flange, cap, frame, brackets), height over screw heads, clamps and stiffeners, and from
    /// under the frame's foot, when it has one, or under the rivets in it. Those in the walls stand out less than the ring over
    /// them.
    pub overall: [Length; 3],
    /// The block that [`Built::overall`] is the size of, in the frame of the space inside the steel.
    pub hull: crate::added::Block,
    /// What sticks out beyond the body, as solids that take part in clearances: flange with lid edge, screw heads and
    /// nuts, or the cap's skirt and what holds it; and what reaches below the floor, told by a band that ends below the top: the
    /// frame, or the rivets in one of angle.
    ///
    /// Each is drawn round as a whole block as large as the body and the band, on the safe side.
    pub rims: Vec<RimBand>,
    /// Gasket when squeezed plus lid: from the rim to the top of the lid.
    pub above_rim: Length,
    /// The pieces, floor first; what was added comes last.
    pub parts: Vec<Part>,
    /// The solids of what was added, in the frame of the space inside the steel.
    pub added: Vec<crate::added::Piece>,
    /// Nuts, bolt heads and thread ends of what was added.
    pub nuts: Vec<crate::added::Block>,
    /// Holes in the walls for the nuts of screws that hold a cap down.
    pub side_screws: Vec<WallHole>,
    /// How long the sleeve on each of those screws is, between the skirt and the rim of its nut, so that the skirt is not drawn in; `None`
    /// without such screws, and where there is no room for one.
    pub sleeve: Option<Length>,
    /// Where toggle clamps hold a cap down, as if each were a hole.
    pub clamps: Vec<WallHole>,
    /// What those nuts take up inside the walls, in the frame of the space inside the steel.
    pub lid_nuts: Vec<crate::added::Block>,
    /// The rivets that hold what lies flat on floor and lid.
    pub fixings: Vec<crate::added::Fixing>,
    /// Their heads and tails at the floor, in the frame of the space inside the steel.
    pub fixing_ends: Vec<crate::added::Block>,
    /// What is bought to hold a cap down and to fix what was added, each with how many.
    pub fasteners: Vec<(String, u32)>,
    /// The seams of what was added, in the order it was put in.
    pub seams: Vec<crate::weld::Draft>,
    /// The step in its underside: what of `shell`, `body` and `overall` it lacks tells [`Step::block`].
    pub step: Option<Step>,
    /// Holes through its walls.
    pub wall_holes: Vec<WallHole>,
    /// The lid's holes, when it is screwed.
    pub lid_holes: Option<HolePattern>,
    /// Rivets that hold panels in a frame of angle.
    pub rivets: u32,
    /// What one floor, one long side and one end share with a frame of angle; none without one.
    pub shared: Vec<(Role, Area)>,
    /// Mass of all parts in grams, holes taken off.
    pub grams: f64,
    /// Outside surface to coat (body with lid closed, flange both sides).
    ///
    /// Floor, walls to the rim, top and edge of the lid, both faces and the edge of the flange, both faces of the
    /// skirt, both outside faces of the frame. What lies against something else is not taken off, so the figure is
    /// on the generous side.
    pub coat_area: Area,
    /// Length of gasket to buy: once round along the line of the lid's screws, else over the walls; zero without one.
    pub gasket_length: Length,
    /// The gasket as it lies; `None` without one, and where screws leave no room for it.
    pub gasket: Option<Strip>,
    /// What is bonded of what was added: the area that lies on the adhesive.
    pub bonded: Area,
}

impl Built {
    /// The area that adhesive is spread on: of panels bonded to their frame (`panels`) what they share with its angle, of
    /// what was added what lies on it.
    pub fn adhesive_area(&self, panels: bool) -> Area {
        let of_panels = self.parts.iter().filter(|_| panels).filter_map(|part| {
            let (_, area) = self.shared.iter().find(|(role, _)| *role == part.role)?;
            Some(*area * i64::from(part.quantity))
        });
        self.bonded + of_panels.sum()
    }

    /// What of [`rims`](Self::rims) is solid all round.
    pub fn solid_rims(&self) -> impl Iterator<Item = &RimBand> {
        self.rims.iter().filter(|rim| rim.is_solid)
    }

    /// Length of the seams between the panels of a frame and its angle: once round each panel.
    pub fn panel_seams(&self) -> Length {
        let panels = self.parts.iter().filter(|part| skeleton::is_panel(part));
        panels
            .map(|part| (part.length + part.width) * 2 * i64::from(part.quantity))
            .sum()
    }

    /// Mass of all parts before holes and corner reliefs, in grams: it grows evenly with the box, which the number of its
    /// holes does not.
    pub fn solid_grams(&self) -> f64 {
        self.parts
            .iter()
            .map(|part| part.solid_grams * f64::from(part.quantity))
            .sum()
    }

    /// How many of the lid's holes are in no flange bar before welding, and must be drilled through the lid after.
    ///
    /// Those are the holes that a joint of two bars, or of two lips, runs through: the corner holes of a mitred flange,
    /// and a hole right beside the corner of a butted one.
    pub fn holes_after_welding(&self) -> u32 {
        let rim = || self.parts.iter().filter(|part| part.takes_the_lid());
        let Some(pattern) = self.lid_holes.filter(|_| rim().next().is_some()) else {
            return 0;
        };
        // The sheet of a tray is rim and walls in one: it has other holes too.
        let of_rim = |part: &Part| part.holes_for(Purpose::LidScrew).count();
        let before: usize = rim().map(|part| of_rim(part) * part.quantity as usize).sum();
        pattern.count.saturating_sub(u32::try_from(before).unwrap_or(u32::MAX))
    }
}

/// Mass of some parts, all of each, in grams.
fn grams<'a>(parts: impl Iterator<Item = &'a Part>) -> f64 {
    parts.map(|part| part.grams() * f64::from(part.quantity)).sum()
}

/// The block of these sizes that lies evenly round the space inside and ends so far over its floor.
fn hull(overall: [Length; 3], inside: [Length; 3], over_top: Length) -> crate::added::Block {
    let side = |axis: usize| {
        let beyond = (overall[axis] - inside[axis]).half_down();
        [-beyond, overall[axis] - beyond]
    };
    crate::added::Block::of([side(0), side(1), [over_top - overall[2], over_top]])
}

/// Builds the box.
///
/// # Errors
///
/// [`SpecError`] when a size or thickness is not above zero or parts would pass through each other.
pub fn build(spec: &BoxSpec) -> Result<Built, SpecError> {
    build_with(spec, &[])
}

/// Builds the box with holes through its walls.
///
/// # Errors
///
/// As [`build`]; and when a hole does not lie wholly on the flat of its wall, or two run into each other.
pub fn build_with(spec: &BoxSpec, holes: &[WallHole]) -> Result<Built, SpecError> {
    spec.check()?;
    spec.check_holes(holes).map_err(|(_, fault)| fault)?;
    let shell = Shell::of(spec);
    let closed = Closed::of(spec, &shell);
    let [length, width, height] = shell.over_walls(spec.long_axis());
    let top = height + closed.above_rim;

    let gasket_length = closed.gasket_length(&shell);
    let mut rims = closed.rims;
    let mut coat_area = shell.coat_area() + closed.coat_area;
    let mut out = closed.overhang;
    // Clamps may stand up higher than anything on the lid.
    let over_lid = rims
        .iter()
        .map(|rim| rim.above_top)
        .fold(closed.head_height, Length::max);
    let mut overall_height = top + over_lid;
    let mut parts = match spec.construction {
        Construction::Welded | Construction::Framed(_) => shell.panels(spec),
        Construction::Folded(folding) => {
            let tray = shell.tray(spec, folding);
            let mut part = tray.part(Role::Tray, Fold::Up);
            part.holes = closed
                .holes
                .as_ref()
                .map_or_else(Vec::new, |holes| tray.lip_holes(holes));
            vec![part]
        }
    };
    let mut rivets = 0;
    let mut shared = Vec::new();
    let mut angle = Length::ZERO;
    let mut frame = spec.frame;
    if let Construction::Framed(skeleton) = &spec.construction {
        rivets = skeleton::rivet(skeleton, &shell, &mut parts);
        let of = |panel: &Part| Some((panel.role, skeleton::shared(skeleton, &shell, panel)?));
        shared = parts.iter().filter_map(of).collect();
        parts.extend([skeleton::posts(skeleton, spec.wall.material, &shell)]);
        // The angle stands all round the panels, so the body is told over it, and the ring stands out from that.
        angle = skeleton.thickness + shell.line;
        for rim in &mut rims {
            rim.out -= skeleton.thickness;
        }
        coat_area = coat_area + skeleton::coat_area(skeleton, &shell);
        frame = Some(skeleton.foot());
        overall_height += skeleton.rivets_stand()[0];
        rims.extend(skeleton::band(skeleton, &shell, top));
    }
    parts.extend(closed.parts);
    if let Some(frame) = frame {
        parts.extend(frame::bars(frame, spec.wall.material, &shell));
        if angle == Length::ZERO {
            rims.push(frame::band(frame, top));
        }
        coat_area = coat_area + frame::coat_area(frame, &shell);
        out = out.max(frame.thickness + shell.line);
        overall_height += frame.thickness + shell.line;
    }
    let side_screws = cap_hold::holes(spec);
    cap_hold::drill(spec, &shell, &mut parts, &side_screws);
    wall_holes::pierce(spec, &shell, &mut parts, holes);
    let overall = [length + out * 2, width + out * 2, overall_height];
    let over_top = spec.inside[2] + closed.above_rim + over_lid;
    Ok(Built {
        shell: [length, width, height],
        body: [length + angle * 2, width + angle * 2, top + angle],
        beside: spec.wall.thickness + angle,
        under: spec.floor.thickness + angle,
        overall,
        hull: hull(overall, spec.inside, over_top),
        rims,
        above_rim: closed.above_rim,
        step: spec.step,
        wall_holes: holes.to_vec(),
        lid_holes: closed.holes.map(|holes| holes.pattern),
        rivets,
        shared,
        grams: grams(parts.iter()),
        parts,
        added: Vec::new(),
        nuts: Vec::new(),
        lid_nuts: cap_hold::nuts(spec, &side_screws),
        side_screws,
        sleeve: cap_hold::sleeve(spec),
        clamps: cap_hold::clamps(spec),
        fixings: Vec::new(),
        fixing_ends: Vec::new(),
        fasteners: cap_hold::bought(spec).into_iter().collect(),
        seams: Vec::new(),
        coat_area,
        gasket: gasket::strip(spec, &shell),
        bonded: Area::default(),
        gasket_length,
    })
}
