//! Three packs worked out by hand, end to end.

use pack::arrangement::{Arrangement, Choice, best, choices, series_that_fit};
use pack::window::{ChargerWindow, DriveWindow, Suits};
use pack::{AmpHours, Amps, CellVolts, Module, Volts};
use rstest::rstest;

struct Shop {
    module: Module,
    on_hand: u32,
    drive: DriveWindow,
    charger: Option<ChargerWindow>,
}

fn module(cells: (u32, u32), volts: [f64; 3], capacity_ah: f64) -> Module {
    let [empty, nominal, full] = volts.map(Volts::nearest);
    Module {
        cells_series: cells.0,
        cells_parallel: cells.1,
        volts: CellVolts { empty, nominal, full },
        capacity: AmpHours::nearest(capacity_ah),
        continuous: None,
        peak: None,
        charge: None,
    }
}

fn drive(min: f64, max: f64, absolute: Option<f64>, peak: Option<f64>) -> DriveWindow {
    DriveWindow {
        min: Volts::nearest(min),
        max: Volts::nearest(max),
        absolute_max: absolute.map(Volts::nearest),
        peak: peak.map(Amps::nearest),
        continuous: None,
        returns: None,
    }
}

fn charger(max: f64) -> ChargerWindow {
    ChargerWindow {
        min: None,
        max: Volts::nearest(max),
        amps: None,
    }
}

/// Eight LFP cells in a crate of a module, for a low-voltage drive.
fn crate_module() -> Shop {
    Shop {
        module: module((8, 1), [20.8, 25.6, 28.4], 105.0),
        on_hand: 14,
        drive: drive(90.0, 160.0, Some(170.0), Some(400.0)),
        charger: Some(charger(148.0)),
    }
}

/// Flat four-cell modules.
fn tile() -> Shop {
    Shop {
        module: module((4, 2), [12.0, 14.8, 16.6], 56.0),
        on_hand: 50,
        drive: drive(280.0, 405.0, Some(430.0), None),
        charger: Some(charger(403.0)),
    }
}

/// Long twelve-cell modules.
fn loaf() -> Shop {
    Shop {
        module: module((12, 1), [36.0, 43.8, 49.8], 63.0),
        on_hand: 18,
        drive: drive(260.0, 420.0, None, None),
        charger: None,
    }
}

impl Shop {
    fn choices(&self) -> Vec<Choice> {
        let suits = Suits {
            drive: Some(self.drive),
            charger: self.charger,
            ..Suits::default()
        };
        choices(&self.module, self.on_hand, &suits)
    }
}

/// `volts`: empty, nominal, full. Energy in kilowatt-hours to two decimals.
#[rstest]
#[case::crate_module(crate_module(), (5, 2), [104.0, 128.0, 142.0], 210.0, "26.88")]
#[case::tile(tile(), (24, 2), [288.0, 355.2, 398.4], 112.0, "39.78")]
#[case::loaf(loaf(), (8, 2), [288.0, 350.4, 398.4], 126.0, "44.15")]
fn the_best_is_the_one_worked_out_by_hand(
    #[case] shop: Shop,
    #[case] (series, parallel): (u32, u32),
    #[case] volts: [f64; 3],
    #[case] capacity_ah: f64,
    #[case] kwh: &str,
) {
    let all = shop.choices();
    let best = best(&all).unwrap();
    let figures = &best.figures;
    assert_eq!(best.arrangement, Arrangement { series, parallel });
    assert_eq!(
        [figures.volts.empty, figures.volts.nominal, figures.volts.full],
        volts.map(Volts::nearest)
    );
    assert_eq!(figures.capacity, AmpHours::nearest(capacity_ah));
    assert_eq!(format!("{:.2}", figures.energy.kwh()), kwh);
    assert_eq!(best.objections, []);
    assert_eq!(best.left_over, shop.on_hand - series * parallel);
    assert_eq!(series_that_fit(&shop.module, &shop.drive), Some((series, series)));
    let fitting = all.iter().filter(|choice| choice.fits());
    assert!(fitting.clone().all(|choice| choice.arrangement.series == series));
    assert_eq!(u32::try_from(fitting.count()), Ok(parallel));
}

#[rstest]
#[case::crate_one_less(crate_module(), 4, &["empty 83.2 V is under the drive's least 90 V"])]
#[case::crate_one_more(crate_module(), 6, &[
    "full 170.4 V is over the 170 V that destroys the drive",
    "full 170.4 V is over the drive's 160 V",
    "the charger stops at 148 V, short of full 170.4 V",
])]
#[case::tile_one_less(tile(), 23, &["empty 276 V is under the drive's least 280 V"])]
#[case::tile_one_more(tile(), 25, &[
    "full 415 V is over the drive's 405 V",
    "the charger stops at 403 V, short of full 415 V",
])]
#[case::loaf_one_less(loaf(), 7, &["empty 252 V is under the drive's least 260 V"])]
#[case::loaf_one_more(loaf(), 9, &["full 448.2 V is over the drive's 420 V"])]
fn one_more_or_less_in_series_is_refused_in_words(#[case] shop: Shop, #[case] series: u32, #[case] words: &[&str]) {
    let wanted = Arrangement { series, parallel: 1 };
    let choice = shop
        .choices()
        .into_iter()
        .find(|choice| choice.arrangement == wanted)
        .unwrap();
    let said: Vec<String> = choice
        .objections
        .iter()
        .map(pack::arrangement::Objection::words)
        .collect();
    assert_eq!(said, words);
    assert!(!choice.fits());
}
