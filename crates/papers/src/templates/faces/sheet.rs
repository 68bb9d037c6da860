//! One face of the mock-up: its edge with tabs and the corner it may lack, what is drawn on it and what is said of it.

use plot::{Ink, Item, Layer, Line, Path, Pen, Point, Rect};
use tape::Length;

/// From an edge to what is written along it.
pub(super) const INSET: f64 = 7.0;
pub(super) const CUT: Ink = Ink::new(Pen::WIDE, Layer::CUT);
/// Folds, and what stands on the face.
pub(super) const FOLD: Ink = Ink::new(Pen::new(0.35, Line::Dashed), Layer::new("FOLD"));

/// One face.
#[derive(Clone)]
pub(crate) struct FaceSheet {
    /// Its name, with how many are alike.
    pub(crate) name: String,
    /// Level and upright size, without tabs.
    pub(crate) sides: [Length; 2],
    /// What is written along its left edge.
    pub(in crate::templates) left: &'static str,
    /// What is written along its upper edge.
    pub(in crate::templates) top: &'static str,
    /// How far inside its edges these stand.
    pub(in crate::templates) inset: f64,
    /// What is said of it besides its size.
    pub(crate) says: Vec<String>,
    /// How deep the tabs at its lower, right, upper and left edge are; 0 for none.
    pub(super) tabs: [f64; 4],
    /// The lower corner that it lacks beside a step.
    pub(super) lacks: Option<Lacks>,
    /// What is drawn on it.
    pub(super) marks: Vec<Item>,
}

/// A rectangle that a lower corner lacks.
#[derive(Clone, Copy)]
pub(super) struct Lacks {
    /// Whether it is the right corner.
    pub(super) right: bool,
    /// Level and upright size.
    pub(super) sides: [Length; 2],
}

impl FaceSheet {
    /// Where there is room to write on it, in its own millimetres: beside or over the corner that it lacks, whichever is more.
    pub(in crate::templates) fn room(&self) -> Rect {
        let [width, height] = self.sides.map(Length::as_mm);
        let whole = Rect::new(0.0, 0.0, width, height);
        let Some(lacks) = self.lacks else { return whole };
        let [run, rise] = lacks.sides.map(Length::as_mm);
        let over = Rect {
            y: rise,
            height: height - rise,
            ..whole
        };
        let beside = Rect {
            x: if lacks.right { 0.0 } else { run },
            width: width - run,
            ..whole
        };
        if over.width * over.height > beside.width * beside.height {
            over
        } else {
            beside
        }
    }

    /// The rectangle that a lower corner lacks, level and upright.
    pub(in crate::templates) fn lacking(&self) -> Option<[Length; 2]> {
        self.lacks.map(|lacks| lacks.sides)
    }

    /// Its corners against the clock from the lower left, each with the depth of the tab on the edge that follows.
    fn corners(&self) -> Vec<(Point, f64)> {
        let [width, height] = self.sides.map(Length::as_mm);
        let [lower, right, upper, left] = self.tabs;
        let top = [([width, height], upper), ([0.0, height], left)];
        // Along a corner that is lacking others have the tabs.
        let bottom = match self.lacks.map(|lacks| (lacks.right, lacks.sides.map(Length::as_mm))) {
            None => return [vec![([0.0, 0.0], lower), ([width, 0.0], right)], top.to_vec()].concat(),
            Some((true, [run, rise])) => {
                let inner = width - run;
                let step = [([inner, 0.0], 0.0), ([inner, rise], 0.0), ([width, rise], right)];
                return [vec![([0.0, 0.0], lower)], step.to_vec(), top.to_vec()].concat();
            }
            Some((false, [run, rise])) => [
                ([run, 0.0], lower),
                ([width, 0.0], right),
                top[0],
                top[1],
                ([0.0, rise], 0.0),
                ([run, rise], 0.0),
            ],
        };
        bottom.to_vec()
    }

    /// Its edge with the tabs, its folds, and what is on it, in its own millimetres from the lower left corner without tabs.
    pub(in crate::templates) fn items(&self) -> Vec<Item> {
        let corners = self.corners();
        let mut edge = Vec::new();
        let mut items = Vec::new();
        for (index, &(from, deep)) in corners.iter().enumerate() {
            let (to, _) = corners[(index + 1) % corners.len()];
            edge.push(from);
            if deep <= 0.0 {
                continue;
            }
            let long = libm::hypot(to[0] - from[0], to[1] - from[1]);
            let slope = (deep * 0.5).min(long / 4.0);
            let along: Point = [0, 1].map(|axis| (to[axis] - from[axis]) / long);
            let out = [along[1], -along[0]];
            let at = |far: f64| -> Point { [0, 1].map(|axis| from[axis] + along[axis] * far + out[axis] * deep) };
            edge.extend([at(slope), at(long - slope)]);
            items.push(Item::line(from, to, FOLD));
        }
        items.push(Item::path(Path::through(edge, true), CUT));
        items.extend(self.marks.iter().cloned());
        items
    }

    /// Where holes and what stands on the face are.
    pub(crate) fn mark_bounds(&self) -> Vec<Rect> {
        self.marks.iter().filter_map(Item::bounds).collect()
    }

    /// The middles of the circles that are cut in it.
    #[cfg(test)]
    pub(crate) fn holes(&self) -> Vec<Point> {
        let cut = |item: &Item| match item {
            Item::Circle { centre, ink, .. } if *ink == CUT => Some(*centre),
            _ => None,
        };
        self.marks.iter().filter_map(cut).collect()
    }

    /// How many lines are drawn on it.
    #[cfg(test)]
    pub(crate) fn marks_count(&self) -> usize {
        self.marks.len()
    }

    /// A plain face.
    pub(super) fn new(name: impl Into<String>, sides: [Length; 2], [left, top]: [&'static str; 2]) -> Self {
        Self {
            name: name.into(),
            sides,
            left,
            top,
            inset: INSET,
            says: Vec::new(),
            tabs: [0.0; 4],
            lacks: None,
            marks: Vec::new(),
        }
    }
}
