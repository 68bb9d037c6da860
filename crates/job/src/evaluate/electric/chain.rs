//! From the seats of a kind to its wiring: the question that the order answers, and every link with its figures.

use std::collections::BTreeMap;

use geometry::{Axis, Face, Point};
use pack::arrangement::Arrangement;
use pack::conductor::Section;
use pack::wiring::{self, Joined as ChainJoined, Module, Order, Place, Pole, Question, fitting};
use pack::{Amps, Ohms, Volts};
use tape::Length;

use super::seats::{self, SeatResult};
use super::wiring::{
    BarLength, Disconnect, End, Fitting, FittingStep, LinkKind, LinkResult, Neighbour, OrderFrom, Tap, WiringResult,
};
use crate::document::{Figure, Joined, Seat};
use crate::evaluate::boxes::BoxResult;
use crate::evaluate::kind::KindResult;
use crate::{Job, assumed};

/// How near bodies are neighbours: a dropped spanner bridges it.
const REACH: Length = Length::mm(60);

/// The most modules that are wired: far more than any truck holds, and every key press works the links out again.
const MOST: usize = 256;

/// Everything that the order of a kind's wiring is worked out from.
pub(crate) struct Chain {
    /// The seats, in the order of the boxes.
    pub(crate) seats: Vec<SeatResult>,
    /// The same for the search: terminals as built in, none turned.
    pub(crate) modules: Vec<Module>,
    pub(crate) locks: Vec<[usize; 2]>,
    pub(crate) exits: [Option<Place>; 2],
    /// The box that both leads leave by.
    pub(crate) exit_box: Option<crate::Id>,
    pub(crate) arrangement: Arrangement,
    pub(crate) joined: Joined,
    /// Whether all cavities have a place in the truck.
    pub(crate) known: bool,
}

impl Chain {
    /// The chain of a kind, when as many modules are placed as the arrangement takes.
    pub(crate) fn of(job: &Job, kind: &KindResult, boxes: &[BoxResult], arrangement: Arrangement) -> Option<Self> {
        let count = arrangement.modules() as usize;
        if count == 0 || count > MOST || count != kind.placed as usize {
            return None;
        }
        let (origins, known) = seats::cavity_origins(job, boxes);
        let seats = seats::of_kind(job, kind, boxes, &origins);
        if seats.len() != count {
            return None;
        }
        let modules = seats.iter().map(module).collect();
        let at = |seat: Seat| seats.iter().position(|s| s.seat == seat);
        let locks = job
            .wiring
            .locks
            .iter()
            .filter_map(|l| Some([at(l[0])?, at(l[1])?]))
            .collect();
        let joined = assumed::joined(&job.electrics);
        // Strings side by side have to meet somewhere: at the first box, until the person says where.
        let meet = (joined == Joined::Strings && arrangement.parallel > 1).then_some(seats[0].battery_box);
        let exit = exit(job, boxes, &origins, meet);
        Some(Self {
            modules,
            locks,
            exits: [exit.map(|(_, at)| at); 2],
            exit_box: exit.map(|(battery_box, _)| battery_box),
            arrangement,
            joined,
            known,
            seats,
        })
    }

    pub(crate) fn question(&self) -> Question<'_> {
        Question {
            modules: &self.modules,
            series: self.arrangement.series as usize,
            parallel: self.arrangement.parallel as usize,
            joined: match self.joined {
                Joined::Strings => ChainJoined::Strings,
                Joined::Groups => ChainJoined::Groups,
            },
            exits: self.exits,
            disconnect: None,
            locks: &self.locks,
            reach: REACH.nm(),
        }
    }

    /// The order as the person took it over, made whole; else from nearest to nearest.
    fn order(&self, job: &Job) -> (Order, OrderFrom) {
        let question = self.question();
        if job.wiring.order.is_empty() {
            return (wiring::nearest(&question), OrderFrom::Nearest);
        }
        let at = |seat: &Seat| self.seats.iter().position(|s| s.seat == *seat);
        let given: Vec<usize> = job.wiring.order.iter().filter_map(at).collect();
        let turned: Vec<bool> = self.seats.iter().map(|s| s.turned).collect();
        let whole = given.len() == self.seats.len();
        let order = wiring::mended(&question, &given, &turned);
        let from = if whole && order.order == given {
            OrderFrom::Given
        } else {
            OrderFrom::Mended
        };
        (order, from)
    }
}

