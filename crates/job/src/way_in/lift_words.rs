//! What is said of boxes opened, loaded and emptied: in their places, and on the way out of a module.

use geometry::Face;
use tape::show::Style;
use truck::lift::Hands;

use super::loading::Open;
use super::service::OutFirst;
use super::words::kg;
use super::{Bar, Barred, Service, State, Way, WaysIn};
use crate::BedName;

/// A mass, and what is needed for it beyond one person.
fn lift(grams: Option<i64>) -> String {
    let Some(grams) = grams else {
        return "weight not entered".to_owned();
    };
    match truck::lift::hands(crate::Grams(grams).kg()) {
        Ok(Hands::Two | Hands::Hoist) => format!("{}: more than one person lifts, jack or hoist", kg(grams)),
        // Nothing that has a mass above zero is left over.
        Ok(Hands::One) | Err(_) => kg(grams),
    }
}

/// Hold-down bars with the nuts that hold them, one at each end.
fn bars_over(count: usize, over: &str) -> String {
    let nuts = count * 2;
    match count {
        1 => format!("the bar over {over} ({nuts} nuts)"),
        _ => format!("the {count} bars over {over} ({nuts} nuts)"),
    }
}

/// `M13, M14 and M15`.
pub(super) fn listed(names: &[&str]) -> String {
    match names {
        [before @ .., last] if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => names.concat(),
    }
}

impl Open {
    /// What goes on when it is loaded, before the lid; `None` where nothing holds its modules down.
    pub fn bars_words(&self) -> Option<String> {
        let is_any = !self.bars.is_empty() && !self.modules.is_empty();
        is_any.then(|| format!("then {}", bars_over(self.bars.len(), "them")))
    }
}

impl Barred {
    /// What does not move, what bars it, and by how much.
    pub fn words(&self, style: Style) -> String {
        let part = &self.part;
        match &self.bar {
            Bar::Low { by, needs, has } => {
                let over = if part.starts_with("the lid") {
                    "over it"
                } else {
                    "over the rim"
                };
                let [needs, has, lacks] = style.short(*needs, *has);
                format!("{part} needs {needs} {over}, {by} leaves {has}: {lacks} too little")
            }
            Bar::OnTheWay { through, by, overlap } => {
                let out = match through {
                    Face::Top => "up and out",
                    Face::Bottom => "down and out",
                    Face::Left => "out to the left",
                    Face::Right => "out to the right",
                    Face::Front => "out to the front",
                    Face::Rear => "out to the rear",
                };
                format!(
                    "{part} meets {by} on its way {out}: they overlap by {} along the {}",
                    style.up(overlap.1),
                    overlap.0.extent_name()
                )
            }
            Bar::Closed => format!("{part} comes off, but neither the top nor a side of the cavity is open"),
            Bar::Screws { why } => format!("{part} cannot be taken off or put on there, since {why}"),
        }
    }

    /// What bars it, by name; empty where nothing with a name does.
    pub fn by(&self) -> &str {
        match &self.bar {
            Bar::Low { by, .. } | Bar::OnTheWay { by, .. } => by,
            Bar::Closed | Bar::Screws { .. } => "",
        }
    }
}

impl State {
    /// What it weighs and who lifts it: `empty 12.0 kg, one person`.
    pub fn lift_words(&self) -> String {
        let filled = self.filled.words();
        match (self.mass_g, self.hands()) {
            (Some(grams), Some(hands)) => format!("{filled} {}, {}", kg(grams), hands.words()),
            (Some(grams), None) => format!("{filled} {}", kg(grams)),
            (None, _) => format!("{filled}: weight of a module not entered"),
        }
    }

