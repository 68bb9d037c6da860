//! The floor of a box between what carries it, and the rails drawn under it.

use std::cell::LazyCell;

use enclosure::added::Bar;
use enclosure::strength::beam::{bar_utilisation, most_moment};
use enclosure::strength::crash::{Direction, Factor};
use enclosure::strength::plate::Panel;
use enclosure::strength::plate::standing::Patch;
use enclosure::strength::{GRAVITY, Limit, Utilisation, force_n};
use enclosure::{Construction, Sheet};
use geometry::{Axis, Cuboid};
use tape::Length;

use super::{StrengthCheck, Sum, Told, factor, keep_worst, whole};
use crate::Figure;
use crate::assumed::Build;
use crate::document::Figures;
use crate::evaluate::added::FloorRailsResult;
use crate::evaluate::boxes::{BoxResult, ModuleResult};
use crate::evaluate::kg_words;
use crate::evaluate::kind::KindResult;

/// How a floor is held, in words: by its walls, by the rails drawn under it, and by what the person says lies under it.
fn floor_held(build: &Build, plate: &Plate, spans: u32) -> String {
    let by = match build.construction {
        Construction::Welded => "welded to the walls round it",
        Construction::Folded(_) => "folded up into the walls round it",
        Construction::Framed(_) => "held by the angle round it",
    };
    if let Some(rails) = &plate.rails {
        let plural = if rails.count == 1 { "" } else { "s" };
        return format!(
            "from middle to middle of what carries it, taken as resting on all sides: the floor is {by}, and lies on {} \
             rail{plural} drawn under it",
            rails.count
        );
    }
    match spans {
        0 | 1 => format!("the span taken as resting on all sides: the floor is {by}, and nothing lies under it"),
        _ => {
            let members = spans - 1;
            let plural = if members == 1 { "" } else { "s" };
            format!(
                "the span taken as resting on all sides: the floor is {by}, and lies on {members} frame member{plural} between"
            )
        }
    }
}

/// A plate of a floor with what stands on it.
#[derive(Clone, PartialEq)]
pub(super) struct Plate {
    /// What it is called.
    name: &'static str,
    /// From where to where it reaches inside the steel, by level axis.
    over: [[Length; 2]; 2],
    /// What stands on it, in the same frame; at rest.
    stands: Vec<Patch>,
    /// The rails drawn under it.
    rails: Option<FloorRailsResult>,
}

/// The floors of a job that are summed already: boxes are often alike, and their sums are the longest of all.
#[derive(Default)]
pub(in crate::evaluate) struct Floors(Vec<(Plate, Vec<StrengthCheck>)>);

impl Floors {
    /// Adds the checks of a plate; of two on the same sum the worse stays. All plates are of boxes built alike.
    pub(super) fn checks(
        &mut self,
        (figures, told): (&Figures, Told),
        build: &Build,
        plate: Plate,
        checks: &mut Vec<StrengthCheck>,
    ) {
        let known = self.0.iter().position(|(known, _)| *known == plate);
        let at = known.unwrap_or_else(|| {
            let mut own = Vec::new();
            floor((figures, told), build, &plate, &mut own);
            self.0.push((plate, own));
            self.0.len() - 1
        });
        for check in &self.0[at].1 {
            keep_worst(checks, check.clone());
        }
    }
}

/// A part of a plate between what carries it, and what it does under what stands on it.
#[derive(Clone)]
struct Span {
    sides: [Length; 2],
    /// Of what stands on it and its own weight.
    mass_kg: f64,
    /// Stress and deflection.
    of: [Utilisation; 2],
}

impl Plate {
    /// From where to where its spans reach: between the rails drawn under it, else between the frame members that make this many
    /// equal spans of its longer side.
    fn spans(&self, spans: u32) -> Vec<[[Length; 2]; 2]> {
        let side = |axis: usize| self.over[axis][1] - self.over[axis][0];
        let (axis, mut lines) = if let Some(rails) = &self.rails {
            (1 - rails.along.index(), rails.places.clone())
        } else {
            let long = usize::from(side(1) > side(0));
            let count = i64::from(spans.max(1));
            let line = |n: i64| self.over[long][0] + Length::from_nm(side(long).nm() / count * n);
            (long, (1..count).map(line).collect())
        };
        lines.insert(0, self.over[axis][0]);
        lines.push(self.over[axis][1]);
        let span = |pair: &[Length]| {
            let mut over = self.over;
            over[axis] = [pair[0], pair[1]];
            over
        };
        lines.windows(2).map(span).collect()
    }

