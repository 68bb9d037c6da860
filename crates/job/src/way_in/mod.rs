//! Whether each box can go where it is laid out, which way, and what stops it; in which order boxes go in, how they are
//! loaded, and what comes off before one module comes out.
//!
//! A [`Question`] is made from a job and its evaluation; [`answer`] works it out in a counted number of steps. Nothing of it is
//! stored: it follows from the job, takes up to a second or two, and is worked out anew where it is shown.
//!
//! Everything stands in the frame of the vehicle where the cavity has a place in it (x rearward from the front axle, y to
//! the right, z above the ground, the truck on its wheels); each cavity without a place is a world of its own.

mod answer;
mod bed;
mod findings;
mod help;
mod in_place;
mod levelled;
mod lid;
mod lift_words;
mod loading;
mod look;
mod picture;
mod question;
mod scene;
mod search;
mod service;
mod smaller;
mod states;
#[cfg(test)]
mod tests;
mod wider;
mod words;

use geometry::way_in::plan::Plane;
use geometry::{Axis, Cuboid, Face, Point};
use tape::Length;

use crate::{BedName, Id};

pub use answer::{answer, ways_in};
pub use bed::{BedMeets, BedSweep};
pub(crate) use bed::{bed_sweep, swept_room};
pub use in_place::{Bar, Barred};
pub use loading::{Held, Loading};
pub use picture::{Drawn, DrawnBed, Flat, Picture, Posed, around};
pub use question::question;
pub use service::{NoUnit, Service, unit_named};
pub use states::{Filled, State};
pub use words::{LOOKED_AT, bed_words};

/// Steps of work for each box of a job: about a second.
pub const WORK: u64 = 200_000_000;
/// Of these, steps for one question to the planner.
pub(crate) const PLAN_WORK: u64 = 25_000_000;
/// Of these, steps for one box moved level: some 500 000 places.
pub(crate) const LEVEL_WORK: u64 = 25_000_000;
/// Of these, steps for what would make one box go in, and for one question of it.
pub(crate) const HELP_WORK: u64 = 60_000_000;
pub(crate) const HELP_EACH: u64 = 6_000_000;

/// Something that a box may meet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thing {
    /// What it is called.
    pub name: String,
    /// What it is.
    pub what: What,
    /// The space that it takes as it was taped.
    pub expected: Cuboid,
    /// The space that it may take, by the uncertainty of the tape.
    pub sure: Cuboid,
}

impl Thing {
    /// A solid of a box in its place.
    pub(super) fn of_box(name: String, id: Id, solid: Cuboid) -> Self {
        Self {
            name,
            what: What::Box(id),
            expected: solid,
            sure: solid,
        }
    }
}

/// What a box may meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A closed face of its cavity.
    Wall(Face),
    /// What narrows an open face: the face, and the end of it.
    Lip(Face, Face),
    /// A keep-out.
    KeepOut(Id),
    /// Another box.
    Box(Id),
    /// A part of the bed, by its place in the list.
    Bed(usize),
    /// The ground under the truck, or the jack on it.
    Ground,
}

/// A solid of a box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is called: body, flange, a fitting.
    pub name: String,
    /// Where it is to stand.
    pub solid: Cuboid,
    /// What is there of it while the lid is off; `None` for what comes off with the lid.
    pub open: Option<Cuboid>,
    /// What it is, where it can be put on when the box is in its place.
    pub loose: Option<Loose>,
    /// What is steel of a band that goes round the body: a cap's plate and skirts, clamps beside it. Empty for what is one
    /// block. The body fills such a band, so only lid and body apart from each other are told by it.
    pub own: Vec<Cuboid>,
}

/// What can be put on when a box is in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loose {
    /// A gland, a breather, a plug: screwed in.
    Fitting,
    /// A bracket: bolted on in place of welded.
    Bracket,
    /// A toggle clamp: it stays on its wall, and only its hook swings off the lid.
    Clamp,
}

/// What is off a box while it goes in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Off {
    /// Fittings that can be screwed in afterwards.
    pub fittings: bool,
    /// Its lid.
    pub lid: bool,
    /// Its brackets.
    pub brackets: bool,
}

