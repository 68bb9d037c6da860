//! Texts that several papers share.

use drawing::{WITH_HEADS, WITHOUT_HEADS};
use enclosure::cutlist::Rounding;
use job::Evaluation;
use pack::CellVolts;
use pack::arrangement::{Arrangement, Figures};
use tape::{Length, Units};

/// What stands before a figure that rests on assumed values.
pub(crate) const fn mark(assumed: bool) -> &'static str {
    if assumed { "~" } else { "" }
}

/// What every cut list says about its sizes.
pub(crate) const SIZES: [&str; 4] = [
    "Sizes before coating. Kerf not included.",
    "Floors, sides, ends, flat lids and bars are rounded down, since they go into a space; openings, and caps that go \
     over a box, are rounded up. The width of a bar is as bought.",
    "Holes are before welding, from the lower left corner of the piece, length along x; a bar lies with its outer edge \
     along x.",
    "Hole places are to the nearest mark: drill pieces that are screwed together through each other.",
];

/// What the shop is to hold to, as drawings and patterns tell it, too.
pub(crate) fn tolerance(evaluation: &Evaluation) -> String {
    format!(
        "Tolerance of the finished box, as asked of the shop: {}.",
        evaluation.sheet.tolerance
    )
}

/// What a size marked `~` means.
pub(crate) const ASSUMED_SIZES: &str = "~ Sizes rest on values that nobody entered; confirm them before steel is cut.";

/// What of a box's liner is cut in place, and how; `None` where its sheets go in as listed.
pub(crate) fn liner_in_place(battery_box: &job::BoxResult) -> Option<String> {
    let words = battery_box.added.liner.words()?;
    Some(format!("{words}: {}", job::LinerResult::HOW))
}

/// The same, a line for each box.
pub(crate) fn liner_lines(evaluation: &Evaluation) -> Vec<String> {
    let line = |battery_box: &job::BoxResult| {
        let name = plain(&battery_box.name);
        Some(format!("{name}: {}", liner_in_place(battery_box)?))
    };
    evaluation.boxes.iter().filter_map(line).collect()
}

/// A mass to 0.01 kg, in an inch job with its pounds.
pub(crate) fn mass(evaluation: &Evaluation, grams: f64) -> String {
    job::kg_words(grams / 1000.0, 2, evaluation.units)
}

/// The same of whole grams.
pub(crate) fn mass_of(evaluation: &Evaluation, grams: i64) -> String {
    job::kg_words(job::Grams(grams).kg(), 2, evaluation.units)
}

/// An area, in an inch job with square feet (of 0.3048 m each way) before it.
pub(crate) fn area(evaluation: &Evaluation, m2: f64, decimals: usize) -> String {
    match evaluation.units {
        Units::Millimetre => format!("{m2:.decimals$} m2"),
        Units::Inch => format!("{:.2} sq ft ({m2:.decimals$} m2)", m2 / 0.3048 / 0.3048),
    }
}

/// A length of many pieces together, metres or in an inch job feet before them.
pub(crate) fn run(evaluation: &Evaluation, m: f64) -> String {
    match evaluation.units {
        Units::Millimetre => format!("{m:.2} m"),
        Units::Inch => format!("{:.1} ft ({m:.2} m)", m / 0.3048),
    }
}

/// The unit that heads a column of masses: `kg`, in an inch job `kg (lb)`.
pub(crate) const fn mass_unit(evaluation: &Evaluation) -> &'static str {
    match evaluation.units {
        Units::Millimetre => "kg",
        Units::Inch => "kg (lb)",
    }
}

/// A mass in such a column: `9.49`, in an inch job `9.49 (20.92)`.
pub(crate) fn mass_cell(evaluation: &Evaluation, grams: f64) -> String {
    without_mass_units(&mass(evaluation, grams))
}

/// The same of whole grams.
pub(crate) fn mass_cell_of(evaluation: &Evaluation, grams: i64) -> String {
    without_mass_units(&mass_of(evaluation, grams))
}

/// A mass in words without its units, which head the column.
pub(crate) fn without_mass_units(words: &str) -> String {
    words.replace(" kg", "").replace(" lb", "")
}

/// Kilograms to 0.01.
pub(crate) fn kg(grams: f64) -> String {
    format!("{:.2}", grams / 1000.0)
}

/// `10s2p`.
pub(crate) fn arrangement(arrangement: Arrangement) -> String {
    format!("{}s{}p", arrangement.series, arrangement.parallel)
}

/// `120 V empty, 144 V nominal, 168 V full`.
pub(crate) fn volts(volts: CellVolts) -> String {
    let [empty, nominal, full] = [volts.empty, volts.nominal, volts.full].map(|v| v.shown(1));
    format!("{empty} V empty, {nominal} V nominal, {full} V full")
}