/// A seat for the search, its terminals as they are when it is not turned.
fn module(seat: &SeatResult) -> Module {
    let (plus, minus) = if seat.turned {
        (seat.minus, seat.plus)
    } else {
        (seat.plus, seat.minus)
    };
    Module {
        plus: place(plus),
        minus: place(minus),
        body: [place(seat.cuboid.lo()), place(seat.cuboid.hi())],
        in_box: seat.battery_box.0,
        may_turn: seat.may_turn,
    }
}

fn place(point: Point) -> Place {
    point.0.map(Length::nm)
}

fn point(place: Place) -> Point {
    Point(place.map(Length::from_nm))
}

/// By which box both leads leave and where: the middle of a side of the one that the person named, else of `otherwise`.
fn exit(
    job: &Job,
    boxes: &[BoxResult],
    origins: &[(crate::Id, Point)],
    otherwise: Option<crate::Id>,
) -> Option<(crate::Id, Place)> {
    let named = boxes.iter().find(|b| Some(b.id) == job.wiring.exit_box);
    let found = named.or_else(|| boxes.iter().find(|b| Some(b.id) == otherwise))?;
    let inside = found.inside?;
    let face = job
        .wiring
        .exit_side
        .map(crate::FaceName::face)
        .or(found.bay)
        .unwrap_or(Face::Front);
    let origin = origins
        .iter()
        .find(|(id, _)| *id == found.cavity)
        .map_or(Point::ZERO, |o| o.1);
    let mut at =
        Point(Axis::ALL.map(|axis| Length::from_nm(i64::midpoint(inside.lo()[axis].nm(), inside.hi()[axis].nm()))));
    at[face.axis()] = inside.face(face);
    Some((found.id, place(at + origin)))
}

/// What links are made of and what flows in them.
struct Made {
    link: Named,
    cable: Named,
    spare: Length,
    /// Of a bar beyond its two holes, as entered.
    ends: Option<Length>,
    lead: Length,
    joint: Ohms,
    warm_c: f64,
    amps: Option<f64>,
}

/// A section with its name, which every link of it bears.
struct Named {
    section: Section,
    name: String,
}

impl From<Section> for Named {
    fn from(section: Section) -> Self {
        let name = section.name();
        Self { section, name }
    }
}

impl Made {
    /// What to cut for a run from terminal to terminal. A bar reaches half its width beyond the middle of each hole
    /// where nothing else was entered: common practice, no source.
    fn cut(&self, section: &Section, run: Length) -> Length {
        match section {
            Section::Cable(_) => run + self.spare,
            Section::Bar { width_mm, .. } => run + self.ends.unwrap_or(Length::from_mm_up(*width_mm)),
        }
    }
}

fn made(job: &Job) -> Made {
    let figures = &job.electrics.figures;
    let joint = Ohms::nearest_milliohms(figures.sure(Figure::JointResistance) / 1000.0);
    Made {
        link: assumed::link(&job.electrics).into(),
        cable: assumed::cable(&job.electrics).into(),
        spare: Length::from_mm(figures.sure(Figure::CableSpare)),
        ends: figures.get(Figure::LinkEnds).map(Length::from_mm),
        lead: Length::from_mm(figures.sure(Figure::LeadLength) * 1000.0),
        joint,
        warm_c: figures.sure(Figure::Ambient) + WARMER_K,
        amps: job.drive.continuous_amps.or(job.drive.peak_amps).map(Amps::get),
    }
}

/// How much warmer than the air conductors are taken to be, kelvin.
const WARMER_K: f64 = 30.0;

