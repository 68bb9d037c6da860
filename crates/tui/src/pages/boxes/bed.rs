//! How boxes go in, on the Boxes page: which faces are open, the truck and its jack, the bed and what turns with it.

use geometry::Face;
use job::{BedEdit, Edit, Field, WayField};

use crate::form::{Group, Row};
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

/// The rows: what holds for all boxes, then the faces of each cavity, then each part of the bed.
pub(super) fn rows(model: &Model) -> Vec<Row> {
    let mut rows = vec![Row::Heading("how boxes go in".to_owned())];
    rows.extend(OF_WAY.map(|field| Row::Field(Field::Way(field))));
    for cavity in &model.job().cavities {
        let of = Group::Faces(cavity.id);
        let open = model.boxes.open == Some(of);
        let faces: Vec<&str> = cavity.openings.iter().map(|o| o.face.face().name()).collect();
        rows.push(Row::Group {
            of,
            title: format!("{}, open faces", cavity.name),
            detail: if faces.is_empty() {
                "~ bottom".to_owned()
            } else {
                faces.join(", ")
            },
            open,
        });
        if open {
            for face in Face::ALL {
                rows.push(Row::Field(Field::Way(WayField::Opening(cavity.id, face))));
                let is_narrowed = |o: &job::Opening| o.face.face() == face && o.clear.is_some();
                if cavity.openings.iter().any(is_narrowed) {
                    rows.push(Row::Field(Field::Way(WayField::OpeningAt(cavity.id, face))));
                }
            }
        }
    }
    let looked_at = match crate::pages::ways::of_job(model) {
        Some(ways) if !ways.found.stopped => {
            let stays = ways.found.boxes.iter().any(|b| b.outcome.way().is_none()) || ways.found.stuck.is_some();
            let meaning = if stays { Meaning::Stop } else { Meaning::Note };
            (format!("ways in, looked at: {}", ways.found.summary()), meaning)
        }
        _ => (
            "ways in: not looked at yet: g on the Layout page".to_owned(),
            Meaning::Dim,
        ),
    };
    let lines = crate::widgets::toast::wrap(&looked_at.0, model.size.0.saturating_sub(8));
    rows.extend(lines.into_iter().map(|line| Row::Text(line, looked_at.1)));
    let style = model.evaluation.style();
    for (index, part) in model.job().way_in.bed_parts.iter().enumerate() {
        let of = Group::BedPart(index);
        let open = model.boxes.open == Some(of);
        rows.push(Row::Group {
            of,
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

/// Takes the part at a place out of the list.
pub fn remove(model: &mut Model, index: usize) {
    // What is open is told by its place, which another part may have now.
    model.boxes.open = None;
    let _ = model.apply(Edit::Bed(BedEdit::Remove(index)));
}

/// Adds a part, opened with the cursor on it.
pub fn add(model: &mut Model) {
    if model.apply(Edit::Bed(BedEdit::Add)).is_ok() {
        let last = model.job().way_in.bed_parts.len().saturating_sub(1);
        model.boxes.open = Some(Group::BedPart(last));
        let rows = pages::rows(model);
        let of_part = |row: &Row| *row == Row::Field(Field::Way(WayField::PartName(last)));
        if let Some(at) = rows.iter().position(of_part) {
            model.boxes.cursor = at;
            model.boxes.type_in("");
        }
    }
}
