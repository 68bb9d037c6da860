//! The bolts and brackets that hold a box to the truck.

use enclosure::added::{Reach, spread_evenly};
use enclosure::strength::bolt::grade::Grade;
use enclosure::strength::bolt::group::{self, Three, shares_n};
use enclosure::strength::bolt::mount::{Mount, Pull};
use enclosure::strength::bolt::{BOLTS, Bolt, Pitch};
use enclosure::strength::crash::Direction;
use enclosure::strength::force_n;
use geometry::{Axis, Cuboid, Face, Point};
use tape::{Length, Units};

use super::{StrengthCheck, Sum, Told, factor, whole};
use crate::Figure;
use crate::document::Figures;
use crate::evaluate::bolt;
use crate::evaluate::box_words;
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kind::KindResult;
use crate::evaluate::vehicle::centre_of_box;

/// The metric bolt of the list with this thread in millimetres, or the next smaller one.
pub(super) fn listed(thread_mm: f64) -> &'static Bolt {
    let metric = BOLTS.iter().filter(|bolt| matches!(bolt.pitch, Pitch::Metric(_)));
    metric
        .take_while(|bolt| bolt.diameter.as_mm() <= thread_mm + 1e-9)
        .last()
        .unwrap_or(&BOLTS[0])
}

/// The bolt of the list that is entered; of a thread that is none, the next smaller metric one.
fn asked_bolt(figures: &Figures) -> &'static Bolt {
    let asked = figures.sure(Figure::MountBolt);
    bolt::by_figure(asked).unwrap_or_else(|| listed(asked))
}

/// The class or grade that is entered, else the usual one; that too for one that the thread is not made in, as an older file
/// may tell.
fn asked_grade(figures: &Figures) -> Grade {
    let [thread, class] = [Figure::MountBolt, Figure::MountGrade].map(|figure| figures.sure(figure));
    let is_asked = figures.is_given(Figure::MountGrade) && bolt::is_made(thread, class);
    let asked = bolt::grade_by_figure(class).filter(|_| is_asked);
    asked.unwrap_or_else(|| bolt::usual_grade(thread))
}

/// Diameter of the mount bolts.
pub(in crate::evaluate) fn bolt_of(figures: &Figures) -> Length {
    asked_bolt(figures).diameter
}

/// The bolts that hold a box.
pub(super) struct Held {
    pub(super) count: u32,
    down: Option<u32>,
    bolt: &'static Bolt,
    grade: Grade,
    /// How brackets reach out, when they are what the bolts hold.
    reach: Option<Reach>,
    /// Under the head, as sold; `None` while what they go through is not known.
    length: Option<Length>,
    /// Where the bolts are and which way they lie.
    at: Vec<Three>,
    along: Axis,
    /// Where the mass pulls.
    pub(super) centre: Three,
    pub(super) taken: String,
}

/// Which way a load pulls, in the cavity's frame; sideways is either way.
fn towards(direction: Direction) -> Vec<Three> {
    match direction {
        Direction::Front => vec![[-1.0, 0.0, 0.0]],
        Direction::Rear => vec![[1.0, 0.0, 0.0]],
        Direction::Side => vec![[0.0, -1.0, 0.0], [0.0, 1.0, 0.0]],
        Direction::Up => vec![[0.0, 0.0, 1.0]],
        Direction::Down => vec![[0.0, 0.0, -1.0]],
    }
}

/// The centre of mass of a box with its modules; while what a module weighs is not known, that of the empty box: of its parts
/// with a step, else the middle of the body.
fn centre(result: &BoxResult, body: &Cuboid, kinds: &[KindResult]) -> Three {
    match centre_of_box(result, kinds) {
        Some(centre) => centre.at_m.map(|at| at * 1000.0),
        None => match result.empty_middle {
            Some(of_parts) => millimetres(of_parts),
            None => Axis::ALL.map(|axis| (body.lo()[axis] + body.hi()[axis]).as_mm() / 2.0),
        },
    }
}

