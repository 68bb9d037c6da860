//! The sizes of what goes in and on a box: one table says what each of them is called, and what holds while nobody entered it.

use serde::de::Error as _;
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use tape::{Allow, Length};

use super::super::Len;
use super::{
    Added, BracketsName, ClampsName, DividersName, FloorRailsName, HoldDownName, StandoffsName, StiffenersName,
};

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
