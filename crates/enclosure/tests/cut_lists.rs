//! Cut lists, gauges, densities and sections against the published check values.

#![expect(clippy::unwrap_used, reason = "a broken check file must stop the test")]

use std::fs;

use enclosure::gauge::{self, Scale};
use enclosure::material::Material;
use enclosure::{
    BoxSpec, Built, Construction, Corners, Fastener, Flange, Form, Frame, Gasket, Joint, Lid, Part, Role, Sheet, build,
    section as bar, stock,
};
use rstest::rstest;
use serde_json::Value;
use tape::{Length, Volume};

/// The entries of one section of the check values.
fn section(name: &str) -> Vec<Value> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/cases/fabrication.json");
    let text = fs::read_to_string(path).unwrap();
    let all: Value = serde_json::from_str(&text).unwrap();
    let entries = all[name].as_array().unwrap().clone();
    assert!(!entries.is_empty(), "{name}");
    entries
}

fn mm(value: &Value) -> Length {
    Length::from_mm(value.as_f64().unwrap())
}

fn close(what: &str, got: f64, expected: &Value, within: f64) {
    let expected = expected.as_f64().unwrap();
    assert!(
        (got - expected).abs() <= within,
        "{what}: expected {expected}, got {got}"
    );
}

/// As [`close`], within a share of the expected value.
fn close_rel(what: &str, got: f64, expected: &Value, share: f64) {
    close(what, got, expected, share * expected.as_f64().unwrap().abs());
}

fn material(name: &str) -> Material {
    Material::ALL
        .into_iter()
        .find(|material| material.name() == name)
        .unwrap()
}

#[test]
fn every_gauge_is_as_published() {
    for case in section("gauge") {
        let id = case["id"].as_str().unwrap();
        let scale = match case["inputs"]["system"].as_str().unwrap() {
            "MSG steel" => Scale::SheetSteel,
            "galvanised" => Scale::Galvanised,
            "B&S" => Scale::Aluminium,
            "US Standard (stainless)" => Scale::Stainless,
            other => panic!("{id}: unknown scale {other}"),
        };
        let number = u32::try_from(case["inputs"]["gauge"].as_u64().unwrap()).unwrap();
        let thickness = gauge::thickness(scale, number).unwrap();
        let expected = &case["expected"];
        let tolerance = &case["tolerance"];
        let within_in = tolerance["abs_in"].as_f64().unwrap();
        close(id, thickness.as_inches(), &expected["thickness_in"], within_in);
        if let Some(within_mm) = tolerance["abs_mm"].as_f64() {
            close(id, thickness.as_mm(), &expected["thickness_mm"], within_mm);
        }
    }
}

#[test]
fn densities_and_stock_are_as_published() {
    for case in section("stock") {
        let id = case["id"].as_str().unwrap();
        let (inputs, expected) = (&case["inputs"], &case["expected"]);
        if expected["density"].is_number() {
            let density = material(inputs["material"].as_str().unwrap()).density_kg_m3();
            close_rel(id, density, &expected["density"], 1e-9);
        } else if expected["mass_kg"].is_number() {
            let sheet = Sheet {
                material: material(inputs["material"].as_str().unwrap()),
                thickness: mm(&inputs["t_mm"]),
            };
            let area = mm(&inputs["w_mm"]) * mm(&inputs["h_mm"]);
            // The expected figures are printed to six digits.
            close_rel(id, area.as_m2(), &expected["area_m2"], 1e-6);
            close_rel(id, sheet.grams(area) / 1e3, &expected["mass_kg"], 1e-6);
        } else if expected["sheets_mm"].is_object() {
            for sheet in stock::sheets() {
                let expected = &expected["sheets_mm"][sheet.name];
                close(sheet.name, sheet.sides[0].as_mm(), &expected[0], 0.05);
                close(sheet.name, sheet.sides[1].as_mm(), &expected[1], 0.05);
            }
            for bar in stock::bars() {
                close(bar.name, bar.length.as_mm(), &expected["bars_mm"][bar.name], 0.05);
            }
        } else {
            // By the gauge's own definition, pounds per square foot: 41.82 lb per sq ft and inch of thickness.
            let number = u32::try_from(inputs["gauge"].as_u64().unwrap()).unwrap();
            let inches = gauge::thickness(Scale::SheetSteel, number).unwrap().as_inches();
            close_rel(id, inches * 41.82 * 32.0, &expected["lb"], 0.002);
        }
    }
}

