//! The wiring on the sheet: going along the chain, moving, turning, locking, working the order out.

use job::wiring::Ordered;
use job::{Edit, FaceName, Seat, WiringEdit, WiringResult};
use ratatui::crossterm::event::{KeyCode, KeyEvent};

use super::tasks;
use crate::keys::Command;
use crate::model::{Effect, Model, Overlay};
use crate::pages::layout::hand;
use crate::pages::wiring;
use crate::task::Task;

/// Does what `command` says on the Wiring page.
pub(super) fn carry_out(model: &mut Model, command: Command) -> Vec<Effect> {
    match command {
        Command::View => hand::next_view(model),
        Command::Zoom => model.sheet.zoomed = !model.sheet.zoomed,
        Command::Cavity => hand::next_cavity(model),
        Command::Order => return order(model),
        _ => on_chain(model, command),
    }
    Vec::new()
}

fn order(model: &mut Model) -> Vec<Effect> {
    match wiring::kind(model) {
        Some(kind) => tasks::start(model, Task::Order(kind)),
        None => {
            model.refuse("nothing is wired yet: lay a whole pack out first");
            Vec::new()
        }
    }
}

fn on_chain(model: &mut Model, command: Command) {
    let Some((chain, here)) = wiring::chain(model).map(|w| (w.clone(), model.link.min(w.seats.len() - 1))) else {
        return model.tell("nothing is wired yet: lay a whole pack out first");
    };
    let last = chain.seats.len() - 1;
    match command {
        Command::Next => go(model, &chain, (here + 1).min(last)),
        Command::Previous => go(model, &chain, here.saturating_sub(1)),
        Command::Later if here < last => swap(model, &chain, here, here + 1),
        Command::Earlier if here > 0 => swap(model, &chain, here, here - 1),
        Command::Turn => {
            let seat = &chain.seats[here];
            if seat.may_turn {
                take(model, &chain, Some(seat.seat), |_| {});
            } else {
                model.refuse(format!(
                    "{} cannot be turned round: half a turn would not swap its terminals, or it may not stand so",
                    seat.seat
                ));
            }
        }
        Command::Lock if here < last => {
            let pair = [chain.seats[here].seat, chain.seats[here + 1].seat];
            let locked = !model.job().wiring.locks.contains(&pair);
            let joined = chain.links.iter().any(|l| l.touches(here) && l.touches(here + 1));
            if locked && !joined {
                model.refuse(format!("no link joins {} to {}: a string ends there", pair[0], pair[1]));
                return;
            }
            let _ = model.apply(Edit::Wiring(WiringEdit::Lock { pair, locked }));
        }
        Command::ExitHere => exit_here(model, &chain, here),
        Command::Forget => {
            let _ = model.apply(Edit::Wiring(WiringEdit::Forget));
        }
        _ => {}
    }
}

/// Puts the selection on a place of the chain, and shows its cavity.
fn go(model: &mut Model, chain: &WiringResult, to: usize) {
    model.link = to;
    model.sheet.cavity = Some(chain.seats[to].cavity);
    model.sheet.selected = Some(crate::pages::layout::Thing::Module(chain.seats[to].seat.placed));
    model.tell(wiring::seat_words(chain, to));
}

/// The selection on a place that is there, its cavity shown.
pub(super) fn settle(model: &mut Model) {
    if let Some(chain) = wiring::chain(model).cloned()
        && model.page == crate::page::Page::Wiring
    {
        let selected = match model.sheet.selected {
            Some(crate::pages::layout::Thing::Module(id)) => chain.seats.iter().position(|s| s.seat.placed == id),
            _ => None,
        };
        let to = selected.unwrap_or(model.link).min(chain.seats.len() - 1);
        go(model, &chain, to);
    }
}

fn swap(model: &mut Model, chain: &WiringResult, here: usize, there: usize) {
    take(model, chain, None, |order| order.swap(here, there));
    model.link = there;
}

/// Takes the chain as it is shown over, with a change: from then on it is the person's.
fn take(model: &mut Model, chain: &WiringResult, turn: Option<Seat>, change: impl FnOnce(&mut Vec<Seat>)) {
    let mut order: Vec<Seat> = chain.seats.iter().map(|s| s.seat).collect();
    change(&mut order);
    let turned = chain
        .seats
        .iter()
        .filter(|s| s.turned != (Some(s.seat) == turn))
        .map(|s| s.seat)
        .collect();
    // A refusal is already told in the message line.
    let _ = model.apply(Edit::Wiring(WiringEdit::Order { order, turned }));
}

/// The leads leave at this module's box; each press takes the next side, then none.
fn exit_here(model: &mut Model, chain: &WiringResult, here: usize) {
    const SIDES: [FaceName; 4] = [FaceName::Front, FaceName::Rear, FaceName::Left, FaceName::Right];
    let id = chain.seats[here].battery_box;
    let wiring = &model.job().wiring;
    let now = wiring.exit_side.filter(|_| wiring.exit_box == Some(id));
    let next = match now {
        None => Some(SIDES[0]),
        Some(side) => SIDES
            .iter()
            .position(|s| *s == side)
            .and_then(|i| SIDES.get(i + 1).copied()),
    };
    let _ = model.apply(Edit::Wiring(WiringEdit::ExitAt(next.map(|side| (id, side)))));
}

/// A key while orders are offered.
pub(super) fn on_orders(model: &mut Model, orders: Box<[Ordered; 2]>, at: usize, key: KeyEvent, away: bool) {
    let taken = match key.code {
        _ if away => return model.tell("the order stays as it was"),
        KeyCode::Enter => Some(at),
        KeyCode::Char('1') => Some(0),
        KeyCode::Char('2') => Some(1),
        _ => None,
    };
    match (taken, key.code) {
        (Some(which), _) => {
            let _ = model.apply(Edit::Wiring(orders[which].edit.clone()));
            settle(model);
        }
        (None, KeyCode::Up) => model.overlay = Some(Overlay::Orders(orders, 0)),
        (None, KeyCode::Down) => model.overlay = Some(Overlay::Orders(orders, 1)),
        _ => model.overlay = Some(Overlay::Orders(orders, at)),
    }
}
