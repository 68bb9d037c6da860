//! Whether a nest of sheets keeps every rule.

use tape::{Area, Length};

use super::{Along, Cutting, Nest, Placed, Request, Sheet};
use crate::nest::Supply;
use crate::nest::tally::{self, Pieces};

/// What is wrong with a nest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flaw {
    /// A sheet of a kind that was not told.
    NoSuchStock,
    /// More sheets of a kind than there are.
    TooManySheets,
    /// A part, a cut or an offcut reaches into the trim or off the sheet.
    InTheTrim,
    /// Two parts, two offcuts, or a part and an offcut, are closer than the kerf.
    TooClose,
    /// A part does not have its size, or lies a way that it may not.
    NotThePart,
    /// A cut does not go from edge to edge of a piece, or the cuts do not set every part free.
    NotCuttable,
    /// An offcut is smaller than what is worth keeping.
    TooSmall,
    /// Parts, kerf and offcut do not come to the area of the sheet.
    DoesNotAddUp,
    /// Parts are missing, or there are more than asked for.
    Quantity,
    /// The figures of the nest are not those of its sheets.
    Figures,
}

/// A rectangle on a sheet: near corner and far corner.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Piece {
    lo: [Length; 2],
    hi: [Length; 2],
}

impl Piece {
    fn at(x: Length, y: Length, sides: [Length; 2]) -> Self {
        Self {
            lo: [x, y],
            hi: [x + sides[0], y + sides[1]],
        }
    }

    fn area(self) -> Area {
        (self.hi[0] - self.lo[0]) * (self.hi[1] - self.lo[1])
    }

    fn within(self, other: Self) -> bool {
        (0..2).all(|axis| self.lo[axis] >= other.lo[axis] && self.hi[axis] <= other.hi[axis])
    }

    /// Whether there is at least `gap` between them one way or the other.
    fn apart(self, other: Self, gap: Length) -> bool {
        (0..2).any(|axis| self.hi[axis] + gap <= other.lo[axis] || other.hi[axis] + gap <= self.lo[axis])
    }
}

/// Tells what is wrong with a nest, if anything is: every rule is worked out anew from the request.
///
/// # Errors
///
/// The first [`Flaw`] found.
pub fn check(request: &Request, nest: &Nest) -> Result<(), Flaw> {
    let mut used = vec![0_u32; request.stock.len()];
    let mut cut = Pieces::new();
    for sheet in &nest.sheets {
        *used.get_mut(sheet.stock).ok_or(Flaw::NoSuchStock)? += 1;
        one_sheet(request, sheet)?;
        for part in &sheet.placed {
            *cut.entry((part.id, as_told(part))).or_default() += 1;
        }
    }
    for (stock, &used) in request.stock.iter().zip(&used) {
        if !stock.supply.lasts_for(used) {
            return Err(Flaw::TooManySheets);
        }
    }
    let parts = request.parts.iter().map(|part| (part.id, part.sides, part.quantity));
    if !tally::comes_to(parts, &cut, &nest.left_out) {
        return Err(Flaw::Quantity);
    }
    let bought = nest
        .sheets
        .iter()
        .filter(|sheet| request.stock[sheet.stock].supply == Supply::Bought);
    let right = u32::try_from(bought.count()) == Ok(nest.bought)
        && nest.at_least <= nest.bought
        && nest.proved == (nest.at_least == nest.bought);
    if right { Ok(()) } else { Err(Flaw::Figures) }
}

fn as_told(part: &Placed) -> [Length; 2] {
    let [a, b] = part.sides;
    if part.turned { [b, a] } else { [a, b] }
}

