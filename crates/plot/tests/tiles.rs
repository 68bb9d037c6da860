//! Templates in full size over sheets of paper.

use plot::{
    Grid, Ink, Item, Layer, Orientation, Paper, Pen, Rect, Template, TileError, Tiling, bounds, svg, tile_pages, tiles,
};
use proptest::prelude::*;
use rstest::rstest;

const A4: Tiling = Tiling {
    paper: Paper::A4,
    orientation: Orientation::Portrait,
    margin_mm: 10.0,
    overlap_mm: 10.0,
};

fn tilings() -> impl Strategy<Value = Tiling> {
    let paper = prop::sample::select(Paper::ALL.to_vec());
    let orientation = prop::sample::select(Orientation::ALL.to_vec());
    (paper, orientation, 5.0..20.0_f64, 0.0..60.0_f64).prop_map(|(paper, orientation, margin_mm, overlap_mm)| Tiling {
        paper,
        orientation,
        margin_mm,
        overlap_mm,
    })
}

proptest! {
    #[test]
    fn windows_cover_the_drawing_and_neighbours_overlap(
        tiling in tilings(),
        x in -500.0..500.0_f64,
        y in -500.0..500.0_f64,
        width in 1.0..1500.0_f64,
        height in 1.0..1500.0_f64,
    ) {
        const GRAIN: f64 = 1e-5;
        let drawing = Rect::new(x, y, width, height);
        let windows = tiling.windows(drawing).unwrap();
        let grid = tiles([width, height], &tiling).unwrap();
        prop_assert_eq!(windows.len(), grid.pages() as usize);
        let all = windows.iter().map(|tile| tile.window).reduce(Rect::with).unwrap();
        prop_assert!(all.x <= x + GRAIN && all.y <= y + GRAIN);
        prop_assert!(all.high()[0] >= x + width - GRAIN && all.high()[1] >= y + height - GRAIN);
        for tile in &windows {
            for other in &windows {
                if other.row == tile.row && other.column == tile.column + 1 {
                    let shared = tile.window.high()[0] - other.window.x;
                    prop_assert!((shared - tiling.overlap_mm).abs() < GRAIN);
                }
                if other.column == tile.column && other.row == tile.row + 1 {
                    let shared = other.window.high()[1] - tile.window.y;
                    prop_assert!((shared - tiling.overlap_mm).abs() < GRAIN);
                }
            }
            // No sheet is without need: the last begins inside the drawing, beyond what the one before shows.
            prop_assert!(tile.window.x < x + width && tile.window.high()[1] > y);
        }
    }

    #[test]
    fn one_sheet_fewer_would_not_reach(tiling in tilings(), width in 1.0..2000.0_f64) {
        let grid = tiles([width, 10.0], &tiling).unwrap();
        let usable = tiling.usable().unwrap()[0];
        let reach = |count: u32| usable + f64::from(count - 1) * (usable - tiling.overlap_mm);
        prop_assert!(reach(grid.columns) >= width - 1e-5);
        prop_assert!(grid.columns == 1 || reach(grid.columns - 1) < width);
    }
}

#[rstest]
#[case::exactly_one_sheet([190.0, 277.0], Grid { columns: 1, rows: 1 })]
#[case::a_nanometre_more([190.000_001, 277.000_001], Grid { columns: 1, rows: 1 })]
#[case::a_hair_more([190.01, 277.0], Grid { columns: 2, rows: 1 })]
#[case::exactly_three([550.0, 277.0], Grid { columns: 3, rows: 1 })]
fn sheets_are_counted(#[case] size_mm: [f64; 2], #[case] grid: Grid) {
    assert_eq!(tiles(size_mm, &A4), Ok(grid));
}

#[test]
fn the_paper_lies_the_way_that_takes_fewer_sheets() {
    let way = |size| A4.with_fewest_pages(size).unwrap().orientation;
    assert_eq!(way([277.0, 190.0]), Orientation::Landscape);
    assert_eq!(way([190.0, 277.0]), Orientation::Portrait);
    assert_eq!(way([100.0, 100.0]), Orientation::Portrait);
}

#[rstest]
#[case::no_margin(Tiling { margin_mm: 0.0, ..A4 })]
#[case::not_a_number(Tiling { margin_mm: f64::NAN, ..A4 })]
#[case::overlap_below_nothing(Tiling { overlap_mm: -1.0, ..A4 })]
#[case::overlap_beyond_the_next_but_one(Tiling { overlap_mm: 96.0, ..A4 })]
fn what_is_out_of_range_is_refused(#[case] tiling: Tiling) {
    assert!(tiles([100.0, 100.0], &tiling).is_err());
}

