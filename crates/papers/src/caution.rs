//! What every paper warns of.

/// Short plain cautions, the gravest first; every paper and the program carry the same ones.
pub const fn cautions() -> &'static [&'static str] {
    &[
        "High-voltage dc kills, and a pack cannot be switched off: every module is live on the bench.",
        "Damaged or swollen modules do not go in: they burn, and the fire comes back hours or days later.",
        "A loaded box is heavy: lift it with machinery, never by hand over your feet.",
        "A badly mounted box kills in a crash: first-order sums replace no engineer.",
        "Local vehicle codes and licensed practice decide what may go on the road.",
        "Try a cardboard mock-up of each box in the real opening before steel is cut.",
    ]
}

/// What to heed before a hand goes under the truck.
pub(crate) const fn under_the_truck() -> [&'static str; 3] {
    [
        "The truck stands on stands on hard ground with its wheels chocked, never on a jack alone.",
        "Block whatever can drop, tilt or turn before you reach in: the bed, axles, shafts.",
        "Let exhaust and brakes cool; mind sharp edges and what drips into your eyes.",
    ]
}
