//! The fields of one kind of module.

use pack::chemistry::Chemistry;
use tape::{Allow, Length};

use super::choices::{choice, needed_choice, yes_no};
use super::{Field, MOST_ROOM, MOST_SIZE, MOST_UNITS, to_a_mark, worked_out};
use crate::assumed;
use crate::document::kind::StackRule;
use crate::document::quantity::thousandths_text;
use crate::field::slot::{Choice, Otherwise, Slot, Wrong};
use crate::{AxisName, ChemistryName, Id, Job, Kind, Len, Stance, Terminals};

/// The fields of one kind of module.
#[expect(clippy::too_many_lines, reason = "a table, one row for each field")]
pub(super) fn kind_slot(job: &mut Job, field: Field) -> Option<Slot<'_>> {
    let units = job.units.units();
    let assumed_length = |length: Length| Otherwise::Assumed(assumed::text(length, units));
    Some(match field {
        Field::KindName(id) => Slot::Text {
            to: &mut kind(job, id)?.name,
            needed: true,
        },
        Field::KindText(id) => Slot::Text {
            to: &mut kind(job, id)?.text,
            needed: false,
        },
        Field::KindSize(id, axis) => Slot::Length {
            to: &mut kind(job, id)?.size[axis.index()],
            allow: Allow::AboveZero,
            most: MOST_SIZE,
            otherwise: Otherwise::Missing,
        },
        Field::KindMass(id) => Slot::Mass(&mut kind(job, id)?.mass_kg, Otherwise::Missing),
        Field::KindNominal(id) => Slot::Volts(&mut kind(job, id)?.nominal_volts, Otherwise::Missing),
        Field::KindAmpHours(id) => Slot::AmpHours(&mut kind(job, id)?.amp_hours, Otherwise::Missing),
        Field::KindOnHand(id) => Slot::Count {
            to: &mut kind(job, id)?.on_hand,
            most: MOST_UNITS,
            otherwise: Otherwise::Missing,
        },
        Field::KindChemistry(id) => {
            let to = &mut kind(job, id)?.chemistry;
            let now = to.and_then(|name| Chemistry::ALL.iter().position(|&c| c == name.0));
            let pick = Box::new(move |i: Option<usize>| *to = i.map(|i| ChemistryName(Chemistry::ALL[i])));
            let options = Chemistry::ALL.iter().map(|c| c.name()).collect();
            Slot::Choice(
                Choice { options, now, pick },
                Otherwise::Assumed(assumed::CHEMISTRY.name().to_owned()),
            )
        }
        Field::KindCellsSeries(id) => {
            let kind = kind(job, id)?;
            let otherwise = worked_out(assumed::cells_series(&Kind {
                cells_series: None,
                ..kind.clone()
            }));
            Slot::Count {
                to: &mut kind.cells_series,
                most: 1000,
                otherwise,
            }
        }
        Field::KindCellsParallel(id) => Slot::Count {
            to: &mut kind(job, id)?.cells_parallel,
            most: 10_000,
            otherwise: Otherwise::Assumed("1".to_owned()),
        },
        Field::KindEmpty(id) => {
            let kind = kind(job, id)?;
            let volts = assumed::empty_volts(&Kind {
                empty_volts: None,
                ..kind.clone()
            });
            Slot::Volts(
                &mut kind.empty_volts,
                worked_out(volts.map(|v| format!("{} V", thousandths_text(v.milli())))),
            )
        }
        Field::KindFull(id) => {
            let kind = kind(job, id)?;
            let volts = assumed::full_volts(&Kind {
                full_volts: None,
                ..kind.clone()
            });
            Slot::Volts(
                &mut kind.full_volts,
                worked_out(volts.map(|v| format!("{} V", thousandths_text(v.milli())))),
            )
        }
        Field::KindResistance(id) => Slot::Resistance(&mut kind(job, id)?.resistance_mohm, Otherwise::Open),
        Field::KindContinuous(id) => Slot::Amps(&mut kind(job, id)?.continuous_amps, Otherwise::Open),
        Field::KindPeak(id) => Slot::Amps(&mut kind(job, id)?.peak_amps, Otherwise::Open),
        Field::KindCharge(id) => Slot::Amps(&mut kind(job, id)?.charge_amps, Otherwise::Open),
        Field::KindRestCurve(id) => rest_curve(kind(job, id)?),
        Field::KindPlus(id, axis) | Field::KindMinus(id, axis) => {
            let kind = kind(job, id)?;
            let [plus, minus] = assumed::terminal_points(kind);
            let (to, rule) = if matches!(field, Field::KindPlus(..)) {
                (&mut kind.plus, plus)
            } else {
                (&mut kind.minus, minus)
            };
            Slot::Length {
                to: &mut to[axis.index()],
                allow: Allow::ZeroOrMore,
                most: MOST_SIZE,
                otherwise: rule.map_or(Otherwise::Open, |point| assumed_length(to_a_mark(point[axis], units))),
            }
        }
        Field::KindTerminals(id) => {
            let to = &mut kind(job, id)?.terminals;
            choice(to, &Terminals::ALL, Terminals::name, Terminals::default().name())
        }
        Field::KindService(id) => Slot::Length {
            to: &mut kind(job, id)?.service,
            allow: Allow::ZeroOrMore,
            most: MOST_ROOM,
            otherwise: assumed_length(assumed::SERVICE),
        },
        Field::KindStance(id) => {
            let to = &mut kind(job, id)?.stance;
            choice(to, &Stance::ALL, Stance::name, Stance::default().name())
        }
        Field::KindStacked(id) => stacked(kind(job, id)?, units),
        Field::StackAlong(id) => needed_choice(&mut stack(job, id)?.along, &AxisName::ALL, |a| a.axis().extent_name()),
        Field::StackFewest(id) => Slot::Number {
            to: &mut stack(job, id)?.fewest,
            most: MOST_UNITS,
        },
        Field::StackMost(id) => Slot::Number {
            to: &mut stack(job, id)?.most,
            most: MOST_UNITS,
        },
        Field::StackEndPlate(id) => Slot::Place {
            to: &mut stack(job, id)?.end_plate,
            allow: Allow::ZeroOrMore,
        },
        Field::StackRodEnd(id) => Slot::Place {
            to: &mut stack(job, id)?.rod_end,
            allow: Allow::ZeroOrMore,
        },
        Field::StackGrowth(id) => Slot::Place {
            to: &mut stack(job, id)?.growth,
            allow: Allow::ZeroOrMore,
        },
        Field::StackHeld(id) => yes_no(&mut stack(job, id)?.growth_held),
        _ => return None,
    })
}

