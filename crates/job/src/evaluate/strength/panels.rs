//! The rivets or the adhesive that hold the panels of a box in its frame of angle.

use enclosure::strength::crash::{Direction, Factor};
use enclosure::strength::joint::{self, Allowed};
use enclosure::strength::{Utilisation, force_n};
use enclosure::{Built, Construction, Held, Purpose, Role};
use geometry::Axis;

use super::{OWN, StrengthCheck, Sum, factor, keep_worst};
use crate::Figure;
use crate::assumed::Build;
use crate::document::Figures;
use crate::evaluate::boxes::BoxResult;

/// Each sort of panel, pushed out of the frame by all the modules behind it: as if its own joint alone held them.
pub(super) fn checks(
    figures: &Figures,
    build: &Build,
    result: &BoxResult,
    made: &Built,
    checks: &mut Vec<StrengthCheck>,
) {
    let Construction::Framed(skeleton) = build.construction else {
        return;
    };
    let modules_kg = crate::Grams(result.mass.modules_g).kg();
    for panel in &made.parts {
        let Some((name, direction, factor)) = pushed(figures, made, panel.role) else {
            continue;
        };
        let Some((_, area)) = made.shared.iter().find(|(role, _)| *role == panel.role) else {
            continue;
        };
        let panel_kg = panel.grams() / 1000.0;
        let force = force_n(modules_kg + panel_kg, factor.g);
        let behind = format!(
            "{modules_kg:.1} kg of modules behind it and its own {panel_kg:.1} kg push like {} times their weight, {:.2} kN",
            factor.g,
            force / 1000.0
        );
        let (sum, of, on, fix) = match skeleton.held {
            Held::Riveted { hole, .. } => {
                let count = u32::try_from(panel.holes_for(Purpose::Rivet).count()).unwrap_or(u32::MAX);
                let allowed = allowed(figures, Figure::RivetBears, joint::RIVET_MPA);
                let of = joint::rivets(&format!("rivets of the {name}"), force, count, hole, allowed);
                let on = format!("on {count} rivets, each an even share");
                let fix = "put rivets closer, or take thicker or harder ones and enter what they are allowed";
                (Sum::Rivets(direction), of, on, fix)
            }
            Held::Bonded => {
                let allowed = allowed(figures, Figure::BondBears, joint::BOND_MPA);
                let of = joint::bond(&format!("bond of the {name}"), force, *area, allowed);
                let on = format!("over {:.0} cm2 shared with the angle", area.as_mm2() / 100.0);
                let fix = "take a wider angle, rivet as well, or a stronger adhesive and enter what it is allowed";
                (Sum::Bond(direction), of, on, fix)
            }
        };
        // Of a pair that a hole in one of them has parted, the one that bears less counts.
        keep_worst(checks, check(sum, of, factor, format!("{behind}, {on}; {TAKEN}"), fix));
    }
}

const TAKEN: &str =
    "as if the joint of this panel alone held them: the angle behind it, friction, bars and dividers are left out";

fn check(sum: Sum, of: Utilisation, factor: Factor, says: String, fix: &str) -> StrengthCheck {
    let fix = if of.within() { String::new() } else { fix.to_owned() };
    StrengthCheck {
        sum,
        of,
        factor: Some(factor),
        says,
        fix,
    }
}

/// What a panel is called, and which way it is pushed hardest; `None` of what is no panel.
fn pushed(figures: &Figures, made: &Built, role: Role) -> Option<(&'static str, Direction, Factor)> {
    let along = if made.shell[1] > made.shell[0] {
        Axis::Y
    } else {
        Axis::X
    };
    let (name, axis) = match role {
        Role::Floor => ("floor", Axis::Z),
        Role::LongSide => ("long sides", if along == Axis::X { Axis::Y } else { Axis::X }),
        Role::End => ("ends", along),
        _ => return None,
    };
    let ways: &[Direction] = match axis {
        Axis::X => &[Direction::Front, Direction::Rear],
        Axis::Y => &[Direction::Side],
        Axis::Z => &[Direction::Down],
    };
    let factors = ways.iter().filter_map(|&way| Some((way, factor(figures, way)?)));
    let (way, factor) = factors.reduce(|most, other| if other.1.g > most.1.g { other } else { most })?;
    Some((name, way, factor))
}

/// What a joint is allowed: as entered, else as usual. One who enters what is usual anyway rests on the same source.
fn allowed(figures: &Figures, figure: Figure, usual: Allowed) -> Allowed {
    let mpa = figures.sure(figure);
    let is_usual = (mpa - usual.mpa).abs() < 1e-9;
    Allowed {
        mpa,
        source: if is_usual { usual.source } else { OWN },
        known: usual.known,
    }
}
