//! How tight a bolt is drawn.

use super::Bolt;
use super::grade::Grade;
use crate::KnownBy;

/// `K` of a plain or zinc-plated thread, dry: handbook figure, by memory. Oil or wax lowers it.
pub const K: f64 = 0.2;
/// The share of the proof load that a bolt is drawn to when it is to be taken apart again: handbook figure, by memory.
pub const SHARE: f64 = 0.75;
/// Where the sum comes from.
pub const SOURCE: &str = "T = K F d, K 0.2 dry, F 0.75 of the proof load: handbook";
/// How it is known.
pub const KNOWN_BY: KnownBy = KnownBy::Memory;

/// The torque on head or nut in newton metres: `K F d`, with `F` 0.75 of the proof load of ISO 898-1 or SAE J429.
///
/// For metal on metal only: what squeezes a gasket or stands in an insert bears less.
pub fn newton_metres(bolt: &Bolt, grade: Grade) -> f64 {
    K * SHARE * grade.proof_load(bolt).force_n * bolt.diameter.as_mm() / 1000.0
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// 0.15 x 33 700 N x 10 mm; 0.15 x 21 200 N x 8 mm; 0.15 x 6 600 lbf x 0.375 in = 371.25 lbf in.
    #[rstest]
    #[case("M10", Grade::Class8_8, 50.55)]
    #[case("M8", Grade::Class8_8, 25.44)]
    #[case("3/8-16", Grade::Grade5, 41.945)]
    fn a_bolt_is_drawn_to_three_quarters_of_its_proof_load(
        #[case] name: &str,
        #[case] grade: Grade,
        #[case] newton_metres_by_hand: f64,
    ) {
        let torque = newton_metres(Bolt::named(name).expect("on the list"), grade);
        assert!((torque - newton_metres_by_hand).abs() < 0.01, "{torque}");
    }
}
