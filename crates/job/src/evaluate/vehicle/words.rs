//! The truck in words, the same on the page, in a terminal and on paper.

use tape::Units;
use truck::mass::axle::AxleLoads;
use truck::mass::wheel::{Wheel, WheelLoads};
use truck::rating::{Limit, Margin};

use super::{Aboard, Axles, Corner, GroundFigures, GroundResult, Stated, Sunk, length};
use crate::Evaluation;
use crate::document::{KnownName, WayName};
use crate::finding::Grave;

/// A big fact of the truck.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TruckFact {
    /// What it is of.
    pub name: &'static str,
    /// What is said of it.
    pub text: String,
    /// How grave it is, when it is outside a limit.
    pub grave: Option<Grave>,
}

/// A row of the table of axle loads.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadRow {
    /// What it is: `before, weighbridge`, `out`, `in`, `after`, ...
    pub name: String,
    /// The loads, or what is taken off (below zero) or put on.
    pub loads: AxleLoads,
    /// Whether it rests on assumed values.
    pub assumed: bool,
}

/// A row of the table of what is under the truck.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GroundRow {
    /// Who and what is aboard.
    pub aboard: String,
    /// The lowest point over level ground.
    pub lowest: String,
    /// Approach, breakover and departure, degrees.
    pub angles: [String; 3],
}

const KG_PER_LB: f64 = truck::units::KG_PER_LB;

/// Kilograms and pounds, to the nearest: `908 kg (2002 lb)`.
pub fn mass_words(kg: f64) -> String {
    format!("{:.0} kg ({:.0} lb)", whole(kg), whole(kg / KG_PER_LB))
}

/// A whole box in kilograms alone, as [`lift_words`] has it, so that one box has one mass on every page: `33.4 kg`.
pub fn box_kg_words(kg: f64) -> String {
    format!("{:.1} kg", up_tenth(kg))
}

/// A mass to so many decimals, to the nearest, in an inch job with its pounds: `33.77 kg`, `33.77 kg (74.45 lb)`.
pub fn kg_words(kg: f64, decimals: usize, units: Units) -> String {
    match units {
        Units::Millimetre => format!("{kg:.decimals$} kg"),
        Units::Inch => format!("{kg:.decimals$} kg ({:.decimals$} lb)", kg / KG_PER_LB),
    }
}

/// A whole box, in an inch job with its pounds, both rounded as [`lift_words`] does.
pub fn box_words(kg: f64, units: Units) -> String {
    match units {
        Units::Millimetre => box_kg_words(kg),
        Units::Inch => lift_words(kg),
    }
}

/// What is lifted, to a tenth and rounded up, so that a load just over a limit is not told as the limit: `33.4 kg (73.7 lb)`.
pub fn lift_words(kg: f64) -> String {
    format!("{:.1} kg ({:.1} lb)", up_tenth(kg), up_tenth(kg / KG_PER_LB))
}

/// A limit for lifting, to a tenth and rounded down: `33.0 kg (72.7 lb)`.
pub fn lift_limit_words(kg: f64) -> String {
    let tenth = |figure: f64| down(figure * 10.0) / 10.0;
    format!("{:.1} kg ({:.1} lb)", tenth(kg), tenth(kg / KG_PER_LB))
}

fn up_tenth(figure: f64) -> f64 {
    (figure * 10.0 - 1e-6).ceil() / 10.0 + 0.0
}

/// The same of what is left of something, rounded down.
pub fn left_words(kg: f64) -> String {
    format!("{:.0} kg ({:.0} lb)", down(kg), down(kg / KG_PER_LB))
}

/// To the nearest, without a sign before nothing.
fn whole(figure: f64) -> f64 {
    figure.round() + 0.0
}

/// Downwards; what is a whole number but for the last bits of a float stays it.
pub(in crate::evaluate) fn down(figure: f64) -> f64 {
    (figure + 1e-6).floor() + 0.0
}