#[test]
fn bars_weigh_what_their_shape_says() {
    for case in section("sections") {
        let id = case["id"].as_str().unwrap();
        let (inputs, expected) = (&case["inputs"], &case["expected"]);
        if inputs["leg_mm"].is_number() {
            let [leg, thickness, root] = ["leg_mm", "t_mm", "root_radius_mm"].map(|key| mm(&inputs[key]));
            let area = bar::equal_angle_area_mm2(leg, thickness, root);
            close(id, area, &expected["area_mm2"], 0.01);
            let mass = bar::angle_kg_per_m(leg, thickness, root);
            close(id, mass, &expected["kg_per_m"], 0.01);
        } else if inputs["b_mm"].is_number() {
            let flat = Sheet {
                material: Material::MildSteel,
                thickness: mm(&inputs["t_mm"]),
            };
            let mass = bar::flat_kg_per_m(flat, mm(&inputs["b_mm"]));
            close_rel(id, mass, &expected["kg_per_m"], 1e-6);
        }
        // The inch sections are told by their area, at another density: nothing of ours to check.
    }
}

/// The box of a cut list entry. Screws are M6 in 7 mm holes, since the entries do not say.
fn spec_of(inputs: &Value) -> BoxSpec {
    let material = material(inputs["material"].as_str().unwrap());
    let sheet = |thickness: &Value| Sheet {
        material,
        thickness: mm(thickness),
    };
    let joint = |joint: &Value| match joint.as_str().unwrap() {
        "butt" => Joint::Butt,
        "mitred" => Joint::Mitred,
        other => panic!("unknown joint {other}"),
    };
    let flange = inputs["flange"].as_object().map(|flange| Flange {
        width: mm(&flange["width"]),
        thickness: mm(&flange["t"]),
        joint: joint(&flange["joint"]),
    });
    let holes = inputs["lid_holes"].as_object();
    let fastener = holes.map(|holes| Fastener {
        diameter: Length::mm(6),
        hole: Length::mm(7),
        head_height: Length::mm(6),
        below: Length::mm(12),
        most_pitch: mm(&holes["max_pitch"]),
    });
    let lid = if inputs["lid_t"].is_number() {
        Lid::Flat {
            sheet: sheet(&inputs["lid_t"]),
            flange,
            gasket: None,
            fastener,
            edge: holes.map(|holes| mm(&holes["edge_distance"])),
        }
    } else {
        Lid::None
    };
    BoxSpec {
        inside: [0, 1, 2].map(|axis| mm(&inputs["inside"][axis])),
        wall: sheet(&inputs["t"]),
        floor: sheet(&inputs["t"]),
        construction: Construction::Welded,
        corners: match inputs["convention"].as_str().unwrap() {
            "A" => Corners::LongSidesRun,
            "B" => Corners::WallsWrapFloor,
            "C" => Corners::EndsRun,
            "D" => Corners::CornerToCorner,
            other => panic!("unknown convention {other}"),
        },
        lid,
        step: None,
        frame: inputs["angle_frame"].as_object().map(|frame| Frame {
            leg: mm(&frame["leg"]),
            thickness: mm(&frame["t"]),
            #[expect(clippy::cast_possible_truncation, reason = "a whole number of grams")]
            grams_per_m: (frame["kg_per_m"].as_f64().unwrap() * 1e3).round() as i64,
            joint: joint(&frame["joint"]),
        }),
    }
}

/// The role that an entry's part name means.
fn role(name: &str) -> Role {
    let starts = |start: &str| name.starts_with(start);
    match name {
        "floor" => Role::Floor,
        "long side" => Role::LongSide,
        "end" => Role::End,
        "lid plate" => Role::LidPlate,
        _ if starts("flange long") => Role::FlangeLong,
        _ if starts("flange short") => Role::FlangeShort,
        _ if starts("frame long") => Role::FrameLong,
        _ if starts("frame short") => Role::FrameShort,
        _ => panic!("unknown part {name}"),
    }
}

fn part_of<'a>(built: &'a Built, name: &str) -> &'a Part {
    built.parts.iter().find(|part| part.role == role(name)).unwrap()
}

