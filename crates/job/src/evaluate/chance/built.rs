//! What a welded box may be off.

use geometry::{Axis, Size};
use tape::Length;

use super::room::{Cause, Off};
use crate::Len;
use crate::assumed::{Limits, Trust};
use crate::document::BatteryBox;
use crate::evaluate::BoxResult;

/// What the outside of a box may be off along each axis, over everything that stands out; nothing while it has none.
pub(in crate::evaluate) fn outside(
    limits: &Limits,
    trust: &Trust,
    told: &BatteryBox,
    result: &BoxResult,
) -> [Vec<Off>; 3] {
    let overall = result.solids.iter().copied().reduce(|a, b| a.hull(&b));
    let (Some(overall), Some(body)) = (overall, result.coated) else {
        return Default::default();
    };
    let (overall, body) = (overall.size(), body.size());
    Axis::ALL.map(|axis| {
        let mut offs = Vec::with_capacity(4);
        match as_taped(told, result, axis) {
            Some(reading) => {
                offs.push(taped(reading, trust));
                // What stands out beyond the body was not taped.
                let beyond = overall[axis] - body[axis];
                if beyond > Length::ZERO {
                    let side = Length::from_nm(beyond.nm() - beyond.nm() / 2);
                    offs.push(Off::limits(Cause::Shop, shop_limits(limits, side), 2));
                }
            }
            None => {
                offs.push(shop(limits, overall[axis]));
                offs.push(coating(limits, trust.coating));
            }
        }
        offs.push(flatness(limits, body, axis));
        offs
    })
}

/// What was taped of a box along an axis after welding, where its figures follow that.
pub(super) fn as_taped<'a>(told: &'a BatteryBox, result: &BoxResult, axis: Axis) -> Option<&'a Len> {
    told.as_built.along(axis).filter(|_| result.drawn.is_some())
}

/// A size that was taped.
pub(super) fn taped(size: &Len, trust: &Trust) -> Off {
    Off::sigma(Cause::AsBuilt, trust.sigma_of(size).as_mm())
}

/// The coating on both faces, off by no more than its thickness.
pub(super) fn coating(limits: &Limits, thickness: Length) -> Off {
    Off::limits(Cause::Coating, limits.coating.min(thickness), 2)
}

/// A length as the shop holds it: by its own figure, else by its class.
pub(super) fn shop(limits: &Limits, size: Length) -> Off {
    Off::limits(Cause::Shop, shop_limits(limits, size), 1)
}

fn shop_limits(limits: &Limits, size: Length) -> Length {
    limits.shop.unwrap_or_else(|| limits.class.limits(size))
}

/// The two walls across an axis, each as far out of flat as its longer side allows.
pub(super) fn flatness(limits: &Limits, size: Size, axis: Axis) -> Off {
    let sides = Axis::ALL.into_iter().filter(|&a| a != axis).map(|a| size[a]);
    let longer = sides.max().unwrap_or(size[axis]);
    Off::limits(Cause::Flatness, limits.flatness.limits(longer), 2)
}
