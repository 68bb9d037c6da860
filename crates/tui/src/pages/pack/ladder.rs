//! Every arrangement against the drive's window, as bars of volts on one scale: which fit and which stick out is seen at
//! one glance.

use job::PackResult;
use pack::Volts;
use pack::arrangement::{Choice, Objection};

/// Cells of the scale.
const WIDE: usize = 26;

/// The scale of the bars.
pub(super) struct Scale {
    low: f64,
    high: f64,
    window: Option<(Volts, Volts)>,
}

impl Scale {
    /// A scale that holds the window and what is shown.
    pub(super) fn of(window: Option<(Volts, Volts)>, shown: &[&Choice]) -> Self {
        let ends = shown
            .iter()
            .flat_map(|c| [c.figures.volts.empty.get(), c.figures.volts.full.get()]);
        let ends: Vec<f64> = ends
            .chain(window.iter().flat_map(|(a, b)| [a.get(), b.get()]))
            .collect();
        let low = ends.iter().copied().fold(f64::INFINITY, f64::min);
        let high = ends.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let edge = ((high - low) * 0.06).max(1.0);
        Self {
            low: low - edge,
            high: high + edge,
            window,
        }
    }

    /// The cell of a voltage.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "clamped to the cells of the scale"
    )]
    fn at(&self, volts: f64) -> usize {
        let share = (volts - self.low) / (self.high - self.low);
        (share * (WIDE - 1) as f64).round().clamp(0.0, (WIDE - 1) as f64) as usize
    }

    /// From empty to full as `=`, nominal as `|`, what sticks out of the window as `!`, the window's ends as brackets.
    pub(super) fn bar(&self, choice: &Choice) -> String {
        let volts = &choice.figures.volts;
        let (from, to, nominal) = (
            self.at(volts.empty.get()),
            self.at(volts.full.get()),
            self.at(volts.nominal.get()),
        );
        let window = self.window.map(|(a, b)| (self.at(a.get()), self.at(b.get())));
        let (too_low, too_high) = self
            .window
            .map_or((false, false), |(a, b)| (volts.empty < a, volts.full > b));
        (0..WIDE)
            .map(|cell| {
                let inside = (from..=to).contains(&cell);
                match window {
                    Some((low, _)) if inside && (cell < low || too_low && cell <= from) => '!',
                    Some((_, high)) if inside && (cell > high || too_high && cell >= to) => '!',
                    Some((low, _)) if cell == low => '[',
                    Some((_, high)) if cell == high => ']',
                    _ if inside && cell == nominal => '|',
                    _ if inside => '=',
                    _ => ' ',
                }
            })
            .collect()
    }

    /// The window's ends over the bars.
    pub(super) fn head(&self) -> String {
        match self.window {
            None => String::new(),
            Some((low, high)) => {
                let (from, to) = (self.at(low.get()), self.at(high.get()));
                let (low, high) = (format!("{} V", low.shown(0)), format!("{} V", high.shown(0)));
                let start = from.saturating_sub(low.len().saturating_sub(1) / 2);
                let gap = to.saturating_sub(start + low.len() + high.len() / 2).max(1);
                format!(
                    "{:13}{}{low}{}{high}  the drive",
                    "",
                    " ".repeat(start),
                    " ".repeat(gap)
                )
            }
        }
    }
}

/// `12s1p   96s`: modules in series and parallel, and cells in series.
pub(super) fn name(choice: &Choice) -> String {
    let a = choice.arrangement;
    format!(
        "{:<7}{:>4}s ",
        format!("{}s{}p", a.series, a.parallel),
        choice.figures.cells.0
    )
}

/// What is to say of a choice: its figures when it fits, what speaks against it when it does not; when something is not
/// known that it has to suit, that.
pub(super) fn verdict(pack: &PackResult, choice: &Choice) -> (&'static str, String) {
    let volts = &choice.figures.volts;
    let figures = format!(
        "{}-{} V {:.1} kWh",
        volts.empty.shown(0),
        volts.full.shown(0),
        choice.figures.energy.kwh()
    );
    // Of one that cannot work only what stops it: the rest helps nobody.
    let worst = choice.objections.first().map(Objection::grave);
    let grave = choice.objections.iter().filter(|o| Some(o.grave()) == worst);
    let why: Vec<String> = grave.map(Objection::words).collect();
    match (choice.fits(), why.is_empty()) {
        (true, true) if pack.unknown.is_some() => ("? ", format!("{figures}, {} over", choice.left_over)),
        (true, true) => ("ok", format!("{figures}, {} over", choice.left_over)),
        (true, false) => ("! ", format!("{figures}: {}", why.join("; "))),
        (false, _) => ("!!", why.join("; ")),
    }
}

/// What is worth a bar: the best that fit, then the nearest that do not, with one string, both ways.
pub(super) fn worth_showing(pack: &PackResult) -> Vec<&Choice> {
    let choices = &pack.choices;
    let fits: Vec<u32> = choices
        .iter()
        .filter(|c| c.fits())
        .map(|c| c.arrangement.series)
        .collect();
    let off = |c: &Choice| fits.iter().map(|s| s.abs_diff(c.arrangement.series)).min().unwrap_or(0);
    let mut near: Vec<&Choice> = choices
        .iter()
        .filter(|c| !c.fits() && c.arrangement.parallel == 1 && off(c) <= 2)
        .collect();
    near.sort_by_key(|c| (off(c), std::cmp::Reverse(c.arrangement.series)));
    choices.iter().filter(|c| c.fits()).chain(near).take(60).collect()
}
