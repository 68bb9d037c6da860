//! Open-circuit volts over state of charge.

use crate::chemistry::Chemistry;
use crate::source::Source;
use crate::{CellVolts, Volts};

/// Volts at rest over state of charge, straight between points. Charge runs from 0 to 1 and volts do not fall.
#[derive(Clone, Debug, PartialEq)]
pub struct OcvCurve(Vec<(f64, f64)>);

/// NMC on graphite with silicon oxide: the two half-cell functions and the range of filling of one published cell.
const NMC: &[(f64, f64)] = &[
    (0.0, 2.498),
    (0.005, 2.605),
    (0.01, 2.695),
    (0.02, 2.837),
    (0.03, 2.94),
    (0.05, 3.073),
    (0.075, 3.172),
    (0.1, 3.258),
    (0.15, 3.396),
    (0.2, 3.449),
    (0.25, 3.494),
    (0.3, 3.548),
    (0.35, 3.597),
    (0.4, 3.634),
    (0.45, 3.668),
    (0.5, 3.708),
    (0.55, 3.757),
    (0.6, 3.809),
    (0.65, 3.862),
    (0.7, 3.924),
    (0.75, 3.971),
    (0.8, 4.022),
    (0.85, 4.07),
    (0.9, 4.094),
    (0.925, 4.1),
    (0.95, 4.116),
    (0.97, 4.14),
    (0.98, 4.156),
    (0.99, 4.173),
    (0.995, 4.183),
    (1.0, 4.193),
];

/// LFP, its half-cell function from 1 % to 99 % of its filling, on the same graphite.
const LFP: &[(f64, f64)] = &[
    (0.0, 1.657),
    (0.005, 1.853),
    (0.01, 2.02),
    (0.02, 2.283),
    (0.03, 2.476),
    (0.05, 2.721),
    (0.075, 2.888),
    (0.1, 2.999),
    (0.15, 3.139),
    (0.2, 3.174),
    (0.25, 3.195),
    (0.3, 3.224),
    (0.35, 3.248),
    (0.4, 3.258),
    (0.45, 3.262),
    (0.5, 3.264),
    (0.55, 3.266),
    (0.6, 3.268),
    (0.65, 3.279),
    (0.7, 3.304),
    (0.75, 3.31),
    (0.8, 3.311),
    (0.85, 3.312),
    (0.9, 3.313),
    (0.925, 3.314),
    (0.95, 3.315),
    (0.97, 3.316),
    (0.98, 3.321),
    (0.99, 3.341),
    (0.995, 3.369),
    (1.0, 3.427),
];

/// LMO on graphite, recalled.
const LMO: &[(f64, f64)] = &[
    (0.0, 3.0),
    (0.05, 3.5),
    (0.1, 3.65),
    (0.2, 3.78),
    (0.4, 3.88),
    (0.5, 3.92),
    (0.6, 3.97),
    (0.8, 4.07),
    (0.9, 4.12),
    (1.0, 4.2),
];

/// LTO with a layered oxide, recalled.
const LTO: &[(f64, f64)] = &[
    (0.0, 1.8),
    (0.05, 2.05),
    (0.1, 2.12),
    (0.3, 2.22),
    (0.5, 2.3),
    (0.7, 2.42),
    (0.9, 2.58),
    (0.97, 2.68),
    (1.0, 2.85),
];

impl Chemistry {
    /// Typical volts at rest of one cell over state of charge. Where it comes from: [`Chemistry::ocv_source`].
    pub fn ocv(self) -> OcvCurve {
        OcvCurve(
            match self {
                Self::Nmc | Self::Nca | Self::NmcLmoBlend => NMC,
                Self::Lfp => LFP,
                Self::Lmo => LMO,
                Self::Lto => LTO,
            }
            .to_vec(),
        )
    }

    /// Where [`Chemistry::ocv`] comes from.
    pub const fn ocv_source(self) -> Source {
        match self {
            Self::Nmc => Source::computed(
                "typical: half-cell functions and fillings of Chen et al., J. Electrochem. Soc. 167 (2020) 080534",
            ),
            Self::Lfp => Source::computed(
                "typical: half-cell function of Afshar et al., arXiv 1709.03970 (2017), on the graphite of Chen et al. \
                 (2020)",
            ),
            Self::Nca | Self::NmcLmoBlend => Source::memory("shape taken as that of NMC"),
            Self::Lmo | Self::Lto => Source::memory("typical shape"),
        }
    }

    /// Heat that a kilogram of cells takes for one kelvin, J/(kg K).
    ///
    /// Source: open battery-engineering page on specific heat of cells, 30 to 40 C, half charged (NCA 830, NMC 1040,
    /// LFP 1130; 800 to 1100 in the literature); 1000 is taken for the others.
    pub const fn specific_heat(self) -> f64 {
        match self {
            Self::Nca => 830.0,
            Self::Nmc => 1040.0,
            Self::Lfp => 1130.0,
            Self::Lmo | Self::NmcLmoBlend | Self::Lto => 1000.0,
        }
    }
}

