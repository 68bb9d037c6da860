//! How thick a sheet is, as people say it: a length, or a gauge number.

use std::fmt;

use enclosure::gauge::{self, GaugeError, Scale};
use enclosure::material::Material;
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};
use tape::{Length, Units};

use super::{Len, StockMaterialName};
use crate::{Job, assumed};

/// A thickness as the person wrote it; in the file, that text.
///
/// A gauge number says nothing without its scale, which is that of the sheet's material: so its thickness is asked for
/// with the material, and another material reads it anew.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Thickness {
    /// A length.
    Length(Len),
    /// A gauge.
    Gauge(Gauge),
}

/// A gauge number as it was written: `14 ga`, `14 gauge`.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Gauge {
    number: u32,
    text: String,
}

impl Gauge {
    /// Reads a gauge, told by the word behind its number; `None` when there is no such word.
    ///
    /// # Errors
    ///
    /// [`GaugeError::Unreadable`] when a word for gauge stands behind something else than a whole number.
    pub(crate) fn read(text: &str) -> Option<Result<Self, GaugeError>> {
        let text = text.trim();
        gauge::is_written(text).then(|| {
            let number = gauge::number(text)?;
            Ok(Self {
                number,
                text: text.to_owned(),
            })
        })
    }

    /// What is to be said of it where nothing tells its scale: each scale gives another thickness.
    pub(crate) fn asks(&self) -> String {
        let of = |scale: Scale| {
            let thickness = gauge::thickness(scale, self.number)?;
            Some(format!("{} {:.3} mm", scale.name(), thickness.as_mm()))
        };
        let each: Vec<String> = Scale::ALL.into_iter().filter_map(of).collect();
        let each = if each.is_empty() {
            "on no scale known here".to_owned()
        } else {
            each.join(", ")
        };
        format!("{} of which material? {each}: choose the material first", self.text)
    }

    /// Its thickness in a material.
    ///
    /// # Errors
    ///
    /// [`GaugeError::NotOnScale`] when the material's scale has no such number; [`GaugeError::NoScale`] of a liner.
    pub fn in_material(&self, material: Material) -> Result<Length, GaugeError> {
        let scale = material.scale().ok_or(GaugeError::NoScale {
            material: material.name(),
        })?;
        gauge::on_scale(scale, self.number)
    }
}

impl Thickness {
    /// A thickness that the program worked out, in the person's units where that is exact.
    pub fn exactly(length: Length, units: Units) -> Self {
        Self::Length(Len::exactly(length, units))
    }

    /// The text, as written.
    pub fn text(&self) -> &str {
        match self {
            Self::Length(len) => len.text(),
            Self::Gauge(gauge) => &gauge.text,
        }
    }

    /// The length as written; `None` of a gauge.
    pub const fn len(&self) -> Option<&Len> {
        match self {
            Self::Length(len) => Some(len),
            Self::Gauge(_) => None,
        }
    }

    /// The gauge; `None` of a length.
    pub const fn gauge(&self) -> Option<&Gauge> {
        match self {
            Self::Length(_) => None,
            Self::Gauge(gauge) => Some(gauge),
        }
    }

    /// How thick it is in a material; `None` of a gauge that the material's scale does not have, which no job holds.
    pub fn value(&self, material: Material) -> Option<Length> {
        match self {
            Self::Length(len) => Some(len.value()),
            Self::Gauge(gauge) => gauge.in_material(material).ok(),
        }
    }
}

impl Job {
    /// Every gauge of the job: its place in the file, the number, and the material that tells its scale.
    pub(crate) fn gauges(&self) -> Vec<(String, (&Gauge, Option<Material>))> {
        let design = &self.design;
        let of_boxes = [
            ("wall", &design.wall),
            ("floor", &design.floor),
            ("lid", &design.lid),
            ("flange_thickness", &design.flange_thickness),
        ];
        let material = Some(assumed::material(design));
        let of_boxes = of_boxes.map(|(name, sheet)| (format!("design.{name}"), sheet, material));
        let pieces = self.stock.pieces.iter().enumerate();
        let of_stock = pieces.map(|(i, piece)| {
            let material = piece.material.map(StockMaterialName::material);
            (format!("stock.pieces[{i}].thickness"), &piece.thickness, material)
        });
        let all = of_boxes.into_iter().chain(of_stock);
        all.filter_map(|(place, sheet, material)| Some((place, (sheet.as_ref()?.gauge()?, material))))
            .collect()
    }

    /// Gauges that mean another thickness than `before`, since their material is another: each in words.
    pub fn gauges_read_anew(&self, before: &Self) -> Vec<String> {
        let was = before.gauges();
        let anew = self.gauges().into_iter().filter_map(|(place, (gauge, material))| {
            let (_, (_, old)) = was
                .iter()
                .find(|(known, (same, _))| *known == place && *same == gauge)?;
            let [old, new] = [*old, material].map(|of| gauge.in_material(of?).ok());
            let (old, new) = old.zip(new).filter(|(old, new)| old != new)?;
            let words = format!("{} is now {}, was {:.3} mm", gauge.text, in_both(new), old.as_mm());
            Some(words)
        });
        let mut said: Vec<String> = Vec::new();
        for words in anew {
            if !said.contains(&words) {
                said.push(words);
            }
        }
        said
    }
}

/// A thickness in millimetres and inches, as it goes beside a gauge: `1.897 mm, 0.0747"`.
pub(crate) fn in_both(thickness: Length) -> String {
    format!("{:.3} mm, {:.4}\"", thickness.as_mm(), thickness.as_inches())
}

impl fmt::Display for Thickness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text())
    }
}

impl Serialize for Thickness {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.text())
    }
}

impl<'de> Deserialize<'de> for Thickness {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        match Gauge::read(&text) {
            Some(gauge) => Ok(Self::Gauge(gauge.map_err(D::Error::custom)?)),
            None => Len::read_stored(&text).map(Self::Length).map_err(D::Error::custom),
        }
    }
}

#[cfg(test)]
impl schemars::JsonSchema for Thickness {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Thickness".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "The thickness of sheet: a length with its unit (1/8\", 3 mm, 3 mm +- 0.1), or a gauge (14 ga, 14 gauge) on the scale of the sheet's material."
        })
    }
}
