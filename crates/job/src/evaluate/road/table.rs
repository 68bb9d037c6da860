//! The results in words and tables, in the person's units: screens, papers and the command line show these.

use tape::Units;
use truck::cycle::Band;
use truck::gear::Suits;
use truck::units::{M_PER_MILE, MPS_PER_MPH, N_PER_LBF};

use super::sun::{Sun, SunMonth, SunSeason};
use super::{Driven, RoadResult};
use crate::{Field, Figure, RoadField, RoadFigure};

/// A table to print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoadTable {
    /// What it tells.
    pub title: &'static str,
    /// A heading for each column.
    pub headings: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
    /// What has to be known of it.
    pub notes: Vec<String>,
}

const KMH_PER_MPS: f64 = 3.6;
const M_PER_KM: f64 = 1_000.0;

/// A speed: `55 mph` or `90 km/h`.
pub fn speed_words(units: Units, speed_mps: f64) -> String {
    match units {
        Units::Inch => format!("{:.0} mph", speed_mps / MPS_PER_MPH),
        Units::Millimetre => format!("{:.0} km/h", speed_mps * KMH_PER_MPS),
    }
}

/// A grade, rise over run: `on the level` or `up 3 %`.
pub fn grade_words(grade: f64) -> String {
    if grade > 0.0 {
        // Told as it was entered: a tenth of a percent takes watts.
        format!("up {} %", (grade * 100_000.0).round() / 1_000.0)
    } else {
        "on the level".to_owned()
    }
}

/// A distance on the road, rounded down: `138 mi` or `222 km`.
pub fn distance_words(units: Units, metres: f64) -> String {
    let (unit_m, name) = unit(units);
    // A whole figure is not to lose one for a hair of rounding.
    format!("{:.0} {name}", (metres / unit_m + 1e-9).floor())
}

/// A distance that is worked out and not relied on, to the nearest: `4.0 mi` below ten, `21 km` from there on.
fn near_distance_words(units: Units, metres: f64) -> String {
    let (unit_m, name) = unit(units);
    let figure = metres / unit_m;
    if figure < 9.95 {
        format!("{figure:.1} {name}")
    } else {
        format!("{figure:.0} {name}")
    }
}

/// Energy for the way: `267 Wh/mi` or `166 Wh/km`.
pub fn per_distance_words(units: Units, wh_per_mile: f64) -> String {
    let (unit_m, name) = unit(units);
    format!("{:.0} Wh/{name}", wh_per_mile / M_PER_MILE * unit_m)
}

