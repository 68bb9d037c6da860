//! Volts over state of charge with the windows drawn in, in plain characters.

use job::Electric;

/// Rows and columns of the plot.
const HIGH: usize = 9;
const WIDE: usize = 41;

/// The plot's lines: `o` at rest, `x` at the drive's peak, the drive's window as dashes.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "clamped to the cells of the plot"
)]
pub(super) fn lines(electric: &Electric) -> Vec<String> {
    let drive = electric.windows.iter().find(|w| w.name == "drive");
    let limits: Vec<(f64, &str)> = drive
        .map(|w| {
            let least = w.least.map(|v| (v.get(), "drive's least"));
            let most = w.most.map(|v| (v.get(), "drive's most"));
            [least, most].into_iter().flatten().collect()
        })
        .unwrap_or_default();
    let volts = electric
        .curve
        .iter()
        .flat_map(|p| [Some(p.rest.get()), p.loaded.map(pack::Volts::get)])
        .flatten();
    let all: Vec<f64> = volts.chain(limits.iter().map(|l| l.0)).collect();
    let low = all.iter().copied().fold(f64::INFINITY, f64::min);
    let high = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if electric.curve.len() < 2 || high <= low {
        return Vec::new();
    }
    let row = |volts: f64| {
        let share = (high - volts) / (high - low);
        (share * (HIGH - 1) as f64).round().clamp(0.0, (HIGH - 1) as f64) as usize
    };
    let column = |charge: f64| (charge * (WIDE - 1) as f64).round().clamp(0.0, (WIDE - 1) as f64) as usize;
    let mut cells = vec![vec![' '; WIDE]; HIGH];
    for (limit, _) in &limits {
        cells[row(*limit)].fill('-');
    }
    for point in &electric.curve {
        if let Some(loaded) = point.loaded {
            cells[row(loaded.get())][column(point.charge)] = 'x';
        }
        cells[row(point.rest.get())][column(point.charge)] = 'o';
    }
    let mut lines: Vec<String> = cells
        .into_iter()
        .enumerate()
        .map(|(i, cells)| {
            let volts = high - (high - low) * i as f64 / (HIGH - 1) as f64;
            let limit = limits.iter().find(|(limit, _)| row(*limit) == i).map_or("", |l| l.1);
            format!("{volts:>6.0} V {}  {limit}", cells.into_iter().collect::<String>())
        })
        .collect();
    lines.push(format!("{:9}empty{:>w$}", "", "full", w = WIDE - 5));
    let peak = if electric.curve.iter().any(|p| p.loaded.is_some()) {
        "o at rest, x at the drive's peak amps"
    } else {
        "o at rest; enter peak amps and the modules' resistance for volts under load"
    };
    lines.push(format!("{:9}{peak}", ""));
    lines
}
