//! What the automatic layout is asked, and what it answers.

use tape::Length;

use crate::{Axis, Cuboid, Face, Faces, Orientation, Point, Size};

/// The whole question: which modules, in which cavities, in what kind of box.
///
/// Without `boxes`, modules stand in the cavity itself, with `wall_margin` to the walls.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Request {
    /// The cavities, each with its own frame; things in different cavities never disturb each other.
    pub cavities: Vec<Cavity>,
    /// The kinds of module, in the order they are preferred.
    pub kinds: Vec<Kind>,
    /// The gap asked for between modules (or stacks): for every two of them there is an axis along which they are at
    /// least this far apart.
    pub gap: Length,
    /// How modules are boxed; `None` places them bare.
    pub boxes: Option<BoxRule>,
    /// How many are wanted, the pinned ones among them.
    pub wanted: Wanted,
    /// Modules and stacks that stay where they are; everything else is laid around them. `in_box` tells which of them
    /// share a box: box `n` of every layout holds the pinned ones of `n`. Every layout starts with these, in this order.
    pub pinned: Vec<Placement>,
}

/// A measured hollow: the usable cuboid less its keep-outs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cavity {
    /// The usable cuboid, in the cavity's frame.
    pub space: Cuboid,
    /// The margin asked for to each wall.
    pub wall_margin: Faces<Length>,
    /// What must stay free. They may overlap each other or stick out of the space.
    pub keep_outs: Vec<KeepOut>,
}

/// A region of a cavity that must stay free, with the margin asked for to it: along at least one axis a box (or a
/// bare module) keeps this distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeepOut {
    /// The region, in the cavity's frame.
    pub cuboid: Cuboid,
    /// The margin to it.
    pub margin: Length,
}

/// A type of module.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kind {
    /// Own length, width and height of one module.
    pub size: Size,
    /// The orientations allowed, most liked first. For a stacked kind they are those of each module in the stack.
    pub orientations: Vec<Orientation>,
    /// Room needed in front of each own face (terminals, links, spanner). It may overlap another module's room, never
    /// a solid: two facing modules need the larger of the two, not the sum.
    pub service: Faces<Length>,
    /// How many are on hand; `None` for no limit.
    pub on_hand: Option<u32>,
    /// Mass of one module in grams.
    pub mass_g: i64,
    /// Set for kinds that only live in clamped stacks.
    pub stack: Option<Stack>,
}

/// How modules of a kind are clamped together, face to face along one of their own axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stack {
    /// The own axis along which modules are stacked.
    pub along: Axis,
    /// The fewest modules in a stack, at least 1.
    pub min: u32,
    /// The most modules in a stack.
    pub max: u32,
    /// What the clamp adds at each end: end plate and rod nuts together.
    pub end: Length,
    /// Growth of each module that the stack's length must allow for (zero where the clamp holds it).
    pub growth: Length,
}

impl Stack {
    /// The length of a stack of `count` modules, each `each` thick.
    pub fn length(&self, each: Length, count: u32) -> Length {
        (each + self.growth) * i64::from(count) + self.end * 2
    }
}

/// How a box is built round its modules, and what boxes may weigh.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoxRule {
    /// Steel, coating and liner from the inside of the liner to the outside of the body, per face (the lid's face
    /// counts gasket and lid).
    pub shell: Faces<Length>,
    /// Free room between liner and modules on each face, whatever the service space.
    pub fit: Faces<Length>,
    /// The least room, beyond `fit`, between modules and that face (links, straps). A module's own service space
    /// counts within it: the larger of the two is needed.
    pub room: Faces<Length>,
    /// Extra room for fuse, contactor and cable bend, in at most one direction of the box.
    pub bay: Option<(Face, Length)>,
    /// What sticks out beyond the body: flange, cap skirt, fastener heads.
    pub rims: Vec<Rim>,
    /// The least height of a body: what its flange or the skirt of its cap needs. Zero for any height.
    pub least_height: Length,
    /// The most a box may weigh with its modules.
    pub most_g: Option<MassLimit>,
    /// Modules of one box stand beside each other, never one over another: nothing carries an upper tier. Modules that
    /// are pinned one over another stay so.
    pub one_tier: bool,
    /// The most boxes in one cavity.
    pub per_cavity: u32,
    /// The distance asked for between two boxes of one cavity. They stand beside each other, never one over another or
    /// under its rim: a lid comes off upward.
    pub apart: Length,
}

