//! What a survey says, in words for someone with a tape and no survey training.

use tape::Length;
use tape::show::Style;
use tape::survey::Agreement;

use super::super::chance::give_or_take;
use super::{Next, ReadingResult, Standing, Survey, Suspect, Why};

impl Survey {
    /// One sentence: what the readings are good for.
    pub fn verdict(&self, style: Style) -> String {
        if self.nothing_left {
            return "The readings hold a shape, but leave no space in it for sure.".to_owned();
        }
        match self.standing {
            Standing::AssumedSquare if self.trouble.is_some() => {
                "The readings do not hold the shape yet: it is taken as square.".to_owned()
            }
            Standing::AssumedSquare => "Taken as square: nothing was taped from corner to corner.".to_owned(),
            Standing::Held => self.agreement_words(style),
            Standing::Doubtful => match self.suspects().len() {
                1 => "One reading looks wrong; it is set aside until you decide.".to_owned(),
                n => format!("{n} readings look wrong; they are set aside until you decide."),
            },
            Standing::Contradictory => match self.suspects().iter().find(|(_, s)| s.tied > 1) {
                Some((_, suspect)) => {
                    format!(
                        "Something is off, and {} readings could each be to blame.",
                        suspect.tied
                    )
                }
                None => "The readings contradict each other.".to_owned(),
            },
        }
    }

    fn agreement_words(&self, style: Style) -> String {
        let spare = match self.spare {
            0 => {
                return "Just enough to work out the shape, nothing left over to catch a slip.".to_owned();
            }
            1 => "1 spare reading agrees".to_owned(),
            n => format!("{n} spare readings agree"),
        };
        let within = self.most_off.map_or(String::new(), |most| {
            format!(" to within {}", give_or_take(style, most))
        });
        match self.agreement {
            Some(Agreement::Worse) => {
                "No single reading stands out, but together they agree worse than they are trusted to.".to_owned()
            }
            _ => format!("{spare}{within}."),
        }
    }

    /// What is said of a suspect: the reading at `index`.
    pub fn suspect_words(&self, index: usize, style: Style) -> Option<String> {
        let reading = self.readings.get(index)?;
        let suspect = reading.suspect.as_ref()?;
        let rivals = self.rivals_words(suspect);
        Some(match suspect.should_be {
            Some((value, _)) => {
                let maybe = maybe(reading, suspect, style);
                format!(
                    "{} looks wrong: you typed {}, the others say about {}{maybe}{rivals}",
                    reading.line,
                    reading.read,
                    style.near(value)
                )
            }
            None if suspect.tied > 1 => {
                let others = suspect.tied - 1;
                format!(
                    "{} may be wrong, or one of {others} others that could equally be to blame",
                    reading.line
                )
            }
            None => format!("{} looks wrong: you typed {}", reading.line, reading.read),
        })
    }
}

impl Survey {
    /// The readings that may be to blame instead of a suspect, as words to go on with.
    fn rivals_words(&self, suspect: &Suspect) -> String {
        let lines: Vec<String> = suspect
            .rivals
            .iter()
            .map(|&i| self.readings[i].line.to_string())
            .collect();
        match &lines[..] {
            [] => String::new(),
            [one] => format!("; or it is {one}"),
            [first, second, rest @ ..] if rest.len() > 2 => {
                format!("; or it is {first}, {second} or one of {} others", rest.len())
            }
            lines => format!("; or it is one of {}", lines.join(", ")),
        }
    }

    /// What is said of an edge that stands out among those of its direction.
    pub fn odd_words(&self, index: usize, by: Length, style: Style) -> Option<String> {
        let reading = self.readings.get(index)?;
        let (axis, _) = reading.line.dimension()?;
        let (by, than) = if by.is_negative() {
            (-by, "shorter")
        } else {
            (by, "longer")
        };
        Some(format!(
            "{} is {} {than} than the others of the {}: look at it first",
            reading.line,
            style.near(by),
            axis.extent_name()
        ))
    }
}

/// The likeliest way to have slipped, marked as a guess.
fn maybe(reading: &ReadingResult, suspect: &Suspect, style: Style) -> String {
    let Some(guess) = suspect.guesses.first() else {
        return String::new();
    };
    let style = Style {
        units: reading.read.written().units(),
        ..style
    };
    format!(" (a guess: {}, {})", style.near(guess.value), guess.slip.words())
}

impl Next {
    /// What to do, as `tape rear left bottom to front right top`.
    pub fn instruction(&self) -> String {
        match self.why {
            Why::Again | Why::AgreesLeast => format!("tape {} again", self.line.words()),
            _ => format!("tape {}", self.line.words()),
        }
    }

    /// What for.
    pub fn reason(&self, style: Style) -> String {
        match self.why {
            Why::Again => "its reading looks wrong".to_owned(),
            Why::AgreesLeast => "it agrees least with the others".to_owned(),
            Why::TellsApart => "it tells which of them is wrong".to_owned(),
            Why::Holds => "the shape is not held without it".to_owned(),
            Why::Sharpens { from, to } => format!(
                "the tightest room is then known to {} instead of {}",
                give_or_take(style, to * 2),
                give_or_take(style, from * 2)
            ),
        }
    }
}
