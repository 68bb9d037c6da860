//! What the survey of a cavity gives cause to say.

use geometry::Axis;
use tape::show::Style;
use tape::survey::Agreement;
use tape::{Length, Units};

use super::{Look, finding};
use crate::document::Cavity;
use crate::evaluate::CavityResult;
use crate::evaluate::survey::{Next, Standing};
use crate::finding::{Finding, Grave, Subject};

/// Readings or diagonals that differ by more mean a skewed or bowed frame.
const SKEW: Length = Length::sixty_fourths(16);
const SKEW_SOURCE: &str = "military truck maintenance manual, frame inspection: diagonals differing by more than 1/4 in (6 mm) mean skewed rails";

const STRAIGHT: &str = "common practice, no source: corners say nothing of what lies between them";

/// A standard uncertainty that is to be typed: marks of the tape would hide what it is about.
fn fine(style: Style, sigma: Length) -> String {
    let millimetres = Style {
        units: Units::Millimetre,
        ..style
    };
    millimetres.near(sigma.max(Length::tenths_mm(1)))
}

/// The findings of one cavity under way.
struct Say<'a, 'b> {
    look: &'a Look<'b>,
    cavity: &'a CavityResult,
    taped: &'a Cavity,
    findings: &'a mut Vec<Finding>,
}

pub(super) fn list(look: &Look<'_>, cavity: &CavityResult, findings: &mut Vec<Finding>) {
    let Some(taped) = look.job.cavity(cavity.id) else {
        return;
    };
    let mut say = Say {
        look,
        cavity,
        taped,
        findings,
    };
    say.suspects();
    say.senseless();
    if let (true, Some(trouble)) = (cavity.survey.nothing_left, &cavity.survey.trouble) {
        let fix = "tape the posts and the diagonals of the walls again, or hold back fewer sigma";
        say.say(Grave::Stop, trouble.clone(), "", fix);
        return;
    }
    match cavity.survey.standing {
        Standing::AssumedSquare => say.assumed_square(),
        _ => say.shaped(),
    }
}

impl Say<'_, '_> {
    fn say(&mut self, grave: Grave, words: impl Into<String>, source: &'static str, fix: impl Into<String>) {
        let subject = Subject::Cavity(self.cavity.id);
        self.findings
            .push(finding(grave, subject, &self.cavity.name, words, source, fix));
    }

    /// The first lines to tape next, as an instruction.
    fn next(&self) -> String {
        let lines: Vec<String> = self.cavity.survey.next.iter().take(3).map(Next::instruction).collect();
        lines.join(", and ")
    }

    fn suspects(&mut self) {
        let (look, survey) = (self.look, &self.cavity.survey);
        let style = look.evaluation.style();
        let suspects = survey.suspects();
        for (index, _) in suspects.iter().filter(|(_, s)| s.tied == 1) {
            let Some(words) = survey.suspect_words(*index, style) else {
                continue;
            };
            let line = &self.taped.readings[*index].line;
            self.say(
                Grave::Caution,
                words,
                "",
                format!("tape {line} again; it is set aside until you tape it, leave it out or say that it stands"),
            );
        }
        if let Some((_, first)) = suspects.iter().find(|(_, s)| s.tied > 1) {
            let tied: Vec<String> = suspects
                .iter()
                .filter(|(_, s)| s.tied > 1)
                .map(|(i, _)| self.taped.readings[*i].line.to_string())
                .collect();
            let words = format!(
                "something is off, and these {} readings could each be to blame: {}",
                first.tied,
                tied.join(", ")
            );
            let fix = match survey.next.last() {
                Some(next) => format!("{} to find out", next.instruction()),
                None => "tape them again, the longest first".to_owned(),
            };
            self.say(Grave::Caution, words, "", fix);
        } else if survey.standing == Standing::Contradictory {
            self.say(
                Grave::Caution,
                "the readings contradict each other, and what stands or is left is not enough to say which is wrong",
                "",
                "tape the cavity again, the diagonals first",
            );
        }
        if survey.standing != Standing::Held {
            for &(index, by) in &survey.odd {
                if let Some(words) = survey.odd_words(index, by, style) {
                    self.say(Grave::Caution, words, "", "tape it again");
                }
            }
        }
        for open in &survey.open {
            self.say(Grave::Caution, open.clone(), "", "tape these three again");
        }
    }

    fn senseless(&mut self) {
        for &index in &self.cavity.survey.disproved {
            let stated = self
                .cavity
                .survey
                .statements
                .get(index)
                .map_or("", |s| s.words.as_str());
            let words = format!("the readings speak against {stated}: it is set aside");
            self.say(
                Grave::Caution,
                words,
                "",
                "check it with a square or a level, or take it back",
            );
        }
        for &(index, why) in &self.cavity.survey.senseless {
            let words = format!("statement {} is not used: {why}", index + 1);
            self.say(Grave::Caution, words, "", "take it back, or state it of other lines");
        }
    }

