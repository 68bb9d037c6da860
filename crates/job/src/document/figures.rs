//! Plain figures that a person may enter: one table says what each is called, what it takes, and what holds while nobody
//! entered it. Here those of the pack's electrics; the truck has tables of its own.

use serde::de::Error as _;
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serializer};

use super::quantity::{thousandths_text, to_thousandths};
use crate::evaluate::bolt;

/// What is known of one figure.
pub(crate) struct FigureRow {
    /// Its key in the file, with the unit in it.
    pub(crate) key: &'static str,
    pub(crate) label: &'static str,
    pub(crate) help: &'static str,
    /// The unit behind the number; empty for a plain number.
    pub(crate) unit: &'static str,
    /// The least and the most it may be, in thousandths.
    pub(crate) range: (i64, i64),
    /// What holds while nothing was entered, in thousandths; `None` when nothing does.
    pub(crate) default: Option<i64>,
    /// Which numbers of the range it takes.
    pub(crate) grain: Grain,
}

/// Which numbers of its range a figure takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Grain {
    /// All of them, to the thousandth.
    Any,
    /// Whole ones: it counts something.
    Whole,
    /// Even ones: it counts what comes in pairs.
    Even,
    /// Those that name a class or a grade of mount bolts.
    Class,
    /// From the lowest class of studs there is.
    Studs,
}

impl Grain {
    /// The thousandths from one number that it takes to the next.
    const fn step(self) -> i64 {
        match self {
            Self::Any | Self::Class | Self::Studs => 1,
            Self::Whole => 1000,
            Self::Even => 2000,
        }
    }
}

/// The default in thousandths, as the table writes it: a number with at most three decimals; nothing for none.
pub(crate) const fn default_of(text: &str) -> Option<i64> {
    let text = text.as_bytes();
    let (mut n, mut decimals, mut at) = (0, None, 0);
    while at < text.len() {
        match (text[at], decimals) {
            (b'.', None) => decimals = Some(0),
            (b'_', _) => {}
            (digit, _) => {
                n = n * 10 + (digit - b'0') as i64;
                if let Some(count) = decimals {
                    decimals = Some(count + 1);
                }
            }
        }
        at += 1;
    }
    let scale = match decimals {
        None | Some(0) => 1000,
        Some(1) => 100,
        Some(2) => 10,
        Some(_) => 1,
    };
    if text.is_empty() { None } else { Some(n * scale) }
}

