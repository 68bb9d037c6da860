//! What is said of ways in: one set of words for screens, papers and the command line.

use enclosure::Role;
use geometry::way_in::plan::Plane;
use geometry::{Axis, Face, Point};
use tape::Length;
use tape::show::Style;

use super::loading::{Held, Open};
use super::{
    Bar, Barred, BedMeets, BedSweep, BoxWay, Help, Known, Loading, Motion, Off, Outcome, Step, Stopped, Then, Tried,
    Way, WaysIn, What,
};
use crate::BedName;

/// What a way is looked for by, and what not: behind every "none", so that no more is claimed than was looked at.
pub const LOOKED_AT: &str =
    "looked at: level along all axes, and pitched in a plane where it is to stand; not turned in plan";

/// A mass, as `34.2 kg`.
pub(super) fn kg(grams: i64) -> String {
    crate::box_kg_words(crate::Grams(grams).kg())
}

/// From which side, as a movement.
const fn comes(through: Face) -> &'static str {
    match through {
        Face::Top => "down from above",
        Face::Bottom => "up from below",
        Face::Left => "in from the left",
        Face::Right => "in from the right",
        Face::Front => "in from the front",
        Face::Rear => "in from the rear",
    }
}

/// Which way along an axis, as a movement.
const fn towards(axis: Axis, by: Length) -> &'static str {
    if by.is_negative() {
        Face::low(axis).towards()
    } else {
        Face::high(axis).towards()
    }
}

impl Way {
    /// The way in one line, as `up from below, straight`.
    pub fn motion_words(&self, style: Style) -> String {
        motion(self.through, self.motion, style)
    }

    /// That it is a way, with its doubt.
    pub const fn goes_words(&self) -> &'static str {
        if self.sure { "goes" } else { "goes, only as taped" }
    }

    /// The room along it, as `5/16" to the brake line, for sure`.
    pub fn margin_words(&self, style: Style) -> String {
        let trust = if self.sure {
            "with all the tape may be off taken away"
        } else {
            "as taped only: less than what the tape may be off, tape again there"
        };
        match &self.margin {
            Some(margin) => format!("{} to {}, {trust}", style.down(margin.distance), margin.name),
            None => format!("it passes nothing beside it, {trust}"),
        }
    }

    /// How far off its place it may be while it comes straight in; empty when that is not told.
    pub fn play_words(&self, style: Style) -> String {
        let told = self.play.iter().map(|(axis, [low, high])| {
            format!(
                "{} {} to {} {}",
                style.down(low.abs()),
                Face::low(*axis).towards(),
                style.down(*high),
                Face::high(*axis).towards()
            )
        });
        let told: Vec<String> = told.collect();
        if told.is_empty() {
            String::new()
        } else {
            format!("it may hang off its place by {}", told.join(" and by "))
        }
    }

    /// One pose in words, by its place in the list.
    pub fn step_words(&self, at: usize, style: Style) -> String {
        let Some(step) = self.steps.get(at) else {
            return String::new();
        };
        let last = at + 1 == self.steps.len();
        let place = if step.by == Point::ZERO || last {
            "in its place".to_owned()
        } else {
            off(step.by, style)
        };
        format!("{}, {place}{}", self.turn_words(step), self.heights(step, style))
    }

    fn turn_words(&self, step: &Step) -> String {
        let turn = step.turn_deg;
        let (up, down) = match self.motion {
            Motion::Pitched(Plane::Across) => ("right", "left"),
            _ => ("rear", "front"),
        };
        if turn.abs() < 0.05 {
            "level".to_owned()
        } else {
            format!(
                "{} end up by {:.1} degrees",
                if turn > 0.0 { up } else { down },
                turn.abs()
            )
        }
    }

    fn heights(&self, step: &Step, style: Style) -> String {
        let Some([first, second]) = step.above_ground else {
            return String::new();
        };
        if first == second {
            return format!(", its underside {} above the ground", style.near(first));
        }
        let (a, b) = match self.motion {
            Motion::Pitched(Plane::Across) => ("left", "right"),
            _ => ("front", "rear"),
        };
        format!(
            ", its lower edge {} above the ground at the {a}, {} at the {b}",
            style.near(first),
            style.near(second)
        )
    }
}

