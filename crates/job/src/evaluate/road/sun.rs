//! What panels on the truck add, whether they have room, and what is between them and the pack.

use pack::Volts;
use pack::hazard::{Current, VoltageClass, voltage_class};
use truck::TruckError;
use truck::sun::losses::{USUAL_SOURCE, usual_with_shading};
use truck::sun::place::{CLEARNESS, MEAN_DAYS, monthly};
use truck::sun::room::{Laid, Panel, Room, lay};
use truck::sun::sky::day;
use truck::sun::step_up::{Advice, StepUp, panels_in_series, step_up};
use truck::sun::trickle::{Array, trickle};

use super::Notes;
use super::drives::Driven;
use super::given::Given;
use super::open_volts::{self, OpenVolts};
use crate::document::RoadFigure;
use crate::document::truck::road::sun_hours::{self, SunHours};
use crate::{CutOutName, Field, IsolatedName, RoadField, assumed};

/// What panels add.
#[derive(Clone, Debug, PartialEq)]
pub struct Sun {
    /// How many there are.
    pub panels: u32,
    /// How many of them count: those that go on, where their room is known, and fill whole strings.
    pub counted: u32,
    /// How many are in one string.
    pub in_series: u32,
    /// How many go on and are in no whole string.
    pub odd: u32,
    /// Watts on the plates of those that count.
    pub watts: f64,
    /// The place or the latitude.
    pub place: String,
    /// Where its sun is from.
    pub sun_from: String,
    /// Share lost between plates and leads.
    pub losses: f64,
    /// Where the losses are from.
    pub losses_from: String,
    /// The month that summer is told for.
    pub summer: SunSeason,
    /// The month that winter is told for, with the heater on while driving.
    pub winter: SunSeason,
    /// The mean of the year.
    pub year: SunSeason,
    /// Each month, January first.
    pub months: Vec<SunMonth>,
    /// Whether they have room; `None` while a size is missing.
    pub room: Option<PanelRoom>,
    /// From panel volts to pack volts; `None` while either is missing.
    pub step: Option<Step>,
    /// What the panels give without load, against pack and drive; `None` while their volts or the pack are not known.
    pub open: Option<OpenVolts>,
    /// Whether panels and pack have to be apart; `None` while the pack is not known.
    pub isolation: Option<Isolation>,
    /// Whether charging by them is cut out on its own; `None` when nobody said.
    pub cut_out: Option<bool>,
}

/// Sun of one month, or of the year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunSeason {
    /// January is 0; `None` for the mean of the year.
    pub month: Option<usize>,
    /// Peak sun hours of a day on a level panel.
    pub sun_hours: f64,
    /// What a clear sky would give, peak sun hours: the ceiling.
    pub clear_sky: Option<f64>,
    /// Into the pack, kilowatt-hours a week.
    pub kwh_a_week: f64,
    /// How far that goes in mixed driving, metres a week; `None` without a mass.
    pub metres_a_week: Option<f64>,
}

/// Sun of one month, without the heater and with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunMonth {
    /// January is 0.
    pub month: usize,
    /// Peak sun hours of a day on a level panel.
    pub sun_hours: f64,
    /// Into the pack, watt-hours a day.
    pub wh_a_day: f64,
    /// How far that goes in mixed driving, metres a week, and with the heater on while driving; `None` without a mass.
    pub metres_a_week: Option<[f64; 2]>,
}

/// Whether the panels have room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PanelRoom {
    /// The most that go on in even rows.
    pub laid: Laid,
    /// How many there are.
    pub wanted: u32,
}

impl PanelRoom {
    /// Whether all of them go on.
    pub const fn fits(&self) -> bool {
        self.laid.count() >= self.wanted
    }
}

/// From panel volts to pack volts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Whether the stage holds the panels back without load; `None` where their volts at full power stay below the empty
    /// pack and those without load, which are higher, are not entered.
    pub is_held: Option<bool>,
    /// Panels in series.
    pub in_series: u32,
    /// Volts of the panels at full power.
    pub panel_v: f64,
    /// Volts of the full pack.
    pub pack_v: f64,
    /// The step.
    pub up: StepUp,
    /// How many in series would do with a plain stage; `None` when no number does, or open volts were not entered.
    pub advised: Option<u32>,
}

