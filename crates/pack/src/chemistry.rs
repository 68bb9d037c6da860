//! Cell families with typical limits.

use crate::CellVolts;

/// A family of lithium-ion cells. The limits are typical; a module's own data always win.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Chemistry {
    /// Nickel manganese cobalt.
    Nmc,
    /// Lithium manganese oxide.
    Lmo,
    /// A blend of the two.
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
        todo!()
    }

    /// Typical empty, nominal and full volts of one cell.
    pub const fn cell_volts(self) -> CellVolts {
        todo!()
    }
}
