//! The room along an axis and what takes from it.

use geometry::Axis;
use tape::Length;
use tape::reading::{root_sum_square, worst_case};
use tape::survey::chance::normal_below;

/// What may take from a room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The readings of the cavity.
    Tape,
    /// Where keep-outs were taped.
    KeepOut,
    /// Another box beside it, as built.
    Neighbour,
    /// Lengths as the shop holds them.
    Shop,
    /// The reading of the box as built.
    AsBuilt,
    /// Walls out of flat.
    Flatness,
    /// What welds draw in: it only ever takes.
    DrawIn,
    /// What sizes lose when they are marked out: it only ever takes.
    Rounding,
    /// Sheet as delivered.
    Sheet,
    /// Coating.
    Coating,
    /// Liner.
    Liner,
    /// The sizes of the modules.
    Modules,
}

impl Cause {
    /// The words for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Tape => "readings of the cavity",
            Self::KeepOut => "readings of keep-outs",
            Self::Neighbour => "sizes of the box beside it",
            Self::Shop => "lengths as the shop holds them",
            Self::AsBuilt => "reading of the box as built",
            Self::Flatness => "walls out of flat",
            Self::DrawIn => "welds that draw in",
            Self::Rounding => "sizes rounded down when marked out",
            Self::Sheet => "sheet as delivered",
            Self::Coating => "coating",
            Self::Liner => "liner",
            Self::Modules => "sizes of the modules",
        }
    }
}

/// What one cause may take from a room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Which.
    pub cause: Cause,
    /// How far off it may be, either way, everything that it counts for together and in the worst direction; of a cause
    /// that only takes, about [`Share::takes`].
    pub limits: Length,
    /// What it takes on the mean; zero of a cause that may go either way.
    pub takes: Length,
    /// Its standard uncertainty.
    pub sigma: Length,
    /// The chance that it fits if this one were exact.
    pub fits_without: f64,
}

impl Share {
    /// The cause with how far off it may be: `walls out of flat +-3.0 mm`; one that only takes as `..., 0 to 1.6 mm`.
    pub fn words(&self, style: tape::show::Style) -> String {
        let (cause, limits) = (self.cause.words(), super::give_or_take(style, self.limits));
        if self.takes > Length::ZERO {
            format!("{cause}, 0 to {}", super::give_or_take(style, self.takes + self.limits))
        } else {
            format!("{cause} +-{limits}")
        }
    }
}

/// The room along an axis, both sides together.
#[derive(Clone, Debug, PartialEq)]
pub struct Room {
    /// Which axis.
    pub axis: Axis,
    /// What is free, as drawn and expected, before causes that only take.
    pub free: Length,
    /// What those causes take on the mean.
    pub takes: Length,
    /// What is asked for on both sides together.
    pub asked: Length,
    /// Standard uncertainty of what is free.
    pub sigma: Length,
    /// What is left when every cause is at its limit and all go the same way.
    pub worst: Length,
    /// What is left by the root of the sum of the squares of the limits.
    pub likely: Length,
    /// The chance that something is left.
    pub fits: f64,
    /// The chance that what is asked for is left.
    pub keeps: f64,
    /// The causes, the one that costs most chance first.
    pub shares: Vec<Share>,
}

/// A cause under way: limits that are alike count `count` times.
#[derive(Clone, Copy, Debug)]
pub(in crate::evaluate) struct Off {
    pub(super) cause: Cause,
    limits_mm: f64,
    sigma_mm: f64,
    /// What it takes on the mean.
    takes_mm: f64,
}

impl Off {
    /// What takes between nothing and `most`, all alike likely: half of it on the mean, give or take the other half.
    pub(super) fn taking(cause: Cause, most: Length) -> Self {
        let half = most.as_mm() / 2.0;
        Self {
            cause,
            limits_mm: half,
            sigma_mm: half / 3.0_f64.sqrt(),
            takes_mm: half,
        }
    }

    /// `count` figures that may each be off by `limits`.
    pub(super) fn limits(cause: Cause, limits: Length, count: u32) -> Self {
        let (each, count) = (limits.as_mm(), f64::from(count));
        Self {
            cause,
            limits_mm: each * count,
            sigma_mm: each * (count / 3.0).sqrt(),
            takes_mm: 0.0,
        }
    }

