use ratatui::style::Modifier;
use rstest::rstest;

use super::*;
use crate::widgets::{drawn, shown};

const THEME: Theme = Theme {
    colour: true,
    ascii: false,
};

fn inch(sixteenths: i64) -> Length {
    Length::sixty_fourths(sixteenths * 4)
}

/// A bay 46 3/8 in x 27 3/4 in with two rows of four modules and a gusset; the numbers are in sixteenths.
fn bay() -> (Vec<ViewBox>, Vec<DimLine>, Vec<GapMark>) {
    let (module_u, module_v, gap) = (178, 202, 4);
    let mut boxes = vec![ViewBox::new(
        Outline::Space,
        [inch(0), inch(742)],
        [inch(0), inch(444)],
        "bay 2",
    )];
    for row in 0..2_i64 {
        for place in 0..4_i64 {
            let u = 8 + place * (module_u + gap);
            let v = 16 + row * (module_v + gap);
            let name = format!("M0{}", row * 4 + place + 1);
            let mut module = ViewBox::new(
                Outline::Module,
                [inch(u), inch(u + module_u)],
                [inch(v), inch(v + module_v)],
                name,
            );
            module.sub = "22.1 kg".into();
            let (plus, minus) = if place % 2 == 0 {
                (At::LowU, At::HighU)
            } else {
                (At::HighU, At::LowU)
            };
            module.marks = vec![EdgeMark { at: plus, sign: '+' }, EdgeMark { at: minus, sign: '-' }];
            module.selected = row == 0 && place == 3;
            module.flagged = row == 1 && place == 3;
            boxes.push(module);
        }
    }
    boxes.push(ViewBox::new(
        Outline::KeepOut,
        [inch(280), inch(390)],
        [inch(0), inch(12)],
        "",
    ));
    let dims = vec![
        dim(0, 742, "46 3/8\"", Side::Below),
        dim(8, 186, "11 1/8\"", Side::Below),
        dim(190, 368, "11 1/8\"", Side::Below),
        dim(0, 444, "27 3/4\"", Side::Left),
    ];
    let gaps = vec![
        gap_mark(0, 8, "1/2\"", false),
        gap_mark(186, 190, "1/4\"", false),
        gap_mark(368, 372, "1/4\"", false),
        gap_mark(550, 554, "1/4\"", false),
        gap_mark(732, 742, "3/8\"", true),
    ];
    (boxes, dims, gaps)
}

fn dim(from: i64, to: i64, text: &str, side: Side) -> DimLine {
    DimLine {
        from: inch(from),
        to: inch(to),
        text: text.into(),
        side,
        flagged: false,
    }
}

fn gap_mark(from: i64, to: i64, text: &str, flagged: bool) -> GapMark {
    GapMark {
        along: Along::U,
        from: inch(from),
        to: inch(to),
        text: text.into(),
        flagged,
    }
}

fn plan(width: u16, height: u16, theme: Theme) -> String {
    let (boxes, dims, gaps) = bay();
    let view = SheetView {
        dims: &dims,
        gaps: &gaps,
        ..SheetView::new(&boxes, theme)
    };
    shown(&drawn(&view, width, height))
}

#[rstest]
#[case("plan_58x20", 58, 20, THEME)]
#[case("plan_90x34", 90, 34, THEME)]
#[case("plan_140x46", 140, 46, THEME)]
#[case("plan_58x20_ascii", 58, 20, Theme { colour: false, ascii: true })]
#[case("plan_34x14_fewer_numbers", 34, 14, THEME)]
#[case("plan_24x8_no_marks", 24, 8, THEME)]
#[case("plan_12x6_zoom_in", 12, 6, THEME)]
#[case("plan_10x2_nothing", 10, 2, THEME)]
fn plans(#[case] name: &str, #[case] width: u16, #[case] height: u16, #[case] theme: Theme) {
    insta::assert_snapshot!(name, plan(width, height, theme));
}

/// A battery box from the left: v is z and points up, terminals on top, service space above them.
fn side_view() -> (Vec<ViewBox>, Vec<DimLine>, Vec<GapMark>) {
    let mut module = ViewBox::new(Outline::Module, [inch(20), inch(200)], [inch(10), inch(150)], "M01");
    module.marks = vec![
        EdgeMark {
            at: At::HighV,
            sign: '+',
        },
        EdgeMark {
            at: At::HighV,
            sign: '-',
        },
    ];
    let mut behind = ViewBox::new(Outline::Module, [inch(210), inch(300)], [inch(10), inch(100)], "M02");
    behind.hidden = true;
    let boxes = vec![
        ViewBox::new(Outline::Body, [inch(0), inch(320)], [inch(0), inch(200)], "box A"),
        ViewBox::new(Outline::Rim, [inch(-16), inch(336)], [inch(200), inch(208)], ""),
        ViewBox::new(Outline::Service, [inch(20), inch(200)], [inch(150), inch(180)], ""),
        ViewBox::new(Outline::KeepOut, [inch(220), inch(300)], [inch(110), inch(180)], "pipe"),
        module,
        behind,
    ];
    let dims = vec![
        dim(0, 320, "20\"", Side::Above),
        dim(10, 150, "8 3/4\"", Side::Left),
        dim(0, 200, "12 1/2\"", Side::Left),
        dim(0, 208, "13\"", Side::Right),
    ];
    let gaps = vec![GapMark {
        along: Along::V,
        from: inch(150),
        to: inch(200),
        text: "3 1/8\"".into(),
        flagged: false,
    }];
    (boxes, dims, gaps)
}

