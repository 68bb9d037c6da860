//! What must hold in every job, however it came about: read from a file or changed by an edit.

use std::collections::BTreeSet;

use geometry::Axis;

use crate::document::MOST_ID;
use crate::evaluate::bolt;
use crate::{Figure, Id, Job, StockForm};

/// A job that makes no sense: where, what, and how to mend it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{place}: {problem}")]
pub struct Fault {
    /// The place in the file, as `boxes[0].modules[2].kind`.
    pub place: String,
    /// What is wrong.
    pub problem: String,
    /// How to mend it.
    pub mend: &'static str,
}

/// The most modules in a job.
const MOST_MODULES: u64 = 4_096;
/// The most modules in one stack, as many as can be entered.
const MOST_IN_STACK: u32 = 2_048;
/// The most modules in a list of modules or units.
const MOST_WIRED: usize = 4_096;
/// The most entries in any list.
const MOST_ENTRIES: usize = 1_000;
/// The farthest that anything may be from a corner.
const FAR: tape::Length = tape::Length::mm(100_000);

/// Checks what serde cannot: numbers in use once, references that lead somewhere, sizes in range.
pub(crate) fn check(job: &Job) -> Result<(), Fault> {
    let fault = |place: String, problem: String, mend: &'static str| Err(Fault { place, problem, mend });
    let mut seen = BTreeSet::new();
    for id in job.ids() {
        if id.0 == 0 || id.0 > MOST_ID {
            return fault(
                format!("id {}", id.0),
                format!("numbers run from 1 to {MOST_ID}"),
                "choose another number",
            );
        }
        if !seen.insert(id) {
            return fault(
                format!("id {}", id.0),
                "it is used twice".to_owned(),
                "give each entry its own number",
            );
        }
    }
    lists(job)?;
    issued(job)?;
    for (i, cavity) in job.cavities.iter().enumerate() {
        if let Some(j) = cavity.openings.iter().position(|o| o.at.is_some() && o.clear.is_none()) {
            let problem = "a place is told of an opening that is as large as its face".to_owned();
            let mend = "write its clear size, or take the place out";
            return fault(format!("cavities[{i}].openings[{j}].at"), problem, mend);
        }
        for (j, reading) in cavity.readings.iter().enumerate() {
            let value = reading.read.value();
            if value <= tape::Length::ZERO || value > FAR {
                let problem = format!("{} is no distance between two walls", reading.read);
                return fault(
                    format!("cavities[{i}].readings[{j}].read"),
                    problem,
                    "write a length above zero and at most 100 m",
                );
            }
        }
    }
    for (i, kind) in job.kinds.iter().enumerate() {
        let place = |field: &str| format!("kinds[{i}].{field}");
        for (axis, size) in Axis::ALL.iter().zip(&kind.size) {
            if size
                .as_ref()
                .is_some_and(|s| s.value() <= tape::Length::ZERO || s.value() > FAR)
            {
                return fault(
                    place(&format!("size[{}]", axis.index())),
                    "a module's size must be above zero".to_owned(),
                    "write a length above zero",
                );
            }
        }
        kind_numbers(i, kind)?;
    }
    for (i, piece) in job.stock.pieces.iter().enumerate() {
        let (problem, mend) = match (piece.form, &piece.width) {
            (StockForm::Sheet, None) => ("a sheet has two sides", "write its width too"),
            (StockForm::Bar, Some(_)) => (
                "a bar of any section has no width",
                "take the width out, or say flat bar or angle",
            ),
            (StockForm::Rod, Some(_)) => (
                "a rod has no width beside its thread",
                "take the width out, and write the thread as its thickness",
            ),
            _ => continue,
        };
        return fault(format!("stock.pieces[{i}].width"), problem.to_owned(), mend);
    }
    gauges(job)?;
    for (i, unit) in job.tested.iter().enumerate() {
        if job.kind(unit.kind).is_none() {
            return Err(missing(format!("tested[{i}].kind"), "kind", unit.kind));
        }
    }
    boxes(job)
}

