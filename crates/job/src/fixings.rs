//! Rivets and screws as they are asked for in a shop: hole, what they go through, length.

use enclosure::strength::bolt::Bolt;
use tape::show::{caliper, hole};
use tape::{Length, Units};

use crate::assumed::Build;

/// Blind rivets: their hole, the thicknesses that they go through and a length to ask for.
pub(crate) fn blind_rivets(across: Length, grip: Length, units: Units, holds: &str) -> String {
    let grip_words = caliper(grip, units);
    let long = caliper(rivet_length(across, grip, units), units);
    format!(
        "blind rivets for a hole of {}, grip {grip_words}, {long} long, {holds}",
        hole(across, units)
    )
}

/// Under the head: what it goes through and its own hole once more, which the tail is drawn up from; to the next even millimetre,
/// or 1/16 in. Common practice, no source: the grip printed on the box of rivets has the last word.
fn rivet_length(across: Length, grip: Length, units: Units) -> Length {
    let step = match units {
        Units::Inch => Length::sixty_fourths(4),
        Units::Millimetre => Length::mm(2),
    };
    (grip + across).round_up_to(step)
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

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// 3 + 4 mm and a hole of 4.9 are 11.9 mm; in sixteenths the 0.469 in that they are go to 1/2 in.
    #[rstest]
    #[case(
        Units::Millimetre,
        "blind rivets for a hole of 4.9 mm, grip 7.0 mm, 12.0 mm long, panels"
    )]
    #[case(
        Units::Inch,
        "blind rivets for a hole of 0.193\" (4.9 mm), grip 0.276\" (7.0 mm), 1/2\" (12.7 mm) long, panels"
    )]
    fn rivets_are_asked_for_by_hole_grip_and_length(#[case] units: Units, #[case] words: &str) {
        assert_eq!(
            blind_rivets(Length::tenths_mm(49), Length::mm(7), units, "panels"),
            words
        );
    }
}
