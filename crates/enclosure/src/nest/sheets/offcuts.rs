//! What is left of a sheet, and the cuts as they are made.

use tape::{Area, Length};

use super::fitting::without;
use super::job::{Laid, area};
use super::tree::{Met, Node, Rect};
use super::{Along, Cut, Cutting, Offcut, Request};

/// The grown usable sheet.
fn whole(request: &Request, kind: usize) -> Rect {
    let [w, h] = request.stock[kind]
        .sides
        .map(|side| (side - request.trim * 2 + request.kerf).nm());
    Rect { x: 0, y: 0, w, h }
}

/// The cuts of a tree, in the order of cutting.
pub(super) fn cuts(request: &Request, kind: usize, tree: &Node) -> Vec<Cut> {
    let (kerf, trim) = (request.kerf, request.trim);
    let place = |grown: i64| Length::from_nm(grown) + trim;
    let mut cuts = Vec::new();
    tree.walk(whole(request, kind), &mut |rect, met| {
        let Met::Cut { upright, at } = met else {
            return;
        };
        let (along, across, from, long) = if upright {
            (Along::Y, rect.x, rect.y, rect.h)
        } else {
            (Along::X, rect.y, rect.x, rect.w)
        };
        cuts.push(Cut {
            along,
            at: place(across + at) - kerf,
            from: place(from),
            to: place(from + long) - kerf,
        });
    });
    cuts
}

/// What the cuts of a sheet cut edge to edge turn to dust: less where a cut runs along the edge of its piece.
pub(super) fn sawn(request: &Request, laid: &Laid) -> Area {
    let kerf = request.kerf;
    let mut sawn = Area::default();
    let Some(tree) = &laid.tree else {
        return sawn;
    };
    tree.walk(whole(request, laid.kind), &mut |rect, met| {
        if let Met::Cut { upright, at } = met {
            let (across, long) = if upright { (rect.w, rect.h) } else { (rect.h, rect.w) };
            let wide = kerf.min(Length::from_nm(across - at));
            sawn = sawn + wide * (Length::from_nm(long) - kerf);
        }
    });
    sawn
}

/// The rectangles that are left and at least as large as told, largest first.
pub(super) fn worth_keeping(request: &Request, laid: &Laid) -> Vec<Offcut> {
    let kerf = request.kerf;
    let keep = |rect: &Rect| {
        let [w, h] = [rect.w, rect.h].map(|side| Length::from_nm(side) - kerf);
        let [a, b] = request.keep;
        w > Length::ZERO && h > Length::ZERO && (w >= a && h >= b || w >= b && h >= a)
    };
    let mut kept = left(whole(request, laid.kind), laid, request.cutting, &keep);
    kept.sort_by_key(|rect| (-area([rect.w, rect.h]), rect.x, rect.y));
    let offcut = |rect: Rect| Offcut {
        x: Length::from_nm(rect.x) + request.trim,
        y: Length::from_nm(rect.y) + request.trim,
        sides: [rect.w, rect.h].map(|side| Length::from_nm(side) - kerf),
    };
    kept.into_iter().map(offcut).collect()
}

/// Free rectangles that do not overlap: what cutting edge to edge leaves, or the largest one after the other.
pub(super) fn left(whole: Rect, laid: &Laid, cutting: Cutting, keep: &dyn Fn(&Rect) -> bool) -> Vec<Rect> {
    let mut kept = Vec::new();
    if let (Cutting::Guillotine, Some(tree)) = (cutting, &laid.tree) {
        tree.walk(whole, &mut |rect, met| {
            if matches!(met, Met::Waste) && keep(&rect) {
                kept.push(rect);
            }
        });
        return kept;
    }
    let mut free = vec![whole];
    for spot in &laid.spots {
        let taken = Rect {
            x: spot.x,
            y: spot.y,
            w: spot.way.w,
            h: spot.way.h,
        };
        free = without(&free, taken);
    }
    loop {
        free.retain(|rect| keep(rect));
        let largest = free
            .iter()
            .copied()
            .max_by_key(|rect| (area([rect.w, rect.h]), -rect.x, -rect.y));
        let Some(largest) = largest else {
            return kept;
        };
        kept.push(largest);
        free = without(&free, largest);
    }
}