/// Kilowatt-hours to 0.1.
pub(crate) fn kwh(figures: &Figures) -> String {
    format!("{:.1} kWh", figures.energy.kwh())
}

/// Three lengths as `30" x 12" x 10"`.
pub(crate) fn triple(lengths: [Length; 3], show: impl Fn(Length) -> String) -> String {
    lengths.map(show).join(" x ")
}

/// Millimetres to 0.1 of a length that is a whole number of tenths, or to the nearest.
pub(crate) fn tenth_mm(length: Length) -> String {
    tape::show::millimetres_bare(length, 1, tape::show::Rounding::Nearest)
}

/// The thickness of a sheet, the person's own unit first: `7.0 mm (0.276")`. It is no place on a tape, so its inches are decimal,
/// and millimetres have two decimals where it is no whole tenth.
pub(crate) fn gauge(length: Length, units: Units) -> String {
    let is_whole = length.nm() % Length::tenths_mm(1).nm() == 0;
    let mm = tape::show::millimetres(length, if is_whole { 1 } else { 2 }, tape::show::Rounding::Nearest);
    let inches = format!("{:.3}\"", length.as_mm() / 25.4);
    match units {
        Units::Millimetre => format!("{mm} ({inches})"),
        Units::Inch => format!("{inches} ({mm})"),
    }
}

/// The diameter of a hole in both units, the person's own first: `7.0 mm (0.276")`; the number that the cut list has.
pub(crate) fn drill(evaluation: &Evaluation, diameter: Length) -> String {
    let mm = format!("{} mm", tape::show::hole_mm(diameter));
    own_first(evaluation, &mm, &tape::show::hole_inches(diameter))
}

/// A figure in both units, the person's own first: `250.0 mm (9 7/8")`.
pub(crate) fn own_first(evaluation: &Evaluation, mm: &str, inches: &str) -> String {
    match evaluation.units {
        Units::Millimetre => format!("{mm} ({inches})"),
        Units::Inch => format!("{inches} ({mm})"),
    }
}

/// A length in both units, the person's own first, marked when it rests on assumed values: `779.5 mm (30 11/16")`.
pub(crate) fn both(evaluation: &Evaluation, length: Length) -> String {
    let mm = format!("{} mm", tenth_mm(length));
    let inches = evaluation.near_inches(length);
    let mark = mark(evaluation.headline.assumed.cut);
    format!("{mark}{}", own_first(evaluation, &mm, &inches))
}

/// The size of a box over all, with screw heads and without, before coating; `None` for one that is not built.
pub(crate) struct OverAll {
    pub(crate) with_heads: [Length; 3],
    pub(crate) without_heads: [Length; 3],
}

impl OverAll {
    pub(crate) fn of(evaluation: &Evaluation, battery_box: &job::BoxResult) -> Option<Self> {
        let built = battery_box.built.as_ref()?;
        Some(Self {
            with_heads: built.overall,
            without_heads: drawing::assembly(evaluation, battery_box)?.whole.size().0,
        })
    }

    /// Each with its words, without screw heads first, in the person's own unit, rounded up: it is the room they take.
    pub(crate) fn told(&self, evaluation: &Evaluation) -> [String; 2] {
        [(self.without_heads, WITHOUT_HEADS), (self.with_heads, WITH_HEADS)]
            .map(|(size, words)| format!("{} {words}", triple(size, |length| evaluation.up(length))))
    }
}

/// What stays free of paint, a line for each box that has an earth stud.
pub(crate) fn masking_lines(evaluation: &Evaluation) -> Vec<String> {
    let line = |battery_box: &job::BoxResult| {
        let bare = battery_box.fittings.iter().filter_map(|fitting| {
            Some(format!(
                "{} round the {}",
                evaluation.near(fitting.bare()?),
                fitting.label
            ))
        });
        let bare: Vec<String> = bare.collect();
        (!bare.is_empty()).then(|| {
            format!(
                "{}: keep free of paint, outside: {}; the bond to the chassis is screwed on there",
                battery_box.name,
                bare.join(", ")
            )
        })
    };
    evaluation.boxes.iter().filter_map(line).collect()
}

/// The word for a direction of rounding.
pub(crate) const fn direction(rounding: Rounding) -> &'static str {
    match rounding {
        Rounding::Down => "down",
        Rounding::Up => "up",
        Rounding::AsBought => "as bought",
    }
}

