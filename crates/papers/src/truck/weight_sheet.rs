//! The weight sheet for the inspector: before, out, in, after, ratings, margins, readings, sources.

use job::{AxleRow, Axles, Evaluation, Subject, WayName, left_words, mass_words};

use truck::mass::Axle;
use truck::mass::wheel::Wheel;

use crate::html::page::{Cell, Page};
use crate::words;

/// What to heed before anything is made of these figures.
pub(super) const CAUTIONS: [&str; 6] = [
    "Worked out from what was entered. Weigh the finished truck, each axle by itself and if you can each wheel, before it \
     goes on the road.",
    "Ratings stay as the maker set them: nothing here is a new rating. Local vehicle rules and licensed practice decide.",
    "Added mass changes braking, steering and tyre pressure. Brakes must stay within what they were rated for; an engine \
     that is out takes its vacuum with it.",
    "The weakest of plate, tyres and rims governs. An axle within its rating can still be over on one wheel.",
    "What nobody entered does not count here: look through the truck for what else went in or out.",
    "Figures marked ~ rest on values that nobody entered.",
];

/// The sheet. `date` is printed as given.
pub fn weight_sheet_html(evaluation: &Evaluation, date: &str) -> String {
    let mut page = Page::with_cautions("Weight sheet", evaluation, date, &CAUTIONS);
    let vehicle = &evaluation.vehicle;
    let Some(axles) = &vehicle.axles else {
        let needed = if vehicle.needed.is_empty() {
            vehicle.faults.join("; ")
        } else {
            format!("still needed: {}", vehicle.needed.join(" and "))
        };
        page.paragraph(&format!("Axle loads cannot be told yet: {needed}."));
        return page.finish();
    };
    page.list(
        evaluation
            .truck_facts()
            .into_iter()
            .map(|fact| format!("{}: {}", fact.name, fact.text)),
    );
    loads(&mut page, evaluation, axles);
    components(&mut page, evaluation);
    carried(&mut page, evaluation);
    limits(&mut page, axles);
    ground(&mut page, evaluation);
    readings(&mut page, evaluation, axles);
    notes(&mut page, evaluation);
    page.finish()
}

fn loads(page: &mut Page, evaluation: &Evaluation, axles: &Axles) {
    page.heading("Axle loads");
    let rests_on = if axles.is_weighed {
        "Loads after are those of the scale, nobody aboard; what was worked out stands beside them"
    } else {
        "Loads after are worked out"
    };
    let kg = |kg: f64| job::kg_words(kg, 0, evaluation.units);
    page.paragraph(&format!(
        "{rests_on}. Wheelbase {}. Loads before: {}. Loads after may be off by {} in front, {} behind, {} together: \
         readings and masses, root of the sum of squares. Shares by moments about the front axle, not held within 0 and 1.",
        evaluation.near(tape::Length::from_mm(axles.wheelbase_m * 1_000.0)),
        axles.before_words(),
        kg(axles.after_off.front_kg.ceil()),
        kg(axles.after_off.rear_kg.ceil()),
        kg(axles.after_off.total_kg.ceil())
    ));
    let head = ["", "front, kg (lb)", "rear, kg (lb)", "together, kg (lb)"];
    page.table(&head, axles.rows().iter().map(load_row));
    page.heading("Wheels after");
    let scales = if axles.wheels_weighed() {
        ""
    } else {
        "; only scales tell it"
    };
    page.paragraph(&format!(
        "{}{scales}. Who and what is aboard is taken in the middle of the truck.",
        axles.wheels_by
    ));
    let head = ["aboard", "front left", "front right", "rear left", "rear right"];
    let rows = axles.stated.iter().map(|stated| {
        let tilde = words::mark(axles.wheels_assumed || stated.assumed);
        let of = Wheel::ALL.map(|wheel| Cell::figure(format!("{tilde}{}", mass_words(stated.wheels.on(wheel)))));
        std::iter::once(Cell::text(stated.aboard.words())).chain(of).collect()
    });
    page.table(&head, rows);
}

/// What is aboard in each set of loads.
fn carried(page: &mut Page, evaluation: &Evaluation) {
    let carried = &evaluation.vehicle.carried;
    if carried.is_empty() {
        return;
    }
    page.heading("Loads and the sets they are aboard in");
    let rows = carried.iter().map(|load| {
        vec![
            Cell::text(&load.name),
            Cell::text(load.sets.join(", ")),
            Cell::figure(mass_words(load.mass_kg)),
            Cell::figure(evaluation.near(tape::Length::from_mm(load.x_m * 1_000.0))),
        ]
    });
    page.table(&["what", "in the sets", "mass", "rearward"], rows);
}

/// Clearance and angles with each much aboard, the springs having given.
fn ground(page: &mut Page, evaluation: &Evaluation) {
    let rows = evaluation.ground_rows();
    if rows.is_empty() {
        return;
    }
    page.heading("Under the truck, sunk");
    let rows = rows.into_iter().map(|row| {
        let figures = std::iter::once(row.lowest).chain(row.angles).map(Cell::figure);
        std::iter::once(Cell::text(row.aboard)).chain(figures).collect()
    });
    let head = [
        "aboard",
        "lowest",
        "approach, degrees",
        "breakover, degrees",
        "departure, degrees",
    ];
    page.table(&head, rows);
}