#[test]
fn up_is_up_in_a_side_view() {
    let (boxes, dims, gaps) = side_view();
    let view = SheetView {
        dims: &dims,
        gaps: &gaps,
        upright: Upright::Up,
        ..SheetView::new(&boxes, THEME)
    };
    insta::assert_snapshot!("side_view", shown(&drawn(&view, 76, 24)));
}

#[test]
fn a_window_cuts_boxes_open_and_drops_numbers_outside_it() {
    let (boxes, dims, gaps) = bay();
    let view = SheetView {
        dims: &dims,
        gaps: &gaps,
        window: Some(Window {
            u: [inch(150), inch(600)],
            v: [inch(0), inch(300)],
        }),
        ..SheetView::new(&boxes, THEME)
    };
    insta::assert_snapshot!("window", shown(&drawn(&view, 70, 22)));
}

#[test]
fn a_view_from_the_front_turns_right_to_left() {
    let boxes = [
        ViewBox::new(Outline::Space, [inch(0), inch(320)], [inch(0), inch(160)], ""),
        ViewBox::new(Outline::Module, [inch(10), inch(100)], [inch(8), inch(100)], "low"),
        ViewBox::new(Outline::Module, [inch(110), inch(300)], [inch(8), inch(100)], "high"),
    ];
    let view = SheetView {
        across: Across::Left,
        upright: Upright::Up,
        ..SheetView::new(&boxes, THEME)
    };
    let text = shown(&drawn(&view, 44, 13));
    let row = text.lines().find(|line| line.contains("low")).unwrap();
    assert!(row.find("high") < row.find("low"), "{text}");
}

#[test]
fn how_much_is_shown_is_told() {
    let (boxes, dims, gaps) = bay();
    let view = SheetView {
        dims: &dims[..1],
        gaps: &gaps,
        ..SheetView::new(&boxes, THEME)
    };
    let shown = |width, height| view.shown(Rect::new(0, 0, width, height));
    assert_eq!(shown(100, 40), Shown::Whole);
    assert_eq!(shown(34, 14), Shown::Fewer);
    assert_eq!(shown(12, 6), Shown::ZoomIn);
    assert_eq!(shown(3, 2), Shown::ZoomIn);
}

#[test]
fn a_click_finds_the_module_and_the_wall_behind_it() {
    let (boxes, dims, gaps) = bay();
    let view = SheetView {
        dims: &dims,
        gaps: &gaps,
        ..SheetView::new(&boxes, THEME)
    };
    let area = Rect::new(5, 3, 90, 34);
    let mut buffer = Buffer::empty(Rect::new(0, 0, 100, 40));
    (&view).render(area, &mut buffer);
    let text = shown(&buffer);
    let (y, x) = find(&text, "M06").unwrap();
    let hit = view.hit(area, x, y).unwrap();
    assert_eq!(boxes[hit].label, "M06");
    let (y, x) = find(&text, "bay 2").unwrap();
    assert_eq!(boxes[view.hit(area, x, y).unwrap()].label, "bay 2");
    assert_eq!(view.hit(area, 0, 0), None);
}

#[test]
fn the_place_under_the_pointer_lies_in_the_box_that_is_drawn_there() {
    let (boxes, dims, gaps) = side_view();
    let view = SheetView {
        dims: &dims,
        gaps: &gaps,
        upright: Upright::Up,
        ..SheetView::new(&boxes, THEME)
    };
    let area = Rect::new(2, 1, 76, 24);
    let mut inside = 0;
    for y in area.top()..area.bottom() {
        for x in area.left()..area.right() {
            let (u, v) = view.world_at(area, x, y).unwrap();
            if let Some(i) = view.hit(area, x, y) {
                let hit = &boxes[i];
                assert!(
                    hit.u0 <= u && u <= hit.u1 && hit.v0 <= v && v <= hit.v1,
                    "{x} {y} {hit:?}"
                );
                inside += 1;
            }
        }
    }
    assert!(inside > 100);
}

#[test]
fn selection_and_flags_show_without_colour_and_with_it() {
    let (boxes, dims, gaps) = bay();
    let theme = Theme {
        colour: false,
        ascii: false,
    };
    let view = SheetView {
        dims: &dims,
        gaps: &gaps,
        ..SheetView::new(&boxes, theme)
    };
    let buffer = drawn(&view, 90, 34);
    let text = shown(&buffer);
    let (y, x) = find(&text, "▸M04◂").unwrap();
    assert!(buffer[(x, y)].modifier.contains(Modifier::REVERSED | Modifier::BOLD));
    let (y, x) = find(&text, "!M08").unwrap();
    assert!(buffer[(x, y)].modifier.contains(Modifier::BOLD));
    assert!(find(&text, "!3/8\"").is_some());
    let wall = buffer.content.iter().find(|cell| cell.symbol() == "┃").unwrap();
    assert!(wall.modifier.contains(Modifier::BOLD));
}

/// Row and column of a text on the screen.
fn find(text: &str, what: &str) -> Option<(u16, u16)> {
    text.lines().zip(0..).find_map(|(line, y)| {
        let x = line[..line.find(what)?].chars().count();
        Some((y, u16::try_from(x).ok()?))
    })
}
