//! Where a seam shows in a view: on both of the pieces that it joins.

use drawing::{Piece, Side};
use enclosure::weld::{At, Seam};
use geometry::{Axis, Cuboid, Point};
use tape::Length;

use super::Sheets;

/// Where an arrow meets a seam in a view.
pub(super) struct Met {
    /// The place, on the sheet of the view.
    pub(super) at: [Length; 2],
    /// The place for a seam of which no edge is drawn: the right-hand end of it.
    pub(super) end: [Length; 2],
    /// What the pieces share.
    pub(super) along: drawing::Rect,
    /// Those of the pieces that are inside the box, which the view does not show.
    pub(super) inside: Vec<drawing::Rect>,
}

impl Sheets<'_> {
    /// Where an arrow meets one of a sort of seams in a view: the one farthest to the right, of several the nearest. `None` when
    /// the pieces that it joins do not touch as they are drawn.
    pub(super) fn seam_on(&self, seam: &Seam, side: Side) -> Option<Met> {
        let touching = self.touching(seam).into_iter();
        let best = touching.max_by_key(|(_, both)| (side.rect(both).u1, -side.depth(both)[0]));
        let (pieces, both) = best?;
        let along = side.rect(&both);
        let inside = pieces.iter().filter(|piece| self.assembly.is_inside(piece));
        let inside: Vec<drawing::Rect> = inside.map(|piece| side.rect(&piece.solid)).collect();
        let middle = (along.v0 + along.v1).half_down();
        // Along a wall that faces the viewer the arrow ends short of the corner, where other seams are; of what is inside
        // only the edge is there to point at.
        let short_of = Length::from_nm(self.assembly.rect(side).width().nm() * 3 / 20);
        let u = if inside.is_empty() {
            (along.u1 - short_of).max(along.u0)
        } else {
            along.u1
        };
        let v = match seam.at {
            At::OverFoot => along.v0,
            At::UnderRim => along.v1,
            _ => middle,
        };
        Some(Met {
            at: [u, v],
            end: [along.u1, middle],
            along,
            inside,
        })
    }

    /// The marks of what a sort of seams joins, on either side of it: of the pieces alone that it runs along.
    pub(super) fn joined(&self, seam: &Seam) -> [String; 2] {
        let mut touching = self.touching(seam);
        // Pieces that meet in a corner alone have no seam there, unless all do, as the lips of a folded tray.
        let runs = |(pair, both): &([&Piece; 2], Cuboid)| {
            let size = both.size();
            let long = Axis::ALL.iter().map(|&axis| size[axis]).max().unwrap_or_default();
            pair.iter().all(|piece| long > piece.solid.size()[piece.thin])
        };
        if touching.iter().any(runs) {
            touching.retain(runs);
        }
        [0, 1].map(|which| {
            let mut marks: Vec<&str> = Vec::new();
            for (pair, _) in &touching {
                let mark = pair[which].mark.as_str();
                if !marks.contains(&mark) {
                    marks.push(mark);
                }
            }
            marks.join(", ")
        })
    }

    /// The pairs of pieces that a sort of seams joins, each with what they share.
    fn touching(&self, seam: &Seam) -> Vec<([&Piece; 2], Cuboid)> {
        let pieces = || self.assembly.pieces.iter().enumerate();
        let of = |role| pieces().filter(move |(_, piece)| piece.role == role);
        let mut touching = Vec::new();
        for (index, one) in of(seam.joins[0]) {
            for (other_index, other) in of(seam.joins[1]) {
                if index != other_index
                    && let Some(both) = common(&one.solid, &other.solid)
                    && runs_as(seam.at, [one, other], &both)
                    && self.is_by_the_step(seam).is_none_or(|by| by == self.over_step(&both))
                {
                    touching.push(([one, other], both));
                }
            }
        }
        touching
    }
}

impl Sheets<'_> {
    /// Of the two sorts of corners that the walls of a stepped box have: whether it is the shorter, over the step.
    fn is_by_the_step(&self, seam: &Seam) -> Option<bool> {
        // Other seams with the same roles, as those of brackets, are told apart by where they are alone.
        if seam.at != At::Upright {
            return None;
        }
        let mut alike = self
            .assembly
            .seams
            .iter()
            .filter(|other| other.number != seam.number && (other.at, other.joins) == (seam.at, seam.joins));
        self.assembly
            .step
            .and(alike.next())
            .map(|other| seam.length < other.length)
    }

    /// Whether it lies over the step.
    fn over_step(&self, solid: &Cuboid) -> bool {
        let axis = self.assembly.step_axis;
        let over = |step: Cuboid| step.lo()[axis] <= solid.lo()[axis] && solid.hi()[axis] <= step.hi()[axis];
        self.assembly.step.is_some_and(over)
    }
}

/// What two solids share, if only a face, an edge or a corner.
fn common(one: &Cuboid, other: &Cuboid) -> Option<Cuboid> {
    let (mut lo, mut hi) = ([Length::ZERO; 3], [Length::ZERO; 3]);
    for axis in Axis::ALL {
        lo[axis.index()] = one.lo()[axis].max(other.lo()[axis]);
        hi[axis.index()] = one.hi()[axis].min(other.hi()[axis]);
    }
    let touch = lo.iter().zip(&hi).all(|(lo, hi)| lo <= hi);
    touch.then(|| Cuboid::between(Point(lo), Point(hi)))
}

/// Whether a seam of this sort runs where two pieces touch: a folded part has walls, floor and lips under one name, and a
/// ring of angle two legs.
fn runs_as(at: At, pieces: [&Piece; 2], both: &Cuboid) -> bool {
    let size = both.size();
    let is_upright = size[Axis::Z] >= size[Axis::X].max(size[Axis::Y]);
    match at {
        At::Upright | At::LidCorner => is_upright && pieces.iter().all(|piece| piece.thin != Axis::Z),
        At::RimCorner => pieces.iter().all(|piece| piece.thin == Axis::Z),
        _ => true,
    }
}