fn load_row(row: &AxleRow) -> Vec<Cell> {
    let figure = |kg: f64| Cell::figure(format!("{}{}", words::mark(row.assumed), mass_words(kg)));
    vec![
        Cell::text(row.name.clone()),
        figure(row.loads.front_kg),
        figure(row.loads.rear_kg),
        figure(row.loads.total_kg()),
    ]
}

fn components(page: &mut Page, evaluation: &Evaluation) {
    let vehicle = &evaluation.vehicle;
    page.heading("Out and in");
    page.paragraph(
        "Places are of the middle of each mass: behind the front axle, right of the middle of the truck (left below zero), \
         above the ground. A box without its modules is taken at the middle of its body.",
    );
    let near = |m: f64| evaluation.near(tape::Length::from_mm(m * 1_000.0));
    let rows = vehicle.counted.iter().map(|one| {
        vec![
            Cell::text(match one.way {
                WayName::Out => "out",
                WayName::In => "in",
            }),
            Cell::text(one.name.clone()),
            Cell::figure(mass_words(one.mass_kg)),
            Cell::figure(near(one.at.x_m)),
            Cell::figure(near(one.at.y_m)),
            Cell::figure(near(one.at.z_m)),
        ]
    });
    page.table(&["", "what", "mass", "rearward", "right", "up"], rows);
    let missing: Vec<String> = vehicle
        .uncounted
        .iter()
        .map(|one| format!("NOT COUNTED: {}", one.words()))
        .collect();
    if !missing.is_empty() {
        page.list(missing);
    }
}

fn limits(page: &mut Page, axles: &Axles) {
    page.heading("Against what it may weigh");
    let rows = axles.stated.iter().flat_map(|stated| {
        let assumed = stated.assumed;
        stated.margins.iter().map(move |margin| {
            let verdict = if margin.within() { "within" } else { "OVER" };
            vec![
                Cell::text(stated.aboard.words()),
                Cell::text(margin.limit.words()),
                Cell::figure(mass_words(margin.limit_kg)),
                Cell::figure(format!("{}{}", words::mark(assumed), mass_words(margin.load_kg))),
                Cell::figure(if margin.within() {
                    left_words(margin.left_kg())
                } else {
                    format!("over by {}", mass_words(-margin.left_kg()))
                }),
                Cell::figure(format!("{:.0} %", Axles::left_percent(margin))),
                Cell::text(verdict),
                Cell::text(axles.source_words(margin.limit)),
            ]
        })
    });
    let head = [
        "aboard",
        "limit",
        "allowed",
        "there is",
        "left",
        "of it",
        "",
        "where the limit comes from",
    ];
    page.table(&head, rows);
    if axles.stated.iter().all(|stated| stated.margins.is_empty()) {
        page.paragraph("No rating is entered: read the plate in the door and the side walls of the tyres.");
    }
}

/// What the scale showed, and blanks for what it shows at the end.
fn readings(page: &mut Page, evaluation: &Evaluation, axles: &Axles) {
    page.heading("On the scale when the work is done");
    if let Some(words) = axles.reweighed_words() {
        page.paragraph(&format!("Weighed again: {words}."));
    }
    let read = axles.reweighed.map(|again| again.read);
    let cell = |kg: Option<f64>| kg.map_or(Cell::Blank, |kg| Cell::figure(mass_words(kg)));
    let wheels = axles.wheels_worked_out;
    let row = |name: &str, worked_out: f64, read: Option<f64>| {
        let is_of_wheel = name.ends_with("wheel");
        let assumed = axles.worked_out_assumed || (is_of_wheel && axles.wheels_assumed);
        vec![
            Cell::text(name),
            Cell::figure(format!("{}{}", words::mark(assumed), mass_words(worked_out))),
            cell(read),
            Cell::Tick,
        ]
    };
    let rows = [
        row("front axle", axles.worked_out.front_kg, read.map(|r| r.front_kg)),
        row("rear axle", axles.worked_out.rear_kg, read.map(|r| r.rear_kg)),
        row(
            "together",
            axles.worked_out.total_kg(),
            read.map(|r| r.front_kg + r.rear_kg),
        ),
    ];
    let of_wheel = |wheel: Wheel| {
        let of_axles = axles.reweighed.map(|again| again.wheels_kg);
        let of_axle = of_axles.and_then(|[front, rear]| match wheel.axle() {
            Axle::Front => front,
            Axle::Rear => rear,
        });
        let [left, _] = Wheel::of(wheel.axle());
        row(
            wheel.name(),
            wheels.on(wheel),
            of_axle.map(|both| both[usize::from(wheel != left)]),
        )
    };
    let rows = rows.into_iter().chain(Wheel::ALL.map(of_wheel));
    page.table(&["nobody aboard", "worked out", "scale", "looked at"], rows);
    if let Some(share) = axles.wanted_rear {
        page.paragraph(&format!(
            "For {:.0} % on the rear axle one box alone would move:",
            share * 100.0
        ));
        page.list(evaluation.move_words());
    }
}

fn notes(page: &mut Page, evaluation: &Evaluation) {
    let of_truck = evaluation.findings.iter().filter(|f| f.subject == Subject::Truck);
    let lines: Vec<String> = of_truck
        .map(|f| {
            let source = if f.source.is_empty() {
                String::new()
            } else {
                format!(" (limit from: {})", f.source)
            };
            format!("{}: {}; to do: {}{source}", f.grave.name(), f.words, f.fix)
        })
        .collect();
    if !lines.is_empty() {
        page.heading("To see to");
        page.list(lines);
    }
    page.paragraph("Signed by who weighed it, and the scale's ticket number: ______________________________");
}
