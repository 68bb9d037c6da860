//! What goes in and on a box beyond its shell and lid: brackets, hold-down bars, dividers, standoffs, clamps, lid
//! stiffeners, floor rails. One table says what each of their sizes is called, and what holds while nobody entered it.

use enclosure::added::Reach;
use serde::de::Error as _;
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use tape::{Allow, Length};

use super::Len;
use super::settings::{named, optional_fields};

named! {
    /// How brackets carry a box on the frame.
    BracketsName {
        /// No brackets are drawn.
        None = "none" / "none",
        /// Bolted through the web of the rail beside the box.
        Web = "web" / "to the web of a rail",
        /// Standing out from the wall, bolted down on a rail of one's own.
        OwnRail = "own rail" / "down on a rail of your own",
        /// Standing out from the wall, lying on a flange of the frame.
        Flange = "flange" / "down on the frame's flange",
    }
}

impl BracketsName {
    /// How they reach out; `None` without brackets.
    pub const fn reach(self) -> Option<Reach> {
        match self {
            Self::None => None,
            Self::Web => Some(Reach::Web),
            Self::OwnRail | Self::Flange => Some(Reach::Foot),
        }
    }
}

named! {
    /// Which two walls of a box.
    SidesName {
        /// The long ones.
        Long = "long" / "long sides",
        /// The short ones.
        Short = "short" / "ends",
    }
}

named! {
    /// What holds modules down.
    HoldDownName {
        /// Nothing that is drawn.
        None = "none" / "none",
        /// Bars bolted to lugs on the walls.
        Lugs = "lugs" / "bars on lugs at the walls",
        /// Bars on threaded rods from the floor.
        Rods = "rods" / "bars on rods from the floor",
    }
}

named! {
    /// The section of a bar.
    BarName {
        /// Flat bar.
        Flat = "flat" / "flat bar",
        /// Equal angle.
        Angle = "angle" / "angle",
    }
}

named! {
    /// Walls between modules.
    DividersName {
        /// None.
        None = "none" / "none",
        /// One across the box between every two rows along it, welded to floor and walls.
        Rows = "rows" / "between rows",
        /// The same, not welded.
        Loose = "rows loose" / "between rows, set in loose",
    }
}

named! {
    /// How what lies flat on a sheet is held to it.
    FixingName {
        /// By seams.
        Welded = "welded" / "welded",
        /// By rivets, drilled in place.
        Riveted = "riveted" / "riveted",
        /// By glue.
        Bonded = "bonded" / "bonded",
    }
}

named! {
    /// What modules stand on.
    StandoffsName {
        /// The floor.
        None = "none" / "none",
        /// Strips of flat bar from wall to wall.
        Strips = "strips" / "strips across the floor",
    }
}

named! {
    /// Where end plates and tie rods of clamped stacks come from.
    ClampsName {
        /// They are cut with the box.
        Cut = "cut" / "cut with the box",
        /// They are there already.
        OnHand = "on hand" / "on hand",
    }
}

named! {
    /// What keeps a lid from giving.
    StiffenersName {
        /// Nothing.
        None = "none" / "none",
        /// Angles under it.
        Under = "under" / "angles under it",
        /// Angles over it.
        Over = "over" / "angles over it",
    }
}

named! {
    /// What keeps a floor from giving.
    FloorRailsName {
        /// Nothing that is drawn.
        None = "none" / "none",
        /// Angles under it, across the box.
        Across = "across" / "angles across under it",
        /// Angles under it, along the box.
        Along = "along" / "angles along under it",
    }
}

optional_fields! {
    /// What goes in and on every box beyond its shell and lid. `None` means that the stated default holds.
    pub struct Added {
        /// Brackets.
        pub brackets: BracketsName,
        /// The walls that brackets are on.
        pub bracket_sides: SidesName,
        /// Hold-down bars.
        pub hold_down: HoldDownName,
        /// Their section.
        pub bar: BarName,
        /// Walls between modules.
        pub dividers: DividersName,
        /// What modules stand on.
        pub standoffs: StandoffsName,
        /// How strips are held to the floor.
        pub standoffs_fixed: FixingName,
        /// End plates and tie rods.
        pub clamps: ClampsName,
        /// What stiffens the lid.
        pub stiffeners: StiffenersName,
        /// How stiffeners are held to the lid.
        pub stiffeners_fixed: FixingName,
        /// Rails under the floor.
        pub floor_rails: FloorRailsName,
        /// How they are held to it.
        pub floor_rails_fixed: FixingName,
        ;
        /// Their sizes.
        #[serde(skip_serializing_if = "PartSizes::is_open")]
        pub sizes: PartSizes,
    }
}

impl Added {
    /// Whether nothing was entered.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }
}