#[test]
fn every_cut_list_is_as_computed_outside() {
    for case in section("cut_lists") {
        let id = case["id"].as_str().unwrap();
        let spec = spec_of(&case["inputs"]);
        let built = build(&spec).unwrap();
        let expected = &case["expected"];
        let abs_mm = case["tolerance"]["abs_mm"].as_f64().unwrap();
        let rel_mass = case["tolerance"]["rel_mass"].as_f64().unwrap();

        for (axis, size) in built.shell.iter().enumerate() {
            close(id, size.as_mm(), &expected["outside"][axis], abs_mm);
        }
        let listed = expected["parts"].as_array().unwrap();
        let frame = expected["frame"].as_array().cloned().unwrap_or_default();
        assert_eq!(built.parts.len(), listed.len() + frame.len(), "{id}");
        for row in listed {
            let part = part_of(&built, row["part"].as_str().unwrap());
            let what = format!("{id} {}", row["part"]);
            close(&what, part.length.as_mm(), &row["length"], abs_mm);
            close(&what, part.width.as_mm(), &row["width"], abs_mm);
            close(&what, part.sheet.thickness.as_mm(), &row["t"], abs_mm);
            assert_eq!(u64::from(part.quantity), row["qty"].as_u64().unwrap(), "{what}");
            close_rel(&what, part.solid_grams / 1e3, &row["mass_each_kg"], rel_mass);
        }
        let panels = |part: &Part| part.role.form() != Form::Angle;
        close_rel(id, solid_kg(&built, panels), &expected["total_mass_kg"], rel_mass);
        check_volumes(id, &built, &spec, expected);
        check_holes(id, &built, expected, abs_mm);
        check_frame(id, &built, &frame, expected, abs_mm);
    }
}

/// What the published lists tell: the mass before holes are made.
fn solid_kg(built: &Built, counts: impl Fn(&Part) -> bool) -> f64 {
    let parts = built.parts.iter().filter(|part| counts(part));
    parts
        .map(|part| part.solid_grams * f64::from(part.quantity))
        .sum::<f64>()
        / 1e3
}

fn check_volumes(id: &str, built: &Built, spec: &BoxSpec, expected: &Value) {
    let [length, width, height] = built.shell;
    let [inside_length, inside_width, depth] = spec.inside;
    let shell = length * width * height - inside_length * inside_width * depth;
    let panels: Volume = built.parts[..3]
        .iter()
        .map(|part| part.area * part.sheet.thickness * i64::from(part.quantity))
        .sum();
    close_rel(id, shell.as_mm3(), &expected["shell_volume_mm3"], 2e-6);
    close_rel(id, panels.as_mm3(), &expected["box_panel_volume_mm3"], 2e-6);
    close_rel(id, (shell - panels).as_mm3(), &expected["weld_groove_volume_mm3"], 2e-6);
}

fn check_holes(id: &str, built: &Built, expected: &Value, abs_mm: f64) {
    let Some(expected) = expected["holes"].as_object() else {
        assert_eq!(built.lid_holes, None, "{id}");
        return;
    };
    let pattern = built.lid_holes.unwrap();
    close(id, pattern.line_length.as_mm(), &expected["line_length"], abs_mm);
    close(id, pattern.line_width.as_mm(), &expected["line_width"], abs_mm);
    assert_eq!(
        u64::from(pattern.intervals_long),
        expected["intervals_long"].as_u64().unwrap()
    );
    assert_eq!(
        u64::from(pattern.intervals_short),
        expected["intervals_short"].as_u64().unwrap()
    );
    assert_eq!(u64::from(pattern.count), expected["count"].as_u64().unwrap(), "{id}");
    let lid = part_of(built, "lid plate");
    assert_eq!(lid.holes.len(), pattern.count as usize, "{id}");
    // The holes of the lower edge, from the left.
    let edge = (lid.width - pattern.line_width).half_down();
    let mut lower: Vec<Length> = lid
        .holes
        .iter()
        .filter(|hole| hole.y == edge)
        .map(|hole| hole.x)
        .collect();
    lower.sort_unstable();
    close(id, (lower[1] - lower[0]).as_mm(), &expected["pitch_long"], abs_mm);
}

