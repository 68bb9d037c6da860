//! The parts drawn apart, not to scale, with their marks.

use std::f64::consts::FRAC_PI_6;

use drawing::Piece;
use enclosure::{Role, Wall};
use geometry::Axis;
use plot::{Anchor, Base, Ink, Item, Layer, Line, Path, Pen, Point, Rect, Text};

use super::Sheets;
use crate::page::TEXT;

const EDGE: Ink = Ink::new(Pen::new(0.25, Line::Continuous), Layer::CUT);
const THIN_EDGE: Ink = Ink::new(Pen::new(0.13, Line::Continuous), Layer::CUT);
/// Marks and what leads them to their parts: painted over the faces.
pub(super) const MARKS: Layer = Layer::new("MARKS");
const LEADER: Ink = Ink::new(Pen::new(0.18, Line::Continuous), MARKS);
const BALLOON: f64 = 4.0;

/// A solid moved away from its place: its low and high corner in millimetres.
struct Moved<'a> {
    piece: &'a Piece,
    low: [f64; 3],
    high: [f64; 3],
}

impl Moved<'_> {
    /// Whether it lies wholly behind the other, for one who looks from the rear, the left and above.
    fn is_behind(&self, other: &Self) -> bool {
        self.high[0] <= other.low[0] || other.high[1] <= self.low[1] || self.high[2] <= other.low[2]
    }

    /// Whether both are blocks of one flat piece.
    fn is_one_with(&self, other: &Self) -> bool {
        !std::ptr::eq(self, other) && self.piece.flat == other.piece.flat
    }

    /// What of an edge is left where blocks of the same piece lie flush against it: they stand one over the other.
    fn open(&self, [from, to]: [[f64; 3]; 2], others: &[&Self]) -> impl Iterator<Item = [[f64; 3]; 2]> {
        let level = from[2].to_bits() == to[2].to_bits();
        let axis = usize::from(from[0].to_bits() == to[0].to_bits());
        let joins = |other: &&&Self| {
            level && self.low[2] - from[2] == 0.0 && other.high[2] - from[2] == 0.0
                || level && self.high[2] - from[2] == 0.0 && other.low[2] - from[2] == 0.0
        };
        let mut left = vec![[from[axis].min(to[axis]), from[axis].max(to[axis])]];
        for other in others.iter().filter(joins) {
            let [low, high] = [other.low[axis], other.high[axis]];
            left = left
                .into_iter()
                .flat_map(|[a, b]| [[a, b.min(low)], [a.max(high), b]])
                .filter(|[a, b]| a < b)
                .collect();
        }
        left.into_iter().map(move |[a, b]| {
            let at = |place: f64| {
                let mut point = from;
                point[axis] = place;
                point
            };
            if level { [at(a), at(b)] } else { [from, to] }
        })
    }

    fn nearness(&self) -> f64 {
        let middle = |axis: usize| f64::midpoint(self.low[axis], self.high[axis]);
        middle(0) - middle(1) + middle(2)
    }

    /// Its three faces that are seen, each as four corners: top, left, rear.
    fn faces(&self) -> [[[f64; 3]; 4]; 3] {
        let [[x0, y0, z0], [x1, y1, z1]] = [self.low, self.high];
        [
            [[x0, y0, z1], [x1, y0, z1], [x1, y1, z1], [x0, y1, z1]],
            [[x0, y0, z0], [x1, y0, z0], [x1, y0, z1], [x0, y0, z1]],
            [[x1, y0, z0], [x1, y1, z0], [x1, y1, z1], [x1, y0, z1]],
        ]
    }
}

/// A round hole through whatever stands square to it there.
struct Through {
    axis: Axis,
    at: [f64; 3],
    radius: f64,
}

impl Through {
    /// Corners enough for a circle on the slope.
    const CORNERS: u32 = 20;
    /// How far a sheet lies at most from the outermost face at its hole: through gasket and flange.
    const DEEP: f64 = 25.0;

