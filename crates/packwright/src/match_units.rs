//! `packwright match`: which tested unit goes with which.

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use pack::matching::{self, BY_CHANCE, Goal, Matching, Proof, WORK, lot_spread, match_groups, match_strings, outliers};
use serde_json::{Value, json};

pub(crate) use job::units::Sheet;

use crate::input::is_standard_input;
use crate::output;
use crate::trouble::{Trouble, Verdict};

/// How more than one in parallel are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Joined {
    /// Groups in parallel, one after the other in series
    Groups,
    /// Whole strings in parallel
    Strings,
}

/// What is wanted of the groups.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Wanted {
    /// The weakest group as strong as can be
    Strongest,
    /// All groups as alike as can be
    Alike,
}

/// Put tested units into groups or strings so that the weakest is as strong as can be
///
/// The sheet is a table as text: unit, Ah, mohm, V, in any order, with heads that say which is which; units in heads or
/// cells, decimal points or commas. Without --series and --parallel the units make one string.
#[derive(Debug, Args)]
pub(crate) struct MatchArgs {
    /// The test sheet; - reads standard input
    #[arg(value_name = "UNITS.CSV")]
    path: PathBuf,
    /// Groups, or modules in each string
    #[arg(long, value_name = "N")]
    series: Option<usize>,
    /// Modules in each group, or strings
    #[arg(long, value_name = "N")]
    parallel: Option<usize>,
    /// How more than one in parallel are joined
    #[arg(long = "as", value_name = "HOW", default_value = "groups")]
    joined: Joined,
    /// What is wanted of the groups
    #[arg(long, value_name = "GOAL", default_value = "strongest")]
    goal: Wanted,
    /// Amp-hours on the label, for states of health
    #[arg(long, value_name = "AH")]
    rated: Option<f64>,
    /// Leave out units below this state of health, percent; takes --rated
    #[arg(long, value_name = "PERCENT", requires = "rated")]
    reject_below: Option<f64>,
    /// Nominal volts of one module, for kilowatt-hours
    #[arg(long, value_name = "V")]
    volts: Option<f64>,
    /// Share of the charge that is used, percent
    #[arg(long, value_name = "PERCENT", default_value = "100")]
    window: f64,
    /// Print the answer as JSON
    #[arg(long)]
    json: bool,
}

/// Reads a test sheet; every line that cannot be read is told, and nothing is done with half a sheet.
pub(crate) fn read_sheet(path: &Path) -> Result<Sheet, Trouble> {
    let (name, text) = if is_standard_input(path) {
        let mut text = String::new();
        (
            "standard input".to_owned(),
            io::stdin().lock().read_to_string(&mut text).map(|_| text),
        )
    } else {
        (path.display().to_string(), fs::read_to_string(path))
    };
    let text = text.map_err(|reason| {
        Trouble::new(
            format!("{name}: could not read: {reason}"),
            "check the name; the sheet is a table saved as text (CSV)",
        )
    })?;
    let sheet = job::units::read_sheet(&text);
    for fault in &sheet.faults {
        output::message(&format!("{name}, {fault}\n  fix: {}", fault.mend));
    }
    match (sheet.faults.len(), sheet.rows.len()) {
        (0, 0) => Err(Trouble::new(
            format!("{name}: no units in it"),
            "write one line for each unit: name, Ah, mohm, V",
        )),
        (0, _) => Ok(sheet),
        (faults, rows) => Err(Trouble::new(
            format!("{name}: {faults} faults, {rows} units could be read"),
            "mend the lines named above",
        )),
    }
}

/// What was worked out.
struct Worked {
    names: Vec<String>,
    capacities: Vec<i64>,
    volts: Vec<Option<f64>>,
    milliohms: Vec<Option<f64>>,
    /// Units that were not looked at, with why.
    aside: Vec<(String, String)>,
    /// Units unlike the others.
    odd: Vec<String>,
    series: usize,
    parallel: usize,
    found: Matching,
}

pub(crate) fn run(args: &MatchArgs) -> Result<Verdict, Trouble> {
    for (name, value) in [
        ("--rated", args.rated),
        ("--volts", args.volts),
        ("--window", Some(args.window)),
    ] {
        if value.is_some_and(|v| !(v > 0.0 && v <= 1e6)) {
            return Err(Trouble::new(
                format!("{name}: {} is not a number above zero", value.unwrap_or_default()),
                "give a number above zero",
            ));
        }
    }
    for (name, value) in [("--series", args.series), ("--parallel", args.parallel)] {
        if value == Some(0) {
            return Err(Trouble::new(format!("{name}: 0 units are no pack"), "give 1 or more"));
        }
    }
    let sheet = read_sheet(&args.path)?;
    let worked = work(args, &sheet)?;
    if args.json {
        output::json(&as_json(args, &worked))?;
    } else {
        output::data(&text(args, &worked))?;
    }
    Ok(Verdict::Fine)
}