    /// Whether it goes in so, and what goes into it in its place or is barred there.
    pub fn goes_words(&self, open: &Open, way: Option<&Way>, style: Style) -> String {
        let Some(way) = way else {
            return "no way in".to_owned();
        };
        let goes = way.goes_words();
        let labels = |places: &[usize]| -> String {
            let labels: Vec<&str> = places.iter().map(|&m| open.modules[m].label.as_str()).collect();
            labels.join(", ")
        };
        if !self.held.is_empty() {
            let held: Vec<String> = self.held.iter().map(|held| held.words(style)).collect();
            return format!("no: not all modules go into the open box: {}", held.join("; "));
        }
        match &self.barred[..] {
            [] if self.rest.is_empty() => goes.to_owned(),
            [] => {
                let bars = match open.bars.len() {
                    0 => "",
                    1 => ", the bar over them",
                    _ => ", the bars over them",
                };
                format!("{goes}; then in its place {}{bars}, and the lid", labels(&self.rest))
            }
            [one] => format!("no: {}", one.words(style)),
            [one, more @ ..] => {
                let names: Vec<&str> = more.iter().map(|barred| barred.part.as_str()).collect();
                let do_not = if more.len() == 1 { "does not" } else { "do not" };
                format!(
                    "no: {}; {} {do_not} go in there either",
                    one.words(style),
                    listed(&names)
                )
            }
        }
    }

    /// All of it in one line.
    pub fn words(&self, open: &Open, way: Option<&Way>, style: Style) -> String {
        format!("{}: {}", self.lift_words(), self.goes_words(open, way, style))
    }
}

/// How the bed comes to stand so.
const fn bed_first(bed: BedName) -> &'static str {
    match bed {
        BedName::Off => "take the bed off the truck",
        BedName::Tilted => "tilt the bed and prop it up",
        BedName::On => "leave the bed on",
    }
}

impl OutFirst {
    /// Whether it comes down between the wheels, and is drawn out from under the truck before anyone works on it.
    pub fn is_under(&self) -> bool {
        matches!(self.by, Some((Face::Bottom, _)))
    }

    /// That it comes out, by which opening, and what is lifted then.
    pub fn words(&self) -> String {
        let (name, lift) = (&self.name, lift(Some(self.mass_g)));
        let Some((through, way)) = &self.by else {
            return format!("take {name} out: {lift}");
        };
        let out = match through {
            Face::Bottom => format!("take {name} down"),
            Face::Top => format!("lift {name} out at the top"),
            Face::Left | Face::Right | Face::Front | Face::Rear => {
                format!("draw {name} out to the {}", through.name())
            }
        };
        let way = way
            .as_ref()
            .map(|way| format!("; its way in the other way round: {way}"));
        format!("{out}: {lift}{}", way.unwrap_or_default())
    }
}

impl Service {
    /// What is done, in that order, a line each.
    pub fn steps(&self) -> Vec<String> {
        let mut steps = vec![
            "open the service disconnect, wait, and measure that nothing is live; the modules themselves stay live"
                .to_owned(),
        ];
        steps.extend(self.bed.map(|bed| bed_first(bed).to_owned()));
        for out in &self.boxes {
            if !out.cables.is_empty() {
                steps.push(format!("{}: take off {}", out.name, out.cables.join("; ")));
            }
            if !out.without.is_empty() {
                steps.push(format!("{}: take off {}", out.name, out.without.join(", ")));
            }
            if out.open {
                steps.push(format!(
                    "{}: take its lid off where it stands, cover every terminal and wedge the modules: it comes out open",
                    out.name
                ));
            }
            steps.push(out.words());
            if out.is_under() {
                steps.push(format!("draw {} out from under the truck", out.name));
            }
        }
        // The last of the boxes is its own.
        if !self.boxes.last().is_some_and(|own| own.open) {
            steps.push(format!("take the lid off {}", self.box_name));
        }
        steps.extend(self.bars_words());
        if !self.taps.is_empty() {
            steps.push(format!("take off the monitoring wires: {}", self.taps.join("; ")));
        }
        let links = self.links_in_the_box();
        if !links.is_empty() {
            steps.push(format!("take off {}", links.join("; ")));
        }
        steps.extend(
            self.before
                .iter()
                .map(|(label, grams)| format!("lift {label} out: {}", lift(*grams))),
        );
        steps.push(format!("lift {} out: {}", self.label, lift(self.mass_g)));
        steps
    }