/// Degrees to a tenth, rounded down: `17.9`.
pub fn degrees_words(degrees: f64) -> String {
    format!("{:.1}", down(degrees * 10.0) / 10.0)
}

const fn mark(assumed: bool) -> &'static str {
    if assumed { "~" } else { "" }
}

impl Axles {
    /// The loads step by step: before, what comes out, what goes in, after, with people, with cargo.
    pub fn rows(&self) -> Vec<LoadRow> {
        let less = |a: AxleLoads, b: AxleLoads| AxleLoads {
            front_kg: a.front_kg - b.front_kg,
            rear_kg: a.rear_kg - b.rear_kg,
        };
        let row = |name: String, loads, assumed| LoadRow { name, loads, assumed };
        let mut rows = vec![
            row(format!("before, {}", self.before_by.name()), self.before, false),
            row("out".to_owned(), less(self.stripped, self.before), false),
            row(
                "in".to_owned(),
                less(self.worked_out, self.stripped),
                self.worked_out_assumed,
            ),
        ];
        if self.is_weighed {
            let name = "worked out, nobody aboard".to_owned();
            rows.push(row(name, self.worked_out, self.worked_out_assumed));
        }
        let after = if self.is_weighed { "on the scale" } else { "after" };
        rows.extend(self.stated.iter().map(|stated| {
            row(
                if stated.aboard == Aboard::Nobody {
                    format!("{after}, {}", stated.aboard.words())
                } else {
                    format!("after, {}", stated.aboard.words())
                },
                stated.loads,
                stated.assumed,
            )
        }));
        rows
    }

    /// A margin in words: `rear axle rating: 1290 kg (2844 lb) of 1500 kg (3307 lb), 210 kg (462 lb) left, 14 %`.
    pub fn margin_words(&self, margin: &Margin, assumed: bool) -> String {
        if margin.within() && !margin.is_borne() {
            return format!(
                "{}: {}nothing stands on that axle, it lifts off by {}",
                margin.limit.words(),
                mark(assumed),
                mass_words(-margin.load_kg)
            );
        }
        let left = if margin.within() {
            format!(
                "{} left, {:.0} %",
                left_words(margin.left_kg()),
                Self::left_percent(margin)
            )
        } else {
            format!("over by {}", mass_words(-margin.left_kg()))
        };
        format!(
            "{}: {}{} of {}, {left}",
            margin.limit.words(),
            mark(assumed),
            mass_words(margin.load_kg),
            mass_words(margin.limit_kg)
        )
    }

    /// Of each limit the least that is left, with who and what is aboard then; of two alike the fuller one.
    pub fn least_margins(&self) -> Vec<(&Margin, &Stated)> {
        let mut least: Vec<(&Margin, &Stated)> = Vec::new();
        for stated in &self.stated {
            for margin in &stated.margins {
                match least.iter_mut().find(|(found, _)| found.limit == margin.limit) {
                    Some(found) if margin.left_kg() <= found.0.left_kg() => *found = (margin, stated),
                    Some(_) => {}
                    None => least.push((margin, stated)),
                }
            }
        }
        least
    }

    /// Of each wheel that is over, the limit that it is farthest over, with who and what is aboard then. Where the whole axle is over
    /// that limit, its wheels say nothing new.
    pub fn wheels_over(&self) -> Vec<(Wheel, &Margin, &Stated)> {
        let mut worst: Vec<(Wheel, &Margin, &Stated)> = Vec::new();
        for stated in &self.stated {
            let is_axle_over = |limit| {
                stated
                    .margins
                    .iter()
                    .any(|margin| margin.limit == limit && !margin.within())
            };
            let over = stated.of_wheels.iter().filter(|(_, margin)| !margin.within());
            for (wheel, margin) in over.filter(|(_, margin)| !is_axle_over(margin.limit)) {
                match worst.iter_mut().find(|(of, ..)| of == wheel) {
                    Some(found) if margin.left_kg() < found.1.left_kg() => *found = (*wheel, margin, stated),
                    Some(_) => {}
                    None => worst.push((*wheel, margin, stated)),
                }
            }
        }
        worst
    }

