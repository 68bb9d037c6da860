//! The floor of a box between what carries it, and the rails drawn under it.

use enclosure::added::Bar;
use enclosure::strength::beam::bar_utilisation;
use enclosure::strength::crash::{Direction, Factor};
use enclosure::strength::plate::{Edges, Panel};
use enclosure::strength::{Limit, Utilisation, force_n};
use enclosure::{Construction, Sheet};
use geometry::Axis;
use tape::Length;

use super::{StrengthCheck, Sum, factor, keep_worst, whole};
use crate::Figure;
use crate::assumed::Build;
use crate::document::Figures;
use crate::evaluate::added::FloorRailsResult;
use crate::evaluate::boxes::{BoxResult, ModuleResult};
use crate::evaluate::kind::KindResult;

/// How a floor is held, in words: by its walls, by the rails drawn under it, and by what the person says lies under it.
fn floor_held(build: &Build, plate: &Plate, spans: u32) -> String {
    let by = match build.construction {
        Construction::Welded => "welded to the walls round it",
        Construction::Folded(_) => "folded up into the walls round it",
        Construction::Framed(_) => "held by the angle round it",
    };
    if let Some(rails) = plate.rails {
        let plural = if rails.count == 1 { "" } else { "s" };
        return format!(
            "from middle to middle of what carries it, taken as resting on all sides: the floor is {by}, and lies on {} \
             rail{plural} drawn under it",
            rails.count
        );
    }
    match spans {
        0 | 1 => format!("each taken as resting on all sides: the floor is {by}, and nothing lies under it"),
        _ => {
            let members = spans - 1;
            let plural = if members == 1 { "" } else { "s" };
            format!(
                "each taken as resting on all sides: the floor is {by}, and lies on {members} frame member{plural} between"
            )
        }
    }
}

/// A plate of a floor with what stands on it.
pub(super) struct Plate {
    /// What it is called.
    name: &'static str,
    /// Length and width inside the steel.
    steel: [Length; 2],
    /// The modules on it.
    modules_g: i64,
    /// The rails drawn under it.
    rails: Option<FloorRailsResult>,
}

impl Plate {
    /// The sides of its widest span, in the order of [`Plate::steel`]: between the rails drawn under it, else between the
    /// frame members that make this many equal spans of its longer side.
    fn span(&self, spans: u32) -> [Length; 2] {
        let mut sides = self.steel;
        if let Some(rails) = self.rails {
            sides[1 - rails.along.index()] = rails.span;
        } else {
            let long = usize::from(sides[1] > sides[0]);
            sides[long] = Length::from_nm(sides[long].nm() / i64::from(spans.max(1)));
        }
        sides
    }
}

/// The floor; over a step a raised one as well, with the modules that stand wholly over it.
pub(super) fn floors(result: &BoxResult, steel: [Length; 2], kinds: &[KindResult]) -> Vec<Plate> {
    let whole = Plate {
        name: "floor",
        steel,
        modules_g: result.mass.modules_g,
        rails: result.added.floor_rails,
    };
    let (Some(step), Some(block)) = (result.step, result.step_inside()) else {
        return vec![whole];
    };
    let axis = Axis::ALL[step.axis()];
    let each = |m: &ModuleResult| {
        let kind = kinds.iter().find(|k| k.id == m.kind);
        kind.and_then(|k| k.mass_g).unwrap_or(0) * i64::from(m.count)
    };
    let over = |m: &&ModuleResult| block.lo()[axis] <= m.cuboid.lo()[axis] && m.cuboid.hi()[axis] <= block.hi()[axis];
    let raised_g: i64 = result.modules.iter().filter(over).map(each).sum();
    let [mut deep, mut raised] = [steel; 2];
    raised[step.axis()] = step.run;
    deep[step.axis()] -= step.run;
    vec![
        Plate {
            name: "deep floor",
            steel: deep,
            modules_g: whole.modules_g - raised_g,
            rails: whole.rails,
        },
        Plate {
            name: "raised floor",
            steel: raised,
            modules_g: raised_g,
            rails: None,
        },
    ]
}