fn motion(through: Face, motion: Motion, style: Style) -> String {
    let comes = comes(through);
    match motion {
        Motion::Straight => format!("{comes}, straight"),
        // By less than a mark.
        Motion::ThenSlid { by, .. } if style.near(by.abs()) == style.near(Length::ZERO) => format!("{comes}, straight"),
        Motion::ThenSlid { axis, by } => format!(
            "{comes}, {} off to the {}, then slid over",
            style.near(by.abs()),
            side(axis, by)
        ),
        Motion::Level => format!("{comes}, moved over level step by step"),
        Motion::Pitched(Plane::Side) => format!("{comes}, pitched front to rear"),
        Motion::Pitched(Plane::Across) => format!("{comes}, tipped left to right"),
    }
}

impl Then {
    /// That it then goes, and how.
    pub fn words(&self, style: Style) -> String {
        let doubt = if self.sure { "" } else { ", only as taped" };
        format!(
            "then it goes {}{}{doubt}",
            motion(self.through, self.motion, style),
            self.off.words()
        )
    }
}

/// The side that a step along an axis leads to.
const fn side(axis: Axis, by: Length) -> &'static str {
    if by.is_negative() {
        Face::low(axis).name()
    } else {
        Face::high(axis).name()
    }
}

/// How far it is from its place: `17 1/4" down, 3/8" left of its place`.
fn off(by: Point, style: Style) -> String {
    let nothing = style.near(Length::ZERO);
    let parts: Vec<String> = [Axis::Z, Axis::X, Axis::Y]
        .into_iter()
        .filter(|&axis| style.near(by[axis].abs()) != nothing)
        .map(|axis| format!("{} {}", style.near(by[axis].abs()), towards(axis, by[axis])))
        .collect();
    if parts.is_empty() {
        "in its place".to_owned()
    } else {
        format!("{} from its place", parts.join(", "))
    }
}

impl Stopped {
    /// What meets what, by how much, and where.
    pub fn words(&self, style: Style) -> String {
        if self.what == What::Ground {
            return format!(
                "the ground: {} too little room under the truck for the box on the jack",
                style.up(self.overlap.1)
            );
        }
        let (axis, by) = self.overlap;
        format!(
            "{} is in the way of its {}: they overlap by {} along the {}, {} before its place",
            self.name,
            self.part,
            style.up(by),
            axis.extent_name(),
            style.near(self.left.max(Length::ZERO))
        )
    }
}

/// What a proof rests on: openings that nobody entered the place of.
fn middle_words(openings: &[Face]) -> String {
    let names: Vec<&str> = openings.iter().map(|face| face.name()).collect();
    match names[..] {
        [] => String::new(),
        [one] => format!(" ~ with the {one} opening in the middle of its face"),
        _ => format!(
            " ~ with the {} openings in the middle of their faces",
            names.join(" and ")
        ),
    }
}

impl Tried {
    /// How it would have come in.
    pub const fn from_words(&self) -> &'static str {
        comes(self.through)
    }

    /// That a proof is of the closed box alone; empty where it is of the open one too.
    const fn lid_words(&self) -> &'static str {
        if self.lid_stays { ", with its lid on" } else { "" }
    }

    /// The face, and how sure it is that nothing goes there.
    pub fn words(&self, style: Style) -> String {
        let known = match self.known {
            Known::Proved => format!(
                "proved: level in no direction, nor pitched in a plane where it is to stand as far as it may be{}{}",
                self.lid_words(),
                middle_words(&self.in_the_middle)
            ),
            Known::TooClose { up, turn_deg } => format!(
                "none found, too close to call: looked at every {} of height and every {turn_deg:.2} degrees; more steps of work \
                 look closer",
                style.up(up)
            ),
            Known::Steps => "none found: not settled within the steps of work allowed".to_owned(),
            Known::Outside => {
                "none found: how it would come round outside of the cavity was not looked at in full".to_owned()
            }
        };
        format!("{}: {known}; not looked at: turned in plan", comes(self.through))
    }
}

impl Help {
    /// What keeps the box out, where that is more than what was met on its way.
    pub fn why(&self, style: Style) -> Option<String> {
        let why = match self {
            Self::LidOn { why } => why.clone(),
            Self::LidBarred { barred } => barred.words(style),
            _ => return None,
        };
        Some(format!(
            "its lid keeps it out: open it goes in, but the lid does not go on there: {why}"
        ))
    }

