//! Where a figure comes from, and how that is known.

/// How a figure is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// Read in the source, or in a reproduction of it.
    Found,
    /// Worked out from a stated formula.
    Computed,
    /// Recalled, the source not opened: never to be taken as law.
    Memory,
}

impl KnownBy {
    /// `found`, `computed` or `memory`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::Computed => "computed",
            Self::Memory => "memory",
        }
    }
}

/// Where a limit or a table comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// The regulation, standard, book or page.
    pub text: &'static str,
    /// How it is known.
    pub known_by: KnownBy,
}

impl Source {
    /// Read in `text`.
    pub const fn found(text: &'static str) -> Self {
        Self {
            text,
            known_by: KnownBy::Found,
        }
    }

    /// Worked out as `text` says.
    pub const fn computed(text: &'static str) -> Self {
        Self {
            text,
            known_by: KnownBy::Computed,
        }
    }

    /// Recalled from `text`.
    pub const fn memory(text: &'static str) -> Self {
        Self {
            text,
            known_by: KnownBy::Memory,
        }
    }

    /// In words for a person: what is only recalled says so.
    pub fn words(&self) -> String {
        match self.known_by {
            KnownBy::Memory => format!("from memory, check it: {}", self.text),
            KnownBy::Found | KnownBy::Computed => self.text.to_owned(),
        }
    }
}

/// A usual figure and where it comes from. The truck's own is better.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The figure.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_recalled_says_so() {
        assert!(Source::memory("a code").words().starts_with("from memory"));
        assert_eq!(Source::found("a code").words(), "a code");
    }
}
