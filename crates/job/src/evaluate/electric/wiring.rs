//! The order of the wiring: seats, links, what is met while they are fitted.

use geometry::Point;
use pack::{Ohms, Volts};
use tape::Length;

use super::seats::SeatResult;
use crate::document::Joined;
use crate::{Id, Seat};

/// Where the order comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderFrom {
    /// The person took it over.
    Given,
    /// Taken over, but modules came or went since: new ones stand where they lengthen the links least.
    Mended,
    /// Nearest to nearest, worked out from the layout: not looked at by anyone.
    Nearest,
}

/// One end of a link: a pole of a module, or what is outside the pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// A terminal: the module's place in [`WiringResult::seats`], and whether it is its plus.
    Terminal {
        /// Which seat.
        seat: usize,
        /// Plus or minus.
        plus: bool,
    },
    /// Where the leads leave the pack.
    Exit {
        /// The pack's plus or minus.
        plus: bool,
    },
    /// The drive.
    Drive {
        /// Its plus or minus.
        plus: bool,
    },
}

/// What a link is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LinkKind {
    /// From plus to minus of the next, in one box.
    Series,
    /// From like to like in a group, in one box.
    Parallel,
    /// From one box to another.
    BoxToBox,
    /// From an end of a string to where the leads leave.
    Lead,
    /// From there to the drive.
    Drive,
}

impl LinkKind {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Series => "link",
            Self::Parallel => "parallel link",
            Self::BoxToBox => "box to box",
            Self::Lead => "lead",
            Self::Drive => "to the drive",
        }
    }

    /// Whether it is cable and not what links in a box are made of.
    pub const fn is_cable(self) -> bool {
        matches!(self, Self::BoxToBox | Self::Lead | Self::Drive)
    }
}

/// One link.
#[derive(Clone, Debug, PartialEq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "four things that may be said of a link, each on its own"
)]
pub struct LinkResult {
    /// Its number, from 1 at the pack's minus.
    pub number: u32,
    /// Nearer to the pack's minus.
    pub from: End,
    /// Nearer to its plus.
    pub to: End,
    /// What it is for.
    pub kind: LinkKind,
    /// Where it starts and ends, in the frame of the seats; corner to corner along the axes between.
    pub ends: [Point; 2],
    /// Along the axes from terminal to terminal.
    pub run: Length,
    /// What to cut: the run, and for cables lugs and slack, for bars what is beyond their holes.
    pub cut: Length,
    /// What it is made of.
    pub section: String,
    /// What it resists with its two joints, warm.
    pub resistance: Ohms,
    /// What it drops at the drive's continuous amps (peak when only that is known); `None` while neither is known.
    pub drop: Option<Volts>,
    /// Heat in it and its joints at those amps, watts.
    pub heat_w: Option<f64>,
    /// Its mass, in grams.
    pub mass_g: i64,
    /// Amps that it carries for long, where the drive's are known.
    pub amps: Option<f64>,
    /// Full volts of the live piece that it makes when links are fitted in the order that keeps volts low.
    pub makes: Volts,
    /// Whether the person keeps its two modules together.
    pub locked: bool,
    /// Whether it is where the service disconnect belongs.
    pub disconnect: bool,
    /// Whether it crosses another link seen from above.
    pub crosses: bool,
    /// Whether it passes over another terminal.
    pub passes_over: bool,
}

impl LinkResult {
    /// What to cut for it; `None` where the disconnect takes its place.
    pub fn to_cut(&self) -> Option<Length> {
        (!self.disconnect).then_some(self.cut)
    }

    /// What it is made of, or that nothing is.
    pub fn made_of(&self) -> &str {
        if self.disconnect {
            "no bar: the disconnect"
        } else {
            &self.section
        }
    }

    /// Whether it ends at a terminal of the module at this place of the chain.
    pub fn touches(&self, at: usize) -> bool {
        [self.from, self.to]
            .iter()
            .any(|end| matches!(end, End::Terminal { seat, .. } if *seat == at))
    }
}

/// Links of one length that can be made alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BarLength {
    /// What to cut.
    pub cut: Length,
    /// What it is made of.
    pub section: String,
    /// How many.
    pub count: u32,
}

/// The largest voltage between the nearest terminals of two modules that stand side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Neighbour {
    /// At full charge.
    pub volts: Volts,
    /// The two modules: places in [`WiringResult::seats`].
    pub seats: [usize; 2],
}

