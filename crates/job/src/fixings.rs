//! Rivets and screws as they are asked for in a shop: hole, what they go through, length.

use enclosure::strength::bolt::Bolt;
use enclosure::{Built, RivetHeads, rivet};
use tape::show::{caliper, hole};
use tape::{Length, Units};

use crate::assumed::Build;

/// Blind rivets: their heads, their hole, the thicknesses that they go through and a length to ask for.
pub(crate) fn blind_rivets((across, heads): (Length, RivetHeads), grip: Length, units: Units, holds: &str) -> String {
    let grip_words = caliper(grip, units);
    let long = caliper(rivet::length(across, grip, units), units);
    let heads = match heads {
        RivetHeads::FlushInside => "countersunk blind rivets",
        RivetHeads::RoundInside | RivetHeads::Outside => "blind rivets",
    };
    format!(
        "{heads} for a hole of {}, grip {grip_words}, {long} long, {holds}",
        hole(across, units)
    )
}

/// The screws of a cap with their rivet nuts, and what they go through.
///
/// A screw has to reach one thread into its nut: washer, skirt, the gap behind it, wall and its own thread. It is no use longer
/// than the nut, which stands in by what was entered.
pub(crate) fn cap_screws(how: &Build, units: Units) -> (String, String) {
    let gap = (how.cap_out - how.lid).max(Length::ZERO);
    let through = how.lid + gap + how.wall;
    let nut = format!("rivet nut grip {}", caliper(how.wall, units));
    let told = format!(
        "{} of skirt, gap and wall, a washer under the head, one thread into the nut",
        caliper(through, units)
    );
    let sized = Bolt::of_thread(how.screw).and_then(|bolt| {
        let least = bolt.washer() + through + how.screw;
        Some(bolt.sized(bolt.on_sale(least)?))
    });
    match sized {
        Some(sized) => (format!("lid screws with rivet nuts, {sized}, {nut}"), told),
        None => (
            format!("lid screws with rivet nuts, {}, {nut}", caliper(how.screw, units)),
            format!("length: {told}"),
        ),
    }
}

/// The sleeves that keep the skirt of a cap from being drawn in: one on each screw, between skirt and nut. None where there is no room
/// for one, and where nothing is screwed.
pub(crate) fn sleeves(built: &Built, how: &Build, units: Units) -> Option<(String, u32)> {
    let long = caliper(built.sleeve?, units);
    let told = crate::assumed::told(how.screw, units);
    let count = u32::try_from(built.side_screws.len()).unwrap_or(u32::MAX);
    Some((
        format!("spacer sleeves between skirt and wall for screws {told}, {long} long"),
        count,
    ))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// Through 7 mm of the list in millimetres 4.8 x 12, which grips 6 to 8; of that in inches the one that grips to 3/8 in.
    #[rstest]
    #[case(
        Units::Millimetre,
        RivetHeads::FlushInside,
        "countersunk blind rivets for a hole of 4.9 mm, grip 7.0 mm, 12.0 mm long, panels"
    )]
    #[case(
        Units::Inch,
        RivetHeads::Outside,
        "blind rivets for a hole of 0.193\" (4.9 mm), grip 0.276\" (7.0 mm), 0.525\" (13.3 mm) long, panels"
    )]
    fn rivets_are_asked_for_by_hole_grip_and_length(
        #[case] units: Units,
        #[case] heads: RivetHeads,
        #[case] words: &str,
    ) {
        assert_eq!(
            blind_rivets((Length::tenths_mm(49), heads), Length::mm(7), units, "panels"),
            words
        );
    }
}
