//! The rim of a box and what closes it: its gasket, lid, screws and folds.

use enclosure::seal::{PITCH_KNOWN_BY, SOFT_GASKET_FACTOR, squeeze, widest_pitch};
use enclosure::strength::bolt::thread_name;
use enclosure::strength::plate::most_held_mm;
use enclosure::strength::{Limit, Utilisation};
use enclosure::{Construction, Gasket, KnownBy, bend_limits};
use tape::show::caliper;
use tape::{Length, Units};

use super::{StrengthCheck, Sum, Told, keep_worst};
use crate::assumed::{Build, Limits};
use crate::document::Closing;
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kg_words;

/// How far a stiffened lid gives in its widest field.
pub(super) fn lid(build: &Build, result: &BoxResult, units: Units, checks: &mut Vec<StrengthCheck>) {
    let Some(lid) = result.added.lid else { return };
    let by = Limit {
        value: lid.most.as_mm(),
        formula: "alpha q b^4 / (E t^3), each field resting on all sides, against what it may give",
        source: "plate theory; that a stiffener holds like an edge is taken for granted",
        known: KnownBy::Memory,
    };
    let of = Utilisation::of("lid, gives", lid.gives_mm, "mm", by).holding(lid.gives_mm <= most_held_mm(build.lid));
    let fix = if of.within() {
        ""
    } else {
        "put in more stiffeners, or take a thicker lid"
    };
    checks.push(StrengthCheck {
        sum: Sum::LidGives,
        fix: fix.to_owned(),
        says: format!(
            "{} spread evenly over the lid, {} stiffener{} across it",
            kg_words(lid.load_kg, 0, units),
            lid.stiffeners,
            if lid.stiffeners == 1 { "" } else { "s" }
        ),
        of,
        factor: None,
    });
}

/// The squeeze of the gasket as drawn and over the flatness of the rim's longer side.
pub(super) fn gasket(build: &Build, limits: &Limits, longer: Length, units: Units, checks: &mut Vec<StrengthCheck>) {
    let gasket = Gasket {
        free: build.gasket,
        squeezed: build.gasket_squeezed,
    };
    if gasket.free <= Length::ZERO {
        return;
    }
    let limit = |value: f64, formula| Limit {
        value: value * 100.0,
        formula,
        source: squeeze::LIMITS_SOURCE,
        known: squeeze::LIMITS_KNOWN_BY,
    };
    let flatness = limits.flatness.limits(longer);
    let range = squeeze::over(gasket, flatness);
    let drawn = squeeze::share(gasket);
    let least = |what, share: f64, formula| {
        Utilisation::at_least(what, share.max(0.0) * 100.0, "%", limit(squeeze::LEAST, formula))
    };
    let most = |what, share: f64, formula| Utilisation::of(what, share * 100.0, "%", limit(squeeze::MOST, formula));
    let uneven = format!(
        "rim out of flat by {} from its lowest to its highest spot, under a lid that stays flat; a lid that \
         follows the rim does better",
        caliper(flatness, units)
    );
    let told = format!(
        "{} squeezed to {}",
        caliper(gasket.free, units),
        caliper(gasket.squeezed, units)
    );
    let flat = "least 10 % squeezed where the rim is lowest: (free - squeezed - flatness / 2) / free";
    let proud = "at most 50 % squeezed where the rim is highest: (free - squeezed + flatness / 2) / free";
    let thicker = format!(
        "ask for a flatter rim (its class is on the Boxes page), or take a gasket of {} or more",
        caliper(squeeze::least_free(flatness).round_up_to(Length::tenths_mm(1)), units)
    );
    let rows = [
        (
            Sum::GasketLeast,
            least("gasket, squeezed", drawn, "(free - squeezed) / free, 10 % at least"),
            "squeeze it more",
        ),
        (
            Sum::GasketMost,
            most("gasket, squeezed", drawn, "(free - squeezed) / free, 50 % at most"),
            "squeeze it less: it is crushed for good",
        ),
        (
            Sum::GasketAtLow,
            least("gasket, rim's low spot", range.at_low_spot, flat),
            thicker.as_str(),
        ),
        (
            Sum::GasketAtHigh,
            most("gasket, rim's high spot", range.at_high_spot, proud),
            thicker.as_str(),
        ),
    ];
    for (sum, of, fix) in rows {
        let drawn = matches!(sum, Sum::GasketLeast | Sum::GasketMost);
        checks.push(StrengthCheck {
            sum,
            fix: if of.within() { String::new() } else { fix.to_owned() },
            says: if drawn {
                told.clone()
            } else {
                format!("{told}; {uneven}")
            },
            of,
            factor: None,
        });
    }
}

