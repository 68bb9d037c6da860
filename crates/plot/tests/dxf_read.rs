//! DXF files read again with a reader that others wrote.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]
#![expect(clippy::float_cmp, reason = "what was written with few digits is read as it was")]

use dxf::Drawing;
use dxf::entities::{EntityType, Polyline};
use dxf::enums::AcadVersion;
use plot::{Anchor, Contour, Flat, Hole, Note, On, Path, Rect, Straight, Vertex};

const PLATE: Rect = Rect::new(0.0, 0.0, 200.0, 100.0);

fn plate() -> Flat {
    Flat {
        contours: vec![Contour {
            on: On::Cut,
            vertices: Path::round_rect(PLATE, 5.0).vertices,
        }],
        holes: vec![Hole {
            on: On::Cut,
            centre: [50.0, 50.0],
            radius: 4.5,
        }],
        lines: vec![Straight {
            on: On::Bend,
            from: [0.396_875, 30.0],
            to: [199.6, 30.0],
        }],
        notes: vec![Note {
            on: On::Etch,
            words: "⌀9, 90° up".to_owned(),
            at: [100.0, 60.0],
            height_mm: 5.0,
            anchor: Anchor::Middle,
            turn_deg: 30.0,
        }],
    }
}

fn read(flat: &Flat) -> Drawing {
    let file = plot::dxf(flat).unwrap();
    Drawing::load(&mut file.as_bytes()).unwrap()
}

fn polylines(drawing: &Drawing) -> Vec<&Polyline> {
    let all = drawing.entities();
    all.filter_map(|entity| match &entity.specific {
        EntityType::Polyline(polyline) => Some(polyline),
        _ => None,
    })
    .collect()
}

/// Shoelace formula, and for each arc the slice between it and its chord.
fn area(corners: &[[f64; 3]]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let piece = |([ax, ay, bulge], [bx, by, _]): (&[f64; 3], &[f64; 3])| {
        let (chord, turn) = (f64::hypot(bx - ax, by - ay), 4.0 * bulge.atan());
        // Height of the slice: bulge is twice the height to the chord.
        let height = bulge * chord / 2.0;
        let radius = if *bulge == 0.0 {
            0.0
        } else {
            (chord * chord / 4.0 + height * height) / (2.0 * height.abs())
        };
        (ax * by - bx * ay) / 2.0 + radius * radius / 2.0 * (turn - turn.sin())
    };
    corners.iter().zip(next).map(piece).sum()
}

#[test]
fn the_outline_comes_back_closed_with_its_arcs_and_its_area() {
    let drawing = read(&plate());
    assert_eq!(drawing.header.version, AcadVersion::R12);
    let [outline] = polylines(&drawing)[..] else {
        panic!("one outline");
    };
    assert!(outline.is_closed());
    let corners: Vec<[f64; 3]> = outline
        .vertices()
        .map(|vertex| [vertex.location.x, vertex.location.y, vertex.bulge])
        .collect();
    assert_eq!(corners.len(), 8);
    let expected = 20_000.0 - (4.0 - std::f64::consts::PI) * 25.0;
    assert!((area(&corners) - expected).abs() < 1e-6);
    assert!((corners[1][2] - (std::f64::consts::PI / 8.0).tan()).abs() < 1e-12);
}

#[test]
fn everything_else_comes_back_on_its_layer() {
    let drawing = read(&plate());
    let mut seen = Vec::new();
    for entity in drawing.entities() {
        let layer = entity.common.layer.as_str();
        match &entity.specific {
            EntityType::Circle(circle) => {
                assert_eq!([circle.center.x, circle.center.y, circle.radius], [50.0, 50.0, 4.5]);
                seen.push(("circle", layer));
            }
            EntityType::Line(line) => {
                assert_eq!([line.p1.x, line.p1.y, line.p2.x], [0.396_875, 30.0, 199.6]);
                seen.push(("line", layer));
            }
            EntityType::Text(text) => {
                assert_eq!(text.value, "%%c9, 90%%d up");
                assert_eq!(
                    [text.second_alignment_point.x, text.second_alignment_point.y],
                    [100.0, 60.0]
                );
                assert_eq!([text.text_height, text.rotation], [5.0, 30.0]);
                seen.push(("text", layer));
            }
            EntityType::Polyline(_) => seen.push(("outline", layer)),
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(
        seen,
        [
            ("outline", "CUT"),
            ("circle", "CUT"),
            ("line", "BEND"),
            ("text", "ETCH")
        ]
    );
    let layers: Vec<&str> = drawing.layers().map(|layer| layer.name.as_str()).collect();
    assert_eq!(layers, ["0", "CUT", "BEND", "ETCH", "TEXT"]);
    let bend = drawing.layers().find(|layer| layer.name == "BEND").unwrap();
    assert_eq!(bend.line_type_name, "DASHED");
}

#[test]
fn the_header_tells_how_far_it_reaches_also_where_arcs_bulge() {
    let mut flat = plate();
    flat.notes.clear();
    flat.contours[0].vertices = vec![
        Vertex::round([0.0, 0.0], 180.0),
        Vertex::straight([100.0, 0.0]),
        Vertex::straight([100.0, 80.0]),
        Vertex::straight([0.0, 80.0]),
    ];
    flat.lines.clear();
    let header = read(&flat).header;
    let (low, high) = (header.minimum_drawing_extents, header.maximum_drawing_extents);
    assert_eq!([low.x, low.y, high.x, high.y], [0.0, -50.0, 100.0, 80.0]);
}

#[test]
fn a_gauge_of_100_mm_stands_below_the_part_on_the_layer_that_is_read() {
    let drawing = read(&plate().with_gauge());
    let lines = drawing.entities().filter_map(|entity| match &entity.specific {
        EntityType::Line(line) if entity.common.layer == "TEXT" => Some(line),
        _ => None,
    });
    let [gauge] = lines.collect::<Vec<_>>()[..] else {
        panic!("one gauge");
    };
    assert!((gauge.p2.x - gauge.p1.x - 100.0).abs() < 1e-9);
    assert!(gauge.p1.y < 0.0);
}

#[test]
fn what_is_there_twice_is_written_once_and_the_file_is_always_the_same() {
    let once = plot::dxf(&plate()).unwrap();
    let mut twice = plate();
    twice.holes.extend_from_within(..);
    twice.contours.extend_from_within(..);
    twice.lines.extend_from_within(..);
    twice.notes.extend_from_within(..);
    assert_eq!(plot::dxf(&twice).unwrap(), once);
    assert!(once.is_ascii());
}