fn work(args: &MatchArgs, sheet: &Sheet) -> Result<Worked, Trouble> {
    let mut aside = Vec::new();
    let mut used = Vec::new();
    for row in &sheet.rows {
        let health = row
            .amp_hours
            .zip(args.rated)
            .map(|(ah, rated)| 100.0 * ah.get() / rated);
        match (row.amp_hours, health, args.reject_below) {
            (None, ..) => aside.push((row.name.clone(), "no amp-hours".to_owned())),
            (_, Some(health), Some(least)) if health < least => {
                aside.push((row.name.clone(), format!("{health:.0} % of what the label says")));
            }
            _ => used.push(row),
        }
    }
    if sheet.rows.iter().all(|row| row.amp_hours.is_none()) {
        return Err(Trouble::new(
            format!("{}: no unit has amp-hours", args.path.display()),
            "give them in a column named Ah: units are matched by what they hold",
        ));
    }
    let (series, parallel) = match (args.series, args.parallel) {
        (Some(s), Some(p)) => (s, p),
        (Some(s), None) => (s, (used.len() / s.max(1)).max(1)),
        (None, Some(p)) => ((used.len() / p.max(1)).max(1), p),
        (None, None) => (used.len().max(1), 1),
    };
    let capacities: Vec<i64> = used
        .iter()
        .filter_map(|r| r.amp_hours.map(pack::AmpHours::milli))
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "micro-ohms of a module")]
    let milliohms: Vec<Option<f64>> = used
        .iter()
        .map(|r| r.resistance_mohm.map(|r| r.0 as f64 / 1000.0))
        .collect();
    let goal = match args.goal {
        Wanted::Strongest => Goal::Strongest,
        Wanted::Alike => Goal::Alike,
    };
    let found = match args.joined {
        Joined::Groups => match_groups(&capacities, &milliohms, series, parallel, goal, WORK),
        Joined::Strings => match_strings(&capacities, series, parallel),
    }
    .ok_or_else(|| {
        Trouble::new(
            format!(
                "--series and --parallel: {series} x {parallel} take more than the {} units that can be used",
                used.len()
            ),
            "ask for fewer, or measure more units",
        )
    })?;
    #[expect(clippy::cast_precision_loss, reason = "milliamp-hours of a module")]
    let ah: Vec<f64> = capacities.iter().map(|c| *c as f64 / 1000.0).collect();
    let odd = outliers(&ah).map_or(Vec::new(), |o| o.units.iter().map(|&i| used[i].name.clone()).collect());
    Ok(Worked {
        names: used.iter().map(|r| r.name.clone()).collect(),
        volts: used.iter().map(|r| r.rest_volts.map(pack::Volts::get)).collect(),
        milliohms,
        capacities,
        aside,
        odd,
        series,
        parallel,
        found,
    })
}

#[expect(clippy::cast_precision_loss, reason = "milliamp-hours of a pack")]
fn ah(milli: i64) -> f64 {
    milli as f64 / 1000.0
}

impl Worked {
    /// Amp-hours of the pack matched so, in the order of the sheet, and by chance on average.
    fn amp_hours(&self, joined: Joined) -> [f64; 3] {
        let compared = match joined {
            Joined::Groups => self.found.compared_as_groups(&self.capacities),
            Joined::Strings => self.found.compared_as_strings(&self.capacities),
        };
        compared.map(|milli| milli / 1000.0)
    }

    fn kwh(&self, args: &MatchArgs, amp_hours: f64) -> Option<f64> {
        #[expect(clippy::cast_precision_loss, reason = "modules in series")]
        let volts = args.volts? * self.series as f64;
        Some(amp_hours * volts * args.window / 100.0 / 1000.0)
    }

    /// How far volts are apart in a group, and the first amps of joining the highest and the lowest.
    fn apart(&self, group: &[usize]) -> Option<(f64, Option<f64>)> {
        let units: Option<Vec<_>> = group
            .iter()
            .map(|&i| Some((self.volts[i]?, self.milliohms[i])))
            .collect();
        matching::widest(&units?)
    }
}

