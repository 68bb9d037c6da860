//! Edges and properties; the typical curves are checked against published functions in `tests/cases/ocv.json`.

use proptest::prelude::*;
use rstest::rstest;

use super::*;
use crate::chemistry::Chemistry;

fn volts(v: f64) -> Volts {
    Volts::nearest(v)
}

fn module(empty: f64, full: f64) -> CellVolts {
    CellVolts {
        empty: volts(empty),
        nominal: volts(f64::midpoint(empty, full)),
        full: volts(full),
    }
}

#[rstest]
#[case::none(&[], CurveError::Ends)]
#[case::one(&[(0.0, 3.0)], CurveError::Ends)]
#[case::starts_late(&[(0.1, 3.0), (1.0, 4.0)], CurveError::Ends)]
#[case::ends_early(&[(0.0, 3.0), (0.9, 4.0)], CurveError::Ends)]
#[case::no_number_at_the_end(&[(0.0, 3.0), (f64::NAN, 4.0)], CurveError::Ends)]
#[case::volts_fall(&[(0.0, 3.0), (0.5, 2.9), (1.0, 4.0)], CurveError::NotRising { number: 2 })]
#[case::twice(&[(0.0, 3.0), (0.5, 3.5), (0.5, 3.6), (1.0, 4.0)], CurveError::NotRising { number: 3 })]
#[case::level(&[(0.0, 3.0), (1.0, 3.0)], CurveError::NotRising { number: 2 })]
#[case::no_number(&[(0.0, 3.0), (0.5, f64::NAN), (1.0, 4.0)], CurveError::NotRising { number: 2 })]
fn refuses_what_is_no_curve(#[case] points: &[(f64, f64)], #[case] error: CurveError) {
    assert_eq!(OcvCurve::new(points.to_vec()), Err(error));
}

#[test]
fn nothing_is_told_beyond_the_ends() {
    let line = OcvCurve::new(vec![(0.0, 3.0), (1.0, 4.0)]).unwrap();
    assert_eq!(line.volts_at(0.0), Some(volts(3.0)));
    assert_eq!(line.volts_at(0.25), Some(volts(3.25)));
    assert_eq!(line.volts_at(1.0), Some(volts(4.0)));
    assert_eq!([-0.001, 1.001, f64::NAN].map(|soc| line.volts_at(soc)), [None; 3]);
    assert_eq!([2.999, 4.001].map(|v| line.soc_at(volts(v))), [None; 2]);
    assert_eq!([3.0, 4.0].map(|v| line.soc_at(volts(v))), [Some(0.0), Some(1.0)]);
    assert_eq!(line.soc_between(volts(2.9), volts(0.05)), None);
    assert_eq!(line.soc_between(volts(2.9), volts(0.1)), Some((0.0, 0.0)));
    assert_eq!(line.soc_between(volts(4.2), volts(0.1)), None);
}

/// Reading 10 mV off means little on a sloping curve and most of the charge on a flat one.
#[test]
fn volts_tell_little_of_a_flat_family() {
    let window = |family: Chemistry, at: f64| {
        let (least, most) = family.ocv().soc_between(volts(at), volts(0.01)).unwrap();
        most - least
    };
    assert!(window(Chemistry::Nca, 3.7) < 0.06);
    assert!(window(Chemistry::Lfp, 3.31) > 0.25);
}

#[rstest]
#[case::no_cells(13.0, 16.8, 0)]
#[case::too_few_cells(13.0, 16.8, 3)]
#[case::too_many_cells(13.0, 16.8, 5)]
#[case::turned_round(16.8, 13.0, 4)]
fn refuses_volts_of_other_cells(#[case] empty: f64, #[case] full: f64, #[case] cells: u32) {
    let got = Chemistry::Nmc.ocv().for_module(&module(empty, full), cells);
    assert!(matches!(got, Err(CurveError::OtherCells { .. })), "{got:?}");
}

#[test]
fn the_typical_volts_of_every_family_fit_its_curve() {
    for family in Chemistry::ALL {
        let cell = family.cell_volts();
        let curve = family.ocv().for_module(&cell, 1).unwrap();
        assert_eq!(
            [0.0, 1.0].map(|soc| curve.volts_at(soc)),
            [Some(cell.empty), Some(cell.full)]
        );
        let from_memory = family.ocv_known_by() == "memory";
        assert_eq!(from_memory, family.ocv_source().contains("from memory"), "{family:?}");
    }
}