    /// One wheel over its tyre or rim, in words.
    pub fn wheel_over_words(&self, wheel: Wheel, margin: &Margin, stated: &Stated) -> String {
        let of = match margin.limit {
            Limit::Tyres(_) => "its tyre",
            _ => "its rim",
        };
        let is_read = self.are_read(wheel.axle()) && stated.aboard == Aboard::Nobody;
        let estimate = if is_read { "" } else { ", an estimate" };
        format!(
            "{}: {}{} of the {} that {of} may carry, over by {}, {}{estimate}",
            wheel.name(),
            mark(!is_read && (self.wheels_assumed || stated.assumed)),
            mass_words(margin.load_kg),
            mass_words(margin.limit_kg),
            mass_words(-margin.left_kg()),
            stated.aboard.words()
        )
    }

    /// Whether the loads with this aboard rest on assumed values.
    pub fn is_assumed_with(&self, aboard: &Aboard) -> bool {
        self.stated
            .iter()
            .any(|stated| stated.aboard == *aboard && stated.assumed)
    }

    /// The four wheels after, nobody aboard and with people: `front left ~410, right ~410, rear left ~280, right ~280 kg`.
    pub fn wheel_words(&self) -> String {
        let of = |wheels: &WheelLoads, tilde: &str| {
            format!(
                "front left {tilde}{:.0}, right {tilde}{:.0}, rear left {tilde}{:.0}, right {tilde}{:.0} kg",
                whole(wheels.front_left_kg),
                whole(wheels.front_right_kg),
                whole(wheels.rear_left_kg),
                whole(wheels.rear_right_kg),
            )
        };
        let with = self
            .stated
            .iter()
            .find(|stated| matches!(stated.aboard, Aboard::People(_)));
        let with = with.map_or_else(String::new, |stated| {
            let tilde = mark(self.wheels_assumed || stated.assumed);
            format!(
                "; {} in the middle of the cab: {}",
                stated.aboard.words(),
                of(&stated.wheels, tilde)
            )
        });
        let at_the_end = if self.wheels_weighed() {
            ""
        } else {
            ": weigh each at the end"
        };
        format!(
            "{}{with}; {}{at_the_end}",
            of(&self.wheels, mark(self.wheels_assumed)),
            self.wheels_by
        )
    }

    /// What is left of a limit, in whole percent, rounded down.
    pub fn left_percent(margin: &Margin) -> f64 {
        down(margin.left_share() * 100.0)
    }

    /// What the weighing says beside what was worked out, in words; `None` while it was not weighed again.
    pub fn reweighed_words(&self) -> Option<String> {
        let again = self.reweighed.as_ref()?;
        let parts: Vec<String> = ["front", "rear", "together"]
            .into_iter()
            .zip(again.differs_kg.into_iter().zip(again.may_differ_kg))
            .map(|(what, (differs, may))| format!("{what} {:+.0} kg, may be off {:.0} kg", whole(differs), may.ceil()))
            .collect();
        let verdict = if again.agrees() {
            "as worked out, within what both may be off"
        } else {
            "not as worked out"
        };
        Some(format!("{verdict}: {}", parts.join("; ")))
    }
}

/// The most on each axle, when sets of loads were entered.
fn heaviest(axles: &Axles) -> Option<TruckFact> {
    axles
        .stated
        .iter()
        .find(|stated| matches!(stated.aboard, Aboard::Set(_)))?;
    let most = |of: fn(&AxleLoads) -> f64| {
        let most = axles
            .stated
            .iter()
            .max_by(|a, b| of(&a.loads).total_cmp(&of(&b.loads)))?;
        let figure = format!("{}{}", mark(most.assumed), mass_words(of(&most.loads)));
        Some(format!("{figure}, {}", most.aboard.words()))
    };
    Some(TruckFact {
        name: "most on the axles",
        text: format!("front {}; rear {}", most(|l| l.front_kg)?, most(|l| l.rear_kg)?),
        grave: None,
    })
}