impl OcvCurve {
    /// A curve through points of charge (0 to 1, rising) and volts (not falling); `None` when they are not so, or do
    /// not run from 0 to 1.
    pub fn new(points: Vec<(f64, f64)>) -> Option<Self> {
        let rises = points.windows(2).all(|p| p[0].0 < p[1].0 && p[0].1 <= p[1].1);
        let first = points.first()?.0;
        let last = points.last()?.0;
        let whole = first.abs() < 1e-9 && (last - 1.0).abs() < 1e-9 && points.len() > 1;
        (rises && whole && points.iter().all(|p| p.1 > 0.0)).then_some(Self(points))
    }

    /// The curve of one cell as that of a module of `cells` in series, cut to the module's own empty and full volts:
    /// charge 0 is where the cells are at empty, 1 where they are at full. Where a limit is beyond the curve, its end
    /// is drawn straight to it.
    #[must_use]
    pub fn for_module(&self, volts: &CellVolts, cells: u32) -> Self {
        let cells = f64::from(cells.max(1));
        let (empty, full) = (volts.empty.get() / cells, volts.full.get() / cells);
        if !(empty < full) {
            return Self(vec![(0.0, empty * cells), (1.0, full.max(empty) * cells)]);
        }
        let (low, high) = (self.charge_at(empty), self.charge_at(full));
        let mut points = vec![(0.0, empty * cells)];
        if high > low {
            let within = self
                .0
                .iter()
                .filter(|(charge, v)| *charge > low && *charge < high && *v > empty && *v < full);
            points.extend(within.map(|&(charge, v)| ((charge - low) / (high - low), v * cells)));
        }
        points.push((1.0, full * cells));
        Self(points)
    }

    /// Volts at a state of charge from 0 to 1; the ends beyond.
    pub fn volts_at(&self, charge: f64) -> Volts {
        Volts::nearest(between(&self.0, charge, |p| p.0, |p| p.1))
    }

    /// The state of charge at which a curve of plain volts reaches `volts`; the ends beyond. On a flat stretch, its
    /// lower end.
    pub fn charge_at(&self, volts: f64) -> f64 {
        between(&self.0, volts, |p| p.1, |p| p.0)
    }

    /// Mean volts between two states of charge: their energy over their charge.
    pub fn mean_volts(&self, low: f64, high: f64) -> f64 {
        if high <= low {
            return self.volts_at(low).get();
        }
        let at = |charge: f64| between(&self.0, charge, |p| p.0, |p| p.1);
        let mut area = 0.0;
        let mut last = (low, at(low));
        let inner = self.0.iter().copied().filter(|p| p.0 > low && p.0 < high);
        for (charge, volts) in inner.chain([(high, at(high))]) {
            area += (charge - last.0) * (volts + last.1) / 2.0;
            last = (charge, volts);
        }
        area / (high - low)
    }

    /// The points.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.0
    }
}

/// Straight between the points, along either coordinate.
fn between(
    points: &[(f64, f64)],
    at: f64,
    along: impl Fn(&(f64, f64)) -> f64,
    value: impl Fn(&(f64, f64)) -> f64,
) -> f64 {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return 0.0;
    };
    if at <= along(first) {
        return value(first);
    }
    for pair in points.windows(2) {
        let (a, b) = (along(&pair[0]), along(&pair[1]));
        if at <= b && b > a {
            return value(&pair[0]) + (value(&pair[1]) - value(&pair[0])) * (at - a) / (b - a);
        }
    }
    value(last)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn limits(empty: f64, full: f64) -> CellVolts {
        CellVolts {
            empty: Volts::nearest(empty),
            nominal: Volts::nearest(f64::midpoint(empty, full)),
            full: Volts::nearest(full),
        }
    }

    #[test]
    fn every_family_has_a_curve_that_rises_from_0_to_1() {
        for family in Chemistry::ALL {
            let curve = family.ocv();
            assert_eq!(OcvCurve::new(curve.0.clone()), Some(curve));
        }
    }

    proptest! {
        #[test]
        fn a_module_is_at_its_own_limits_at_the_ends_and_never_falls(
            family in 0..6_usize, empty in 1.5..3.4_f64, span in 0.1..1.5_f64, cells in 1..24_u32, at in 0.0..1.0_f64,
        ) {
            let n = f64::from(cells);
            let volts = limits(empty * n, (empty + span) * n);
            let curve = Chemistry::ALL[family].ocv().for_module(&volts, cells);
            prop_assert_eq!(curve.volts_at(0.0), volts.empty);
            prop_assert_eq!(curve.volts_at(1.0), volts.full);
            prop_assert!(curve.volts_at(at) <= curve.volts_at(at + 0.01));
            let mean = curve.mean_volts(0.0, 1.0);
            prop_assert!(mean >= volts.empty.get() - 1e-9 && mean <= volts.full.get() + 1e-9);
        }

        #[test]
        fn charge_and_volts_are_inverse_where_the_curve_rises(at in 0.0..1.0_f64) {
            let curve = Chemistry::Nmc.ocv();
            let volts = between(&curve.0, at, |p| p.0, |p| p.1);
            prop_assert!((curve.charge_at(volts) - at).abs() < 1e-9);
        }
    }

    /// The mean of a straight line is its middle.
    #[test]
    fn the_mean_of_a_line_is_its_middle() {
        let line = OcvCurve::new(vec![(0.0, 3.0), (1.0, 4.0)]).unwrap();
        assert!((line.mean_volts(0.2, 0.6) - 3.4).abs() < 1e-12);
    }
}
