//! What carries the pack's current: cable and lugs, link bars, the caps over terminals and the glands in walls.

use enclosure::nest::bars::{self, Part, Stock};
use enclosure::nest::{Budget, Supply, Unwatched};
use enclosure::seal::gland::{self, for_cable};
use pack::conductor::Section;
use tape::Length;

use super::super::{Unit, whole_up};
use super::Of;
use super::list::{List, Spare};
use crate::nesting::stock_text;
use crate::{End, Evaluation, Figure, LinkResult, WiringResult, assumed};

/// Steps of work for the bars of one section: a few dozen links take far fewer.
const WORK: u64 = 1_000_000;

impl Of<'_> {
    /// Cables by section, and the lugs at their ends by section and stud.
    pub(super) fn cables(&self, wiring: &WiringResult, list: &mut List) {
        let stud = format!("M{}", self.evaluation.stud_mm);
        let more = self.entered.sure(Figure::CableMore);
        for section in sections(wiring, |section| matches!(section, Section::Cable(_))) {
            let links: Vec<&LinkResult> = of_section(wiring, &section).collect();
            let metres = links.iter().map(|link| link.cut.as_mm()).sum::<f64>() / 1e3;
            let most = links.iter().filter_map(|link| link.amps).fold(0.0, f64::max);
            let outside = links.iter().filter(|link| link.kind.is_cable()).count();
            let is_entered = if outside > 0 {
                self.job.electrics.cable.is_some()
                    && self.entered.is_given(Figure::LeadLength)
                    && self.entered.is_given(Figure::CableSpare)
            } else {
                self.is_link_entered
            };
            let orange = if outside > 0 {
                "; orange covering outside boxes"
            } else {
                ""
            };
            list.add(
                format!("cable {section}, fine copper strands"),
                Unit::Metres,
                metres,
                metres * (1.0 + more / 100.0),
                !is_entered || wiring.estimated,
                format!(
                    "{} lengths, lugs and slack in them, {more} % more for cutting; for {} and {}{orange}",
                    links.len(),
                    flows(most),
                    self.volts()
                ),
            );
            let ends = || links.iter().flat_map(|link| [link.from, link.to]);
            let at_modules = ends().filter(|end| matches!(end, End::Terminal { .. })).count();
            // Where a disconnect is set into a cable, two more ends are made.
            let cut_in_two = links.iter().filter(|link| link.disconnect).count();
            let elsewhere = ends().count() - at_modules + 2 * cut_in_two;
            list.pieces(
                format!("lugs {section} for {stud}"),
                at_modules,
                Spare::Tenth,
                !is_entered || !self.entered.is_given(Figure::Stud),
                format!(
                    "at the modules' terminals; one in ten to spare, two at least; for {}",
                    flows(most)
                ),
            );
            list.pieces(
                format!("lugs {section} for studs of drive, fuses and contactors"),
                elsewhere,
                Spare::Tenth,
                !is_entered,
                "at least: one at each end that is not at a module; their studs by the data sheets; one in ten to spare, two \
                 at least"
                    .to_owned(),
            );
        }
    }

    /// Link bars as whole lengths, cut with their ends beyond the holes.
    pub(super) fn bars(&self, wiring: &WiringResult, list: &mut List) {
        let units = self.evaluation.units;
        let how = assumed::how(&self.job.stock, self.job.units);
        let stock = Length::from_mm(self.entered.sure(Figure::LinkStock));
        let is_entered = self.is_link_entered && self.entered.is_given(Figure::LinkStock);
        for section in sections(wiring, |section| matches!(section, Section::Bar { .. })) {
            // Where the service disconnect sits there is no bar.
            let lengths: Vec<_> = wiring.bars.iter().filter(|bar| bar.section == section).collect();
            let part = |(id, bar): (usize, &&crate::BarLength)| Part {
                length: bar.cut,
                quantity: bar.count,
                id,
            };
            let request = bars::Request {
                parts: lengths.iter().enumerate().map(part).collect(),
                stock: vec![Stock {
                    length: stock,
                    supply: Supply::Bought,
                }],
                kerf: how.saw_kerf,
                trim: how.saw_trim,
            };
            let Ok(nest) = bars::nest(&request, Budget { work: WORK }, &mut Unwatched) else {
                continue;
            };
            let count: u32 = lengths.iter().map(|bar| bar.count).sum();
            let cut: f64 = lengths.iter().map(|bar| bar.cut.as_mm() * f64::from(bar.count)).sum();
            let most = of_section(wiring, &section)
                .filter_map(|link| link.amps)
                .fold(0.0, f64::max);
            list.pieces(
                format!("{section}, {}", stock_text(&[stock], units)),
                nest.bars.len(),
                Spare::None,
                !is_entered,
                format!(
                    "{count} links, {:.2} m cut with their ends, kerf {}{}; for {}",
                    cut / 1e3,
                    assumed::told(how.saw_kerf, units),
                    if nest.proved { ", proved" } else { "" },
                    flows(most)
                ),
            );
            for left in &nest.left_out {
                let long = lengths.get(left.id).map_or(Length::ZERO, |bar| bar.cut);
                list.pieces(
                    format!("{section}, at least {}", self.evaluation.up(long)),
                    left.quantity as usize,
                    Spare::None,
                    !is_entered,
                    format!("longer than a bar of {}", stock_text(&[stock], units)),
                );
            }
        }
    }

    /// A cap for each terminal: every one of them is live from the day the modules stand in their boxes.
    pub(super) fn caps(&self, wiring: &WiringResult, list: &mut List) {
        list.pieces(
            format!("insulating caps for terminals M{}", self.evaluation.stud_mm),
            2 * wiring.seats.len(),
            Spare::Tenth,
            !self.entered.is_given(Figure::Stud),
            format!(
                "two for each module, on until its link is fitted; for {}; one in ten to spare, two at least",
                self.volts()
            ),
        );
    }
}

