//! Typical curves of one cell of each family.
//!
//! Each is the potential of its positive electrode less that of its negative, as functions published for 25 °C, over
//! the part of each electrode that the cell uses. Points were taken from those functions so that straight lines between
//! them stay within 2 mV, below 3 % within 16 mV. The functions and the parts used are in `tests/cases/ocv.json`.

use super::OcvCurve;
use crate::chemistry::Chemistry;

impl Chemistry {
    /// A typical curve of one cell, near 25 °C. Where it comes from: [`Chemistry::ocv_source`]. The module's own data
    /// are better.
    pub fn ocv(self) -> OcvCurve {
        let points = match self {
            Self::Nmc => NMC.to_vec(),
            Self::Lmo => LMO.to_vec(),
            Self::NmcLmoBlend => half_and_half(),
            Self::Nca => NCA.to_vec(),
            Self::Lfp => LFP.to_vec(),
            Self::Lto => LTO.to_vec(),
        };
        OcvCurve { points }
    }

    /// How [`Chemistry::ocv`] is known: `found` in a source that could be opened, or from `memory`.
    pub const fn ocv_known_by(self) -> &'static str {
        match self {
            Self::Nmc | Self::Lfp | Self::Nca => "found",
            Self::Lmo | Self::NmcLmoBlend | Self::Lto => "memory",
        }
    }

    /// Where [`Chemistry::ocv`] comes from.
    pub const fn ocv_source(self) -> &'static str {
        match self {
            Self::Nmc => {
                "one NMC 532 and graphite cell: Journal of The Electrochemical Society 167 (2020) 110561, read in an \
                 open library that carries it"
            }
            Self::Lfp => {
                "one LFP and graphite cell: Journal of The Electrochemical Society 158 (2011) A562, between the states \
                 of 165 (2018) A181, read in open code that carries them"
            }
            Self::Nca => {
                "one NCA and graphite cell: Journal of The Electrochemical Society 158 (2011) A955, read in an open \
                 library that carries it"
            }
            Self::Lmo => {
                "typical shape, from memory: use the module's own data (LMO of Journal of The Electrochemical Society \
                 143 (1996) 1890 against the graphite of the NMC cell: a pairing of ours)"
            }
            Self::NmcLmoBlend => {
                "typical shape, from memory: use the module's own data (the mean of the NMC and the LMO curve: an \
                 assumption)"
            }
            Self::Lto => {
                "typical shape, from memory: use the module's own data (the NMC of the NMC cell against a flat 1.55 V: \
                 a pairing of ours)"
            }
        }
    }
}

/// The mean of NMC and LMO at every state of charge where either has a point.
fn half_and_half() -> Vec<(f64, f64)> {
    let curves = [NMC, LMO].map(|points| OcvCurve {
        points: points.to_vec(),
    });
    let mut socs: Vec<f64> = [NMC, LMO].concat().into_iter().map(|point| point.0).collect();
    socs.sort_by(f64::total_cmp);
    socs.dedup();
    let mean = |soc| curves.iter().map(|curve| curve.height_at(soc)).sum::<f64>() / 2.0;
    socs.into_iter().map(|soc| (soc, mean(soc))).collect()
}

const NMC: &[(f64, f64)] = &[
    (0.0, 2.8101),
    (0.005, 2.9884),
    (0.01, 3.1197),
    (0.015, 3.2165),
    (0.02, 3.2881),
    (0.025, 3.3412),
    (0.03, 3.3807),
    (0.035, 3.4103),
    (0.04, 3.4326),
    (0.05, 3.4626),
    (0.06, 3.4806),
    (0.08, 3.5),
    (0.14, 3.5308),
    (0.2, 3.5848),
    (0.25, 3.6203),
    (0.325, 3.6462),
    (0.44, 3.6871),
    (0.535, 3.735),
    (0.57, 3.7613),
    (0.615, 3.812),
    (0.74, 3.9143),
    (0.84, 4.0111),
    (0.935, 4.1178),
    (1.0, 4.2),
];

const LFP: &[(f64, f64)] = &[
    (0.0, 2.7081),
    (0.005, 2.7861),
    (0.01, 2.8409),
    (0.015, 2.8858),
    (0.02, 2.9253),
    (0.03, 2.9923),
    (0.04, 3.0463),
    (0.05, 3.0893),
    (0.06, 3.1231),
    (0.075, 3.1605),
    (0.09, 3.1862),
    (0.115, 3.2128),
    (0.155, 3.2353),
    (0.305, 3.2848),
    (0.405, 3.3027),
    (0.67, 3.3198),
    (0.84, 3.3415),
    (0.94, 3.3493),
    (0.965, 3.3594),
    (0.98, 3.3744),
    (0.99, 3.3925),
    (1.0, 3.4219),
];

const NCA: &[(f64, f64)] = &[
    (0.0, 2.7),
    (0.005, 2.9017),
    (0.01, 3.0127),
    (0.015, 3.0779),
    (0.02, 3.1181),
    (0.025, 3.1439),
    (0.03, 3.161),
    (0.04, 3.1816),
    (0.1, 3.2471),
    (0.28, 3.4686),
    (0.375, 3.5732),
    (0.46, 3.6515),
    (0.615, 3.7815),
    (0.675, 3.8444),
    (0.755, 3.9352),
    (0.925, 4.107),
    (0.985, 4.1792),
    (1.0, 4.2),
];

const LMO: &[(f64, f64)] = &[
    (0.0, 3.0),
    (0.005, 3.1928),
    (0.01, 3.3345),
    (0.015, 3.4391),
    (0.02, 3.5166),
    (0.025, 3.5742),
    (0.03, 3.6173),
    (0.035, 3.6497),
    (0.04, 3.6742),
    (0.045, 3.6929),
    (0.055, 3.7184),
    (0.07, 3.7397),
    (0.095, 3.7566),
    (0.14, 3.7764),
    (0.2, 3.8245),
    (0.25, 3.8537),
    (0.315, 3.8668),
    (0.39, 3.8812),
    (0.44, 3.903),
    (0.535, 3.9642),
    (0.58, 3.9904),
    (0.61, 4.0111),
    (0.66, 4.0198),
    (0.885, 4.0305),
    (0.925, 4.0422),
    (0.95, 4.0616),
    (0.965, 4.0831),
    (0.975, 4.1044),
    (0.985, 4.1338),
    (0.995, 4.1743),
    (1.0, 4.2),
];

const LTO: &[(f64, f64)] = &[
    (0.0, 2.1078),
    (0.065, 2.1425),
    (0.16, 2.1746),
    (0.36, 2.2277),
    (0.465, 2.269),
    (0.565, 2.3233),
    (0.665, 2.3933),
    (0.765, 2.4788),
    (0.865, 2.5795),
    (0.96, 2.6901),
    (1.0, 2.7416),
];
