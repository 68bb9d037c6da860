//! What holds of everything that is added, whatever the box.

use super::*;

/// Every group that can be put in or on a box, with whether it is inside.
fn groups(spec: &BoxSpec, built: &Built) -> Vec<(bool, Group)> {
    let mut found = Vec::new();
    for wall in [Wall::Front, Wall::Rear, Wall::Left, Wall::Right] {
        for reach in [Reach::Web, Reach::Foot] {
            let side = spec.inside[usize::from(matches!(wall, Wall::Front | Wall::Rear))];
            let mut brackets = brackets(wall, reach);
            brackets.places = spread_evenly(2, side);
            brackets.up = match spec.construction {
                // The ring at the floor may be a narrow one, and the skirt of a cap may come down low.
                Construction::Framed(_) => Length::ZERO,
                _ => Length::mm(4),
            };
            found.push((false, brackets.group(spec, built).unwrap()));
        }
    }
    for bar in [Bar::Flat { width: Length::mm(25) }, Bar::Angle { leg: Length::mm(25) }] {
        for fixed in [LUGS, Fixed::Rods] {
            found.push((true, hold_down(spec, bar, fixed).group(spec).unwrap()));
        }
    }
    for across in [0, 1] {
        let divider = Divider {
            across,
            places: spread_evenly(2, spec.inside[across]),
            height: spec.inside[2] - Length::mm(10),
            sheet: steel(Length::mm(2)),
            loose: false,
            liner: Length::ZERO,
        };
        found.push((true, divider.group(spec).unwrap()));
        let standoffs = Standoffs {
            along: across,
            places: spread_evenly(2, spec.inside[1 - across]),
            width: Length::mm(20),
            ends: Length::mm(2),
            sheet: steel(Length::mm(6)),
            joined: Joined::Welded,
        };
        found.push((true, standoffs.group(spec).unwrap()));
    }
    if !matches!(spec.construction, Construction::Framed(_)) {
        for along in [0, 1] {
            found.push((false, floor_rails(spec, along, 1).group(spec).unwrap()));
        }
    }
    found.push((
        true,
        lining(Length::tenths_mm(15), Vec::new()).group(spec).unwrap().group,
    ));
    let walls = [Wall::Front, Wall::Rear, Wall::Left, Wall::Right, Wall::Floor];
    let lid = lid_sheet(spec).map(|_| Wall::Lid);
    for wall in walls.into_iter().chain(lid) {
        found.push((true, eye_plate(spec, wall).group(spec, built).unwrap()));
    }
    for along in 0..3 {
        for rods in [2, 4] {
            found.push((true, clamp(spec, along, rods).group().unwrap()));
        }
    }
    if lid_sheet(spec).is_some() {
        found.push((true, stiffeners(spec, 2, false).group(spec, built).unwrap()));
        found.push((false, stiffeners(spec, 2, true).group(spec, built).unwrap()));
    }
    found
}

fn hull(blocks: &[&Block]) -> Block {
    let edge = |pick: fn(Length, Length) -> Length, of: fn(&Block) -> [Length; 3]| {
        [0, 1, 2].map(|axis| blocks.iter().map(|block| of(block)[axis]).reduce(pick).unwrap())
    };
    Block {
        lo: edge(Length::min, |block| block.lo),
        hi: edge(Length::max, |block| block.hi),
    }
}

