//! Every module of a kind where it is placed, lone or in a stack, with its two terminals in the truck.

use geometry::{Axis, Cuboid, Point};
use tape::Length;

use crate::document::{Job, Kind, Seat, Stance};
use crate::evaluate::boxes::{BoxResult, ModuleResult};
use crate::evaluate::kind::KindResult;
use crate::{Id, assumed};

/// One module where it is placed. Places are in the truck's frame where its cavity has a place in it.
#[derive(Clone, Debug, PartialEq)]
pub struct SeatResult {
    /// Which.
    pub seat: Seat,
    /// Its box.
    pub battery_box: Id,
    /// Its cavity.
    pub cavity: Id,
    /// From a place in the frame of these results to one in the cavity's: subtract it.
    pub from_cavity: Point,
    /// The space it takes.
    pub cuboid: Cuboid,
    /// Its plus terminal.
    pub plus: Point,
    /// Its minus terminal.
    pub minus: Point,
    /// Whether it is built in the other way round.
    pub turned: bool,
    /// Whether half a turn swaps the places of its terminals and it may stand so.
    pub may_turn: bool,
    /// The name of the unit built in, if one was assigned.
    pub unit: Option<String>,
}

impl SeatResult {
    /// The terminal of a pole.
    pub const fn terminal(&self, plus: bool) -> Point {
        if plus { self.plus } else { self.minus }
    }
}

/// How far apart cavities are taken to be that have no place in the truck.
const APART: Length = Length::mm(500);

/// Where each cavity stands: its place in the truck; without one it is set beside those before it, and the second value
/// is false: distances to it are then estimates.
pub(super) fn cavity_origins(job: &Job, boxes: &[BoxResult]) -> (Vec<(Id, Point)>, bool) {
    let mut known = true;
    let mut right = Length::ZERO;
    let mut origins = Vec::with_capacity(job.cavities.len());
    for cavity in &job.cavities {
        let width = boxes
            .iter()
            .filter(|b| b.cavity == cavity.id)
            .filter_map(|b| b.body)
            .map(|body| body.hi()[Axis::Y])
            .max();
        let origin = match &cavity.place {
            Some(place) => Point(place.each_ref().map(crate::Len::value)),
            None => {
                known &= width.is_none();
                Point::along(Axis::Y, right)
            }
        };
        right = right.max(origin[Axis::Y] + width.unwrap_or_default() + APART);
        origins.push((cavity.id, origin));
    }
    (origins, known)
}

/// The seats of a kind, box after box as in the job.
pub(super) fn of_kind(job: &Job, kind: &KindResult, boxes: &[BoxResult], origins: &[(Id, Point)]) -> Vec<SeatResult> {
    let Some((entered, size)) = job.kind(kind.id).zip(kind.size) else {
        return Vec::new();
    };
    let [Some(plus), Some(minus)] = assumed::terminal_points(entered) else {
        return Vec::new();
    };
    let may_turn = may_turn(plus, minus, size, entered.stance.unwrap_or_default());
    let mut seats = Vec::new();
    for b in boxes {
        let from_cavity = origins
            .iter()
            .find(|(id, _)| *id == b.cavity)
            .map_or(Point::ZERO, |o| o.1);
        for module in b.modules.iter().filter(|m| m.kind == kind.id) {
            let whole = module.stands;
            let own = kind.own_size(module.count).unwrap_or(size);
            for nth in 0..module.count {
                let shift = within(kind, size, nth);
                let at = |point: Point| module.cuboid.lo() + whole.point(point + shift, own) + from_cavity;
                let seat = Seat {
                    placed: module.id,
                    nth: if module.count > 1 { nth + 1 } else { 0 },
                };
                let turned = may_turn && job.wiring.turned.contains(&seat);
                let (plus, minus) = if turned { (minus, plus) } else { (plus, minus) };
                seats.push(SeatResult {
                    seat,
                    battery_box: b.id,
                    cavity: b.cavity,
                    from_cavity,
                    cuboid: Cuboid::between(at(Point::ZERO), at(Point(size.0))),
                    plus: at(plus),
                    minus: at(minus),
                    turned,
                    may_turn,
                    unit: None,
                });
            }
        }
    }
    for unit in job.tested.iter().filter(|u| u.kind == kind.id && !u.set_aside) {
        if let Some(seat) = unit.seat.and_then(|at| seats.iter_mut().find(|s| s.seat == at))
            && seat.unit.is_none()
        {
            seat.unit = Some(unit.name.clone());
        }
    }
    seats
}

/// Every terminal of a module, or of each module of a stack, in the cavity's frame; `None` while its size is not known.
pub(in crate::evaluate) fn terminals(entered: &Kind, kind: &KindResult, module: &ModuleResult) -> Option<Vec<Point>> {
    let [plus, minus] = assumed::terminal_points(entered);
    let (size, own) = (kind.size?, kind.own_size(module.count)?);
    let (plus, minus) = (plus?, minus?);
    let at = |point: Point, nth| module.cuboid.lo() + module.stands.point(point + within(kind, size, nth), own);
    Some(
        (0..module.count)
            .flat_map(|nth| [at(plus, nth), at(minus, nth)])
            .collect(),
    )
}

/// How far the `nth` of a stack is along it, from the stack's own corner.
fn within(kind: &KindResult, size: geometry::Size, nth: u32) -> Point {
    let n = i64::from(nth);
    match &kind.stack {
        Some(stack) => Point::along(stack.along, stack.end + (size[stack.along] + stack.growth) * n),
        None => Point::along(Axis::X, size[Axis::X] * n),
    }
}

/// Whether half a turn brings each terminal to where the other was: about the vertical always, about another axis only
/// for a kind that may stand any way.
fn may_turn(plus: Point, minus: Point, size: geometry::Size, stance: Stance) -> bool {
    let close = |a: Length, b: Length| (a - b).abs() <= Length::mm(1);
    Axis::ALL
        .into_iter()
        .filter(|&about| about == Axis::Z || stance == Stance::Any)
        .any(|about| {
            Axis::ALL.into_iter().all(|axis| {
                let goes_to = if axis == about {
                    plus[axis]
                } else {
                    size[axis] - plus[axis]
                };
                close(goes_to, minus[axis])
            })
        })
}
