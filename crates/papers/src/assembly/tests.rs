//! What the drawing of a box tells, bare and with all that can be added to it.

use drawing::{Direction, Side};
use enclosure::Role;
use geometry::Axis;
use job::{Closing, ConstructionName, Edit, Evaluation, Field, evaluate};
use plot::{Item, Orientation};
use tape::Length;

use super::sized::Told;
use super::*;
use crate::page::sizes;
use crate::tests::{dressed, in_every_way, job, stepped};

/// Every box of some jobs, as its drawing is made from it.
fn sheets(evaluation: &Evaluation) -> impl Iterator<Item = Sheets<'_>> {
    evaluation.boxes.iter().filter_map(|b| {
        Some(Sheets {
            evaluation,
            assembly: drawing::assembly(evaluation, b)?,
            date: "",
        })
    })
}

fn evaluations() -> Vec<Evaluation> {
    in_every_way().iter().map(evaluate).collect()
}

/// The axis of the box along which a size lies, with its ends there.
fn measured(told: &Told) -> (Axis, [Length; 2]) {
    let axis = told.side.axis(told.along);
    // Down the sheet is down the box, and to the left.
    if told.along == Direction::V {
        (axis, [-told.ends[1], -told.ends[0]])
    } else {
        (axis, told.ends)
    }
}

#[test]
fn holes_of_the_lid_are_measured_from_its_edge_whatever_stands_out_beyond_it() {
    let mut seen = 0;
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            let lid = &sheets.assembly.lidded;
            let told = sheets.told();
            for axis in [Axis::X, Axis::Y] {
                let Some(first) = sheets.assembly.holes.iter().map(|hole| hole[axis.index()]).min() else {
                    continue;
                };
                let from = told
                    .iter()
                    .find(|told| told.side == Side::Plan && told.row == 1 && measured(told).0 == axis);
                assert_eq!(measured(from.unwrap()).1, [lid.lo()[axis], first]);
                seen += usize::from(sheets.assembly.whole != *lid);
            }
        }
    }
    assert!(seen > 8, "brackets were there");
}

#[test]
fn body_lid_and_over_all_are_told_each_once() {
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            let told = sheets.told();
            let name = format!("{} {}", evaluation.name, sheets.assembly.name);
            let mut known = Vec::new();
            for told in &told {
                let own = measured(told);
                assert!(!known.contains(&own), "{name}: {own:?} is told twice");
                assert!(told.length() > Length::ZERO, "{name}: {}", told.words);
                known.push(own);
            }
            let assembly = &sheets.assembly;
            for axis in Axis::ALL {
                for solid in [&assembly.body, &assembly.lidded, &assembly.whole] {
                    let size = (axis, [solid.lo()[axis], solid.hi()[axis]]);
                    assert!(known.contains(&size), "{name}: {size:?} is not told");
                }
            }
            if assembly.above_rim > Length::ZERO {
                let rim = assembly.body.hi()[Axis::Z] - assembly.above_rim;
                assert!(
                    known.contains(&(Axis::Z, [assembly.body.lo()[Axis::Z], rim])),
                    "{name}: height of the rim"
                );
            }
        }
    }
}

#[test]
fn a_step_tells_how_far_it_runs_in_and_how_high_it_rises() {
    for job in stepped() {
        let evaluation = evaluate(&job);
        for sheets in sheets(&evaluation) {
            let (step, axis) = (sheets.assembly.step.unwrap(), sheets.assembly.step_axis);
            let told: Vec<_> = sheets.told().iter().map(measured).collect();
            for axis in [axis, Axis::Z] {
                assert!(told.contains(&(axis, [step.lo()[axis], step.hi()[axis]])), "{axis:?}");
            }
        }
    }
}

