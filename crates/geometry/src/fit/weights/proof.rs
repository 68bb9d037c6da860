//! What weights prove, in whole numbers.

use super::super::raster::Raster;
use super::Weights;

/// A weight of one, as a whole number.
const ONE: f64 = 1_048_576.0;

/// Weights in whole numbers, and what they prove.
///
/// They are kept as floats, which hold whole numbers up to 2^53 exactly, so sums of these are exact, and a quotient never
/// sinks below a whole number that the true one reaches.
pub(super) struct Proof {
    weight: Vec<f64>,
    dues: Vec<f64>,
    /// What every module is worth at least.
    each: f64,
    /// What all points and caps are worth.
    all: f64,
}

impl Proof {
    /// No layout holds more; before rounding down.
    pub(super) fn bound(&self) -> f64 {
        self.all / self.each
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "rounded down; above zero, and what is too large becomes the largest"
    )]
    pub(super) fn rounded_down(&self) -> u32 {
        self.bound().floor() as u32
    }
}

impl Weights {
    /// Works out what the weights prove, and keeps it when it is better than before.
    pub(super) fn prove(&mut self) {
        let weight: Vec<f64> = self.next.weight.iter().map(|w| (w * ONE).floor()).collect();
        let points: f64 = weight.iter().sum();
        self.grid.sums(&weight, &mut self.sums);
        let mut least = vec![f64::INFINITY; self.caps.len()];
        for item in &self.items {
            let of_one = (item.cover.weight(&self.sums) / item.count).floor();
            least[item.kind] = least[item.kind].min(of_one);
        }
        let uncapped = self.caps.iter().zip(&least).filter(|(cap, _)| cap.is_none());
        let uncapped = uncapped.map(|(_, &least)| least).fold(f64::INFINITY, f64::min);
        // Every module is worth `each` if dues make up what the points of its kind lack; a cap then costs that times it.
        // Only the worth of one of the kinds can be best, or, where every kind with a spot has a cap, dues alone.
        for own in least.iter().copied().chain([ONE]) {
            let each = own.min(uncapped);
            if each <= 0.0 || !each.is_finite() {
                continue;
            }
            let dues: Vec<f64> = least.iter().map(|l| (each - l).max(0.0)).collect();
            let caps = self.caps.iter().zip(&dues);
            let all = points + caps.map(|(cap, due)| due * cap.map_or(0.0, f64::from)).sum::<f64>();
            if all / each < self.least() {
                self.proof = Some(Proof {
                    weight: weight.clone(),
                    dues,
                    each,
                    all,
                });
            }
        }
    }

    /// What spots and points are worth by the weights that gave the bound; `None` before there is one.
    pub(in super::super) fn worth(&mut self) -> Option<Worth> {
        let proof = self.proof.as_ref()?;
        self.grid.sums(&proof.weight, &mut self.sums);
        let spots = self.items.iter().zip(&self.next.share).map(|(item, &share)| SpotWorth {
            worth: exact(item.cover.weight(&self.sums) + item.count * proof.dues[item.kind]),
            share,
        });
        Some(Worth {
            all: exact(proof.all),
            each: exact(proof.each),
            spots: spots.collect(),
            points: self.weighty(&proof.weight),
        })
    }

    /// Every point with a weight, and the spots that cover it.
    fn weighty(&self, weight: &[f64]) -> Vec<(i64, Vec<u32>)> {
        let mut points: Vec<(i64, Vec<u32>)> = weight.iter().map(|&w| (exact(w), Vec::new())).collect();
        for (i, item) in (0..).zip(&self.items) {
            let [x, y, z] = item.cover.range;
            for x in x.0..x.1 {
                for y in y.0..y.1 {
                    for z in z.0..z.1 {
                        let (weight, spots) = &mut points[self.grid.point(x, y, z)];
                        if *weight > 0 {
                            spots.push(i);
                        }
                    }
                }
            }
        }
        points.retain(|(weight, _)| *weight > 0);
        points
    }
}

/// What everything is worth by the weights that gave a bound, in whole numbers.
pub(in super::super) struct Worth {
    /// All points and caps together.
    pub(in super::super) all: i64,
    /// Every module at least.
    pub(in super::super) each: i64,
    /// The spots of the raster, in order.
    pub(in super::super) spots: Vec<SpotWorth>,
    /// Each point with a weight: that, and the spots that cover it.
    pub(in super::super) points: Vec<(i64, Vec<u32>)>,
}

/// A spot by the weights.
pub(in super::super) struct SpotWorth {
    /// Its points and what is due for its modules.
    pub(in super::super) worth: i64,
    /// How much of it the linear program takes.
    pub(in super::super) share: f64,
}

impl Worth {
    /// What is left when `target` modules are paid for.
    pub(in super::super) fn budget(&self, target: u32) -> i64 {
        self.all - i64::from(target) * self.each
    }

    /// What each spot is worth more than its modules must be.
    pub(in super::super) fn costs(&self, raster: &Raster) -> Vec<i64> {
        let spots = self.spots.iter().zip(&raster.spots);
        spots
            .map(|(own, spot)| own.worth - i64::from(spot.count) * self.each)
            .collect()
    }

    /// The spots that a layout of `target` modules can have: the others cost more than is left then.
    pub(in super::super) fn affordable(&self, raster: &Raster, target: u32) -> Vec<usize> {
        let budget = self.budget(target);
        let costs = self.costs(raster).into_iter().enumerate();
        costs.filter(|&(_, cost)| cost <= budget).map(|(i, _)| i).collect()
    }
}

#[expect(clippy::cast_possible_truncation, reason = "whole and far below 2^53")]
fn exact(whole: f64) -> i64 {
    whole as i64
}