impl Evaluation {
    /// The big facts of the truck; empty while nothing of one was entered.
    pub fn truck_facts(&self) -> Vec<TruckFact> {
        let mut facts = Vec::new();
        if let Some(axles) = &self.vehicle.axles {
            facts.extend(self.axle_facts(axles));
        }
        if let Some(ground) = &self.vehicle.ground {
            facts.extend(self.ground_facts(ground));
        }
        if let Some(bed) = self.bed_words() {
            facts.push(TruckFact {
                name: "bed, tilted",
                text: bed.join("; "),
                grave: None,
            });
        }
        facts
    }

    /// The bed at its stop: the room over it, its tail, and room to hoist each box under it; `None` where it is not told.
    pub fn bed_words(&self) -> Option<Vec<String>> {
        let bed = self.vehicle.bed.as_ref()?;
        let mut words = vec![format!(
            "at {} degrees it reaches {} above the ground: have that head-room",
            bed.tilt_deg,
            self.up(bed.reaches)
        )];
        words.push(match &bed.tail {
            None => "nothing of it is behind the hinge".to_owned(),
            Some(tail) if tail.height.is_negative() => format!(
                "its tail ({}) drops {} and strikes the ground before {:.0} degrees",
                tail.part_name,
                self.up(tail.drop),
                tail.at_deg.ceil()
            ),
            Some(tail) => format!(
                "its tail ({}) drops {} to {} above the ground",
                tail.part_name,
                self.up(tail.drop),
                self.down(tail.height)
            ),
        });
        words.extend(bed.boxes.iter().map(|room| {
            let rises = match room.rises {
                Some(rises) => format!("{} rises {} under it", room.name, self.down(rises)),
                None => format!("{} has the upright bed behind it", room.name),
            };
            match room.least_deg {
                // A tilt to set a prop by: up, so that the box clears.
                Some(least) => {
                    let beyond = if least > f64::from(bed.tilt_deg) {
                        ", beyond its stop"
                    } else {
                        ""
                    };
                    format!(
                        "{rises}, by its own height from {:.0} degrees on{beyond}",
                        (least - 1e-9).ceil()
                    )
                }
                None => format!("{rises}, by its own height at no tilt"),
            }
        }));
        Some(words)
    }