/// Every gauge is on the scale of the material that it is of.
fn gauges(job: &Job) -> Result<(), Fault> {
    let fault = |(place, _): (String, _), problem: String| {
        Err(Fault {
            place,
            problem,
            mend: "write the thickness itself, as 1.9 mm, then choose the material",
        })
    };
    for sheet in job.gauges() {
        let (gauge, material) = sheet.1;
        match material.map(|material| gauge.in_material(material)) {
            Some(Ok(_)) => {}
            Some(Err(error)) => return fault(sheet, error.to_string()),
            None => return fault(sheet, gauge.asks()),
        }
    }
    Ok(())
}

/// Checks what an edit changes: a file that has it otherwise is read, and what is wrong with it is told.
pub(crate) fn check_edit(before: &Job, after: &Job) -> Result<(), Fault> {
    check(after)?;
    let pair = |job: &Job| {
        let figures = &job.electrics.figures;
        let class = figures.get(Figure::MountGrade);
        (
            figures.get(Figure::MountBolt),
            class,
            figures.is_given(Figure::MountGrade),
        )
    };
    match unmade_grade(after) {
        Some(fault) if pair(before) != pair(after) => Err(fault),
        _ => Ok(()),
    }
}

/// Why mount bolts are not made in the class or grade that is entered: an inch thread is in none of the metric classes.
pub(crate) fn unmade_grade(job: &Job) -> Option<Fault> {
    let figures = &job.electrics.figures;
    if !figures.is_given(Figure::MountGrade) {
        return None;
    }
    let (thread, class) = (figures.sure(Figure::MountBolt), figures.sure(Figure::MountGrade));
    if bolt::is_made(thread, class) {
        return None;
    }
    Some(Fault {
        place: format!(
            "{} (electrics.{})",
            Figure::MountGrade.label(),
            Figure::MountGrade.row().key
        ),
        problem: format!(
            "no {} bolt is made in {}",
            bolt::thread_text(thread),
            bolt::grade_text(class)
        ),
        mend: "metric threads may be 8.8, 10.9 or 12.9, inch threads grade 5 or grade 8; empty the class before you change \
               the thread from one to the other",
    })
}

/// What the shop was given is shown as it stands: on one line, and no more of it than a job can have.
fn issued(job: &Job) -> Result<(), Fault> {
    for (i, issued) in job.issued.iter().enumerate() {
        let parts = issued.boxes.iter().flat_map(|b| &b.parts);
        let of_parts = parts.clone().flat_map(|part| {
            [
                &part.mark,
                &part.name,
                &part.stock,
                &part.inches,
                &part.mm,
                &part.ends,
                &part.bends,
                &part.holes,
                &part.edge,
            ]
        });
        let of_boxes = issued.boxes.iter().flat_map(|b| [&b.name, &b.welds]);
        let seams = issued.boxes.iter().flat_map(|b| b.seams.iter().flatten());
        let places = issued.boxes.iter().flat_map(|b| b.added.iter().flatten());
        let of_seams = seams.clone().flat_map(|seam| [&seam.seam, &seam.weld]);
        let of_places = places.clone().flat_map(|place| [&place.what, &place.at]);
        let of_stock = issued.stock.iter().flat_map(|s| [&s.what, &s.takes]);
        let mut texts = [&issued.revision, &issued.date]
            .into_iter()
            .chain(of_boxes)
            .chain(of_seams)
            .chain(of_places)
            .chain(of_parts)
            .chain(of_stock);
        let fault = |problem: String| {
            Err(Fault {
                place: format!("issued[{i}]"),
                problem,
                mend: "take that revision out, or take the backup (.bak)",
            })
        };
        if texts.any(|text| text.chars().any(char::is_control)) {
            return fault("it holds a character that is no letter of a text".to_owned());
        }
        let counts = [parts.count(), seams.count(), places.count()];
        let entries = issued
            .boxes
            .len()
            .max(issued.stock.len())
            .max(counts.into_iter().max().unwrap_or(0));
        if entries > MOST_ENTRIES {
            return fault(format!("{entries} entries are too many; at most {MOST_ENTRIES}"));
        }
        if let Some(side) = issued.boxes.iter().flat_map(|b| &b.outside).find(|side| {
            let side = side.value();
            side <= tape::Length::ZERO || side > FAR
        }) {
            return fault(format!("{side} is no side of a box"));
        }
    }
    Ok(())
}

