//! Entries that the formulas refuse, in the job's own units.

use tape::show::Style;
use truck::mass::TOTAL;
use truck::{Quantity, Towards, TruckError, short};

use super::scale::{self, When};
use super::{Counted, length, mass_words};
use crate::Job;

/// A refusal with its figures as the person works.
pub(super) fn words(error: &TruckError, style: Style) -> String {
    error.words(&|figure, quantity, towards| match quantity {
        Quantity::Plain => short(figure, towards),
        Quantity::Mass => mass(figure, towards),
        Quantity::Length => match towards {
            Towards::Nearest => style.near(length(figure)),
            Towards::Up => style.up(length(figure)),
            Towards::Down => style.down(length(figure)),
        },
        Quantity::Stiffness => format!("{} N/mm", short(figure / 1_000.0, towards)),
    })
}

/// Kilograms and pounds; of what is allowed both within it.
fn mass(kg: f64, towards: Towards) -> String {
    let lb = kg / truck::units::KG_PER_LB;
    format!("{:.0} kg ({:.0} lb)", towards.round(kg, 1.0), towards.round(lb, 1.0))
}

/// The most of what comes out that is told by name.
const MOST_TOLD: usize = 3;

/// The same of the axle loads: where nothing is left of the truck, the entries that take it away.
pub(super) fn of_axles(job: &Job, counted: &[Counted], error: &TruckError, style: Style) -> String {
    let is_total = matches!(error, TruckError::NotAbove { field, .. } if field == TOTAL);
    let before = scale::read(&job.vehicle.masses, When::Before).map(|read| read.loads().total_kg());
    let Some(before_kg) = before.filter(|_| is_total) else {
        return words(error, style);
    };
    let mut out: Vec<(&str, f64)> = counted
        .iter()
        .map(|one| (one.name.as_str(), one.item().mass_kg))
        .filter(|(_, kg)| *kg < 0.0)
        .collect();
    out.sort_by(|a, b| a.1.total_cmp(&b.1));
    let all_kg: f64 = out.iter().map(|(_, kg)| -kg).sum();
    if out.is_empty() {
        return words(error, style);
    }
    let mut told: Vec<String> = out
        .iter()
        .take(MOST_TOLD)
        .map(|(name, kg)| format!("{name} {}", mass_words(-kg)))
        .collect();
    if out.len() > MOST_TOLD {
        told.push("and less than these".to_owned());
    }
    format!(
        "{TOTAL}: nothing is left of the truck: it weighs {} before, and {} comes out: {}; mend the mass that is too much",
        mass_words(before_kg),
        mass_words(all_kg),
        told.join(", ")
    )
}
