//! The usable figure of one dimension of a cavity that is assumed to be square.
//!
//! A dimension is read at several places, `front top`, `mid`, `rear`; the same place twice is a repeat. Each place
//! gives what it leaves for sure, its value less `k` sigma, and the smallest of them holds for the whole dimension.
//! Readings along the edges say nothing about corners that are out of square or about a bulge between the places, so
//! a figure from here is to be shown with that assumption.
//!
//! The value less `k` sigma is the lower end of an expanded uncertainty, `U = k·u`; source: GUM (JCGM 100:2008)
//! 6.2.1; known by: memory.

use crate::Length;
use crate::reading::{Reading, combine_repeats};

/// A reading and where along the cavity it was taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Taped {
    /// The place in words, as `front top`; the same text again is a repeat.
    pub place: String,
    /// The reading.
    pub reading: Reading,
}

/// What the readings at one place come to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceFigure {
    /// The place in words.
    pub place: String,
    /// The reading, or the mean of the repeats, rounded down.
    pub value: Length,
    /// Its standard uncertainty, rounded up.
    pub sigma: Length,
    /// How many readings there are.
    pub repeats: usize,
    /// Which of the readings they are, counted from 0.
    pub indices: Vec<usize>,
}

impl PlaceFigure {
    /// What this place leaves for sure: the value less `k` sigma, rounded down.
    pub fn sure(&self, k: f64) -> Length {
        let spare = Length::from_mm_up(self.sigma.as_mm() * k);
        Length::from_nm(self.value.nm().saturating_sub(spare.nm()))
    }
}

/// The usable figure of one dimension and what it rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Usable {
    /// The smallest, over the places, of the value less `k` sigma, rounded down; above zero.
    pub value: Length,
    /// Which of `places` sets it.
    pub limiting: usize,
    /// The places, in the order they were first taped.
    pub places: Vec<PlaceFigure>,
    /// The largest value of a place less the smallest: how far out of parallel the cavity is, or a slip.
    pub spread: Length,
}

/// Why there is no usable figure.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoFigure {
    /// Nothing was taped.
    #[error("there is no reading of this dimension")]
    NoReadings,
    /// The uncertainty takes all there is.
    #[error("nothing is left for sure at {place:?}: the reading is no larger than its uncertainty")]
    NothingLeft {
        /// The place that leaves the least.
        place: String,
    },
    /// `k` is negative or no finite number.
    #[error("the number of sigmas to keep back has to be zero or more")]
    NotAFactor,
}

/// Returns the usable figure of the readings of one dimension.
///
/// `k`: how many sigmas to keep back; 2 holds about 98 times in 100 at each place (one-sided, normal).
///
/// A larger `k`, or a reading at a new place, never gives more space. A repeat may: it makes its place better known.
///
/// # Errors
///
/// [`NoFigure`] when there is no reading, `k` is no number of sigmas, or nothing above zero is left.
pub fn usable(taped: &[Taped], k: f64) -> Result<Usable, NoFigure> {
    if !(k.is_finite() && k >= 0.0) {
        return Err(NoFigure::NotAFactor);
    }
    let places = places(taped);
    let sure = places.iter().map(|place| place.sure(k)).enumerate();
    let (limiting, value) = sure.min_by_key(|(_, sure)| *sure).ok_or(NoFigure::NoReadings)?;
    if value <= Length::ZERO {
        return Err(NoFigure::NothingLeft {
            place: places[limiting].place.clone(),
        });
    }
    let values = || places.iter().map(|place| place.value);
    let spread = values().max().unwrap_or(value) - values().min().unwrap_or(value);
    Ok(Usable {
        value,
        limiting,
        places,
        spread,
    })
}

