//! What each value of the truck is called and what it takes.

use geometry::Axis;
use truck::mass::wheel::Wheel;

use super::TruckField as F;

/// Label and help of a field.
#[expect(clippy::too_many_lines, reason = "a table, one row for each field")]
pub(in crate::field) const fn row(field: F) -> (&'static str, &'static str) {
    match field {
        F::Wheelbase => ("wheelbase", "from the front hub to the rear hub"),
        F::FrontTrack => (
            "front track",
            "from tyre middle to tyre middle; only the wheels' shares rest on it",
        ),
        F::RearTrack => (
            "rear track",
            "from tyre middle to tyre middle; of twin wheels, from the middle of each pair",
        ),
        F::FrontBefore => (
            "front axle, before",
            "what the scale shows of it before anything comes out, kg or lb",
        ),
        F::RearBefore => (
            "rear axle, before",
            "what the scale shows of it before anything comes out, kg or lb",
        ),
        F::WheelBefore(wheel) => (
            match wheel {
                Wheel::FrontLeft => "front left wheel, before",
                Wheel::FrontRight => "front right wheel, before",
                Wheel::RearLeft => "rear left wheel, before",
                Wheel::RearRight => "rear right wheel, before",
            },
            "what a scale shows under it, kg or lb; both wheels of an axle stand for the axle, and tell how it leans",
        ),
        F::BeforeBy => (
            "known by",
            "weighbridge, or calculated when nobody weighed it: a brochure is not this truck",
        ),
        F::ReadingOff => (
            "axle reading, give or take",
            "how far one axle's reading may be off, either way: half to one step of the scale",
        ),
        F::WeighedWith => (
            "weighed with",
            "tank level and who was aboard; who was aboard also comes out as a component",
        ),
        F::CentreHeight => (
            "centre of gravity, height",
            "above the ground, before the work; weighing with the rear wheels raised tells it",
        ),
        F::RaisedFront => (
            "front axle, rear raised",
            "what the scale shows of it with the rear wheels raised and all springs blocked, kg or lb",
        ),
        F::RaisedBy => (
            "rear wheels raised by",
            "the more the better: at 20 in, 5 lb of the scale are about an inch of height",
        ),
        F::GrossRating => (
            "gross rating",
            "on the plate: what the whole truck may weigh, laden, kg or lb",
        ),
        F::FrontRating => ("front axle rating", "on the plate, kg or lb"),
        F::RearRating => ("rear axle rating", "on the plate, kg or lb"),
        F::FrontTyre => (
            "one front tyre",
            "load index on its side wall, the figure for a single tyre, as 112; or its load, as 1120 kg",
        ),
        F::RearTyre => (
            "one rear tyre",
            "load index on its side wall, as 112; of twin wheels the second figure; or its load",
        ),
        F::TyreSort => (
            "tyres are for",
            "a passenger-car tyre counts for a tenth less on a truck: its load over 1.10",
        ),
        F::FrontWheels => ("front rims, both", "what they may carry together, stamped in each rim"),
        F::RearWheels => (
            "rear rims, together",
            "what they may carry together, stamped in each rim",
        ),
        F::Person => ("one person", "kg or lb"),
        F::SeatsAt => ("seats", "middle of those who sit, behind the front axle"),
        F::Cargo => ("cargo", "what you carry as a rule, kg or lb; empty for none"),
        F::CargoAt => (
            "cargo, middle",
            "behind the front axle; what is left for payload is told for this place",
        ),
        F::LeastPayload => (
            "payload wanted, at least",
            "what is to be left with people and cargo aboard, kg or lb",
        ),
        F::FrontAfter => (
            "front axle, after",
            "what the scale shows when the work is done, nobody aboard; with both axles weighed, limits and payload rest on it",
        ),
        F::RearAfter => (
            "rear axle, after",
            "what the scale shows when the work is done, nobody aboard",
        ),
        F::WheelAfter(wheel) => (
            match wheel {
                Wheel::FrontLeft => "front left wheel, after",
                Wheel::FrontRight => "front right wheel, after",
                Wheel::RearLeft => "rear left wheel, after",
                Wheel::RearRight => "rear right wheel, after",
            },
            "what a scale shows under it when the work is done, nobody aboard; both wheels of an axle stand for the axle",
        ),
        F::FrontRadius => (
            "front hub, height",
            "from the ground to the hub, tyre loaded and pumped up",
        ),
        F::RearRadius => (
            "rear hub, height",
            "from the ground to the hub, tyre loaded and pumped up",
        ),
        F::FrontOverhang => (
            "front overhang",
            "from the front axle to the foremost low edge: the bumper's or the spoiler's",
        ),
        F::FrontLow => ("front overhang, height", "of that edge above the ground"),
        F::RearOverhang => (
            "rear overhang",
            "from the rear axle to the rearmost low edge: bumper, hitch, tail pipe",
        ),
        F::RearLow => ("rear overhang, height", "of that edge above the ground"),
        F::FrameHeight => (
            "frame, height",
            "from the ground to the underside of the frame's lowest member between the axles",
        ),
        F::FrontSettled => (
            "front springs, by heights",
            "what was put on the axle, and the height of a mark on the frame over it before and with that: 120 kg; 24 1/2; 23 1/4",
        ),
        F::RearSettled => (
            "rear springs, by heights",
            "what was put on the axle, and the height of a mark on the frame over it before and with that: 300 kg; 26; 23 3/4",
        ),
        F::Figure(figure) => (figure.row().label, figure.row().help),
        F::CavityAt(_) => (
            "place in the truck",
            "its front-left-bottom corner, three lengths: behind the front axle; right of the middle, left below zero; above the ground, as 40; -36 1/2; 18",
        ),
        F::ComponentName(_) => (
            "component",
            "what comes out or goes in: engine, tank, exhaust; motor, controller",
        ),
        F::ComponentWay(_) => ("way", "out: it was there when the truck was weighed; in: it goes in"),
        F::ComponentMass(_) => ("mass", "kg or lb: put it on a scale as it comes out"),
        F::ComponentAt(_, axis) => (
            match axis {
                Axis::X => "middle, rearward",
                Axis::Y => "middle, right",
                Axis::Z => "middle, up",
            },
            match axis {
                Axis::X => "its middle behind the front axle; before the axle below zero",
                Axis::Y => "its middle right of the centre of the truck; left below zero",
                Axis::Z => "its middle above the ground",
            },
        ),
        F::PointName(_) => (
            "low point",
            "what hangs low: gearbox, exhaust, tank; differential, axle tube, spring plates",
        ),
        F::PointAlong(_) => ("behind the front axle", "before the axle below zero"),
        F::PointTo(_) => (
            "flat as far as",
            "the other end of a flat underside, behind the front axle, as a tank's: a crest may touch between its ends; open for a point",
        ),
        F::PointHeight(_) => ("above the ground", "of its lowest spot, the truck empty"),
        F::PointRidesOn(_) => (
            "rides on",
            "on the frame it sinks with the springs; on an axle it does not: only the tyres give, where their rate is entered",
        ),
        F::CarriedName(_) => (
            "load",
            "a person or a thing that is aboard at times: driver, mate, toolbox, drums",
        ),
        F::CarriedSets(_) => (
            "in the sets",
            "the sets of loads it is aboard in, with commas between: crew and tools, full",
        ),
        F::CarriedMass(_) => ("load, mass", "kg or lb"),
        F::CarriedAlong(_) => ("load, middle", "behind the front axle; before it below zero"),
    }
}
