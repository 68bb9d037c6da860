//! The title block: the big facts of what is shown.

use job::Evaluation;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::title_block::TitleBlock;

pub(super) fn draw(model: &Model, area: Rect, buf: &mut Buffer) {
    let shown = model.shown();
    let facts = &shown.headline;
    let mark = |assumed: bool| if assumed { "~" } else { "" };
    let volts = facts.volts.map(|v| [v.empty, v.nominal, v.full].map(|v| v.shown(1)));
    let [empty, nominal, full] = volts.unwrap_or_else(|| ["-".to_owned(), "-".to_owned(), "-".to_owned()]);
    let empty = format!("{}{empty}", mark(facts.assumed.volts && facts.volts.is_some()));
    let pack = facts
        .arrangement
        .map_or(String::new(), |a| format!(" {}s{}p", a.series, a.parallel));
    let energy = facts.energy_kwh.map_or("-".to_owned(), |kwh| {
        format!("{}{kwh:.2} kWh{pack}", mark(facts.assumed.energy))
    });
    let mass = facts.mass_g.map_or("-".to_owned(), |g| {
        format!("{}{:.0} kg", mark(facts.assumed.mass), job::Grams(g).kg())
    });
    let (tightest, chance, at, short) = tightest(shown);
    let block = TitleBlock {
        volts: [&empty, &nominal, &full],
        energy: &energy,
        mass: &mass,
        tightest: &tightest,
        chance: &chance,
        tightest_at: &at,
        tightest_is: short,
        stops: crate::pages::ways::stops(model),
        cautions: facts.cautions,
        assumed: shown.assumptions.len(),
        theme: model.theme,
    };
    (&block).render(area, buf);
}

fn tightest(shown: &Evaluation) -> (String, String, String, Meaning) {
    match &shown.headline.tightest {
        None => ("-".to_owned(), String::new(), String::new(), Meaning::Plain),
        Some(t) => {
            let mark = if shown.headline.assumed.clearance { "~" } else { "" };
            let take = job::give_or_take(shown.style(), t.give_or_take);
            let size = format!("{mark}{} +-{take}", shown.down(t.clearance.distance));
            let fits = t
                .fits
                .map_or(String::new(), |chance| format!("{} fits", job::percent(chance)));
            let is = match (t.clearance.distance.is_negative(), t.clearance.is_short()) {
                (true, _) => Meaning::Stop,
                (false, true) => Meaning::Caution,
                (false, false) => Meaning::Plain,
            };
            // Where it is comes first: a name that is cut still tells the direction and the thing.
            (
                size,
                fits,
                format!("{} to {}, {}", t.clearance.face.name(), t.clearance.name, t.name),
                is,
            )
        }
    }
}