    /// Its edge on the face of a moved piece that is seen, when it goes through that piece.
    fn through(&self, m: &Moved<'_>) -> Option<[[f64; 3]; Self::CORNERS as usize]> {
        let axis = self.axis.index();
        let solid = &m.piece.solid;
        let [low, high] = [solid.lo(), solid.hi()].map(|corner| corner.0.map(tape::Length::as_mm));
        // A cap hangs before the walls; what holes go through is under it.
        let hangs = matches!(m.piece.role, Role::SkirtLong | Role::SkirtShort | Role::PanLid) && self.axis != Axis::Z;
        let is_covered = hangs || (m.piece.role.is_added() && !m.piece.role.is_liner());
        let goes = m.piece.thin == self.axis
            && !is_covered
            && (f64::midpoint(low[axis], high[axis]) - self.at[axis]).abs() < Self::DEEP
            && (0..3).all(|other| other == axis || (low[other] < self.at[other] && self.at[other] < high[other]));
        goes.then(|| {
            // Seen are the top, the left and the rear.
            let face = if self.axis == Axis::Y {
                m.low[axis]
            } else {
                m.high[axis]
            };
            let [one, other] = [(axis + 1) % 3, (axis + 2) % 3];
            std::array::from_fn(|corner| {
                let turn =
                    f64::from(u32::try_from(corner).unwrap_or(0)) / f64::from(Self::CORNERS) * std::f64::consts::TAU;
                let mut at = [0, 1, 2].map(|axis| self.at[axis] + m.low[axis] - low[axis]);
                at[axis] = face;
                at[one] += self.radius * libm::cos(turn);
                at[other] += self.radius * libm::sin(turn);
                at
            })
        })
    }
}

/// The edge of a hole, seen through.
fn drawn(edge: &[Point]) -> [Item; 2] {
    let path = Path::through(edge.iter().copied(), true);
    [
        Item::Filled {
            path: path.clone(),
            grey: 1.0,
            layer: EDGE.layer,
        },
        Item::path(path, THIN_EDGE),
    ]
}

/// Isometric: x runs down to the right, y up to the right, z up.
fn seen([x, y, z]: [f64; 3]) -> Point {
    [(x + y) * libm::cos(FRAC_PI_6), z + (y - x) / 2.0]
}

