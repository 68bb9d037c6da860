//! How to tape, in few words: what does not fit here stands in the page on taping.

use tape::Units;

/// What the names of corners mean.
pub(super) const LETTERS: &str = "F front, R rear; L the driver's left, R the driver's right; B bottom, T top. \
                                  FLB is the front left bottom corner. Not to scale.";

/// What to do, in order, with examples in the person's units first.
pub(super) const fn how(units: Units) -> [&'static str; 8] {
    let (write, blind) = match units {
        Units::Inch => (
            "Read to the nearest mark and write inches with the fraction, 41\u{a0}5/8, or millimetres with the unit, \
             1057\u{a0}mm.",
            "Write +-\u{a0}1/8 (or +-\u{a0}3\u{a0}mm) behind a reading whose hook you could not see.",
        ),
        Units::Millimetre => (
            "Read to the nearest mark and write millimetres, 1057, or inches with the fraction and the unit, 41\u{a0}5/8\u{a0}in.",
            "Write +-\u{a0}3 (or +-\u{a0}1/8\u{a0}in) behind a reading whose hook you could not see.",
        ),
    };
    [
        "Take out what comes out. Scrape the corners clean.",
        "A corner is where the faces would meet, not the weld fillet and not the round of the steel.",
        "Hook one end, pull tight and straight; nothing may touch the tape on its way.",
        "If the case of the tape lies in the line, add the length printed on the case, and write down the sum.",
        write,
        "Let go and take each line a second time: \"again\". Type in both.",
        blind,
        "1 to 24 make a good set; all 28 where the tape can cross. If the roof edges are out of reach, do without 19 \
         to 22. Where no tape passes, leave the line out.",
    ]
}