/// Links, leads and joints of a pack: the wiring, and what the links and the leads to the drive resist.
pub(super) fn wire(job: &Job, chain: &Chain, module_full: Volts, module_nominal: Volts) -> (WiringResult, [Ohms; 2]) {
    let (order, from) = chain.order(job);
    let question = chain.question();
    let made = made(job);
    let mut at = vec![0; order.order.len()];
    order.order.iter().enumerate().for_each(|(i, &m)| at[m] = i);
    let Arrangement { series, parallel } = chain.arrangement;
    let neighbour = wiring::worst_neighbours(&question, &order).map(|(steps, [a, b])| Neighbour {
        volts: module_full * u32::try_from(steps).unwrap_or(u32::MAX),
        seats: [at[a], at[b]],
    });
    let seats = seated(chain, &order);
    let open = open_after(job, series);
    let mut links = links_of(chain, &order, &made, &at, open);
    to_the_drive(&made, chain, &seats, &mut links);
    for (number, link) in (1..).zip(&mut links) {
        link.number = number;
    }
    let fitting = fittings(&links, &seats, chain, series, module_full, open);
    for step in &fitting[1].steps {
        if let Some(link) = links.iter_mut().find(|l| l.number == step.link) {
            link.makes = step.piece;
        }
    }
    let leads = links.iter().filter(|l| l.kind == LinkKind::Drive);
    let resistance = [
        resistance_of(&links, chain, parallel),
        leads.fold(Ohms::default(), |sum, l| sum + l.resistance),
    ];
    let disconnect = open.map(|after| {
        let halves = wiring::disconnected(series, after, module_full);
        Disconnect {
            after,
            halves: halves.halves,
            class_a: halves.class_a,
            link: links.iter().find(|l| l.disconnect).map_or(0, |l| l.number),
        }
    });
    let sum = |which: fn(&LinkResult) -> bool| links.iter().filter(|l| which(l)).map(|l| l.run).sum();
    let result = WiringResult {
        from,
        series,
        parallel,
        joined: chain.joined,
        exit_box: chain.exit_box,
        length: sum(|l| l.kind != LinkKind::Drive),
        cable: sum(|l| l.kind != LinkKind::Drive && l.kind.is_cable()),
        estimated: !chain.known,
        bars: bars(&links),
        mass_g: links.iter().map(|l| l.mass_g).sum(),
        neighbour,
        crossing: count(&links, |l| l.crosses),
        passing_over: count(&links, |l| l.passes_over),
        disconnect,
        fitting,
        taps: taps(chain, series, parallel, module_nominal),
        links,
        seats,
    };
    (result, resistance)
}

/// The seats in the order of the chain, each turned as the chain has it.
fn seated(chain: &Chain, order: &Order) -> Vec<SeatResult> {
    let seats = order.order.iter().map(|&m| {
        let seat = &chain.seats[m];
        let turned = order.turned[m];
        let (plus, minus) = if turned == seat.turned {
            (seat.plus, seat.minus)
        } else {
            (seat.minus, seat.plus)
        };
        SeatResult {
            plus,
            minus,
            turned,
            ..seat.clone()
        }
    });
    seats.collect()
}

/// The links of an order with their figures, leads to the drive not among them. `at`: the place of each module in the
/// chain; `open`: behind which in series the service disconnect is.
fn links_of(chain: &Chain, order: &Order, made: &Made, at: &[usize], open: Option<u32>) -> Vec<LinkResult> {
    let question = chain.question();
    let levels = wiring::place_levels(&question, order);
    let end = |end: wiring::End| match end {
        wiring::End::Terminal(m, pole) => End::Terminal {
            seat: at[m],
            plus: pole == Pole::Plus,
        },
        wiring::End::Exit(pole) => End::Exit {
            plus: pole == Pole::Plus,
        },
    };
    let links = wiring::links(&question, order).into_iter().map(|link| {
        let kind = match link.kind {
            wiring::LinkKind::Lead => LinkKind::Lead,
            _ if link.between_boxes => LinkKind::BoxToBox,
            wiring::LinkKind::Parallel => LinkKind::Parallel,
            wiring::LinkKind::Series | wiring::LinkKind::Disconnect => LinkKind::Series,
        };
        let share = share(link.kind, chain.arrangement.parallel, chain.joined);
        let run = Length::from_nm(link.length);
        let mut found = plain(
            made,
            kind,
            [end(link.from), end(link.to)],
            link.ends.map(point),
            run,
            share,
        );
        found.crosses = link.crosses;
        found.passes_over = link.passes_over;
        if let (wiring::End::Terminal(a, _), wiring::End::Terminal(b, _)) = (link.from, link.to) {
            found.locked = chain.locks.contains(&[a, b]);
            let after = u32::try_from(levels[a] + 1).ok();
            found.disconnect = link.kind == wiring::LinkKind::Series && after == open;
        }
        found
    });
    links.collect()
}

fn count(links: &[LinkResult], is: impl Fn(&LinkResult) -> bool) -> u32 {
    u32::try_from(links.iter().filter(|l| is(l)).count()).unwrap_or(u32::MAX)
}

/// Behind which in series the service disconnect is: as entered where that is within the pack, else the middle.
fn open_after(job: &Job, series: u32) -> Option<u32> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count within its range"
    )]
    let entered = job.electrics.figures.get(Figure::DisconnectAfter).map(|n| n as u32);
    entered
        .filter(|n| (1..series).contains(n))
        .or_else(|| wiring::best_places(series).first().copied())
}