impl Step {
    /// Whether a plain step-up stage does it.
    pub fn is_plain(&self) -> bool {
        self.is_held == Some(true) && self.up.advice == Advice::Plain
    }

    /// What to make of it, in words.
    pub const fn verdict(&self) -> &'static str {
        match (self.is_held, self.up.advice) {
            (Some(false), _) => "a plain step-up stage cannot hold the panels back without load",
            (None, Advice::Plain) => {
                "whether a plain step-up stage holds the panels back: enter their volts without load"
            }
            (_, advice) => advice.words(),
        }
    }
}

/// Whether panels and pack have to be apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Isolation {
    /// The full pack's class: above class A, leads on the roof that are one circuit with it are high voltage.
    pub class: VoltageClass,
    /// Whether the stage isolates; `None` when nobody said.
    pub is_isolated: Option<bool>,
}

impl Isolation {
    /// Whether an isolating stage is called for.
    pub const fn is_needed(&self) -> bool {
        !matches!(self.class, VoltageClass::A)
    }
}

pub(super) fn evaluate(given: &Given<'_>, driven: Option<&Driven>, notes: &mut Notes) -> Option<Sun> {
    let road = given.road;
    let panels = road.panels.unwrap_or(assumed::PANELS);
    let one_w = given.entered(RoadFigure::PanelWatts)?;
    let room = room(given, panels, one_w, notes);
    let go_on = room.map_or(panels, |room| room.laid.count().min(panels));
    let in_series = road.in_series.unwrap_or(assumed::IN_SERIES).max(1);
    let odd = go_on % in_series;
    // A panel beside whole strings has lower volts than they: it gives nothing through the same stage.
    let counted = go_on - odd;
    let watts = one_w * f64::from(counted);
    let losses = notes.take(usual_with_shading(given.sure(RoadFigure::Shade)))?;
    // Of one panel: where none goes on there is nothing to work out from the array as a whole.
    let array = Array {
        panel_w: one_w,
        losses,
        step_up_efficiency: given.share(RoadFigure::StepUp),
        heat: None,
    };
    let counts = f64::from(counted);
    let sky = notes.take(with_own_hours(given, sky(given)))?;
    let season = |month: Option<usize>, hours: f64, wh_per_mile: Option<f64>| {
        let found = trickle(&array, hours)?;
        let clear_sky = month
            .map(|month| day(sky.latitude_deg, MEAN_DAYS[month]).map(|day| day.clear_sky_kwh_per_m2()))
            .transpose()?;
        let miles = wh_per_mile.map(|wh| found.miles_per_week(wh)).transpose()?;
        Ok::<_, TruckError>(SunSeason {
            month,
            sun_hours: hours,
            clear_sky,
            kwh_a_week: found.kwh_per_week() * counts,
            metres_a_week: miles.map(|miles| miles * counts * truck::units::M_PER_MILE),
        })
    };
    let wh = |winter: usize| driven.map(|driven| driven.mixed_wh_per_mile[winter]);
    let month = |entered: Option<u32>, else_: usize| entered.map_or(else_, |n| n.saturating_sub(1) as usize);
    let summer = month(road.summer_month, extreme(&sky.months, |a, b| a > b));
    let winter = month(road.winter_month, extreme(&sky.months, |a, b| a < b));
    let summer = notes.take(season(Some(summer), sky.months[summer], wh(0)))?;
    let winter = notes.take(season(Some(winter), sky.months[winter], wh(1)))?;
    let year = notes.take(season(None, sky.yearly, wh(0)))?;
    let months = sky.months.iter().enumerate().map(|(month, hours)| {
        let [summer, winter] = [wh(0), wh(1)].map(|wh| season(Some(month), *hours, wh));
        let (summer, winter) = (summer?, winter?);
        Ok::<_, TruckError>(SunMonth {
            month,
            sun_hours: *hours,
            wh_a_day: summer.kwh_a_week * 1_000.0 / 7.0,
            metres_a_week: summer.metres_a_week.zip(winter.metres_a_week).map(Into::into),
        })
    });
    let months = notes.take(months.collect::<Result<Vec<SunMonth>, _>>())?;
    let open = open_volts::evaluate(given);
    let isolation = given.pack.map(|pack| Isolation {
        class: voltage_class(Volts::nearest(pack.full_v), Current::Dc),
        is_isolated: road.isolated.map(|word| word == IsolatedName::Yes),
    });
    Some(Sun {
        panels,
        counted,
        in_series,
        odd,
        watts,
        place: sky.place,
        sun_from: sky.from,
        losses,
        losses_from: USUAL_SOURCE.words(),
        summer,
        winter,
        year,
        months,
        room,
        step: step(given, open, notes),
        open,
        isolation,
        cut_out: road.cut_out.map(|word| word == CutOutName::Yes),
    })
}