/// A band round the body, at a height told from the body's top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rim {
    /// How far it reaches beyond the body on the four sides.
    pub out: Length,
    /// Its lower edge below the top of the body (negative: above it).
    pub below_top: Length,
    /// Its upper edge above the top of the body (negative: below it).
    pub above_top: Length,
}

impl Rim {
    /// The band round `body`, as one solid that includes the body's own cross-section there.
    pub fn around(&self, body: &Cuboid) -> Cuboid {
        let (lo, hi) = (body.lo(), body.hi());
        let top = hi[Axis::Z];
        Cuboid::between(
            Point([lo[Axis::X] - self.out, lo[Axis::Y] - self.out, top - self.below_top]),
            Point([hi[Axis::X] + self.out, hi[Axis::Y] + self.out, top + self.above_top]),
        )
    }
}

/// A limit on the mass of one loaded box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MassLimit {
    /// The limit in grams.
    pub limit_g: i64,
    /// What an empty box weighs.
    pub empty: EmptyMass,
}

/// What an empty box weighs, by the length, width and height inside its liner.
///
/// Everything in a box of sheet is a plate, whose area is a product of two sizes, or a bar, whose length is one of them;
/// so its mass is a sum of such products. Whole micrograms keep it exact far below a gram.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct EmptyMass {
    /// Micrograms whatever the size.
    pub fixed_ug: i64,
    /// Micrograms for each metre of length, of width, of height.
    pub ug_per_m: [i64; 3],
    /// Micrograms for each square metre of length x width, of length x height, of width x height.
    pub ug_per_m2: [i64; 3],
}

impl EmptyMass {
    /// The mass in grams of an empty box with this much space inside its liner, rounded up.
    pub fn grams(&self, inside: Size) -> i64 {
        const METRE: i128 = 1_000_000_000;
        let [x, y, z] = inside.0.map(|length| i128::from(length.nm()));
        let product = |lengths: [i128; 3], each: [i64; 3]| -> i128 {
            lengths
                .into_iter()
                .zip(each)
                .map(|(length, each)| length * i128::from(each))
                .sum()
        };
        let linear = product([x, y, z], self.ug_per_m);
        let square = product([x * y, x * z, y * z], self.ug_per_m2);
        let scaled = i128::from(self.fixed_ug) * METRE * METRE + linear * METRE + square;
        let gram = 1_000_000 * METRE * METRE;
        i64::try_from(-(-scaled).div_euclid(gram)).unwrap_or(i64::MAX)
    }
}

/// How many modules are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// As many as go in.
    AsMany,
    /// Exactly so many of each kind, in the order of [`Request::kinds`].
    Exactly(Vec<u32>),
    /// Whole strings of one kind: as many strings in parallel as go in (up to `parallel`), each of one of the
    /// `series` counts (most liked first), the same for all strings.
    Strings {
        /// Index into [`Request::kinds`].
        kind: usize,
        /// Acceptable modules in series.
        series: Vec<u32>,
        /// The most strings in parallel.
        parallel: u32,
    },
}

/// How much work may be done: counted in steps, not seconds, so that the same request with the same budget gives the
/// same answer on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Budget {
    /// Steps of search; one step is about one trial placement.
    pub work: u64,
    /// Seed for what is tried first.
    pub seed: u64,
}

impl Default for Budget {
    fn default() -> Self {
        Self {
            work: 2_000_000,
            seed: 1,
        }
    }
}

/// What a running fit tells, now and then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Work done so far.
    pub done: u64,
    /// Work allowed.
    pub of: u64,
    /// Modules placed by the best layout so far.
    pub count: u32,
    /// At most this many could be placed.
    pub upper_bound: u32,
}

/// Watches a fit as it runs and may stop it.
pub trait Watch {
    /// Called often (at least every 10 ms of work); return `false` to stop with the best found so far.
    fn carry_on(&mut self, progress: Progress) -> bool;

    /// Called with each layout that is better than all before it, in the order they are found.
    fn better(&mut self, layout: &Layout) {
        let _ = layout;
    }
}

/// Watches nothing and never stops.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Watch for Unwatched {
    fn carry_on(&mut self, _: Progress) -> bool {
        true
    }
}