impl Off {
    /// Whether a loose part of this sort is off.
    pub const fn takes(self, loose: Option<Loose>) -> bool {
        match loose {
            None | Some(Loose::Clamp) => false,
            Some(Loose::Fitting) => self.fittings,
            Some(Loose::Bracket) => self.brackets,
        }
    }
}

impl Part {
    /// What goes in of it with this off.
    pub fn with(&self, off: Off) -> Option<Cuboid> {
        match (off.takes(self.loose), off.lid) {
            (true, _) => None,
            (false, true) => self.open,
            (false, false) => Some(self.solid),
        }
    }
}

/// A box to be brought in.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The cavity it stands in.
    pub cavity: Id,
    /// The world it stands in: 0 for the vehicle.
    pub world: usize,
    /// From its cavity's frame to that of its world.
    pub from_cavity: Point,
    /// Its solids.
    pub parts: Vec<Part>,
    /// Why its lid cannot be screwed on in its place; `None` when it can.
    pub lid_stays: Option<String>,
    /// The space of its cavity.
    pub space: Cuboid,
    /// The faces it may come in by.
    pub through: Vec<Face>,
    /// The closed faces of its cavity, and what narrows open ones.
    pub walls: Vec<Thing>,
    /// Narrowed openings of its cavity that are taken in the middle of their faces, nobody having entered where they are.
    pub in_the_middle: Vec<Face>,
    /// By how much it can be less in length, width and height with the modules that it has.
    pub free: [Length; 3],
    /// The side its bay is on and how deep that is; `None` without one.
    pub bay: Option<(Face, Length)>,
    /// What it weighs with its modules, in grams.
    pub mass_g: i64,
    /// What it weighs empty, in grams.
    pub empty_g: i64,
}

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// How lengths are printed.
    pub style: tape::show::Style,
    /// How the bed stands.
    pub bed: BedName,
    /// The parts of the bed by name, and as they stand seen from the left: their corners as (rearward, up), going round.
    pub bed_names: Vec<String>,
    /// Empty where the bed is off, or not entered well enough.
    pub bed_outlines: Vec<[[Length; 2]; 4]>,
    /// The same question with the bed as it may stand otherwise.
    pub other_beds: Vec<Question>,
    /// The same with the bed on, of which no part was entered, so that it is none of the others: all that is open above ends
    /// at it.
    pub closed_above: Option<Box<Question>>,
    /// What nobody entered, as `jack all the way down 4"`.
    pub assumed: Vec<String>,
    /// What could not be looked at, in words.
    pub not_looked_at: Vec<String>,
    /// The boxes that can be brought in, in the order of the job.
    pub boxes: Vec<Moved>,
    /// Boxes that have no place or cannot be built, with why.
    pub left_out: Vec<(String, String)>,
    /// What stays where it is, with its world.
    pub things: Vec<(usize, Thing)>,
    /// The ground's height in the frame of the vehicle.
    pub ground: Length,
    /// How high a jack is when it is all the way down.
    pub jack: Length,
    /// How far a box may be pitched, in degrees.
    pub pitch_deg: f64,
    /// How modules are loaded into each box.
    pub loading: Vec<loading::Open>,
}

impl Question {
    /// The same with the bed where it is when the truck drives; `None` where it is asked so.
    pub(super) fn with_bed_on(&self) -> Option<&Self> {
        let mut known = self.other_beds.iter();
        known
            .find(|other| other.bed == BedName::On)
            .or(self.closed_above.as_deref())
    }

    /// Steps of work in all, with so many for each box.
    pub fn work(&self, each: u64) -> u64 {
        let boxes = u64::try_from(self.boxes.len()).unwrap_or(u64::MAX);
        each.saturating_mul(boxes.max(1))
    }
}

impl Moved {
    /// Whether something of it comes off with its lid.
    pub(crate) fn has_lid(&self) -> bool {
        self.parts.iter().any(|part| part.open != Some(part.solid))
    }
}