/// What is known of one size.
pub(crate) struct SizeRow {
    /// Its key in the file.
    pub(crate) key: &'static str,
    pub(crate) label: &'static str,
    pub(crate) help: &'static str,
    /// What holds while nothing was entered, in tenths of a millimetre; `None` when a stated rule does.
    default: Option<i64>,
    pub(crate) allow: Allow,
}

macro_rules! sizes {
    ($($name:ident: $key:literal, $label:literal, $allow:ident, $($default:literal)?, $help:literal;)*) => {
        /// Names one size of what is added to boxes.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[expect(missing_docs, reason = "the label and help of each say what it is")]
        pub enum PartSize { $($name,)* }

        impl PartSize {
            /// All of them, in the order of the table.
            pub const ALL: [Self; [$(stringify!($name)),*].len()] = [$(Self::$name,)*];
        }

        const ROWS: [SizeRow; PartSize::ALL.len()] = [$(SizeRow {
            key: $key, label: $label, help: $help, allow: Allow::$allow, default: sizes!(@ $($default)?),
        },)*];
    };
    (@) => { None };
    (@ $default:literal) => { Some($default) };
}

// Defaults are common practice, without a source.
sizes! {
    BracketLeg: "bracket_leg", "bracket, leg", AboveZero, 500,
        "leg of the equal angle, outwards from the box; empty, brackets to a web reach as far as each box's own gap";
    BracketThickness: "bracket_thickness", "bracket, thickness", AboveZero, 50,
        "thickness of that angle";
    BracketLength: "bracket_length", "bracket, length", AboveZero, 800,
        "of each piece, along the wall";
    BracketUp: "bracket_up", "bracket, height", Signed, ,
        "top of the level leg above the floor, inside; empty for as high as the rim allows";
    RailLow: "rail_low", "frame rail, lower flange", Signed, ,
        "inside of the rail's lower flange above the cavity's floor: asked for by the drilling rules";
    RailWeb: "rail_web", "frame rail, web", AboveZero, ,
        "height of the web from the inside of one flange to that of the other";
    BarWidth: "bar_width", "hold-down, width", AboveZero, 300,
        "width of the flat bar, or leg of the angle";
    BarThickness: "bar_thickness", "hold-down, thickness", AboveZero, 50,
        "thickness of the bar";
    BarPad: "bar_pad", "hold-down, pad", ZeroOrMore, 80,
        "from the tops of the modules to the underside of the bars: the pad between, squeezed";
    BarThread: "bar_thread", "hold-down, thread", AboveZero, 60,
        "thread of the studs or rods at the ends of the bars; their holes keep two diameters off the ends";
    LugLeg: "lug_leg", "hold-down lug, leg", AboveZero, 300,
        "leg of the angle that the bars are bolted to at the walls: its thickness, 2 mm and four diameters of the thread";
    LugThickness: "lug_thickness", "hold-down lug, thickness", AboveZero, 30,
        "thickness of that angle";
    LugGap: "lug_gap", "hold-down lug, gap", ZeroOrMore, 30,
        "from the lug up to the bar, so that the bar can be drawn down";
    DividerThickness: "divider_thickness", "divider, thickness", AboveZero, 20,
        "sheet of the walls between rows; the automatic layout keeps modules at least this far apart";
    DividerHeight: "divider_height", "divider, height", AboveZero, ,
        "from the floor; empty for as high as the highest module";
    StandoffHeight: "standoff_height", "standoff, height", AboveZero, 60,
        "thickness of the strips: how high modules stand off the floor";
    StandoffWidth: "standoff_width", "standoff, width", AboveZero, 300,
        "width of the strips";
    TieRod: "tie_rod", "tie rod, thread", AboveZero, 80,
        "thread of the rods that clamp a stack; they run in the modules' own holes";
    TieInset: "tie_inset", "tie rod, from the edge", AboveZero, 120,
        "from the edges of the end plate to the middle of a rod: measure a module";
    StiffenerLeg: "stiffener_leg", "lid stiffener, leg", AboveZero, 250,
        "leg of the angles across the lid";
    StiffenerThickness: "stiffener_thickness", "lid stiffener, thickness", AboveZero, 30,
        "thickness of those angles";
    LidGives: "lid_gives", "lid gives, at most", AboveZero, ,
        "how far the lid may give in the middle of a field; empty for half its thickness, where the sum ends to hold";
    FloorRailLeg: "floor_rail_leg", "floor rail, leg", AboveZero, 400,
        "leg of the angles under the floor: how far they hang down";
    FloorRailThickness: "floor_rail_thickness", "floor rail, thickness", AboveZero, 40,
        "thickness of those angles";
}