fn lists(job: &Job) -> Result<(), Fault> {
    let lists = [
        ("cavities", job.cavities.len()),
        ("kinds", job.kinds.len()),
        ("boxes", job.boxes.len()),
        ("stock.pieces", job.stock.pieces.len()),
        ("way_in.bed_parts", job.way_in.bed_parts.len()),
        ("vehicle.components", job.vehicle.components.len()),
        ("vehicle.carried", job.vehicle.carried.len()),
        ("vehicle.ground.points", job.vehicle.ground.points.len()),
        ("issued", job.issued.len()),
        (
            "fittings",
            job.boxes.iter().map(|b| b.fittings.len()).max().unwrap_or(0),
        ),
        (
            "readings",
            job.cavities.iter().map(|c| c.readings.len()).max().unwrap_or(0),
        ),
        (
            "statements",
            job.cavities.iter().map(|c| c.statements.len()).max().unwrap_or(0),
        ),
        (
            "keep_outs",
            job.cavities.iter().map(|c| c.keep_outs.len()).max().unwrap_or(0),
        ),
    ];
    let wired = [
        ("wiring.order", job.wiring.order.len()),
        ("wiring.turned", job.wiring.turned.len()),
        ("wiring.locks", job.wiring.locks.len()),
        ("tested", job.tested.len()),
    ];
    if let Some((name, len)) = wired.into_iter().find(|&(_, len)| len > MOST_WIRED) {
        return Err(Fault {
            place: name.to_owned(),
            problem: format!("{len} entries are too many; at most {MOST_WIRED}"),
            mend: "leave out what is not in the truck",
        });
    }
    match lists.into_iter().find(|&(_, len)| len > MOST_ENTRIES) {
        Some((name, len)) => Err(Fault {
            place: name.to_owned(),
            problem: format!("{len} entries are too many; at most {MOST_ENTRIES}"),
            mend: "split the job",
        }),
        None => Ok(()),
    }
}

fn kind_numbers(i: usize, kind: &crate::Kind) -> Result<(), Fault> {
    let fault = |field: &str, problem: &str, mend: &'static str| {
        Err(Fault {
            place: format!("kinds[{i}].{field}"),
            problem: problem.to_owned(),
            mend,
        })
    };
    let counts = [
        ("on_hand", kind.on_hand, 2_048),
        ("cells_series", kind.cells_series, 1_000),
        ("cells_parallel", kind.cells_parallel, 10_000),
    ];
    if let Some((name, ..)) = counts
        .iter()
        .find(|(_, n, most)| n.is_some_and(|n| n == 0 || n > *most))
    {
        return fault(
            name,
            "the number is out of range",
            "write a whole number from 1 up, at most 2048 units",
        );
    }
    let above_zero = [
        ("mass_kg", kind.mass_kg.map(|g| g.0)),
        ("nominal_volts", kind.nominal_volts.map(pack::Volts::milli)),
        ("empty_volts", kind.empty_volts.map(pack::Volts::milli)),
        ("full_volts", kind.full_volts.map(pack::Volts::milli)),
        ("amp_hours", kind.amp_hours.map(pack::AmpHours::milli)),
        ("continuous_amps", kind.continuous_amps.map(pack::Amps::milli)),
        ("peak_amps", kind.peak_amps.map(pack::Amps::milli)),
        ("resistance_mohm", kind.resistance_mohm.map(|r| r.0)),
    ];
    if let Some((name, _)) = above_zero.iter().find(|(_, n)| n.is_some_and(|n| n <= 0)) {
        return fault(name, "it must be above zero", "write a number above zero");
    }
    if let Some(stack) = &kind.stack {
        if stack.fewest == 0 || stack.fewest > stack.most || stack.most > 2_048 {
            return fault(
                "stack",
                "the fewest in a stack must be from 1 up to the most",
                "change fewest or most",
            );
        }
        if [&stack.end_plate, &stack.rod_end, &stack.growth]
            .iter()
            .any(|l| l.value().is_negative())
        {
            return fault(
                "stack",
                "end plate, rod end and growth may not be negative",
                "write zero or more",
            );
        }
    }
    Ok(())
}