/// The text on one line: control characters would break a table or a terminal.
pub(crate) fn plain(text: &str) -> String {
    let spaced: String = text
        .chars()
        .map(|c| {
            if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}') {
                ' '
            } else {
                c
            }
        })
        .collect();
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Weld metres of each box that is welded.
pub(crate) fn weld_lines(evaluation: &Evaluation) -> Vec<String> {
    evaluation
        .boxes
        .iter()
        .filter_map(|b| {
            Some((
                plain(&b.name),
                b.welds.as_ref().filter(|welds| !welds.seams.is_empty())?,
            ))
        })
        .map(|(name, welds)| {
            format!(
                "Welds of {name}: {:.2} m in {} seams (weld-map.html)",
                welds.welded().as_mm() / 1000.0,
                welds.count()
            )
        })
        .collect()
}

/// What the job is called in headings: `orchard flatbed, revision A`.
pub(crate) fn title(evaluation: &Evaluation) -> String {
    let revision = plain(&evaluation.revision);
    let revision = if revision.is_empty() {
        "none".to_owned()
    } else {
        revision
    };
    format!("{}, revision {revision}", plain(&evaluation.name))
}

/// Millimetres to 0.1, rounded up.
pub(crate) fn tenth_mm_up(length: Length) -> String {
    tape::show::millimetres_bare(length, 1, tape::show::Rounding::Up)
}

/// A line of a ledger, fine enough that the lines add up by eye: inches to 0.001 or millimetres to 0.01, to the nearest.
///
/// In sixteenths each line alone would be off by up to half a mark, and a clearance could read as more than it is.
pub(crate) fn fine(evaluation: &Evaluation, length: Length) -> String {
    match evaluation.units {
        Units::Inch => format!("{:.3}\"", length.as_inches()),
        Units::Millimetre => tape::show::millimetres(length, 2, tape::show::Rounding::Nearest),
    }
}

/// What holds a cap down: `16 screws through skirt and wall, 5 and 3 on a side, 17.0 mm below the rim`; `None` for other
/// lids, and where nothing does.
pub(crate) fn cap_held(evaluation: &Evaluation, built: &enclosure::Built) -> Option<String> {
    let (places, what) = if built.side_screws.is_empty() {
        (&built.clamps, "toggle clamps on the walls")
    } else {
        (&built.side_screws, "screws through skirt and wall")
    };
    let first = places.first()?;
    let on = |wall| places.iter().filter(|place| place.wall == wall).count();
    let (front, left) = (on(enclosure::Wall::Front), on(enclosure::Wall::Left));
    let below = built.shell[2] - built.under - first.up;
    let sleeve = built.sleeve.map_or_else(String::new, |long| {
        let long = tape::show::caliper(long, evaluation.units);
        format!(", a spacer sleeve of {long} on each, between the skirt and the rim of the rivet nut in the wall")
    });
    Some(format!(
        "{} {what}, {front} each on front and rear, {left} each on left and right, {} below the rim{sleeve}",
        places.len(),
        both(evaluation, below)
    ))
}

/// The holes of the rim that no piece has when it is cut, since a joint runs through them: `4 holes of the rim drilled through
/// the lid after welding, where its pieces meet`; `None` where there are none.
pub(crate) fn drilled_late(built: &enclosure::Built) -> Option<String> {
    let count = built.holes_after_welding();
    let holes = if count == 1 { "hole" } else { "holes" };
    (count > 0)
        .then(|| format!("{count} {holes} of the rim drilled through the lid after welding, where its pieces meet"))
}

/// The same, a line for each box.
pub(crate) fn drilled_late_lines(evaluation: &Evaluation) -> Vec<String> {
    let line = |battery_box: &job::BoxResult| {
        let late = drilled_late(battery_box.built.as_ref()?)?;
        Some(format!("{}: {late}", plain(&battery_box.name)))
    };
    evaluation.boxes.iter().filter_map(line).collect()
}

/// The gasket as it is stuck in: `gasket 12.0 x 6.0 mm, 2454.0 mm once round, 16.0 mm from the edge of the lid, ...`; `None`
/// for a box without one.
pub(crate) fn gasket(evaluation: &Evaluation, built: &enclosure::Built) -> Option<String> {
    let strip = built.gasket?;
    let fine = |length| tape::show::caliper(length, evaluation.units);
    let lies = match strip.lies {
        enclosure::Lies::InsideScrews => format!(
            "its outer edge {} from the edge of the lid: whole inside the screws, between their holes and the inside of the box",
            both(evaluation, strip.from_edge)
        ),
        enclosure::Lies::InCap => "in the cap against the skirt, over the rim of the box".to_owned(),
        enclosure::Lies::OnRim => "under the lid, flush with its edge, over the rim of the box".to_owned(),
    };
    Some(format!(
        "gasket {} wide, {} thick, {} once round, {lies}; joints away from the corners",
        fine(strip.width),
        fine(strip.thick),
        both(evaluation, strip.length)
    ))
}