impl PartSize {
    pub(crate) const fn row(self) -> &'static SizeRow {
        &ROWS[self as usize]
    }

    /// What it is called.
    pub const fn label(self) -> &'static str {
        self.row().label
    }

    /// What holds while nobody entered it; `None` when a stated rule does.
    pub(crate) const fn default(self) -> Option<Length> {
        match self.row().default {
            Some(tenths) => Some(Length::tenths_mm(tenths)),
            None => None,
        }
    }

    /// Whether what was chosen asks for it.
    pub(crate) fn is_asked(self, added: &Added) -> bool {
        let brackets = added.brackets.unwrap_or(BracketsName::None);
        let hold_down = added.hold_down.unwrap_or(HoldDownName::None);
        match self {
            Self::BracketLeg | Self::BracketThickness | Self::BracketLength | Self::BracketUp => {
                brackets != BracketsName::None
            }
            Self::RailLow | Self::RailWeb => brackets == BracketsName::Web,
            Self::BarWidth | Self::BarThickness | Self::BarPad | Self::BarThread => hold_down != HoldDownName::None,
            Self::LugLeg | Self::LugThickness | Self::LugGap => hold_down == HoldDownName::Lugs,
            Self::DividerThickness | Self::DividerHeight => {
                added.dividers.is_some_and(|dividers| dividers != DividersName::None)
            }
            Self::StandoffHeight | Self::StandoffWidth => added
                .standoffs
                .is_some_and(|standoffs| standoffs != StandoffsName::None),
            Self::TieRod | Self::TieInset => added.clamps != Some(ClampsName::OnHand),
            Self::StiffenerLeg | Self::StiffenerThickness | Self::LidGives => added
                .stiffeners
                .is_some_and(|stiffeners| stiffeners != StiffenersName::None),
            Self::FloorRailLeg | Self::FloorRailThickness => {
                added.floor_rails.is_some_and(|rails| rails != FloorRailsName::None)
            }
        }
    }
}

/// The sizes that were entered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartSizes([Option<Len>; PartSize::ALL.len()]);

impl Default for PartSizes {
    fn default() -> Self {
        Self([const { None }; PartSize::ALL.len()])
    }
}

impl PartSizes {
    /// Whether none was entered.
    pub fn is_open(&self) -> bool {
        self.0.iter().all(Option::is_none)
    }

    /// The size as entered.
    pub(crate) const fn entered(&self, size: PartSize) -> Option<&Len> {
        self.0[size as usize].as_ref()
    }

    /// The size as entered, else its default; `None` when neither is.
    pub fn get(&self, size: PartSize) -> Option<Length> {
        self.0[size as usize].as_ref().map(Len::value).or(size.default())
    }

    /// The size as entered, else its default, for those that have one; zero for the others.
    pub(crate) fn sure(&self, size: PartSize) -> Length {
        self.get(size).unwrap_or(Length::ZERO)
    }

    pub(crate) const fn slot(&mut self, size: PartSize) -> &mut Option<Len> {
        &mut self.0[size as usize]
    }
}

impl Serialize for PartSizes {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        for (size, value) in PartSize::ALL.iter().zip(&self.0) {
            if let Some(value) = value {
                map.serialize_entry(size.row().key, value)?;
            }
        }
        map.end()
    }
}

impl<'de> Deserialize<'de> for PartSizes {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let map = std::collections::BTreeMap::<String, Len>::deserialize(deserializer)?;
        let mut sizes = Self::default();
        for (key, value) in map {
            let size = PartSize::ALL
                .into_iter()
                .find(|size| size.row().key == key)
                .ok_or_else(|| D::Error::custom(format!("unknown field `{key}`")))?;
            *sizes.slot(size) = Some(value);
        }
        Ok(sizes)
    }
}

#[cfg(test)]
impl schemars::JsonSchema for PartSizes {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "PartSizes".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let length = generator.subschema_for::<Len>();
        let properties: serde_json::Map<String, serde_json::Value> = ROWS
            .iter()
            .map(|row| {
                let mut entry = length.clone();
                entry.insert("description".to_owned(), format!("{}: {}", row.label, row.help).into());
                (row.key.to_owned(), entry.into())
            })
            .collect();
        schemars::json_schema!({ "type": "object", "properties": properties, "additionalProperties": false })
    }
}

/// What a list of places in a box is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PlacesOf {
    /// Brackets on the front or left wall.
    BracketsLow,
    /// Brackets on the rear or right wall.
    BracketsHigh,
    /// Hold-down bars.
    Bars,
    /// Dividers.
    Dividers,
    /// Lid stiffeners.
    Stiffeners,
    /// Rails under the floor.
    FloorRails,
    /// Holes that are in the rail beside the front or left wall already.
    HolesLow,
    /// Holes that are in the rail beside the rear or right wall already.
    HolesHigh,
}

