//! The pages, in the order of the job.

/// A page of the program.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Page {
    /// New job, open, examples, recover.
    #[default]
    Start,
    /// Readings and keep-outs.
    Tape,
    /// Kinds of module.
    Modules,
    /// Modules and boxes in their cavities.
    Layout,
    /// Drive, charger, series and parallel.
    Pack,
    /// How boxes are built, their sizes and what to cut.
    Boxes,
    /// What can be written.
    Papers,
}

impl Page {
    /// The pages of an open job.
    pub const ALL: [Self; 6] = [
        Self::Tape,
        Self::Modules,
        Self::Layout,
        Self::Pack,
        Self::Boxes,
        Self::Papers,
    ];

    /// The page's name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Start => "Start",
            Self::Tape => "Tape",
            Self::Modules => "Modules",
            Self::Layout => "Layout",
            Self::Pack => "Pack",
            Self::Boxes => "Boxes",
            Self::Papers => "Papers",
        }
    }

    /// The page `by` places on, round and round; the start page stays.
    #[must_use]
    pub fn step(self, by: isize) -> Self {
        let Some(at) = Self::ALL.iter().position(|&p| p == self) else {
            return self;
        };
        let n = Self::ALL.len().cast_signed();
        Self::ALL[(at.cast_signed() + by).rem_euclid(n).cast_unsigned()]
    }
}