    /// How the box then goes; `None` where that is the lid's matter.
    pub const fn then(&self) -> Option<Then> {
        match self {
            Self::TakeOut { then, .. }
            | Self::Together { then, .. }
            | Self::Smaller { then, .. }
            | Self::Wider { then, .. }
            | Self::Bed { then, .. }
            | Self::Raise { then, .. } => Some(*then),
            Self::LidOn { .. } | Self::LidBarred { .. } => None,
        }
    }

    /// What to do.
    pub fn words(&self, style: Style) -> String {
        match self {
            Self::TakeOut { name, then, .. } => {
                format!("take {name} out of the way: {}", then.words(style))
            }
            Self::Together { out, and, then } => {
                let names: Vec<&str> = out.iter().map(|(name, _)| name.as_str()).collect();
                let all = format!("take {} out of the way", super::lift_words::listed(&names));
                match and {
                    Some(and) => format!("{all}, and {}", and.words(style)),
                    None => format!("{all}: {}", then.words(style)),
                }
            }
            Self::Smaller {
                axis,
                cut,
                free,
                bay,
                then,
            } => {
                let ends = [Face::low(*axis), Face::high(*axis)].into_iter().zip(cut);
                let ends: Vec<(Face, &Length)> = ends.filter(|(_, by)| **by > Length::ZERO).collect();
                let at = match ends[..] {
                    [(a, by_a), (b, by_b)] => format!(
                        "{} at its {}, {} at its {}",
                        style.up(*by_a),
                        a.name(),
                        style.up(*by_b),
                        b.name()
                    ),
                    [(end, _)] => format!("at its {}", end.name()),
                    _ => String::new(),
                };
                let fewer = match *free {
                    free if cut[0] + cut[1] <= free => String::new(),
                    free if *bay > Length::ZERO => {
                        let wants = cut[0] + cut[1] - free;
                        let fewer = if wants > *bay { ", with fewer modules" } else { "" };
                        format!(", its bay less by {}{fewer}", style.up(wants.min(*bay)))
                    }
                    Length::ZERO => ", with fewer modules: no room is free inside".to_owned(),
                    free => format!(", with fewer modules: {} of room is free inside", style.down(free)),
                };
                format!(
                    "make it {} less in {}, {at}{fewer}: {}",
                    style.up(cut[0] + cut[1]),
                    axis.extent_name(),
                    then.words(style)
                )
            }
            Self::LidOn { .. } => OTHER_CLOSING.to_owned(),
            Self::LidBarred { barred } => barred.lid_fix(style),
            Self::Wider {
                opening,
                lips,
                sizes,
                then,
            } => {
                let lips = lips
                    .iter()
                    .map(|(end, by)| format!("the {} lip by {}", end.name(), style.up(*by)));
                // From what is there as it is told, so that the figures add up.
                let sizes = sizes.iter().map(|(axis, is, needs)| {
                    let told = is.round_down_to(style.step());
                    let needs = told + (*needs - *is);
                    format!(
                        "{} in {}, it is {}",
                        style.up(needs),
                        axis.extent_name(),
                        style.down(told)
                    )
                });
                format!(
                    "make the {} opening larger, {}: it has to be {}; {}",
                    opening.name(),
                    lips.collect::<Vec<_>>().join(" and "),
                    sizes.collect::<Vec<_>>().join(", and "),
                    then.words(style)
                )
            }
            Self::Bed { bed, then } => {
                let bed = match bed {
                    BedName::On => "lay the bed down on the frame",
                    BedName::Off => "take the bed off the truck",
                    BedName::Tilted => "tilt the bed up",
                };
                format!("{bed}: {}", then.words(style))
            }
            Self::Raise { by, then } => format!(
                "stand the truck {} higher, or take a lower jack: {}",
                style.up(*by),
                then.words(style)
            ),
        }
    }
}

/// What does where a lid cannot be put on in its place.
const OTHER_CLOSING: &str = "take another closing, whose lid can be put on there";

impl Barred {
    /// What would let the lid on.
    fn lid_fix(&self, style: Style) -> String {
        match &self.bar {
            Bar::Low { by, needs, has } => {
                let [.., lacks] = style.short(*needs, *has);
                format!("make {lacks} more room under {by}, or {OTHER_CLOSING}")
            }
            Bar::OnTheWay { by, .. } => format!("take {by} out of the way of its lid, or {OTHER_CLOSING}"),
            Bar::Closed | Bar::Screws { .. } => OTHER_CLOSING.to_owned(),
        }
    }
}

