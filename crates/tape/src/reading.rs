//! How far a reading may be off: the tape, its marks, and the eye at both ends.
//!
//! Every reading carries a *sigma*, its standard uncertainty. It comes from what the person typed after `+-`, or
//! else from the tape:
//!
//! - the tape's own error: limits `a + b·L` of its accuracy class, `L` in metres rounded up to the next whole one,
//!   and `c` more when the reading starts at an end surface such as a hook. Source: The Measuring Instruments
//!   Regulations 2016 (SI 2016/1153), Schedule 1I, chapter on material measures of length, paragraph 2, Table 1,
//!   which carries over Annex MI-008 of the EU Measuring Instruments Directive; known by: found.
//!   A metal tape sold in the United States has no class but limits of its own, by the feet from its zero, hook or not:
//!   1/32 in up to 6 ft, 1/16 in up to 30, then 1/16 in more for every 25 ft. Source: NIST Handbook 44, Section 5.52,
//!   page 5-12 (2007), maintenance and acceptance tolerances for metal tapes, to 100 ft, as reproduced on another site;
//!   known by: found, second hand. Between the whole feet of that table the longer one counts, and beyond 100 ft it is
//!   carried on: both assumed.
//! - reading to the nearest mark: anywhere within half a graduation, `graduation / √12`; known by: computed.
//! - aiming at each of the two ends within limits `±aim`; 1 mm is an assumption, so a figure that rests on it is to
//!   be shown as assumed.
//!
//! Limits `±a` with nothing known inside them count as sigma `a / √3`; independent effects add as squares. Source:
//! GUM (JCGM 100:2008) 4.3.7 and 5.1.2 equation (10), clause numbers known by: memory; the rules themselves were
//! found in a guide on measurement uncertainty, section E.1, and in F. Scholz, Statistical Tolerancing (2007).
//!
//! All sigmas are rounded up to the nanometre, in whole-number arithmetic, so that every machine gets the same.

use crate::{Length, Units, Written};

/// The accuracy class printed on a tape.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum TapeClass {
    /// The finest.
    I,
    /// What a good shop tape has.
    #[default]
    II,
    /// The coarsest; also what a tape without a class may be no better than.
    III,
    /// None: a metal tape by the tolerances of the United States.
    UsMetal,
}

impl TapeClass {
    /// The largest permitted error over a length, either way, from a mark or from an end surface.
    fn error(self, length: Length, hook: bool) -> Length {
        // `a`, `b` per metre, `c` at an end surface, in tenths of a millimetre.
        let [a, b, c] = match self {
            Self::I => [1, 1, 1],
            Self::II => [3, 2, 2],
            Self::III => [6, 4, 3],
            Self::UsMetal => return us_metal_error(length),
        };
        let metres = begun(length, Length::mm(1000));
        Length::tenths_mm(a + b * metres + if hook { c } else { 0 })
    }
}

fn us_metal_error(length: Length) -> Length {
    let thirty_seconds = match begun(length, Length::inches(12)) {
        ..=6 => 1,
        7..=30 => 2,
        feet => 2 + 2 * (feet - 30).unsigned_abs().div_ceil(25).cast_signed(),
    };
    Length::sixty_fourths(2) * thirty_seconds
}

/// How many `steps` a length, whatever its sign, has begun.
fn begun(length: Length, step: Length) -> i64 {
    let steps = length.nm().unsigned_abs().div_ceil(step.nm().unsigned_abs());
    steps.cast_signed()
}

/// A tape and how it is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Tape {
    /// Its accuracy class.
    pub class: TapeClass,
    /// The distance between the marks it is read to.
    pub graduation: Length,
    /// Limits, either way, of hitting the true end, at each of the two ends.
    pub aim: Length,
    /// Whether readings start at the hook or another end surface, not at a mark.
    pub hook: bool,
}

impl Tape {
    /// A class II tape read to 1/16 in from its hook, aimed within 1 mm.
    pub const fn inch() -> Self {
        Self {
            class: TapeClass::II,
            graduation: Length::sixty_fourths(4),
            aim: Length::mm(1),
            hook: true,
        }
    }

    /// A class II tape read to 1 mm from its hook, aimed within 1 mm.
    pub const fn millimetre() -> Self {
        Self {
            graduation: Length::mm(1),
            ..Self::inch()
        }
    }

    /// [`Tape::inch`] or [`Tape::millimetre`].
    pub const fn of(units: Units) -> Self {
        match units {
            Units::Inch => Self::inch(),
            Units::Millimetre => Self::millimetre(),
        }
    }
}

impl Default for Tape {
    fn default() -> Self {
        Self::inch()
    }
}

/// Returns the largest permitted error of `tape` over `length`, either way: `a + b·L`, and `c` from a hook; for a
/// [`TapeClass::UsMetal`] that of its table.
pub fn limits(length: Length, tape: &Tape) -> Length {
    tape.class.error(length, tape.hook)
}