#[test]
fn a_cap_tells_how_far_it_hangs_down() {
    for &construction in ConstructionName::ALL {
        let evaluation = evaluate(&dressed("orchard-flatbed", construction, Closing::Cap));
        let Some(deep) = sheets(&evaluation).next().unwrap().assembly.skirt_depth() else {
            // A frame of angle has its ring at the rim, and no cap goes over that.
            assert_eq!(construction, ConstructionName::Framed);
            continue;
        };
        let words = format!("cap hangs down {}", sheets(&evaluation).next().unwrap().both(deep));
        assert_eq!(deep, Length::mm(40), "as it is assumed");
        let pages = sheets(&evaluation).next().unwrap().pages([420.0, 297.0]);
        let all = pages.iter().flat_map(|page| &page.items);
        let found = all.filter(|item| matches!(item, Item::Text(text) if text.words == words));
        assert_eq!(found.count(), 1, "{words}");
    }
}

/// Every arrow ends on a piece of each of the two sorts that the seam joins.
#[test]
fn arrows_of_welds_end_on_what_is_welded() {
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            for side in [Side::FromLeft, Side::FromRear] {
                for seam in &sheets.assembly.seams {
                    let name = format!(
                        "{} {}: seam {} {side:?}",
                        evaluation.name, sheets.assembly.name, seam.number
                    );
                    let Some([u, v]) = sheets.seam_on(seam, side).map(|met| met.at) else {
                        panic!("{name} has no place: {:?} {:?}", seam.joins, seam.at);
                    };
                    for role in seam.joins {
                        let on = |piece: &&drawing::Piece| {
                            let rect = side.rect(&piece.solid);
                            piece.role == role && rect.u0 <= u && u <= rect.u1 && rect.v0 <= v && v <= rect.v1
                        };
                        assert!(
                            sheets.assembly.pieces.iter().any(|piece| on(&piece)),
                            "{name} is not on {}",
                            role.name()
                        );
                    }
                }
            }
        }
    }
}

/// Two sorts of seams of brackets are not one over the step and one beside it, as two sorts of its corners are.
#[test]
fn brackets_of_a_stepped_box_are_welded_to_what_they_touch() {
    let mut job = dressed("orchard-flatbed", ConstructionName::Welded, Closing::Flange);
    job.boxes.truncate(1);
    job.boxes[0].step.clone_from(&stepped()[0].boxes[0].step);
    let id = job.boxes[0].id;
    for (field, text) in [(Field::BoxStepRise(id), "60 mm"), (Field::BoxStepRun(id), "150 mm")] {
        let text = text.to_owned();
        job = job.with(&Edit::Set { field, text }).unwrap();
    }
    let evaluation = evaluate(&job);
    for sheets in sheets(&evaluation) {
        let brackets = sheets
            .assembly
            .seams
            .iter()
            .filter(|seam| seam.at == enclosure::weld::At::Bracket);
        assert!(brackets.clone().count() > 1, "of two lengths");
        for seam in brackets {
            let joined = sheets.joined(seam);
            assert!(joined.iter().all(|marks| !marks.is_empty()), "seam {}", seam.number);
        }
    }
}

/// A wall that ends over a step is not named where the floor is welded, and no seam is without the pieces that it joins.
#[test]
fn a_seam_names_the_pieces_that_it_runs_along() {
    let mut told_apart = 0;
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            let pieces = &sheets.assembly.pieces;
            for seam in &sheets.assembly.seams {
                let joined = sheets.joined(seam);
                let name = format!("{}: seam {} {:?} {joined:?}", evaluation.name, seam.number, seam.joins);
                assert!(joined.iter().all(|marks| !marks.is_empty()), "{name}");
                let [Role::Floor, wall] = seam.joins else { continue };
                let floor = pieces.iter().find(|piece| piece.role == Role::Floor).unwrap();
                for mark in joined[1].split(", ") {
                    let mut own = pieces.iter().filter(|piece| piece.mark == mark && piece.role == wall);
                    assert!(
                        own.any(|piece| piece.solid.lo()[Axis::Z] <= floor.solid.hi()[Axis::Z]),
                        "{name}"
                    );
                }
                let alike = pieces.iter().filter(|piece| piece.role == wall);
                told_apart += usize::from(
                    alike
                        .into_iter()
                        .any(|piece| !joined[1].split(", ").any(|m| m == piece.mark)),
                );
            }
        }
    }
    assert!(told_apart > 0, "some wall does not reach the floor");
}

