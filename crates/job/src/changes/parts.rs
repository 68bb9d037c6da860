//! What differs between two states of what the shop gets.

use tape::show::Style;
use tape::{Length, Units};

use super::Difference;
use super::told;
use crate::document::{Issued, IssuedBox, IssuedNote, IssuedPart, IssuedPlace, IssuedSeam};
use crate::{Grams, Id};

/// Whether something was there before and is there now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// It is new.
    Added,
    /// It is gone.
    Removed,
    /// It is there still, and differs.
    Changed,
}

impl Kept {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Added => "new",
            Self::Removed => "gone",
            Self::Changed => "changed",
        }
    }
}

/// A line of the cut list that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartChange {
    /// New, gone or changed.
    pub kept: Kept,
    /// Its mark; the mark that it had, when it is gone.
    pub mark: String,
    /// What it is.
    pub name: String,
    /// Its size as it is, or as it was when it is gone, in the person's units.
    pub size: String,
    /// How many: as it is, or as it was.
    pub quantity: u32,
    /// What differs of it; empty when it is new or gone.
    pub differences: Vec<Difference>,
}

impl PartChange {
    /// As `A1 floor: size 46 3/8" x 16" -> 46 1/2" x 16"`.
    pub fn words(&self) -> String {
        let told = match self.kept {
            Kept::Added | Kept::Removed => format!("{}, {} off, {}", self.kept.name(), self.quantity, self.size),
            Kept::Changed => joined(&self.differences),
        };
        format!("{} {}: {told}", self.mark, self.name)
    }
}

/// A box that differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoxChange {
    /// New, gone or changed.
    pub kept: Kept,
    /// Its number.
    pub id: Id,
    /// Its name as it is, or as it was.
    pub name: String,
    /// What differs of the whole box.
    pub differences: Vec<Difference>,
    /// Its parts that differ.
    pub parts: Vec<PartChange>,
}

impl BoxChange {
    /// The box as a whole, as `left box: outside 47" x 17" x 12" -> 47 1/8" x 17" x 12"`.
    pub fn words(&self) -> String {
        match (self.kept, self.differences.is_empty()) {
            (Kept::Changed, true) => format!("{}: the same outside", self.name),
            (Kept::Changed, false) => format!("{}: {}", self.name, joined(&self.differences)),
            (kept, _) => format!("{}: {}", self.name, kept.name()),
        }
    }
}

fn joined(differences: &[Difference]) -> String {
    differences.iter().map(Difference::words).collect::<Vec<_>>().join("; ")
}

/// What differs in what the shop gets.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShopChanges {
    /// The boxes that differ.
    pub boxes: Vec<BoxChange>,
    /// What parts are cut from, where it takes more or less of it.
    pub stock: Vec<Difference>,
}

impl ShopChanges {
    /// Whether the shop would cut, fold and weld the same.
    pub fn is_none(&self) -> bool {
        self.boxes.is_empty() && self.stock.is_empty()
    }

    /// How many lines of the cut list are new, changed and gone.
    pub fn counts(&self) -> [usize; 3] {
        let count = |kept| {
            let parts = self.boxes.iter().flat_map(|b| &b.parts);
            parts.filter(|part| part.kept == kept).count()
        };
        [Kept::Added, Kept::Changed, Kept::Removed].map(count)
    }

    /// As `4 parts changed, 1 new, 2 gone`.
    pub fn words(&self) -> String {
        let [added, changed, removed] = self.counts();
        let mut told = Vec::new();
        if changed > 0 {
            told.push(format!("{changed} part{} changed", if changed == 1 { "" } else { "s" }));
        }
        for (count, word) in [(added, "new"), (removed, "gone")] {
            if count > 0 {
                let plural = if count == 1 { "" } else { "s" };
                let part = if told.is_empty() {
                    format!(" part{plural}")
                } else {
                    String::new()
                };
                told.push(format!("{count}{part} {word}"));
            }
        }
        if told.is_empty() {
            let names: Vec<&str> = self.boxes.iter().map(|b| b.name.as_str()).collect();
            return if names.is_empty() {
                "nothing differs".to_owned()
            } else {
                format!("{} changed, its parts did not", names.join(" and "))
            };
        }
        told.join(", ")
    }
}

