//! The modules on the pallet.

use geometry::{Face, Orientation};
use pack::chemistry::Chemistry;
use pack::{AmpHours, Amps, Volts};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};

use super::quantity::optional;
use super::{FaceName, Grams, Id, Len, Milliohms};

/// A type of module. What is `None` was not entered: sizes, mass, volts and amp-hours are missing then, the rest has a
/// stated default.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Kind {
    /// Its number, which placed modules refer to.
    pub id: Id,
    /// What the person calls it.
    pub name: String,
    /// A description.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// Own length, width and height, standing upright.
    pub size: [Option<Len>; 3],
    /// Mass of one module, kg.
    #[serde(with = "optional")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub mass_kg: Option<Grams>,
    /// Nominal volts of one module.
    #[serde(with = "optional")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub nominal_volts: Option<Volts>,
    /// Capacity of one module.
    #[serde(with = "optional")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub amp_hours: Option<AmpHours>,
    /// How many are on hand.
    pub on_hand: Option<u32>,
    /// Cell family; default by the stated rule.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chemistry: Option<ChemistryName>,
    /// Cells in series inside; default from the nominal volts and the cell family.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cells_series: Option<u32>,
    /// Cells in parallel inside; default 1 (it changes no figure).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cells_parallel: Option<u32>,
    /// Volts of one module at cut-off; default from cells and cell family.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub empty_volts: Option<Volts>,
    /// Volts of one module at the end of charge; default from cells and cell family.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub full_volts: Option<Volts>,
    /// The most amps for long.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub continuous_amps: Option<Amps>,
    /// The most amps for a short time.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub peak_amps: Option<Amps>,
    /// Internal resistance of one module, milliohms, if known.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub resistance_mohm: Option<Milliohms>,
    /// The most amps it may be charged with for long.
    #[serde(with = "optional", skip_serializing_if = "Option::is_none")]
    #[cfg_attr(test, schemars(with = "Option<f64>"))]
    pub charge_amps: Option<Amps>,
    /// Open-circuit volts of one module over state of charge in percent, as `0 20.8, 50 26.2, 100 28.4`; default the
    /// typical curve of the cell family.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest_curve: Option<String>,
    /// The plus terminal, from the module's own front-left-bottom corner: along, across and up; default by a stated
    /// rule.
    #[serde(skip_serializing_if = "none_given")]
    pub plus: [Option<Len>; 3],
    /// The minus terminal.
    #[serde(skip_serializing_if = "none_given")]
    pub minus: [Option<Len>; 3],
    /// The faces that carry terminals; default top.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub terminals: Option<Terminals>,
    /// Room in front of each terminal face.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub service: Option<Len>,
    /// Which ways it may stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stance: Option<Stance>,
    /// Set for kinds that only live in clamped stacks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stack: Option<StackRule>,
}

fn none_given(at: &[Option<Len>; 3]) -> bool {
    at.iter().all(Option::is_none)
}

/// Which own faces carry terminals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Terminals {
    /// Both on the top.
    #[default]
    Top,
    /// Both on its rear end.
    OneEnd,
    /// One on each end.
    BothEnds,
    /// Both on its right side.
    OneSide,
    /// One on each side.
    BothSides,
}

impl Terminals {
    /// All of them, in the order they are offered.
    pub const ALL: [Self; 5] = [Self::Top, Self::OneEnd, Self::BothEnds, Self::OneSide, Self::BothSides];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::OneEnd => "one end",
            Self::BothEnds => "both ends",
            Self::OneSide => "one side",
            Self::BothSides => "both sides",
        }
    }

    /// The module's own faces.
    pub const fn faces(self) -> &'static [Face] {
        match self {
            Self::Top => &[Face::Top],
            Self::OneEnd => &[Face::Rear],
            Self::BothEnds => &[Face::Front, Face::Rear],
            Self::OneSide => &[Face::Right],
            Self::BothSides => &[Face::Left, Face::Right],
        }
    }
}

