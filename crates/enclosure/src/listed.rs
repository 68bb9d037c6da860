//! Tables of materials and stock as data in `assets/`: one line for each row, heads in the first, the source last.

use std::str::FromStr;

use tape::{Allow, Length, Units, notation};

use crate::KnownBy;

/// One line of a table that is compiled in.
pub(crate) struct Row {
    cells: Vec<&'static str>,
}

/// The rows of a table below its heads. No cell has a comma in it.
pub(crate) fn rows(table: &'static str) -> impl Iterator<Item = Row> {
    let lines = table.lines().skip(1).filter(|line| !line.is_empty());
    lines.map(|line| Row {
        cells: line.split(',').collect(),
    })
}

/// Why a row may be taken as it stands: a test reads every table.
const READ_BY_A_TEST: &str = "tables that are compiled in are read by a test";

impl Row {
    /// The text of a column, from 0.
    pub(crate) fn text(&self, column: usize) -> &'static str {
        self.cells[column]
    }

    /// The number in a column.
    pub(crate) fn number<T: FromStr>(&self, column: usize) -> T {
        self.text(column).parse().ok().expect(READ_BY_A_TEST)
    }

    /// The length in a column, written with its unit.
    pub(crate) fn length(&self, column: usize) -> Length {
        let written = notation::read(self.text(column), Units::Millimetre, Allow::ZeroOrMore);
        written.expect(READ_BY_A_TEST).value()
    }

    /// How the row is known, from the last column but one.
    pub(crate) fn known_by(&self) -> KnownBy {
        let word = self.cells[self.cells.len() - 2];
        [KnownBy::Found, KnownBy::Computed, KnownBy::Memory]
            .into_iter()
            .find(|known| known.name() == word)
            .expect(READ_BY_A_TEST)
    }

    /// Where the row comes from, from the last column.
    pub(crate) fn source(&self) -> &'static str {
        self.cells[self.cells.len() - 1]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Material;
    use crate::{gauge, rivet, section, stock};

    #[test]
    fn every_table_is_read_and_every_row_has_its_source() {
        for (table, columns) in [
            (gauge::TABLE, 5),
            (crate::material::TABLE, 4),
            (crate::bend_limits::LEAST_RADII, 5),
            (stock::SHEETS, 5),
            (stock::BARS, 4),
            (stock::RODS, 4),
            (stock::THICKNESSES, 3),
            (section::ANGLES, 5),
            (section::FLAT_BARS, 4),
            (stock::RIVET_NUTS, 5),
            (rivet::BLIND, 7),
            (rivet::SUNK, 4),
        ] {
            assert_eq!(table.lines().next().unwrap().split(',').count(), columns);
            assert!(table.lines().count() > 2, "a table with nothing in it");
            for row in rows(table) {
                assert_eq!(row.cells.len(), columns, "{}", row.text(0));
                assert!(!row.source().is_empty() && !row.known_by().name().is_empty());
            }
        }
        let scales = gauge::Scale::ALL.map(|scale| scale.rows().len());
        assert_eq!(
            scales.iter().sum::<usize>(),
            gauge::TABLE.lines().count() - 1,
            "every row is on a scale"
        );
        assert_eq!(Material::ALL.len(), crate::material::TABLE.lines().count() - 1);
        assert!(Material::ALL.iter().all(|material| material.density_kg_m3() > 2_000.0));
        assert!(stock::sheets().iter().all(|sheet| sheet.sides[0] < sheet.sides[1]));
        assert!(stock::bars().iter().all(|bar| bar.length > Length::mm(1_000)));
        assert!(stock::rods().iter().all(|rod| rod.length < Length::mm(3_000)));
        assert!(stock::thicknesses().is_sorted());
        assert!(section::angles().iter().all(|angle| angle.thickness * 3 < angle.leg));
        assert!(section::flat_bars().iter().all(|bar| bar.thickness * 3 < bar.width));
    }
}