    fn axle_facts(&self, axles: &Axles) -> Vec<TruckFact> {
        let tilde = mark(axles.loads_assumed);
        let off = axles.after_off;
        let loads = format!(
            "front {tilde}{} +-{:.0}, rear {tilde}{} +-{:.0}, together {tilde}{}",
            mass_words(axles.after.front_kg),
            off.front_kg.ceil(),
            mass_words(axles.after.rear_kg),
            off.rear_kg.ceil(),
            mass_words(axles.after.total_kg())
        );
        let worked_out = mark(axles.worked_out_assumed);
        let loads = if axles.is_weighed {
            format!(
                "{loads}; weighed; worked out: front {worked_out}{}, rear {worked_out}{}, together {worked_out}{}",
                mass_words(axles.worked_out.front_kg),
                mass_words(axles.worked_out.rear_kg),
                mass_words(axles.worked_out.total_kg())
            )
        } else {
            loads
        };
        let mut facts = vec![TruckFact {
            name: "axles, after",
            text: loads,
            grave: axles.after.lifted().map(|_| Grave::Stop),
        }];
        facts.extend(heaviest(axles));
        match &axles.weakest {
            Some((margin, with)) => facts.push(TruckFact {
                name: "weakest limit",
                text: format!(
                    "{}, {}",
                    axles.margin_words(margin, axles.is_assumed_with(with)),
                    with.words()
                ),
                grave: (!margin.within()).then_some(Grave::Stop),
            }),
            None => facts.push(TruckFact {
                name: "weakest limit",
                text: "no rating entered yet: read the plate in the door and the side walls".to_owned(),
                grave: Some(Grave::Caution),
            }),
        }
        if let Some((payload, with)) = &axles.payload {
            let place = self.near(length(axles.cargo_x_m));
            let aboard = with.words();
            let tilde = mark(axles.is_assumed_with(with) || axles.cargo_at_assumed);
            let met = payload.limited_by.words();
            let text = if payload.left_kg < 0.0 {
                // How much less cargo would do says nothing of an axle that hardly carries it.
                format!("none: {met} is over already, {aboard}")
            } else {
                let more = left_words(payload.left_kg);
                format!("{tilde}{more} more at {tilde}{place} behind the front axle, {aboard}; first met: {met}")
            };
            facts.push(TruckFact {
                name: "payload left",
                text,
                grave: (payload.left_kg < axles.payload_wanted_kg).then_some(Grave::Caution),
            });
        }
        let moved = axles.centre_after.x_m - axles.centre_before.x_m;
        let towards = if moved < 0.0 { "forward" } else { "rearward" };
        let height = mark(axles.height_assumed || axles.worked_out_assumed);
        let off = |at: usize| {
            axles
                .height_off_m
                .map_or_else(String::new, |off_m| format!(" +- {}", self.up(length(off_m[at]))))
        };
        facts.push(TruckFact {
            name: "centre of mass",
            text: format!(
                "{tilde}{} behind the front axle, {} {towards} of before; {height}{}{} up, {}{}{} before; nobody aboard",
                self.near(length(axles.centre_after.x_m)),
                self.near(length(moved.abs())),
                self.near(length(axles.centre_after.z_m)),
                off(1),
                mark(axles.height_assumed),
                self.near(length(axles.centre_before.z_m)),
                off(0)
            ),
            grave: None,
        });
        facts.push(TruckFact {
            name: "wheels, after",
            text: axles.wheel_words(),
            grave: None,
        });
        facts
    }

    /// What is under the truck with each much aboard, the springs having given, a row each; empty where nothing sinks.
    pub fn ground_rows(&self) -> Vec<GroundRow> {
        let Some(ground) = &self.vehicle.ground else {
            return Vec::new();
        };
        let axles = self.vehicle.axles.as_ref();
        let row = |sunk: &Sunk| {
            let assumed = axles.is_some_and(|axles| axles.is_assumed_with(&sunk.aboard));
            let tilde = mark(assumed || ground.is_assumed);
            let angle = |corner: &Option<Corner>| {
                let degrees = corner.as_ref().map(|corner| degrees_words(corner.degrees));
                degrees.map_or_else(|| "-".to_owned(), |degrees| format!("{tilde}{degrees}"))
            };
            let lowest = sunk.figures.lowest.as_ref();
            GroundRow {
                aboard: sunk.aboard.words(),
                lowest: lowest.map_or_else(
                    || "-".to_owned(),
                    |low| format!("{}{}", mark(assumed), self.down(length(low.z_m))),
                ),
                angles: [&sunk.figures.approach, &sunk.figures.breakover, &sunk.figures.departure].map(angle),
            }
        };
        ground.sunk_with.iter().map(row).collect()
    }

    fn ground_facts(&self, ground: &GroundResult) -> Vec<TruckFact> {
        let mut facts = Vec::new();
        let now = ground.sunk.as_ref().unwrap_or(&ground.boxes);
        let how = if ground.sunk.is_some() { "sunk" } else { "nothing sunk" };
        if let Some(low) = &now.lowest {
            facts.push(TruckFact {
                name: "lowest",
                text: format!(
                    "{} over level ground at {}, {how}{}",
                    self.down(length(low.z_m)),
                    low.name,
                    ground.before.lowest.as_ref().map_or(String::new(), |before| format!(
                        "; {} before",
                        self.down(length(before.z_m))
                    ))
                ),
                grave: None,
            });
        }
        let angles = angle_words(now, ground.is_assumed);
        if !angles.is_empty() {
            let before = angle_words(&ground.before, ground.is_assumed);
            let before = if before.is_empty() {
                String::new()
            } else {
                format!("; before: {before}")
            };
            facts.push(TruckFact {
                name: "angles, degrees",
                text: format!("{angles}{before}"),
                grave: None,
            });
        }
        facts
    }

