//! What breaks and switches the pack's current: fuses, contactors, pre-charge, disconnects. Where only the need is known the
//! rating is left to who is licensed to choose it.

use pack::protection::{fuse, precharge, short_circuit};
use tape::Length;

use super::super::{tenth_up, whole_up};
use super::list::{List, Spare};
use super::{Of, mark};
use crate::document::FittingName;
use crate::{Evaluation, Figure, Id, Job, WiringResult};

/// Said of every part whose rating nobody entered.
const CHOSEN: &str = "rating to be chosen by the licensed electrician, by local code";
/// Said of a fuse while that is not known.
const FOLLOWS: &str = "its rating follows from the drive's amps for long, which are not entered";

impl Of<'_> {
    pub(super) fn fuses(&self, list: &mut List) {
        let share = |figure| self.entered.sure(figure) / 100.0;
        let least = |amps: f64| fuse::least_rating(amps, share(Figure::FuseLoad), share(Figure::FuseWarm));
        let modules = self.electric.resistances.in_a_short.map(pack::Ohms::milliohms);
        let short = modules.and_then(|modules| {
            short_circuit::short_circuit(self.full_v, modules, 0.0, self.entered.sure(Figure::LoopInductance))
        });
        let breaks = short.map_or_else(
            || "breaks what the pack gives in a short circuit, which is not known".to_owned(),
            |short| {
                let volts = mark(self.are_volts_assumed);
                format!("breaks at least {volts}{:.1} kA dc", tenth_up(short.amps / 1e3))
            },
        );
        let is_load_assumed = !(self.entered.is_given(Figure::FuseLoad) && self.entered.is_given(Figure::FuseWarm));
        let mut line = |name: &str, rated: Figure, count: u32, share: f64| {
            let rated = self.entered.get(rated);
            let need = match self.amps {
                Some((amps, true)) => format!(
                    "at least {}{:.0} A for {}",
                    mark(is_load_assumed),
                    whole_up(least(amps * share)),
                    self.amps_words(share)
                ),
                Some((amps, false)) => format!("{:.0} A for a short time, {FOLLOWS}", whole_up(amps * share)),
                None => FOLLOWS.to_owned(),
            };
            let (what, chosen) = match rated {
                Some(amps) => (format!("{name} {amps} A"), String::new()),
                None => (name.to_owned(), format!("; {CHOSEN}")),
            };
            list.pieces(
                format!(
                    "{what}, for {}{:.0} V dc or more",
                    mark(self.are_volts_assumed),
                    whole_up(self.full_v)
                ),
                count as usize,
                Spare::One,
                self.are_volts_assumed
                    || (is_load_assumed && rated.is_none() && self.amps.is_some_and(|(_, long)| long)),
                format!("{need}; {}, {breaks}; one to spare{chosen}", self.volts()),
            );
        };
        line("main fuse with its holder", Figure::FuseAmps, 1, 1.0);
        if self.strings > 1 {
            line(
                "string fuse with its holder",
                Figure::StringFuse,
                self.strings,
                1.0 / f64::from(self.strings),
            );
        }
    }

    pub(super) fn contactors(&self, list: &mut List) {
        let rated = (
            self.entered.get(Figure::ContactorAmps),
            self.entered.get(Figure::ContactorVolts),
        );
        let (what, chosen) = match rated {
            (Some(amps), Some(volts)) => (format!("main contactor {amps} A, {volts} V dc"), String::new()),
            _ => ("main contactor".to_owned(), format!("; {CHOSEN}")),
        };
        list.pieces(
            what,
            2,
            Spare::None,
            false,
            format!(
                "one in each pole at the pack's end (common practice, no source); carries {}, breaks {}{chosen}",
                self.amps_words(1.0),
                self.volts()
            ),
        );
    }

    /// The resistor that fills the drive's capacitors, and the contactor that switches it.
    pub(super) fn precharge(&self, list: &mut List) {
        let farads = self.entered.get(Figure::DriveCapacitors).map(|uf| uf * 1e-6);
        let Some(farads) = farads.filter(|farads| *farads > 0.0) else {
            list.pieces(
                "pre-charge resistor and contactor".to_owned(),
                1,
                Spare::None,
                false,
                format!(
                    "for {}; the drive's capacitors are not entered, which it follows from; {CHOSEN}",
                    self.volts()
                ),
            );
            return;
        };
        let level = self.entered.sure(Figure::PrechargeLevel) / 100.0;
        let within = self.entered.sure(Figure::PrechargeSeconds).max(0.001);
        let is_time_assumed =
            !(self.entered.is_given(Figure::PrechargeLevel) && self.entered.is_given(Figure::PrechargeSeconds));
        // As printed: one of these ohms is quick enough, and what it has to stand follows from them.
        let sized = figures_down(precharge::resistor(self.full_v, farads, level, within).ohms);
        let entered = self.entered.get(Figure::PrechargeOhms).filter(|ohms| *ohms > 0.0);
        let ohms = entered.unwrap_or(sized);
        let (what, chosen) = match entered {
            Some(ohms) => (format!("pre-charge resistor {ohms} ohm"), String::new()),
            None => (
                format!("pre-charge resistor, {}{sized} ohm at most", mark(is_time_assumed)),
                format!("; {CHOSEN}"),
            ),
        };
        // Amps and watts rest on the ohms, joules on the level alone.
        let of_ohms = mark(self.are_volts_assumed || (is_time_assumed && entered.is_none()));
        let of_level = mark(self.are_volts_assumed || !self.entered.is_given(Figure::PrechargeLevel));
        list.pieces(
            what,
            1,
            Spare::One,
            self.are_volts_assumed || is_time_assumed,
            format!(
                "{:.0} uF to {}{:.0} % within {}{within} s at {}: {of_ohms}{:.0} W at first, takes {of_level}{:.0} J in one \
                 pulse; one to spare{chosen}",
                farads * 1e6,
                mark(!self.entered.is_given(Figure::PrechargeLevel)),
                level * 100.0,
                mark(!self.entered.is_given(Figure::PrechargeSeconds)),
                self.volts(),
                whole_up(self.full_v * self.full_v / ohms),
                whole_up(precharge::taken_j(self.full_v, farads, level))
            ),
        );
        list.pieces(
            "pre-charge contactor".to_owned(),
            1,
            Spare::None,
            self.are_volts_assumed || (is_time_assumed && entered.is_none()),
            format!(
                "carries {of_ohms}{:.1} A at first, breaks {}; {CHOSEN}",
                tenth_up(self.full_v / ohms),
                self.volts()
            ),
        );
    }

    /// One in each string: those let into the walls of the pack's boxes, which are taken off `let_in`, then those that have
    /// no hole yet.
    pub(super) fn disconnects(&self, wiring: &WiringResult, let_in: &mut Vec<LetIn>, list: &mut List) {
        let places = wiring.links.iter().filter(|link| link.disconnect).count();
        let share = 1.0 / f64::from(self.strings);
        let need = format!("carries {}, for {}; {CHOSEN}", self.amps_words(share), self.volts());
        let is_own = |one: &LetIn| wiring.seats.iter().any(|seat| seat.battery_box == one.battery_box);
        let mut without = places;
        while let Some(own) = let_in.iter().position(is_own).filter(|_| without > 0) {
            let what = let_in.remove(own).words(self.job);
            list.pieces(what, 1, Spare::None, false, need.clone());
            without -= 1;
        }
        list.pieces(
            "service disconnect with its plug".to_owned(),
            without,
            Spare::None,
            false,
            format!("set into the chain, let into no wall yet; {need}"),
        );
    }
}