/// Makes an enum that names figures, one a row of a table, and the set of those that were entered:
/// `Name, Set, "what they are of"; Variant: "key", "label", "unit", least..most, default, "help"; ...`
/// One that counts something has `, Whole` or `, Even` behind its help, one that names a class `, Class` or `, Studs`.
macro_rules! figures {
    ($figure:ident, $set:ident, $of:literal; $($name:ident: $key:literal, $label:literal, $unit:literal, $least:literal..$most:literal, $($default:literal)?, $help:literal $(, $grain:ident)?;)*) => {
        #[doc = concat!("Names one figure of ", $of, ".")]
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[expect(missing_docs, reason = "the label and help of each say what it is")]
        pub enum $figure { $($name,)* }

        impl $figure {
            /// All of them, in the order of the table.
            pub const ALL: [Self; [$(stringify!($name)),*].len()] = [$(Self::$name,)*];

            const ROWS: [$crate::document::figures::FigureRow; Self::ALL.len()] = [$($crate::document::figures::FigureRow {
                key: $key, label: $label, help: $help, unit: $unit,
                range: ($least * 1000, $most * 1000),
                default: $crate::document::figures::default_of(stringify!($($default)?)),
                grain: $crate::document::figures::figures!(@ $($grain)?),
            },)*];

            pub(crate) const fn row(self) -> &'static $crate::document::figures::FigureRow {
                &Self::ROWS[self as usize]
            }

            /// What it is called.
            pub const fn label(self) -> &'static str {
                self.row().label
            }

            /// The unit behind its number; empty for a plain number.
            pub const fn unit(self) -> &'static str {
                self.row().unit
            }
        }

        #[doc = concat!("The figures of ", $of, " that were entered, in thousandths.")]
        #[derive(Clone, Debug, PartialEq, Eq)]
        pub struct $set([Option<i64>; $figure::ALL.len()]);

        impl Default for $set {
            fn default() -> Self {
                Self([None; $figure::ALL.len()])
            }
        }

        impl $set {
            /// Whether none was entered.
            pub fn is_empty(&self) -> bool {
                self.0.iter().all(Option::is_none)
            }

            /// The figure as entered, else its default.
            #[expect(clippy::cast_precision_loss, reason = "within the ranges of the table")]
            pub fn get(&self, figure: $figure) -> Option<f64> {
                self.0[figure as usize]
                    .or(figure.row().default)
                    .map(|n| n as f64 / 1000.0)
            }

            /// The figure as entered, else its default, for those that have one; zero for the others.
            pub(crate) fn sure(&self, figure: $figure) -> f64 {
                self.get(figure).unwrap_or(0.0)
            }

            /// Whether the person entered it.
            pub const fn is_given(&self, figure: $figure) -> bool {
                self.0[figure as usize].is_some()
            }

            pub(crate) const fn slot(&mut self, figure: $figure) -> &mut Option<i64> {
                &mut self.0[figure as usize]
            }
        }

        impl serde::Serialize for $set {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                $crate::document::figures::write(&$figure::ROWS, &self.0, serializer)
            }
        }

        impl<'de> serde::Deserialize<'de> for $set {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let mut figures = Self::default();
                $crate::document::figures::read(&$figure::ROWS, &mut figures.0, deserializer)?;
                Ok(figures)
            }
        }

        #[cfg(test)]
        impl schemars::JsonSchema for $set {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($set).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                $crate::document::figures::schema(&$figure::ROWS)
            }
        }
    };
    (@) => { $crate::document::figures::Grain::Any };
    (@ $grain:ident) => { $crate::document::figures::Grain::$grain };
}

pub(crate) use figures;

