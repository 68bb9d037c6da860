//! Axle loads, limits and ground clearance, as text.

use job::{AxleRow, Evaluation, Grave, Subject};

use crate::report::sheet::Sheet;

/// What the truck weighs and may weigh, and what is under it.
pub(super) fn write(sheet: &mut Sheet, evaluation: &Evaluation) {
    sheet.heading("what the truck weighs");
    let vehicle = &evaluation.vehicle;
    if !vehicle.entered {
        sheet.item(
            0,
            "",
            "Nothing of a truck is entered. On the Truck page: the wheelbase, what each axle carried before the work, the \
             ratings on the plate.",
        );
        if let Some(words) = evaluation.bed_words() {
            sheet.fact("bed, tilted", &words.join("; "));
        }
        return;
    }
    if !vehicle.needed.is_empty() {
        sheet.item(0, "? ", &format!("axle loads need {}", vehicle.needed.join(" and ")));
    }
    if let Some(axles) = &vehicle.axles {
        sheet.line(&format!("{:<34}{:>12}{:>12}{:>12}", "kg", "front", "rear", "together"));
        for row in axles.rows() {
            sheet.line(&load_line(&row));
        }
        sheet.fact("before", &axles.before_words());
        if let Some(words) = axles.reweighed_words() {
            sheet.fact("weighed after", &words);
        }
    }
    for fact in evaluation.truck_facts() {
        let mark = match fact.grave {
            Some(Grave::Stop) => "!! ",
            Some(_) => "! ",
            None => "",
        };
        sheet.fact(fact.name, &format!("{mark}{}", fact.text));
    }
    ground(sheet, evaluation);
    let counted = evaluation.counted_words();
    if !counted.is_empty() {
        sheet.heading("out and in");
        for line in counted {
            sheet.item(0, "", &line);
        }
    }
    for missing in &vehicle.uncounted {
        sheet.item(0, "? ", &format!("{}; {}", missing.words(), missing.fix));
    }
    if let Some(axles) = &vehicle.axles {
        let least = axles.least_margins();
        if !least.is_empty() {
            sheet.heading("limits, the least that is left of each");
        }
        for (margin, stated) in least {
            let mark = if margin.is_borne() { "ok " } else { "!! " };
            let words = axles.margin_words(margin, stated.assumed);
            sheet.item(0, mark, &format!("{words}, {}", stated.aboard.words()));
        }
        if let Some(share) = axles.wanted_rear {
            sheet.heading(&format!(
                "for {:.0} % on the rear axle, one box alone moves",
                share * 100.0
            ));
            for line in evaluation.move_words() {
                sheet.item(0, "", &line);
            }
        }
    }
    findings(sheet, evaluation);
}

/// Clearance and angles with each much aboard.
fn ground(sheet: &mut Sheet, evaluation: &Evaluation) {
    let rows = evaluation.ground_rows();
    if rows.is_empty() {
        return;
    }
    sheet.heading("under the truck, sunk");
    let line = |name: &str, lowest: &str, [approach, breakover, departure]: [&str; 3]| {
        let name: String = name.chars().take(33).collect();
        format!("{name:<34}{lowest:>10}{approach:>10}{breakover:>11}{departure:>11}")
    };
    sheet.line(&line("", "lowest", ["approach", "breakover", "departure"]));
    for row in rows {
        sheet.line(&line(
            &row.aboard,
            &row.lowest,
            row.angles.each_ref().map(String::as_str),
        ));
    }
}

fn load_line(row: &AxleRow) -> String {
    let figure = |kg: f64| format!("{}{:.0}", if row.assumed { "~" } else { "" }, kg.round() + 0.0);
    let name: String = row.name.chars().take(33).collect();
    format!(
        "{name:<34}{:>12}{:>12}{:>12}",
        figure(row.loads.front_kg),
        figure(row.loads.rear_kg),
        figure(row.loads.total_kg())
    )
}

fn findings(sheet: &mut Sheet, evaluation: &Evaluation) {
    let mut of_truck = evaluation
        .findings
        .iter()
        .filter(|finding| finding.subject == Subject::Truck)
        .peekable();
    if of_truck.peek().is_some() {
        sheet.heading("to see to");
    }
    for finding in of_truck {
        let fix = if finding.fix.is_empty() {
            String::new()
        } else {
            format!("; {}", finding.fix)
        };
        sheet.item(
            0,
            &format!("{}: ", finding.grave.name()),
            &format!("{}{fix}", finding.words),
        );
    }
}