/// A pitch rounded to a mark does not add up: the count and the whole are told instead.
#[test]
fn equal_spaces_add_up() {
    let evaluation = evaluate(&job("orchard-flatbed"));
    let sheets = sheets(&evaluation).next().unwrap();
    let pattern = sheets.assembly.pattern.unwrap();
    for (count, line) in [
        (pattern.intervals_long, pattern.line_length),
        (pattern.intervals_short, pattern.line_width),
    ] {
        let words = format!("{count} equal spaces in {}", sheets.both(line));
        assert!(sheets.told().iter().any(|told| told.words == words), "{words}");
    }
}

#[test]
fn views_stand_clear_of_the_title_block_and_of_each_other() {
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            for paper in [Paper::A3, Paper::Tabloid] {
                let frame = frame(paper.size_mm(Orientation::Landscape));
                let (_, top) = sheets.notes(frame);
                let block = Rect::between([frame.high()[0] - title::WIDTH, frame.y], [frame.high()[0], top]);
                let stand = sheets.stand(frame.grown(-4.0), block);
                let inside = |rect: &Rect| frame.with(rect.grown(-0.01)) == frame;
                assert!(stand.taken.iter().all(inside), "{} {stand:?}", evaluation.name);
                for (index, one) in stand.taken.iter().enumerate() {
                    assert_eq!(one.grown(-0.01).common(block), None, "{}", evaluation.name);
                    for other in &stand.taken[index + 1..] {
                        assert_eq!(one.grown(-0.01).common(*other), None, "{} {stand:?}", evaluation.name);
                    }
                }
            }
        }
    }
}

#[test]
fn the_examples_fill_their_paper() {
    for (name, scale) in [("harbour-tender", 5), ("mountain-rescue", 5)] {
        let evaluation = evaluate(&job(name));
        let size = crate::drawing_paper(&evaluation).size_mm(Orientation::Landscape);
        for sheets in sheets(&evaluation) {
            let frame = frame(size);
            let (_, top) = sheets.notes(frame);
            let block = Rect::between([frame.high()[0] - title::WIDTH, frame.y], [frame.high()[0], top]);
            assert_eq!(sheets.stand(frame.grown(-4.0), block).scale, scale, "{name}");
        }
    }
}

#[test]
fn every_added_piece_has_its_place_in_the_table() {
    let job = dressed("mountain-rescue", ConstructionName::Welded, Closing::Flange);
    let evaluation = evaluate(&job);
    let sheets = sheets(&evaluation).next().unwrap();
    let tables = sheets.tables();
    let places = tables.iter().find(|table| table.title.starts_with("places")).unwrap();
    let lines = sheets
        .lines()
        .filter(|(_, line)| line.roles.iter().all(|role| role.is_added() && !role.is_liner()));
    let pieces: u32 = lines.map(|(_, line)| line.quantity).sum();
    assert_eq!(places.rows.len(), usize::try_from(pieces).unwrap());
    // A strip stands on the floor, and its mark is set from inside; a bracket is on the wall outside.
    let standoff = sheets.assembly.added();
    let standoff = standoff
        .iter()
        .position(|item| item.piece.role == enclosure::Role::Standoff)
        .unwrap();
    assert_eq!(places.rows[standoff][1], "inside");
    assert_eq!(places.rows[standoff][4], sheets.both(Length::ZERO));
    let added = sheets.assembly.added();
    let bracket = added
        .iter()
        .position(|item| item.piece.role == enclosure::Role::Bracket)
        .unwrap();
    assert_eq!(places.rows[bracket][1], "outside");
}

#[test]
fn what_is_inside_is_drawn_in_the_plan_alone_and_once() {
    let job = dressed("mountain-rescue", ConstructionName::Welded, Closing::Cap);
    let evaluation = evaluate(&job);
    for sheets in sheets(&evaluation) {
        let inside = sheets.assembly.added().iter().filter(|item| item.inside).count();
        assert!(inside > 10);
        for side in Side::ALL {
            let shell: Vec<_> = sheets
                .assembly
                .pieces
                .iter()
                .filter(|p| !sheets.assembly.is_inside(p))
                .collect();
            let solids: Vec<_> = shell.iter().map(|piece| piece.solid).collect();
            assert_eq!(sheets.assembly.edges(side), drawing::edges(&solids, side));
        }
    }
}