pub(super) fn compare(old: &Issued, new: &Issued, style: Style) -> ShopChanges {
    let mut boxes = Vec::new();
    for is in &new.boxes {
        let was = old.boxes.iter().find(|b| b.id == is.id);
        boxes.extend(match was {
            Some(was) => of_box(was, is, style),
            None => Some(whole(Kept::Added, is, style.units)),
        });
    }
    let gone = old
        .boxes
        .iter()
        .filter(|was| !new.boxes.iter().any(|is| is.id == was.id));
    boxes.extend(gone.map(|was| whole(Kept::Removed, was, style.units)));
    let mut stock = Vec::new();
    for is in &new.stock {
        let was = old.stock.iter().find(|s| s.what == is.what);
        let before = was.map_or("", |was| was.takes.as_str());
        stock.extend(Difference::of(&is.what, before, &is.takes));
    }
    for was in &old.stock {
        if !new.stock.iter().any(|is| is.what == was.what) {
            stock.extend(Difference::of(&was.what, &was.takes, ""));
        }
    }
    ShopChanges { boxes, stock }
}

/// A box that is new or gone, with all its parts.
fn whole(kept: Kept, of: &IssuedBox, units: Units) -> BoxChange {
    BoxChange {
        kept,
        id: of.id,
        name: of.name.clone(),
        differences: Vec::new(),
        parts: of.parts.iter().map(|part| one(kept, part, units, Vec::new())).collect(),
    }
}

fn one(kept: Kept, part: &IssuedPart, units: Units, differences: Vec<Difference>) -> PartChange {
    PartChange {
        kept,
        mark: part.mark.clone(),
        name: part.name.clone(),
        size: size(part, units),
        quantity: part.quantity,
        differences,
    }
}

fn size(part: &IssuedPart, units: Units) -> String {
    match units {
        Units::Inch => part.inches.clone(),
        Units::Millimetre => format!("{} mm", part.mm),
    }
}

fn of_box(was: &IssuedBox, is: &IssuedBox, style: Style) -> Option<BoxChange> {
    let outside = |b: &IssuedBox| b.outside.each_ref().map(|side| style.up(side.value())).join(" x ");
    let mass = |b: &IssuedBox| crate::kg_words(Grams(i64::from(b.grams)).kg(), 2, style.units);
    let exact = |b: &IssuedBox| b.outside.each_ref().map(crate::Len::value);
    let mut differences: Vec<Difference> = Difference::of("name", &was.name, &is.name).into_iter().collect();
    if exact(was) != exact(is) {
        differences.extend(outside_difference(&outside(was), &outside(is), [exact(was), exact(is)]));
    }
    differences.extend(Difference::of("mass", mass(was), mass(is)));
    differences.extend(Difference::of("welds", &was.welds, &is.welds));
    // Papers from before these were noted tell nothing of them.
    if let (Some(was), Some(is)) = (&was.seams, &is.seams) {
        let pair = |seam: &IssuedSeam| (format!("seam, {}", seam.seam), seam.weld.clone());
        let told = |text: &str| told::lengths(text, style.units);
        differences.extend(by_name(was.iter().map(pair), is.iter().map(pair), told));
    }
    if let (Some(was), Some(is)) = (&was.added, &is.added) {
        let pair = |place: &IssuedPlace| (place.what.clone(), place.at.clone());
        let told = |text: &str| told::place(text, style);
        differences.extend(by_name(was.iter().map(pair), is.iter().map(pair), told));
    }
    if let (Some(was), Some(is)) = (&was.made, &is.made) {
        let pair = |note: &IssuedNote| (note.what.clone(), note.how.clone());
        let told = |text: &str| told::lengths(text, style.units);
        differences.extend(by_name(was.iter().map(pair), is.iter().map(pair), told));
    }
    let parts = of_parts(&was.parts, &is.parts, style.units);
    if differences.is_empty() && parts.is_empty() {
        return None;
    }
    Some(BoxChange {
        kept: Kept::Changed,
        id: is.id,
        name: is.name.clone(),
        differences,
        parts,
    })
}