/// A floor that rests on supports all round each span, under its own weight and that of the modules.
pub(super) fn floor(figures: &Figures, build: &Build, plate: &Plate, checks: &mut Vec<StrengthCheck>) {
    let (steel, modules_g) = (plate.steel, plate.modules_g);
    let spans = whole(figures.sure(Figure::FloorSpans));
    let span = plate.span(spans);
    let Ok(panel) = Panel::new(span, build.floor, Edges::Simple) else {
        return;
    };
    let sheet = Sheet {
        material: build.material,
        thickness: build.floor,
    };
    let area = steel[0] * steel[1];
    let mass_kg = crate::Grams(modules_g).kg() + sheet.grams(area) / 1000.0;
    let pressure = force_n(mass_kg, 1.0) / area.as_mm2();
    let [stress, gives] = panel.utilisations(&format!("{}, standing", plate.name), pressure, build.material);
    let sides = [span[0].max(span[1]), span[0].min(span[1])].map(Length::as_mm);
    let over = match (plate.rails, spans) {
        (Some(_), _) => "the floor, its widest span".to_owned(),
        (None, 0 | 1) => "1 span of".to_owned(),
        (None, _) => format!("{spans} spans of"),
    };
    let spans_words = format!(
        "{mass_kg:.1} kg spread evenly over {over} {:.0} x {:.0} mm, {}",
        sides[0],
        sides[1],
        floor_held(build, plate, spans)
    );
    let overstated = !gives.within();
    let doubt = |over: bool| {
        if over {
            "; it gives more than half its thickness, so the formula overstates"
        } else {
            ""
        }
    };
    let rail = if plate.rails.is_some() {
        "put in more floor rails, or take thicker sheet"
    } else {
        "put floor rails under it (on the Boxes page), enter the spans that frame members under it make, or take thicker sheet"
    };
    let fix = |of: &Utilisation| if of.within() { "" } else { rail }.to_owned();
    if let Some(factor) = factor(figures, Direction::Down) {
        floor_rail(build, plate, pressure, factor, checks);
        // Linear: pressed down on, everything is that many times as much.
        let limit = Limit {
            value: stress.limit,
            formula: stress.formula,
            source: stress.source,
            known: stress.known,
        };
        let pressed = Utilisation::of(
            format!("{}, pressed down on, stress", plate.name),
            stress.load * factor.g,
            "MPa",
            limit,
        );
        let check = StrengthCheck {
            sum: Sum::FloorPressed,
            fix: fix(&pressed),
            says: format!(
                "{spans_words}, at {} times their weight{}",
                factor.g,
                doubt(gives.share * factor.g > 1.0)
            ),
            of: pressed,
            factor: Some(factor),
        };
        keep_worst(checks, check);
    }
    for (sum, of) in [(Sum::FloorStress, stress), (Sum::FloorGives, gives)] {
        let check = StrengthCheck {
            sum,
            fix: fix(&of),
            says: format!("{spans_words}{}", doubt(overstated)),
            of,
            factor: None,
        };
        keep_worst(checks, check);
    }
}

/// The rail that bears most of the floor, from wall to wall, the floor above it left out.
fn floor_rail(build: &Build, plate: &Plate, pressure_mpa: f64, factor: Factor, checks: &mut Vec<StrengthCheck>) {
    let Some(rails) = plate.rails else { return };
    let [leg, thickness] = rails.angle;
    let force = pressure_mpa * (rails.bears * rails.length).as_mm2() * factor.g;
    let span = rails.length.as_mm();
    let modulus = Bar::Angle { leg }.section_modulus_mm3(thickness);
    let of = bar_utilisation(
        "floor rail, pressed down on",
        force * span / 8.0 / modulus,
        build.material,
    );
    let fix = if of.within() {
        ""
    } else {
        "take a larger or thicker angle, put in more rails, or lay them the shorter way"
    };
    checks.push(StrengthCheck {
        sum: Sum::FloorRail,
        fix: fix.to_owned(),
        says: format!(
            "{:.2} kN on the rail that bears most, {:.0} mm of floor across it, spread evenly over {span:.0} mm from wall to \
             wall, which are taken to carry its ends; the floor it is joined to is left out",
            force / 1000.0,
            rails.bears.as_mm()
        ),
        of,
        factor: Some(factor),
    });
}