/// How the views of a box stand on a sheet of some paper.
fn stand_on(sheets: &Sheets<'_>, paper: Paper) -> Stand {
    let frame = frame(paper.size_mm(Orientation::Landscape));
    let (_, top) = sheets.notes(frame);
    let block = Rect::between([frame.high()[0] - title::WIDTH, frame.y], [frame.high()[0], top]);
    sheets.stand(frame.grown(-4.0), block)
}

/// An arrow that ends on blank paper tells nobody where to weld: strips, lugs and clamps are inside, where views from the side
/// show nothing.
#[test]
fn arrows_of_welds_end_on_a_line() {
    let mut inside = 0;
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            let stand = stand_on(&sheets, Paper::A3);
            let Some((side, room)) = stand.welds else { continue };
            let paper = sheets.on_paper(&stand, side);
            let view = sheets.view(side, &paper);
            let drawn = [view.clone(), sheets.welds(side, &paper, &view, room)].concat();
            // A tip is the first corner of a filled triangle.
            let tips = drawn.iter().filter_map(|item| match item {
                Item::Filled { path, .. } if path.vertices.len() == 3 => path.vertices.first().map(|first| first.at()),
                _ => None,
            });
            let tips: Vec<_> = tips.collect();
            let seen = sheets
                .assembly
                .seams
                .iter()
                .filter(|seam| sheets.seam_on(seam, side).is_some());
            assert_eq!(tips.len(), seen.count());
            for tip in tips {
                assert!(
                    super::welds::is_on(tip, drawn.iter()),
                    "{} {}: {tip:?} on {side:?}",
                    evaluation.name,
                    sheets.assembly.name
                );
            }
            let hidden = |seam: &&enclosure::weld::Seam| {
                let joined = sheets.seam_on(seam, side);
                joined.is_some_and(|met| !met.inside.is_empty())
            };
            inside += sheets.assembly.seams.iter().filter(hidden).count();
        }
    }
    assert!(inside > 20, "welds inside were told: {inside}");
}

/// No arrow of a weld runs through the name of its view, or what is told with it: those of a box with a step come from above.
#[test]
fn names_of_views_keep_clear_of_arrows() {
    let mut from_above = 0;
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            let stand = stand_on(&sheets, Paper::A3);
            let Some((side, room)) = stand.welds else { continue };
            let paper = sheets.on_paper(&stand, side);
            let signs = sheets.welds(side, &paper, &sheets.view(side, &paper), room);
            let items = sheets.views(&stand);
            let own = |text: &&plot::Text| {
                let over = text.at[1] - paper.at.high()[1];
                (0.0..6.0).contains(&over) && text.turn_deg == 0.0 && (text.at[0] - paper.at.x).abs() < 30.0
            };
            let names = items.iter().filter_map(|item| match item {
                Item::Text(text) => Some(text),
                _ => None,
            });
            let names: Vec<_> = names.filter(own).collect();
            assert!(
                names.iter().any(|text| text.words.starts_with(side.words())),
                "{names:?}"
            );
            for sign in &signs {
                let Item::Stroke { path, .. } = sign else { continue };
                for piece in path.pieces() {
                    let plot::Piece::Straight([a, b]) = piece else { continue };
                    from_above += usize::from(a[1].max(b[1]) > paper.at.high()[1] + 6.0);
                    for text in &names {
                        let [left, foot] = text.at;
                        let runs_through = (0..=400).map(|i| f64::from(i) / 400.0).any(|part| {
                            let [x, y] = [0, 1].map(|k| a[k] + (b[k] - a[k]) * part);
                            (left..left + text.width()).contains(&x) && (foot..foot + text.height_mm).contains(&y)
                        });
                        assert!(
                            !runs_through,
                            "{} {}: {}",
                            evaluation.name, sheets.assembly.name, text.words
                        );
                    }
                }
            }
        }
    }
    assert!(from_above > 20, "{from_above}");
}

