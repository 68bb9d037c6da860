//! Writes one paper of each kind into a folder: to be looked at, and to be read by `tests/readers/check_papers.py`.
//!
//! `cargo run -p plot --example sample -- FOLDER`

use std::path::Path as FilePath;
use std::{env, fs, io};

use plot::{
    Anchor, Base, Contour, Flat, Hole, Ink, Item, Layer, Line, Meta, Note, On, Orientation, Page, Paper, Path, Pen,
    Placement, Quarter, Rect, Straight, Template, Text, Tiling, Vertex, dxf, pdf, svg, tile_pages,
};

const FRAME: Layer = Layer::new("FRAME");
const SIZES: Layer = Layer::new("SIZES");
const LINES: Layer = Layer::new("LINES");

fn main() -> io::Result<()> {
    let folder = env::args().nth(1).unwrap_or_else(|| "target/sample".to_owned());
    let folder = FilePath::new(&folder);
    fs::create_dir_all(folder)?;
    let meta = Meta {
        title: "Sample of every line".to_owned(),
        creator: "plot".to_owned(),
        ..Meta::default()
    };
    let page = sample();
    fs::write(folder.join("sample.pdf"), pdf(std::slice::from_ref(&page), &meta))?;
    fs::write(folder.join("sample.svg"), svg(&page))?;

    let flat = plate();
    let written = dxf(&flat.clone().with_gauge()).map_err(io::Error::other)?;
    fs::write(folder.join("plate_mm.dxf"), written)?;

    let items = flat.items();
    let template = Template {
        name: "plate, 3 mm mild steel",
        drawing: flat.bounds().unwrap_or_default(),
        items: &items,
    };
    let tiling = Tiling {
        paper: Paper::A4,
        orientation: Orientation::Portrait,
        margin_mm: 10.0,
        overlap_mm: 10.0,
    };
    let sheets = tile_pages(&template, &tiling).map_err(io::Error::other)?;
    fs::write(folder.join("template.pdf"), pdf(&sheets, &meta))?;
    fs::write(folder.join("template-1.svg"), svg(&sheets[0]))
}

/// A plate of 620 × 410 mm with a hole, a slot, a bend and words.
fn plate() -> Flat {
    let cut = |rect, radius| Contour {
        on: On::Cut,
        vertices: Path::round_rect(rect, radius).vertices,
    };
    Flat {
        contours: vec![
            cut(Rect::new(0.0, 0.0, 620.0, 410.0), 20.0),
            cut(Rect::new(100.0, 300.0, 180.0, 12.0), 6.0),
        ],
        holes: vec![Hole {
            on: On::Cut,
            centre: [180.0, 150.0],
            radius: 60.0,
        }],
        lines: vec![Straight {
            on: On::Bend,
            from: [0.0, 350.0],
            to: [620.0, 350.0],
        }],
        notes: vec![Note {
            on: On::Text,
            words: "⌀120 ±0.5, bend 90° up".to_owned(),
            at: [310.0, 370.0],
            height_mm: 7.0,
            anchor: Anchor::Middle,
            turn_deg: 0.0,
        }],
    }
}

fn sample() -> Page {
    let wide = Ink::new(Pen::WIDE, FRAME);
    let narrow = Ink::new(Pen::NARROW, FRAME);
    let mut page = Page::new(Paper::A4.size_mm(Orientation::Landscape));
    page.items.push(Item::rect(Rect::new(20.0, 10.0, 267.0, 190.0), wide));
    page.items.push(Item::rect(Rect::new(187.0, 10.0, 100.0, 30.0), wide));
    page.items.push(Item::line([187.0, 25.0], [287.0, 25.0], narrow));
    let name = Text::new("Box 1: floor plate", [190.0, 30.0], 5.0, FRAME).bold();
    page.items.push(name.into());
    let scale = "scale 1:5  ⌀9 ±0.2  90°  11 7⁄16″ ½ ¾ “A–B” <&>";
    page.items.push(Text::new(scale, [190.0, 15.0], 2.5, FRAME).into());

    for (y, line) in (0..).zip(Line::ALL) {
        let y = 90.0 - 8.0 * f64::from(y);
        let pen = Pen::new(0.35, line);
        page.items.push(Item::line([30.0, y], [110.0, y], Ink::new(pen, LINES)));
        let name = Text::new(format!("{line:?}"), [114.0, y], 2.5, LINES);
        page.items.push(name.anchored(Anchor::Left, Base::Middle).into());
    }
    drawing(&mut page);
    turned_words(&mut page);
    arcs(&mut page);
    page
}