const fn unit(units: Units) -> (f64, &'static str) {
    match units {
        Units::Inch => (M_PER_MILE, "mi"),
        Units::Millimetre => (M_PER_KM, "km"),
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// What energy for the way and range rest on.
fn of_drive(field: Field) -> bool {
    let Field::OfRoad(field) = field else {
        return false;
    };
    let not_of_it = matches!(
        field,
        RoadField::Cruise | RoadField::Top | RoadField::Figure(RoadFigure::TaperLeft)
    );
    !(not_of_it || of_sun(Field::OfRoad(field)))
}

fn of_share(field: Field) -> bool {
    matches!(
        field,
        Field::Figure(Figure::SocLow | Figure::SocHigh) | Field::OfRoad(RoadField::Figure(RoadFigure::Reserve))
    )
}

fn of_gears(field: Field) -> bool {
    field == Field::OfRoad(RoadField::Cruise)
}

fn of_line(field: Field) -> bool {
    matches!(
        field,
        Field::Figure(_) | Field::OfRoad(RoadField::Figure(RoadFigure::TaperLeft))
    )
}

fn of_sun(field: Field) -> bool {
    super::entries::OF_SUN.contains(&field)
}

impl RoadTable {
    /// The table as lines of at most `room` characters where its columns allow: columns as wide as their widest cell.
    /// Where they do not, each row is told over as many lines as it takes, with its headings.
    pub fn lines(&self, room: usize) -> Vec<String> {
        let count = |cell: &String| cell.chars().count();
        let widths: Vec<usize> = self
            .headings
            .iter()
            .enumerate()
            .map(|(column, heading)| {
                let cells = self.rows.iter().filter_map(|row| row.get(column)).map(count);
                cells.chain([count(heading)]).max().unwrap_or_default()
            })
            .collect();
        let line = |cells: &[String]| {
            let parts = cells
                .iter()
                .zip(&widths)
                .enumerate()
                .map(|(column, (cell, width))| match column {
                    0 => format!("{cell:<width$}"),
                    _ => format!("{cell:>width$}"),
                });
            parts.collect::<Vec<_>>().join("  ").trim_end().to_owned()
        };
        let whole = widths.iter().sum::<usize>() + 2 * widths.len().saturating_sub(1);
        if whole <= room {
            return std::iter::once(line(&self.headings))
                .chain(self.rows.iter().map(|row| line(row)))
                .collect();
        }
        self.rows.iter().flat_map(|row| self.told(row, room)).collect()
    }

    /// One row as `55 mph: Wh/mi 309, ...`, broken between cells.
    fn told(&self, row: &[String], room: usize) -> Vec<String> {
        let mut lines = vec![format!("{}:", row.first().map_or("", String::as_str))];
        let cells = self
            .headings
            .iter()
            .zip(row)
            .skip(1)
            .filter(|(_, cell)| !cell.is_empty());
        for (at, (heading, cell)) in cells.enumerate() {
            let part = format!("{}{heading} {cell}", if at == 0 { " " } else { ", " });
            let last = lines.len() - 1;
            if at > 0 && lines[last].chars().count() + part.chars().count() > room {
                lines[last].push(',');
                lines.push(format!("  {}", part.trim_start_matches([',', ' '])));
            } else {
                lines[last].push_str(&part);
            }
        }
        lines
    }
}

impl RoadResult {
    /// What cannot be told yet, one line for each result: `motor speed in each gear: enter gears kept; final drive`.
    pub fn waits(&self) -> Vec<String> {
        let mut lines: Vec<(&str, Vec<&str>)> = Vec::new();
        for missing in &self.missing {
            let label = missing.field.label();
            match lines.iter_mut().find(|(what, _)| *what == missing.what) {
                Some((_, labels)) => labels.push(label),
                None => lines.push((missing.what, vec![label])),
            }
        }
        lines
            .into_iter()
            .map(|(what, labels)| format!("{what}: enter {}", labels.join("; ")))
            .collect()
    }

    /// A speed in the person's units.
    pub fn speed(&self, speed_mps: f64) -> String {
        speed_words(self.units, speed_mps)
    }

    /// A distance in the person's units, rounded down.
    pub fn distance(&self, metres: f64) -> String {
        distance_words(self.units, metres)
    }

    /// A force in the person's units, rounded down: `1203 lbf` or `5351 N`.
    pub fn force(&self, newtons: f64) -> String {
        match self.units {
            Units::Inch => format!("{:.0} lbf", (newtons / N_PER_LBF + 1e-9).floor()),
            Units::Millimetre => format!("{:.0} N", (newtons + 1e-9).floor()),
        }
    }

    /// Energy for the way in the person's units.
    pub fn per_distance(&self, wh_per_mile: f64) -> String {
        per_distance_words(self.units, wh_per_mile)
    }

    /// A range as a band: `96 to 138 mi`.
    pub fn band(&self, band: Band) -> String {
        let (unit_m, name) = unit(self.units);
        let whole = |metres: f64| (metres / unit_m + 1e-9).floor();
        format!("{:.0} to {:.0} {name}", whole(band.everyday_m), whole(band.cycle_m))
    }

    /// `~` where one of these entries is assumed.
    fn mark(&self, is_of: impl Fn(Field) -> bool) -> &'static str {
        let is_assumed = self.entries.iter().any(|entry| entry.is_assumed && is_of(entry.field));
        if is_assumed { "~" } else { "" }
    }

    /// The big facts: what, and how much; `~` before what rests on an assumed entry.
    pub fn facts(&self) -> Vec<(&'static str, String)> {
        let mut facts = Vec::new();
        let on_drive = self.mark(of_drive);
        if let Some(driven) = &self.driven {
            if let Some(range) = driven.range {
                facts.push(("range, summer", format!("{on_drive}{}", self.band(range.summer))));
                facts.push(("range, winter", format!("{on_drive}{}", self.band(range.winter))));
                facts.extend(
                    self.share
                        .map(|share| ("usable share", format!("{}{}", self.mark(of_share), share.words()))),
                );
            }
            let [summer, winter] = driven.mixed_wh_per_mile.map(|wh| self.per_distance(wh));
            facts.push(("mixed driving", format!("{on_drive}{summer}; winter {winter}")));
        }
        if let Some(gears) = &self.gears {
            let at = self.speed(self.cruise_mps);
            let best = gears.best.and_then(|place| gears.rows.get(place));
            let words = best.map_or_else(
                || format!("none at {at}"),
                |row| {
                    format!(
                        "{}gear {}, {:.0} rpm at {at}",
                        self.mark(of_gears),
                        row.number,
                        row.at_cruise.0
                    )
                },
            );
            facts.push(("best gear", words));
        }
        if let Some(own) = self.charging.iter().find(|row| row.is_own) {
            let words = format!(
                "{}{:.1} h at {:.0} V {:.0} A",
                self.mark(of_line),
                own.charge.hours(),
                own.volts,
                own.line_a
            );
            facts.push(("hours to charge", words));
        }
        if let Some(sun) = &self.sun {
            facts.push((
                "sun in a week",
                format!(
                    "{}{}; winter {}",
                    self.mark(|field| of_drive(field) || of_sun(field)),
                    self.week(&sun.summer),
                    self.week(&sun.winter)
                ),
            ));
        }
        facts
    }

    /// What the sun gives in a week: `87 mi`, or `23.2 kWh` while what the truck takes is not known.
    fn week(&self, season: &SunSeason) -> String {
        match season.metres_a_week {
            Some(metres) => self.distance(metres),
            None => format!("{:.1} kWh", season.kwh_a_week),
        }
    }

    /// All tables there are, in the order they are told.
    pub fn tables(&self) -> Vec<RoadTable> {
        let of_driven = self
            .driven
            .iter()
            .flat_map(|driven| [self.speeds(driven), self.drives(driven)]);
        let rest = [
            self.gear_table(),
            self.charge_table(),
            self.sun.as_ref().map(|sun| self.sun_table(sun)),
        ];
        of_driven.chain(rest.into_iter().flatten()).collect()
    }

    /// What is kept back of the charge, in words.
    fn kept_words(&self) -> String {
        self.share.map_or_else(
            || "the reserve is kept back".to_owned(),
            |share| format!("driven on: {}", share.words()),
        )
    }

    fn speeds(&self, driven: &Driven) -> RoadTable {
        let (unit_m, name) = unit(self.units);
        let row = |row: &super::SpeedRow| {
            vec![
                if driven.grade > 0.0 {
                    format!("{} {}", self.speed(row.speed_mps), grade_words(driven.grade))
                } else {
                    self.speed(row.speed_mps)
                },
                format!("{:.0}", row.wh_per_mile / M_PER_MILE * unit_m),
                format!("{:.1}", row.pack_w / 1_000.0),
                row.range_m
                    .map_or_else(|| "-".to_owned(), |metres| self.distance(metres)),
            ]
        };
        let hills = if driven.grade > 0.0 {
            format!("{} all the way", grade_words(driven.grade))
        } else {
            "no hills".to_owned()
        };
        RoadTable {
            title: if driven.grade > 0.0 {
                "steady speed up the grade, summer"
            } else {
                "steady speed on the level, summer"
            },
            headings: [
                "speed".to_owned(),
                format!("Wh/{name}"),
                "kW from the pack".to_owned(),
                "goes".to_owned(),
            ]
            .into(),
            rows: driven.curve.iter().map(row).collect(),
            notes: vec![
                format!("no wind, {hills}; {}", self.kept_words()),
                "held to the whole way at that speed: the upper end, as on a warm calm day".to_owned(),
            ],
        }
    }

    fn drives(&self, driven: &Driven) -> RoadTable {
        let (unit_m, name) = unit(self.units);
        let per = |wh: f64| format!("{:.0}", wh / M_PER_MILE * unit_m);
        let bands = |range: Option<[Band; 2]>| match range {
            Some(both) => both.map(|band| self.band(band)),
            None => ["-".to_owned(), "-".to_owned()],
        };
        let mut rows: Vec<Vec<String>> = driven
            .drives
            .iter()
            .map(|drive| {
                let [summer, winter] = drive.wh_per_mile.map(per);
                let [goes, goes_winter] = bands(drive.range);
                let peak = format!(
                    "{:.0} / {:.0}",
                    drive.peak_wheel_w / 1_000.0,
                    drive.peak_pack_w / 1_000.0
                );
                vec![
                    format!("{}, {}", drive.name, drive.words),
                    summer,
                    winter,
                    goes,
                    goes_winter,
                    peak,
                ]
            })
            .collect();
        let [summer, winter] = driven.mixed_wh_per_mile.map(per);
        let [goes, goes_winter] = bands(driven.range.map(|range| [range.summer, range.winter]));
        rows.push(vec![
            "mixed".to_owned(),
            summer,
            winter,
            goes,
            goes_winter,
            String::new(),
        ]);
        let headings = [
            "drive".to_owned(),
            format!("Wh/{name}"),
            "winter".to_owned(),
            "goes".to_owned(),
            "in winter".to_owned(),
            "peak kW, wheels / pack".to_owned(),
        ];
        RoadTable {
            title: "drives",
            headings: headings.into(),
            rows,
            notes: vec![
                format!(
                    "from everyday use ({} of the drive) to as on the drive; {}; {}",
                    truck::cycle::LABEL_FACTOR.value,
                    self.kept_words(),
                    truck::cycle::LABEL_FACTOR.source.words()
                ),
                "the lower end in winter counts some of the cold twice: the factor has winters in it".to_owned(),
                "left out: hills, wind, friction brakes, a full pack that takes nothing back, the loss of the charger"
                    .to_owned(),
            ],
        }
    }

    fn gear_table(&self) -> Option<RoadTable> {
        let gears = self.gears.as_ref()?;
        let speeds = gears.speeds_mps.iter().map(|speed| self.speed(*speed));
        let pulls = gears.rows.iter().any(|row| row.pull.is_some());
        let headings = ["gear".to_owned(), "ratio".to_owned()]
            .into_iter()
            .chain(speeds)
            .chain(["at the limit".to_owned()])
            .chain(
                pulls
                    .then(|| ["pull".to_owned(), "climbs".to_owned()])
                    .into_iter()
                    .flatten(),
            )
            .collect();
        let rows = gears
            .rows
            .iter()
            .enumerate()
            .map(|(place, row)| {
                let mark = if gears.best == Some(place) { "*" } else { "" };
                let mut cells = vec![format!("{}{mark}", row.number), format!("{}", row.ratio)];
                cells.extend(row.rpm.iter().map(|rpm| {
                    let over = if *rpm > gears.limit_rpm { "!" } else { "" };
                    format!("{rpm:.0}{over}")
                }));
                cells.push(self.speed(row.top_mps));
                if let Some(pull) = row.pull {
                    cells.extend([self.force(pull.force_n), pull.climb_words()]);
                }
                cells
            })
            .collect();
        let mut notes = vec![
            format!("* for {}: {}", self.speed(self.cruise_mps), gears.best_why),
            format!("! over the motor's limit of {:.0} rpm", gears.limit_rpm),
            format!(
                "{:.3} m for one turn of the wheel: {}",
                gears.rolling_m, gears.rolling_from
            ),
        ];
        let slow: Vec<String> = gears
            .rows
            .iter()
            .filter(|row| row.at_cruise.1 == Suits::BelowBase)
            .map(|row| row.number.to_string())
            .collect();
        if !slow.is_empty() {
            notes.push(format!(
                "below the motor's base speed at {}, so without its full power: gear {}",
                self.speed(self.cruise_mps),
                slow.join(", ")
            ));
        }
        if pulls {
            notes.push(
                "pull at the wheels with the motor's peak torque, up to its base speed, and the steepest grade it moves off on; \
                 what the tyres hold and what the drive's amps allow is not looked at"
                    .to_owned(),
            );
        }
        Some(RoadTable {
            title: "motor, revolutions a minute",
            headings,
            rows,
            notes,
        })
    }

    fn charge_table(&self) -> Option<RoadTable> {
        let first = self.charging.first()?;
        let rows = self
            .charging
            .iter()
            .map(|row| {
                let circuit = row
                    .circuit_a
                    .map_or_else(|| "-".to_owned(), |amps| format!("{amps:.0} A"));
                vec![
                    format!("{:.0} V{}", row.volts, if row.is_own { ", your own" } else { "" }),
                    circuit,
                    format!("{:.1} A", row.line_a),
                    row.held_by.to_owned(),
                    format!("{:.1}", row.charge.dc_kw),
                    format!("{:.1}", row.charge.hours()),
                    format!("{:.1}", row.charge.ac_kwh),
                    row.metres_an_hour
                        .map_or_else(|| "-".to_owned(), |metres| near_distance_words(self.units, metres)),
                ]
            })
            .collect();
        let headings = [
            "supply",
            "circuit",
            "drawn",
            "held by",
            "kW into pack",
            "hours",
            "kWh from the line",
            "goes for an hour",
        ];
        let mut notes = vec![format!(
            "{:.1} kWh into the pack; a circuit gives {} of its rating for hours: {}",
            first.charge.dc_kwh,
            truck::charge::CONTINUOUS_SHARE.value,
            truck::charge::CONTINUOUS_SHARE.source.words()
        )];
        notes.push(if self.charging.iter().any(|row| row.charge.hours_taper > 0.0) {
            "the slow end is an estimate".to_owned()
        } else {
            "full power to the end: the slow end of a real charger comes on top".to_owned()
        });
        Some(RoadTable {
            title: "charging",
            headings: headings.map(str::to_owned).into(),
            rows,
            notes,
        })
    }

    fn sun_table(&self, sun: &Sun) -> RoadTable {
        let (_, name) = unit(self.units);
        let [best, worst] = sun.extremes();
        let row = |what: &str, season: &SunSeason| {
            let is =
                |extreme: Option<&SunMonth>| season.month.is_some() && extreme.map(|one| one.month) == season.month;
            let rank = match (is(best), is(worst)) {
                (true, _) => ", the best",
                (_, true) => ", the worst",
                _ => "",
            };
            vec![
                match season.month {
                    Some(month) => format!("{what}, {}{rank}", MONTHS[month]),
                    None => what.to_owned(),
                },
                format!("{:.2}", season.sun_hours),
                season
                    .clear_sky
                    .map_or_else(|| "-".to_owned(), |hours| format!("{hours:.2}")),
                format!("{:.1}", season.kwh_a_week),
                season
                    .metres_a_week
                    .map_or_else(|| "-".to_owned(), |metres| self.distance(metres)),
            ]
        };
        let headings = [
            "season".to_owned(),
            "sun hours a day".to_owned(),
            "clear sky".to_owned(),
            "kWh a week".to_owned(),
            format!("{name} a week"),
        ];
        let mut rows = vec![row("summer", &sun.summer), row("winter", &sun.winter)];
        let is_told = |month: usize| [sun.summer.month, sun.winter.month].contains(&Some(month));
        // Months that were asked for need not be the ones with the most and the least sun.
        for (what, extreme, heated) in [("best", best, false), ("worst", worst, true)] {
            rows.extend(extreme.filter(|one| !is_told(one.month)).map(|one| {
                vec![
                    format!("{what}, {}", MONTHS[one.month]),
                    format!("{:.2}", one.sun_hours),
                    "-".to_owned(),
                    format!("{:.1}", one.wh_a_day * 7.0 / 1_000.0),
                    self.of_month(one, heated),
                ]
            }));
        }
        rows.push(row("the year", &sun.year));
        RoadTable {
            title: "sun",
            headings: headings.into(),
            rows,
            notes: Self::sun_notes(sun),
        }
    }

    fn of_month(&self, month: &SunMonth, heated: bool) -> String {
        month
            .metres_a_week
            .map_or_else(|| "-".to_owned(), |both| self.distance(both[usize::from(heated)]))
    }

    /// The sun of every month; `None` while no panel is entered.
    pub fn months_table(&self) -> Option<RoadTable> {
        let sun = self.sun.as_ref()?;
        let (_, name) = unit(self.units);
        let row = |month: &SunMonth| {
            vec![
                MONTHS[month.month].to_owned(),
                format!("{:.2}", month.sun_hours),
                format!("{:.0}", month.wh_a_day),
                self.of_month(month, false),
                self.of_month(month, true),
            ]
        };
        Some(RoadTable {
            title: "sun, month by month",
            headings: vec![
                "month".to_owned(),
                "peak sun hours a day".to_owned(),
                "Wh a day".to_owned(),
                format!("{name} a week"),
                "with the heater on".to_owned(),
            ],
            rows: sun.months.iter().map(row).collect(),
            notes: vec![format!(
                "{:.0} W lying flat, {}: {}",
                sun.watts, sun.place, sun.sun_from
            )],
        })
    }

    fn sun_notes(sun: &Sun) -> Vec<String> {
        let mut notes = vec![
            format!("{:.0} W lying flat, {}: {}", sun.watts, sun.place, sun.sun_from),
            format!(
                "lost between plates and leads: {:.1} %, {}; heat of the cells is left out",
                sun.losses * 100.0,
                sun.losses_from
            ),
            "winter is told with the heater on while driving; a clear sky is a ceiling, models differ by up to 20 %"
                .to_owned(),
        ];
        notes.extend(sun.odd_words());
        if let Some(room) = &sun.room {
            let go_on = sun.counted + sun.odd;
            if go_on < sun.panels {
                notes.push(format!("{go_on} of {} panels go on", sun.panels));
            }
            notes.push(format!(
                "{} panels go on in even rows, {} by {}{}, {:.0} % of the place; {}",
                room.laid.count(),
                room.laid.along,
                room.laid.across,
                if room.laid.turned { ", lying across" } else { "" },
                room.laid.share * 100.0,
                if room.fits() { "yours do" } else { "not all of yours do" }
            ));
        }
        if let Some(step) = &sun.step {
            notes.push(format!(
                "{:.1} times from {:.1} V to {:.1} V ({} in series): {}",
                step.up.ratio,
                step.panel_v,
                step.pack_v,
                step.in_series,
                step.verdict()
            ));
            if let Some(advised) = step.advised.filter(|_| !step.is_plain()) {
                notes.push(format!("{advised} panels in series suit a plain step-up stage"));
            }
        }
        if let Some(open) = &sun.open {
            notes.extend(open.words());
            if open.is_isolated {
                notes.push(format!(
                    "the stage with its transformer has to take {:.1} V at its entry, {} in series without load",
                    open.all_v, open.in_series
                ));
            }
        }
        if let Some(isolation) = &sun.isolation {
            notes.push(match (isolation.is_needed(), isolation.is_isolated) {
                (true, Some(true)) => "panels apart from the pack by a transformer: their leads are not on pack volts".to_owned(),
                (true, Some(false)) => "panels and pack are one circuit: leads and frames on the roof are on pack volts, wet or dry".to_owned(),
                (true, None) => "isolation between panels and pack is called for at these volts; nobody said whether the stage has it".to_owned(),
                (false, _) => "the pack stays within 60 V dc: no isolation is called for by voltage class".to_owned(),
            });
        }
        notes.push(match sun.cut_out {
            Some(true) => "a cut-out of its own ends charging at the pack's and each module's highest volts".to_owned(),
            Some(false) => "nothing but the stage's own setting ends charging".to_owned(),
            None => "nobody said what ends charging when the pack is full".to_owned(),
        });
        notes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 3.97 miles for an hour at the plug are four: nobody plans a way by them, as he does by a range.
    #[test]
    fn what_an_hour_gives_is_told_to_the_nearest() {
        let words = |miles: f64| near_distance_words(Units::Inch, miles * M_PER_MILE);
        assert_eq!(
            [3.97, 9.94, 9.96, 20.6].map(words),
            ["4.0 mi", "9.9 mi", "10 mi", "21 mi"]
        );
        assert_eq!(distance_words(Units::Inch, 138.9 * M_PER_MILE), "138 mi");
    }
}