    /// What stands on a part of it and the sheet itself, told from the corner of that part.
    fn on(&self, over: [[Length; 2]; 2], sheet: Sheet) -> Vec<Patch> {
        let [from, to] = [0, 1].map(|end| over.map(|range| range[end].as_mm()));
        let mut on: Vec<Patch> = self.stands.iter().filter_map(|patch| patch.within(from, to)).collect();
        on.push(own_weight(over.map(|[lo, hi]| hi - lo), sheet));
        on
    }
}

/// Sheet as a patch over all of itself.
fn own_weight(sides: [Length; 2], sheet: Sheet) -> Patch {
    let area = sides[0] * sides[1];
    Patch {
        over_mm: sides.map(|side| [0.0, side.as_mm()]),
        pressure_mpa: force_n(sheet.grams(area) / 1000.0, 1.0) / area.as_mm2(),
    }
}

/// The floor; over a step a raised one as well, with the modules that stand wholly over it.
pub(super) fn floors(result: &BoxResult, inside: &Cuboid, liner: Length, kinds: &[KindResult]) -> Vec<Plate> {
    let steel = [Axis::X, Axis::Y].map(|axis| [Length::ZERO, inside.size()[axis] + liner * 2]);
    let stands = |m: &ModuleResult| {
        let kind = kinds.iter().find(|k| k.id == m.kind);
        let grams = kind.and_then(|k| k.mass_g).unwrap_or(0) * i64::from(m.count);
        let from = |axis: Axis| inside.lo()[axis] - liner;
        let ends = |axis: Axis| [m.cuboid.lo()[axis], m.cuboid.hi()[axis]].map(|end| (end - from(axis)).as_mm());
        let size = m.cuboid.size();
        Patch {
            over_mm: [Axis::X, Axis::Y].map(ends),
            pressure_mpa: force_n(crate::Grams(grams).kg(), 1.0) / (size[Axis::X] * size[Axis::Y]).as_mm2(),
        }
    };
    let whole = Plate {
        name: "floor",
        over: steel,
        stands: Vec::new(),
        rails: result.added.floor_rails.clone(),
    };
    let (Some(step), Some(block)) = (result.step, result.step_inside()) else {
        let stands = result.modules.iter().map(stands).collect();
        return vec![Plate { stands, ..whole }];
    };
    let axis = Axis::ALL[step.axis()];
    let over = |m: &&ModuleResult| block.lo()[axis] <= m.cuboid.lo()[axis] && m.cuboid.hi()[axis] <= block.hi()[axis];
    let (on_raised, on_deep): (Vec<&ModuleResult>, Vec<&ModuleResult>) = result.modules.iter().partition(over);
    let [mut deep, mut raised] = [steel; 2];
    let [lo, hi] = steel[step.axis()];
    let [on_low, on_high] = if step.is_high() {
        [[lo, hi - step.run], [hi - step.run, hi]]
    } else {
        [[lo + step.run, hi], [lo, lo + step.run]]
    };
    deep[step.axis()] = on_low;
    raised[step.axis()] = on_high;
    vec![
        Plate {
            name: "deep floor",
            over: deep,
            stands: on_deep.into_iter().map(stands).collect(),
            ..whole
        },
        Plate {
            name: "raised floor",
            over: raised,
            stands: on_raised.into_iter().map(stands).collect(),
            rails: None,
        },
    ]
}

/// The span of a floor that is stressed most, and the one that gives most.
fn worst(build: &Build, plate: &Plate, spans: u32) -> Option<[Span; 2]> {
    let sheet = Sheet {
        material: build.material,
        thickness: build.floor,
    };
    let what = format!("{}, standing", plate.name);
    let mut worst: Option<[Span; 2]> = None;
    for over in plate.spans(spans) {
        let sides = over.map(|[lo, hi]| hi - lo);
        let on = plate.on(over, sheet);
        let made = || {
            let of = Panel::stood_on(&what, sides, build.floor, &on, build.material).ok()?;
            let mass_kg = on.iter().map(Patch::force_n).sum::<f64>() / GRAVITY;
            Some(Span { sides, mass_kg, of })
        };
        let Some(span) = made() else { continue };
        match &mut worst {
            None => worst = Some([span.clone(), span]),
            Some(known) => {
                for (index, known) in known.iter_mut().enumerate() {
                    if span.of[index].share > known.of[index].share {
                        *known = span.clone();
                    }
                }
            }
        }
    }
    worst
}