/// The name of a view over which an arrow comes farther to the left than there is paper stands on it: the arrow is interrupted, not
/// the words.
#[test]
fn a_name_that_no_arrow_leaves_room_for_interrupts_it() {
    let evaluation = evaluate(&job("orchard-flatbed"));
    let sheets = sheets(&evaluation).next().unwrap();
    let stand = stand_on(&sheets, Paper::A3);
    let view = stand.at[super::stand::index(Side::FromRear)];
    let ink = plot::Ink::new(plot::Pen::new(0.18, plot::Line::Continuous), plot::Layer::TEXT);
    let [left, top] = [view.x, view.high()[1]];
    let named = |from: f64| {
        let arrow = Item::line([from, top + 10.0], [from, top - 5.0], ink);
        views::name(Side::FromRear, "", &stand, &[arrow])
    };
    let grounds = |items: &[Item]| items.iter().filter(|item| matches!(item, Item::Filled { .. })).count();
    assert_eq!(grounds(&named(left + 60.0)), 0);
    let crossed = named(left - 20.0);
    assert_eq!(grounds(&crossed), 1);
    let ground = crossed.first().and_then(Item::bounds).unwrap();
    let words = crossed.last().and_then(Item::bounds).unwrap();
    assert_eq!(ground.with(words), ground);
}

/// No line of a size runs through the words of another, on any paper: words are read, lines may have a gap.
#[test]
fn no_line_runs_through_the_words_of_a_size() {
    let mut checked = 0;
    for evaluation in evaluations() {
        for (sheets, page) in sheets(&evaluation).flat_map(|sheets| Paper::ALL.map(|page| (sheets.clone(), page))) {
            let stand = stand_on(&sheets, page);
            let items = sheets.views(&stand);
            let sizes: Vec<&plot::Text> = items
                .iter()
                .filter_map(|item| match item {
                    Item::Text(text) if text.words.contains('(') => Some(text),
                    _ => None,
                })
                .collect();
            let upright = sizes.iter().filter(|text| text.turn_deg > 45.0);
            for text in upright {
                // Readable from the right: its letters stand to the left of its foot, one after the other upwards.
                let [foot, low] = text.at;
                let half = match text.anchor {
                    plot::Anchor::Middle => text.width() / 2.0,
                    _ => 0.0,
                };
                // Less what words that are too long for their line stand over its ends.
                let (left, low, high) = (foot - text.height_mm, low - half + 1.0, low - half + text.width() - 1.0);
                for item in &items {
                    let Item::Stroke { path, .. } = item else { continue };
                    for piece in path.pieces() {
                        let plot::Piece::Straight([a, b]) = piece else { continue };
                        let level = (a[1] - b[1]).abs() < 1e-9 && low < a[1] && a[1] < high;
                        let over = a[0].min(b[0]) < foot && left < a[0].max(b[0]);
                        checked += 1;
                        assert!(
                            !(level && over),
                            "{} on {}: {}",
                            evaluation.name,
                            page.name(),
                            text.words
                        );
                    }
                }
            }
        }
    }
    assert!(checked > 1000, "{checked}");
}

/// The cut through the rim shows all that it tells of: past the liner too, where the edge of the lid is wide.
#[test]
fn the_cut_through_the_rim_shows_its_liner() {
    for evaluation in evaluations() {
        for sheets in sheets(&evaluation) {
            let items = sheets.rim(Rect::new(0.0, 0.0, 200.0, 90.0));
            let told = |what: &str| {
                items
                    .iter()
                    .any(|item| matches!(item, Item::Text(text) if text.words.contains(what)))
            };
            let lined = sheets.assembly.pieces.iter().any(|piece| piece.role.is_liner());
            assert_eq!(told("liner"), lined, "{} {}", evaluation.name, sheets.assembly.name);
        }
    }
}

