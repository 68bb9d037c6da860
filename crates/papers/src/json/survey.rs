//! The survey of a cavity as data.

use job::{CavityResult, Evaluation, Next, ReadingResult, Standing, Survey, Surveyed, Used};
use serde_json::{Value, json};
use tape::survey::{Agreement, Corner};

use super::mm;

/// The surveys of the cavities with these names (all when there are none), complete: corners with their covariance and
/// all 28 lines. `format` and `version` name this layout.
pub fn survey_json(evaluation: &Evaluation, only: &[String]) -> Value {
    let wanted = |cavity: &&CavityResult| only.is_empty() || only.contains(&cavity.name);
    let cavities = evaluation.cavities.iter().filter(wanted).map(|cavity| {
        json!({
            "id": cavity.id.0,
            "name": cavity.name,
            "space": cavity.space.as_ref().map(super::place::cuboid),
            "usable": cavity.usable.as_ref().map(super::place::cuboid),
            "survey": survey(evaluation, cavity),
            "shape": cavity.survey.shape.as_deref().map(shape),
        })
    });
    json!({
        "format": "packwright-survey",
        "version": 1,
        "job": evaluation.name,
        "sigmas": evaluation.sigmas,
        "cavities": cavities.collect::<Vec<_>>(),
        "cautions": crate::cautions(),
    })
}

pub(super) fn survey(evaluation: &Evaluation, cavity: &CavityResult) -> Value {
    let survey = &cavity.survey;
    let style = evaluation.style();
    json!({
        "standing": standing(survey),
        "verdict": survey.verdict(style),
        "spare": survey.spare,
        "agreement": survey.agreement.map(agreement),
        "most_off_mm": survey.most_off.map(mm),
        "fitting_sigma_mm": survey.fitting_sigma.map(mm),
        "trouble": survey.trouble,
        "cannot_close": survey.open,
        "not_square": survey.out_of_square.map(|found| json!({
            "face": found.face.to_string(),
            "by_mm": mm(found.by),
            "longer": found.longer.to_string(),
        })),
        "next": survey.next.iter().chain(&cavity.next).map(|next| self::next(next, evaluation)).collect::<Vec<_>>(),
        "readings": survey.readings.iter().map(|r| reading(r, survey)).collect::<Vec<_>>(),
        "statements": survey.statements.iter().map(|s| json!({
            "words": s.words,
            "off_mm": s.off.map(mm),
            "standardised": s.standardised,
        })).collect::<Vec<_>>(),
    })
}

const fn standing(survey: &Survey) -> &'static str {
    match survey.standing {
        Standing::AssumedSquare => "assumed square",
        Standing::Held => "held",
        Standing::Doubtful => "doubtful",
        Standing::Contradictory => "contradictory",
    }
}

const fn agreement(agreement: Agreement) -> &'static str {
    match agreement {
        Agreement::NoSpare => "no spare readings",
        Agreement::AsExpected => "as expected",
        Agreement::Better => "better",
        Agreement::Worse => "worse",
    }
}

fn next(next: &Next, evaluation: &Evaluation) -> Value {
    json!({
        "line": next.line.to_string(),
        "instruction": next.instruction(),
        "reason": next.reason(evaluation.style()),
    })
}

fn reading(reading: &ReadingResult, survey: &Survey) -> Value {
    let suspect = reading.suspect.as_ref().map(|suspect| {
        json!({
            "rank": suspect.rank,
            "tied": suspect.tied,
            "may_be_to_blame_instead": suspect.rivals.iter().map(|&i| survey.readings[i].line.to_string()).collect::<Vec<_>>(),
            "should_be_mm": suspect.should_be.map(|(value, _)| mm(value)),
            "should_be_sigma_mm": suspect.should_be.map(|(_, sigma)| mm(sigma)),
            "guesses": suspect.guesses.iter().map(|guess| json!({
                "value_mm": mm(guess.value),
                "slip": guess.slip.words(),
            })).collect::<Vec<_>>(),
        })
    });
    json!({
        "line": reading.line.to_string(),
        "read": reading.read.text(),
        "read_mm": mm(reading.read.value()),
        "sigma_mm": mm(reading.sigma),
        "used": match reading.used {
            Used::Shape => "shape",
            Used::Cap => "caps the space",
            Used::Square => "smallest",
            Used::Kept => "not used yet",
            Used::SetAside => "set aside",
            Used::LeftOut => "left out",
        },
        "adjusted_mm": reading.adjusted.map(mm),
        "residual_mm": reading.adjusted.map(|adjusted| mm(adjusted - reading.read.value())),
        "redundancy": reading.checked,
        "standardised": reading.standardised,
        "detectable_mm": reading.detectable.map(mm),
        "suspect": suspect,
    })
}

fn shape(shape: &Surveyed) -> Value {
    let corners = Corner::ALL.iter().zip(shape.corners());
    json!({
        "corners_mm": corners.map(|(corner, at)| json!({ "corner": corner.to_string(), "at": at })).collect::<Vec<_>>(),
        "covariance_mm2": shape.adjustment.covariance_rows().iter().map(|row| row.to_vec()).collect::<Vec<_>>(),
        "lines": shape.adjustment.lines.iter().map(|figure| json!({
            "line": figure.line.to_string(),
            "mm": figure.mm,
            "sigma_mm": figure.sigma_mm,
        })).collect::<Vec<_>>(),
        "weighted_squares": shape.adjustment.weighted_squares,
        "usable_sigma_mm": shape.usable.sigmas.map(mm),
        "usable_chance": shape.usable.chance,
    })
}