fn one_sheet(request: &Request, sheet: &Sheet) -> Result<(), Flaw> {
    let full = request.stock[sheet.stock].sides;
    let usable = Piece {
        lo: [request.trim; 2],
        hi: full.map(|side| side - request.trim),
    };
    for part in &sheet.placed {
        let told = |of: &&super::Part| of.id == part.id && of.sides == as_told(part);
        let of = request.parts.iter().find(told).ok_or(Flaw::NotThePart)?;
        if part.turned && !of.may_turn {
            return Err(Flaw::NotThePart);
        }
    }
    let parts: Vec<Piece> = sheet
        .placed
        .iter()
        .map(|part| Piece::at(part.x, part.y, part.sides))
        .collect();
    let offcuts = sheet
        .offcuts
        .iter()
        .map(|offcut| Piece::at(offcut.x, offcut.y, offcut.sides));
    let all: Vec<Piece> = parts.iter().copied().chain(offcuts).collect();
    if all.iter().any(|piece| !piece.within(usable)) {
        return Err(Flaw::InTheTrim);
    }
    for (at, &piece) in all.iter().enumerate() {
        if all[..at].iter().any(|&other| !piece.apart(other, request.kerf)) {
            return Err(Flaw::TooClose);
        }
    }
    let [a, b] = request.keep;
    let kept = |[w, h]: [Length; 2]| w >= a && h >= b || w >= b && h >= a;
    if sheet.offcuts.iter().any(|offcut| !kept(offcut.sides)) {
        return Err(Flaw::TooSmall);
    }
    let own: Area = parts.iter().map(|part| part.area()).sum();
    let left = match request.cutting {
        Cutting::Guillotine => left_by_cuts(request, sheet, usable, &parts)?,
        Cutting::Free => left_by_cells(request, usable, &parts),
    };
    let trim = full[0] * full[1] - usable.area();
    if sheet.parts != own || sheet.offcut != left + trim || own + sheet.kerf + sheet.offcut != full[0] * full[1] {
        return Err(Flaw::DoesNotAddUp);
    }
    Ok(())
}

/// Makes the cuts one after the other; the area of all pieces that are no part.
fn left_by_cuts(request: &Request, sheet: &Sheet, usable: Piece, parts: &[Piece]) -> Result<Area, Flaw> {
    let mut pieces = vec![usable];
    for cut in &sheet.cuts {
        let (across, along) = match cut.along {
            Along::X => (1, 0),
            Along::Y => (0, 1),
        };
        let goes_across = |piece: &Piece| {
            piece.lo[along] == cut.from
                && piece.hi[along] == cut.to
                && piece.lo[across] < cut.at
                && cut.at < piece.hi[across]
        };
        let at = pieces.iter().position(goes_across).ok_or(Flaw::NotCuttable)?;
        let piece = pieces.swap_remove(at);
        let (mut near, mut far) = (piece, piece);
        near.hi[across] = cut.at;
        far.lo[across] = cut.at + request.kerf;
        pieces.push(near);
        if far.lo[across] < far.hi[across] {
            pieces.push(far);
        }
    }
    for part in parts {
        let at = pieces.iter().position(|piece| piece == part).ok_or(Flaw::NotCuttable)?;
        pieces.swap_remove(at);
    }
    Ok(pieces.into_iter().map(Piece::area).sum())
}

/// The area of the cells, between all edges there are, that no part and no kerf beside a part takes.
fn left_by_cells(request: &Request, usable: Piece, parts: &[Piece]) -> Area {
    let grown: Vec<Piece> = parts
        .iter()
        .map(|part| Piece {
            lo: part.lo,
            hi: std::array::from_fn(|axis| (part.hi[axis] + request.kerf).min(usable.hi[axis])),
        })
        .collect();
    let edges = |axis: usize| {
        let mut edges: Vec<Length> = grown
            .iter()
            .flat_map(|piece| [piece.lo[axis], piece.hi[axis]])
            .collect();
        edges.extend([usable.lo[axis], usable.hi[axis]]);
        edges.sort_unstable();
        edges.dedup();
        edges
    };
    let [xs, ys] = [edges(0), edges(1)];
    let mut left = Area::default();
    for x in xs.windows(2) {
        for y in ys.windows(2) {
            let cell = Piece {
                lo: [x[0], y[0]],
                hi: [x[1], y[1]],
            };
            if !grown.iter().any(|piece| cell.within(*piece)) {
                left = left + cell.area();
            }
        }
    }
    left
}