/// The share of the pack's amps that a link carries: in a string its own; between groups all; in a group, at most what
/// all but one of its modules give.
fn share(kind: wiring::LinkKind, parallel: u32, joined: Joined) -> f64 {
    let p = f64::from(parallel.max(1));
    match (kind, joined) {
        (wiring::LinkKind::Parallel, _) => (p - 1.0) / p,
        (_, Joined::Strings) => 1.0 / p,
        (_, Joined::Groups) => 1.0,
    }
}

fn plain(made: &Made, kind: LinkKind, [from, to]: [End; 2], ends: [Point; 2], run: Length, share: f64) -> LinkResult {
    let Named { section, name } = if kind.is_cable() { &made.cable } else { &made.link };
    let cut = made.cut(section, run);
    // The current leaves a bar at its holes; a cable's lugs are at its ends.
    let carries = match section {
        Section::Cable(_) => cut,
        Section::Bar { .. } => run,
    };
    let resistance = section.resistance(carries.as_mm() / 1000.0, made.warm_c) + made.joint * 2;
    let amps = made.amps.map(|amps| amps * share);
    let ohms = resistance.milliohms() / 1000.0;
    #[expect(clippy::cast_possible_truncation, reason = "grams of a link")]
    let mass_g = (section.mass_kg(cut.as_mm() / 1000.0) * 1000.0).round() as i64;
    LinkResult {
        number: 0,
        from,
        to,
        kind,
        ends,
        run,
        cut,
        section: name.clone(),
        resistance,
        drop: amps.map(|amps| Volts::nearest(amps * ohms)),
        heat_w: amps.map(|amps| amps * amps * ohms),
        mass_g,
        amps,
        makes: Volts::default(),
        locked: false,
        disconnect: false,
        crosses: false,
        passes_over: false,
    }
}

/// The two leads to the drive: from where the leads leave, or from the ends of the pack itself.
fn to_the_drive(made: &Made, chain: &Chain, seats: &[SeatResult], links: &mut Vec<LinkResult>) {
    let last = seats.len() - 1;
    let lead = |plus: bool| {
        let (from, at) = match chain.exits[usize::from(plus)] {
            Some(exit) => (End::Exit { plus }, point(exit)),
            None => {
                let seat = if plus { last } else { 0 };
                (End::Terminal { seat, plus }, seats[seat].terminal(plus))
            }
        };
        let ends = if plus {
            [from, End::Drive { plus }]
        } else {
            [End::Drive { plus }, from]
        };
        plain(made, LinkKind::Drive, ends, [at, at], made.lead, 1.0)
    };
    links.insert(0, lead(false));
    links.push(lead(true));
}

/// What all links but the leads to the drive resist, strings beside each other.
fn resistance_of(links: &[LinkResult], chain: &Chain, parallel: u32) -> Ohms {
    // Links from like to like are beside the path, whatever box they go to.
    let is_like = |l: &LinkResult| match (l.from, l.to) {
        (End::Terminal { plus: a, .. }, End::Terminal { plus: b, .. }) => a == b,
        _ => false,
    };
    let in_path = |l: &&LinkResult| l.kind != LinkKind::Drive && !is_like(l);
    let sum = links
        .iter()
        .filter(in_path)
        .fold(Ohms::default(), |sum, l| sum + l.resistance);
    match chain.joined {
        // Strings are alike: each has its share of the links, and they are side by side.
        Joined::Strings => sum.shared_by(parallel).shared_by(parallel),
        Joined::Groups => sum + within_groups(links, parallel),
    }
}

/// What links from like to like add to the groups' resistance. The current enters a group at its first minus and leaves it
/// at its last plus: behind the k-th module the plus side carries k shares of it and the minus side the rest. With
/// modules that share evenly the loss is the sum of r (share)^2, an upper end (Thomson's principle).
fn within_groups(links: &[LinkResult], parallel: u32) -> Ohms {
    let size = parallel.max(1) as usize;
    let lost = links.iter().filter_map(|link| match (link.from, link.to) {
        (End::Terminal { seat: a, plus: true }, End::Terminal { seat: b, plus: true }) => Some((link, a.max(b) % size)),
        (End::Terminal { seat: a, plus: false }, End::Terminal { seat: b, plus: false }) => {
            Some((link, size - a.max(b) % size))
        }
        _ => None,
    });
    #[expect(clippy::cast_precision_loss, reason = "modules of a group")]
    let milliohms = lost.map(|(link, shares)| link.resistance.milliohms() * (shares as f64 / size as f64).powi(2));
    Ohms::nearest_milliohms(milliohms.sum())
}