#[test]
fn a_module_that_goes_further_keeps_the_middle_of_the_curve() {
    let line = OcvCurve::new(vec![(0.0, 3.0), (1.0, 4.0)]).unwrap();
    let fitted = line.for_module(&module(5.0, 9.0), 2).unwrap();
    let told = [0.0, 0.05, 0.1, 0.5, 0.9, 0.95, 1.0].map(|soc| fitted.volts_at(soc).unwrap().milli());
    assert_eq!(told, [5_000, 5_600, 6_200, 7_000, 7_800, 8_400, 9_000]);
}

#[test]
fn a_module_that_stops_short_has_that_part_of_the_curve() {
    let bent = OcvCurve::new(vec![(0.0, 3.0), (0.5, 3.8), (1.0, 4.0)]).unwrap();
    // 3.4 V is a quarter full and 3.9 V three quarters, so that the bend is at the middle.
    let fitted = bent.for_module(&module(3.4, 3.9), 1).unwrap();
    let told = [0.0, 0.25, 0.5, 0.75, 1.0].map(|soc| fitted.volts_at(soc).unwrap().milli());
    assert_eq!(told, [3_400, 3_600, 3_800, 3_850, 3_900]);
}

prop_compose! {
    fn curves()(steps in prop::collection::vec((0.01..1.0_f64, 0.01..1.0_f64), 1..8), empty in 1.0..5.0_f64) -> OcvCurve {
        let whole: f64 = steps.iter().map(|step| step.0).sum();
        let mut points = vec![(0.0, empty)];
        let (mut soc, mut volts) = (0.0, empty);
        for (wide, high) in steps {
            (soc, volts) = (soc + wide, volts + high);
            points.push((soc / whole, volts));
        }
        points.last_mut().unwrap().0 = 1.0;
        OcvCurve::new(points).unwrap()
    }
}

proptest! {
    /// Against the slow obvious version: the first line that reaches so far.
    #[test]
    fn volts_lie_on_the_line_between_neighbours(curve in curves(), soc in 0.0..=1.0_f64) {
        let pair = curve.points().windows(2).find(|pair| pair[1].0 >= soc).unwrap();
        let along = (soc - pair[0].0) / (pair[1].0 - pair[0].0);
        let slow = pair[0].1 * (1.0 - along) + pair[1].1 * along;
        prop_assert!((curve.volts_at(soc).unwrap().get() - slow).abs() <= 0.000_501);
    }

    #[test]
    fn volts_read_back_as_their_state_of_charge(curve in curves(), soc in 0.0..=1.0_f64) {
        let read = curve.volts_at(soc).unwrap();
        let (least, most) = curve.soc_between(read, Volts::from_milli(1)).unwrap();
        prop_assert!(least <= soc && soc <= most);
        if let Some(told) = curve.soc_at(read) {
            prop_assert!(least <= told && told <= most);
        }
    }

    /// Against the slow obvious version: very many thin slices.
    #[test]
    fn the_mean_is_the_area_under_the_curve(curve in curves()) {
        let slices = 4000;
        let slice = |n: i32| curve.volts_at((f64::from(n) + 0.5) / f64::from(slices)).unwrap().get();
        let slow = (0..slices).map(slice).sum::<f64>() / f64::from(slices);
        prop_assert!((curve.mean_v() - slow).abs() < 0.002);
    }

    #[test]
    fn a_fitted_curve_ends_where_the_module_does_and_still_rises(
        curve in curves(), cells in 1..20_u32, below in 0.1..5.0_f64, above in 0.1..5.0_f64,
    ) {
        let mean = curve.in_series(cells).mean_v();
        let own = module(mean - below, mean + above);
        let fitted = curve.for_module(&own, cells).unwrap();
        prop_assert_eq!(fitted.volts_at(0.0), Some(own.empty));
        prop_assert_eq!(fitted.volts_at(1.0), Some(own.full));
        prop_assert!(OcvCurve::new(fitted.points().to_vec()).is_ok());
    }
}