impl Sheets<'_> {
    pub(super) fn apart(&self, room: Rect) -> Vec<Item> {
        let moved = in_order(self.moved());
        let holes = self.through();
        let all = moved.iter().flat_map(Moved::faces).flatten().map(seen);
        let Some(bounds) = Rect::around(all) else {
            return Vec::new();
        };
        let inner = Rect::between(
            [room.x + 22.0, room.y + 6.0],
            [room.high()[0] - 22.0, room.high()[1] - 10.0],
        );
        let scale = (inner.width / bounds.width).min(inner.height / bounds.height);
        let place = |at: [f64; 3]| -> Point {
            let [x, y] = seen(at);
            let [middle, centre] = inner.middle();
            [
                middle + (x - bounds.middle()[0]) * scale,
                centre + (y - bounds.middle()[1]) * scale,
            ]
        };
        let name = "parts drawn apart, not to scale, seen from the rear, the left and above";
        let (name, high) = crate::page::fitted(name, room.width, [2.5, 1.8]);
        let mut items = vec![Text::new(name, [room.x, room.high()[1] - 3.0], high, TEXT).into()];
        for m in &moved {
            for (face, grey) in m.faces().into_iter().zip([1.0, 0.93, 0.85]) {
                let path = Path::through(face.map(place), true);
                let filled = Item::Filled {
                    path: path.clone(),
                    grey,
                    layer: EDGE.layer,
                };
                items.push(filled);
                let others: Vec<&Moved<'_>> = moved.iter().filter(|other| m.is_one_with(other)).collect();
                if others.is_empty() {
                    items.push(Item::path(path, EDGE));
                    continue;
                }
                for side in 0..4 {
                    let ends = [face[side], face[(side + 1) % 4]];
                    items.extend(m.open(ends, &others).map(|ends| {
                        let [from, to] = ends.map(place);
                        Item::line(from, to, EDGE)
                    }));
                }
            }
            // Right after its own piece, so that what is nearer covers it.
            items.extend(
                holes
                    .iter()
                    .filter_map(|hole| hole.through(m))
                    .flat_map(|round| drawn(&round.map(place))),
            );
        }
        items.extend(balloons(self::told(&moved, place), room));
        items
    }

    /// The holes of the lid and of what is let into the walls.
    fn through(&self) -> Vec<Through> {
        let assembly = &self.assembly;
        let radius = |diameter: tape::Length| diameter.as_mm() / 2.0;
        let top = assembly.body.hi()[Axis::Z];
        let lid = assembly.holes.iter().zip(assembly.hole.into_iter().cycle());
        let lid = lid.map(|(&[x, y], diameter)| Through {
            axis: Axis::Z,
            at: [x, y, top].map(tape::Length::as_mm),
            radius: radius(diameter),
        });
        let openings = assembly.openings.iter().map(|opening| Through {
            axis: match opening.faces {
                Wall::Front | Wall::Rear => Axis::X,
                Wall::Left | Wall::Right => Axis::Y,
                Wall::Floor | Wall::Lid | Wall::Riser => Axis::Z,
            },
            at: opening.at.0.map(tape::Length::as_mm),
            radius: radius(opening.hole.diameter),
        });
        lid.chain(openings).collect()
    }

    /// Every solid moved out: lid and rim up, walls aside, floor and foot down.
    fn moved(&self) -> Vec<Moved<'_>> {
        let body = self.assembly.body;
        let [length, width, height] = body.size().0.map(tape::Length::as_mm);
        let top = body.hi()[Axis::Z].as_mm();
        let middle = [0, 1].map(|axis| f64::midpoint(body.lo().0[axis].as_mm(), body.hi().0[axis].as_mm()));
        let aside = (length.min(width) * 0.45).max(height * 0.4);
        let up = height * 0.6 + aside * 0.3;
        self.assembly
            .pieces
            .iter()
            .map(|piece| {
                let [low, high] = [piece.solid.lo(), piece.solid.hi()].map(|corner| corner.0.map(tape::Length::as_mm));
                let out = |axis: usize| {
                    let own = f64::midpoint(low[axis], high[axis]);
                    (own - middle[axis]).signum()
                };
                // The axis that a wall or bar stands across: that of its thickness, or the shorter one of a level bar.
                let across = usize::from(high[0] - low[0] > high[1] - low[1]);
                let mut by = [0.0; 3];
                match piece.role {
                    Role::Floor => by[2] = -up * 0.3,
                    // Out of the step, the riser between the two floors.
                    Role::RaisedFloor | Role::Riser => {
                        let axis = self.assembly.step_axis.index();
                        let step = self
                            .assembly
                            .step
                            .map_or(0.0, |s| f64::midpoint(s.lo().0[axis].as_mm(), s.hi().0[axis].as_mm()));
                        let share = if piece.role == Role::Riser { 0.25 } else { 0.5 };
                        by[axis] = (step - middle[axis]).signum() * aside * share;
                        by[2] = -up * 0.3;
                    }
                    Role::LongSide | Role::End => by[across] = out(across) * aside,
                    Role::FlangeLong | Role::FlangeShort | Role::RingLong | Role::RingShort => {
                        by[2] = up;
                        by[across] = out(across) * aside * 0.5;
                    }
                    Role::SkirtLong | Role::SkirtShort => {
                        by[2] = up * 1.4;
                        by[across] = out(across) * aside * 0.5;
                    }
                    Role::LidPlate | Role::PanLid => by[2] = up * 2.2,
                    Role::FrameLong | Role::FrameShort => {
                        by[2] = -up;
                        by[across] = out(across) * aside * 0.5;
                    }
                    Role::Post => {
                        by[0] = out(0) * aside * 1.5;
                        by[1] = out(1) * aside * 1.5;
                    }
                    // A bracket goes out with its wall; what is inside is lifted out.
                    Role::Bracket => by[across] = out(across) * aside * 1.3,
                    Role::HoldDownBar | Role::HoldDownAngle => by[2] = up * 1.5,
                    Role::Lug | Role::HoldDownRod => by[2] = up * 1.2,
                    Role::EndPlate | Role::TieRod => by[2] = up * 0.9,
                    Role::Divider => by[2] = up * 0.6,
                    Role::Standoff => by[2] = up * 0.3,
                    // With the lid, over the floor, or in from the wall that it lies on.
                    Role::EyePlate if piece.with_lid => by[2] = up * 1.9,
                    Role::EyePlate if piece.thin == Axis::Z => by[2] = up * 0.3,
                    Role::EyePlate => by[piece.thin.index()] = out(piece.thin.index()) * aside * 0.6,
                    // Over the lid or under it.
                    Role::Stiffener => by[2] = up * if low[2] >= top { 2.5 } else { 1.9 },
                    Role::FloorRail => by[2] = -up * 1.2,
                    // The liner stands between the walls and what goes in.
                    Role::LinerFloor | Role::LinerRaised | Role::LinerRiser => by[2] = -up * 0.15,
                    Role::LinerSide | Role::LinerEnd => by[across] = out(across) * aside * 0.5,
                    Role::Tray => {}
                }
                let add = |corner: [f64; 3]| [0, 1, 2].map(|axis| corner[axis] + by[axis]);
                Moved {
                    piece,
                    low: add(low),
                    high: add(high),
                }
            })
            .collect()
    }
}

