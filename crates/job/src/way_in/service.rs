//! The service trial: what comes off before one module comes out.

use geometry::Face;
use tape::Length;
use tape::show::Style;

use super::in_place::{self, Barred};
use super::loading::{Held, Lifted, Open};
use super::scene::{Scene, swept};
use super::{LID, Motion, Moved, Question, Way, WaysIn, What};
use crate::evaluate::leaves;
use crate::{BedName, End, Evaluation, Id, LinkResult, SeatResult, WiringResult};

/// A box that comes out of its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutFirst {
    /// Its place in the question.
    pub at: usize,
    /// Its name.
    pub name: String,
    /// What it weighs with its modules, in grams.
    pub mass_g: i64,
    /// The cables that are off before it comes out: those that leave it, and those at the pack's ends at its wall.
    pub cables: Vec<String>,
    /// What of it was put on in its place, and comes off there again; the lid is told by itself.
    pub without: Vec<String>,
    /// Whether it goes in, and so comes out, without its lid.
    pub open: bool,
    /// The opening it comes out by, and its way in where that is more than straight, in words; `None` when no way is known.
    pub by: Option<(Face, Option<String>)>,
}

/// What comes off before one module comes out, in that order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Service {
    /// The module or stack.
    pub label: String,
    /// The names of the tested units in it.
    pub units: Vec<String>,
    /// Its box.
    pub box_name: String,
    /// How lengths are printed.
    pub style: Style,
    /// What bars lid and module where the box stands, the lid first; empty when the lid comes off there and the module
    /// past everything.
    pub not_in_place: Vec<Barred>,
    /// What is too low over lid or module where the box is let down to; `None` when nothing is, or it does not come out
    /// under the truck.
    pub low_under: Option<Barred>,
    /// How the bed has to stand before anything else; `None` where it may stay on.
    pub bed: Option<BedName>,
    /// The boxes that come out, in that order, its own last; none when its lid opens in place.
    pub boxes: Vec<OutFirst>,
    /// Whether no way is known by which its own box comes out.
    pub no_way: bool,
    /// Modules that come out before it, in that order: label and grams.
    pub before: Vec<(String, Option<i64>)>,
    /// What holds it in its open box.
    pub held: Option<Held>,
    /// How many hold-down bars lie over it and over those that come out before it.
    pub bars: usize,
    /// The monitoring channels on its terminals, and on those of the modules that come out before it.
    pub taps: Vec<String>,
    /// The links, leads and cables on the same terminals. Those that leave a box that comes out are among its cables too.
    pub links: Vec<String>,
    /// What it weighs, in grams; `None` while nobody entered it.
    pub mass_g: Option<i64>,
}

/// A name that is none of a module's.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{given:?} names no module; there are {allowed}")]
pub struct NoUnit {
    /// What was given.
    pub given: String,
    /// What there is.
    pub allowed: String,
    /// One that there is.
    pub example: Option<String>,
}

impl NoUnit {
    /// How to mend it.
    pub fn mend(&self) -> String {
        match &self.example {
            Some(label) => {
                let number = label.trim_start_matches(['M', 'S']);
                format!("write it as {number} or {label}, or by the name of a tested unit that is built in")
            }
            None => "lay out modules in a box first".to_owned(),
        }
    }
}

/// The module or stack that a person names: by its number, its label, or what is written on a tested unit built in.
///
/// # Errors
///
/// [`NoUnit`] with what there is.
pub fn unit_named(ways: &WaysIn, given: &str) -> Result<Id, NoUnit> {
    let named = given.trim();
    let all = || ways.question.loading.iter().flat_map(|open| &open.modules);
    let is = |module: &&Lifted| {
        let label = module.label.as_str();
        let number = label.trim_start_matches(['M', 'S']);
        let of_stack = named.split_once('.').map_or(named, |(stack, _)| stack);
        label.eq_ignore_ascii_case(of_stack) || number == named
    };
    // Units may have numbers for names: a number is the module's.
    let by_unit = |module: &&Lifted| module.units.iter().any(|unit| unit == named);
    let found = all().find(is).or_else(|| all().find(by_unit));
    found.map(|module| module.id).ok_or_else(|| {
        let labels: Vec<&str> = all().map(|module| module.label.as_str()).collect();
        NoUnit {
            given: given.to_owned(),
            allowed: in_runs(&labels),
            example: labels.first().map(|&label| label.to_owned()),
        }
    })
}