impl PlacesOf {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::BracketsLow,
        Self::BracketsHigh,
        Self::Bars,
        Self::Dividers,
        Self::Stiffeners,
        Self::FloorRails,
        Self::HolesLow,
        Self::HolesHigh,
    ];

    /// How many lengths tell one entry: a hole is told along, up and across.
    pub const fn lengths(self) -> usize {
        match self {
            Self::HolesLow | Self::HolesHigh => 3,
            _ => 1,
        }
    }
}

/// Places in one box that the person told; an empty list leaves them to the stated rule.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Places {
    /// Middles of brackets along the front or left wall, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub brackets_low: Vec<[Len; 1]>,
    /// Middles of brackets along the rear or right wall.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub brackets_high: Vec<[Len; 1]>,
    /// Middles of hold-down bars along the box, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub bars: Vec<[Len; 1]>,
    /// Near faces of dividers along the box, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub dividers: Vec<[Len; 1]>,
    /// Middles of lid stiffeners along the box, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stiffeners: Vec<[Len; 1]>,
    /// Middles of floor rails, along the box when they lie across it and across when they lie along it, inside the sheet.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub floor_rails: Vec<[Len; 1]>,
    /// Holes in the rail beside the front or left wall: along it from the cavity's front (or left), up from the cavity's
    /// floor, and across.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub holes_low: Vec<[Len; 3]>,
    /// Holes in the rail beside the rear or right wall.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub holes_high: Vec<[Len; 3]>,
}

impl Places {
    /// Whether nothing was told.
    pub(crate) fn is_open(&self) -> bool {
        *self == Self::default()
    }

    /// The middles or near faces that were told; none of holes.
    pub(crate) fn of(&self, which: PlacesOf) -> Vec<Length> {
        let list = match which {
            PlacesOf::BracketsLow => &self.brackets_low,
            PlacesOf::BracketsHigh => &self.brackets_high,
            PlacesOf::Bars => &self.bars,
            PlacesOf::Dividers => &self.dividers,
            PlacesOf::Stiffeners => &self.stiffeners,
            PlacesOf::FloorRails => &self.floor_rails,
            PlacesOf::HolesLow | PlacesOf::HolesHigh => return Vec::new(),
        };
        list.iter().map(|[place]| place.value()).collect()
    }

    /// The list as text, as `120 mm; 480 mm` or `120 mm x 60 mm x 17 mm; ...`; `None` when it is empty.
    pub(crate) fn text(&self, which: PlacesOf) -> Option<String> {
        fn joined<const N: usize>(list: &[[Len; N]]) -> Option<String> {
            let one = |entry: &[Len; N]| entry.each_ref().map(Len::text).join(" x ");
            (!list.is_empty()).then(|| list.iter().map(one).collect::<Vec<_>>().join("; "))
        }
        match which {
            PlacesOf::BracketsLow => joined(&self.brackets_low),
            PlacesOf::BracketsHigh => joined(&self.brackets_high),
            PlacesOf::Bars => joined(&self.bars),
            PlacesOf::Dividers => joined(&self.dividers),
            PlacesOf::Stiffeners => joined(&self.stiffeners),
            PlacesOf::FloorRails => joined(&self.floor_rails),
            PlacesOf::HolesLow => joined(&self.holes_low),
            PlacesOf::HolesHigh => joined(&self.holes_high),
        }
    }

    /// Takes over a list that was read; entries have as many lengths as [`PlacesOf::lengths`] says.
    pub(crate) fn put(&mut self, which: PlacesOf, list: Vec<Vec<Len>>) {
        fn of<const N: usize>(list: Vec<Vec<Len>>) -> Vec<[Len; N]> {
            list.into_iter().filter_map(|entry| entry.try_into().ok()).collect()
        }
        match which {
            PlacesOf::BracketsLow => self.brackets_low = of(list),
            PlacesOf::BracketsHigh => self.brackets_high = of(list),
            PlacesOf::Bars => self.bars = of(list),
            PlacesOf::Dividers => self.dividers = of(list),
            PlacesOf::Stiffeners => self.stiffeners = of(list),
            PlacesOf::FloorRails => self.floor_rails = of(list),
            PlacesOf::HolesLow => self.holes_low = of(list),
            PlacesOf::HolesHigh => self.holes_high = of(list),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_its_own_and_every_default_a_size() {
        let mut keys: Vec<&str> = ROWS.iter().map(|row| row.key).collect();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), PartSize::ALL.len());
        assert!(
            PartSize::ALL
                .iter()
                .all(|size| size.default().is_none_or(|d| d > Length::ZERO))
        );
    }
}
