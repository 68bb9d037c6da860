//! A sheet cut edge to edge: each cut divides one piece in two, all the way across.

use super::job::{Spot, Way};

/// A piece of sheet: a part, waste, or what is cut further.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::nest) enum Node {
    Part { class: usize, way: Way },
    Waste,
    Cut(Box<Halves>),
}

/// A piece that is cut in two.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Halves {
    /// Whether the cut runs along y, and so divides x.
    pub(in crate::nest) upright: bool,
    /// How much of the piece is on the near side, grown.
    pub(in crate::nest) at: i64,
    pub(in crate::nest) near: Node,
    pub(in crate::nest) far: Node,
}

/// A rectangle in grown lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::nest) struct Rect {
    pub(in crate::nest) x: i64,
    pub(in crate::nest) y: i64,
    pub(in crate::nest) w: i64,
    pub(in crate::nest) h: i64,
}

impl Rect {
    /// The two sides of a cut through it.
    pub(in crate::nest) fn halves(self, upright: bool, at: i64) -> [Self; 2] {
        if upright {
            [
                Self { w: at, ..self },
                Self {
                    x: self.x + at,
                    w: self.w - at,
                    ..self
                },
            ]
        } else {
            [
                Self { h: at, ..self },
                Self {
                    y: self.y + at,
                    h: self.h - at,
                    ..self
                },
            ]
        }
    }
}

/// What one comes upon when going through a tree.
pub(in crate::nest) enum Met {
    Part { class: usize, way: Way },
    Waste,
    Cut { upright: bool, at: i64 },
}

impl Node {
    /// A piece cut in two; `far` is not there when nothing is left of it.
    pub(in crate::nest) fn cut(upright: bool, at: i64, of: i64, near: Self, far: Self) -> Self {
        if at == of {
            return near;
        }
        Self::Cut(Box::new(Halves { upright, at, near, far }))
    }

    /// Goes through it in the order of cutting, the near side of each cut first.
    pub(in crate::nest) fn walk(&self, rect: Rect, meet: &mut dyn FnMut(Rect, Met)) {
        match self {
            Self::Part { class, way } => meet(
                rect,
                Met::Part {
                    class: *class,
                    way: *way,
                },
            ),
            Self::Waste => meet(rect, Met::Waste),
            Self::Cut(halves) => {
                let Halves { upright, at, near, far } = &**halves;
                meet(
                    rect,
                    Met::Cut {
                        upright: *upright,
                        at: *at,
                    },
                );
                let [first, second] = rect.halves(*upright, *at);
                near.walk(first, meet);
                far.walk(second, meet);
            }
        }
    }

    /// The parts in their places on a sheet of these sides.
    pub(in crate::nest) fn spots(&self, [w, h]: [i64; 2]) -> Vec<Spot> {
        let mut spots = Vec::new();
        self.walk(Rect { x: 0, y: 0, w, h }, &mut |rect, met| {
            if let Met::Part { class, way } = met {
                spots.push(Spot {
                    class,
                    x: rect.x,
                    y: rect.y,
                    way,
                });
            }
        });
        spots
    }
}
