//! What bolts bear by their class.

use super::Bolt;
use crate::KnownBy;

/// A class or grade, as its head is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// ISO 898-1 class 4.6: plain studding is 4.6 or 4.8.
    Class4_6,
    /// ISO 898-1 class 8.8.
    Class8_8,
    /// ISO 898-1 class 10.9.
    Class10_9,
    /// ISO 898-1 class 12.9: socket head screws.
    Class12_9,
    /// SAE J429 grade 5: three lines on the head.
    Grade5,
    /// SAE J429 grade 8: six lines on the head.
    Grade8,
}

/// Megapascals in a thousand pounds per square inch.
const KSI: f64 = 6.894_757;

/// Newtons in a pound of force, exact by definition.
pub const NEWTONS_PER_LBF: f64 = 4.448_221_615_260_5;

/// What strength is divided by in shear and in tension: gamma M2 of EN 1993-1-8, by memory.
pub const GAMMA_M2: f64 = 1.25;

/// A force that a bolt bears, and how it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// Newtons.
    pub force_n: f64,
    /// How it is known.
    pub known: KnownBy,
    /// Where it comes from.
    pub source: &'static str,
}

impl Grade {
    /// All of them, metric first.
    pub const ALL: [Self; 6] = [
        Self::Class4_6,
        Self::Class8_8,
        Self::Class10_9,
        Self::Class12_9,
        Self::Grade5,
        Self::Grade8,
    ];

    /// The name as written in a shop: `8.8`, `grade 5`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Class4_6 => "4.6",
            Self::Class8_8 => "8.8",
            Self::Class10_9 => "10.9",
            Self::Class12_9 => "12.9",
            Self::Grade5 => "grade 5",
            Self::Grade8 => "grade 8",
        }
    }

    /// The stress that a bolt bears without growing longer for good, in megapascals: 225, 580 (to M16), 830, 970, 85 and 120
    /// ksi.
    ///
    /// Source: ISO 898-1, SAE J429 (1/4 to 1 in), found; 225 and 970 by memory.
    pub const fn proof_mpa(self) -> f64 {
        match self {
            Self::Class4_6 => 225.0,
            Self::Class8_8 => 580.0,
            Self::Class10_9 => 830.0,
            Self::Class12_9 => 970.0,
            Self::Grade5 => 85.0 * KSI,
            Self::Grade8 => 120.0 * KSI,
        }
    }

    /// Nominal tensile strength in megapascals: 400, 800, 1000, 1200, 120 and 150 ksi. By memory.
    pub const fn ultimate_mpa(self) -> f64 {
        match self {
            Self::Class4_6 => 400.0,
            Self::Class8_8 => 800.0,
            Self::Class10_9 => 1_000.0,
            Self::Class12_9 => 1_200.0,
            Self::Grade5 => 120.0 * KSI,
            Self::Grade8 => 150.0 * KSI,
        }
    }

    /// Share of the tensile strength that counts in shear: 0.6 for classes 4.6 and 8.8, 0.5 for 10.9, EN 1993-1-8 Table 3.4, by
    /// memory. The table ends there: 12.9 is taken as 10.9, grades 5 and 8 as their metric neighbours.
    const fn shear_share(self) -> f64 {
        match self {
            Self::Class4_6 | Self::Class8_8 | Self::Grade5 => 0.6,
            Self::Class10_9 | Self::Class12_9 | Self::Grade8 => 0.5,
        }
    }

    /// What one bolt bears across its thread, in newtons: `0.6 fub As / 1.25`, for 10.9, 12.9 and grade 8 `0.5`.
    ///
    /// - `area_mm2`: stress area. The thread is taken to lie in the joint.
    ///
    /// Source: EN 1993-1-8 Table 3.4, by memory.
    pub fn shear_n(self, area_mm2: f64) -> f64 {
        self.shear_share() * self.ultimate_mpa() * area_mm2 / GAMMA_M2
    }

    /// What one bolt bears along its thread, in newtons: `0.9 fub As / 1.25`.
    ///
    /// Source: EN 1993-1-8 Table 3.4, by memory.
    pub fn tension_n(self, area_mm2: f64) -> f64 {
        0.9 * self.ultimate_mpa() * area_mm2 / GAMMA_M2
    }

    /// The proof load of a bolt, from the table where one has it, else proof stress times stress area.
    pub fn proof_load(self, bolt: &Bolt) -> Resistance {
        let printed = PROOF_LOADS
            .iter()
            .find(|row| row.grade == self && row.bolt == bolt.name);
        match printed {
            Some(row) => Resistance {
                force_n: row.force_n,
                known: row.known,
                source: "proof load table of the standard: ISO 898-1 or SAE J429",
            },
            None => Resistance {
                force_n: self.proof_mpa() * bolt.stress_area_mm2(),
                known: KnownBy::Computed,
                source: "proof stress of ISO 898-1 or SAE J429 x stress area",
            },
        }
    }
}