/// Returns the sigma of limits `±limits` with nothing known inside them, `limits / √3`, rounded up.
pub fn limits_sigma(limits: Length) -> Length {
    root_up(squared(limits), 3)
}

/// Returns the sigma of a reading of `value` that says nothing of its own: tape, marks, and the aim at both ends.
pub fn default_sigma(value: Length, tape: &Tape) -> Length {
    // l²/3 + g²/12 + 2·a²/3, over twelve.
    let twelfths = squared(limits(value, tape))
        .saturating_mul(4)
        .saturating_add(squared(tape.graduation))
        .saturating_add(squared(tape.aim).saturating_mul(8));
    root_up(twelfths, 12)
}

/// Returns the sum of `tolerances` without their signs: how far off it can be when all go the same way.
///
/// For what is cut for one box. Source: F. Scholz, Tolerance Stack Analysis Methods (1995); known by: memory.
pub fn worst_case(tolerances: &[f64]) -> f64 {
    tolerances.iter().map(|t| t.abs()).sum()
}

/// Returns the root of the sum of squares of `tolerances`: how far off independent, centred effects go together.
///
/// For what is read off the tape. Source: as [`worst_case`]; GUM 5.1.2 equation (10).
pub fn root_sum_square(tolerances: &[f64]) -> f64 {
    tolerances.iter().map(|t| t * t).sum::<f64>().sqrt()
}

/// A measured distance with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Reading {
    /// What the tape showed.
    pub value: Length,
    /// One standard uncertainty, of everything together.
    pub sigma: Length,
    /// The part of `sigma` that is the tape's own, the same in every reading of this distance: taking the reading
    /// again does not make it smaller. At most `sigma`.
    pub common: Length,
}

impl Reading {
    /// A reading of `value`: its sigma from what was typed after `+-`, read as limits, or else [`default_sigma`].
    pub fn new(value: Length, plus_minus: Option<Length>, tape: &Tape) -> Self {
        let sigma = plus_minus.map_or_else(|| default_sigma(value, tape), limits_sigma);
        // Typed limits cover the tape too, so its part is never more than the whole.
        let common = limits_sigma(limits(value, tape)).min(sigma);
        Self { value, sigma, common }
    }

    /// The reading that was written, with its `+-` if it has one.
    pub fn taped(written: &Written, tape: &Tape) -> Self {
        Self::new(written.value(), written.plus_minus(), tape)
    }

    /// Square of the part of sigma that is new in each reading: marks and aim.
    fn random_squared(&self) -> u128 {
        squared(self.sigma).saturating_sub(squared(self.common))
    }
}

/// Combines readings of the same distance at the same place; `None` if there are none.
///
/// - Value: the mean, rounded down, since it is space.
/// - Sigma: the tape's part stays as it is, however often the tape is laid there; the largest of the readings'
///   counts. The random part is that of a mean of `n`: its own over `√n`, or the spread of the readings (their
///   sample standard deviation) over `√n` if that is larger. The spread never makes sigma smaller: of a few
///   readings that agree by luck it says too little.
#[expect(clippy::missing_panics_doc, reason = "a mean lies between the values")]
pub fn combine_repeats(repeats: &[Reading]) -> Option<Reading> {
    let first = repeats.first()?;
    let n = repeats.len() as u128;
    let from_first = |r: &Reading| i128::from(r.value.nm()) - i128::from(first.value.nm());
    let sum: i128 = repeats.iter().map(from_first).sum();
    let mean = i128::from(first.value.nm()) + sum.div_euclid(n.cast_signed());

    let common = repeats.iter().map(|r| r.common).max()?;
    // Both are n²·(n - 1) times the square of the random sigma of the mean.
    let stated = repeats
        .iter()
        .fold(0_u128, |sum, r| sum.saturating_add(r.random_squared()))
        .saturating_mul(n - 1);
    let squares = repeats.iter().fold(0_u128, |sum, r| {
        let off = from_first(r).unsigned_abs();
        sum.saturating_add(off.saturating_mul(off))
    });
    let spread = squares
        .saturating_mul(n)
        .saturating_sub(sum.unsigned_abs().saturating_mul(sum.unsigned_abs()));

    let scale = n * n * (n - 1);
    let both = squared(common).saturating_mul(scale).saturating_add(stated.max(spread));
    let sigma = if n == 1 { first.sigma } else { root_up(both, scale) };
    let mean = i64::try_from(mean).expect("a mean lies between the values");
    Some(Reading {
        value: Length::from_nm(mean),
        sigma,
        common,
    })
}

fn squared(length: Length) -> u128 {
    u128::from(length.nm().unsigned_abs()).pow(2)
}

/// The smallest length whose square is not below `square / over`.
fn root_up(square: u128, over: u128) -> Length {
    let least = square.div_ceil(over);
    let root = least.isqrt();
    let root = if root * root < least { root + 1 } else { root };
    Length::from_nm(i64::try_from(root).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests;
