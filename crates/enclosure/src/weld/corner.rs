//! What lies in an inside corner and how far a square edge has to stay off it.

use tape::Length;

/// What fills the corner between two walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// A flat fillet bead of this leg on both walls.
    Bead(Length),
    /// The inside radius of a bend.
    Radius(Length),
}

impl Fill {
    /// How far it reaches along each wall.
    pub const fn reach(self) -> Length {
        match self {
            Self::Bead(reach) | Self::Radius(reach) => reach,
        }
    }

    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Bead(_) => "weld bead",
            Self::Radius(_) => "bend",
        }
    }

    /// The least distance from one wall with which a square edge that stands `other` off the other wall clears it, rounded
    /// up.
    ///
    /// A bead: `a + other >= leg`. A bend: `(r - a)^2 + (r - other)^2 <= r^2`. An edge beyond its reach on either wall
    /// clears it whatever the other distance is.
    pub fn least(self, other: Length) -> Length {
        let reach = self.reach();
        if other >= reach {
            return Length::ZERO;
        }
        let other = other.max(Length::ZERO);
        match self {
            Self::Bead(leg) => leg - other,
            Self::Radius(radius) => {
                let (r, down) = (radius.as_mm(), (radius - other).as_mm());
                Length::from_mm_up(r - (r * r - down * down).max(0.0).sqrt())
            }
        }
    }

    /// The least distance from both walls alike, rounded up: half the leg, or `r (1 - 1/sqrt 2)`.
    pub fn least_both(self) -> Length {
        match self {
            Self::Bead(leg) => Length::from_nm((leg.nm() + 1).div_euclid(2)),
            Self::Radius(radius) => Length::from_mm_up(radius.as_mm() * (1.0 - std::f64::consts::FRAC_1_SQRT_2)),
        }
    }

    /// How much more a square edge at these distances from the two walls needs from the first; zero when it clears.
    pub fn short(self, first: Length, other: Length) -> Length {
        (self.least(other) - first).max(Length::ZERO)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rstest::rstest;

    use super::*;

    fn um(um: i64) -> Length {
        Length::from_nm(um * 1000)
    }

    // A bead of 6: 2 off one wall needs 4 off the other. A bend of 5: 1 off one wall, (5 - a)^2 <= 25 - 16, a = 2.
    #[rstest]
    #[case::bead(Fill::Bead(Length::mm(6)), 2_000, 4_000)]
    #[case::bead_on_the_wall(Fill::Bead(Length::mm(6)), 0, 6_000)]
    #[case::bead_beyond(Fill::Bead(Length::mm(6)), 6_000, 0)]
    #[case::bend(Fill::Radius(Length::mm(5)), 1_000, 2_000)]
    #[case::bend_on_the_wall(Fill::Radius(Length::mm(5)), 0, 5_000)]
    #[case::bend_beyond(Fill::Radius(Length::mm(5)), 5_000, 0)]
    fn an_edge_clears_from_here_on(#[case] fill: Fill, #[case] other: i64, #[case] least: i64) {
        assert_eq!(fill.least(um(other)), um(least));
        assert_eq!(fill.short(um(least), um(other)), Length::ZERO);
        if least > 0 {
            assert_eq!(fill.short(um(least - 1), um(other)), um(1));
        }
    }

    #[test]
    fn with_both_walls_alike() {
        assert_eq!(Fill::Bead(Length::mm(6)).least_both(), Length::mm(3));
        // 10 x (1 - 0.70711) = 2.9289
        assert!((Fill::Radius(Length::mm(10)).least_both().as_mm() - 2.928_932).abs() < 2e-6);
    }

    fn fill() -> impl Strategy<Value = Fill> {
        (0..20_000_000_i64, any::<bool>()).prop_map(|(nm, bead)| {
            let reach = Length::from_nm(nm);
            if bead { Fill::Bead(reach) } else { Fill::Radius(reach) }
        })
    }

    proptest! {
        #[test]
        fn the_edge_of_a_clear_module_lies_in_no_metal(fill in fill(), other in 0..25_000_000_i64) {
            let other = Length::from_nm(other);
            let a = fill.least(other).as_mm();
            let (b, reach) = (other.as_mm(), fill.reach().as_mm());
            let clear = match fill {
                Fill::Bead(_) => a + b >= reach - 1e-9,
                Fill::Radius(_) => b >= reach || (reach - a).powi(2) + (reach - b).powi(2) <= reach.powi(2) + 1e-9,
            };
            prop_assert!(clear);
            // More room at one wall never asks for more at the other.
            prop_assert!(fill.least(other + Length::mm(1)) <= fill.least(other));
        }

        #[test]
        fn both_alike_clear(fill in fill()) {
            let both = fill.least_both();
            // Two figures rounded up each by at most a nanometre.
            prop_assert!(fill.short(both, both) <= Length::from_nm(2));
        }
    }
}