impl Off {
    /// What of it is no small thing, to stand behind how it moves: `, with its lid off`.
    pub const fn words(self) -> &'static str {
        match (self.lid, self.brackets) {
            (false, false) => "",
            (true, false) => ", with its lid off",
            (false, true) => ", with its brackets off",
            (true, true) => ", with its lid and its brackets off",
        }
    }
}

impl Way {
    /// What is put on when it is in, a line each.
    pub fn without_words(&self) -> Vec<String> {
        let mut lines = Vec::new();
        if !self.without.is_empty() {
            lines.push(format!("fitted when it is in: {}", self.without.join(", ")));
        }
        if self.off.lid {
            lines.push(
                "it goes in open: cover every terminal, wedge the modules, and bring the lid after it the same way; it goes on \
                 there and what holds it can be reached"
                    .to_owned(),
            );
        }
        if self.off.brackets {
            lines.push(
                "with its brackets on it does not go: bolt them on in its place instead of welding them; nothing is welded \
                 with modules in the box"
                    .to_owned(),
            );
        }
        lines
    }
}

impl BoxWay {
    /// Yes or no, in one line.
    pub fn verdict(&self, style: Style) -> String {
        match &self.outcome {
            Outcome::Goes(way) => format!("{}{}", way.motion_words(style), way.off.words()),
            stays @ Outcome::Stays { tried, .. } if stays.is_impossible() => {
                let rests_on = tried.first().map_or_else(String::new, |tried| {
                    format!("{}{}", tried.lid_words(), middle_words(&tried.in_the_middle))
                });
                format!("no way in, proved{rests_on}; {LOOKED_AT}")
            }
            Outcome::Stays { .. } => format!("no way in found; {LOOKED_AT}"),
        }
    }

    /// The verdict, and of a box that stays what stops it first: the whole answer in one line.
    pub fn in_short(&self, style: Style) -> String {
        let verdict = self.verdict(style);
        match &self.outcome {
            Outcome::Goes(_) => format!("goes in: {verdict}"),
            Outcome::Stays { tried, .. } => {
                let stop = tried.iter().find_map(|tried| tried.stops.first());
                let why = stop.map_or_else(String::new, |stop| format!("; {}", stop.words(style)));
                format!("{verdict}{why}")
            }
        }
    }

    /// What there is to say of it, a line each.
    pub fn lines(&self, style: Style) -> Vec<String> {
        let mut lines = Vec::new();
        match &self.outcome {
            Outcome::Goes(way) => {
                lines.push(format!("room on the way: {}", way.margin_words(style)));
                let play = way.play_words(style);
                if !play.is_empty() {
                    lines.push(play);
                }
                lines.extend(way.without_words());
                let steps = (0..way.steps.len()).map(|i| format!("{}. {}", i + 1, way.step_words(i, style)));
                lines.extend(steps);
            }
            Outcome::Stays { tried, help } => {
                for tried in tried {
                    lines.push(tried.words(style));
                    lines.extend(
                        tried
                            .stops
                            .iter()
                            .take(4)
                            .map(|stop| format!("  {}", stop.words(style))),
                    );
                }
                lines.extend(help.iter().filter_map(|help| help.why(style)));
                lines.extend(help.iter().map(|help| format!("fix: {}", help.words(style))));
            }
        }
        lines
    }
}

impl Held {
    /// What holds which.
    pub fn words(&self, style: Style) -> String {
        let modules = self.modules.join(", ");
        // Where only the room for the hand meets something, the module itself is clear of it.
        let (room, meets) = if self.room_only {
            ("no room for hand or spanner: ", format!("that of {modules} meets"))
        } else {
            ("", format!("{modules} is under"))
        };
        match (self.by.as_str(), self.within) {
            ("", _) => format!("{room}{modules} hold each other"),
            (by, Some(deep)) => format!("{modules} stands {} in {by}", style.up(deep)),
            (by, None) if by.ends_with(Role::Lug.name()) => format!(
                "{room}{meets} {by}: take lugs of a shorter leg, or bars on rods, or leave more room between liner and modules"
            ),
            (by, None) => format!("{room}{meets} {by}"),
        }
    }
}

