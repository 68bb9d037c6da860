//! Where the three views of a box stand on the first sheet, and in which scale.

use drawing::Side;
use job::ProjectionName;
use plot::Rect;

use crate::page::arrange::{Around, SCALES, arrange};

/// Above a view, for its name.
pub(super) const NAME: f64 = 7.0;
/// Between views side by side.
const BETWEEN: f64 = 6.0;
/// Beside the view that welds are told of.
const WELDS: f64 = 57.0;
/// From one sign of a weld to the next: with room, and at least, where one stands on its line and the next under its own.
const STEPS: [f64; 2] = [9.0, 7.2];
/// Signs may reach so many heights of their view beyond it.
const REACH: f64 = 4.0;
/// From the first and last sign to the edge of their room.
pub(crate) const EDGE: f64 = 5.0;

/// What three views need, each in the order plan, from the left, from the rear.
pub(crate) struct Needs {
    /// Their sides in full size.
    pub(crate) sizes: [[f64; 2]; 3],
    /// Room for sizes on the left of each.
    pub(crate) beside: f64,
    /// Room for sizes under each.
    pub(crate) below: [f64; 3],
    /// How many signs of welds stand beside one of them.
    pub(crate) welds: usize,
}

/// Where they stand.
#[derive(Clone, Debug)]
pub(crate) struct Stand {
    /// Paper to box, 1 to this.
    pub(crate) scale: u32,
    /// The views.
    pub(crate) at: [Rect; 3],
    /// Which of them has the signs of welds on its right, and where these stand; `None` where the paper has no room for them.
    pub(crate) welds: Option<(Side, Rect)>,
    /// Whether the view from the rear stands elsewhere than the projection has it.
    pub(crate) moved: bool,
    /// Everything that they take, sizes and signs included: first the views in their order.
    pub(crate) taken: Vec<Rect>,
    /// Where the paper ends above.
    top: f64,
    /// The title block with the notes over it.
    block: Rect,
}

impl Stand {
    /// How wide the name of a view may be: up to what another takes, or the title block.
    pub(crate) fn name_room(&self, side: Side) -> f64 {
        let own = self.at[index(side)];
        let [low, high] = [own.high()[1], own.high()[1] + NAME];
        let beside = |rect: &&Rect| rect.x > own.x && rect.y < high && low < rect.high()[1];
        let taken = self.taken.iter().chain([&self.block]);
        let next = taken.filter(beside).map(|rect| rect.x);
        next.fold(f64::INFINITY, f64::min) - own.x - 1.0
    }

    /// Up to where there is nothing over the sizes on the left of a view.
    pub(crate) fn free_over(&self, side: Side) -> f64 {
        let own = self.taken[index(side)];
        let over = |rect: &&Rect| rect.y > own.y && rect.x < self.at[index(side)].x && own.x < rect.high()[0];
        self.taken
            .iter()
            .filter(over)
            .map(|rect| rect.y)
            .fold(self.top, f64::min)
    }
}

/// Where a side is among the views.
pub(crate) fn index(side: Side) -> usize {
    Side::ALL.iter().position(|&own| own == side).unwrap_or(0)
}

/// How they may stand.
#[derive(Clone, Copy)]
enum Layout {
    /// As the projection has it.
    Aligned,
    /// The view from the rear beside the upper of the other two.
    Aside,
    /// The view from the rear under the other two.
    Under,
}

/// The views in the largest scale of ISO 5455 with which they fit `room` clear of `block`; the view from the rear is moved
/// where that makes them larger. Signs of welds for which there is no room beside a view of some size are left out: the list of
/// seams has them as well. Where none fits even so, as the projection has it in the smallest.
pub(crate) fn stand(needs: &Needs, room: Rect, block: Rect, projection: ProjectionName) -> Stand {
    let bare = Needs { welds: 0, ..*needs };
    let fits = |needs| largest(needs, room, block, projection);
    fits(needs).or_else(|| fits(&bare)).unwrap_or_else(|| {
        let draft = Draft {
            needs: &bare,
            room,
            block,
            projection,
            scale: SCALES[SCALES.len() - 1],
            down: 0.0,
            raised: false,
        };
        draft.stand(Layout::Aligned, STEPS[1]).0
    })
}

fn largest(needs: &Needs, room: Rect, block: Rect, projection: ProjectionName) -> Option<Stand> {
    let layouts = match projection {
        ProjectionName::Third => &[Layout::Aligned, Layout::Aside, Layout::Under][..],
        // Beside the view from the left a view from the rear would be taken for one from the front.
        ProjectionName::First => &[Layout::Aligned, Layout::Under],
    };
    for scale in SCALES {
        for step in STEPS {
            for &layout in layouts {
                let draft = Draft {
                    needs,
                    room,
                    block,
                    projection,
                    scale,
                    down: 0.0,
                    raised: false,
                };
                let (stand, fits) = draft.stand(layout, step);
                if fits && let Some(lowered) = draft.lowered(stand, layout, step) {
                    return Some(lowered);
                }
            }
        }
    }
    None
}

struct Draft<'a> {
    needs: &'a Needs,
    room: Rect,
    block: Rect,
    projection: ProjectionName,
    scale: u32,
    /// How far the views stand below the top.
    down: f64,
    /// Whether signs of welds that need more height than their view stand as high as there is paper.
    raised: bool,
}

