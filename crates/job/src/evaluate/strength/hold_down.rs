//! The bars over the modules, the studs or rods at their ends and the lugs these pull at.

use enclosure::added::Fixed;
use enclosure::strength::beam::{Leg, Root, bar_utilisation};
use enclosure::strength::bolt::grade::Grade;
use enclosure::strength::bolt::mount::{Mount, Pull};
use enclosure::strength::crash::Direction;
use enclosure::strength::force_n;

use super::mount::listed;
use super::{StrengthCheck, Sum, Told, factor};
use crate::Figure;
use crate::assumed::Build;
use crate::document::Figures;
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kg_words;

const BOTH_AT_ONCE: &str =
    "up m g a / 2 and level m g a / 2 at once: Fv / Fv,Rd + Ft / (1.4 Ft,Rd), and Ft / Ft,Rd, against 1";

/// Nothing but the bars is taken to hold the modules: fit, dividers and friction are left out.
pub(super) fn checks(
    (figures, told): (&Figures, Told),
    build: &Build,
    result: &BoxResult,
    checks: &mut Vec<StrengthCheck>,
) {
    let Some(held) = result.added.held_down.as_ref().filter(|held| held.mass_kg > 0.0) else {
        return;
    };
    let bolt = listed(held.thread.as_mm());
    let grade = grade(figures);
    let studs = Mount::of(2, bolt, grade);
    let name = match held.fixed {
        Fixed::Lugs { .. } => "hold-down studs",
        Fixed::Rods => "hold-down rods",
    };
    let under = format!(
        "{} under the bar that holds most of {}{}",
        kg_words(held.mass_kg, 1, told.units),
        held.bars,
        held.not_held_words()
    );
    let each = format!("{} of class {}", bolt.name, grade.name());
    let level = [Direction::Front, Direction::Rear, Direction::Side]
        .into_iter()
        .filter_map(|direction| Some((direction, factor(figures, direction)?)))
        .reduce(|most, other| if other.1.g > most.1.g { other } else { most });
    let mut push = |sum, of: enclosure::strength::Utilisation, factor, says: String, fix: &str| {
        let fix = if of.within() { String::new() } else { fix.to_owned() };
        checks.push(StrengthCheck {
            sum,
            of,
            factor: Some(factor),
            says,
            fix,
        });
    };
    let thicker = "take thicker studs or of a higher class, or more bars";
    if let Some(up) = factor(figures, Direction::Up) {
        let whole_n = force_n(held.mass_kg, up.g);
        let pulled = format!("{under}, {:.2} kN up", whole_n / 1000.0);
        let span = held.span.as_mm();
        let of = bar_utilisation(
            "hold-down bar, bent up",
            whole_n * span / 8.0 / held.bar.section_modulus_mm3(held.thickness),
            "F L / 8 / W against yield strength",
            build.material,
        );
        let says = format!("{pulled}, spread evenly over {} from stud to stud", told.place(span, 0));
        push(
            Sum::HoldBar,
            of,
            up,
            says,
            "take a thicker bar or an angle, or more bars",
        );
        let of = studs.utilisation(&format!("{name}, up"), Pull::Tension, held.mass_kg, up.g);
        let sideways = match held.fixed {
            Fixed::Rods => "; rods hold up only: level pulls are left to the walls and dividers, and not summed",
            Fixed::Lugs { .. } => "",
        };
        let says = format!("{pulled}, on 2 {each}{sideways}");
        push(Sum::HoldStuds(Direction::Up), of, up, says, thicker);
        if let (Fixed::Lugs { thickness, .. }, Some(lever)) = (held.fixed, held.lug_lever) {
            let lug = Leg {
                width: held.bar.width(),
                thickness,
                lever,
            };
            let each_n = whole_n / 2.0;
            let of = lug.utilisation("hold-down lug, bent up", each_n, build.material, Root::Welded);
            let says = format!(
                "{pulled}, half of it at each lug, {} from its root at the wall, over {} of angle; its weld is not summed",
                told.place(lug.lever.as_mm(), 1),
                told.place(lug.width.as_mm(), 0)
            );
            push(
                Sum::HoldLug,
                of,
                up,
                says,
                "take a thicker or narrower angle, a wider bar, or more bars",
            );
            if let Some((direction, level)) = level {
                let [along_n, across_n] = [up, level].map(|factor| force_n(held.mass_kg, factor.g) / 2.0);
                let of = studs.combined(&format!("{name}, both at once"), [across_n, along_n], BOTH_AT_ONCE);
                let says = format!(
                    "{pulled} with {:.2} kN {} on 2 {each}: harsher than either alone",
                    across_n * 2.0 / 1000.0,
                    direction.name()
                );
                push(Sum::HoldStudsAtOnce, of, up, says, thicker);
            }
        }
    }
    if let (Fixed::Lugs { .. }, Some((direction, level))) = (held.fixed, level) {
        let what = format!("{name}, {}", direction.name());
        let of = studs.utilisation(&what, Pull::Shear, held.mass_kg, level.g);
        let says = format!(
            "{under}, {:.2} kN level, on 2 {each}, as if nothing but the bar held them: fit, dividers and friction are left out",
            force_n(held.mass_kg, level.g) / 1000.0
        );
        push(Sum::HoldStuds(direction), of, level, says, thicker);
    }
}

/// The class entered for the studs: the strongest of the list that is not above it.
pub(super) fn grade(figures: &Figures) -> Grade {
    match figures.sure(Figure::HoldDownClass) {
        class if class >= 10.9 => Grade::Class10_9,
        class if class >= 8.8 => Grade::Class8_8,
        _ => Grade::Class4_6,
    }
}