/// Of the square round a thread, what its rod fills: `pi/4 ((d - 0.6495 P) / d)^2`.
fn threaded_share(thread: Length) -> f64 {
    let across = match thread {
        _ if thread == Length::mm(6) => (6.0 - 0.6495) / 6.0,
        _ if thread == Length::mm(8) => (8.0 - 0.6495 * 1.25) / 8.0,
        _ => 1.0,
    };
    std::f64::consts::FRAC_PI_4 * across * across
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Solids of a group stand beside each other, each as large as its part, and as many as its part is cut.
    #[test]
    fn pieces_are_their_parts_in_place_and_nothing_twice(spec in any_box()) {
        let built = build(&spec).unwrap();
        for (_, group) in groups(&spec, &built) {
            for (index, piece) in group.pieces.iter().enumerate() {
                for other in &group.pieces[..index] {
                    let through = piece.role.is_rod_through(other.role) || other.role.is_rod_through(piece.role);
                    prop_assert!(through || !piece.block.meets(&other.block), "{piece:?} meets {other:?}");
                }
            }
            for (index, part) in group.parts.iter().enumerate() {
                let own: Vec<&Block> = group.pieces.iter().filter(|p| p.part == index).map(|p| &p.block).collect();
                let solids = if part.role.form() == Form::Angle { 2 } else { 1 };
                prop_assert_eq!(own.len(), part.quantity as usize * solids, "{:?}", part.role);
                for one in own.chunks(solids) {
                    let mut wanted = match part.role.form() {
                        Form::Angle => [part.length, part.width, part.width],
                        _ => [part.length, part.width, part.sheet.thickness],
                    };
                    wanted.sort_unstable();
                    prop_assert_eq!(sizes(&hull(one)), wanted, "{:?}", part.role);
                }
            }
        }
    }

    /// Volume by density, rods as cylinders across the flanks of their threads, angles of a listed size with the rounding r in their root and half of it at both
    /// toes, `(1 - pi/4) (r^2 - 2 (r/2)^2)`; and the legs of an angle are its whole block but for the hollow corner.
    #[test]
    fn mass_is_volume_by_density(spec in any_box()) {
        let built = build(&spec).unwrap();
        for (_, group) in groups(&spec, &built) {
            for (index, part) in group.parts.iter().enumerate() {
                let own: Vec<&Block> = group.pieces.iter().filter(|p| p.part == index).map(|p| &p.block).collect();
                let solid: Volume = own.iter().map(|block| volume(block)).sum();
                let share = if part.role.form() == Form::Rod { threaded_share(part.width) } else { 1.0 };
                let listed = crate::section::angles().iter().find(|angle| {
                    part.role.form() == Form::Angle
                        && (angle.leg, angle.thickness) == (part.width, part.sheet.thickness)
                });
                let root = listed.map_or(0.0, |angle| angle.root_radius.as_mm());
                let rounded = (1.0 - std::f64::consts::FRAC_PI_4) * root * root / 2.0;
                let roundings = rounded * part.length.as_mm() * f64::from(part.quantity);
                let grams = (solid.as_mm3() * share + roundings) * part.sheet.material.density_kg_m3() * 1e-6;
                let told = part.solid_grams * f64::from(part.quantity);
                prop_assert!((told - grams).abs() <= 1e-9 * grams, "{:?}: {told} against {grams}", part.role);
                let across = part.holes.iter().map(|hole| hole.diameter.as_mm());
                let discs: f64 = across.map(|d| d * d * std::f64::consts::FRAC_PI_4).sum();
                // Of a divider over a bend two corners, half a square each.
                let cut = if part.role == Role::Divider { Divider::corner(&spec).as_mm().powi(2) } else { 0.0 };
                let taken = (discs + cut) * part.sheet.thickness.as_mm() * part.sheet.material.density_kg_m3() * 1e-6;
                prop_assert!((part.solid_grams - part.grams() - taken).abs() <= 1e-9 * grams, "{:?}", part.role);
                if part.role.form() == Form::Angle {
                    let hollow = part.width - part.sheet.thickness;
                    for one in own.chunks(2) {
                        let whole = volume(&hull(one)) - hollow * hollow * part.length;
                        prop_assert_eq!(one.iter().map(|block| volume(block)).sum::<Volume>(), whole);
                    }
                }
            }
        }
    }

    /// What is inside keeps within the walls and under the lid; what is outside keeps out of body and rim.
    #[test]
    fn nothing_stands_in_the_steel(spec in any_box()) {
        let built = build(&spec).unwrap();
        let beside = built.beside;
        let body = Block {
            lo: [-beside, -beside, -built.under],
            hi: [spec.inside[0] + beside, spec.inside[1] + beside, spec.inside[2] + built.above_rim],
        };
        let hollow = Block {
            lo: [Length::ZERO; 3],
            hi: [spec.inside[0], spec.inside[1], under_lid(&spec, &built)],
        };
        for (inside, group) in groups(&spec, &built) {
            for piece in &group.pieces {
                if inside {
                    let within = (0..3).all(|a| hollow.lo[a] <= piece.block.lo[a] && piece.block.hi[a] <= hollow.hi[a]);
                    let on_rods = piece.role == Role::HoldDownRod;
                    prop_assert!(within || on_rods, "{piece:?} leaves {hollow:?}");
                } else {
                    prop_assert!(!piece.block.meets(&body), "{piece:?} stands in {body:?}");
                }
            }
        }
    }

    /// The box is heavier by what is added, and the cut list has every piece of it.
    #[test]
    fn the_cut_list_has_every_piece(spec in any_box()) {
        let bare = build(&spec).unwrap();
        let mut built = bare.clone();
        let added = groups(&spec, &bare);
        let mut grams = bare.grams;
        let mut count: u32 = bare.parts.iter().map(|part| part.quantity).sum();
        for (_, group) in added {
            for part in &group.parts {
                grams += part.grams() * f64::from(part.quantity);
                count += part.quantity;
            }
            built.add(group);
        }
        let list = cut_list(&[ListedBox { name: "box", built: &built, count: 1 }], Fineness::Sixteenth);
        let listed: u32 = list.tables.iter().map(|table| table.pieces).sum();
        prop_assert_eq!(listed, count);
        prop_assert!((list.grams - grams).abs() <= 1e-9 * grams);
        prop_assert!((built.grams - grams).abs() <= 1e-9 * grams);
        for piece in &built.added {
            prop_assert_eq!(built.parts[piece.part].role, piece.role);
        }
    }

    /// Holes lie wholly on the leg, bar or plate they are in.
    #[test]
    fn holes_keep_off_the_edges(spec in any_box()) {
        let built = build(&spec).unwrap();
        for (_, group) in groups(&spec, &built) {
            for part in &group.parts {
                for hole in &part.holes {
                    let half = hole.diameter - hole.diameter.half_down();
                    let on = |at: Length, size: Length| at - half > Length::ZERO && at + half < size;
                    prop_assert!(on(hole.x, part.length) && on(hole.y, part.width), "{:?} {hole:?}", part.role);
                }
            }
        }
    }

    /// More of them are never further apart, and they always lie inside the side.
    #[test]
    fn places_are_even(count in 1_u32..12, side in length(100, 2_000)) {
        let places = spread_evenly(count, side);
        prop_assert_eq!(places.len(), count as usize);
        prop_assert!(places.iter().all(|&place| place > Length::ZERO && place < side));
        let step = Length::from_nm(side.nm() / i64::from(count));
        for pair in places.windows(2) {
            prop_assert!((pair[1] - pair[0] - step).abs() <= Length::from_nm(2));
        }
    }

    /// One stiffener fewer would give too much, and as many as told do not.
    #[test]
    fn stiffeners_are_the_fewest(long in length(300, 1_500), short in length(200, 800), kg in 10.0..150.0) {
        let lid = steel(Length::mm(2));
        let most = Length::mm(1);
        let Some(count) = least_stiffeners([long, short], lid, kg, most) else {
            return Ok(());
        };
        let gives = |count| stiffener::lid_gives_mm([long, short], lid, kg, count).unwrap();
        prop_assert!(gives(count) <= most.as_mm());
        prop_assert!(count == 0 || gives(count - 1) > most.as_mm());
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The block over all is as large as told, with nothing added, whatever the box.
    #[test]
    fn the_block_over_all_is_as_large_as_told(spec in any_box()) {
        let built = build(&spec).unwrap();
        prop_assert_eq!([0, 1, 2].map(|axis| built.hull.hi[axis] - built.hull.lo[axis]), built.overall);
        let body = [built.beside, built.beside, built.under];
        for (lo, out) in built.hull.lo.into_iter().zip(body) {
            prop_assert!(lo <= -out);
        }
        prop_assert!(built.hull.hi[2] >= spec.inside[2] + built.above_rim);
    }
}