    /// Its standard uncertainty, in mm.
    pub(super) const fn sigma_mm(&self) -> f64 {
        self.sigma_mm
    }

    /// Half of all of these together, under one cause: what comes out at one side of something that is off.
    pub(super) fn half(cause: Cause, offs: &[Self]) -> Self {
        Self {
            cause,
            limits_mm: offs.iter().map(|off| off.limits_mm).sum::<f64>() / 2.0,
            sigma_mm: sigma_of(offs) / 2.0,
            takes_mm: offs.iter().map(|off| off.takes_mm).sum::<f64>() / 2.0,
        }
    }

    /// This and another of the same cause.
    #[must_use]
    pub(super) fn and(self, other: &Self) -> Self {
        Self {
            cause: self.cause,
            limits_mm: self.limits_mm + other.limits_mm,
            sigma_mm: self.sigma_mm.hypot(other.sigma_mm),
            takes_mm: self.takes_mm + other.takes_mm,
        }
    }

    /// A standard uncertainty; limits are three of them.
    pub(super) fn sigma(cause: Cause, sigma_mm: f64) -> Self {
        Self {
            cause,
            limits_mm: 3.0 * sigma_mm,
            sigma_mm,
            takes_mm: 0.0,
        }
    }
}

/// The standard uncertainty of all of these together, in mm.
pub(super) fn sigma_of(offs: &[Off]) -> f64 {
    offs.iter().map(|off| off.sigma_mm * off.sigma_mm).sum::<f64>().sqrt()
}

/// The room with what may take from it.
pub(super) fn room(axis: Axis, free: Length, asked: Length, offs: &[Off]) -> Room {
    let offs = together(offs);
    let sigmas: Vec<f64> = offs.iter().map(|off| off.sigma_mm).collect();
    let limits: Vec<f64> = offs.iter().map(|off| off.limits_mm).collect();
    let sigma = root_sum_square(&sigmas);
    let takes_mm: f64 = offs.iter().map(|off| off.takes_mm).sum();
    let left = free.as_mm() - takes_mm;
    let mut shares: Vec<Share> = offs
        .iter()
        .filter(|off| off.sigma_mm > 0.0)
        .map(|off| {
            let others = (sigma * sigma - off.sigma_mm * off.sigma_mm).max(0.0).sqrt();
            Share {
                cause: off.cause,
                limits: Length::from_mm_up(off.limits_mm),
                takes: Length::from_mm_up(off.takes_mm),
                sigma: Length::from_mm_up(off.sigma_mm),
                fits_without: chance(left + off.takes_mm, others),
            }
        })
        .collect();
    // As far apart as the sigmas: the same order, and told apart even where the chance is hardly less than sure.
    shares.sort_by_key(|share| std::cmp::Reverse(share.sigma));
    Room {
        axis,
        free,
        takes: Length::from_mm_up(takes_mm),
        asked,
        sigma: Length::from_mm_up(sigma),
        worst: free - Length::from_mm_up(takes_mm + worst_case(&limits)),
        likely: free - Length::from_mm_up(takes_mm + root_sum_square(&limits)),
        fits: chance(left, sigma),
        keeps: chance(left - asked.as_mm(), sigma),
        shares,
    }
}

/// One entry for each cause: limits add up, sigmas as squares.
fn together(offs: &[Off]) -> Vec<Off> {
    let mut all: Vec<Off> = Vec::new();
    for off in offs {
        match all.iter_mut().find(|other| other.cause == off.cause) {
            Some(same) => *same = same.and(off),
            None => all.push(*off),
        }
    }
    all
}