/// One module, or one clamped stack of modules, in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placement {
    /// Index into [`Request::cavities`].
    pub cavity: usize,
    /// Index into [`Layout::boxes`]; `None` when bare.
    pub in_box: Option<usize>,
    /// Index into [`Request::kinds`].
    pub kind: usize,
    /// How each module stands.
    pub orientation: Orientation,
    /// The space it takes, in the cavity's frame: a stack with its end plates and nuts.
    pub cuboid: Cuboid,
    /// Modules in it: 1, or the count of a stack.
    pub count: u32,
}

/// A box as laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoxPlace {
    /// Index into [`Request::cavities`].
    pub cavity: usize,
    /// The outside of the body, in the cavity's frame; rims are told by [`BoxRule::rims`].
    pub body: Cuboid,
    /// The space inside the liner.
    pub inside: Cuboid,
    /// Which side the bay is on, if there is one.
    pub bay: Option<Face>,
}

/// One way to lay them out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Layout {
    /// The boxes; empty when bare.
    pub boxes: Vec<BoxPlace>,
    /// The modules and stacks.
    pub placements: Vec<Placement>,
    /// Modules placed.
    pub count: u32,
    /// Modules placed of each kind, in the order of [`Request::kinds`].
    pub by_kind: Vec<u32>,
    /// The smallest clearance beyond what is asked: how much every margin to walls and keep-outs could grow with all
    /// boxes (or bare modules) where they stand.
    pub to_spare: Length,
}

/// What gave the upper bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoundBy {
    /// Nothing more is on hand or wanted.
    OnHand,
    /// More modules may go in, but not another whole string.
    WholeStrings,
    /// The free volume.
    Volume,
    /// Layers times the most in a layer by area.
    Layers,
    /// How many lengths fit along an axis.
    Lengths,
    /// What the boxes may weigh.
    Mass,
    /// Weights on points: the linear program of the grid model.
    Weights,
    /// Nothing was left to try.
    Search,
}

impl BoundBy {
    /// In words, to stand after "by".
    pub const fn words(self) -> &'static str {
        match self {
            Self::OnHand => "the number on hand",
            Self::WholeStrings => "room for whole strings",
            Self::Volume => "volume",
            Self::Layers => "layers and area",
            Self::Lengths => "lengths",
            Self::Mass => "the limit of a box's mass",
            Self::Weights => "weights on points",
            Self::Search => "trying all there is",
        }
    }
}

/// Why a fit ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// Nothing was left to try within the method, or count met the bound.
    Done,
    /// The budget was used up.
    Budget,
    /// The watcher stopped it.
    Stopped,
}

/// The answer: layouts, best first, and the honest bound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// Layouts, best first; at least one, which may be empty.
    pub layouts: Vec<Layout>,
    /// No layout can hold more modules than this.
    pub upper_bound: u32,
    /// Whether the best layout's count equals the bound.
    pub proved: bool,
    /// What gave the bound.
    pub bound_by: BoundBy,
    /// Why it ended.
    pub ended: Ended,
    /// Work done.
    pub work: u64,
}

/// A request that cannot be worked on, by the place in the request.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RequestError {
    /// No cavity, no kind, or no orientation.
    #[error("nothing to lay out: {0}")]
    Nothing(&'static str),
    /// A size of zero or less.
    #[error("kind {kind}: the size along its own {axis} must be above zero")]
    NoSize {
        /// Index of the kind.
        kind: usize,
        /// `length`, `width` or `height`.
        axis: &'static str,
    },
    /// A length beyond what any cavity has: sums of products would no longer be exact.
    #[error("{0} is over 100 m")]
    TooLong(&'static str),
    /// A thickness below zero.
    #[error("{0} is below zero")]
    BelowZero(&'static str),
    /// A pinned module that is nowhere, or that breaks a rule by itself or together with the other pinned ones.
    #[error("pinned {pinned}: {flaw}")]
    Pinned {
        /// Index into [`Request::pinned`].
        pinned: usize,
        /// The rule it breaks; placements and boxes in it are numbered as the pinned ones.
        flaw: super::Flaw,
    },
    /// More wanted than are on hand, or an index out of range.
    #[error("the wanted number does not fit the request: {0}")]
    Wanted(&'static str),
}