impl Sun {
    /// Which panels are in no whole string, in words: `3 panels go on, 2 in series: 1 is in no whole string and does not count`.
    pub fn odd_words(&self) -> Option<String> {
        let go_on = self.counted + self.odd;
        let [go, is, does] = [
            ["panel goes", "panels go"][usize::from(go_on != 1)],
            ["is", "are"][usize::from(self.odd != 1)],
            ["does", "do"][usize::from(self.odd != 1)],
        ];
        (self.odd > 0).then(|| {
            format!(
                "{go_on} {go} on, {} in series: {} {is} in no whole string and {does} not count",
                self.in_series, self.odd
            )
        })
    }

    /// What makes the strings whole.
    pub fn odd_fix(&self) -> String {
        let more = self.counted + self.in_series;
        let go_on = self.counted + self.odd;
        let panels = if self.counted == 0 {
            format!("{more} panels")
        } else {
            format!("{} or {more} panels", self.counted)
        };
        let others: Vec<String> = (1..=go_on.min(12))
            .filter(|n| go_on.is_multiple_of(*n))
            .map(|n| n.to_string())
            .collect();
        format!("{panels}, or {} in series", others.join(" or "))
    }

    /// The month with the most sun and that with the least.
    pub fn extremes(&self) -> [Option<&SunMonth>; 2] {
        let by_hours = |a: &&SunMonth, b: &&SunMonth| a.sun_hours.total_cmp(&b.sun_hours);
        // Of two alike the first, as for the seasons.
        let best = self.months.iter().rev().max_by(by_hours);
        [best, self.months.iter().min_by(by_hours)]
    }
}

/// The first month that beats all others.
fn extreme(months: &[f64; 12], beats: impl Fn(f64, f64) -> bool) -> usize {
    (1..months.len()).fold(0, |best, month| {
        if beats(months[month], months[best]) {
            month
        } else {
            best
        }
    })
}

/// Peak sun hours over the year.
struct Sky {
    place: String,
    latitude_deg: f64,
    months: [f64; 12],
    yearly: f64,
    from: String,
}

/// Days of each month.
const DAYS: [f64; 12] = [31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];

fn mean(months: &[f64; 12]) -> f64 {
    months.iter().zip(DAYS).map(|(hours, days)| hours * days).sum::<f64>() / DAYS.iter().sum::<f64>()
}

/// The person's own hours in place of those of the sky, whose latitude stays for the clear sky's ceiling.
fn with_own_hours(given: &Given<'_>, sky: Result<Sky, TruckError>) -> Result<Sky, TruckError> {
    let sky = sky?;
    let entered = given.road.sun_hours.as_deref();
    let (months, how) = match entered.and_then(|text| sun_hours::read(text).ok()) {
        None => return Ok(sky),
        Some(SunHours::Months(months)) => (months, "your entry, month by month"),
        Some(SunHours::Extremes([summer, winter])) => {
            // Most in June, least in December; south of the equator the other way round.
            let months = std::array::from_fn(|month| {
                let turn = std::f64::consts::TAU * (f64::from(u32::try_from(month).unwrap_or(0)) - 5.0) / 12.0;
                let towards = if sky.latitude_deg < 0.0 {
                    -turn.cos()
                } else {
                    turn.cos()
                };
                f64::midpoint(summer, winter) + (summer - winter) / 2.0 * towards
            });
            (
                months,
                "your entry of summer and winter; months between along a wave, an estimate",
            )
        }
    };
    Ok(Sky {
        place: format!("your own hours (a clear sky's as for {})", sky.place),
        yearly: mean(&months),
        months,
        from: how.to_owned(),
        latitude_deg: sky.latitude_deg,
    })
}