impl Loading {
    /// The order in one line, first one first.
    pub fn words(&self, open: &Open) -> String {
        let labels: Vec<&str> = self.order.iter().map(|&i| open.modules[i].label.as_str()).collect();
        if labels.is_empty() {
            "no order works".to_owned()
        } else {
            let bars = open.bars_words().map_or_else(String::new, |words| format!("; {words}"));
            format!("{}{bars}", labels.join(", "))
        }
    }
}

impl WaysIn {
    /// How many go in, how many of them only as taped, and in which order.
    pub fn summary(&self) -> String {
        let all = self.boxes.len();
        let going = self.boxes.iter().filter_map(|b| b.outcome.way());
        let doubtful = going.clone().filter(|way| !way.sure).count();
        let going = going.count();
        let names: Vec<&str> = self.order.iter().map(|&i| self.boxes[i].name.as_str()).collect();
        let stopped = if self.stopped { " (stopped early)" } else { "" };
        let taped = match doubtful {
            0 => String::new(),
            _ if going == 1 => ", only as taped".to_owned(),
            _ => format!(", {doubtful} of them only as taped"),
        };
        let words = match (all, names.len()) {
            (0, _) => "no box to bring in".to_owned(),
            (_, 0) => format!("{going} of {all} boxes go in{stopped}{taped}"),
            (_, 1) => format!("{going} of {all} boxes go in{stopped}{taped}: {}", names[0]),
            _ => format!(
                "{going} of {all} boxes go in{stopped}{taped}, in this order: {}",
                names.join(", ")
            ),
        };
        // What has a way and cannot be filled does not go in as it was planned.
        let unfilled = self.not_loadable().into_iter();
        let unfilled = unfilled.map(|(b, why)| format!("; {} cannot be loaded as planned: {why}", b.name));
        let words = words + &unfilled.collect::<String>();
        let others = self.other_beds().into_iter();
        let others = others.map(|(bed, names)| format!("; with the bed {} also {}", bed.name(), names.join(", ")));
        words + &others.collect::<String>()
    }

    /// The boxes that have a way but go in neither empty, half loaded nor loaded, with why.
    pub fn not_loadable(&self) -> Vec<(&BoxWay, String)> {
        let style = self.question.style;
        let going = self
            .boxes
            .iter()
            .zip(&self.states)
            .filter(|(b, _)| b.outcome.way().is_some());
        let none_goes = going.filter(|(_, states)| !states.is_empty() && states.iter().all(|state| !state.goes));
        none_goes
            .map(|(battery_box, states)| {
                // The last of them is the loaded one, which no lid or module bars where the box stands.
                let held = states.last().into_iter().flat_map(|state| &state.held);
                let why: Vec<String> = held.map(|held| held.words(style)).collect();
                (battery_box, why.join("; "))
            })
            .collect()
    }

    /// The boxes that go in when the bed stands otherwise, for each way that it may stand.
    pub fn other_beds(&self) -> Vec<(BedName, Vec<&str>)> {
        let goes = |bed: BedName| {
            let is = move |help: &Help| matches!(help, Help::Bed { bed: told, .. } if *told == bed);
            let boxes = self.boxes.iter();
            boxes.filter(move |b| matches!(&b.outcome, Outcome::Stays { help, .. } if help.iter().any(is)))
        };
        let beds = BedName::ALL.iter();
        let beds = beds.map(|&bed| (bed, goes(bed).map(|b| b.name.as_str()).collect::<Vec<_>>()));
        beds.filter(|(_, names)| !names.is_empty()).collect()
    }

    /// The least room on any way, with its box; `None` when no way passes anything.
    pub fn tightest(&self) -> Option<(&BoxWay, &super::Margin)> {
        self.tightest_of(None)
    }

    /// The same of one box alone, when it is named.
    pub fn tightest_of(&self, only: Option<&str>) -> Option<(&BoxWay, &super::Margin)> {
        let asked = self.boxes.iter().filter(|b| only.is_none_or(|only| only == b.name));
        let margins = asked.filter_map(|b| Some((b, b.outcome.way()?.margin.as_ref()?)));
        margins.min_by_key(|(_, margin)| margin.distance)
    }

    /// What keeps boxes from going in together; empty when nothing does.
    pub fn stuck_words(&self) -> String {
        self.stuck.as_ref().map_or_else(String::new, |stuck| {
            let sure = if stuck.proved {
                "proved: no order works"
            } else {
                "no order was found"
            };
            format!("{} keep each other out; {sure}; {LOOKED_AT}", stuck.names.join(", "))
        })
    }