fn proof_words(found: &Matching) -> String {
    match found.proof {
        Proof::Proved => "proved: none is better".to_owned(),
        Proof::FirstProved => "the weakest is proved; how alike the others could be is not".to_owned(),
        Proof::AtMost(most) => format!(
            "best found: the weakest is at most {:.3} Ah in any grouping, gap {:.3} Ah",
            ah(most),
            ah(most - found.smallest())
        ),
    }
}

fn text(args: &MatchArgs, worked: &Worked) -> String {
    let mut lines = Vec::new();
    let word = match args.joined {
        Joined::Groups => "group",
        Joined::Strings => "string",
    };
    let assumed = if args.series.is_none() || args.parallel.is_none() {
        "~"
    } else {
        ""
    };
    lines.push(format!(
        "{assumed}{}s{}p of {} units, as {word}s; {}",
        worked.series,
        worked.parallel,
        worked.names.len(),
        proof_words(&worked.found)
    ));
    let least = worked.found.smallest();
    for (number, (group, sum)) in (1..).zip(worked.found.groups.iter().zip(&worked.found.sums)) {
        let names: Vec<&str> = group.iter().map(|&i| worked.names[i].as_str()).collect();
        let weakest = if *sum == least { "  < the weakest" } else { "" };
        let joins = match args.joined {
            Joined::Groups if group.len() > 1 => worked.apart(group).map_or(String::new(), |(apart, amps)| {
                let amps = amps.map_or(String::new(), |a| format!(", {a:.0} A when joined"));
                format!("  {apart:.3} V apart{amps}")
            }),
            _ => String::new(),
        };
        lines.push(format!(
            "  {word} {number:>3}  {:>9.3} Ah  {}{joins}{weakest}",
            ah(*sum),
            names.join(" ")
        ));
    }
    let [here, label, chance] = worked.amp_hours(args.joined);
    let kwh = |amp_hours: f64| {
        worked
            .kwh(args, amp_hours)
            .map_or(String::new(), |k| format!(" ({k:.2} kWh)"))
    };
    lines.push(format!("the pack has {here:.3} Ah{}", kwh(here)));
    lines.push(format!("  in the order of the sheet {label:.3} Ah{}", kwh(label)));
    lines.push(format!(
        "  by chance, mean of {BY_CHANCE} {chance:.3} Ah{}",
        kwh(chance)
    ));
    let spares: Vec<&str> = worked
        .found
        .left_out
        .iter()
        .map(|&i| worked.names[i].as_str())
        .collect();
    if !spares.is_empty() {
        lines.push(format!("spare: {}", spares.join(" ")));
    }
    for (name, why) in &worked.aside {
        lines.push(format!("left out: {name}: {why}"));
    }
    for name in &worked.odd {
        lines.push(format!(
            "! {name} is far from the others in amp-hours: measure it again, or set it aside"
        ));
    }
    if worked.parallel > 1 {
        lines.push(
            "! before joining: measure volts again; farther apart than you allow, bring them together first through a \
             resistor or a charger"
                .to_owned(),
        );
    }
    lines.push(String::new());
    lines.join("\n")
}

fn as_json(args: &MatchArgs, worked: &Worked) -> Value {
    let names = |group: &[usize]| group.iter().map(|&i| worked.names[i].clone()).collect::<Vec<_>>();
    let [here, label, chance] = worked.amp_hours(args.joined);
    let spread = args.rated.and_then(|rated| {
        let all: Vec<f64> = worked.capacities.iter().map(|c| ah(*c)).collect();
        lot_spread(&all, rated, 0.0)
    });
    json!({
        "series": worked.series,
        "parallel": worked.parallel,
        "groups": worked.found.groups.iter().zip(&worked.found.sums).map(|(group, sum)| {
            // Units in series are not joined to each other.
            let apart = (args.joined == Joined::Groups).then(|| worked.apart(group)).flatten();
            json!({
                "units": names(group),
                "ah": ah(*sum),
                "apart_v": apart.map(|a| a.0),
                "first_a": apart.and_then(|a| a.1),
            })
        }).collect::<Vec<_>>(),
        "spare": names(&worked.found.left_out),
        "left_out": worked.aside.iter().map(|(name, why)| json!({ "unit": name, "why": why })).collect::<Vec<_>>(),
        "odd": worked.odd,
        "proved": worked.found.proof == Proof::Proved,
        "weakest_at_most_ah": match worked.found.proof { Proof::AtMost(most) => Some(ah(most)), _ => None },
        "pack_ah": here,
        "sheet_order_ah": label,
        "by_chance_ah": chance,
        "pack_kwh": worked.kwh(args, here),
        "mean_health": spread.as_ref().map(|s| s.mean_health),
        "least_health": spread.as_ref().map(|s| s.least_health),
    })
}