/// The least sheet on sale that bears all that the floor is checked for, on the same spans, of which `now` are the worst with the
/// floor as it is; `None` where none does.
fn thick_enough(
    (build, told): (&Build, Told),
    plate: &Plate,
    spans: u32,
    now: &[Span; 2],
    factor: f64,
) -> Option<Length> {
    let shares = |[stressed, gives]: &[Span; 2]| [stressed.of[0].share * factor.max(1.0), gives.of[1].share];
    let mut known = (build.floor, shares(now));
    for floor in told.thicker(build.floor) {
        // A thicker sheet weighs more, but not by more than it is thicker: the moments grow by between nothing and that. So
        // most sheets are left out, or taken, by what a thinner one bears, and need no series.
        let (thinner, [stressed, gives]) = known;
        let times = floor.as_mm() / thinner.as_mm();
        if stressed > times.powi(2) || gives > times.powi(4) {
            continue;
        }
        if stressed <= times && gives <= times.powi(3) {
            return Some(floor);
        }
        known = (floor, shares(&worst(&Build { floor, ..*build }, plate, spans)?));
        if known.1.iter().all(|&share| share <= 1.0) {
            return Some(floor);
        }
    }
    None
}

/// The same as advice: `take a floor of 4 mm or more`.
fn thicker_words(
    (build, told): (&Build, Told),
    plate: &Plate,
    spans: u32,
    now: &[Span; 2],
    factor: f64,
) -> Option<String> {
    let floor = thick_enough((build, told), plate, spans, now, factor)?;
    // A tray is one sheet, floor and walls.
    let what = match build.construction {
        Construction::Folded(_) => "wall and floor, which are one sheet,",
        _ => "a floor",
    };
    Some(format!("take {what} of {} or more", told.sheet(build.material, floor)))
}

/// A floor that rests on supports all round each span, under its own weight and that of the modules where they stand.
fn floor((figures, told): (&Figures, Told), build: &Build, plate: &Plate, checks: &mut Vec<StrengthCheck>) {
    let spans = whole(figures.sure(Figure::FloorSpans));
    let Some(worst) = worst(build, plate, spans) else {
        return;
    };
    let held = floor_held(build, plate, spans);
    let words = |span: &Span| {
        let sides = [span.sides[0].max(span.sides[1]), span.sides[0].min(span.sides[1])].map(Length::as_mm);
        let over = match (&plate.rails, spans) {
            (None, 0 | 1) => "1 span of".to_owned(),
            (None, _) => format!("the one of {spans} spans that bears most,"),
            (Some(_), _) => "the span that bears most,".to_owned(),
        };
        format!(
            "{} on {over} {}, each module where it stands, {held}",
            kg_words(span.mass_kg, 1, told.units),
            told.sides(sides)
        )
    };
    let doubt = |over: bool| {
        if over {
            "; it gives more than half its thickness, so the formula overstates"
        } else {
            ""
        }
    };
    let pressed = factor(figures, Direction::Down);
    // Only where it is asked for: it looks at one sheet after the other.
    let more = LazyCell::new(|| {
        floor_fix(
            (build, told),
            plate,
            spans,
            &worst,
            pressed.map_or(1.0, |factor| factor.g),
        )
    });
    let fix = |of: &Utilisation| if of.within() { String::new() } else { more.clone() };
    if let Some(factor) = pressed {
        floor_rail((build, told), plate, factor, checks);
        // Linear: pressed down on, everything is that many times as much.
        let [stress, gives] = &worst[0].of;
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
        )
        .holding(gives.share * factor.g <= 1.0);
        let check = StrengthCheck {
            sum: Sum::FloorPressed,
            fix: fix(&pressed),
            says: format!(
                "{}, at {} times their weight{}",
                words(&worst[0]),
                factor.g,
                doubt(gives.share * factor.g > 1.0)
            ),
            of: pressed,
            factor: Some(factor),
        };
        keep_worst(checks, check);
    }
    for (index, sum) in [Sum::FloorStress, Sum::FloorGives].into_iter().enumerate() {
        let span = &worst[index];
        let of = span.of[index].clone();
        let check = StrengthCheck {
            sum,
            fix: fix(&of),
            says: format!("{}{}", words(span), doubt(!span.of[1].within())),
            of,
            factor: None,
        };
        keep_worst(checks, check);
    }
}