/// How a box moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Motion {
    /// Straight.
    Straight,
    /// Straight, off its place by so much along one axis, then slid over.
    ThenSlid {
        /// Along which axis.
        axis: Axis,
        /// How far off it comes in.
        by: Length,
    },
    /// Level all the way, along one axis after the other.
    Level,
    /// Shifted and pitched in one plane.
    Pitched(Plane),
}

/// One pose on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// How far its middle is from where it is to be.
    pub by: Point,
    /// How it is turned in the plane of the movement, in degrees; positive lifts the rear, or the right side.
    pub turn_deg: f64,
    /// How high the lower edge of its body is above the ground at the front and rear, or at the left and right; `None` where the ground
    /// is not known.
    pub above_ground: Option<[Length; 2]>,
}

/// The least room along a way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Margin {
    /// The free distance.
    pub distance: Length,
    /// To what.
    pub name: String,
    /// What that is.
    pub what: What,
}

/// A way in.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The face it comes in by.
    pub through: Face,
    /// How it moves.
    pub motion: Motion,
    /// From outside to its place.
    pub steps: Vec<Step>,
    /// The least room along it; `None` when it passes nothing.
    pub margin: Option<Margin>,
    /// How far off its place it may be to either side while it comes straight in.
    pub play: Vec<(Axis, [Length; 2])>,
    /// Whether it holds for all that the tape may be off, and not only as taped.
    pub sure: bool,
    /// What is put on when it is in its place: fittings, brackets, the lid.
    pub without: Vec<String>,
    /// The same as a choice of what is off.
    pub off: Off,
}

/// A thing that a straight way meets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stopped {
    /// What it is called.
    pub name: String,
    /// What it is.
    pub what: What,
    /// What of the box meets it.
    pub part: String,
    /// The smallest sideways step that clears it, and by how much they overlap.
    pub overlap: (Axis, Length),
    /// How far the box still is from its place.
    pub left: Length,
}

/// What is known where no way was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Known {
    /// There is none: level in no direction, nor pitched in a plane where it is to stand.
    Proved,
    /// Too close to call: heights were looked at this far apart, and turns.
    TooClose {
        /// Apart in height.
        up: Length,
        /// Apart in degrees.
        turn_deg: f64,
    },
    /// Not settled within the steps allowed.
    Steps,
    /// It may come round outside of its cavity, as under a truck that stands too low for its jack: that was not looked at.
    Outside,
}

impl Known {
    /// The less that is known of two.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        let rank = |known: Self| match known {
            Self::Proved => (0, 0.0),
            Self::TooClose { turn_deg, .. } => (1, turn_deg),
            Self::Steps => (2, 0.0),
            Self::Outside => (3, 0.0),
        };
        if rank(other) > rank(self) { other } else { self }
    }

    /// The less that is known of all these.
    pub fn all(of: impl IntoIterator<Item = Self>) -> Self {
        of.into_iter().fold(Self::Proved, Self::and)
    }
}

/// One face that was tried in vain.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// The face.
    pub through: Face,
    /// How much that is worth.
    pub known: Known,
    /// What a straight way meets, the thing met first in front.
    pub stops: Vec<Stopped>,
    /// Openings taken in the middle of their faces: a proof rests on that.
    pub in_the_middle: Vec<Face>,
    /// Whether it was looked at with its lid on alone, since that cannot be put on there: a proof holds for no more.
    pub lid_stays: bool,
    /// What was off it.
    pub off: Off,
}

/// The way that a change leaves, as it was found on the changed thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Then {
    /// The face it comes in by.
    pub through: Face,
    /// How it moves.
    pub motion: Motion,
    /// What is off it on the way.
    pub off: Off,
    /// Whether it holds for all that the tape may be off.
    pub sure: bool,
}

