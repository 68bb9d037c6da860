//! The legs of the brackets that carry a box, bent by what their bolts get.

use enclosure::added::Reach;
use enclosure::strength::beam::{Leg, Root};
use enclosure::strength::bolt::group::Three;
use enclosure::strength::crash::Direction;
use enclosure::strength::force_n;
use geometry::Face;

use super::mount::Held;
use super::{StrengthCheck, Sum, Told, factor};
use crate::assumed::Build;
use crate::document::Figures;
use crate::evaluate::added::BracketMount;

/// What the bolts of one bracket get together, newtons.
#[derive(Clone, Copy, Debug, Default)]
struct Gets {
    /// Up; below zero down.
    up: f64,
    /// Away from the wall that it is welded to; below zero towards it.
    off: f64,
}

/// What the brackets get, each by its own bolts: as many for each, in the order of the brackets.
fn gets<'a>(shares: &'a [Three], mount: &'a BracketMount, walls: &'a [Face]) -> impl Iterator<Item = Gets> + 'a {
    let each = usize::try_from(mount.bolts_each.max(1)).unwrap_or(1);
    shares.chunks(each).zip(walls).map(|(bolts, wall)| {
        let sum = |axis: usize| bolts.iter().map(|share| share[axis]).sum::<f64>();
        let out = if wall.is_high() { 1.0 } else { -1.0 };
        Gets {
            up: sum(2),
            off: out * sum(wall.axis().index()),
        }
    })
}

/// The leg of a bracket that its bolts bend, pulled any way: the bracket that gets most by where the bolts and the centre of mass
/// are.
pub(super) fn brackets(
    (figures, lengths): (&Figures, Told),
    build: &Build,
    (mount, walls): (Option<BracketMount>, &[Face]),
    (held, mass_kg): (&Held, f64),
    checks: &mut Vec<StrengthCheck>,
) {
    let Some(mount) = mount else { return };
    let leg = Leg {
        width: mount.length,
        thickness: mount.thickness,
        lever: mount.lever,
    };
    let (root, formula) = match mount.reach {
        Reach::Web => (Root::Welded, "(F c + N d) / (b t^2 / 6) against yield strength"),
        Reach::Foot => (Root::Rolled, "F c / (b t^2 / 6) against yield strength"),
    };
    // From the middle of the level leg to the bolts in the one that hangs from it.
    let down = mount.thickness.half_down() + (mount.leg - mount.thickness).half_down();
    let stress = |gets: Gets| match mount.reach {
        Reach::Web => leg.stress_of_both_mpa(gets.up, gets.off, down),
        Reach::Foot => leg.stress_mpa(gets.up.abs()),
    };
    for direction in Direction::ALL {
        let Some(factor) = factor(figures, direction) else {
            continue;
        };
        let what = match direction {
            Direction::Up | Direction::Down => format!("brackets, bent {}", direction.name()),
            _ => format!("brackets, bent, pulled {}", direction.name()),
        };
        let shared = held.shared(direction, force_n(mass_kg, factor.g));
        let all = shared.iter().flatten().flat_map(|shares| gets(shares, &mount, walls));
        let worst = all.max_by(|one, other| stress(*one).total_cmp(&stress(*other)));
        let of = leg.against(
            &what,
            worst.map_or(f64::INFINITY, stress),
            formula,
            (build.material, root),
        );
        let fix = if of.within() {
            ""
        } else {
            "put in more brackets, thicker or longer ones, ones with a shorter arm (a narrower leg), or set them so that they \
             share more evenly"
        };
        let most = worst.map_or_else(
            || "their bolts lie in one line, and nothing keeps the box from turning about that".to_owned(),
            |gets| told(&mount, gets, lengths),
        );
        checks.push(StrengthCheck {
            sum: Sum::Brackets(direction),
            fix: fix.to_owned(),
            says: format!(
                "{} brackets of {}; {most}",
                mount.brackets,
                lengths.place(mount.length.as_mm(), 0)
            ),
            of,
            factor: Some(factor),
        });
    }
}

/// What the worst bracket gets, and where.
fn told(mount: &BracketMount, gets: Gets, lengths: Told) -> String {
    let root = match mount.reach {
        Reach::Web => "welded to the wall",
        Reach::Foot => "the angle's own",
    };
    // What pulls a bolt away from the wall presses the leg against the web.
    let off = match gets.off {
        off if mount.reach == Reach::Foot || off.abs() < LITTLE_N => String::new(),
        off if off < 0.0 => format!(", and {:.2} kN off its rail", -off / 1000.0),
        off => format!(", and {:.2} kN against its rail", off / 1000.0),
    };
    format!(
        "the one that gets most gets {:.2} kN {} at {} from the root, which is {root}{off}",
        gets.up.abs() / 1000.0,
        if gets.up < 0.0 { "down" } else { "up" },
        lengths.place(mount.lever.as_mm(), 1),
    )
}

/// Newtons that are not told.
const LITTLE_N: f64 = 5.0;