/// Bolts of which nobody told where they are: in two rows under the edges of the floor's longer sides, evenly spread.
fn in_two_rows(count: u32, body: &Cuboid) -> Vec<Three> {
    let size = body.size();
    let (long, short) = if size[Axis::Y] > size[Axis::X] {
        (Axis::Y, Axis::X)
    } else {
        (Axis::X, Axis::Y)
    };
    let rows = [(Face::low(short), count - count / 2), (Face::high(short), count / 2)];
    let row = |(face, count): (Face, u32)| {
        spread_evenly(count, size[long]).into_iter().map(move |along| {
            let mut at = body.lo();
            at[long] += along;
            at[short] = body.face(face);
            millimetres(at)
        })
    };
    rows.into_iter().flat_map(row).collect()
}

fn millimetres(at: Point) -> Three {
    at.0.map(Length::as_mm)
}

impl Held {
    /// `None` of a box that cannot be built.
    pub(super) fn of(figures: &Figures, result: &BoxResult, kinds: &[KindResult]) -> Option<Self> {
        let body = result.body.as_ref()?;
        let mount = result.added.mount;
        let asked = figures.sure(Figure::MountBolt);
        let bolt = asked_bolt(figures);
        let taken = match bolt::by_figure(asked) {
            Some(_) => String::new(),
            None => format!("no {asked} mm thread is on the list: {} is taken", bolt.name),
        };
        let count = mount.map_or_else(
            || whole(figures.sure(Figure::MountBolts)),
            |mount| mount.brackets * mount.bolts_each,
        );
        let reach = mount.map(|mount| mount.reach);
        let along = match (reach, result.added.seats.first()) {
            (Some(Reach::Web), Some(seat)) => seat.face.axis(),
            _ => Axis::Z,
        };
        let at = if reach.is_some() {
            result.added.mount_bolts.iter().copied().map(millimetres).collect()
        } else {
            in_two_rows(count, body)
        };
        Some(Self {
            count,
            reach,
            length: mount
                .zip(figures.get(Figure::RailThick))
                .and_then(|(mount, rail)| bolt.on_sale(bolt.needed_length(mount.thickness + Length::from_mm(rail)))),
            down: figures.get(Figure::HoldDownBolts).map(whole),
            bolt,
            grade: asked_grade(figures),
            at,
            along,
            centre: centre(result, body, kinds),
            taken,
        })
    }

    /// Those that something of the box takes: without brackets nothing is drilled for any.
    pub(super) fn bought(&self) -> Vec<(String, u32)> {
        if self.reach.is_none() {
            return Vec::new();
        }
        let of = |size: &str| format!("mount bolts {size} of {}", bolt::grade_words(self.grade));
        match (self.length, self.down) {
            (None, down) => vec![(of(self.bolt.name), self.count + down.unwrap_or(0))],
            (Some(length), down) => {
                let mut bought = vec![(of(&self.bolt.sized(length)), self.count)];
                bought.extend(down.map(|count| (of(self.bolt.name), count)));
                bought
            }
        }
    }

    /// `M10 of class 8.8`.
    fn each(&self) -> String {
        format!("{} of {}", self.bolt.name, bolt::grade_words(self.grade))
    }

    /// `4 M10 of class 8.8`; without brackets `none drawn` behind.
    pub(super) fn words(&self) -> String {
        let drawn = if self.reach.is_some() { "" } else { ", none drawn" };
        format!("{} {}{drawn}", self.count, self.each())
    }

    /// What the bolt that gets most gets across and along its thread, in newtons; `None` when nothing holds the box.
    fn worst(&self, mount: &Mount, direction: Direction, force_n: f64) -> Option<[f64; 2]> {
        let mut worst = [0.0; 2];
        let hardness = |[across, along]: [f64; 2]| mount.combined("", [across, along], "").share;
        for shares in self.shared(direction, force_n)? {
            for share in shares {
                let axis = self.along.index();
                let all = share.iter().map(|part| part * part).sum::<f64>();
                let across = (all - share[axis] * share[axis]).max(0.0).sqrt();
                // What presses a foot down is borne by what it stands on; of bolts that lie level either end may pull.
                let along = if self.along == Axis::Z {
                    share[axis].max(0.0)
                } else {
                    share[axis].abs()
                };
                if hardness([across, along]) > hardness(worst) {
                    worst = [across, along];
                }
            }
        }
        Some(worst)
    }

    /// What each bolt gets of a force that pulls that way, in the order of the bolts, for each way that is looked at; `None`
    /// when nothing holds the box.
    pub(super) fn shared(&self, direction: Direction, force_n: f64) -> Option<Vec<Vec<Three>>> {
        let ways = towards(direction).into_iter();
        ways.map(|way| shares_n(&self.at, self.centre, way.map(|part| part * force_n)))
            .collect()
    }

