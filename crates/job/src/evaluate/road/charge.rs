//! How long charging takes from common supplies and from the person's own.

use tape::Units;
use truck::charge::{Charge, Fill, Supply, Taper, charge, continuous_a};
use truck::units::M_PER_MILE;

use super::drives::Driven;
use super::given::Given;
use super::{Circuit, Notes};
use crate::document::{Figure, RoadFigure};
use crate::{Field, RoadField};

/// Charging from one supply.
#[derive(Clone, Debug, PartialEq)]
pub struct ChargeRow {
    /// Whether it is the person's own.
    pub is_own: bool,
    /// Volts of the line.
    pub volts: f64,
    /// Rating of its circuit, amps, if it is known.
    pub circuit_a: Option<f64>,
    /// What is drawn from it, amps.
    pub line_a: f64,
    /// What holds the power back: `line` or `charger`.
    pub held_by: &'static str,
    /// Times and energies.
    pub charge: Charge,
    /// How far an hour at full power takes the truck in mixed driving in summer, metres; `None` without a mass.
    pub metres_an_hour: Option<f64>,
}

/// Supplies that are common where people measure in inches, and where they do in millimetres: volts, and the circuit's amps
/// (common practice, no source).
const fn common(units: Units) -> [[f64; 2]; 3] {
    match units {
        Units::Inch => [[120.0, 15.0], [240.0, 30.0], [240.0, 50.0]],
        Units::Millimetre => [[230.0, 10.0], [230.0, 16.0], [230.0, 32.0]],
    }
}

pub(super) fn evaluate(
    given: &Given<'_>,
    driven: Option<&Driven>,
    notes: &mut Notes,
) -> (Vec<ChargeRow>, Option<Circuit>) {
    let drawn_a = given.electrics.sure(Figure::LineAmps);
    let mut circuit = given.entered(RoadFigure::Circuit).and_then(|rated_a| {
        let for_hours_a = notes.take(continuous_a(rated_a))?;
        Some(Circuit {
            rated_a,
            for_hours_a,
            drawn_a,
        })
    });
    let Some(fill) = fill(given) else {
        notes.miss(
            "hours to charge",
            Field::OfRoad(RoadField::Figure(RoadFigure::UsableKwh)),
        );
        return (Vec::new(), circuit);
    };
    let efficiency = given.electrics.sure(Figure::ChargerPercent) / 100.0;
    let taper = given.entered(RoadFigure::TaperKnee).map(|knee| Taper {
        knee: knee / 100.0,
        share_at_full: given.share(RoadFigure::TaperLeft),
    });
    // The charger's most amps into the pack at nominal volts, as watts from the line.
    let charger_w = given
        .pack
        .zip(given.electrics.get(Figure::ChargerAmps))
        .map(|(pack, amps)| pack.nominal_v * amps / efficiency);
    let mixed = driven.map(|driven| driven.mixed_wh_per_mile[0]).filter(|wh| *wh > 0.0);
    let mut row = |is_own: bool, volts: f64, circuit_a: Option<f64>, line_a: f64| {
        let (line_a, held_by) = match charger_w.map(|watts| watts / volts) {
            Some(charger_a) if charger_a < line_a => (charger_a, "charger"),
            _ => (line_a, "line"),
        };
        let charge = notes.take(charge(
            Supply {
                volts,
                amps: line_a,
                efficiency,
            },
            fill,
            taper,
        ))?;
        let metres_an_hour = mixed.map(|wh| charge.dc_kw * 1_000.0 / wh * M_PER_MILE);
        Some(ChargeRow {
            is_own,
            volts,
            circuit_a,
            line_a,
            held_by,
            charge,
            metres_an_hour,
        })
    };
    let mut rows = Vec::new();
    for [volts, rated_a] in common(given.units) {
        // 0.8 of a common circuit: the ratings above are above zero.
        let line_a = continuous_a(rated_a).unwrap_or_default();
        rows.extend(row(false, volts, Some(rated_a), line_a));
    }
    let own_volts = given.electrics.sure(Figure::LineVolts);
    let own = row(true, own_volts, circuit.map(|circuit| circuit.rated_a), drawn_a);
    // A small charger draws less than the line would give.
    if let (Some(circuit), Some(own)) = (&mut circuit, &own) {
        circuit.drawn_a = own.line_a;
    }
    rows.extend(own);
    // A contradiction in what is charged shows once, not for every supply.
    notes.troubles.dedup();
    (rows, circuit)
}

/// From where to where; `None` while no pack is known.
fn fill(given: &Given<'_>) -> Option<Fill> {
    let [low, high] = given.window();
    let or = |figure, window: f64| given.entered(figure).map_or(window, |percent| percent / 100.0);
    Some(Fill {
        pack_kwh: given.whole_kwh()?,
        from: or(RoadFigure::ChargeFrom, low),
        to: or(RoadFigure::ChargeTo, high),
    })
}
