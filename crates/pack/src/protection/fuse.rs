//! The fuse in a dc circuit.

use crate::source::Source;

/// Ratings on sale, amps.
pub const RATINGS: [u32; 20] = [
    16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250,
];

/// Where [`RATINGS`] come from; makers offer steps between.
pub const RATINGS_SOURCE: Source = Source::memory("R10 series as used in IEC 60269");
/// How far a fuse is loaded for long.
pub const LOAD_SOURCE: Source = Source::found("trade practice, two trade pages: 80 % of the rating for long");
/// The dc volts.
pub const VOLTS_SOURCE: Source =
    Source::found("trade practice: dc rating at least the full pack volts; an ac rating does not count");
/// The breaking capacity.
pub const BREAKING_SOURCE: Source =
    Source::computed("breaking capacity at least the prospective short-circuit current, Voc / R");
/// The fuse and its cable.
pub const CABLE_SOURCE: Source =
    Source::memory("IEC 60364-4-43: design current <= fuse rating <= what the cable carries");

/// The least rating that carries `amps` for long: `amps / (load x warm)`.
///
/// - `load`: the share of the rating that it is loaded to, as 0.8.
/// - `warm`: what is left of the rating in a warm place, as 0.95.
pub fn least_rating(amps: f64, load: f64, warm: f64) -> f64 {
    amps / (load * warm)
}

/// The smallest rating on sale that is not below `least`; `None` when there is none so large.
pub fn pick(least: f64) -> Option<u32> {
    // A hair of arithmetic must not skip a rating.
    RATINGS.into_iter().find(|&r| f64::from(r) >= least * (1.0 - 1e-12))
}