fn boxes(job: &Job) -> Result<(), Fault> {
    let mut modules = 0_u64;
    for (i, battery_box) in job.boxes.iter().enumerate() {
        let here = |field: &str| format!("boxes[{i}].{field}");
        if job.cavity(battery_box.cavity).is_none() {
            return Err(missing(here("cavity"), "cavity", battery_box.cavity));
        }
        if battery_box
            .fixed
            .iter()
            .flatten()
            .any(|l| l.value() <= tape::Length::ZERO)
        {
            let problem = "a fixed inside size must be above zero".to_owned();
            return Err(Fault {
                place: here("fixed"),
                problem,
                mend: "write a length above zero",
            });
        }
        step(&here("step"), battery_box)?;
        near(here("at"), &battery_box.at)?;
        for (j, fitting) in battery_box.fittings.iter().enumerate() {
            for (name, at) in [("along", &fitting.along), ("up", &fitting.up)] {
                if at.value().abs() > FAR {
                    return Err(Fault {
                        place: format!("boxes[{i}].fittings[{j}].{name}"),
                        problem: format!("{at} is too far"),
                        mend: "write a length of at most 100 m",
                    });
                }
            }
        }
        for (j, placed) in battery_box.modules.iter().enumerate() {
            let here = |field: &str| format!("boxes[{i}].modules[{j}].{field}");
            if job.kind(placed.kind).is_none() {
                return Err(missing(here("kind"), "kind", placed.kind));
            }
            if placed.stands.orientation().is_none() {
                let problem = "the faces named by up and rear lie across from each other or are the same".to_owned();
                return Err(Fault {
                    place: here("stands"),
                    problem,
                    mend: "name two faces that meet at an edge",
                });
            }
            if placed.count == 0 || placed.count > MOST_IN_STACK {
                let problem = format!("a stack holds from 1 to {MOST_IN_STACK} modules");
                return Err(Fault {
                    place: here("count"),
                    problem,
                    mend: "write 1 or more, at most 2048",
                });
            }
            near(here("at"), &placed.at)?;
            modules += u64::from(placed.count);
        }
    }
    if modules > MOST_MODULES {
        let problem = format!("{modules} modules are too many; at most {MOST_MODULES}");
        return Err(Fault {
            place: "boxes".to_owned(),
            problem,
            mend: "split the job",
        });
    }
    Ok(())
}

/// Whether a step is at an upright wall, of a size that a box can have.
fn step(place: &str, battery_box: &crate::BatteryBox) -> Result<(), Fault> {
    let Some(step) = &battery_box.step else { return Ok(()) };
    if !crate::document::BoxStep::WALLS.contains(&step.at) {
        return Err(Fault {
            place: format!("{place}.at"),
            problem: format!("a step is at an upright wall, not at the {}", step.at.face().name()),
            mend: "write front, rear, left or right",
        });
    }
    for (name, size) in [("run", &step.run), ("rise", &step.rise)] {
        if size.value() <= tape::Length::ZERO || size.value() > FAR {
            return Err(Fault {
                place: format!("{place}.{name}"),
                problem: format!("{size} is no size of a step"),
                mend: "write a length above zero, at most 100 m",
            });
        }
    }
    Ok(())
}

/// Whether a place is no farther off than a length can be written and read back.
fn near(place: String, at: &[crate::Len; 3]) -> Result<(), Fault> {
    match at.iter().find(|l| l.value() > FAR || l.value() < -FAR) {
        Some(far) => Err(Fault {
            place,
            problem: format!("{far} is more than 100 m away"),
            mend: "keep it within 100 m of the corner",
        }),
        None => Ok(()),
    }
}

fn missing(place: String, what: &str, id: Id) -> Fault {
    Fault {
        place,
        problem: format!("there is no {what} {}", id.0),
        mend: "name one that is in the job",
    }
}