/// A disconnect that is let into a wall.
pub(super) struct LetIn {
    battery_box: Id,
    hole: Length,
}

impl LetIn {
    pub(super) fn all(evaluation: &Evaluation) -> Vec<Self> {
        let boxes = evaluation.boxes.iter();
        boxes
            .flat_map(|b| {
                let own = b.fittings.iter();
                let own = own.filter(|f| f.what == FittingName::Disconnect && f.fault.is_none());
                own.map(|f| Self {
                    battery_box: b.id,
                    hole: f.hole,
                })
            })
            .collect()
    }

    pub(super) fn words(&self, job: &Job) -> String {
        let hole = tape::show::hole(self.hole, job.units.units());
        format!("service disconnect with its plug, for a hole of {hole}")
    }
}

/// Down to three figures, whole from a hundred on: what is at most so much.
fn figures_down(amount: f64) -> f64 {
    let steps = match amount {
        _ if amount >= 100.0 => 1.0,
        _ if amount >= 10.0 => 10.0,
        _ if amount >= 1.0 => 100.0,
        // Less than a thousandth is left as it is.
        _ if amount >= 0.001 => 1000.0,
        _ => return amount,
    };
    (amount * steps + 1e-9).floor() / steps
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_at_most_so_much_is_rounded_down_and_never_to_nothing() {
        let down = [333.8, 40.0, 39.999, 5.678, 0.9996, 0.0004].map(|ohms| figures_down(ohms).to_string());
        assert_eq!(down, ["333", "40", "39.9", "5.67", "0.999", "0.0004"]);
    }
}
