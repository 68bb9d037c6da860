//! Plain figures of the truck on the road, its charging and its panels.

use crate::document::figures::figures;

figures! {
    RoadFigure, RoadFigures, "the truck on the road";
    Rolling: "rolling_thousandths", "rolling resistance x 1000", "", 1..100, 11,
        "Crr in thousandths: 9 to 15 for radials on asphalt; a coast-down is better";
    DragArea: "drag_area_m2", "drag area CdA", "m2", 0..20, 1.1,
        "drag coefficient times frontal area, a pickup 1 to 1.3; a coast-down is better";
    Air: "air_kg_per_m3", "density of the air", "kg/m3", 0..2, 1.2,
        "1.2 near sea level, about a tenth less for every 1000 m";
    MassFactor: "mass_factor", "mass factor", "", 1..2, 1.05,
        "what has to be sped up over the mass: 1 and a little for wheels and motor, which turn";
    DriveEfficiency: "drive_percent", "drive, efficiency", "%", 10..100, 85,
        "from the pack to the wheels: inverter, motor, gearbox and axle together";
    Regen: "regen_percent", "braking energy returned", "%", 0..100, 0,
        "what comes back into the pack of the energy that braking takes from the wheels; 0 without";
    SteadyDraw: "steady_w", "steady draw", "W", 0..20_000, 300,
        "what draws on the pack all the time: converter for 12 V, pumps, lamps";
    CabinHeat: "heat_w", "cabin heat in winter", "W", 0..20_000, 2_500,
        "mean draw of the heater on a winter day, on top of the steady draw; 0 without one";
    ColdLeft: "cold_percent", "pack energy left in winter", "%", 10..100, 80,
        "what a cold pack still gives of its usable energy";
    UsableKwh: "usable_kwh", "usable energy", "kWh", 1..1_000, ,
        "empty for that of the pack as laid out, at its age and within its states of charge";
    Reserve: "reserve_percent", "kept in reserve", "%", 0..90, 10,
        "share of the usable energy that you do not plan to drive on, on top of what used down to leaves: 10 to 90 % of the charge and 10 % of that in reserve are 72 % driven on";
    CityShare: "city_percent", "city driving", "%", 0..100, 55,
        "share of the miles that is city driving; the rest is country road";
    Grade: "grade_percent", "steady grade", "%", 0..30, ,
        "rise in 100 of run that steady speeds are told for; empty for the level";
    MotorNm: "motor_nm", "motor, peak torque", "Nm", 1..10_000, ,
        "what the motor gives at its shaft for a short time, from standstill to its base speed, from its plate";
    MotorKw: "motor_kw", "motor, peak power", "kW", 1..2_000, ,
        "what the motor gives at its shaft for a short time, from its plate";
    FinalDrive: "final_drive", "final drive", "", 1..20, ,
        "turns of the propshaft for one of the wheel, as 3.73: count them, or read the tag of the axle";
    BaseRpm: "base_rpm", "motor, base speed", "rpm", 1..100_000, ,
        "where its full power begins; below it a motor gives full torque only";
    BestRpm: "best_rpm", "motor, best speed", "rpm", 1..100_000, ,
        "where it wastes least, from its data; empty for as slow as the base speed allows";
    LimitRpm: "limit_rpm", "motor, limit", "rpm", 1..100_000, ,
        "the fastest it may turn";
    Circuit: "circuit_amps", "charge line, breaker", "A", 1..1_000, ,
        "rating of the circuit that the charger hangs on";
    ChargeFrom: "charge_from_percent", "charge from", "%", 0..99, ,
        "state of charge when you plug in; empty for the one that you drive down to";
    ChargeTo: "charge_to_percent", "charge to", "%", 1..100, ,
        "state of charge when you unplug; empty for the one that you charge up to";
    TaperKnee: "taper_percent", "power falls beyond", "%", 0..99, ,
        "state of charge from which the charger lets its power fall; empty for full power to the end";
    TaperLeft: "taper_left_percent", "power left when full", "%", 1..100, 20,
        "share of the power that is left at full charge, when it falls at all";
    PanelWatts: "panel_w", "panel, watts", "W", 1..10_000, ,
        "on the plate of one panel";
    PanelVolts: "panel_volts", "panel, volts", "V", 1..1_000, ,
        "of one panel at full power, Vmp on its plate";
    PanelOpenVolts: "panel_open_volts", "panel, open volts", "V", 1..1_500, ,
        "of one panel without load on the coldest day: Voc on its plate and a tenth more";
    Shade: "shade_percent", "shade on the panels", "%", 0..100, 3,
        "share of the sun that trees, walls and the cab keep off; 3 is an open field";
    StepUp: "step_up_percent", "step-up stage, efficiency", "%", 10..100, 90,
        "from panel volts to pack volts, power out over power in";
    Latitude: "latitude_deg", "latitude", "degrees", -66..66, ,
        "north above zero; entered, it wins over the place, and the sun is an estimate";
    Clearness: "clearness_percent", "clearness of the sky", "%", 5..90, 50,
        "share of the sun outside the air that reaches the ground: 30 in a dull winter, 65 in a dry summer";
}