/// Open-circuit volts over state of charge.
fn rest_curve(kind: &mut Kind) -> Slot<'_> {
    let otherwise = Otherwise::Assumed(format!("typical for {}", assumed::chemistry(kind).name()));
    let to = &mut kind.rest_curve;
    let now = to.clone();
    let put = move |text: Option<&str>| -> Result<(), Wrong> {
        *to = match text {
            None => None,
            Some(text) => {
                crate::document::electrics::rest_curve(text)?;
                Some(text.to_owned())
            }
        };
        Ok(())
    };
    Slot::words(now, put, otherwise)
}

fn kind(job: &mut Job, id: Id) -> Option<&mut Kind> {
    job.kinds.iter_mut().find(|k| k.id == id)
}

fn stack(job: &mut Job, id: Id) -> Option<&mut StackRule> {
    kind(job, id)?.stack.as_mut()
}

/// Whether a kind only lives in clamped stacks; choosing yes starts with common figures for the person to change.
fn stacked(kind: &mut Kind, units: tape::Units) -> Slot<'_> {
    let now = Some(usize::from(kind.stack.is_some()));
    let pick = Box::new(move |i: Option<usize>| match (i, &kind.stack) {
        (Some(1), None) => {
            kind.stack = Some(StackRule {
                along: AxisName::Height,
                fewest: 2,
                most: 12,
                end_plate: Len::exactly(Length::mm(8), units),
                rod_end: Len::exactly(Length::mm(12), units),
                growth: Len::exactly(Length::ZERO, units),
                growth_held: true,
            });
        }
        (Some(0), Some(_)) => kind.stack = None,
        _ => {}
    });
    Slot::Choice(
        Choice {
            options: vec!["loose modules", "clamped stacks"],
            now,
            pick,
        },
        Otherwise::Missing,
    )
}