    fn assumed_square(&mut self) {
        let (look, survey) = (self.look, &self.cavity.survey);
        let mut skewed = false;
        if let Some(found) = survey.out_of_square.filter(|found| found.by > SKEW) {
            skewed = true;
            let words = format!(
                "the two diagonals of the {} differ by {}: it is not square, or one is misread",
                found.face,
                look.up(found.by)
            );
            let fix = "tape both diagonals again; allow for the lean when you set the margin";
            self.say(Grave::Caution, words, SKEW_SOURCE, fix);
        }
        for dimension in self.cavity.dimensions.iter().flatten() {
            if dimension.usable.spread > SKEW {
                let words = format!(
                    "the {} differs by {} from place to place; the smallest is used",
                    dimension.axis.extent_name(),
                    look.up(dimension.usable.spread)
                );
                self.say(Grave::Caution, words, SKEW_SOURCE, "tape the odd one again");
            }
        }
        if let Some(trouble) = &survey.trouble {
            let next = self.next();
            let fix = if next.is_empty() {
                "tape the lines between the corners again".to_owned()
            } else {
                next
            };
            self.say(Grave::Note, trouble.clone(), "", fix);
        }
        if self.cavity.space.is_some() {
            let words = format!(
                "assumed square: smallest reading of each dimension less {} sigma",
                look.evaluation.sigmas
            );
            let fix = match (skewed, survey.trouble.is_some()) {
                (true, _) | (_, true) => "",
                _ => "tape from corner to corner, the diagonals too, before you cut: see the tape sheet",
            };
            self.say(Grave::Note, words, "", fix);
        }
    }

    fn shaped(&mut self) {
        let (look, survey) = (self.look, &self.cavity.survey);
        let style = look.evaluation.style();
        let worse = survey.agreement == Some(Agreement::Worse);
        if survey.standing == Standing::Held && worse {
            let next = self.next();
            let fix = match survey.fitting_sigma {
                Some(sigma) => format!(
                    "{next}; or set the give or take of a reading to {}, which would fit them",
                    fine(style, sigma)
                ),
                None => format!("{next}: it agrees least with the others"),
            };
            self.say(Grave::Caution, survey.verdict(style).trim_end_matches('.'), "", fix);
        } else if survey.standing == Standing::Held {
            let fix = match (survey.spare, &self.cavity.next) {
                (_, Some(next)) => format!("{}: {}", next.instruction(), next.reason(style)),
                (0, None) => "tape two more diagonals".to_owned(),
                _ => String::new(),
            };
            self.say(Grave::Note, survey.verdict(style).trim_end_matches('.'), "", fix);
        }
        if let (Some(sigma), Some(Agreement::Better)) = (survey.fitting_sigma, survey.agreement) {
            let words = format!(
                "the readings agree better than they are trusted: a give or take of {} each would fit them",
                fine(style, sigma)
            );
            let fix = "leave it, or set the give or take of a reading if you know your tape to be that good";
            self.say(Grave::Note, words, "", fix);
        }
        self.unchecked();
        self.leaning();
        self.bulging();
        let firm = survey
            .shape
            .as_ref()
            .is_none_or(|shape| shape.adjustment.strength.is_sound());
        if !firm {
            let words = "the readings hold the shape poorly: a small slip moves it far";
            let next = self.next();
            self.say(Grave::Caution, words, "", next);
        }
    }

    fn unchecked(&mut self) {
        let survey = &self.cavity.survey;
        let lines: Vec<String> = survey
            .unchecked()
            .into_iter()
            .map(|i| self.taped.readings[i].line.to_string())
            .collect();
        if survey.spare > 0 && !lines.is_empty() {
            let words = format!("no other reading checks {}", lines.join(", "));
            self.say(Grave::Note, words, "", "tape it twice");
        }
    }

    fn leaning(&mut self) {
        let Some(found) = self.cavity.survey.out_of_square.filter(|found| found.by > SKEW) else {
            return;
        };
        let words = format!(
            "not square by {} over the diagonal of the {}; the usable cuboid allows for it",
            self.look.up(found.by),
            found.face
        );
        self.say(Grave::Note, words, SKEW_SOURCE, "");
    }

    /// What was read between the corners, against what they say.
    fn bulging(&mut self) {
        let Some(shape) = self.cavity.survey.shape.as_ref() else {
            return;
        };
        let corners = shape.expected_cuboid();
        for axis in Axis::ALL {
            let Some(dimension) = &self.cavity.dimensions[axis.index()] else {
                continue;
            };
            let less = corners.size()[axis] - dimension.smallest;
            // What the tape itself may be off tells of no bulge, though the space is held to the smaller figure.
            if less > dimension.tape_may_be_off(self.look.evaluation.sigmas) {
                let words = format!(
                    "between the corners the {} is {} less than at them; the space is made that much smaller, half at each side",
                    axis.extent_name(),
                    self.look.evaluation.near(less)
                );
                let fix = "which wall bulges is not known, so a box may stand that much nearer to it until it is slid over; \
                           enter the bulge as a keep-out at its wall, if you know which it is";
                self.say(Grave::Caution, words, STRAIGHT, fix);
            }
        }
    }
}