/// Far to near. Of two solids that are apart along an axis, the one that is nearer on it is nearer wherever both show.
fn in_order(mut left: Vec<Moved<'_>>) -> Vec<Moved<'_>> {
    left.sort_by(|a, b| a.nearness().total_cmp(&b.nearness()));
    let mut ordered = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let covers_none = |one: &Moved<'_>| {
            left.iter()
                .all(|other| std::ptr::eq(one, other) || one.is_behind(other) || !other.is_behind(one))
        };
        // Solids that pass through each other, as bars drawn over their mitres do, are taken by their middles.
        let next = left.iter().position(covers_none).unwrap_or(0);
        ordered.push(left.remove(next));
    }
    ordered
}

/// Each mark once, with the place that it is led to: where its nearest piece is seen, near the middle of the largest face.
fn told(moved: &[Moved<'_>], place: impl Fn([f64; 3]) -> Point) -> Vec<(String, Point)> {
    let outlines: Vec<Vec<[Point; 4]>> = moved
        .iter()
        .map(|m| m.faces().map(|face| face.map(&place)).to_vec())
        .collect();
    // What is drawn later covers what is drawn before.
    let is_seen = |at: Point, index: usize| {
        let mut nearer = outlines[index + 1..].iter().flatten();
        !nearer.any(|face| is_in(at, face))
    };
    let mut told: Vec<(String, Point)> = Vec::new();
    let mut hidden: Vec<(String, Point)> = Vec::new();
    for (index, m) in moved.iter().enumerate().rev() {
        let mark = &m.piece.mark;
        if told.iter().any(|(known, _)| known == mark) {
            continue;
        }
        let mut faces = m.faces();
        faces.sort_by(|a, b| area(b).total_cmp(&area(a)));
        let mut spots = faces.iter().flat_map(spots).map(&place);
        if let Some(at) = spots.find(|&at| is_seen(at, index)) {
            told.push((mark.clone(), at));
        } else if !hidden.iter().any(|(known, _)| known == mark) {
            hidden.extend(
                faces
                    .iter()
                    .flat_map(self::spots)
                    .next()
                    .map(|at| (mark.clone(), place(at))),
            );
        }
    }
    hidden.retain(|(mark, _)| told.iter().all(|(known, _)| known != mark));
    told.extend(hidden);
    told
}

/// Places on a face, those nearest its middle first.
fn spots(face: &[[f64; 3]; 4]) -> Vec<[f64; 3]> {
    const STEPS: i32 = 8;
    let mut steps: Vec<[i32; 2]> = (-STEPS..=STEPS)
        .flat_map(|a| (-STEPS..=STEPS).map(move |b| [a, b]))
        .collect();
    steps.sort_by_key(|[a, b]| a * a + b * b);
    let [corner, along, _, across] = face;
    let share = |step: i32| 0.5 + f64::from(step) / f64::from(2 * STEPS + 1);
    let at = |[a, b]: [i32; 2]| {
        [0, 1, 2].map(|axis| {
            corner[axis] + (along[axis] - corner[axis]) * share(a) + (across[axis] - corner[axis]) * share(b)
        })
    };
    steps.into_iter().map(at).collect()
}

/// Whether a point lies in a face as it is seen.
fn is_in(at: Point, face: &[Point; 4]) -> bool {
    let turns = [0, 1, 2, 3].map(|side| {
        let (from, to) = (face[side], face[(side + 1) % 4]);
        (to[0] - from[0]) * (at[1] - from[1]) - (to[1] - from[1]) * (at[0] - from[0])
    });
    turns.iter().all(|turn| *turn >= 0.0) || turns.iter().all(|turn| *turn <= 0.0)
}

fn area(face: &[[f64; 3]; 4]) -> f64 {
    let [a, b, c, d] = face.map(seen);
    let cross = |p: Point, q: Point| p[0] * q[1] - p[1] * q[0];
    (cross(a, b) + cross(b, c) + cross(c, d) + cross(d, a)).abs() / 2.0
}

/// Marks in circles, left and right of the picture, each led to its part.
fn balloons(mut told: Vec<(String, Point)>, room: Rect) -> Vec<Item> {
    told.sort_by(|(_, a), (_, b)| a[0].total_cmp(&b[0]));
    let right = told.split_off(told.len() / 2);
    let mut items = Vec::new();
    for (mut side, x) in [(told, room.x + 6.0), (right, room.high()[0] - 6.0)] {
        side.sort_by(|(_, a), (_, b)| a[1].total_cmp(&b[1]));
        let [low, high] = [room.y + 1.0, room.high()[1] - 9.0];
        #[expect(clippy::cast_precision_loss, reason = "a handful of parts")]
        let most = (high - low) / side.len().max(1) as f64;
        // Many stand closer, and are smaller, so that all of them stay on the paper.
        let step = (2.0 * BALLOON + 2.0).min(most);
        let radius = BALLOON.min(step / 2.0 - 0.3);
        let mut lowest = low + step / 2.0;
        for (index, (mark, at)) in side.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "a handful of parts")]
            let above = (side.len() - 1 - index) as f64 * step;
            let highest = high - step / 2.0 - above;
            let y = at[1].max(lowest).min(highest);
            lowest = y + step;
            let centre = [x, y];
            let apart = libm::hypot(at[0] - x, at[1] - y).max(f64::MIN_POSITIVE);
            let rim = [0, 1].map(|axis| centre[axis] + (at[axis] - centre[axis]) / apart * radius);
            items.push(Item::circle(centre, radius, LEADER));
            items.push(Item::line(rim, *at, LEADER));
            items.push(Item::dot(*at, 0.6, MARKS));
            let (words, high) = crate::page::fitted(mark, 2.0 * radius - 1.5, [2.5, 1.4]);
            items.push(
                Text::new(words, centre, high, MARKS)
                    .anchored(Anchor::Middle, Base::Middle)
                    .into(),
            );
        }
    }
    items
}
