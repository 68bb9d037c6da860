//! What stands on every drawn sheet, nothing left open.

use enclosure::nest::sheets::Cutting;

use crate::Job;
use crate::assumed;
use crate::document::{DummiesName, FlatnessName, PaperName, ProjectionName, ShopClassName, TurningName};

/// What stands on every drawn sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetResult {
    /// The shop, as entered; empty when it was not.
    pub shop: String,
    /// Who drew it, as entered; empty when nobody was.
    pub drawn_by: String,
    /// What the shop holds to: `ISO 13920-BF`, or its own figure with the class of flatness; `~` before it where a class
    /// was assumed.
    pub tolerance: String,
    /// The paper in the printer.
    pub paper: PaperName,
    /// How views stand to each other.
    pub projection: ProjectionName,
    /// Whether templates have the faces of modules.
    pub dummies: bool,
    /// How sheets are cut.
    pub cutting: Cutting,
    /// Which way parts lie to the grain of a sheet; `None` when nobody told.
    pub grain: Option<TurningName>,
}

pub(super) fn evaluate(job: &Job) -> SheetResult {
    let sheets = &job.settings.sheets;
    SheetResult {
        shop: sheets.shop.trim().to_owned(),
        drawn_by: sheets.drawn_by.trim().to_owned(),
        tolerance: tolerance(job),
        paper: sheets.paper.unwrap_or_else(|| PaperName::default_of(job.units)),
        projection: sheets
            .projection
            .unwrap_or_else(|| ProjectionName::default_of(job.units)),
        dummies: sheets.dummies == Some(DummiesName::Modules),
        cutting: job.stock.cutting.unwrap_or(assumed::CUTTING).cutting(),
        grain: job.stock.turning,
    }
}

/// Classes are written as the standard has it: that of lengths, then that of flatness.
fn tolerance(job: &Job) -> String {
    let settings = &job.settings;
    let length = settings.shop_class.unwrap_or(assumed::SHOP_CLASS);
    let flat = settings.flatness.unwrap_or(assumed::FLATNESS);
    let open = settings.flatness.is_none() || (settings.shop_class.is_none() && settings.shop_limits.is_none());
    let mark = if open { "~" } else { "" };
    match &settings.shop_limits {
        Some(limits) => format!("{mark}+-{}, flat ISO 13920-{}", limits.text(), flat_letter(flat)),
        None => format!("{mark}ISO 13920-{}{}", length_letter(length), flat_letter(flat)),
    }
}

const fn length_letter(class: ShopClassName) -> char {
    match class {
        ShopClassName::A => 'A',
        ShopClassName::B => 'B',
        ShopClassName::C => 'C',
        ShopClassName::D => 'D',
    }
}

const fn flat_letter(class: FlatnessName) -> char {
    match class {
        FlatnessName::E => 'E',
        FlatnessName::F => 'F',
        FlatnessName::G => 'G',
        FlatnessName::H => 'H',
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Edit, Field, example, load};

    fn told(fields: &[(Field, &str)]) -> SheetResult {
        let mut job = load(example("orchard-flatbed").unwrap().text.as_bytes()).unwrap();
        (job.settings.shop_class, job.settings.flatness, job.settings.shop_limits) = (None, None, None);
        for &(field, text) in fields {
            let text = text.to_owned();
            job = job.with(&Edit::Set { field, text }).unwrap();
        }
        evaluate(&job)
    }

    #[test]
    fn classes_are_written_as_on_a_drawing() {
        assert_eq!(told(&[]).tolerance, "~ISO 13920-BF");
        let classes = [(Field::ShopClass, "ISO 13920 A"), (Field::Flatness, "ISO 13920 E")];
        assert_eq!(told(&classes).tolerance, "ISO 13920-AE");
        let own = [(Field::ShopLimits, "1.5 mm"), (Field::Flatness, "ISO 13920 G")];
        assert_eq!(told(&own).tolerance, "+-1.5 mm, flat ISO 13920-G");
    }

    #[test]
    fn what_is_entered_wins_over_what_goes_with_the_units() {
        let bare = told(&[]);
        assert_eq!(
            (bare.shop.as_str(), bare.paper, bare.projection, bare.dummies),
            ("", PaperName::TabloidAndLetter, ProjectionName::Third, false)
        );
        let all = told(&[
            (Field::Shop, " Lane End Works "),
            (Field::DrawnBy, "M. Hill"),
            (Field::PaperSize, "A4"),
            (Field::Projection, "first angle"),
            (Field::Dummies, "faces of modules too"),
        ]);
        assert_eq!(
            (all.shop.as_str(), all.drawn_by.as_str()),
            ("Lane End Works", "M. Hill")
        );
        assert_eq!((all.paper, all.projection), (PaperName::A4, ProjectionName::First));
        assert!(all.dummies);
    }
}