/// The chance that what is expected to be `free` is not used up.
fn chance(free: f64, sigma: f64) -> f64 {
    if sigma > 0.0 {
        normal_below(free / sigma)
    } else if free >= 0.0 {
        1.0
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// 771.5 less a line of 12.7 less a box of 731 is 27.8 to share; sigma 0.29 for the tape and 0.46 for two readings,
    /// limits of the shop. Chances by Python 3.12, statistics.NormalDist, of (27.8 - asked) / sigma.
    #[rstest]
    #[case::half_inch_class_b(3, 25.4, 0.899_994)]
    #[case::half_inch_class_a(2, 25.4, 0.961_553)]
    #[case::half_inch_class_c(6, 25.4, 0.751_312)]
    #[case::three_eighths(3, 19.05, 0.999_998)]
    fn chances_are_as_worked_by_hand(#[case] shop: i64, #[case] asked: f64, #[case] chance: f64) {
        let offs = [
            Off::sigma(Cause::Tape, (0.29_f64.powi(2) + 2.0 * 0.46_f64.powi(2)).sqrt()),
            Off::limits(Cause::Shop, Length::mm(shop), 1),
        ];
        let room = room(Axis::Y, Length::from_mm(27.8), Length::from_mm(asked), &offs);
        assert!((room.keeps - chance).abs() < 1e-5, "{}", room.keeps);
        assert_eq!(room.shares[0].cause, Cause::Shop, "the shop decides, not the tape");
        assert!(room.shares[0].fits_without >= room.fits);
    }

    /// 3 mm free, of which 0 to 2 go: 2 are left on the mean, give or take 1 / sqrt 3. Python 3.12, NormalDist().cdf(2 * sqrt 3).
    #[test]
    fn what_only_takes_is_taken_off_by_its_mean() {
        let room = room(
            Axis::X,
            Length::mm(3),
            Length::ZERO,
            &[Off::taking(Cause::DrawIn, Length::mm(2))],
        );
        assert_eq!(
            (room.free, room.takes, room.worst),
            (Length::mm(3), Length::mm(1), Length::mm(1))
        );
        assert!((room.fits - 0.999_734).abs() < 1e-6, "{}", room.fits);
        assert!((room.shares[0].fits_without - 1.0).abs() < 1e-12);
    }

    #[test]
    fn limits_add_up_in_the_worst_case_and_as_squares() {
        let offs = [
            Off::limits(Cause::Liner, Length::mm(1), 2),
            Off::limits(Cause::Shop, Length::mm(3), 1),
        ];
        let room = room(Axis::X, Length::mm(10), Length::ZERO, &offs);
        assert_eq!(room.worst, Length::mm(5));
        assert!((room.likely.as_mm() - (10.0 - 13.0_f64.sqrt())).abs() < 1e-5);
        // Two of 1 mm and one of 3 mm, each over the root of three.
        assert!((room.sigma.as_mm() - (11.0_f64 / 3.0).sqrt()).abs() < 1e-5);
    }

    /// Limits with nothing known inside them, drawn evenly, and a tape error drawn from the normal distribution: as often
    /// as the formula says there is room, within what sampling and the shape of the distributions make of it.
    #[rstest]
    #[case(0.5)]
    #[case(2.0)]
    #[case(3.5)]
    #[case(5.0)]
    fn drawing_sizes_at_random_gives_the_same_chance(#[case] free: f64) {
        let (tape, shop, flat, coat) = (1.1, 3.0, 1.5, 0.5);
        let offs = [
            Off::sigma(Cause::Tape, tape),
            Off::limits(Cause::Shop, Length::from_mm(shop), 1),
            Off::limits(Cause::Flatness, Length::from_mm(flat), 2),
            Off::limits(Cause::Coating, Length::from_mm(coat), 2),
        ];
        let told = room(Axis::X, Length::from_mm(free), Length::ZERO, &offs).fits;
        let mut state = 0x9e37_79b9_7f4a_7c15_u64;
        let mut even = || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            #[expect(clippy::cast_precision_loss, reason = "53 bits")]
            let part = (state >> 11) as f64 / (1_u64 << 53) as f64;
            2.0 * part - 1.0
        };
        let draws = 40_000;
        let fits = (0..draws)
            .filter(|_| {
                // Twelve even numbers add up to as good as a normal one, of variance 12 / 3.
                let normal = (0..12).map(|_| even()).sum::<f64>() / 2.0;
                let off = tape * normal + shop * even() + flat * (even() + even()) + coat * (even() + even());
                free + off >= 0.0
            })
            .count();
        #[expect(clippy::cast_precision_loss, reason = "counts are small")]
        let share = fits as f64 / f64::from(draws);
        assert!((share - told).abs() < 0.015, "{share} drawn, {told} told");
    }

    #[test]
    fn what_is_exact_is_sure() {
        let room = |free| room(Axis::X, Length::mm(free), Length::ZERO, &[]).fits;
        assert_eq!((room(1), room(0), room(-1)), (1.0, 1.0, 0.0));
    }
}