/// What is told otherwise under a name: the texts that only one of the two has, told so; as noted where told they read alike.
fn by_name(
    was: impl Iterator<Item = (String, String)>,
    is: impl Iterator<Item = (String, String)>,
    told: impl Fn(&str) -> String,
) -> Vec<Difference> {
    let (mut was, mut is): (Vec<_>, Vec<_>) = (was.collect(), is.collect());
    // One that both have is taken off both lists, as often as both have it.
    was.retain(|one| match is.iter().position(|other| other == one) {
        Some(at) => {
            is.remove(at);
            false
        }
        None => true,
    });
    let mut names: Vec<&String> = Vec::new();
    for (name, _) in is.iter().chain(&was) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let texts = |of: &[(String, String)], name: &String, told: &dyn Fn(&str) -> String| {
        let texts = of.iter().filter(|(own, _)| own == name).map(|(_, text)| told(text));
        few(&texts.collect::<Vec<_>>())
    };
    let different = |name: &&String| {
        let between = |told: &dyn Fn(&str) -> String| {
            Difference::of(name.as_str(), texts(&was, name, told), texts(&is, name, told))
        };
        between(&told).or_else(|| between(&|text| text.to_owned()))
    };
    names.iter().filter_map(different).collect()
}

/// Some texts in a row; of many the first and how many more.
fn few(texts: &[String]) -> String {
    const MOST: usize = 4;
    let told = texts.iter().take(MOST).cloned().collect::<Vec<_>>().join("; ");
    match texts.len().checked_sub(MOST) {
        None | Some(0) => told,
        Some(more) => format!("{told}; and {more} more"),
    }
}

/// In the person's units; in millimetres when rounded they read alike.
fn outside_difference(was: &str, is: &str, exact: [[Length; 3]; 2]) -> Option<Difference> {
    Difference::of("outside", was, is).or_else(|| {
        let [was, is] = exact.map(|sides| sides.map(|side| format!("{:.3}", side.as_mm())).join(" x ") + " mm");
        Difference::of("outside", was, is)
    })
}

/// Parts are the same by name and mark, else by name, else by mark.
fn of_parts(old: &[IssuedPart], new: &[IssuedPart], units: Units) -> Vec<PartChange> {
    let mut pairs: Vec<Option<usize>> = vec![None; new.len()];
    let mut taken = vec![false; old.len()];
    let same: [fn(&IssuedPart, &IssuedPart) -> bool; 3] = [
        |a, b| a.name == b.name && a.mark == b.mark,
        |a, b| a.name == b.name,
        |a, b| a.mark == b.mark,
    ];
    for same in same {
        for (at, is) in new.iter().enumerate() {
            if pairs[at].is_none() {
                let was = (0..old.len()).find(|&was| !taken[was] && same(&old[was], is));
                if let Some(was) = was {
                    taken[was] = true;
                    pairs[at] = Some(was);
                }
            }
        }
    }
    let mut changes = Vec::new();
    for (is, was) in new.iter().zip(pairs) {
        match was {
            None => changes.push(one(Kept::Added, is, units, Vec::new())),
            Some(was) => {
                let differences = of_part(&old[was], is, units);
                if !differences.is_empty() {
                    changes.push(one(Kept::Changed, is, units, differences));
                }
            }
        }
    }
    for (was, taken) in old.iter().zip(taken) {
        if !taken {
            changes.push(one(Kept::Removed, was, units, Vec::new()));
        }
    }
    changes
}

fn of_part(was: &IssuedPart, is: &IssuedPart, units: Units) -> Vec<Difference> {
    let other = match units {
        Units::Inch => Units::Millimetre,
        Units::Millimetre => Units::Inch,
    };
    let sizes = |units| Difference::of("", size(was, units), size(is, units));
    let or_square = |ends: &str| if ends.is_empty() { "square" } else { ends }.to_owned();
    [
        Difference::of("mark", &was.mark, &is.mark),
        Difference::of("name", &was.name, &is.name),
        // A change that one of the two does not show is shown in the other.
        sizes(units).or_else(|| sizes(other)),
        Difference::of("off", was.quantity.to_string(), is.quantity.to_string()),
        Difference::of("from", &was.stock, &is.stock),
        Difference::of("ends", or_square(&was.ends), or_square(&is.ends)),
        list("bends", &was.bends, &is.bends),
        list("holes", &was.holes, &is.holes),
        list("corners", &was.edge, &is.edge),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Two lists as their counts; what has as many as before is elsewhere or of another size.
fn list(what: &str, was: &str, is: &str) -> Option<Difference> {
    if was == is {
        return None;
    }
    let count = |text: &str| if text.is_empty() { 0 } else { text.split("; ").count() };
    let (before, after) = (count(was), count(is));
    let same: Vec<&str> = was.split("; ").collect();
    let kept = is.split("; ").filter(|entry| same.contains(entry)).count();
    let after = if before == after {
        format!("{after}, {} of them elsewhere or of another size", after - kept)
    } else {
        after.to_string()
    };
    Difference::of(what, before.to_string(), after)
}
