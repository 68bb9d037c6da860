//! Items made larger or smaller, turned and moved; and a page as the marks that are made on it.

use crate::ink::{Ink, Layer};
use crate::item::{Item, Text};
use crate::shape::{Path, Point, Rect, Vertex};

/// A multiple of a quarter turn, anticlockwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Quarter {
    /// As it is.
    #[default]
    None,
    /// A quarter turn.
    One,
    /// Upside down.
    Two,
    /// Three quarter turns.
    Three,
}

/// Where the millimetres of some items come to lie: scaled first, then turned about the origin, then moved.
///
/// The widths of lines, their dashes and the heights of text are those on paper and stay as they are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Millimetres on paper to one of the items, above 0: 0.1 is a scale of 1:10.
    pub scale: f64,
    /// Turned about the origin of the items.
    pub turn: Quarter,
    /// Where that origin comes to lie.
    pub to: Point,
}

impl Placement {
    /// Moved only.
    pub const fn moved(to: Point) -> Self {
        Self {
            scale: 1.0,
            turn: Quarter::None,
            to,
        }
    }

    /// Scaled about the origin, then moved.
    pub const fn scaled(scale: f64, to: Point) -> Self {
        Self {
            scale,
            turn: Quarter::None,
            to,
        }
    }

    /// Where a place comes to lie.
    pub fn point(&self, [x, y]: Point) -> Point {
        let [x, y] = [x * self.scale, y * self.scale];
        let [x, y] = match self.turn {
            Quarter::None => [x, y],
            Quarter::One => [-y, x],
            Quarter::Two => [-x, -y],
            Quarter::Three => [y, -x],
        };
        [x + self.to[0], y + self.to[1]]
    }

    /// Where a rectangle comes to lie.
    pub fn rect(&self, rect: Rect) -> Rect {
        let [[ax, ay], [bx, by]] = [rect.low(), rect.high()].map(|corner| self.point(corner));
        Rect::new(ax.min(bx), ay.min(by), (ax - bx).abs(), (ay - by).abs())
    }

    /// Where a path comes to lie.
    pub fn path(&self, path: &Path) -> Path {
        let moved = |vertex: &Vertex| {
            let [x, y] = self.point(vertex.at());
            Vertex { x, y, ..*vertex }
        };
        Path {
            vertices: path.vertices.iter().map(moved).collect(),
            closed: path.closed,
        }
    }

    /// The item as it comes to lie; one of the same kind.
    #[must_use]
    pub fn item(&self, item: &Item) -> Item {
        let all = |items: &[Item]| items.iter().map(|item| self.item(item)).collect();
        match item {
            Item::Stroke { path, ink } => Item::path(self.path(path), *ink),
            Item::Filled { path, grey, layer } => Item::Filled {
                path: self.path(path),
                grey: *grey,
                layer: *layer,
            },
            Item::Circle { centre, radius, ink } => Item::circle(self.point(*centre), radius * self.scale, *ink),
            Item::Text(text) => Item::Text(self.text(text)),
            Item::Clipped { rect, items } => Item::Clipped {
                rect: self.rect(*rect),
                items: all(items),
            },
            Item::Placed { placement, items } => {
                let items: Vec<Item> = items.iter().map(|item| placement.item(item)).collect();
                Item::Placed {
                    placement: Self::moved([0.0, 0.0]),
                    items: all(&items),
                }
            }
        }
    }

    fn text(&self, text: &Text) -> Text {
        let turned = match self.turn {
            Quarter::None => 0.0,
            Quarter::One => 90.0,
            Quarter::Two => 180.0,
            Quarter::Three => 270.0,
        };
        Text {
            at: self.point(text.at),
            turn_deg: text.turn_deg + turned,
            ..text.clone()
        }
    }
}

/// What a writer is told, in order; everything in millimetres of the page.
pub(crate) enum Mark {
    /// From here on, only what is inside is seen, until [`Mark::ClipEnds`].
    ClipBegins(Rect),
    ClipEnds,
    Stroke(Path, Ink),
    Filled(Path, f64),
    Circle(Point, f64, Ink),
    Text(Text),
}