/// `up to 200 A`.
fn flows(amps: f64) -> String {
    if amps > 0.0 {
        format!("up to {:.0} A", whole_up(amps))
    } else {
        "amps that are not known".to_owned()
    }
}

/// The sections of the links that are of a sort, each once.
fn sections(wiring: &WiringResult, is_of: impl Fn(&Section) -> bool) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for link in &wiring.links {
        if !found.contains(&link.section) && Section::from_text(&link.section).is_ok_and(|section| is_of(&section)) {
            found.push(link.section.clone());
        }
    }
    found
}

/// The links of a section; a disconnect takes the place of a link in a box, and is set into a cable outside.
fn of_section<'a>(wiring: &'a WiringResult, section: &'a str) -> impl Iterator<Item = &'a LinkResult> {
    let is_made = |link: &&LinkResult| !link.disconnect || link.kind.is_cable();
    wiring
        .links
        .iter()
        .filter(is_made)
        .filter(move |link| link.section == section)
}

/// Glands for the cables that cross walls and have none let in that seals on them; those that are let in are listed with the
/// walls.
pub(super) fn glands(evaluation: &Evaluation, list: &mut List) {
    for battery_box in &evaluation.boxes {
        let exits: Vec<_> = evaluation.exits_of(battery_box.id).collect();
        let let_in = evaluation.glands_of(battery_box).count();
        let (Some(exit), without) = (exits.first(), exits.len().saturating_sub(let_in)) else {
            continue;
        };
        let outside = exit.outside.as_mm();
        let (what, range) = match for_cable(exit.outside) {
            Some(gland) => {
                let [least, most] = gland.seals.map(Length::as_mm);
                (
                    format!("cable gland {} for a cable {outside:.1} mm outside", gland.name),
                    format!("seals on {least} to {most} mm, {}", gland::SOURCE),
                )
            }
            None => (
                format!("cable gland for a cable {outside:.1} mm outside"),
                "no usual gland seals on it".to_owned(),
            ),
        };
        list.pieces(
            what,
            without,
            Spare::None,
            exit.is_typical,
            format!("not let into a wall yet: packwright glands; {range}"),
        );
    }
}