/// Words of sizes keep their least distance from the view that they stand beside and from those of other rows, on any paper.
#[test]
fn rows_of_sizes_keep_apart() {
    let apart = |one: Rect, other: Rect| {
        let gap = |axis: usize| (one.low()[axis] - other.high()[axis]).max(other.low()[axis] - one.high()[axis]);
        gap(0).max(gap(1))
    };
    let mut two_rows = 0;
    let mut faults = Vec::new();
    for evaluation in evaluations() {
        for (sheets, page) in sheets(&evaluation).flat_map(|sheets| Paper::ALL.map(|page| (sheets.clone(), page))) {
            let stand = stand_on(&sheets, page);
            for side in Side::ALL {
                let paper = sheets.on_paper(&stand, side);
                let told = sheets.told();
                let own = told
                    .iter()
                    .filter(|told| told.side == side && views::has_room(told, &paper));
                let words: Vec<Vec<(String, Rect)>> = own
                    .map(|told| {
                        let texts = views::size(told, &paper).into_iter().filter_map(|item| match &item {
                            Item::Text(text) => Some((text.words.clone(), item.bounds()?.grown(-0.35))),
                            _ => None,
                        });
                        texts.collect()
                    })
                    .collect();
                two_rows += words.iter().filter(|rows| rows.len() > 1).count();
                for (index, rows) in words.iter().enumerate() {
                    for (text, space) in rows {
                        let far = apart(*space, paper.at);
                        if far < sizes::APART {
                            faults.push(format!(
                                "{} {side:?} on {}: {text} {far:.2} from view",
                                evaluation.name,
                                page.name()
                            ));
                        }
                        for (other, its) in words[index + 1..].iter().flatten() {
                            let far = apart(*space, *its);
                            if far < sizes::APART {
                                faults.push(format!(
                                    "{} {side:?} on {}: {text} {far:.2} from {other}",
                                    evaluation.name,
                                    page.name()
                                ));
                            }
                        }
                    }
                }
            }
        }
    }
    assert!(two_rows > 0);
    assert!(faults.is_empty(), "{} {faults:#?}", faults.len());
}

#[test]
fn holes_show_where_parts_are_drawn_apart() {
    let evaluation = evaluate(&job("orchard-flatbed"));
    let sheets = sheets(&evaluation).next().unwrap();
    let items = sheets.apart(Rect::new(0.0, 0.0, 200.0, 200.0));
    let round = items
        .iter()
        .filter(|item| matches!(item, Item::Filled { path, .. } if path.vertices.len() == 20));
    // Each hole of the lid goes through the lid and through the flange under it, most of them through one bar.
    assert!(round.count() >= sheets.assembly.holes.len() * 2);
}

#[test]
fn the_title_block_tells_whose_it_is_and_what_the_shop_holds_to() {
    let mut job = job("harbour-tender");
    "Quayside Welding".clone_into(&mut job.settings.sheets.shop);
    "J. Reed".clone_into(&mut job.settings.sheets.drawn_by);
    job.settings.sheets.projection = Some(job::ProjectionName::Third);
    let evaluation = evaluate(&job);
    let pages = sheets(&evaluation).next().unwrap().pages([420.0, 297.0]);
    for page in &pages {
        let has = |words: &str| {
            page.items
                .iter()
                .any(|item| matches!(item, Item::Text(text) if text.words == words))
        };
        for words in ["Quayside Welding", "J. Reed", &evaluation.sheet.tolerance] {
            assert!(has(words), "{words}");
        }
        assert!(evaluation.sheet.tolerance.contains("ISO 13920-"));
    }
}

#[test]
fn drills_and_sheets_are_told_as_they_are_and_not_by_the_marks_of_a_tape() {
    assert_eq!(words::gauge(Length::mm(7), tape::Units::Inch), "0.276\" (7.0 mm)");
    assert_eq!(words::gauge(Length::mm(7), tape::Units::Millimetre), "7.0 mm (0.276\")");
    assert_eq!(
        words::gauge(Length::tenths_mm(15), tape::Units::Millimetre),
        "1.5 mm (0.059\")"
    );
    assert_eq!(words::gauge(Length::mm(2), tape::Units::Millimetre), "2.0 mm (0.079\")");
    assert_eq!(
        words::gauge(Length::from_nm(1_270_000), tape::Units::Millimetre),
        "1.27 mm (0.050\")"
    );
}