/// One step of fitting links.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FittingStep {
    /// The link that is fitted.
    pub link: u32,
    /// Volts of the live piece that it makes, at full charge.
    pub piece: Volts,
    /// The largest volts of any live piece then.
    pub largest: Volts,
    /// Whether the piece is above what may be touched (voltage class B).
    pub class_b: bool,
}

/// An order in which the links are fitted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fitting {
    /// What it is called.
    pub name: &'static str,
    /// The steps.
    pub steps: Vec<FittingStep>,
    /// Steps that make a piece of class B.
    pub above: u32,
    /// The largest volts met by hand: what closes last by the disconnect's plug is not counted.
    pub largest: Volts,
}

/// The service disconnect.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Disconnect {
    /// Modules or groups in series on its minus side.
    pub after: u32,
    /// Full volts of the two halves.
    pub halves: [Volts; 2],
    /// Whether both are of class A.
    pub class_a: bool,
    /// The link that it takes the place of.
    pub link: u32,
}

/// A monitoring channel: the tap between two in series.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tap {
    /// Its number, from 0 at the pack's minus.
    pub channel: u32,
    /// Which string, from 1.
    pub string: u32,
    /// The terminal it sits on: the place in [`WiringResult::seats`], and whether it is its plus.
    pub at: (usize, bool),
    /// Nominal volts from the pack's minus.
    pub volts: Volts,
}

/// The order of the wiring.
#[derive(Clone, Debug, PartialEq)]
pub struct WiringResult {
    /// Where the order comes from.
    pub from: OrderFrom,
    /// In series and in parallel.
    pub series: u32,
    /// Strings, or modules in a group.
    pub parallel: u32,
    /// Which of the two.
    pub joined: Joined,
    /// The box that both leads leave by; `None` where they go from the ends of the chain.
    pub exit_box: Option<Id>,
    /// The modules in the order of the wiring: string after string, or group after group.
    pub seats: Vec<SeatResult>,
    /// The links, from the pack's minus.
    pub links: Vec<LinkResult>,
    /// All runs together, leads to the exit included, those on to the drive not.
    pub length: Length,
    /// The part of it that is cable.
    pub cable: Length,
    /// Whether distances between cavities are estimates, for want of their places in the truck.
    pub estimated: bool,
    /// Links by length, but for those whose place the service disconnect takes.
    pub bars: Vec<BarLength>,
    /// Mass of all links and leads, in grams.
    pub mass_g: i64,
    /// The largest voltage between neighbours.
    pub neighbour: Option<Neighbour>,
    /// Links that cross another.
    pub crossing: u32,
    /// Links that pass over another terminal.
    pub passing_over: u32,
    /// Where the service disconnect belongs.
    pub disconnect: Option<Disconnect>,
    /// Orders in which the links are fitted: along the chain, and the one that keeps the volts low.
    pub fitting: [Fitting; 2],
    /// The monitoring channels.
    pub taps: Vec<Tap>,
}

impl WiringResult {
    /// What an end of a link is called: `M13 +`, or `lead -`.
    pub fn end_name(&self, end: End) -> String {
        match end {
            End::Terminal { seat, plus } => format!("{} {}", self.seats[seat].seat, sign(plus)),
            End::Exit { plus } => format!("pack {}", sign(plus)),
            End::Drive { plus } => format!("drive {}", sign(plus)),
        }
    }

    /// What to cut of all cables together: links, leads to the drive, their lugs and slack.
    pub fn cable_to_cut(&self) -> Length {
        let cables = self.links.iter().filter(|link| link.kind.is_cable());
        cables.map(|link| link.cut).sum()
    }

    /// Strings side by side: 1 when it is groups that are in parallel.
    pub const fn strings(&self) -> u32 {
        self.joined.strings(self.parallel)
    }

    /// Where in the wiring the seat at a place in the chain is, in words: `string 2, 3` or `group 4`; `None` past its end.
    pub fn berth(&self, place: usize) -> Option<String> {
        let within = match self.joined {
            Joined::Groups => self.parallel,
            Joined::Strings => self.series,
        };
        let within = (within as usize).max(1);
        let (number, nth) = (place / within + 1, place % within + 1);
        (place < self.seats.len()).then(|| match self.joined {
            Joined::Groups => format!("group {number}"),
            Joined::Strings => format!("string {number}, {nth}"),
        })
    }

    /// The place of a seat in the chain.
    pub fn place_of(&self, seat: Seat) -> Option<usize> {
        self.seats.iter().position(|s| s.seat == seat)
    }
}

const fn sign(plus: bool) -> char {
    if plus { '+' } else { '-' }
}