fn check_frame(id: &str, built: &Built, rows: &[Value], expected: &Value, abs_mm: f64) {
    let bars = || built.parts.iter().filter(|part| part.role.form() == Form::Angle);
    assert_eq!(bars().count(), rows.len(), "{id}");
    for row in rows {
        let bar = part_of(built, row["part"].as_str().unwrap());
        close(id, bar.length.as_mm(), &row["length"], abs_mm);
        assert_eq!(u64::from(bar.quantity), row["qty"].as_u64().unwrap(), "{id}");
        close_rel(id, bar.solid_grams / 1e3, &row["mass_each_kg"], 1e-4);
    }
    if rows.is_empty() {
        return;
    }
    let ordered: Length = bars().map(|bar| bar.length * i64::from(bar.quantity)).sum();
    close(id, ordered.as_mm(), &expected["frame_total_length_mm"], abs_mm);
    let kg = solid_kg(built, |part| part.role.form() == Form::Angle);
    close_rel(id, kg, &expected["frame_mass_kg_from_ordered_length"], 1e-4);
}

fn steel(tenths_mm: i64) -> Sheet {
    Sheet {
        material: Material::MildSteel,
        thickness: Length::tenths_mm(tenths_mm),
    }
}

fn gasket(free: i64, squeezed: i64) -> Gasket {
    Gasket {
        free: Length::mm(free),
        squeezed: Length::mm(squeezed),
    }
}

/// A flatbed's box: flat lid on a butted flange.
fn orchard() -> BoxSpec {
    BoxSpec {
        inside: [8970, 3290, 2455].map(Length::tenths_mm),
        wall: steel(30),
        floor: steel(30),
        construction: Construction::Welded,
        corners: Corners::LongSidesRun,
        lid: Lid::Flat {
            sheet: steel(20),
            flange: Some(Flange {
                width: Length::mm(25),
                thickness: Length::mm(3),
                joint: Joint::Butt,
            }),
            gasket: Some(gasket(6, 4)),
            fastener: None,
            edge: None,
        },
        frame: None,
        step: None,
    }
}

/// A pickup's box, wider than long, under a cap.
fn rescue() -> BoxSpec {
    BoxSpec {
        inside: [6010, 7170, 3095].map(Length::tenths_mm),
        wall: steel(30),
        floor: steel(30),
        construction: Construction::Welded,
        corners: Corners::LongSidesRun,
        lid: Lid::Cap {
            sheet: steel(20),
            out: Length::mm(4),
            deep: Length::mm(40),
            gasket: Some(gasket(6, 4)),
            hold: None,
        },
        frame: None,
        step: None,
    }
}

/// A long narrow aluminium box under a cap.
fn harbour() -> BoxSpec {
    let sheet = |tenths| Sheet {
        material: Material::Aluminium5052,
        thickness: Length::tenths_mm(tenths),
    };
    BoxSpec {
        inside: [16010, 2350, 1815].map(Length::tenths_mm),
        wall: sheet(40),
        floor: sheet(40),
        construction: Construction::Welded,
        corners: Corners::LongSidesRun,
        lid: Lid::Cap {
            sheet: sheet(25),
            out: Length::tenths_mm(45),
            deep: Length::mm(40),
            gasket: Some(gasket(5, 3)),
            hold: None,
        },
        frame: None,
        step: None,
    }
}

// Sizes and masses worked out by hand from the sheet thicknesses, for three whole jobs.
#[rstest]
#[case::orchard(orchard(), [9030, 3350, 2545], [9530, 3850], 28.6, 0.1)]
#[case::rescue(rescue(), [6070, 7230, 3185], [6150, 7310], 38.0, 0.6)]
#[case::harbour(harbour(), [16090, 2430, 1910], [16180, 2520], 15.2, 0.2)]
fn whole_boxes_come_out_as_worked_by_hand(
    #[case] spec: BoxSpec,
    #[case] body: [i64; 3],
    #[case] overall: [i64; 2],
    #[case] kg: f64,
    #[case] within_kg: f64,
) {
    let built = build(&spec).unwrap();
    assert_eq!(built.body, body.map(Length::tenths_mm));
    assert_eq!(built.overall[..2], overall.map(Length::tenths_mm));
    assert_eq!(built.overall[2], built.body[2], "no screws");
    assert!((built.grams / 1e3 - kg).abs() <= within_kg, "{} kg", built.grams / 1e3);
}