figures! {
    Figure, Figures, "the pack's electrics";
    DriveCapacitors: "drive_uf", "drive, capacitors", "uF", 0..100_000, ,
        "input capacitors of the drive, from its data: what pre-charge has to fill";
    DriveRegen: "drive_regen_amps", "drive, amps it returns", "A", 0..10_000, ,
        "the most battery amps it returns when braking";
    CruiseKw: "cruise_kw", "power at cruise", "kW", 0..1_000, 15,
        "what the drive draws at a steady road speed";
    ConverterMin: "converter_min_volts", "12 V converter, least volts", "V", 0..2_000, ,
        "least input volts of the converter that feeds the truck's 12 V";
    ConverterMax: "converter_max_volts", "12 V converter, most volts", "V", 0..2_000, ,
        "most input volts of that converter";
    ChargerAmps: "charger_amps", "charger, most amps", "A", 0..10_000, ,
        "the most amps it gives the pack";
    LineVolts: "line_volts", "charge line, volts", "V", 1..1_000, 240,
        "ac volts of the supply that the charger hangs on";
    LineAmps: "line_amps", "charge line, amps", "A", 1..1_000, 16,
        "amps the charger may draw from that supply for long";
    ChargerPercent: "charger_percent", "charger, efficiency", "%", 1..100, 92,
        "how much of what it draws reaches the pack";
    SocLow: "soc_low_percent", "used down to", "%", 0..100, 10,
        "state of charge where you stop driving, for the cells' sake; the road's reserve is taken off what is above it";
    SocHigh: "soc_high_percent", "charged up to", "%", 0..100, 90,
        "state of charge where you stop charging";
    Health: "health_percent", "state of health", "%", 1..120, 100,
        "what is left of the amp-hours entered for a module; measured units win over it";
    ColdTimes: "cold_times", "resistance when cold", "times", 1..20, 3,
        "by how much the resistance is multiplied on the coldest morning: about 2 at 0 C, 3 at -10 C, 4 at -20 C (from memory)";
    Ambient: "ambient_c", "air round the cables", "C", -60..80, 40,
        "the warmest air that the cables lie in, Celsius";
    Altitude: "altitude_m", "highest road", "m", 0..10_000, 2_000,
        "clearances through air grow above 2000 m";
    CableOutside: "cable_outside_mm", "cable, outside", "mm", 1..100, ,
        "outside diameter with insulation: measure it; empty for a typical one";
    BendTimes: "bend_times", "cable, bend radius", "times", 1..40, 4,
        "least bend radius as a multiple of the outside diameter, from the cable maker";
    LeadLength: "lead_m", "leads to the drive", "m", 0..50, 2,
        "one way from the pack to the drive";
    CableSpare: "cable_spare_mm", "cable, lugs and slack", "mm", 0..2_000, 100,
        "added to each cable for its lugs and slack";
    LinkEnds: "link_ends_mm", "bar, beyond its two holes", "mm", 0..500, ,
        "both ends together, from the middles of the holes to the ends of the bar; empty for the bar's width";
    CableMore: "cable_more_percent", "cable, for cutting", "%", 0..100, 10,
        "bought beyond what is cut: ends, and a lug that has to be made again (common practice, no source)";
    LinkStock: "link_stock_mm", "link bar, as bought", "mm", 100..12_000, 1_000,
        "the length that link bars are bought in (assumed): ask the supplier what is on sale";
    JointResistance: "joint_uohm", "resistance of a joint", "uohm", 0..10_000, 40,
        "of one bolted joint: measure a few with a low-ohm meter";
    CableAmps: "cable_amps", "cable, maker's amps", "A", 1..10_000, ,
        "what the cable's maker allows for long as you lay it; wins over the table";
    InsulationTemp: "insulation_c", "cable insulation, for", "C", 60..200, 90,
        "what the cable's insulation stands for long, printed on it: 70 or 90 Celsius";
    Stud: "stud_mm", "terminal stud", "mm", 1..30, 6,
        "thread of the modules' terminals: sets the holes in bars and lugs";
    Torque: "torque_nm", "terminal torque", "Nm", 0..200, ,
        "from the module's maker; printed on the wiring schedule to tick";
    FuseAmps: "fuse_amps", "main fuse", "A", 1..10_000, ,
        "its rating; empty for the smallest that carries the drive's continuous amps";
    FuseVolts: "fuse_volts_dc", "main fuse, dc volts", "V", 1..5_000, ,
        "its dc rating; an ac rating does not count";
    FuseKa: "fuse_ka", "main fuse, breaks", "kA", 0..1_000, ,
        "its breaking capacity at dc";
    FuseLoad: "fuse_load_percent", "fuse loaded to, at most", "%", 10..100, 80,
        "continuous amps as a share of the fuse's rating";
    FuseWarm: "fuse_warm_percent", "fuse, warm box", "%", 10..100, 100,
        "what is left of its rating in a warm box, from its data";
    StringFuse: "string_fuse_amps", "string fuse", "A", 1..10_000, ,
        "rating of the fuse in each string, when strings are in parallel";
    ContactorAmps: "contactor_amps", "contactor, amps", "A", 1..10_000, ,
        "what it carries for long";
    ContactorVolts: "contactor_volts", "contactor, dc volts", "V", 1..5_000, ,
        "the dc volts it breaks";
    PrechargeOhms: "precharge_ohms", "pre-charge resistor", "ohm", 0..100_000, ,
        "empty for the one that fills the capacitors in the time asked";
    PrechargeSeconds: "precharge_s", "pre-charge within", "s", 0..60, 1,
        "how long filling the capacitors may take";
    PrechargeLevel: "precharge_percent", "pre-charge up to", "%", 50..99, 95,
        "share of the pack's volts at which the main contactor may close";
    BleedOhms: "bleed_ohms", "bleed resistor", "ohm", 0..10_000_000, ,
        "across the drive's capacitors; empty for the largest that is quick enough";
    BleedSeconds: "bleed_s", "bled to 60 V within", "s", 1..600, 60,
        "how soon the capacitors are to be at 60 V after switching off";
    LoopInductance: "loop_uh", "loop inductance", "uH", 0..10_000, 20,
        "of the pack with its cables: sets how fast a short circuit's current rises";
    YCapacitance: "y_uf", "capacitors to chassis", "uF", 0..1_000, ,
        "all capacitors from one pole to the chassis together, in drive, charger and converter";
    OhmsPerVolt: "ohms_per_volt", "insulation asked for", "ohm/V", 1..10_000, 500,
        "500 where dc and ac are joined, as in a drive; 100 for dc alone";
    Pollution: "pollution_degree", "pollution degree", "", 2..3, 3,
        "3 under a truck bed; 2 inside a sealed, dry box", Whole;
    MaterialGroup: "material_group", "insulator's group", "", 1..3, 3,
        "material group of the insulation by its tracking index: 1, 2 or 3; 3 when not known", Whole;
    Impulse: "impulse_kv", "impulse volts", "kV", 1..8, 4,
        "rated impulse voltage of the circuit: 1.5, 2.5, 4, 6 or 8";
    JoinApart: "join_apart_volts", "apart when joined, at most", "V", 0..100, ,
        "how far apart the volts of two units or strings may be when they are joined in parallel";
    DisconnectAfter: "disconnect_after", "service disconnect after", "in series", 1..4_096, ,
        "modules (or groups) on its negative side; empty for the middle", Whole;
    IsolationPack: "isolation_pack_volts", "measured: pack volts", "V", 0..2_000, ,
        "pack volts while the insulation is measured";
    IsolationMinus: "isolation_minus_volts", "measured: minus to chassis", "V", 0..2_000, ,
        "with a meter of 10 Mohm or more";
    IsolationPlus: "isolation_plus_volts", "measured: plus to chassis", "V", 0..2_000, ,
        "with the same meter";
    IsolationResistor: "isolation_kohm", "measured with a resistor of", "kohm", 0..100_000, ,
        "known resistor from the pole with the larger reading to the chassis";
    IsolationAfter: "isolation_after_volts", "measured: volts with it", "V", 0..2_000, ,
        "the larger of the two read again, the resistor in place";
    BondMillivolts: "bond_mv", "measured: bond, volts", "mV", 0..100_000, ,
        "millivolts from box to chassis while the amps below flow";
    BondAmps: "bond_amps", "measured: bond, amps", "A", 0..1_000, ,
        "test amps from box to chassis: 0.2 A or more";
    MountBolts: "mount_bolts", "mount bolts, each box", "", 4..64, 4,
        "bolts that hold one box to the truck; each is taken to bear an even share", Whole;
    MountBolt: "mount_bolt_mm", "mount bolts, thread", "mm", 5..16, 10,
        "M5 to M16, or 1/4-20 to 1/2-13: a coarse thread; between two metric sizes the smaller is taken";
    MountGrade: "mount_grade", "mount bolts, class", "", 5..13, 8.8,
        "8.8, 10.9 or 12.9 for metric threads, grade 5 or grade 8 for inch threads (SAE J429), as the head is marked", Class;
    HoldDownBolts: "hold_down_bolts", "hold-down bolts, each box", "", 1..64, ,
        "of the same thread and class, when others than the mount bolts keep the box from lifting off; empty when those do", Whole;
    HoldDownClass: "hold_down_class", "hold-down studs, class", "", 4..12, 4.6,
        "of the studs or rods at the ends of hold-down bars: 4.6 for plain studding, 8.8 or 10.9 where it is marked so; between two the lower is taken", Studs;
    CrashFront: "crash_front_g", "load factor, front", "g", 0..100, ,
        "how many times its weight a box pulls forwards; empty for the harshest of the sets known";
    CrashRear: "crash_rear_g", "load factor, rear", "g", 0..100, ,
        "how many times its weight it pulls rearwards; empty for the harshest of the sets known";
    CrashSide: "crash_side_g", "load factor, side", "g", 0..100, ,
        "how many times its weight it pulls to either side; empty for the harshest of the sets known";
    CrashUp: "crash_up_g", "load factor, up", "g", 0..100, ,
        "how many times its weight it pulls up, off the frame; empty for the harshest of the sets known";
    CrashDown: "crash_down_g", "load factor, down", "g", 0..100, ,
        "how many times their weight the modules press on the floor; empty for the harshest of the sets known";
    BracketsPerSide: "brackets_per_side", "brackets on each side", "", 1..16, 2,
        "how many brackets carry the box at each of two sides (common practice, no source)", Whole;
    BracketBolts: "bracket_bolts", "bolts of each bracket", "", 1..8, 1,
        "bolts of the thread and class above in each bracket", Whole;
    HoldDownBars: "hold_down_bars", "hold-down bars", "", 1..32, ,
        "bars over the modules of a box; empty for one over each row, two over rows longer than 400 mm", Whole;
    TieRods: "tie_rods", "tie rods of a stack", "", 2..4, 4,
        "2 in the middle of the shorter edges of the end plates, or 4 in their corners", Even;
    LidLoad: "lid_kg", "load on the lid", "kg", 0..1_000, 75,
        "spread evenly over the lid: a person who kneels on it (common practice, no source)";
    LidStiffeners: "lid_stiffeners", "lid stiffeners, how many", "", 1..16, ,
        "angles across the lid; empty for the fewest with which it gives no more than told", Whole;
    IpSolids: "ip_solids", "IP code wanted, first digit", "", 0..6, ,
        "what solid things must not get in: 5 keeps harmful dust out, 6 all of it; empty when no code is wanted";
    IpWater: "ip_water", "IP code wanted, second digit", "", 0..9, ,
        "what water must do no harm: 5 and 6 jets, 7 and 8 under water, 9 hot jets; 7 and 8 do not imply 5 and 6";
    Wading: "wading_mm", "wading depth", "mm", 0..3_000, ,
        "how deep the water is that the truck goes through, above the ground, wheels as they stand";
    EyeRated: "eye_rated_kg", "lifting eye, rated for", "kg", 1..100_000, ,
        "its working load limit at the angle it is pulled at, stamped on it or from its maker";
    RailThick: "rail_thickness_mm", "frame rail, thickness", "mm", 1..30, ,
        "of the web or flange that mount bolts go through: sets their length";
    Coverage: "coverage_m2_per_kg", "paint or powder, covers", "m2/kg", 1..50, 6,
        "what a kilogram coats with what is lost beside it (common practice, no source: powder of 80 um, a quarter lost)";
    LidWarmed: "closed_warms_k", "closed box, warms by", "K", 0..100, 40,
        "from closing to the hottest day, a black box in the sun, charged: what its breather lets out, and what its air pushes on the lid without one (common practice, no source)";
    LidClimbs: "closed_climbs_m", "closed box, climbs", "m", 0..8_000, 2_000,
        "from where it is closed to the highest road: what the thinner air outside leaves pushing on the lid";
    RivetBears: "rivet_shear_mpa", "rivet, shear allowed", "MPa", 1..400, 45,
        "over the section of its hole, with what you keep in hand: the newtons its maker prints by 0.785 d2; 45 for a soft blind rivet of aluminium (from memory)";
    BondBears: "bond_shear_mpa", "adhesive, shear allowed", "MPa", 0..30, 2,
        "for good, over all that panel and angle share: a tenth of what the maker prints for lap shear (common practice, no source)";
    FloorRails: "floor_rails", "floor rails, how many", "", 1..16, 2,
        "angles under the floor of a box, evenly spread unless their places are told", Whole;
    FloorSpans: "floor_supports", "floor, spans along it", "", 1..64, 1,
        "how many equal spans frame members under it divide the floor's longer side into; rails drawn across it count instead", Whole;
    LiftAngle: "lift_angle_deg", "sling leg, from upright", "degrees", 0..60, 45,
        "angle of a leg of the lifting sling from upright; beyond 60 use longer legs";
    LiftJerk: "lift_jerk", "sling leg, jerk", "", 1..4, 1.3,
        "how many times its pull at rest a leg gets while the hoist picks the box up: 1.3 for a slow hoist (EN 13001-2, class HC4 at 8 m/min, from memory)";
}

