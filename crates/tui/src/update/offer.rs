//! Keys while layouts are offered.

use ratatui::crossterm::event::{KeyCode, KeyEvent};

use crate::model::{Model, Offer, Overlay};
use crate::pages::layout::hand;

/// A key while layouts are offered: choose one, look at it, take it over, or leave the job as it was.
pub(super) fn on_key(model: &mut Model, mut offer: Box<Offer>, key: KeyEvent, away: bool) {
    let n = offer.found.candidates.len();
    match key.code {
        _ if away => return model.tell("kept as it was"),
        KeyCode::Char('n' | 'N') => return model.tell("kept as it was"),
        KeyCode::Enter | KeyCode::Char('y' | 'Y') => return take_over(model, &offer),
        KeyCode::Right | KeyCode::Down => offer.shown = (offer.shown + 1) % n.max(1),
        KeyCode::Left | KeyCode::Up => offer.shown = (offer.shown + n.saturating_sub(1)) % n.max(1),
        KeyCode::Char(c @ '1'..='9') => {
            let asked = usize::from(c as u8 - b'1');
            if asked < n {
                offer.shown = asked;
            }
        }
        KeyCode::Char('v') => hand::next_view(model),
        KeyCode::Char('c') => hand::next_cavity(model),
        KeyCode::Char('z') => model.sheet.zoomed = !model.sheet.zoomed,
        KeyCode::Char('?') | KeyCode::F(1) => return lie_over(model, offer, Overlay::Help(0)),
        KeyCode::Char('!') => return lie_over(model, offer, Overlay::Findings(0)),
        _ => {}
    }
    model.overlay = Some(Overlay::Offer(offer));
}

/// Shows a long text; leaving it goes back to the offer.
fn lie_over(model: &mut Model, offer: Box<Offer>, text: Overlay) {
    model.behind = Some(offer);
    model.overlay = Some(text);
}

fn take_over(model: &mut Model, offer: &Offer) {
    let Some(candidate) = offer.found.candidates.get(offer.shown) else {
        return;
    };
    let words = if candidate.index == 0 {
        offer.found.proposal.words(&model.evaluation)
    } else {
        format!("layout {}, {} modules in all", offer.shown + 1, candidate.figures.count)
    };
    if model.apply(candidate.edit.clone()).is_ok() {
        model.tell(format!("{words}; u undoes"));
    }
}