/// A plate at 1:5 with two sizes, and a window on it that is turned.
fn drawing(page: &mut Page) {
    let placement = Placement::scaled(0.2, [40.0, 105.0]);
    let items = plate().items();
    let size = Ink::new(Pen::NARROW, SIZES);
    page.items.push(Item::Placed {
        placement,
        items: items.clone(),
    });
    page.items.extend(Item::span([40.0, 195.0], [164.0, 195.0], 3.0, size));
    for x in [40.0, 164.0] {
        page.items.push(Item::line([x, 188.0], [x, 197.0], size));
    }
    let across = Text::new("620", [102.0, 196.0], 3.5, SIZES).anchored(Anchor::Middle, Base::Baseline);
    page.items.push(across.into());
    page.items.extend(Item::span([34.0, 105.0], [34.0, 187.0], 3.0, size));
    for y in [105.0, 187.0] {
        page.items.push(Item::line([32.0, y], [39.0, y], size));
    }
    let upward = Text::new("410", [33.0, 146.0], 3.5, SIZES).turned(90.0);
    page.items.push(upward.anchored(Anchor::Middle, Base::Baseline).into());
    let turned = Placement {
        scale: 0.2,
        turn: Quarter::One,
        to: [285.0, 60.0],
    };
    page.items.push(Item::Clipped {
        rect: Rect::new(205.0, 50.0, 78.0, 70.0),
        items: vec![Item::Placed {
            placement: turned,
            items,
        }],
    });
    page.items.push(Item::rect(Rect::new(205.0, 50.0, 78.0, 70.0), size));
}

/// Words every 45°, at one place, with that place marked.
fn turned_words(page: &mut Page) {
    let at = [230.0, 160.0];
    for turn in 0..8 {
        let turn = f64::from(turn) * 45.0;
        let text = Text::new(format!("      {turn}° turned"), at, 2.5, SIZES).turned(turn);
        page.items.push(text.anchored(Anchor::Left, Base::Middle).into());
    }
    page.items.push(Item::dot(at, 1.0, SIZES));
    page.items.push(Item::circle(at, 4.0, Ink::new(Pen::CENTRE, SIZES)));
    let corner = [268.0, 160.0];
    for (anchor, dy) in [(Anchor::Left, 8.0), (Anchor::Middle, 0.0), (Anchor::Right, -8.0)] {
        let at = [corner[0], corner[1] + dy];
        let text = Text::new("Hxg", at, 3.5, SIZES).anchored(anchor, Base::Middle);
        page.items.push(text.into());
        page.items.push(Item::dot(at, 0.4, SIZES));
    }
}

/// Arcs both ways, less and more than half a circle, and a filled one.
fn arcs(page: &mut Page) {
    for (index, turn) in (0..).zip([90.0, -90.0, 180.0, 270.0, -300.0]) {
        let y = 48.0 - 7.0 * f64::from(index);
        let path = Path {
            vertices: vec![Vertex::round([150.0, y], turn), Vertex::straight([158.0, y])],
            closed: false,
        };
        page.items.push(Item::path(path, Ink::new(Pen::WIDE, LINES)));
        let words = Text::new(format!("{turn}°"), [168.0, y], 2.5, LINES);
        page.items.push(words.anchored(Anchor::Left, Base::Middle).into());
    }
    page.items.push(Item::Filled {
        path: Path::round_rect(Rect::new(30.0, 20.0, 40.0, 20.0), 6.0),
        grey: 0.85,
        layer: LINES,
    });
    let [line, head] = Item::arrow([90.0, 20.0], [60.0, 32.0], 4.0, Ink::new(Pen::NARROW, LINES));
    page.items.extend([line, head]);
    page.items.push(Text::new("grey", [91.0, 18.0], 3.5, LINES).into());
}