/// The readings, combined where they were taken at the same place.
fn places(taped: &[Taped]) -> Vec<PlaceFigure> {
    let mut places: Vec<(&str, Vec<usize>)> = Vec::new();
    for (index, Taped { place, .. }) in taped.iter().enumerate() {
        match places.iter_mut().find(|(known, _)| known == place) {
            Some((_, indices)) => indices.push(index),
            None => places.push((place, vec![index])),
        }
    }
    let figure = |(place, indices): (&str, Vec<usize>)| {
        let repeats: Vec<Reading> = indices.iter().map(|&index| taped[index].reading).collect();
        let combined = combine_repeats(&repeats)?;
        let (value, sigma) = (combined.value, combined.sigma);
        Some(PlaceFigure {
            place: place.to_owned(),
            value,
            sigma,
            repeats: repeats.len(),
            indices,
        })
    };
    places.into_iter().filter_map(figure).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn taped(place: &str, value_mm: i64, sigma_mm: i64) -> Taped {
        let reading = Reading {
            value: Length::mm(value_mm),
            sigma: Length::mm(sigma_mm),
            common: Length::ZERO,
        };
        Taped {
            place: place.to_owned(),
            reading,
        }
    }

    #[test]
    fn the_place_that_leaves_least_sets_the_usable() {
        // The rear is wider but so badly known that it leaves less: 1002 - 2·4 against 1000 - 2·1.
        let usable = usable(&[taped("front", 1000, 1), taped("rear", 1002, 4)], 2.0).unwrap();
        assert_eq!(
            (usable.value, usable.limiting, usable.spread),
            (Length::mm(994), 1, Length::mm(2))
        );
    }

    #[test]
    fn the_same_place_again_is_a_repeat() {
        let readings = [taped("front", 1000, 1), taped("rear", 990, 1), taped("front", 1000, 1)];
        let usable = usable(&readings, 0.0).unwrap();
        let front = &usable.places[0];
        assert_eq!(
            (front.repeats, front.indices.as_slice(), front.value),
            (2, &[0, 2][..], Length::mm(1000))
        );
        assert!(front.sigma < Length::mm(1));
        assert_eq!(
            (usable.places.len(), usable.value, usable.limiting),
            (2, Length::mm(990), 1)
        );
    }

    #[test]
    fn there_is_no_figure_without_readings_or_space_or_a_number_of_sigmas() {
        assert_eq!(usable(&[], 2.0), Err(NoFigure::NoReadings));
        let thin = [taped("front", 100, 1), taped("rear", 2, 1)];
        assert!(usable(&thin, 1.9).is_ok());
        let nothing_left = Err(NoFigure::NothingLeft {
            place: "rear".to_owned(),
        });
        assert_eq!(usable(&thin, 2.0), nothing_left);
        assert_eq!(usable(&thin, 1e300), nothing_left);
        for k in [f64::NAN, f64::INFINITY, -1.0] {
            assert_eq!(usable(&thin, k), Err(NoFigure::NotAFactor));
        }
    }

    fn any_taped() -> impl Strategy<Value = Taped> {
        let place = prop::sample::select(vec!["front", "mid", "rear", ""]);
        (place, 1..3_000_000_000_i64, 0..3_000_000_i64, 0..=100_i64).prop_map(|(place, value, sigma, percent)| {
            let reading = Reading {
                value: Length::from_nm(value),
                sigma: Length::from_nm(sigma),
                common: Length::from_nm(sigma * percent / 100),
            };
            Taped {
                place: place.to_owned(),
                reading,
            }
        })
    }

    /// The figure, zero where there is none.
    fn space(taped: &[Taped], k: f64) -> Length {
        usable(taped, k).map_or(Length::ZERO, |usable| usable.value)
    }

    proptest! {
        #[test]
        fn keeping_more_back_never_gives_more_space(
            taped in prop::collection::vec(any_taped(), 1..8),
            k in 0.0..5.0_f64,
            more in 0.0..5.0_f64,
        ) {
            prop_assert!(space(&taped, k + more) <= space(&taped, k));
        }

        #[test]
        fn a_new_place_never_gives_more_space(
            taped in prop::collection::vec(any_taped(), 1..8),
            mut new in any_taped(),
            k in 0.0..5.0_f64,
        ) {
            new.place = "somewhere new".to_owned();
            let mut with_new = taped.clone();
            with_new.push(new);
            prop_assert!(space(&with_new, k) <= space(&taped, k));
        }

        #[test]
        fn the_figure_is_below_every_place_and_every_reading_belongs_to_one(
            taped in prop::collection::vec(any_taped(), 1..8),
            k in 0.0..5.0_f64,
        ) {
            if let Ok(usable) = usable(&taped, k) {
                prop_assert!(usable.places.iter().all(|place| usable.value <= place.value));
                let mut indices: Vec<usize> = usable.places.iter().flat_map(|p| p.indices.clone()).collect();
                indices.sort_unstable();
                prop_assert_eq!(indices, (0..taped.len()).collect::<Vec<_>>());
            }
        }
    }
}