/// A printed proof load.
struct ProofLoad {
    bolt: &'static str,
    grade: Grade,
    force_n: f64,
    known: KnownBy,
}

const fn printed(bolt: &'static str, grade: Grade, force_n: f64, known: KnownBy) -> ProofLoad {
    ProofLoad {
        bolt,
        grade,
        force_n,
        known,
    }
}

/// Printed loads. The two small ones are rounded from smaller areas than the formula gives: 0.6 % less.
const PROOF_LOADS: [ProofLoad; 11] = [
    printed("M5", Grade::Class8_8, 8_230.0, KnownBy::Memory),
    printed("M6", Grade::Class8_8, 11_600.0, KnownBy::Memory),
    printed("M8", Grade::Class8_8, 21_200.0, KnownBy::Found),
    printed("M10", Grade::Class8_8, 33_700.0, KnownBy::Found),
    printed("M12", Grade::Class8_8, 48_900.0, KnownBy::Found),
    printed("M6", Grade::Class10_9, 16_700.0, KnownBy::Memory),
    printed("M10", Grade::Class10_9, 48_100.0, KnownBy::Found),
    printed("5/16-18", Grade::Grade5, 4_450.0 * NEWTONS_PER_LBF, KnownBy::Found),
    printed("3/8-16", Grade::Grade5, 6_600.0 * NEWTONS_PER_LBF, KnownBy::Found),
    printed("1/2-13", Grade::Grade5, 12_100.0 * NEWTONS_PER_LBF, KnownBy::Computed),
    printed("3/8-16", Grade::Grade8, 9_300.0 * NEWTONS_PER_LBF, KnownBy::Found),
];

#[cfg(test)]
mod tests {
    use super::super::BOLTS;
    use super::*;

    #[test]
    fn printed_loads_are_proof_stress_times_area_but_for_rounding() {
        for row in &PROOF_LOADS {
            let bolt = Bolt::named(row.bolt).unwrap();
            let worked_out = row.grade.proof_mpa() * bolt.stress_area_mm2();
            assert!((row.force_n - worked_out).abs() < 0.01 * worked_out, "{}", row.bolt);
        }
    }

    #[test]
    fn a_bigger_bolt_and_a_higher_grade_bear_more() {
        for grade in Grade::ALL {
            for list in [&BOLTS[..7], &BOLTS[7..]] {
                assert!(list.is_sorted_by(|small, large| {
                    grade.proof_load(small).force_n < grade.proof_load(large).force_n
                        && grade.shear_n(small.stress_area_mm2()) < grade.shear_n(large.stress_area_mm2())
                }));
            }
        }
        for bolt in &BOLTS {
            let area = bolt.stress_area_mm2();
            for [low, high] in [
                [Grade::Class8_8, Grade::Class10_9],
                [Grade::Class10_9, Grade::Class12_9],
                [Grade::Grade5, Grade::Grade8],
            ] {
                assert!(low.proof_load(bolt).force_n < high.proof_load(bolt).force_n);
                assert!(low.shear_n(area) < high.shear_n(area) && low.tension_n(area) < high.tension_n(area));
                assert!(
                    low.shear_n(area) < low.tension_n(area),
                    "a bolt bears more along than across"
                );
            }
        }
    }
}