/// Two columns: usable are 190 x 277 mm, the strip that is shared is 180 to 190 mm across, its middle 138.5 mm up.
#[rstest]
#[case::nothing_in_the_way(None)]
#[case::a_hole_in_the_middle(Some([185.0, 138.5]))]
#[case::a_hole_below_the_middle(Some([185.0, 100.0]))]
fn where_to_lay_the_neighbour_is_not_written_over_a_hole(#[case] hole: Option<[f64; 2]>) {
    let ink = Ink::new(Pen::new(0.35, plot::Line::Continuous), Layer::new("CUT"));
    let holes: Vec<Item> = hole
        .map(|at| Item::path(plot::circle(at, 5.0), ink))
        .into_iter()
        .collect();
    let template = Template {
        name: "lid",
        drawing: Rect::new(0.0, 0.0, 300.0, 277.0),
        items: &holes,
    };
    let page = &tile_pages(&template, &A4).unwrap()[0];
    let words = page
        .items
        .iter()
        .find(|item| matches!(item, Item::Text(text) if text.words.contains("glue it on here")));
    let words = words.and_then(Item::bounds).unwrap();
    let taken = hole.map(|[x, y]| Rect::new(x + 10.0 - 5.0, y + 10.0 - 5.0, 10.0, 10.0));
    assert!(taken.is_none_or(|taken| taken.common(words).is_none()), "{words:?}");
    assert_eq!(hole.is_none(), (words.middle()[1] - 148.5).abs() < 1.0, "{words:?}");
}

#[rstest]
#[case([1e6, 1e6])]
#[case([f64::INFINITY, 1.0])]
#[case([f64::NAN, 1.0])]
fn nobody_glues_a_house_together(#[case] size_mm: [f64; 2]) {
    assert!(matches!(tiles(size_mm, &A4), Err(TileError::TooMany { .. })));
}

#[rstest]
#[case::portrait(A4)]
#[case::small_margin(Tiling { margin_mm: 5.0, overlap_mm: 0.0, ..A4 })]
#[case::wide_margin(Tiling { margin_mm: 20.0, paper: Paper::Letter, orientation: Orientation::Landscape, ..A4 })]
fn sheets_say_where_they_belong_and_keep_within_the_paper(#[case] tiling: Tiling) {
    let line = Item::line([0.0, 0.0], [620.0, 410.0], Ink::new(Pen::WIDE, Layer::CUT));
    let items = [line];
    let name = "side panel with a name that is far longer than the room that there is for it at the top of a sheet";
    let template = Template {
        name,
        drawing: Rect::new(0.0, 0.0, 620.0, 410.0),
        items: &items,
    };
    let pages = tile_pages(&template, &tiling).unwrap();
    let Grid { columns, rows } = tiles([620.0, 410.0], &tiling).unwrap();
    assert_eq!(pages.len(), (columns * rows) as usize);
    for (index, page) in (0..).zip(&pages) {
        let (row, column) = (index / columns + 1, index % columns + 1);
        let picture = svg(page);
        let place = format!("row {row} of {rows}, column {column} of {columns}<");
        for words in [
            &place,
            name,
            "100 mm: print at 100 %; measure",
            "4 in: print at 100 %; measure",
        ] {
            assert!(picture.contains(words), "{words}");
        }
        let all = bounds(&page.items).unwrap();
        let [right, top] = all.high();
        let inside = all.x > 0.0 && all.y > 0.0 && right < page.width_mm && top < page.height_mm;
        assert!(inside, "{all:?}");
    }
}

#[test]
fn a_cross_on_one_sheet_lies_on_the_same_place_of_its_neighbour() {
    let items = [Item::circle([300.0, 200.0], 100.0, Ink::new(Pen::WIDE, Layer::CUT))];
    let template = Template {
        name: "ring",
        drawing: Rect::new(0.0, 0.0, 620.0, 410.0),
        items: &items,
    };
    let pages = tile_pages(&template, &A4).unwrap();
    let windows = A4.windows(template.drawing).unwrap();
    // The crosses are the clipped lines of the frame: their middles, in millimetres of the drawing.
    let crosses = |sheet: usize| -> Vec<[f64; 2]> {
        let arms = pages[sheet].items.iter().skip(1).find_map(|item| match item {
            Item::Clipped { items, .. } => Some(items),
            _ => None,
        });
        let middle = |item: &Item| {
            let [x, y] = item.bounds().unwrap().middle();
            let window = windows[sheet].window;
            [x - A4.margin_mm + window.x, y - A4.margin_mm + window.y]
        };
        arms.unwrap().iter().map(middle).collect()
    };
    let (first, second) = (crosses(0), crosses(1));
    let on_strip = |places: &[[f64; 2]]| {
        let strip = 180.0 - 1e-9..190.0 + 1e-9;
        let mut kept: Vec<[i64; 2]> = Vec::new();
        for [x, y] in places.iter().filter(|[x, _]| strip.contains(x)) {
            #[expect(clippy::cast_possible_truncation, reason = "a sheet is small")]
            kept.push([x, y].map(|number| (number * 1e3).round() as i64));
        }
        kept.sort_unstable();
        kept.dedup();
        kept
    };
    assert_eq!(on_strip(&first), on_strip(&second));
    // Two borders, each crossed by both borders of the strip below and by the upper edge.
    assert_eq!(on_strip(&first).len(), 6);
}