    /// What moving one box alone would take for the wanted share, a line each.
    pub fn move_words(&self) -> Vec<String> {
        let Some(axles) = &self.vehicle.axles else {
            return Vec::new();
        };
        let line = |found: &super::BoxMove| {
            let towards = if found.by.is_negative() { "forward" } else { "rearward" };
            let room = match found.clearance {
                Some(clearance) if found.has_room() => format!("it has {} that way", self.down(clearance)),
                Some(clearance) => format!("it has only {} that way", self.down(clearance)),
                None => "room that way not known".to_owned(),
            };
            format!("{}: {} {towards}; {room}", found.name, self.near(found.by.abs()))
        };
        axles.moves.iter().map(line).collect()
    }

    /// What counts for the axle loads, a line each: `out engine: 210 kg (463 lb) at 4" behind the front axle, 0" right, 25" up`.
    pub fn counted_words(&self) -> Vec<String> {
        let to = |m: f64, words: [&str; 2]| {
            let towards = words[usize::from(m < 0.0)];
            format!("{} {towards}", self.near(length(m.abs())))
        };
        self.vehicle
            .counted
            .iter()
            .map(|one| {
                let way = match one.way {
                    WayName::Out => "out",
                    WayName::In => "in ",
                };
                format!(
                    "{way} {}: {} at {}, {}, {}",
                    one.name,
                    mass_words(one.mass_kg),
                    to(one.at.x_m, ["behind the front axle", "ahead of the front axle"]),
                    to(one.at.y_m, ["right", "left"]),
                    to(one.at.z_m, ["up", "below the ground"])
                )
            })
            .collect()
    }
}

/// `approach 24.3 (front overhang), breakover 19.8 (left box, front edge), departure 21.0 (rear overhang)`.
fn angle_words(figures: &GroundFigures, assumed: bool) -> String {
    let one = |name: &str, corner: &Option<Corner>| {
        corner.as_ref().map(|corner| {
            format!(
                "{name} {}{} ({})",
                mark(assumed),
                degrees_words(corner.degrees),
                corner.at.name
            )
        })
    };
    [
        one("approach", &figures.approach),
        one("breakover", &figures.breakover),
        one("departure", &figures.departure),
    ]
    .into_iter()
    .flatten()
    .collect::<Vec<_>>()
    .join(", ")
}

impl Axles {
    /// How the loads before are known, in words.
    pub fn before_words(&self) -> String {
        let with = if self.weighed_with.is_empty() {
            String::new()
        } else {
            format!(", with {}", self.weighed_with)
        };
        let by = match self.before_by {
            KnownName::Weighbridge => "weighed",
            KnownName::Calculated => "calculated, not weighed",
        };
        let [front, rear] = self.before_off.axles_up().map(|kg| format!("{kg:.0} kg"));
        let off = if front == rear {
            format!("each axle +-{front}")
        } else {
            format!("front +-{front}, rear +-{rear}")
        };
        format!("{by}{with}: {off}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is just over a limit is not told as the limit itself: 33.02 kg for 33 kg.
    #[test]
    fn a_lift_is_rounded_up_and_its_limit_down() {
        assert_eq!(lift_words(33.02), "33.1 kg (72.8 lb)");
        assert_eq!(lift_limit_words(33.0), "33.0 kg (72.7 lb)");
        assert_eq!(lift_words(33.0), "33.0 kg (72.8 lb)");
    }
}
