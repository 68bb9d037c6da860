//! What sheets and bars are on sale, told where a person chooses one.

use enclosure::gauge::Scale;
use enclosure::material::Material;
use enclosure::section::{self, FlatBar};
use enclosure::{Sheet, stock};
use tape::{Length, Units};

use crate::{Field, Job, PartSize, StockForm, assumed};

/// The common sizes of what a field asks for, in one sentence; `None` where nothing is on a list. They are from memory of
/// the trade, so the supplier decides.
pub fn on_sale(job: &Job, field: Field) -> Option<String> {
    let units = job.units.units();
    let design = &job.design;
    let list = match field {
        Field::Wall | Field::Floor | Field::Lid => sheets(assumed::material(design)),
        Field::StockThickness(index) => {
            let piece = job.stock.pieces.get(index)?;
            let material = piece.material.filter(|_| piece.form == StockForm::Sheet)?;
            sheets(material.material())
        }
        Field::FlangeOut | Field::FlangeThickness => flat_bars(assumed::material(design), units),
        Field::FrameLeg
        | Field::FrameThickness
        | Field::BoxBracketLeg(_)
        | Field::PartSize(PartSize::BracketLeg | PartSize::BracketThickness | PartSize::StiffenerLeg) => {
            angles(assumed::material(design), units)
        }
        Field::StockLength(index) | Field::StockWidth(index) => match job.stock.pieces.get(index)?.form {
            StockForm::Sheet => names(stock::sheets().iter().map(|sheet| sheet.name)),
            StockForm::Bar | StockForm::FlatBar | StockForm::Angle => names(stock::bars().iter().map(|bar| bar.name)),
            StockForm::Rod => names(stock::rods().iter().map(|rod| rod.name)),
        },
        _ => return None,
    };
    Some(format!("on sale: {list}"))
}

fn names<'a>(all: impl Iterator<Item = &'a str>) -> String {
    all.collect::<Vec<_>>().join(", ")
}

/// `0.8, 1, 1.2 ... mm, or 7 to 24 ga of sheet steel`.
fn sheets(material: Material) -> String {
    let millimetres: Vec<String> = stock::thicknesses().iter().map(|t| t.as_mm().to_string()).collect();
    let Some(scale) = material.scale() else {
        return format!("{} mm", millimetres.join(", "));
    };
    let gauges = || Scale::rows(scale).iter().map(|row| row.gauge);
    let range = gauges().min().zip(gauges().max());
    let gauges = range.map_or(String::new(), |(least, most)| {
        format!(", or {least} to {most} ga of {}", scale.name())
    });
    format!("{} mm{gauges}", millimetres.join(", "))
}

/// Those of a list that are in the person's units, else all.
fn in_units<T>(all: &'static [T], units: Units, size: impl Fn(&T) -> Length) -> impl Iterator<Item = &'static T> {
    let is_inch = move |one: &&T| size(one).nm() % Length::sixty_fourths(1).nm() == 0;
    all.iter().filter(move |one| is_inch(one) == (units == Units::Inch))
}

/// `25 x 3 mm 0.59 kg/m, ...`; of steel in inches `1" x 1/8" 0.43 lb/ft`.
fn flat_bars(material: Material, units: Units) -> String {
    let bar = |bar: &FlatBar| {
        let mass = if units == Units::Inch && material.density_kg_m3() > 7_800.0 && material != Material::Stainless304 {
            format!("{:.2} lb/ft", section::flat_lb_per_ft(bar.width, bar.thickness))
        } else {
            let sheet = Sheet {
                material,
                thickness: bar.thickness,
            };
            format!("{:.2} kg/m", section::flat_kg_per_m(sheet, bar.width))
        };
        format!("{} {mass}", sides(bar.width, bar.thickness, units))
    };
    let bars: Vec<String> = in_units(section::flat_bars(), units, |bar| bar.width)
        .map(bar)
        .collect();
    bars.join(", ")
}

/// `30 x 3 mm 1.36 kg/m, ...`.
fn angles(material: Material, units: Units) -> String {
    let angle = |angle: &section::Angle| {
        let mass = section::listed_angle_kg_per_m(angle.leg, angle.thickness, material);
        format!("{} {mass:.2} kg/m", sides(angle.leg, angle.thickness, units))
    };
    let angles: Vec<String> = in_units(section::angles(), units, |angle| angle.leg)
        .map(angle)
        .collect();
    angles.join(", ")
}

/// `25 x 3 mm`, `1" x 1/8"`.
fn sides(width: Length, thickness: Length, units: Units) -> String {
    match units {
        Units::Millimetre => format!("{} x {} mm", width.as_mm(), thickness.as_mm()),
        Units::Inch => format!("{} x {}", assumed::text(width, units), assumed::text(thickness, units)),
    }
}