/// Class 4.6 in thousandths: studs of a lower one are not made.
const LEAST_STUD: i64 = 4_600;

impl FigureRow {
    /// Whether it takes a number in thousandths.
    #[expect(clippy::cast_precision_loss, reason = "within the range of the figure")]
    pub(crate) fn takes(&self, thousandths: i64) -> bool {
        let (least, most) = self.range;
        let named = || bolt::grade_by_figure(thousandths as f64 / 1000.0).is_some();
        (least..=most).contains(&thousandths)
            && thousandths % self.grain.step() == 0
            && (self.grain != Grain::Class || named())
            && (self.grain != Grain::Studs || thousandths >= LEAST_STUD)
    }

    /// What it takes, in words: `10 to 90 %`, `a whole number, 1 to 16`, `2 or 4`.
    pub(crate) fn allowed(&self) -> String {
        let (least, most) = self.range;
        let range = format!("{} to {}", thousandths_text(least), self.text(most));
        match self.grain {
            Grain::Any => range,
            Grain::Whole => format!("a whole number, {range}"),
            Grain::Class => bolt::GRADES.to_owned(),
            Grain::Studs => format!(
                "a class from {}, plain studding, to {}",
                thousandths_text(LEAST_STUD),
                self.text(most)
            ),
            Grain::Even => {
                let step = Grain::Even.step();
                let each: Vec<String> = (least / step..=most / step)
                    .map(|n| thousandths_text(n * step))
                    .collect();
                each.join(" or ")
            }
        }
    }