/// At the latitude entered, an estimate; else of the place, with months estimated where only its year is known.
fn sky(given: &Given<'_>) -> Result<Sky, TruckError> {
    if let Some(latitude_deg) = given.entered(RoadFigure::Latitude) {
        let clearness = given.share(RoadFigure::Clearness);
        let months = monthly(latitude_deg, clearness)?;
        return Ok(Sky {
            place: format!("latitude {latitude_deg}"),
            latitude_deg,
            yearly: mean(&months),
            months,
            from: format!(
                "an estimate: {clearness} of the sun outside the air; {}",
                CLEARNESS.source.words()
            ),
        });
    }
    let place = given.road.place.unwrap_or(assumed::PLACE).place();
    let (months, from) = match place.monthly {
        Some(months) => (months, place.source.words()),
        None => {
            // As clear in every month as over the year, so that the months keep the year's mean.
            let outside = monthly(place.latitude_deg, 1.0)?;
            let clearness = place.yearly / mean(&outside);
            let months = outside.map(|hours| hours * clearness);
            let words = format!(
                "{}; months estimated with the clearness of the year",
                place.source.words()
            );
            (months, words)
        }
    };
    Ok(Sky {
        place: place.name.to_owned(),
        latitude_deg: place.latitude_deg,
        months,
        yearly: place.yearly,
        from,
    })
}

fn room(given: &Given<'_>, panels: u32, one_w: f64, notes: &mut Notes) -> Option<PanelRoom> {
    let road = given.road;
    let metres = |len: &crate::Len| len.value().as_mm() / 1_000.0;
    let sizes = [
        (&road.panel_length, RoadField::PanelLength),
        (&road.panel_width, RoadField::PanelWidth),
        (&road.roof_length, RoadField::RoofLength),
        (&road.roof_width, RoadField::RoofWidth),
    ];
    for (_, field) in sizes.iter().filter(|(size, _)| size.is_none()) {
        notes.miss("whether the panels have room", Field::OfRoad(*field));
    }
    let [length_m, width_m, roof_length_m, roof_width_m] = sizes.map(|(size, _)| size.as_ref().map(metres));
    let panel = Panel {
        watts: one_w,
        length_m: length_m?,
        width_m: width_m?,
    };
    let room = Room {
        length_m: roof_length_m?,
        width_m: roof_width_m?,
        gap_m: road
            .panel_gap
            .as_ref()
            .map_or(assumed::PANEL_GAP.as_mm() / 1_000.0, metres),
    };
    let laid = notes.take(lay(panel, room))?;
    Some(PanelRoom { laid, wanted: panels })
}

fn step(given: &Given<'_>, open: Option<OpenVolts>, notes: &mut Notes) -> Option<Step> {
    let Some(one_v) = given.entered(RoadFigure::PanelVolts) else {
        notes.miss(
            "step from panel volts to pack volts",
            Field::OfRoad(RoadField::Figure(RoadFigure::PanelVolts)),
        );
        return None;
    };
    let pack = given.pack?;
    let in_series = given.road.in_series.unwrap_or(assumed::IN_SERIES);
    let panel_v = one_v * f64::from(in_series);
    // Panels above the pack are told by their open volts; with a transformer between, the stage may step down.
    if panel_v >= pack.full_v {
        return None;
    }
    let up = notes.take(step_up(panel_v, pack.full_v, Some(given.share(RoadFigure::StepUp))))?;
    let open_v = given.entered(RoadFigure::PanelOpenVolts);
    let advised = open_v.and_then(|open_v| {
        notes
            .take(panels_in_series(one_v, open_v, pack.empty_v, pack.full_v))
            .flatten()
    });
    let is_held = open.and_then(|open| open.is_held());
    if is_held.is_none() {
        notes.miss(
            "whether a step-up stage holds the panels back",
            Field::OfRoad(RoadField::Figure(RoadFigure::PanelOpenVolts)),
        );
    }
    Some(Step {
        is_held,
        in_series,
        panel_v,
        pack_v: pack.full_v,
        up,
        advised,
    })
}
