//! What trapped air pushes on a lid: a sum for a box whose breather is blocked, or that has none.

use enclosure::seal::air::{ATMOSPHERE_KNOWN_BY, ATMOSPHERE_SOURCE, trapped_kpa};
use enclosure::seal::lid_force_n;
use enclosure::strength::bolt::grade::Grade;
use enclosure::strength::bolt::{BOLTS, Bolt, Pitch};
use enclosure::strength::plate::{Edges, Panel};
use enclosure::strength::{Limit, Utilisation, force_n};
use enclosure::{Built, KnownBy};
use tape::Units;

use super::{StrengthCheck, Sum};
use crate::Figure;
use crate::assumed::Build;
use crate::document::{Figures, FittingName};
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kg_words;

/// What air that cannot get out does to a closed box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trapped {
    /// How far the box warms after it is closed, kelvins.
    pub warmed_k: f64,
    /// How far it is taken up, metres.
    pub climbed_m: f64,
    /// Pressure over that of the air outside, kilopascals.
    pub kpa: f64,
    /// What that makes on the lid, newtons.
    pub lid_n: f64,
    /// Whether a breather lets it out, unless that is blocked.
    pub is_vented: bool,
}

impl Trapped {
    /// In words, as `warmed by 40 K and taken up 2000 m, its air pushes with 35.7 kPa, 10.79 kN on the lid`.
    pub fn words(&self) -> String {
        format!(
            "warmed by {} K and taken up {} m, its air pushes with {:.1} kPa, {:.2} kN on the lid",
            self.warmed_k,
            self.climbed_m,
            self.kpa,
            self.lid_n / 1000.0
        )
    }
}

/// What a closed box would have to bear; `None` without a gasket, since that is not tight.
pub(super) fn of(figures: &Figures, build: &Build, result: &BoxResult, made: &Built) -> Option<Trapped> {
    if build.gasket <= tape::Length::ZERO {
        return None;
    }
    let warmed_k = figures.sure(Figure::LidWarmed);
    let climbed_m = figures.sure(Figure::LidClimbs);
    let kpa = trapped_kpa(warmed_k, climbed_m);
    let is_breather = |fitting: &crate::FittingResult| fitting.what == FittingName::Breather && fitting.fault.is_none();
    Some(Trapped {
        warmed_k,
        climbed_m,
        kpa,
        // The gasket lies on the rim, so the whole of what the walls go round is pushed on at most.
        lid_n: lid_force_n([made.shell[0], made.shell[1]], kpa),
        is_vented: result.fittings.iter().any(is_breather),
    })
}

/// The lid against it: what holds it down, and how it bulges.
pub(super) fn checks(
    (build, units): (&Build, Units),
    made: &Built,
    trapped: &Trapped,
    checks: &mut Vec<StrengthCheck>,
) {
    let vent = if trapped.is_vented {
        "its breather blocked"
    } else {
        "it has no breather"
    };
    let says = format!("{vent}: {}", trapped.words());
    let fix = |of: &Utilisation| match (of.within(), trapped.is_vented) {
        (true, _) => "",
        (false, true) => "keep the breather clear and look at it with every service",
        (false, false) => "let in a breather, above the wading line",
    };
    let mut put = |sum, of: Utilisation, more: &str| {
        checks.push(StrengthCheck {
            sum,
            fix: fix(&of).to_owned(),
            says: format!("{says}{more}"),
            of,
            factor: None,
        });
    };
    let (held, more) = held((build, units), made, trapped);
    put(Sum::LidHeld, held, &more);
    if let Ok(panel) = Panel::new([made.shell[0], made.shell[1]], build.lid, Edges::Simple) {
        let [stress, gives] = panel.utilisations("lid, pushed up", trapped.kpa / 1000.0, build.material);
        let doubt = if gives.within() {
            ""
        } else {
            "; it bulges more than half its thickness, so the formula overstates"
        };
        put(Sum::LidPushed, stress, doubt);
        put(Sum::LidBulges, gives, doubt);
    }
}

/// An even share of the push on each screw, along it through a flange and across it through a skirt; without screws all of
/// it against the lid's own weight.
fn held((build, units): (&Build, Units), made: &Built, trapped: &Trapped) -> (Utilisation, String) {
    let beside = u32::try_from(made.side_screws.len()).unwrap_or(u32::MAX);
    let screws = made.lid_holes.map_or(beside, |holes| holes.count);
    if screws == 0 {
        let lid = made.parts.iter().filter(|part| part.role.is_of_lid());
        let kg = lid.map(|part| part.grams() * f64::from(part.quantity)).sum::<f64>() / 1000.0;
        let by = Limit {
            value: force_n(kg, 1.0),
            formula: "p A against the lid's weight",
            source: ATMOSPHERE_SOURCE,
            known: ATMOSPHERE_KNOWN_BY,
        };
        let own = kg_words(kg, 1, units);
        let more = match made.clamps.len() {
            0 => format!("; no screw holds it down, only its own {own}"),
            clamps => format!(
                "; what its {clamps} toggle clamps bear is not known here, so it is summed as if its own {own} alone \
                 held it: ask their maker"
            ),
        };
        return (Utilisation::of("lid, pushed up", trapped.lid_n, "N", by), more);
    }
    let screw = listed(build);
    let area = screw.stress_area_mm2();
    let across = made.lid_holes.is_none();
    let (value, formula) = if across {
        (Grade::Class8_8.shear_n(area), "p A / screws against 0.6 fub As / 1.25")
    } else {
        (
            Grade::Class8_8.tension_n(area),
            "p A / screws against 0.9 fub As / 1.25",
        )
    };
    let by = Limit {
        value,
        formula,
        source: "ideal gas at constant volume; standard atmosphere of ISO 2533; EN 1993-1-8 Table 3.4",
        known: KnownBy::Memory,
    };
    let of = Utilisation::of("lid screws, pushed up", trapped.lid_n / f64::from(screws), "N", by);
    let more = format!(
        "; {screws} {} screws with {}, taken as class 8.8, each an even share",
        screw.name,
        if across {
            "rivet nuts, whose hold in the wall is not summed"
        } else {
            "nuts"
        }
    );
    (of, more)
}

/// The metric thread of the list that is the screws', or the next smaller one.
fn listed(build: &Build) -> &'static Bolt {
    let metric = BOLTS.iter().filter(|bolt| matches!(bolt.pitch, Pitch::Metric(_)));
    metric
        .take_while(|bolt| bolt.diameter <= build.screw)
        .last()
        .unwrap_or(&BOLTS[0])
}