/// Bars and cables by what to cut, longest first. Where the service disconnect sits there is no bar.
fn bars(links: &[LinkResult]) -> Vec<BarLength> {
    let mut found: BTreeMap<(std::cmp::Reverse<Length>, &str), u32> = BTreeMap::new();
    for link in links.iter().filter(|link| !link.disconnect) {
        *found.entry((std::cmp::Reverse(link.cut), &link.section)).or_default() += 1;
    }
    found
        .into_iter()
        .map(|((cut, section), count)| BarLength {
            cut: cut.0,
            section: section.to_owned(),
            count,
        })
        .collect()
}

/// Both orders of fitting. Parallel links come first: like to like, at one module's volts.
fn fittings(
    links: &[LinkResult],
    seats: &[SeatResult],
    chain: &Chain,
    series: u32,
    module: Volts,
    open: Option<u32>,
) -> [Fitting; 2] {
    let level = |seat: usize| match chain.joined {
        Joined::Strings => seat % series as usize,
        Joined::Groups => seat / chain.arrangement.parallel as usize,
    };
    let of_string = |seat: usize| match chain.joined {
        Joined::Strings => seat / series as usize,
        Joined::Groups => 0,
    };
    // The number of the link behind each place, string after string.
    let mut behind: BTreeMap<(usize, u32), u32> = BTreeMap::new();
    let mut parallel = Vec::new();
    // Leads to where the pack's own leave come last, each on what it then makes live.
    let mut leads = Vec::new();
    for link in links {
        if let (End::Terminal { seat: a, plus: true }, End::Terminal { seat: b, plus: false }) = (link.from, link.to) {
            behind.insert((of_string(a), u32::try_from(level(a) + 1).unwrap_or(0)), link.number);
            debug_assert_eq!(level(b), level(a) + 1, "a series link joins one to the next");
        } else if matches!((link.from, link.to), (End::Terminal { .. }, End::Terminal { .. })) {
            parallel.push(link.number);
        } else if link.kind == LinkKind::Lead {
            let plus = matches!(link.from, End::Terminal { plus: true, .. });
            let touched = open.map_or(series, |after| if plus { series - after } else { after });
            leads.push((link.number, module * touched));
        }
    }
    let strings = seats.len()
        / (series as usize
            * if chain.joined == Joined::Groups {
                chain.arrangement.parallel as usize
            } else {
                1
            });
    let steps = |order: Vec<fitting::Step>| {
        let first = parallel.iter().map(|&link| FittingStep {
            link,
            piece: module,
            largest: module,
            class_b: module > fitting::CLASS_A,
        });
        // A string that is done stays as live as it is while the next is fitted.
        let done = order.last().map_or(module, |step| module * step.largest);
        let (order, behind) = (&order, &behind);
        let rest = (0..strings).flat_map(|string| {
            order.iter().filter_map(move |step| {
                let largest = module * step.largest;
                Some(FittingStep {
                    link: *behind.get(&(string, step.link))?,
                    piece: module * step.piece,
                    largest: if string > 0 { largest.max(done) } else { largest },
                    class_b: module * step.piece > fitting::CLASS_A,
                })
            })
        });
        let last = leads.iter().map(|&(link, piece)| FittingStep {
            link,
            piece,
            largest: done.max(piece),
            class_b: piece > fitting::CLASS_A,
        });
        first.chain(rest).chain(last).collect::<Vec<_>>()
    };
    let fit = |name, order: Vec<fitting::Step>| {
        let steps = steps(order);
        Fitting {
            name,
            above: u32::try_from(steps.iter().filter(|s| s.class_b).count()).unwrap_or(u32::MAX),
            largest: steps.iter().map(|s| s.largest).max().unwrap_or(module),
            steps,
        }
    };
    [
        fit("along the chain", fitting::along(series, open)),
        fit("low volts first", fitting::low(series, module, open)),
    ]
}

fn taps(chain: &Chain, series: u32, parallel: u32, nominal: Volts) -> Vec<Tap> {
    let (strings, stride) = match chain.joined {
        Joined::Strings => (parallel, 1),
        Joined::Groups => (1, parallel),
    };
    let mut taps = Vec::new();
    for string in 0..strings {
        for place in 0..=series {
            let seat = |place: u32| (string * series + place) as usize * stride as usize;
            let at = if place == 0 {
                (seat(0), false)
            } else {
                (seat(place - 1), true)
            };
            taps.push(Tap {
                channel: string * (series + 1) + place,
                string: string + 1,
                at,
                volts: nominal * place,
            });
        }
    }
    taps
}
