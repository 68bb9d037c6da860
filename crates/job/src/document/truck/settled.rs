//! How far an axle settled under a load, as a person writes it: `120 kg; 24 1/2; 23 1/4`.

use tape::{Allow, Length, Units, notation};

use crate::Len;

/// A trial of an axle's springs.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Settled {
    /// What was put on the axle, kilograms.
    pub(crate) load_kg: f64,
    /// From the ground to a mark on the frame over the axle, without that load and with it.
    pub(crate) heights: [Length; 2],
    /// The same in words that mean the same in every job: each with its unit.
    pub(crate) text: String,
}

const KG_PER_LB: f64 = truck::units::KG_PER_LB;
const MOST_KG: f64 = 10_000.0;
const MOST: Length = Length::mm(5_000);

/// Reads it; lengths without a unit are in `units`.
///
/// # Errors
///
/// What is wrong, and how to mend it.
pub(crate) fn read(text: &str, units: Units) -> Result<Settled, (String, String)> {
    const MEND: &str = "type what was put on the axle, the height of a mark on the frame before, and the height with it on, with \
                        semicolons between: 120 kg; 24 1/2; 23 1/4";
    let parts: Vec<&str> = text.split(';').map(str::trim).collect();
    let [load, before, after] = parts[..] else {
        return Err((format!("{} of three entries", parts.len()), MEND.to_owned()));
    };
    let lower = load.to_ascii_lowercase();
    let (number, kg_each, unit) = match ["lbs", "lb"].iter().find_map(|unit| lower.strip_suffix(unit)) {
        Some(pounds) => (pounds, KG_PER_LB, "lb"),
        None => (lower.strip_suffix("kg").unwrap_or(&lower), 1.0, "kg"),
    };
    let number = number.trim();
    let load_kg = number.parse().ok().map(|load: f64| load * kg_each);
    let Some(load_kg) = load_kg.filter(|kg| (1.0..=MOST_KG).contains(kg)) else {
        return Err((
            format!("{load:?} is not a load from 1 kg to {MOST_KG:.0} kg"),
            MEND.to_owned(),
        ));
    };
    let height = |text: &str| {
        let written = notation::read(text, units, Allow::AboveZero).map_err(|e| (e.to_string(), e.mend()))?;
        if written.value() > MOST {
            return Err((
                format!("{} is too high for a mark on the frame", written.text()),
                "check the unit and the decimal point".to_owned(),
            ));
        }
        Ok(Len::new(written))
    };
    let [before, after] = [height(before)?, height(after)?];
    if before.value() <= after.value() {
        return Err((
            format!(
                "it stands at {} before and at {} with the load on",
                before.text(),
                after.text()
            ),
            "the frame comes down under a load: the height before is first, and larger".to_owned(),
        ));
    }
    Ok(Settled {
        load_kg,
        heights: [before.value(), after.value()],
        text: format!("{number} {unit}; {}; {}", before.text(), after.text()),
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[test]
    fn a_trial_is_read_and_written_with_its_units() {
        let found = read("220 lb; 24 1/2; 23 1/4", Units::Inch).unwrap();
        assert!((found.load_kg - 99.790_321_4).abs() < 1e-6);
        assert_eq!(
            found.heights,
            [Length::sixty_fourths(24 * 64 + 32), Length::sixty_fourths(23 * 64 + 16)]
        );
        // Read again in a job of the other unit it is the same.
        let again = read(&found.text, Units::Millimetre).unwrap();
        assert_eq!((again.load_kg, again.heights), (found.load_kg, found.heights));
    }

    #[rstest]
    #[case::two("100 kg; 24")]
    #[case::no_load("0 kg; 24; 23")]
    #[case::rises("100 kg; 23; 24")]
    #[case::same("100 kg; 23; 23")]
    #[case::too_high("100 kg; 600 in; 23 in")]
    #[case::words("heavy; 24; 23")]
    fn nonsense_is_refused(#[case] text: &str) {
        assert!(read(text, Units::Inch).is_err());
    }
}