    /// What is still on the modules once the box is open: cables of a box that came out are off by then.
    pub fn links_in_the_box(&self) -> Vec<&str> {
        let is_off = |link: &String| self.boxes.iter().any(|out| out.cables.contains(link));
        self.links
            .iter()
            .filter(|link| !is_off(link))
            .map(String::as_str)
            .collect()
    }

    /// The hold-down bars that come off, after the lid and before what lies under them; `None` where none does.
    pub fn bars_words(&self) -> Option<String> {
        let over = self
            .before
            .iter()
            .map(|(label, _)| label.as_str())
            .chain([self.label.as_str()]);
        let over: Vec<&str> = over.collect();
        (self.bars > 0).then(|| format!("take off {}", bars_over(self.bars, &over.join(", "))))
    }

    /// The module with the units in it.
    pub fn heading(&self) -> String {
        let units = if self.units.is_empty() {
            String::new()
        } else {
            format!(" ({})", self.units.join(", "))
        };
        format!("{}{units} in {}", self.label, self.box_name)
    }

    /// All of it, big facts first.
    pub fn text(&self) -> String {
        let mut lines = vec![
            format!("to take out {}: {}", self.heading(), lift(self.mass_g)),
            self.lid_words(),
        ];
        lines.extend(Some(self.under_words()).filter(|words| !words.is_empty()));
        lines.extend(self.troubles().into_iter().map(|trouble| format!("! {trouble}")));
        let steps = self.steps();
        lines.extend(steps.iter().enumerate().map(|(i, step)| format!("  {}. {step}", i + 1)));
        lines.push(String::new());
        lines.join("\n")
    }

    /// What stands against it, a line each.
    pub fn troubles(&self) -> Vec<String> {
        let mut troubles = Vec::new();
        if self.no_way {
            troubles.push(format!("no way is known by which {} comes out", self.box_name));
        }
        troubles.extend(self.held.iter().map(|held| held.words(self.style)));
        troubles
    }

    /// Whether the lid opens where the box stands, in words.
    pub fn lid_words(&self) -> String {
        if self.not_in_place.is_empty() {
            let bed = match self.bed {
                Some(BedName::Off) => ", with the bed off",
                Some(BedName::Tilted) => ", with the bed tilted",
                Some(BedName::On) | None => "",
            };
            return format!("its lid opens where it stands{bed}; no box comes out");
        }
        let barred: Vec<String> = self.not_in_place.iter().map(|b| b.words(self.style)).collect();
        let first: Vec<&str> = self.boxes.iter().map(|out| out.name.as_str()).collect();
        format!(
            "not where it stands: {}; first out: {}",
            barred.join("; "),
            first.join(", ")
        )
    }

    /// What is over lid or module where the box stands, by name, the lid's first; `None` where nothing with a name is.
    pub fn over_it(&self) -> Option<&str> {
        self.not_in_place.iter().map(Barred::by).find(|by| !by.is_empty())
    }

    /// What is too low over it where it is let down to, under the truck; empty when nothing is.
    pub fn under_words(&self) -> String {
        self.low_under.as_ref().map_or_else(String::new, |barred| {
            format!("nor let down under the truck: {}", barred.words(self.style))
        })
    }
}

impl WaysIn {
    /// A box lifted empty, half loaded and loaded, a line each; by its place in the question.
    pub fn state_words(&self, at: usize) -> Vec<String> {
        let way = self.boxes[at].outcome.way();
        let states = self.states.get(at).into_iter().flatten();
        states
            .map(|state| state.words(&self.question.loading[at], way, self.question.style))
            .collect()
    }

    /// The same in one line: what is lifted, and in which states it goes.
    pub fn state_summary(&self, at: usize) -> String {
        let states = self.states.get(at).into_iter().flatten();
        let way = self.boxes[at].outcome.way();
        let each = states.map(|state| {
            let goes = way.filter(|_| state.goes).map_or("no", Way::goes_words);
            format!("{}: {goes}", state.lift_words())
        });
        each.collect::<Vec<String>>().join("; ")
    }
}