    /// A value in thousandths with its unit, as `15 kW`.
    pub(crate) fn text(&self, thousandths: i64) -> String {
        format!("{} {}", thousandths_text(thousandths), self.unit)
            .trim_end()
            .to_owned()
    }
}

/// Writes what was entered, each under its key.
#[expect(clippy::cast_precision_loss, reason = "within the ranges of the table")]
pub(crate) fn write<S: Serializer>(
    rows: &[FigureRow],
    values: &[Option<i64>],
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let mut map = serializer.serialize_map(None)?;
    for (row, value) in rows.iter().zip(values) {
        match *value {
            None => {}
            Some(n) if n % 1000 == 0 => map.serialize_entry(row.key, &(n / 1000))?,
            Some(n) => map.serialize_entry(row.key, &(n as f64 / 1000.0))?,
        }
    }
    map.end()
}

/// Keys of older files, and the figure that says it now.
const RETIRED: [(&str, &str); 1] = [("warms_k", "closed_warms_k")];

/// Reads what was entered, each within its range; under a key of older files too.
pub(crate) fn read<'de, D: Deserializer<'de>>(
    rows: &[FigureRow],
    values: &mut [Option<i64>],
    deserializer: D,
) -> Result<(), D::Error> {
    let map = std::collections::BTreeMap::<String, f64>::deserialize(deserializer)?;
    for (key, value) in map {
        let now = RETIRED.iter().find(|(old, _)| *old == key).map(|&(_, new)| new);
        let key = now.filter(|new| rows.iter().any(|row| row.key == *new)).unwrap_or(&key);
        let at = rows
            .iter()
            .position(|row| row.key == key)
            .ok_or_else(|| D::Error::custom(format!("unknown field `{key}`")))?;
        let n = to_thousandths(value).map_err(|why| D::Error::custom(format!("{key} {why}")))?;
        if !rows[at].takes(n) {
            let (is, may_be) = (rows[at].text(n), rows[at].allowed());
            return Err(D::Error::custom(format!("{key} is {is}; it may be {may_be}")));
        }
        // What an older file said of one thing holds for two now, of which the other had its default, or its own entry: the
        // higher counts, for both push the harder the more it warms.
        let other = values[at].or(now.and(rows[at].default));
        values[at] = Some(other.map_or(n, |other| n.max(other)));
    }
    Ok(())
}