    /// The boxes in the order they go in, then those that do not; by their places.
    pub fn in_order(&self) -> Vec<usize> {
        let rest = (0..self.boxes.len()).filter(|i| !self.order.contains(i));
        self.order.iter().copied().chain(rest).collect()
    }

    /// Everything, big facts first; of one box alone when it is named.
    pub fn text_of(&self, only: Option<&str>) -> String {
        let style = self.question.style;
        let mut lines = vec![format!("ways in: {}", self.summary())];
        if let Some((battery_box, margin)) = self.tightest_of(only) {
            lines.push(format!(
                "tightest on the way: {} to {} ({})",
                style.down(margin.distance),
                margin.name,
                battery_box.name
            ));
        }
        lines.extend(Some(self.stuck_words()).filter(|words| !words.is_empty()));
        for (n, at) in self.in_order().into_iter().enumerate() {
            let (battery_box, moved) = (&self.boxes[at], &self.question.boxes[at]);
            if only.is_some_and(|only| only != battery_box.name) {
                continue;
            }
            lines.push(String::new());
            lines.push(format!(
                "{}. {}, {}: {}",
                n + 1,
                battery_box.name,
                kg(moved.mass_g),
                battery_box.verdict(style)
            ));
            lines.extend(battery_box.lines(style).into_iter().map(|line| format!("   {line}")));
            if !battery_box.after.is_empty() {
                let names: Vec<&str> = battery_box.after.iter().map(|&i| self.boxes[i].name.as_str()).collect();
                lines.push(format!("   comes out after {}", names.join(", ")));
            }
            lines.extend(self.state_words(at).into_iter().map(|line| format!("   {line}")));
            let (loading, open) = (&self.loading[at], &self.question.loading[at]);
            if !open.modules.is_empty() {
                lines.push(format!("   loaded in this order: {}", loading.words(open)));
                lines.extend(loading.held.iter().map(|held| format!("   {}", held.words(style))));
            }
        }
        let left_out = self.question.left_out.iter();
        for (name, why) in left_out.filter(|(name, _)| only.is_none_or(|only| only == name)) {
            lines.extend([String::new(), format!("{name}: not looked at: {why}")]);
        }
        lines.extend(self.foot());
        lines.push(String::new());
        lines.join("\n")
    }

    /// What was not looked at and what nobody entered, a line each, after an empty one.
    pub fn foot(&self) -> Vec<String> {
        let mut lines = Vec::new();
        let mut not = self.question.not_looked_at.clone();
        not.push("turning in plan or out of one plane, ropes and jacks, and things nobody entered".to_owned());
        lines.push(String::new());
        lines.push(format!("not looked at: {}", not.join("; ")));
        if !self.question.assumed.is_empty() {
            lines.push(format!("~ nobody entered: {}", self.question.assumed.join(", ")));
        }
        lines
    }
}

/// What the bed meets or nearly meets on its way up, in one line; of one box alone when it is named.
pub fn bed_words(swept: &Result<BedSweep, String>, style: Style, only: Option<&str>) -> String {
    let swept = match swept {
        Err(missing) => return format!("bed: sweep not checked: {missing}"),
        Ok(swept) => swept,
    };
    let is_asked = |name: &str| only.is_none_or(|only| only == name);
    let nearest = swept.nearest.iter().filter(|near| is_asked(&near.box_name));
    let mut words: Vec<String> = nearest.map(|near| near.words(style)).collect();
    let not = swept.not_placed.iter().filter(|name| is_asked(name));
    words.extend(not.map(|name| format!("{name} not checked: its cavity has no place in the truck")));
    if words.is_empty() {
        words.push("no box to look at".to_owned());
    }
    format!("bed, up to {} degrees: {}", swept.tilt_deg, words.join("; "))
}

impl BedMeets {
    /// What comes how near to which box, and when.
    pub fn words(&self, style: Style) -> String {
        let (part, name) = (&self.part_name, &self.box_name);
        match self.meets_deg {
            Some(at) => format!("{part} meets {name} at {at:.1} degrees"),
            None => format!(
                "{part} passes {name} with {} at {:.1} degrees",
                style.down(self.distance),
                self.at_deg
            ),
        }
    }
}