    /// Where the sum takes the bolts and the centre of mass to be.
    fn place_words(&self, told: Told) -> String {
        let count = f64::from(u32::try_from(self.at.len()).unwrap_or(u32::MAX).max(1));
        let middle = [0, 1, 2].map(|axis| self.at.iter().map(|bolt| bolt[axis]).sum::<f64>() / count);
        let off = [0, 1, 2].map(|axis| self.centre[axis] - middle[axis]);
        let places = if self.reach.is_some() {
            "bolts where the brackets have them"
        } else {
            "where the bolts are is not told: taken in two rows under the edges of the floor's long sides"
        };
        format!(
            "{places}; centre of mass {} {} their middle, {} off it along and {} across the truck",
            told.place(off[2].abs(), 0),
            if off[2] < 0.0 { "under" } else { "over" },
            told.place(off[0].abs(), 0),
            told.place(off[1].abs(), 0)
        )
    }

    pub(super) fn checks(&self, (figures, told): (&Figures, Told), mass_kg: f64, checks: &mut Vec<StrengthCheck>) {
        // Bolts through a web carry the box's weight, too; others only hold it down on what carries it.
        let through_web = self.reach == Some(Reach::Web);
        for direction in [
            Direction::Front,
            Direction::Rear,
            Direction::Side,
            Direction::Up,
            Direction::Down,
        ] {
            if direction == Direction::Down && !through_web {
                continue;
            }
            let Some(factor) = factor(figures, direction) else {
                continue;
            };
            let each = self.each();
            if let (Direction::Up, Some(count)) = (direction, self.down) {
                checks.push(self.held_down(count, (mass_kg, told.units), factor, &each));
                continue;
            }
            let mount = Mount::of(self.count, self.bolt, self.grade);
            let whole_n = force_n(mass_kg, factor.g);
            let worst = self.worst(&mount, direction, whole_n);
            let what = format!("mount bolts, {}", direction.name());
            let of = mount.combined(&what, worst.unwrap_or([f64::INFINITY; 2]), group::FORMULA);
            let fix = if of.within() {
                String::new()
            } else {
                "put in more bolts, thicker or of a higher class, set them farther apart or nearer to the height of the \
                 centre of mass, or make the box lighter"
                    .to_owned()
            };
            let gets = match worst {
                Some([across, along]) => format!(
                    "the bolt that gets most gets {:.2} kN across and {:.2} kN along its thread",
                    across / 1000.0,
                    along / 1000.0
                ),
                None => "its bolts lie in one line, and nothing keeps it from turning about that".to_owned(),
            };
            checks.push(StrengthCheck {
                sum: Sum::Bolts(direction),
                says: format!(
                    "{} pull like {} times their weight, {:.2} kN, on {} {each}; {gets}; {}",
                    box_words(mass_kg, told.units),
                    factor.g,
                    whole_n / 1000.0,
                    self.count,
                    self.place_words(told)
                ),
                of,
                factor: Some(factor),
                fix,
            });
        }
    }

    /// Bolts of their own that keep the box from lifting off: where they are is not told, so each takes an even share.
    fn held_down(
        &self,
        count: u32,
        (mass_kg, units): (f64, Units),
        factor: enclosure::strength::crash::Factor,
        each: &str,
    ) -> StrengthCheck {
        let mount = Mount::of(count, self.bolt, self.grade);
        let of = mount.utilisation("hold-down bolts, up", Pull::Tension, mass_kg, factor.g);
        let shared = mount.share(Pull::Tension, mass_kg, factor.g);
        let needs = shared.least_bolts.map_or_else(
            || format!("no number of {each} will do"),
            |least| format!("this rule needs {} {each}; yours has {count}", least.max(1)),
        );
        let fix = if of.within() {
            String::new()
        } else {
            format!("{needs}: put in more, thicker or of a higher class, or make the box lighter")
        };
        StrengthCheck {
            sum: Sum::Bolts(Direction::Up),
            says: format!(
                "{} pull like {} times their weight, {:.2} kN; {needs}",
                box_words(mass_kg, units),
                factor.g,
                shared.force_n / 1000.0
            ),
            of,
            factor: Some(factor),
            fix,
        }
    }
}
