//! Pictures read again with a reader that others wrote.

use plot::{Anchor, Base, Ink, Item, Layer, Page, Path, Pen, Placement, Rect, Text, Vertex, svg};
use roxmltree::{Document, Node};
use rstest::rstest;

const CUT: Ink = Ink::new(Pen::WIDE, Layer::CUT);
const BEND: Ink = Ink::new(Pen::CENTRE, Layer::BEND);

fn page(items: impl IntoIterator<Item = Item>) -> String {
    let mut page = Page::new([200.0, 100.5]);
    page.items.extend(items);
    svg(&page)
}

fn only<'a>(document: &'a Document<'_>, name: &str) -> Node<'a, 'a> {
    let found: Vec<Node> = document
        .descendants()
        .filter(|node| node.has_tag_name(("http://www.w3.org/2000/svg", name)))
        .collect();
    let [one] = found[..] else {
        panic!("{} of {name}", found.len());
    };
    one
}

#[test]
fn a_unit_is_a_millimetre() {
    let picture = page([]);
    let document = Document::parse(&picture).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("width"), Some("200mm"));
    assert_eq!(root.attribute("height"), Some("100.5mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 200 100.5"));
}

#[test]
fn layers_are_groups_in_the_order_in_which_they_first_occur() {
    let line = |ink, y| Item::line([0.0, y], [10.0, y], ink);
    let clipped = Item::Clipped {
        rect: Rect::new(0.0, 0.0, 50.0, 50.0),
        items: vec![line(BEND, 3.0), line(CUT, 4.0)],
    };
    let picture = page([line(CUT, 1.0), clipped.clone(), line(BEND, 2.0), clipped]);
    let document = Document::parse(&picture).unwrap();
    let groups = document.root_element().children().filter(Node::is_element);
    let ids: Vec<_> = groups.filter_map(|group| group.attribute("id")).collect();
    assert_eq!(ids, ["CUT", "BEND"]);
    let count = document
        .descendants()
        .filter(|node| node.attribute("clip-path").is_some())
        .count();
    assert_eq!(count, 4);
}

#[rstest]
#[case::anticlockwise(90.0, "M10 90.5 A7.071068 7.071068 0 0 0 20 90.5")]
#[case::clockwise(-90.0, "M10 90.5 A7.071068 7.071068 0 0 1 20 90.5")]
#[case::more_than_half(270.0, "M10 90.5 A7.071068 7.071068 0 1 0 20 90.5")]
#[case::straight(0.0, "M10 90.5 L20 90.5")]
fn bulges_are_arcs_that_bulge_the_right_way(#[case] turn_deg: f64, #[case] data: &str) {
    let path = Path {
        vertices: vec![Vertex::round([10.0, 10.0], turn_deg), Vertex::straight([20.0, 10.0])],
        closed: false,
    };
    let picture = page([Item::path(path, CUT)]);
    let document = Document::parse(&picture).unwrap();
    assert_eq!(only(&document, "path").attribute("d"), Some(data));
}

#[test]
fn a_placed_drawing_keeps_its_pens_and_its_lettering() {
    let text = Text::new("a<b & \"c\"", [10.0, 5.0], 3.5, Layer::CUT);
    let placed = Item::Placed {
        placement: Placement::scaled(0.1, [20.0, 30.0]),
        items: vec![Item::circle([100.0, 50.0], 40.0, CUT), text.into()],
    };
    let picture = page([placed]);
    let document = Document::parse(&picture).unwrap();
    let circle = only(&document, "circle");
    let attributes = ["cx", "cy", "r", "stroke-width"].map(|name| circle.attribute(name).unwrap());
    assert_eq!(attributes, ["30", "65.5", "4", "0.5"]);
    let text = only(&document, "text");
    assert_eq!(text.text(), Some("a<b & \"c\""));
    let size: f64 = text.attribute("font-size").unwrap().parse().unwrap();
    assert!((size * 1493.0 / 2048.0 - 3.5).abs() < 1e-5);
}

#[test]
fn turned_words_turn_about_the_place_that_they_stand_on() {
    let text = Text::new("410", [50.0, 60.0], 5.0, Layer::TEXT)
        .turned(90.0)
        .anchored(Anchor::Middle, Base::Middle);
    let picture = page([text.into()]);
    let document = Document::parse(&picture).unwrap();
    let text = only(&document, "text");
    // Read upwards, the foot of the letters is to the right of their middle.
    assert_eq!(text.attribute("x"), Some("52.5"));
    assert_eq!(text.attribute("y"), Some("40.5"));
    assert_eq!(text.attribute("transform"), Some("rotate(-90 52.5 40.5)"));
    assert_eq!(text.attribute("text-anchor"), Some("middle"));
}