/// What would help a floor that bears too little.
fn floor_fix(how: (&Build, Told), plate: &Plate, spans: u32, now: &[Span; 2], factor: f64) -> String {
    let thicker = thicker_words(how, plate, spans, now, factor);
    match (thicker, plate.rails.is_some()) {
        (Some(thicker), true) => format!("{thicker}, or put in more floor rails"),
        (None, true) => "put in more floor rails".to_owned(),
        (Some(thicker), false) => format!(
            "{thicker}; or put floor rails under it (on the Boxes page; they are summed, too), or enter the spans that frame \
             members under it make"
        ),
        (None, false) => {
            "put floor rails under it (on the Boxes page; they are summed, too), or enter the spans that frame \
                          members under it make: no sheet on sale is thick enough"
                .to_owned()
        }
    }
}

/// What would help rails that bear too little: laid the other way only where that is shorter, and without them a floor that
/// bears it all.
fn rail_fix(how: (&Build, Told), plate: &Plate, rails: &FloorRailsResult, factor: f64) -> String {
    let side = |axis: usize| plate.over[axis][1] - plate.over[axis][0];
    let along = rails.along.index();
    let mut ways = vec!["take a larger or thicker angle", "put in more rails"];
    if side(1 - along) < side(along) {
        ways.push("lay them the shorter way");
    }
    let bare = Plate {
        rails: None,
        stands: plate.stands.clone(),
        ..*plate
    };
    let without = worst(how.0, &bare, 1)
        .and_then(|now| thicker_words(how, &bare, 1, &now, factor))
        .map_or(String::new(), |floor| format!("; or leave them out and {floor}"));
    let last = ways.pop().unwrap_or_default();
    format!("{} or {last}{without}", ways.join(", "))
}

/// The rail that is bent most by what stands on its half of the span on each side, from wall to wall, the floor above it left out.
fn floor_rail((build, told): (&Build, Told), plate: &Plate, factor: Factor, checks: &mut Vec<StrengthCheck>) {
    let Some(rails) = &plate.rails else { return };
    let [leg, thickness] = rails.angle;
    let (along, across) = (rails.along.index(), 1 - rails.along.index());
    let sheet = Sheet {
        material: build.material,
        thickness: build.floor,
    };
    let mut lines = rails.places.clone();
    lines.insert(0, plate.over[across][0]);
    lines.push(plate.over[across][1]);
    let span_mm = (plate.over[along][1] - plate.over[along][0]).as_mm();
    let loaded = lines.windows(3).map(|three| {
        let mut over = plate.over;
        over[across] = [0, 1].map(|end| three[end] + (three[end + 1] - three[end]).half_down());
        let loads: Vec<([f64; 2], f64)> = plate
            .on(over, sheet)
            .iter()
            .map(|patch| (patch.over_mm[along], patch.force_n() * factor.g))
            .collect();
        let force_n = loads.iter().map(|(_, force)| force).sum::<f64>();
        (most_moment(span_mm, &loads), force_n, over[across][1] - over[across][0])
    });
    let Some((moment, force_n, bears)) = loaded.max_by(|one, other| one.0.total_cmp(&other.0)) else {
        return;
    };
    let of = bar_utilisation(
        "floor rail, pressed down on",
        moment / Bar::Angle { leg }.section_modulus_mm3(thickness),
        "M / W, M of what stands on it where it stands, against yield strength",
        build.material,
    );
    let fix = if of.within() {
        String::new()
    } else {
        rail_fix((build, told), plate, rails, factor.g)
    };
    checks.push(StrengthCheck {
        sum: Sum::FloorRail,
        fix,
        says: format!(
            "{:.2} kN on the rail that is bent most, of {} of floor across it, each module where it stands, over {} from \
             wall to wall, which are taken to carry its ends; the floor it is joined to is left out",
            force_n / 1000.0,
            told.place(bears.as_mm(), 0),
            told.place(span_mm, 0)
        ),
        of,
        factor: Some(factor),
    });
}