impl Draft<'_> {
    /// The same with the views so far down that signs which need more height than their view begin above it: arrows that come
    /// from below run through sizes. `None` where most of many would.
    fn lowered(&self, stand: Stand, layout: Layout, step: f64) -> Option<Stand> {
        let Some((side, _)) = stand.welds else {
            return Some(stand);
        };
        let view = stand.at[index(side)];
        let more = f64::from(u32::try_from(self.needs.welds.saturating_sub(1)).unwrap_or(u32::MAX));
        let step = if step * more > view.height { STEPS[1] } else { step };
        let beyond = step * more - view.height;
        if beyond <= 0.0 {
            return Some(stand);
        }
        if beyond > REACH * view.height {
            return None;
        }
        let try_at = |share: f64| {
            let draft = Draft {
                down: beyond * share,
                raised: true,
                ..*self
            };
            let (stand, fits) = draft.stand(layout, step);
            fits.then_some(stand)
        };
        let found = [1.0, 0.75, 0.5].into_iter().find_map(try_at);
        found.or_else(|| (beyond <= view.height).then(|| [0.25, 0.0].into_iter().find_map(try_at).unwrap_or(stand)))
    }

    /// The views by a layout, and whether they fit.
    fn stand(&self, layout: Layout, step: f64) -> (Stand, bool) {
        let at = self.places(layout).map(|view| Rect {
            y: view.y - self.down,
            ..view
        });
        let told_on = match (layout, self.projection) {
            (Layout::Aligned, ProjectionName::First) => Side::FromLeft,
            _ => Side::FromRear,
        };
        let welds = self.welds(at[index(told_on)], step);
        let mut taken: Vec<Rect> = at
            .iter()
            .zip(self.needs.below)
            .map(|(view, below)| self.with_sizes(*view, below))
            .collect();
        let views = taken.clone();
        if self.needs.welds > 0 {
            taken.push(welds);
        }
        let inside = |rect: &Rect| {
            const GRAIN: f64 = 1e-6;
            let ([left, low], [right, high]) = (rect.low(), rect.high());
            let ([least, lowest], [most, highest]) = (self.room.low(), self.room.high());
            left >= least - GRAIN && low >= lowest - GRAIN && right <= most + GRAIN && high <= highest + GRAIN
        };
        let clear = |rect: &Rect| {
            rect.common(self.block)
                .is_none_or(|both| both.width < 1e-6 || both.height < 1e-6)
        };
        let apart = views.iter().all(|view| {
            welds
                .common(*view)
                .is_none_or(|both| both.width < 1e-6 || both.height < 1e-6)
        });
        let fits = taken.iter().all(|rect| inside(rect) && clear(rect)) && (apart || self.needs.welds == 0);
        let stand = Stand {
            scale: self.scale,
            at,
            welds: (self.needs.welds > 0).then_some((told_on, welds)),
            moved: !matches!(layout, Layout::Aligned),
            taken,
            top: self.room.high()[1],
            block: self.block,
        };
        (stand, fits)
    }

    fn places(&self, layout: Layout) -> [Rect; 3] {
        let ratio = f64::from(self.scale);
        let sizes = self.needs.sizes.map(|size| size.map(|side| side / ratio));
        let [_, under_left, _] = self.needs.below;
        let upper = match self.projection {
            ProjectionName::Third => self.needs.below[0],
            ProjectionName::First => self.needs.below[1].max(self.needs.below[2]),
        };
        let around = Around {
            beside: self.needs.beside,
            below: upper,
            name: NAME,
            between: BETWEEN,
        };
        let aligned = arrange(sizes, self.room, self.projection, &around);
        let [plan, left, rear] = aligned;
        match layout {
            Layout::Aligned => aligned,
            Layout::Aside => {
                let x = left.high()[0] + BETWEEN + self.needs.beside;
                let y = self.room.high()[1] - NAME - rear.height;
                [plan, left, Rect { x, y, ..rear }]
            }
            Layout::Under => {
                let x = self.room.x + self.needs.beside;
                let first = self.room.high()[1] - NAME;
                let ([top, over], [bottom, last]) = match self.projection {
                    ProjectionName::Third => ([plan.height, self.needs.below[0]], [left.height, under_left]),
                    ProjectionName::First => ([left.height, under_left], [plan.height, self.needs.below[0]]),
                };
                let second = first - top - over - NAME;
                let third = second - bottom - last - NAME;
                let (y_plan, y_left) = match self.projection {
                    ProjectionName::Third => (first - top, second - bottom),
                    ProjectionName::First => (second - bottom, first - top),
                };
                [
                    Rect { x, y: y_plan, ..plan },
                    Rect { x, y: y_left, ..left },
                    Rect {
                        x,
                        y: third - rear.height,
                        ..rear
                    },
                ]
            }
        }
    }

    /// A view with its name and the room for its sizes.
    fn with_sizes(&self, view: Rect, below: f64) -> Rect {
        let [right, high] = view.high();
        Rect::between([view.x - self.needs.beside, view.y - below], [right, high + NAME])
    }

    /// Room for the signs of welds on the right of a view: from its top down, and higher where the paper ends.
    fn welds(&self, view: Rect, step: f64) -> Rect {
        let [right, high] = view.high();
        let count = f64::from(u32::try_from(self.needs.welds.saturating_sub(1)).unwrap_or(u32::MAX));
        let tall = step * count + 2.0 * EDGE;
        let over_block = right + WELDS > self.block.x && high > self.block.high()[1];
        let lowest = if over_block { self.block.high()[1] } else { self.room.y };
        let low = high + NAME - tall;
        let low = if self.raised {
            low.max(view.y - EDGE).min(self.room.high()[1] - tall)
        } else {
            low
        };
        let low = low.max(lowest);
        Rect::new(right, low, WELDS, tall)
    }
}
