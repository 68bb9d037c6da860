//! Plain figures of the truck's masses and wheels.

use crate::document::figures::figures;

figures! {
    TruckFigure, TruckFigures, "the truck's masses and wheels";
    MassDoubt: "masses_percent", "masses, give or take", "%", 0..50, 5,
        "how far off the mass of each box and component may be; what you put on a scale is off by less";
    FrontTyres: "front_tyres", "front tyres", "", 2..4, 2,
        "tyres on the front axle", Whole;
    RearTyres: "rear_tyres", "rear tyres", "", 2..8, 2,
        "tyres on the rear axle: 4 for twin wheels", Whole;
    People: "people", "people aboard", "", 0..9, 1,
        "how many are counted as aboard when the limits are looked at", Whole;
    WantedRear: "wanted_rear_percent", "wanted on the rear axle", "%", 1..99, ,
        "share of the whole that the rear axle is to carry with nobody aboard; the page says what to move how far";
    LeastFront: "least_front_percent", "front axle, at least", "%", 1..60, 30,
        "least share of the whole for steering and braking, laden; from memory of body builders' guides: ask the maker";
    FrontSpring: "front_spring_n_per_mm", "front springs", "N/mm", 1..2_000, ,
        "both springs of the front axle together, and the tyres with them, N/mm or lb/in: 9.81 x kg put on, over mm sunk";
    RearSpring: "rear_spring_n_per_mm", "rear springs", "N/mm", 1..2_000, ,
        "both springs of the rear axle together, and the tyres with them, N/mm or lb/in: 9.81 x kg put on, over mm sunk";
    FrontTyreRate: "front_tyre_n_per_mm", "front tyres alone", "N/mm", 50..20_000, ,
        "all tyres of the axle together, N/mm or lb/in: 9.81 x kg put on, over mm that its hub sinks; what rides on the axle sinks so far";
    RearTyreRate: "rear_tyre_n_per_mm", "rear tyres alone", "N/mm", 50..20_000, ,
        "all tyres of the axle together, N/mm or lb/in: 9.81 x kg put on, over mm that its hub sinks; what rides on the axle sinks so far";
}