/// The pitch of the lid screws against what a flange of that thickness bridges.
pub(super) fn screws(build: &Build, told: Told, checks: &mut Vec<StrengthCheck>) {
    if !build.is_screwed() || build.gasket <= Length::ZERO {
        return;
    }
    let thinner = build.bridged();
    let widest = widest_pitch(build.screw, thinner, SOFT_GASKET_FACTOR);
    let by = Limit {
        value: widest.as_mm(),
        formula: "P = 2 d + 6 t / (m + 0.5), m 0.5 for a soft gasket",
        source: "flange practice: a starting point",
        known: PITCH_KNOWN_BY,
    };
    let of = Utilisation::of("lid screws, pitch", build.screw_pitch.as_mm(), "mm", by);
    let fix = if of.within() {
        String::new()
    } else {
        "put screws closer, take a thicker lid and flange, stiffen the lid's edge, or try a lid with water first"
            .to_owned()
    };
    checks.push(StrengthCheck {
        sum: Sum::ScrewPitch,
        fix,
        says: format!(
            "{} through {}, {}; {}",
            thread_name(build.screw),
            told.sheet(build.material, thinner),
            if build.closing == Closing::Cap {
                "the cap"
            } else {
                "the thinner of lid and flange"
            },
            if build.pitch_by_rule && of.within() {
                "the pitch is that of the rule, in whole millimetres"
            } else if build.pitch_by_rule {
                "the pitch is the closest that is taken unasked"
            } else {
                "the pitch is your own"
            }
        ),
        of,
        factor: None,
    });
}

/// Folded walls, lips and skirts against the shortest that the usual die bends.
pub(super) fn folds(build: &Build, told: Told, height: Length, checks: &mut Vec<StrengthCheck>) {
    let Construction::Folded(folding) = build.construction else {
        return;
    };
    radius(build, told, folding.radius, checks);
    let mut legs = vec![("wall, folded", build.wall, height)];
    match build.closing {
        // A lip turned out is measured from the inside of the wall, which is the outside of its bend.
        Closing::Flange => legs.push(("lip, folded", build.wall, build.flange_out + build.wall)),
        Closing::Cap => legs.push(("cap's skirt, folded", build.lid, build.cap_deep)),
        Closing::Flat => {}
    }
    for (what, thickness, leg) in legs {
        let die = bend_limits::v_die(thickness);
        let by = Limit {
            value: die.least_flange().as_mm(),
            formula: "the larger of 2 t + r and 0.707 V, outside, against what is drawn",
            source: bend_limits::V_DIE_SOURCE,
            known: bend_limits::V_DIE_KNOWN_BY,
        };
        let of = Utilisation::at_least(what, leg.as_mm(), "mm", by);
        let fix = if of.within() {
            String::new()
        } else {
            "make it longer, take thinner sheet, or ask the shop for a narrower die".to_owned()
        };
        checks.push(StrengthCheck {
            sum: Sum::Fold,
            fix,
            says: format!(
                "a die of {} for sheet of {}",
                told.place(die.opening.as_mm(), 0),
                told.sheet(build.material, thickness)
            ),
            of,
            factor: None,
        });
    }
}

/// The radius of the bends against the least that the sheet is bent to, of tray and folded cap the one that asks for more.
fn radius(build: &Build, told: Told, drawn: Length, checks: &mut Vec<StrengthCheck>) {
    let cap = (build.closing == Closing::Cap).then_some(build.lid);
    for thickness in [Some(build.wall), cap].into_iter().flatten() {
        let Some(least) = bend_limits::least_radius(build.material, thickness) else {
            continue;
        };
        let by = Limit {
            value: least.radius.as_mm(),
            formula: "r at least so many thicknesses, 90 degrees, bent cold",
            source: least.source,
            known: least.known,
        };
        let of = Utilisation::at_least("bends, inside radius", drawn.as_mm(), "mm", by);
        let fix = if of.within() {
            ""
        } else {
            "enter a larger bend radius on the Boxes page, take a softer material or thinner sheet, or have the shop bend a test \
             strip across the grain and look at it for cracks"
        };
        let check = StrengthCheck {
            sum: Sum::BendRadius,
            fix: fix.to_owned(),
            says: format!(
                "{} of {} is bent to {} times its thickness at least, or it may crack along the bend",
                build.material.name(),
                told.sheet(build.material, thickness),
                least.times
            ),
            of,
            factor: None,
        };
        keep_worst(checks, check);
    }
}