/// Which ways a module may stand. It may always be turned about the vertical.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Stance {
    /// Own top up only.
    #[default]
    Upright,
    /// Upright, or lying on either side.
    UprightOrSide,
    /// Upright, on a side, or on end, with no terminal face down and own top never down.
    NotOnTerminals,
    /// Any way at all.
    Any,
}

impl Stance {
    /// All of them, in the order they are offered.
    pub const ALL: [Self; 4] = [Self::Upright, Self::UprightOrSide, Self::NotOnTerminals, Self::Any];

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Upright => "upright only",
            Self::UprightOrSide => "upright or on its side",
            Self::NotOnTerminals => "any but on its terminals",
            Self::Any => "any way",
        }
    }

    /// The orientations it allows, upright ones first.
    pub fn orientations(self, terminals: Terminals) -> Vec<Orientation> {
        Orientation::all()
            .into_iter()
            .filter(|orientation| match self {
                Self::Upright => orientation.up() == Face::Top,
                Self::UprightOrSide => matches!(orientation.up(), Face::Top | Face::Left | Face::Right),
                Self::NotOnTerminals => {
                    let down = orientation.up().opposite();
                    let one_face = terminals.faces().len() == 1;
                    // Terminals on both ends: neither end may be down, and a module on its head has them low.
                    !terminals.faces().contains(&down) && (one_face || orientation.up() != Face::Bottom)
                }
                Self::Any => true,
            })
            .collect()
    }
}

/// How modules of a kind are clamped together, face to face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct StackRule {
    /// Along which of the module's own dimensions.
    pub along: AxisName,
    /// The fewest modules in a stack.
    pub fewest: u32,
    /// The most modules in a stack.
    pub most: u32,
    /// End plate at each end.
    pub end_plate: Len,
    /// What rod and nut stand out beyond each end plate.
    pub rod_end: Len,
    /// Growth of each module over its life.
    pub growth: Len,
    /// Whether the clamp holds the growth (no room is kept for it) or the stack may lengthen by it.
    #[serde(default)]
    pub growth_held: bool,
}

/// One of a module's own dimensions.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum AxisName {
    /// Own length.
    Length,
    /// Own width.
    Width,
    /// Own height.
    #[default]
    Height,
}

impl AxisName {
    /// The three of them.
    pub const ALL: [Self; 3] = [Self::Length, Self::Width, Self::Height];

    /// The axis.
    pub const fn axis(self) -> geometry::Axis {
        geometry::Axis::ALL[self as usize]
    }
}

/// A cell family in the file, by its short name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChemistryName(pub Chemistry);

impl Serialize for ChemistryName {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(self.0.name())
    }
}

impl<'de> Deserialize<'de> for ChemistryName {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = String::deserialize(d)?;
        Chemistry::from_name(&text).map(Self).ok_or_else(|| {
            let names: Vec<&str> = Chemistry::ALL.iter().map(|c| c.name()).collect();
            D::Error::custom(format!(
                "{text:?} is not a cell family; write one of {}",
                names.join(", ")
            ))
        })
    }
}

#[cfg(test)]
impl schemars::JsonSchema for ChemistryName {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "CellFamily".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let names: Vec<&str> = Chemistry::ALL.iter().map(|c| c.name()).collect();
        schemars::json_schema!({ "type": "string", "enum": names })
    }
}

/// How a placed module stands: which own face is up, which is rearward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stands {
    /// The own face that points up.
    pub up: FaceName,
    /// The own face that points rearward.
    pub rear: FaceName,
}

impl Stands {
    /// The orientation, unless both faces are on one axis.
    pub fn orientation(self) -> Option<Orientation> {
        Orientation::new(self.up.face(), self.rear.face())
    }

    /// How `orientation` is written.
    pub const fn of(orientation: Orientation) -> Self {
        Self {
            up: FaceName::of(orientation.up()),
            rear: FaceName::of(orientation.rear()),
        }
    }
}
