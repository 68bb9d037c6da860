//! Boxes of any size that can be built.

use proptest::prelude::*;
use tape::Length;

use crate::material::Material;
use crate::{BoxSpec, Construction, Corners, Fastener, Flange, Gasket, Joint, Lid, Sheet};

pub(crate) const ALL_CORNERS: [Corners; 4] = [
    Corners::LongSidesRun,
    Corners::WallsWrapFloor,
    Corners::EndsRun,
    Corners::CornerToCorner,
];

/// A length between two whole millimetres, to the nanometre.
pub(crate) fn length(from_mm: i64, to_mm: i64) -> impl Strategy<Value = Length> {
    (from_mm * 1_000_000..=to_mm * 1_000_000).prop_map(Length::from_nm)
}

fn sheet(most_mm: i64) -> impl Strategy<Value = Sheet> {
    sheet_of(1, most_mm)
}

pub(crate) fn sheet_of(least_mm: i64, most_mm: i64) -> impl Strategy<Value = Sheet> {
    length(least_mm, most_mm).prop_map(|thickness| Sheet {
        material: Material::MildSteel,
        thickness,
    })
}

fn gasket() -> impl Strategy<Value = Option<Gasket>> {
    let squeezed = (length(1, 4), length(0, 4));
    prop::option::of(squeezed.prop_map(|(squeezed, by)| Gasket {
        free: squeezed + by,
        squeezed,
    }))
}

fn joint() -> impl Strategy<Value = Joint> {
    prop::sample::select(vec![Joint::Mitred, Joint::Butt])
}

/// A box without a lid.
pub(crate) fn open() -> impl Strategy<Value = BoxSpec> {
    let inside = [length(60, 2_000), length(60, 2_000), length(60, 600)];
    (inside, sheet(8), sheet(8), prop::sample::select(ALL_CORNERS.to_vec())).prop_map(
        |(inside, wall, floor, corners)| BoxSpec {
            inside,
            wall,
            floor,
            construction: Construction::Welded,
            corners,
            lid: Lid::None,
            frame: None,
            step: None,
        },
    )
}

/// A box with a flat lid screwed to a flange.
pub(crate) fn flanged() -> impl Strategy<Value = BoxSpec> {
    let flange = (length(16, 40), length(2, 8), joint()).prop_map(|(width, thickness, joint)| Flange {
        width,
        thickness,
        joint,
    });
    let fastener = (length(5, 7), length(15, 200)).prop_map(|(hole, most_pitch)| Fastener {
        diameter: Length::mm(5),
        hole,
        head_height: Length::mm(5),
        below: Length::mm(8),
        most_pitch,
    });
    let edge = prop::option::of(length(4, 12));
    (open(), sheet(4), flange, gasket(), fastener, edge).prop_map(|(body, sheet, flange, gasket, fastener, edge)| {
        BoxSpec {
            lid: Lid::Flat {
                sheet,
                flange: Some(flange),
                gasket,
                fastener: Some(fastener),
                edge,
            },
            ..body
        }
    })
}

/// A box with a cap.
pub(crate) fn capped() -> impl Strategy<Value = BoxSpec> {
    (open(), sheet(4), length(0, 6), length(5, 60), gasket()).prop_map(|(body, sheet, play, deep, gasket)| BoxSpec {
        lid: Lid::Cap {
            sheet,
            out: sheet.thickness + play,
            deep,
            gasket,
            hold: None,
        },
        ..body
    })
}