/// Labels with those whose numbers follow each other taken together: `M1 to M9, M12, M13`.
fn in_runs(labels: &[&str]) -> String {
    let follows = |one: &str, next: &str| {
        let parts = |label: &str| {
            let at = label.find(|c: char| c.is_ascii_digit())?;
            Some((label[..at].to_owned(), label[at..].parse::<u32>().ok()?))
        };
        parts(one)
            .zip(parts(next))
            .is_some_and(|((kind, number), next)| (kind, number.saturating_add(1)) == next)
    };
    let runs = labels.chunk_by(|one, next| follows(one, next)).map(|run| match *run {
        [first, _, .., last] => format!("{first} to {last}"),
        _ => run.join(", "),
    });
    match labels {
        [] => "none in a box".to_owned(),
        _ => runs.collect::<Vec<_>>().join(", "),
    }
}

impl WaysIn {
    /// What comes off before a module or stack comes out; `None` when it is in no box of the question.
    pub fn take_out(&self, evaluation: &Evaluation, module: Id) -> Option<Service> {
        let of = |open: &Open| open.modules.iter().position(|m| m.id == module);
        let (at, unit) = self
            .question
            .loading
            .iter()
            .enumerate()
            .find_map(|(at, open)| Some((at, of(open)?)))?;
        let open = &self.question.loading[at];
        let lifted = &open.modules[unit];
        let not_in_place = barred(&self.question, at, lifted);
        let mut out_first = Vec::new();
        if !not_in_place.is_empty() {
            let first = self.boxes[at].after.iter().copied();
            out_first = first.chain([at]).collect();
        }
        let bed = self.bed_first(at, lifted, &out_first);
        let mut boxes = out_first.iter().map(|&at| self.out(evaluation, at)).collect::<Vec<_>>();
        told_once(&mut boxes);
        let with_room = open.over(true).before(unit);
        let (before, held) = match with_room {
            Ok(before) => (before, None),
            Err(room) => match open.over(false).before(unit) {
                Ok(before) => (before, Some(open.held(&room, true))),
                Err(solid) => (Vec::new(), Some(open.held(&solid, false))),
            },
        };
        let moved: Vec<usize> = before.iter().copied().chain([unit]).collect();
        let mut out: Vec<Id> = before.iter().map(|&i| open.modules[i].id).collect();
        out.push(module);
        Some(Service {
            label: lifted.label.clone(),
            units: lifted.units.clone(),
            box_name: open.name.clone(),
            style: self.question.style,
            low_under: self.low_under(at, lifted).filter(|_| !not_in_place.is_empty()),
            no_way: !boxes.is_empty() && self.boxes[at].outcome.way().is_none(),
            not_in_place,
            bed,
            boxes,
            before: before
                .iter()
                .map(|&i| (open.modules[i].label.clone(), open.modules[i].mass_g))
                .collect(),
            held,
            bars: open.bars_over(&moved),
            taps: taps(evaluation, &out),
            links: links(evaluation, &out),
            mass_g: lifted.mass_g,
        })
    }

    /// How the bed has to stand for all this, where that is not as the truck drives: the lid or the module is barred under it
    /// where the box stands, or a box that comes out first meets it.
    fn bed_first(&self, at: usize, lifted: &Lifted, out_first: &[usize]) -> Option<BedName> {
        let on = self.question.with_bed_on()?;
        let meets = |&at: &usize| {
            let way = self.boxes[at].outcome.way();
            way.is_some_and(|way| is_under_the_bed(way, &on.boxes[at], on))
        };
        let rests_on_it = if out_first.is_empty() {
            !barred(on, at, lifted).is_empty()
        } else {
            out_first.iter().any(meets)
        };
        rests_on_it.then_some(self.question.bed)
    }

    /// What is too low over lid or module where the box is when it has come down under the truck.
    fn low_under(&self, at: usize, lifted: &Lifted) -> Option<Barred> {
        let way = self.boxes[at].outcome.way()?;
        let down = way.steps.first().filter(|_| way.through == Face::Bottom)?.by;
        let gone = &self.boxes[at].after;
        let others: Vec<usize> = (0..self.boxes.len())
            .filter(|other| *other != at && !gone.contains(other))
            .collect();
        let scene = Scene::of(&self.question, at, &others);
        in_place::low_over(&scene, &self.question.loading[at], lifted, down)
    }

    fn out(&self, evaluation: &Evaluation, at: usize) -> OutFirst {
        let moved = &self.question.boxes[at];
        let way = self.boxes[at].outcome.way();
        let more = |way: &Way| (way.motion != Motion::Straight).then(|| way.motion_words(self.question.style));
        OutFirst {
            at,
            name: moved.name.clone(),
            mass_g: moved.mass_g,
            cables: cables(evaluation, moved.id),
            without: way.map_or_else(Vec::new, |way| {
                let fitted = way.without.iter().filter(|name| *name != LID);
                fitted.cloned().collect()
            }),
            open: way.is_some_and(|way| way.off.lid),
            by: way.map(|way| (way.through, more(way))),
        }
    }
}

