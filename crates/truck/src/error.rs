//! What is refused: which entry, what was given, what is allowed, how to mend it.

/// What a figure of a refusal is, so that it can be told with its unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Quantity {
    /// A share, a count, or what the name of the entry tells.
    #[default]
    Plain,
    /// Kilograms.
    Mass,
    /// Metres.
    Length,
    /// Newtons for a metre of give.
    Stiffness,
}

/// Which way a figure of a refusal is rounded: what is allowed is never told wider than it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Towards {
    /// To the nearest.
    Nearest,
    /// Up: the least that is allowed.
    Up,
    /// Down: the most that is allowed.
    Down,
}

impl Towards {
    /// A figure rounded to whole units of `step`.
    pub fn round(self, figure: f64, step: f64) -> f64 {
        // What is whole but for the last bits of a float stays it.
        const HAIR: f64 = 1e-9;
        let steps = figure / step;
        let steps = match self {
            Self::Nearest => steps.round(),
            Self::Up => (steps - HAIR).ceil(),
            Self::Down => (steps + HAIR).floor(),
        };
        steps * step + 0.0
    }
}

/// An entry that a formula does not hold for.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TruckError {
    /// A figure that has to be more than another.
    #[error("{}", self.words(&plain))]
    NotAbove {
        /// The entry.
        field: String,
        /// What was given.
        given: f64,
        /// What it has to be more than.
        least: f64,
        /// What both are.
        quantity: Quantity,
        /// What to do, as an instruction.
        mend: &'static str,
    },
    /// A figure outside its range, both ends of which are allowed.
    #[error("{}", self.words(&plain))]
    Outside {
        /// The entry.
        field: String,
        /// What was given.
        given: f64,
        /// The least allowed.
        least: f64,
        /// The most allowed; without end for none.
        most: f64,
        /// What all three are.
        quantity: Quantity,
        /// What to do, as an instruction.
        mend: &'static str,
    },
    /// A figure that is no number, or without end.
    #[error("{field}: {given} is no finite number; enter a figure")]
    NotFinite {
        /// The entry.
        field: String,
        /// What was given.
        given: f64,
    },
    /// Too few of something.
    #[error("{field}: {given} given, {least} at least; {mend}")]
    TooFew {
        /// Of what.
        field: String,
        /// How many were given.
        given: usize,
        /// How many there have to be.
        least: usize,
        /// What to do, as an instruction.
        mend: &'static str,
    },
}

impl TruckError {
    /// The same of figures that are so.
    #[must_use]
    pub(crate) fn of(mut self, is: Quantity) -> Self {
        if let Self::NotAbove { quantity, .. } | Self::Outside { quantity, .. } = &mut self {
            *quantity = is;
        }
        self
    }

    /// All of it in one line, each figure as `show` tells it: a figure, what it is, and which way it is rounded.
    pub fn words(&self, show: &dyn Fn(f64, Quantity, Towards) -> String) -> String {
        match self {
            Self::NotAbove {
                field,
                given,
                least,
                quantity,
                mend,
            } => format!(
                "{field}: {} is not above {}; {mend}",
                show(*given, *quantity, Towards::Nearest),
                show(*least, *quantity, Towards::Up)
            ),
            Self::Outside {
                field,
                given,
                least,
                most,
                quantity,
                mend,
            } => {
                let [given, least] = [(*given, Towards::Nearest), (*least, Towards::Up)]
                    .map(|(figure, way)| show(figure, *quantity, way));
                if most.is_finite() {
                    let most = show(*most, *quantity, Towards::Down);
                    format!("{field}: {given} is outside {least} to {most}; {mend}")
                } else {
                    format!("{field}: {given} is below {least}; {mend}")
                }
            }
            Self::NotFinite { .. } | Self::TooFew { .. } => self.to_string(),
        }
    }
}

/// A figure in SI to four digits or so.
fn plain(figure: f64, quantity: Quantity, towards: Towards) -> String {
    let unit = match quantity {
        Quantity::Plain => "",
        Quantity::Mass => " kg",
        Quantity::Length => " m",
        Quantity::Stiffness => " N/m",
    };
    format!("{}{unit}", short(figure, towards))
}

/// A figure to four digits or so, without zeros at its end: `1.2`, `117.6`, `1014`.
pub fn short(figure: f64, towards: Towards) -> String {
    let decimals: u8 = match figure.abs() {
        size if size >= 1_000.0 => 0,
        size if size >= 100.0 => 1,
        size if size >= 10.0 => 2,
        _ => 3,
    };
    let step = 0.1_f64.powi(i32::from(decimals));
    let text = format!("{:.*}", usize::from(decimals), towards.round(figure, step));
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_told_short_and_the_range_never_wider_than_it_is() {
        let outside = TruckError::Outside {
            field: "front reading, raised".to_owned(),
            given: 1_000.0,
            least: 1_013.326_767,
            most: 1_170.688_275,
            quantity: Quantity::Mass,
            mend: "weigh again",
        };
        assert_eq!(
            outside.to_string(),
            "front reading, raised: 1000 kg is outside 1014 kg to 1170 kg; weigh again"
        );
        let lift = TruckError::Outside {
            field: "lift of the rear axle".to_owned(),
            given: 3.302,
            least: 0.0,
            most: 2.967_228,
            quantity: Quantity::Length,
            mend: "less",
        };
        assert_eq!(
            lift.to_string(),
            "lift of the rear axle: 3.302 m is outside 0 m to 2.967 m; less"
        );
        assert_eq!(short(-998_176.99, Towards::Nearest), "-998177");
    }
}