#[cfg(test)]
pub(crate) fn schema(rows: &[FigureRow]) -> schemars::Schema {
    let properties: serde_json::Map<String, serde_json::Value> = rows
        .iter()
        .map(|row| {
            let text = format!("{}: {}", row.label, row.help);
            let kind = if row.grain.step() == 1 { "number" } else { "integer" };
            let entry = serde_json::json!({ "type": kind, "description": text });
            (row.key.to_owned(), entry)
        })
        .collect();
    let mut properties = properties;
    for (old, new) in RETIRED.iter().filter(|(_, new)| rows.iter().any(|row| row.key == *new)) {
        let text = format!("Of older files: read as {new}; where both stand, the higher counts.");
        let entry = serde_json::json!({ "type": "number", "deprecated": true, "description": text });
        properties.insert((*old).to_owned(), entry);
    }
    schemars::json_schema!({ "type": "object", "properties": properties, "additionalProperties": false })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_default_is_within_its_range_and_every_key_its_own() {
        let mut keys: Vec<&str> = Vec::new();
        for row in Figure::ALL.map(Figure::row) {
            assert!(row.default.is_none_or(|n| row.takes(n)), "{}", row.key);
            keys.push(row.key);
        }
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), Figure::ALL.len());
    }

    #[test]
    fn a_count_takes_no_share_of_a_thing() {
        let row = Figure::BracketsPerSide.row();
        assert_eq!(
            [1_000, 2_500, 3_000, 17_000].map(|n| row.takes(n)),
            [true, false, true, false]
        );
        assert_eq!(row.allowed(), "a whole number, 1 to 16");
        let row = Figure::TieRods.row();
        assert_eq!(
            [2_000, 3_000, 4_000, 6_000].map(|n| row.takes(n)),
            [true, false, true, false]
        );
        assert_eq!(row.allowed(), "2 or 4");
        let row = Figure::MountGrade.row();
        assert_eq!(
            [5_000, 5_800, 8_000, 8_800, 9_800, 10_000, 12_900].map(|n| row.takes(n)),
            [true, false, true, true, false, false, true]
        );
    }

    #[test]
    fn how_much_a_box_warms_is_read_from_either_key_of_older_files() {
        let read = |text: &str| serde_json::from_str::<Figures>(text).unwrap();
        for (text, kelvin) in [
            (r#"{ "warms_k": 25 }"#, 40.0),
            (r#"{ "warms_k": 45 }"#, 45.0),
            (r#"{ "closed_warms_k": 30 }"#, 30.0),
            (r#"{ "warms_k": 25, "closed_warms_k": 30 }"#, 30.0),
            (r#"{ "closed_warms_k": 25, "warms_k": 30 }"#, 30.0),
        ] {
            let figures = read(text);
            assert_eq!(figures.get(Figure::LidWarmed), Some(kelvin), "{text}");
            let written = serde_json::to_string(&figures).unwrap();
            assert!(!written.contains("\"warms_k\""), "{written}");
        }
        assert!(serde_json::from_str::<Figures>(r#"{ "warms_k": 101 }"#).is_err());
    }

    #[test]
    fn a_file_with_half_a_bracket_is_refused_in_words() {
        let refusal = |text: &str| serde_json::from_str::<Figures>(text).unwrap_err().to_string();
        let half = refusal(r#"{ "brackets_per_side": 2.5 }"#);
        assert!(
            half.contains("brackets_per_side is 2.5; it may be a whole number, 1 to 16"),
            "{half}"
        );
        let three = refusal(r#"{ "tie_rods": 3 }"#);
        assert!(three.contains("tie_rods is 3; it may be 2 or 4"), "{three}");
        let soft = refusal(r#"{ "hold_down_class": 4.5 }"#);
        let from = "hold_down_class is 4.5; it may be a class from 4.6, plain studding, to 12";
        assert!(soft.contains(from), "{soft}");
        let weak = refusal(r#"{ "mount_grade": 5.8 }"#);
        let allowed =
            "mount_grade is 5.8; it may be 8.8, 10.9 or 12.9 for metric threads, grade 5 or grade 8 for inch threads";
        assert!(weak.contains(allowed), "{weak}");
    }
}
