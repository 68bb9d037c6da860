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
    /// Tested units.
    Units,
    /// What the truck weighs and may weigh, and what is under it.
    Truck,
    /// The wiring on the sheet; a second look at the Layout page, not a page of the row of tabs.
    Wiring,
}

impl Page {
    /// The pages of an open job.
    pub const ALL: [Self; 8] = [
        Self::Tape,
        Self::Modules,
        Self::Layout,
        Self::Pack,
        Self::Boxes,
        Self::Papers,
        Self::Units,
        Self::Truck,
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
            Self::Units => "Units",
            Self::Truck => "Truck",
            Self::Wiring => "Wiring",
        }
    }

    /// The page whose tab stands for it.
    #[must_use]
    pub const fn tab(self) -> Self {
        match self {
            Self::Wiring => Self::Layout,
            other => other,
        }
    }

    /// The page `by` places on, round and round; the start page stays.
    #[must_use]
    pub fn step(self, by: isize) -> Self {
        let Some(at) = Self::ALL.iter().position(|&p| p == self.tab()) else {
            return self;
        };
        let n = Self::ALL.len().cast_signed();
        Self::ALL[(at.cast_signed() + by).rem_euclid(n).cast_unsigned()]
    }
}
