//! What a liner is cut from: insulating sheets by sort.
//!
//! Their figures are data, `assets/liners.csv`: density, the stock sheet that is common, and where the density is from.

use std::sync::LazyLock;

use tape::Length;

use crate::KnownBy;

/// A sort of insulating sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Liner {
    /// Glass cloth and epoxy.
    GlassFibre,
    /// Paper and phenolic resin.
    PhenolicPaper,
    /// Polycarbonate.
    Polycarbonate,
    /// Polypropylene.
    Polypropylene,
    /// Polyethylene of high density.
    Polyethylene,
    /// EPDM rubber.
    Epdm,
}

/// What is known of a sort.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// In kilograms per cubic metre.
    pub density_kg_m3: f64,
    /// A sheet as it is commonly on sale, the longer side first. From memory of the trade: ask the supplier.
    pub stock: [Length; 2],
    /// Where the density comes from.
    pub source: &'static str,
    /// How the density is known.
    pub known: KnownBy,
}

impl Liner {
    /// All of them, in the order they are offered.
    pub const ALL: [Self; 6] = [
        Self::GlassFibre,
        Self::PhenolicPaper,
        Self::Polycarbonate,
        Self::Polypropylene,
        Self::Polyethylene,
        Self::Epdm,
    ];

    /// The name as printed on a cut list, and in the table of figures.
    pub const fn name(self) -> &'static str {
        match self {
            Self::GlassFibre => "glass-fibre laminate",
            Self::PhenolicPaper => "phenolic paper laminate",
            Self::Polycarbonate => "polycarbonate",
            Self::Polypropylene => "polypropylene",
            Self::Polyethylene => "polyethylene",
            Self::Epdm => "EPDM rubber",
        }
    }

    /// What is known of it.
    pub fn figures(self) -> &'static Figures {
        &FIGURES[Self::ALL.iter().position(|&sort| sort == self).unwrap_or(0)]
    }
}

static FIGURES: LazyLock<Vec<Figures>> = LazyLock::new(|| {
    let table = include_str!("../../../assets/liners.csv");
    let of = |sort: &Liner| row(table, sort.name()).expect("every sort has a whole row: a test reads them all");
    Liner::ALL.iter().map(of).collect()
});

/// The row of a name; `None` when it is not there or not whole.
fn row(table: &'static str, name: &str) -> Option<Figures> {
    let cells = |line: &'static str| -> Option<[&'static str; 6]> {
        line.splitn(6, ';').map(str::trim).collect::<Vec<_>>().try_into().ok()
    };
    let rows = table.lines().skip(1).filter_map(cells);
    let [_, density, known, length, width, source] = { rows }.find(|cells| cells[0] == name)?;
    let ways = [KnownBy::Found, KnownBy::Computed, KnownBy::Memory];
    Some(Figures {
        density_kg_m3: density.parse().ok()?,
        stock: [Length::mm(length.parse().ok()?), Length::mm(width.parse().ok()?)],
        source,
        known: ways.into_iter().find(|way| way.name() == known)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sort_has_a_row_and_every_row_a_sort() {
        let rows: Vec<&str> = include_str!("../../../assets/liners.csv")
            .lines()
            .skip(1)
            .filter_map(|line| line.split(';').next())
            .collect();
        assert_eq!(rows, Liner::ALL.map(Liner::name));
        for sort in Liner::ALL {
            let figures = sort.figures();
            // Between foamless polypropylene and glass, whatever is on sale.
            assert!((850.0..2_100.0).contains(&figures.density_kg_m3), "{sort:?}");
            assert!(
                figures.stock[0] >= figures.stock[1] && figures.stock[1] > Length::mm(900),
                "{sort:?}"
            );
            assert!(!figures.source.is_empty(), "{sort:?}");
        }
    }

    #[test]
    fn figures_are_those_of_the_table() {
        assert!((Liner::GlassFibre.figures().density_kg_m3 - 1_850.0).abs() < f64::EPSILON);
        assert_eq!(Liner::Epdm.figures().stock, [Length::mm(2_000), Length::mm(1_400)]);
        assert_eq!(Liner::Polypropylene.figures().known, KnownBy::Memory);
    }
}
