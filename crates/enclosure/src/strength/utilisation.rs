//! A load against its limit.

use crate::KnownBy;

/// What goes with every list of these sums.
pub const FIRST_ORDER: &str = "First-order sums: they find what is clearly too weak. They leave out welds, fatigue, \
     stress at holes and corners, and how forces really share out, and do not replace an engineer.";

/// The limit of a sum, and what stands behind it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// The limit, in the unit of the load.
    pub value: f64,
    /// The formula of load and limit.
    pub formula: &'static str,
    /// Where formula and limit come from.
    pub source: &'static str,
    /// How the weaker of the two is known.
    pub known: KnownBy,
}

/// On which side of its limit a figure has to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// It may be no more.
    AtMost,
    /// It may be no less.
    AtLeast,
}

impl Bound {
    /// The words before the limit: `at most`, `at least`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::AtMost => "at most",
            Self::AtLeast => "at least",
        }
    }
}

/// How much of a limit a load takes up.
#[derive(Clone, Debug, PartialEq)]
pub struct Utilisation {
    /// What carries the load: `floor panel, stress`.
    pub what: String,
    /// The load, in [`Utilisation::unit`]; of a sum that asks for a least, what there is.
    pub load: f64,
    /// The limit, in [`Utilisation::unit`].
    pub limit: f64,
    /// On which side of the limit the load has to be.
    pub bound: Bound,
    /// The unit of both: `N`, `MPa`, `mm`.
    pub unit: &'static str,
    /// Load over limit, of a sum that asks for a least limit over load: above 1 the rule is broken. Infinite when there is
    /// a load and no limit to bear it.
    pub share: f64,
    /// The formula of load and limit.
    pub formula: &'static str,
    /// Where formula and limit come from.
    pub source: &'static str,
    /// How the weaker of the two is known.
    pub known: KnownBy,
    /// Whether the formula holds for this load: that of a plate does while it gives no more than half its thickness, and
    /// overstates beyond.
    pub holds: bool,
}

impl Utilisation {
    /// Puts a load against a limit.
    pub fn of(what: impl Into<String>, load: f64, unit: &'static str, limit: Limit) -> Self {
        Self {
            what: what.into(),
            load,
            limit: limit.value,
            bound: Bound::AtMost,
            unit,
            share: share(load, limit.value),
            formula: limit.formula,
            source: limit.source,
            known: limit.known,
            holds: true,
        }
    }

    /// The same, told whether its formula holds for this load.
    #[must_use]
    pub fn holding(mut self, holds: bool) -> Self {
        self.holds = holds;
        self
    }

    /// Whether load and share mean something: the formula holds, or overstates and the load is within the limit all the same.
    pub fn is_told(&self) -> bool {
        self.holds || self.within()
    }

    /// Puts what there is against the least that is asked for.
    pub fn at_least(what: impl Into<String>, there_is: f64, unit: &'static str, least: Limit) -> Self {
        Self {
            bound: Bound::AtLeast,
            share: share(least.value, there_is),
            ..Self::of(what, there_is, unit, least)
        }
    }

    /// Whether the load is within the limit, which says nothing of what the sum leaves out.
    pub fn within(&self) -> bool {
        self.share <= 1.0
    }
}

/// Nothing to carry takes up nothing, whatever the limit.
fn share(load: f64, limit: f64) -> f64 {
    match (load, limit) {
        (0.0, _) => 0.0,
        (_, limit) if limit > 0.0 => load / limit,
        _ => f64::INFINITY,
    }
}

/// The one that governs: the largest share, the first of equals; `None` of none. A share that is no number comes first.
pub fn governing(all: &[Utilisation]) -> Option<&Utilisation> {
    all.iter().reduce(|most, other| {
        if other.share.total_cmp(&most.share).is_gt() {
            other
        } else {
            most
        }
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn sum(what: &str, load: f64, limit: f64) -> Utilisation {
        let limit = Limit {
            value: limit,
            formula: "F / R",
            source: "a test",
            known: KnownBy::Computed,
        };
        Utilisation::of(what, load, "N", limit)
    }

    #[rstest]
    #[case::half(5.0, 10.0, 0.5, true)]
    #[case::all_of_it(10.0, 10.0, 1.0, true)]
    #[case::over(11.0, 10.0, 1.1, false)]
    #[case::no_load(0.0, 0.0, 0.0, true)]
    #[case::no_limit(1.0, 0.0, f64::INFINITY, false)]
    fn a_share_is_load_over_limit(#[case] load: f64, #[case] limit: f64, #[case] share: f64, #[case] within: bool) {
        let sum = sum("bolt", load, limit);
        assert!(sum.share.total_cmp(&share).is_eq(), "{}", sum.share);
        assert_eq!(sum.within(), within);
    }

    /// Past its formula, what is overstated and yet within the limit is on the safe side; over it, it says nothing.
    #[rstest]
    #[case::holds(9.0, true, true)]
    #[case::holds_and_is_over(11.0, true, true)]
    #[case::overstated_within(9.0, false, true)]
    #[case::overstated_over(11.0, false, false)]
    fn past_its_formula_only_what_is_within_is_told(#[case] load: f64, #[case] holds: bool, #[case] told: bool) {
        assert_eq!(sum("lid", load, 10.0).holding(holds).is_told(), told);
    }

    /// 8 of the 10 asked for: a quarter more is asked for than there is.
    #[rstest]
    #[case::too_little(8.0, 10.0, 1.25, false)]
    #[case::just_enough(10.0, 10.0, 1.0, true)]
    #[case::plenty(20.0, 10.0, 0.5, true)]
    #[case::nothing(0.0, 10.0, f64::INFINITY, false)]
    fn of_a_least_the_share_is_what_is_asked_for_over_what_there_is(
        #[case] there_is: f64,
        #[case] least: f64,
        #[case] share: f64,
        #[case] within: bool,
    ) {
        let by = Limit {
            value: least,
            formula: "s / t",
            source: "a test",
            known: KnownBy::Computed,
        };
        let sum = Utilisation::at_least("gasket", there_is, "%", by);
        assert!(sum.share.total_cmp(&share).is_eq(), "{}", sum.share);
        assert_eq!((sum.within(), sum.bound), (within, Bound::AtLeast));
        assert!(sum.load.total_cmp(&there_is).is_eq() && sum.limit.total_cmp(&least).is_eq());
    }

    #[test]
    fn the_largest_share_governs_and_not_the_largest_load() {
        let all = [sum("eye", 100.0, 400.0), sum("bolt", 5.0, 8.0), sum("leg", 10.0, 16.0)];
        assert_eq!(governing(&all).map(|most| most.what.as_str()), Some("bolt"));
        assert_eq!(governing(&[]), None);
    }
}
