//! What the program has to say of a job.

use std::borrow::Cow;

use crate::{Field, Id};

/// How grave a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grave {
    /// It cannot work, or is outside a stated limit.
    Stop,
    /// It works, but not as asked, or needs a second look.
    Caution,
    /// Worth knowing.
    Note,
}

impl Grave {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Stop => "stop",
            Self::Caution => "caution",
            Self::Note => "note",
        }
    }
}

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// The whole job.
    Job,
    /// A cavity.
    Cavity(Id),
    /// A keep-out.
    KeepOut(Id),
    /// A kind of module.
    Kind(Id),
    /// A box.
    Box(Id),
    /// A placed module or stack.
    Module(Id),
    /// The pack.
    Pack,
    /// The truck.
    Truck,
    /// The truck on the road.
    Road,
}

/// Something the program has to say: what, of what, with the figure, the limit, where the limit comes from, and what
/// would fix it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// How grave.
    pub grave: Grave,
    /// Of what.
    pub subject: Subject,
    /// The subject's name.
    pub name: String,
    /// What is the matter, with the figure and the limit in it.
    pub words: String,
    /// Where the limit comes from; empty when it is plain geometry or arithmetic.
    pub source: Cow<'static, str>,
    /// What would fix it; empty when nothing needs fixing.
    pub fix: String,
}

/// A value that nobody entered: the default that holds, and which figures rest on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// The field to confirm.
    pub field: Field,
    /// What it is called, with the kind's name where it belongs to a kind.
    pub label: String,
    /// The default that holds.
    pub text: String,
    /// Which figures rest on it.
    pub touches: Touches,
}

/// Which figures rest on something.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "a set of five figures, each on its own")]
pub struct Touches {
    /// Volts.
    pub volts: bool,
    /// Energy.
    pub energy: bool,
    /// Mass.
    pub mass: bool,
    /// Clearances and sizes.
    pub clearance: bool,
    /// The cut list.
    pub cut: bool,
}