/// A single change that would make a way.
#[derive(Clone, Debug, PartialEq)]
pub enum Help {
    /// Something is taken out of the way.
    TakeOut {
        /// What it is called.
        name: String,
        /// What it is.
        what: What,
        /// How it then goes.
        then: Then,
    },
    /// Several things taken out, all that it meets, where no single change makes a way.
    Together {
        /// What they are called, and what they are.
        out: Vec<(String, What)>,
        /// What has to be changed as well; `None` when that is all.
        and: Option<Box<Help>>,
        /// How it then goes.
        then: Then,
    },
    /// The box is made smaller; what it carries keeps its size and rides along.
    Smaller {
        /// Along which axis.
        axis: Axis,
        /// By how much at its low and at its high end.
        cut: [Length; 2],
        /// How much room is free inside along that axis: with a larger cut, fewer modules go into it.
        free: Length,
        /// How much of the cut the bay at that end gives, with the modules as they are; zero without one.
        bay: Length,
        /// How it then goes.
        then: Then,
    },
    /// A narrowed opening is made larger.
    Wider {
        /// Which.
        opening: Face,
        /// By how much its lip at each of these ends is cut back.
        lips: Vec<(Face, Length)>,
        /// Along which axes it changes, how large it is there and how large it has to be.
        sizes: Vec<(Axis, Length, Length)>,
        /// How it then goes.
        then: Then,
    },
    /// The bed stands otherwise while it goes in.
    Bed {
        /// How.
        bed: BedName,
        /// How it then goes.
        then: Then,
    },
    /// It would go in with its lid off, but the lid does not go on there.
    LidOn {
        /// Why not.
        why: String,
    },
    /// The same, with what stops the lid.
    LidBarred {
        /// What that is.
        barred: Barred,
    },
    /// The truck stands higher.
    Raise {
        /// By how much.
        by: Length,
        /// How it then goes.
        then: Then,
    },
}

/// What a lid is called among what is fitted when a box is in its place.
const LID: &str = "lid";

/// Whether a box goes in.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It does.
    Goes(Way),
    /// No way was found.
    Stays {
        /// What was tried.
        tried: Vec<Tried>,
        /// What would make it work.
        help: Vec<Help>,
    },
}

impl Way {
    /// How it goes, without its steps.
    pub const fn then(&self) -> Then {
        Then {
            through: self.through,
            motion: self.motion,
            off: self.off,
            sure: self.sure,
        }
    }
}

impl Tried {
    /// Whether it is proved that no way goes there.
    pub fn is_proved(&self) -> bool {
        self.known == Known::Proved
    }
}

impl Outcome {
    /// Whether no way is proved.
    pub fn is_impossible(&self) -> bool {
        matches!(self, Self::Stays { tried, .. } if tried.iter().all(Tried::is_proved))
    }

    /// The way, if there is one.
    pub const fn way(&self) -> Option<&Way> {
        match self {
            Self::Goes(way) => Some(way),
            Self::Stays { .. } => None,
        }
    }
}

/// A box with its way.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxWay {
    /// Its number.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// With what goes in before it in its place.
    pub outcome: Outcome,
    /// The boxes that have to come out before it when all are in, last in first; by their places in the question.
    pub after: Vec<usize>,
}

/// Boxes that keep each other out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stuck {
    /// Their names.
    pub names: Vec<String>,
    /// Whether it is proved that no order works.
    pub proved: bool,
}

/// All boxes with their ways.
#[derive(Clone, Debug, PartialEq)]
pub struct WaysIn {
    /// What was asked.
    pub question: Question,
    /// For each box of the question.
    pub boxes: Vec<BoxWay>,
    /// The order in which they go in, by their places in the question; those that go in at all.
    pub order: Vec<usize>,
    /// Boxes that each go in alone, but not together.
    pub stuck: Option<Stuck>,
    /// How each box is loaded, in the order of the question.
    pub loading: Vec<Loading>,
    /// Each box lifted empty, half loaded and loaded, in the order of the question.
    pub states: Vec<Vec<State>>,
    /// The way of each box as a picture, in the order of the question; of one that does not go in, a picture for each face
    /// that was tried.
    pub pictures: Vec<Vec<Picture>>,
    /// Whether it was told to stop.
    pub stopped: bool,
    /// Steps done.
    pub work: u64,
}