/// The layers of items in the order in which they first occur, and the marks of each.
pub(crate) fn by_layer(items: &[Item]) -> Vec<(Layer, Vec<Mark>)> {
    let mut layers = Vec::new();
    list_layers(items, &mut layers);
    let marks = |layer| {
        let mut marks = Vec::new();
        list_marks(items, layer, &mut marks);
        (layer, marks)
    };
    layers.into_iter().map(marks).collect()
}

fn layer_of(item: &Item) -> Option<Layer> {
    match item {
        Item::Stroke { ink, .. } | Item::Circle { ink, .. } => Some(ink.layer),
        Item::Filled { layer, .. } => Some(*layer),
        Item::Text(text) => Some(text.layer),
        Item::Clipped { .. } | Item::Placed { .. } => None,
    }
}

fn list_layers(items: &[Item], into: &mut Vec<Layer>) {
    for item in items {
        match item {
            Item::Clipped { items, .. } | Item::Placed { items, .. } => list_layers(items, into),
            _ => into.extend(layer_of(item).filter(|layer| !into.contains(layer))),
        }
    }
}

fn list_marks(items: &[Item], layer: Layer, into: &mut Vec<Mark>) {
    for item in items {
        match item {
            Item::Clipped { rect, items } => {
                let before = into.len();
                into.push(Mark::ClipBegins(*rect));
                list_marks(items, layer, into);
                if into.len() == before + 1 {
                    into.truncate(before);
                } else {
                    into.push(Mark::ClipEnds);
                }
            }
            Item::Placed { placement, items } => {
                let placed: Vec<Item> = items.iter().map(|item| placement.item(item)).collect();
                list_marks(&placed, layer, into);
            }
            _ if layer_of(item) != Some(layer) => {}
            Item::Stroke { path, ink } => into.push(Mark::Stroke(path.clone(), *ink)),
            Item::Filled { path, grey, .. } => into.push(Mark::Filled(path.clone(), *grey)),
            Item::Circle { centre, radius, ink } => into.push(Mark::Circle(*centre, *radius, *ink)),
            Item::Text(text) => into.push(Mark::Text(text.clone())),
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::ink::Pen;
    use crate::shape::distance;

    const INK: Ink = Ink::new(Pen::WIDE, Layer::CUT);

    #[rstest]
    #[case(Quarter::None, [103.0, 201.0])]
    #[case(Quarter::One, [99.0, 203.0])]
    #[case(Quarter::Two, [97.0, 199.0])]
    #[case(Quarter::Three, [101.0, 197.0])]
    fn scaled_then_turned_then_moved(#[case] turn: Quarter, #[case] lies: Point) {
        let placement = Placement {
            scale: 0.5,
            turn,
            to: [100.0, 200.0],
        };
        assert!(distance(placement.point([6.0, 2.0]), lies) < 1e-12);
        let corner = placement.rect(Rect::new(0.0, 0.0, 6.0, 2.0));
        let other = Rect::around([[100.0, 200.0], lies]).unwrap();
        assert_eq!(corner, other);
    }

    #[test]
    fn one_placement_in_another_is_both_in_turn() {
        let circle = Item::circle([1.0, 0.0], 1.0, INK);
        let inner = Item::Placed {
            placement: Placement::scaled(3.0, [10.0, 0.0]),
            items: vec![circle],
        };
        let outer = Item::Placed {
            placement: Placement::scaled(0.5, [0.0, 7.0]),
            items: vec![inner],
        };
        let marks = by_layer(&[outer]);
        let [(layer, marks)] = &marks[..] else {
            panic!("one layer")
        };
        assert_eq!(*layer, Layer::CUT);
        assert!(matches!(marks[..], [Mark::Circle([6.5, 7.0], 1.5, _)]));
    }

    #[test]
    fn a_layer_gets_the_clips_it_has_something_in() {
        let dot = |layer| Item::circle([0.0, 0.0], 1.0, Ink::new(Pen::WIDE, layer));
        let items = [
            dot(Layer::TEXT),
            Item::Clipped {
                rect: Rect::new(0.0, 0.0, 1.0, 1.0),
                items: vec![dot(Layer::CUT)],
            },
        ];
        let lengths: Vec<(Layer, usize)> = by_layer(&items)
            .iter()
            .map(|(layer, marks)| (*layer, marks.len()))
            .collect();
        assert_eq!(lengths, [(Layer::TEXT, 1), (Layer::CUT, 3)]);
    }
}
