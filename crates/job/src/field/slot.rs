//! The few sorts of value that fields hold, each with one way to be shown and one way to be set.

use enclosure::gauge::GaugeError;
use enclosure::material::Material;
use pack::{AmpHours, Amps, Volts};
use tape::{Allow, Length, Units, notation, show};

use super::{FieldError, Shown, State};
use crate::document::figures::{FigureRow, Grain};
use crate::document::quantity::{Thousandths, decimal, not_plain, thousandths_text, to_thousandths};
use crate::document::thickness::{Gauge, Thickness, in_both};
use crate::{Grams, Len, Line, Milliohms};

/// What holds when nothing was entered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Otherwise {
    /// This default, shown as assumed.
    Assumed(String),
    /// The same, and why it is another than usual.
    Because(String, &'static str),
    /// Nothing: the value is needed.
    Missing,
    /// Nothing, and nothing rests on it.
    Open,
}

/// A choice between words.
pub(super) struct Choice<'a> {
    pub(super) options: Vec<&'static str>,
    pub(super) now: Option<usize>,
    pub(super) pick: Box<dyn FnOnce(Option<usize>) + 'a>,
}

/// Access to one value of a job.
pub(super) enum Slot<'a> {
    /// Words; `needed` ones may not be empty.
    Text {
        to: &'a mut String,
        needed: bool,
    },
    /// An optional length.
    Length {
        to: &'a mut Option<Len>,
        allow: Allow,
        most: Length,
        otherwise: Otherwise,
    },
    /// An optional thickness of sheet, on the gauge scale of its material where that is known.
    Thickness {
        to: &'a mut Option<Thickness>,
        material: Option<Material>,
        most: Length,
        otherwise: Otherwise,
    },
    /// A length that is always there.
    Place {
        to: &'a mut Len,
        allow: Allow,
    },
    /// A length above zero that is always there.
    Needed {
        to: &'a mut Len,
        most: Length,
    },
    Volts(&'a mut Option<Volts>, Otherwise),
    Amps(&'a mut Option<Amps>, Otherwise),
    AmpHours(&'a mut Option<AmpHours>, Otherwise),
    Mass(&'a mut Option<Grams>, Otherwise),
    Resistance(&'a mut Option<Milliohms>, Otherwise),
    Price(&'a mut Option<crate::Price>, Otherwise),
    /// A whole number.
    Count {
        to: &'a mut Option<u32>,
        most: u32,
        otherwise: Otherwise,
    },
    /// A whole number that is always there.
    Number {
        to: &'a mut u32,
        most: u32,
    },
    /// How many standard uncertainties.
    Sigmas(&'a mut Option<crate::Sigmas>, Otherwise),
    Line(&'a mut Line),
    Choice(Choice<'a>, Otherwise),
    /// A plain figure, in thousandths, as its row in a table takes it.
    Figure(&'static FigureRow, &'a mut Option<i64>),
    /// Words that mean something of their own.
    Words(Words<'a>, Otherwise),
}

/// What is wrong with words, and how to mend it.
pub(super) type Wrong = (String, String);

/// Words with what reads them.
pub(super) struct Words<'a> {
    pub(super) now: Option<String>,
    /// Takes over the words, or what was there away.
    pub(super) put: Put<'a>,
}

/// Takes words over, or tells what is wrong with them.
pub(super) type Put<'a> = Box<dyn FnOnce(Option<&str>) -> Result<(), Wrong> + 'a>;

impl<'a> Slot<'a> {
    /// Words as they are now, with what reads new ones.
    pub(super) fn words(
        now: Option<String>,
        put: impl FnOnce(Option<&str>) -> Result<(), Wrong> + 'a,
        otherwise: Otherwise,
    ) -> Self {
        let put = Box::new(put);
        Self::Words(Words { now, put }, otherwise)
    }
}

impl Slot<'_> {
    pub(super) fn shown(self, label: &'static str, units: Units) -> Shown {
        let mut options = Vec::new();
        let mut beside = None;
        let is_length = matches!(
            self,
            Self::Length { .. } | Self::Thickness { .. } | Self::Place { .. } | Self::Needed { .. }
        );
        let (text, otherwise) = match self {
            Self::Text { to, needed } => {
                let otherwise = if needed { Otherwise::Missing } else { Otherwise::Open };
                ((!to.is_empty()).then(|| to.clone()), otherwise)
            }
            Self::Length { to, otherwise, .. } => (to.as_ref().map(|len| len.text().to_owned()), otherwise),
            Self::Thickness {
                to,
                material,
                otherwise,
                ..
            } => {
                let gauge = to.as_ref().and_then(Thickness::gauge);
                let thickness = gauge.zip(material).and_then(|(gauge, of)| gauge.in_material(of).ok());
                beside = thickness.map(in_both);
                (to.as_ref().map(|thickness| thickness.text().to_owned()), otherwise)
            }
            Self::Place { to, .. } | Self::Needed { to, .. } => (Some(to.text().to_owned()), Otherwise::Missing),
            Self::Volts(to, otherwise) => (quantity_text(*to, "V"), otherwise),
            Self::Amps(to, otherwise) => (quantity_text(*to, "A"), otherwise),
            Self::AmpHours(to, otherwise) => (quantity_text(*to, "Ah"), otherwise),
            Self::Resistance(to, otherwise) => (quantity_text(*to, "mohm"), otherwise),
            Self::Price(to, otherwise) => (to.map(|p| thousandths_text(p.0)), otherwise),
            Self::Mass(to, otherwise) => (to.map(|mass| mass_text(mass, units)), otherwise),
            Self::Count { to, otherwise, .. } => (to.map(|n| n.to_string()), otherwise),
            Self::Number { to, .. } => (Some(to.to_string()), Otherwise::Missing),
            Self::Sigmas(to, otherwise) => (to.map(|k| k.get().to_string()), otherwise),
            Self::Line(to) => (Some(to.to_string()), Otherwise::Missing),
            Self::Choice(choice, otherwise) => {
                let text = choice.now.map(|i| choice.options[i].to_owned());
                options = choice.options;
                (text, otherwise)
            }
            Self::Figure(figure, to) => {
                let default = figure.default.map(|n| figure.text(n));
                let otherwise = default.map_or(Otherwise::Open, Otherwise::Assumed);
                let rate = to.filter(|_| figure.unit == RATE && units == Units::Inch);
                beside = rate.map(rate_beside);
                let as_typed = rate.and_then(pounds_an_inch);
                (as_typed.or_else(|| to.map(|n| figure.text(n))), otherwise)
            }
            Self::Words(words, otherwise) => (words.now, otherwise),
        };
        let (text, state) = match (text, otherwise) {
            (Some(text), _) => (text, State::Given),
            (None, Otherwise::Assumed(text)) => (text, State::Assumed),
            (None, Otherwise::Because(text, why)) => {
                beside = Some(why.to_owned());
                (text, State::Assumed)
            }
            (None, Otherwise::Missing) => (String::new(), State::Missing),
            (None, Otherwise::Open) => (String::new(), State::Open),
        };
        let mark = if is_length { mark(&text, units) } else { None };
        Shown {
            label,
            text,
            mark,
            state,
            options,
            beside: beside.unwrap_or_default(),
        }
    }

    #[expect(clippy::too_many_lines, reason = "a table, one arm for each sort of value")]
    pub(super) fn set(self, label: &'static str, text: &str, units: Units) -> Result<(), FieldError> {
        let text = text.trim();
        let refuse = |problem: String, mend: &str, at: Option<usize>| FieldError {
            label,
            given: text.to_owned(),
            problem,
            mend: mend.to_owned(),
            at,
        };
        match self {
            Self::Text { to, needed } => {
                if needed && text.is_empty() {
                    return Err(refuse("it needs a name".to_owned(), "type a word or two", None));
                }
                if text.chars().count() > MOST_TEXT {
                    let problem = format!("{} characters are too many; at most {MOST_TEXT}", text.chars().count());
                    return Err(refuse(problem, "shorten it", None));
                }
                if text.chars().any(char::is_control) {
                    return Err(refuse(
                        "it holds control characters".to_owned(),
                        "type it again, plain",
                        None,
                    ));
                }
                text.clone_into(to);
            }
            Self::Length { to, allow, most, .. } => {
                *to = if text.is_empty() {
                    None
                } else {
                    Some(length(label, text, units, allow, most)?)
                };
            }
            Self::Thickness { to, material, most, .. } => {
                *to = match Gauge::read(text) {
                    None if text.is_empty() => None,
                    None => Some(Thickness::Length(length(label, text, units, Allow::AboveZero, most)?)),
                    Some(read) => Some(Thickness::Gauge(on_scale(read, material).map_err(|problem| {
                        let mend = "write a number that the scale has, or the thickness, as 1.9 mm";
                        refuse(problem, mend, None)
                    })?)),
                };
            }
            Self::Place { to, allow } => *to = length(label, text, units, allow, MOST_PLACE)?,
            Self::Needed { to, most } => *to = length(label, text, units, Allow::AboveZero, most)?,
            Self::Volts(to, _) => set_quantity(to, label, text, &["V", "volt", "volts"], 1.0)?,
            Self::Amps(to, _) => set_quantity(to, label, text, &["A", "amp", "amps"], 1.0)?,
            Self::AmpHours(to, _) => set_quantity(to, label, text, &["Ah", "amp-hours"], 1.0)?,
            Self::Resistance(to, _) => set_quantity(to, label, text, &["mohm", "milliohm", "milliohms"], 1.0)?,
            Self::Price(to, _) => set_quantity(to, label, text, &[], 1.0)?,
            Self::Mass(to, _) => {
                let lower = text.to_ascii_lowercase();
                match ["lbs", "lb"].iter().find_map(|unit| lower.strip_suffix(unit)) {
                    // 1 lb = 0.453 592 37 kg exactly, kept to the gram.
                    Some(pounds) => set_quantity(to, label, pounds, &[], 0.453_592_37)?,
                    None => set_quantity(to, label, text, &["kg"], 1.0)?,
                }
            }
            Self::Count { to, most, .. } => {
                *to = if text.is_empty() {
                    None
                } else {
                    Some(count(label, text, most)?)
                };
            }
            Self::Number { to, most } => *to = count(label, text, most)?,
            Self::Sigmas(to, _) => {
                *to = if text.is_empty() {
                    None
                } else {
                    let k = decimal(text).and_then(crate::Sigmas::new);
                    Some(k.ok_or_else(|| {
                        refuse(
                            format!("{text:?} is not a number from 0 to 6"),
                            "2 covers 19 readings in 20",
                            None,
                        )
                    })?)
                };
            }
            Self::Line(to) => {
                *to = text.parse().map_err(|_| {
                    let problem = format!("{text:?} is not a line through a cavity");
                    refuse(
                        problem,
                        "write width at front top, FLB to RLB, or width across bottom at 12 5/8\"",
                        None,
                    )
                })?;
            }
            Self::Choice(choice, otherwise) => {
                let given = text.to_lowercase();
                let exact = choice.options.iter().position(|o| o.to_lowercase() == given);
                // The start of a word is enough when only one option begins so.
                let mut begins = choice
                    .options
                    .iter()
                    .enumerate()
                    .filter(|(_, o)| o.to_lowercase().starts_with(&given));
                let picked = exact.or_else(|| match (begins.next(), begins.next()) {
                    (Some((i, _)), None) if !given.is_empty() => Some(i),
                    _ => None,
                });
                let may_clear = given.is_empty() && !matches!(otherwise, Otherwise::Missing);
                if picked.is_none() && !may_clear {
                    let problem = format!("{text:?} is none of: {}", choice.options.join("; "));
                    return Err(refuse(problem, "choose one of them", None));
                }
                (choice.pick)(picked);
            }
            Self::Figure(figure, to) => *to = figure_from(figure, label, text)?,
            Self::Words(words, _) => {
                (words.put)((!text.is_empty()).then_some(text))
                    .map_err(|(problem, mend)| refuse(problem, &mend, None))?;
            }
        }
        Ok(())
    }
}

/// The longest name or note.
const MOST_TEXT: usize = 200;
/// The farthest place from a cavity's corner.
const MOST_PLACE: Length = Length::mm(100_000);

fn length(label: &'static str, text: &str, units: Units, allow: Allow, most: Length) -> Result<Len, FieldError> {
    let written = notation::read(text, units, allow).map_err(|e| FieldError {
        label,
        given: text.to_owned(),
        problem: e.to_string(),
        mend: e.mend(),
        at: Some(e.at),
    })?;
    if written.value().abs() > most {
        // Without a unit it is read in the job's: a sheet of 4 mm is soon typed as 4 inches.
        let other = match units {
            Units::Inch => Units::Millimetre,
            Units::Millimetre => Units::Inch,
        };
        let meant = notation::read(text, other, allow)
            .ok()
            .filter(|meant| meant.value() != written.value() && meant.value().abs() <= most);
        return Err(FieldError {
            label,
            given: text.to_owned(),
            problem: format!(
                "{} is too much; at most {}",
                written.text(),
                Len::exactly(most, units).text()
            ),
            mend: match meant {
                Some(meant) => format!("did you mean {}? type the unit with it", meant.text()),
                None => "check the unit and the decimal point".to_owned(),
            },
            at: None,
        });
    }
    Ok(Len::new(written))
}

/// A gauge that the scale of its material has, or what is wrong with it.
fn on_scale(read: Result<Gauge, GaugeError>, material: Option<Material>) -> Result<Gauge, String> {
    let gauge = read.map_err(|e| e.to_string())?;
    match material {
        Some(material) => gauge.in_material(material).map_err(|e| e.to_string())?,
        None => return Err(gauge.asks()),
    };
    Ok(gauge)
}

/// A mass in kilograms; in pounds where it was typed so: in an inch job, and grams that are those of whole tenths of a
/// pound but no tenths of a kilogram.
fn mass_text(mass: Grams, units: Units) -> String {
    let grams_of = |tenths: i64| (tenths * 45_359_237 + 500_000).div_euclid(1_000_000);
    let tenths = (mass.0 * 1_000_000 + 22_679_618).div_euclid(45_359_237);
    if units == Units::Inch && mass.0 % 100 != 0 && grams_of(tenths) == mass.0 {
        return format!("{} lb", thousandths_text(tenths * 100));
    }
    format!("{} kg", thousandths_text(mass.0))
}

fn quantity_text<T: Thousandths>(value: Option<T>, unit: &str) -> Option<String> {
    value.map(|v| format!("{} {unit}", thousandths_text(v.thousandths())))
}

fn set_quantity<T: Thousandths>(
    to: &mut Option<T>,
    label: &'static str,
    text: &str,
    units: &[&str],
    times: f64,
) -> Result<(), FieldError> {
    if text.is_empty() {
        *to = None;
        return Ok(());
    }
    let lower = text.to_ascii_lowercase();
    let bare = units
        .iter()
        .rev()
        .find_map(|unit| lower.strip_suffix(&unit.to_ascii_lowercase()))
        .unwrap_or(&lower);
    let refuse = |problem: String| FieldError {
        label,
        given: text.to_owned(),
        problem,
        mend: format!(
            "type a number above zero{}",
            units.first().map_or(String::new(), |u| format!(", as 25.6 {u}"))
        ),
        at: None,
    };
    let value = decimal(bare).ok_or_else(|| refuse(format!("{text:?} {}", not_plain(bare))))?;
    // A converted pound is rounded to the gram; what is typed in the field's own unit must be exact.
    let value = if (times - 1.0).abs() < f64::EPSILON {
        value
    } else {
        (value * times * 1000.0).round() / 1000.0
    };
    let n = to_thousandths(value).map_err(|why| refuse(format!("{text:?} {why}")))?;
    if n <= 0 {
        return Err(refuse(format!("{text:?} must be above zero")));
    }
    *to = Some(T::from_thousandths(n));
    Ok(())
}

/// The nearest 1/64 in to a length written in millimetres, in a job in inches; of what no rule shows, as a coating,
/// thousandths.
fn mark(text: &str, units: Units) -> Option<String> {
    let written = notation::read(text, units, Allow::Signed).ok()?;
    let is_apart = units == Units::Inch && written.units() == Units::Millimetre;
    let fine = Length::inches(1).nm() / 32;
    is_apart.then(|| match written.value() {
        thin if thin.nm() != 0 && thin.nm().abs() < fine => show::hole_inches(thin),
        value => show::inches(value, show::Fraction::SixtyFourth, show::Rounding::Nearest),
    })
}

/// The unit of spring rates.
const RATE: &str = "N/mm";
/// 1 lbf/in = 4.448 221 615 260 5 N / 25.4 mm, both exact.
const RATE_OF_POUND: f64 = 4.448_221_615_260_5 / 25.4;

/// Tenths of lb/in nearest to thousandths of N/mm.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "a rate in its range is a small number"
)]
fn tenths_of_pounds(thousandths: i64) -> i64 {
    (thousandths as f64 / 100.0 / RATE_OF_POUND).round() as i64
}

/// A spring rate in pounds an inch, where it was typed so: thousandths of N/mm that are those of whole tenths of lb/in, but
/// no tenths of N/mm.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "a rate in its range is a small number"
)]
fn pounds_an_inch(thousandths: i64) -> Option<String> {
    let tenths = tenths_of_pounds(thousandths);
    let back = (tenths as f64 * 100.0 * RATE_OF_POUND).round() as i64;
    (thousandths % 100 != 0 && back == thousandths).then(|| format!("{} lb/in", thousandths_text(tenths * 100)))
}

/// The same rate in the unit that it was not typed in.
fn rate_beside(thousandths: i64) -> String {
    match pounds_an_inch(thousandths) {
        Some(_) => format!("{} {RATE}", thousandths_text(thousandths)),
        None => format!("{} lb/in", thousandths_text(tenths_of_pounds(thousandths) * 100)),
    }
}

/// The range of a spring rate in pounds an inch: whole tenths that lie within it.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    reason = "a rate in its range is a small number"
)]
fn pounds_range((least, most): (i64, i64)) -> String {
    let tenths = |thousandths: i64| thousandths as f64 / 100.0 / RATE_OF_POUND;
    let [least, most] =
        [tenths(least).ceil(), tenths(most).floor()].map(|tenths| thousandths_text(tenths as i64 * 100));
    format!("a number from {least} to {most} lb/in")
}

/// A figure as typed: a decimal, below zero where its range goes there, with its unit or without.
fn figure_from(figure: &FigureRow, label: &'static str, text: &str) -> Result<Option<i64>, FieldError> {
    if text.is_empty() {
        return Ok(None);
    }
    let lower = text.to_ascii_lowercase().replace('\u{b5}', "u");
    let pounds = ["lbf/in", "lbs/in", "lb/in"]
        .iter()
        .find_map(|unit| lower.strip_suffix(unit))
        .filter(|_| figure.unit == RATE);
    let bare = pounds
        .or_else(|| lower.strip_suffix(&figure.unit.to_ascii_lowercase()))
        .unwrap_or(&lower)
        .trim();
    let (sign, digits) = bare.strip_prefix('-').map_or((1.0, bare), |rest| (-1.0, rest));
    let (least, most) = figure.range;
    let range = match figure.grain {
        Grain::Any if pounds.is_some() => pounds_range(figure.range),
        Grain::Any => format!("a number from {} to {}", thousandths_text(least), figure.text(most)),
        Grain::Whole | Grain::Even | Grain::Class | Grain::Studs => figure.allowed(),
    };
    let refuse = |problem: String| FieldError {
        label,
        given: text.to_owned(),
        problem,
        mend: format!("type {range}"),
        at: None,
    };
    let value = decimal(digits).ok_or_else(|| refuse(format!("{text:?} is not a plain number")))?;
    let value = match pounds {
        Some(_) => (value * RATE_OF_POUND * 1000.0).round() / 1000.0,
        None => value,
    };
    let n = to_thousandths(sign * value).map_err(|why| refuse(format!("{text:?} {why}")))?;
    if !figure.takes(n) {
        let what = range.strip_prefix("a number ").unwrap_or(&range);
        return Err(refuse(format!("{text:?} is not {what}")));
    }
    Ok(Some(n))
}

fn count(label: &'static str, text: &str, most: u32) -> Result<u32, FieldError> {
    text.parse::<u32>()
        .ok()
        .filter(|n| (1..=most).contains(n))
        .ok_or_else(|| FieldError {
            label,
            given: text.to_owned(),
            problem: format!("{text:?} is not a whole number from 1 to {most}"),
            mend: format!("type a whole number from 1 to {most}"),
            at: None,
        })
}