/// What bars the lid where the box stands, or the module, all other boxes in their places.
fn barred(question: &Question, at: usize, lifted: &Lifted) -> Vec<Barred> {
    let others: Vec<usize> = (0..question.boxes.len()).filter(|&other| other != at).collect();
    let scene = Scene::of(question, at, &others);
    let module = in_place::module_barred(&scene, &question.loading[at], lifted);
    in_place::lid_barred(&scene).into_iter().chain(module).collect()
}

/// Whether a box comes by a way that the bed closes where it is when the truck drives. The box is taken as the block round it all
/// along that way.
fn is_under_the_bed(way: &Way, moved: &Moved, on: &Question) -> bool {
    let things = on.things.iter().filter(|(world, _)| *world == moved.world);
    let bed = things.map(|(_, thing)| thing).chain(&moved.walls);
    let mut bed = bed.filter(|thing| matches!(thing.what, What::Bed(_) | What::Wall(Face::Top)));
    let swept = swept(moved, way, Length::ZERO);
    way.through == Face::Top || bed.any(|thing| swept.is_some_and(|swept| swept.overlaps(&thing.sure)))
}

/// A cable from box to box is off once the first of the two comes out.
pub(super) fn told_once(boxes: &mut [OutFirst]) {
    let mut off: Vec<String> = Vec::new();
    for one in boxes {
        one.cables.retain(|cable| !off.contains(cable));
        off.extend_from_slice(&one.cables);
    }
}

/// Whatever ends at any of these modules, cables with it: a module comes out of no box with a lead on it.
fn links(evaluation: &Evaluation, modules: &[Id]) -> Vec<String> {
    let ends_here = |wiring: &WiringResult, end| {
        let seat = seat_of(wiring, end);
        seat.is_some_and(|seat| modules.contains(&seat.seat.placed))
    };
    named(evaluation, |wiring, link| {
        [link.from, link.to].into_iter().any(|end| ends_here(wiring, end))
    })
}

/// The cables that are off before a box comes out: those that leave it by its wall, and all that end at the pack's ends where
/// those are at its wall, for what is bolted to a box comes out with it.
fn cables(evaluation: &Evaluation, battery_box: Id) -> Vec<String> {
    named(evaluation, |wiring, link| {
        let ends = [link.from, link.to];
        let at_its_wall =
            wiring.exit_box == Some(battery_box) && ends.iter().any(|end| matches!(end, End::Exit { .. }));
        leaves(wiring, link, battery_box) || at_its_wall
    })
}

/// The monitoring channels on the terminals of these modules.
fn taps(evaluation: &Evaluation, modules: &[Id]) -> Vec<String> {
    let of_wiring = |wiring: &WiringResult| {
        let on_these = wiring
            .taps
            .iter()
            .filter(|tap| modules.contains(&wiring.seats[tap.at.0].seat.placed));
        let words = on_these.map(|tap| {
            let (seat, plus) = tap.at;
            let end = wiring.end_name(End::Terminal { seat, plus });
            format!("channel {} at {end}", tap.channel)
        });
        words.collect::<Vec<String>>()
    };
    wirings(evaluation).flat_map(of_wiring).collect()
}

/// The module that an end is on.
fn seat_of(wiring: &WiringResult, end: End) -> Option<&SeatResult> {
    match end {
        End::Terminal { seat, .. } => wiring.seats.get(seat),
        End::Exit { .. } | End::Drive { .. } => None,
    }
}

fn wirings(evaluation: &Evaluation) -> impl Iterator<Item = &WiringResult> {
    evaluation
        .electrics()
        .filter_map(|(_, electric)| electric.wiring.as_ref())
}

/// The links that this holds of, with their ends in words.
fn named(evaluation: &Evaluation, is: impl Fn(&WiringResult, &LinkResult) -> bool) -> Vec<String> {
    let of_wiring = |wiring: &WiringResult| {
        let words = wiring.links.iter().filter(|link| is(wiring, link)).map(|link| {
            format!(
                "{} {}: {} to {}",
                link.kind.name(),
                link.number,
                wiring.end_name(link.from),
                wiring.end_name(link.to)
            )
        });
        words.collect::<Vec<String>>()
    };
    wirings(evaluation).flat_map(of_wiring).collect()
}
