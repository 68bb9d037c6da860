//! How boxes go in, on the Boxes page: which faces are open, the truck and its jack, the bed and what turns with it.

use geometry::Face;
use job::{BedEdit, Edit, Field, Id, WayField};

use crate::form::Row;
use crate::model::Model;
use crate::pages;
use crate::theme::Meaning;

/// The truck, the jack, the bed.
const OF_WAY: [WayField; 9] = [
    WayField::Bed,
    WayField::Raised,
    WayField::Jack,
    WayField::Pitch,
    WayField::Hand,
    WayField::HingeX,
    WayField::HingeZ,
    WayField::Tilt,
    WayField::BedRoom,
];

/// Groups of the bed and of openings are told from boxes by numbers that no box has.
const FIRST_PART: u32 = 3_000_000;
const FIRST_CAVITY: u32 = 4_000_000;

fn part_id(index: usize) -> Id {
    Id(u32::try_from(index).unwrap_or(u32::MAX).saturating_add(FIRST_PART))
}

/// The place in the list of the part whose group this is; `None` for anything else.
pub fn index_of(id: Id) -> Option<usize> {
    let part = id.0.checked_sub(FIRST_PART).filter(|_| id.0 < FIRST_CAVITY);
    usize::try_from(part?).ok()
}

/// The rows: what holds for all boxes, then the faces of each cavity, then each part of the bed.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![Row::Heading("how boxes go in".to_owned())];
    rows.extend(OF_WAY.map(|field| Row::Field(Field::Way(field))));
    for cavity in &model.job().cavities {
        let id = Id(cavity.id.0.saturating_add(FIRST_CAVITY));
        let open = model.boxes.open == Some(id);
        let faces: Vec<&str> = cavity.openings.iter().map(|o| o.face.face().name()).collect();
        rows.push(Row::Group {
            id,
            title: format!("{}, open faces", cavity.name),
            detail: if faces.is_empty() {
                "~ bottom".to_owned()
            } else {
                faces.join(", ")
            },
            open,
        });
        if open {
            rows.extend(Face::ALL.map(|face| Row::Field(Field::Way(WayField::Opening(cavity.id, face)))));
        }
    }
    let style = model.evaluation.style();
    for (index, part) in model.job().way_in.bed_parts.iter().enumerate() {
        let id = part_id(index);
        let open = model.boxes.open == Some(id);
        rows.push(Row::Group {
            id,
            title: part.name.clone(),
            detail: format!(
                "turns with the bed; {} to {} behind the front axle",
                style.near(part.from.value()),
                style.near(part.to.value())
            ),
            open,
        });
        if open {
            let of_part: [fn(usize) -> WayField; 5] = [
                WayField::PartName,
                WayField::PartFrom,
                WayField::PartTo,
                WayField::PartLowest,
                WayField::PartHighest,
            ];
            rows.extend(of_part.map(|field| Row::Field(Field::Way(field(index)))));
        }
    }
    match &model.evaluation.bed_sweep {
        Some(swept) => {
            let meets = swept.as_ref().is_ok_and(job::way_in::BedSweep::meets);
            let meaning = if meets { Meaning::Stop } else { Meaning::Note };
            let words = job::way_in::bed_words(swept, style, None);
            let lines = crate::widgets::toast::wrap(&words, model.size.0.saturating_sub(8));
            rows.extend(lines.into_iter().map(|line| Row::Text(line, meaning)));
        }
        None => rows.push(Row::Text(
            "a bed that tilts: enter its hinge; g adds what turns with it".to_owned(),
            Meaning::Dim,
        )),
    }
    rows
}

/// Takes the part whose group this is out of the list; faces are closed one by one. `false` when it is no group of these.
pub fn remove(model: &mut Model, id: Id) -> bool {
    if let Some(index) = index_of(id) {
        // What is open is told by its place, which another part may have now.
        model.boxes.open = None;
        let _ = model.apply(Edit::Bed(BedEdit::Remove(index)));
        return true;
    }
    let is_faces = id.0 >= FIRST_CAVITY;
    if is_faces {
        model.tell("open it and write closed at a face");
    }
    is_faces
}

/// Adds a part, opened with the cursor on it.
pub fn add(model: &mut Model) {
    if model.apply(Edit::Bed(BedEdit::Add)).is_ok() {
        let last = model.job().way_in.bed_parts.len().saturating_sub(1);
        model.boxes.open = Some(part_id(last));
        let rows = pages::rows(model);
        let of_part = |row: &Row| *row == Row::Field(Field::Way(WayField::PartName(last)));
        model.boxes.cursor = rows.iter().position(of_part).unwrap_or(model.boxes.cursor);
    }
}
