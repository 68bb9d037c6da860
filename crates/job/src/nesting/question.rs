//! From a job and its cut list to the question.

use enclosure::Form;
use enclosure::cutlist::{Line, Table};
use enclosure::material::Material;
use enclosure::nest::sheets::Cutting;
use tape::{Length, Units};

use super::{Group, How, Piece, Question, Wanted};
use crate::{Evaluation, Field, Job, Len, State, StockPiece, UnitsName, assumed, field};

/// What is to be cut for all boxes together, from the stock that was entered.
///
/// Where no sheet or bar to buy serves, the usual one is taken: 4x8 ft, 20 ft and rods of 3 and 6 ft, or 1250 x 2500 mm,
/// 6 m and rods of 1 and 2 m. Cut edge to edge, a part is as large as it is marked in the person's units; cut along any line, as large as it is drawn.
pub fn question(job: &Job, evaluation: &Evaluation) -> Question {
    let units = evaluation.units;
    let how = assumed::how(&job.stock, job.units);
    let mut pieces: Vec<Piece> = job.stock.pieces.iter().map(piece).collect();
    let usual = pieces.len();
    pieces.extend(self::usual(job.units));
    let groups = evaluation
        .cut
        .list
        .tables
        .iter()
        .map(|table| {
            let is_bar = table.form != Form::Sheet;
            let serves = |&i: &usize| serves(&job.stock.pieces[i], table);
            let mut of_group: Vec<usize> = (0..usual).filter(serves).collect();
            if of_group.iter().all(|&i| pieces[i].on_hand.is_some()) {
                match (table.sheet.material, table.form) {
                    (Material::Liner(sort), _) => of_group.push(common(&mut pieces, sort.figures().stock)),
                    (_, Form::Rod) => of_group.extend(
                        assumed::stock_rods(job.units).map(|rod| common(&mut pieces, [rod.length, Length::ZERO])),
                    ),
                    _ => of_group.push(usual + usize::from(is_bar)),
                }
            }
            Group {
                label: table.label(),
                is_bar,
                form: is_bar.then_some(table.form),
                parts: table.lines.iter().map(|line| wanted(line, how, units)).collect(),
                pieces: of_group,
            }
        })
        .collect();
    Question {
        units,
        how,
        assumed: {
            let there = |is_sheet| move |t: &Table| (t.form == Form::Sheet) == is_sheet;
            let tables = &evaluation.cut.list.tables;
            assumed_words(job, [true, false].map(|is_sheet| tables.iter().any(there(is_sheet))))
        },
        pieces,
        groups,
    }
}

/// The place of a sheet as liners commonly come, or a threaded rod, put among the pieces when it is not there.
fn common(pieces: &mut Vec<Piece>, sides: [Length; 2]) -> usize {
    let piece = assumed_piece(sides);
    let known = pieces.iter().position(|own| *own == piece);
    known.unwrap_or_else(|| {
        pieces.push(piece);
        pieces.len() - 1
    })
}

const fn assumed_piece(sides: [Length; 2]) -> Piece {
    Piece {
        sides,
        on_hand: None,
        price: None,
        assumed: true,
    }
}

/// The sheet and the bar that are taken where none on sale was entered.
pub(super) fn usual(units: UnitsName) -> [Piece; 2] {
    let [shorter, longer] = assumed::stock_sheet(units).sides;
    let bar = assumed::stock_bar(units).length;
    [[longer, shorter], [bar, Length::ZERO]].map(assumed_piece)
}

pub(super) fn piece(piece: &StockPiece) -> Piece {
    let width = piece.width.as_ref().map_or(Length::ZERO, Len::value);
    // Along x lies the longer side of a sheet, whichever was entered first.
    let sides = match piece.form {
        crate::StockForm::Sheet if width > piece.length.value() => [width, piece.length.value()],
        crate::StockForm::Sheet => [piece.length.value(), width],
        _ => [piece.length.value(), Length::ZERO],
    };
    Piece {
        sides,
        on_hand: piece.on_hand,
        price: piece.price,
        assumed: false,
    }
}

/// Whether a piece is of the material and section of a table. A piece of no stated material is steel or aluminium, whichever
/// is asked for: no liner is cut from it.
fn serves(piece: &StockPiece, table: &Table) -> bool {
    let same = |asked: Option<&Len>, is: Length| asked.is_none_or(|asked| asked.value() == is);
    let section = match table.section {
        Some(section) => same(piece.width.as_ref(), section),
        None => true,
    };
    piece.form.serves(table.form)
        && match piece.material {
            Some(own) => own.material() == table.sheet.material,
            None => !matches!(table.sheet.material, Material::Liner(_)),
        }
        && piece
            .thickness
            .as_ref()
            .is_none_or(|asked| asked.value(table.sheet.material) == Some(table.sheet.thickness))
        && section
}

fn wanted(line: &Line, how: How, units: Units) -> Wanted {
    let cut = |size: enclosure::cutlist::Rounded| match (how.cutting, units) {
        (Cutting::Free, _) => size.exact,
        (Cutting::Guillotine, Units::Inch) => size.inches,
        (Cutting::Guillotine, Units::Millimetre) => size.tenth_mm,
    };
    // Bars are sawn to the mark, whatever cuts the sheets, and are as wide as they are bought.
    let sides = if line.form() == Form::Sheet {
        [cut(line.length), cut(line.width)]
    } else {
        let length = match units {
            Units::Inch => line.length.inches,
            Units::Millimetre => line.length.tenth_mm,
        };
        [length, line.width.exact]
    };
    Wanted {
        mark: line.mark.clone(),
        name: line.name.clone(),
        box_name: line.box_name.clone(),
        sides,
        quantity: line.quantity,
        cut_out_mm2: if line.form() == Form::Sheet {
            (line.length.exact * line.width.exact).as_mm2() - line.contour_mm2()
        } else {
            0.0
        },
    }
}

/// What of it nobody entered, as far as sheets and bars need it.
pub(super) fn assumed_words(job: &Job, [sheets, bars]: [bool; 2]) -> Vec<String> {
    let mut fields = Vec::new();
    if sheets {
        fields.extend([Field::CuttingMethod, Field::Kerf, Field::EdgeTrim, Field::Turning]);
    }
    if bars {
        fields.extend([Field::SawKerf, Field::SawTrim]);
    }
    if sheets || bars {
        fields.push(Field::KeepOffcut);
    }
    field::show(job, &fields)
        .into_iter()
        .filter(|(_, shown)| shown.state == State::Assumed)
        .map(|(_, shown)| {
            let text = crate::assumed::told_text(&shown.text, job.units.units());
            format!("{} {text}", shown.label)
        })
        .collect()
}
