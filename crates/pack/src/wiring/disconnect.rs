//! The service disconnect within the pack.

use crate::Volts;
use crate::hazard::{Current, VoltageClass, voltage_class};

/// A pack in two halves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Disconnected {
    /// Volts of the half at the minus and of that at the plus.
    pub halves: [Volts; 2],
    /// Whether both are of class A.
    pub class_a: bool,
}

impl Disconnected {
    /// The volts of the larger half.
    pub fn largest(&self) -> Volts {
        self.halves[0].max(self.halves[1])
    }
}

/// A string of `series` modules of these volts, opened behind the first `after`.
pub fn disconnected(series: u32, after: u32, module: Volts) -> Disconnected {
    let after = after.min(series);
    let halves = [module * after, module * (series - after)];
    Disconnected {
        halves,
        class_a: halves
            .iter()
            .all(|&half| voltage_class(half, Current::Dc) == VoltageClass::A),
    }
}

/// Where a disconnect leaves the smallest larger half: the middle, or on either side of it.
pub fn best_places(series: u32) -> Vec<u32> {
    match series {
        0 | 1 => Vec::new(),
        n if n % 2 == 0 => vec![n / 2],
        n => vec![n / 2, n / 2 + 1],
    }
}
