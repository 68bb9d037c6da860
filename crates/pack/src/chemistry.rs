//! Cell families with typical limits.

use crate::{CellVolts, Volts};

/// A family of lithium-ion cells. The limits are typical; a module's own data always win.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Chemistry {
    /// Nickel manganese cobalt.
    Nmc,
    /// Lithium manganese oxide.
    Lmo,
    /// A blend of the two. Its figures are from memory: see [`Chemistry::known_by`].
    NmcLmoBlend,
    /// Nickel cobalt aluminium.
    Nca,
    /// Lithium iron phosphate.
    Lfp,
    /// Lithium titanate.
    Lto,
}

impl Chemistry {
    /// All families, in the order they are offered.
    pub const ALL: [Self; 6] = [Self::Nmc, Self::Lfp, Self::Nca, Self::Lmo, Self::NmcLmoBlend, Self::Lto];

    /// The short name: NMC, LFP, NCA, LMO, NMC-LMO or LTO.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Nmc => "NMC",
            Self::Lmo => "LMO",
            Self::NmcLmoBlend => "NMC-LMO",
            Self::Nca => "NCA",
            Self::Lfp => "LFP",
            Self::Lto => "LTO",
        }
    }

    /// The family of that name, however it is cased or spaced and with or without dashes, underscores or slashes;
    /// the word `blend` may follow NMC-LMO.
    pub fn from_name(name: &str) -> Option<Self> {
        let plain = |text: &str| -> String {
            let kept = text
                .chars()
                .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '_' | '/'));
            kept.flat_map(char::to_lowercase).collect()
        };
        let wanted = plain(name);
        Self::ALL.into_iter().find(|family| {
            let own = plain(family.name());
            own == wanted || *family == Self::NmcLmoBlend && wanted.strip_suffix("blend") == Some(own.as_str())
        })
    }

    /// Typical empty, nominal and full volts of one cell. Where they come from: [`Chemistry::source`].
    pub const fn cell_volts(self) -> CellVolts {
        let (empty, nominal, full) = match self {
            Self::Nmc | Self::Nca => (3_000, 3_600, 4_200),
            Self::Lmo => (3_000, 3_700, 4_200),
            Self::NmcLmoBlend => (3_000, 3_750, 4_200),
            Self::Lfp => (2_500, 3_200, 3_650),
            Self::Lto => (1_800, 2_400, 2_850),
        };
        CellVolts {
            empty: Volts::from_milli(empty),
            nominal: Volts::from_milli(nominal),
            full: Volts::from_milli(full),
        }
    }

    /// The volts below which a cell is taken to be damaged; a cell found lower is not to be charged again.
    pub const fn absolute_min(self) -> Volts {
        Volts::from_milli(match self {
            Self::Nmc | Self::Nca | Self::Lmo | Self::NmcLmoBlend => 2_500,
            Self::Lfp => 2_000,
            Self::Lto => 1_500,
        })
    }

    /// How the figures are known: `found` in a source that could be opened, or from `memory`.
    pub const fn known_by(self) -> &'static str {
        match self {
            Self::NmcLmoBlend => "memory",
            Self::Nmc | Self::Lmo | Self::Nca | Self::Lfp | Self::Lto => "found",
        }
    }

    /// Where the figures come from.
    pub const fn source(self) -> &'static str {
        match self {
            Self::NmcLmoBlend => "from memory: use the module's own data",
            Self::Lto => {
                "summary table of lithium-ion families on an open trade page, which marks the absolute minimum as an \
                 estimate"
            }
            Self::Nmc | Self::Lmo | Self::Nca | Self::Lfp => {
                "summary table of lithium-ion families on an open trade page"
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::as_offered("NMC", Some(Chemistry::Nmc))]
    #[case::lower_case("lfp", Some(Chemistry::Lfp))]
    #[case::spaces_round_it("  Lto ", Some(Chemistry::Lto))]
    #[case::dash("nmc-lmo", Some(Chemistry::NmcLmoBlend))]
    #[case::underscores("NMC_LMO_blend", Some(Chemistry::NmcLmoBlend))]
    #[case::slash("NMC / LMO", Some(Chemistry::NmcLmoBlend))]
    #[case::run_together("nmclmo", Some(Chemistry::NmcLmoBlend))]
    #[case::no_blend_of_one("NMC blend", None)]
    #[case::unknown("lead", None)]
    #[case::nothing("", None)]
    fn reads_a_name(#[case] name: &str, #[case] family: Option<Chemistry>) {
        assert_eq!(Chemistry::from_name(name), family);
    }

    #[test]
    fn every_name_reads_back() {
        for family in Chemistry::ALL {
            assert_eq!(Chemistry::from_name(family.name()), Some(family));
        }
    }
}
