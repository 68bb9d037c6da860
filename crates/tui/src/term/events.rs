//! Reading: everything that waits, in one batch, so that one frame answers it all.

use std::io;
use std::sync::mpsc::{self, Receiver, Sender};
use std::time::Duration;

use ratatui::crossterm::event::{self, MouseEventKind};

use crate::input::Input;

/// The most terminal events taken into one batch, so that a flood of them still lets the screen be drawn.
const BATCH: usize = 256;

/// Where workers send their reports; make one for each worker by cloning.
pub type Reports<W> = Sender<W>;

/// The stream of inputs: the terminal and the workers, merged.
#[derive(Debug)]
pub struct Events<W> {
    reports: Receiver<W>,
    sender: Reports<W>,
}

impl<W> Default for Events<W> {
    fn default() -> Self {
        let (sender, reports) = mpsc::channel();
        Self { reports, sender }
    }
}

impl<W> Events<W> {
    /// A stream with no worker yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Where a worker sends its reports.
    pub fn reports(&self) -> Reports<W> {
        self.sender.clone()
    }

    /// Waits until something happens and returns all that did, never empty.
    ///
    /// `patience` is asked before the reports are looked at: how long a report may lie unread while a worker is busy.
    /// It has to tell a time until the worker has sent its last report; a report sent later would lie unread until
    /// the next key. While it does, a batch of only [`Input::Tick`] comes at least so often. Mouse movements and sizes
    /// that a later one makes pointless are left out.
    ///
    /// # Errors
    ///
    /// When the terminal cannot be read.
    pub fn batch(&mut self, patience: impl Fn() -> Option<Duration>) -> io::Result<Vec<Input<W>>> {
        let mut batch = Vec::new();
        loop {
            let patience = patience();
            batch.extend(self.reports.try_iter().map(Input::Worker));
            let is_there = match patience {
                _ if !batch.is_empty() => event::poll(Duration::ZERO)?,
                Some(time) => event::poll(time)?,
                None => true,
            };
            if is_there {
                take(&mut batch)?;
                drain(&mut batch)?;
            } else if batch.is_empty() {
                batch.extend(self.reports.try_iter().map(Input::Worker));
                if batch.is_empty() {
                    batch.push(Input::Tick);
                }
            }
            if !batch.is_empty() {
                return Ok(batch);
            }
        }
    }
}

/// Takes what waits at the terminal without waiting for more.
fn drain<W>(batch: &mut Vec<Input<W>>) -> io::Result<()> {
    for _ in 1..BATCH {
        if !event::poll(Duration::ZERO)? {
            break;
        }
        take(batch)?;
    }
    Ok(())
}

/// Takes one event; waits for it if there is none.
fn take<W>(batch: &mut Vec<Input<W>>) -> io::Result<()> {
    if let Some(input) = Input::from_event(event::read()?) {
        if batch.last().is_some_and(|last| is_pointless_before(last, &input)) {
            batch.pop();
        }
        batch.push(input);
    }
    Ok(())
}

/// Whether `earlier` says nothing any more once `later` follows it directly.
fn is_pointless_before<W>(earlier: &Input<W>, later: &Input<W>) -> bool {
    match (earlier, later) {
        (Input::Resize(..), Input::Resize(..)) => true,
        (Input::Mouse(earlier), Input::Mouse(later)) => {
            earlier.kind == later.kind && matches!(later.kind, MouseEventKind::Moved | MouseEventKind::Drag(_))
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use ratatui::crossterm::event::{KeyModifiers, MouseButton, MouseEvent};
    use rstest::rstest;

    use super::*;

    fn mouse(kind: MouseEventKind, column: u16) -> Input<()> {
        Input::Mouse(MouseEvent {
            kind,
            column,
            row: 0,
            modifiers: KeyModifiers::NONE,
        })
    }

    #[rstest]
    #[case::moves(MouseEventKind::Moved, MouseEventKind::Moved, true)]
    #[case::drags(
        MouseEventKind::Drag(MouseButton::Left),
        MouseEventKind::Drag(MouseButton::Left),
        true
    )]
    #[case::another_button(
        MouseEventKind::Drag(MouseButton::Left),
        MouseEventKind::Drag(MouseButton::Right),
        false
    )]
    #[case::press_and_release(
        MouseEventKind::Down(MouseButton::Left),
        MouseEventKind::Up(MouseButton::Left),
        false
    )]
    #[case::two_presses(
        MouseEventKind::Down(MouseButton::Left),
        MouseEventKind::Down(MouseButton::Left),
        false
    )]
    #[case::two_wheel_steps(MouseEventKind::ScrollDown, MouseEventKind::ScrollDown, false)]
    fn only_positions_are_replaced_by_later_ones(
        #[case] earlier: MouseEventKind,
        #[case] later: MouseEventKind,
        #[case] pointless: bool,
    ) {
        assert_eq!(is_pointless_before(&mouse(earlier, 1), &mouse(later, 2)), pointless);
    }

    #[test]
    fn a_report_needs_no_terminal_to_be_heard() {
        let events = Events::new();
        events.reports().send(7).expect("the receiver lives");
        assert_eq!(events.reports.try_iter().collect::<Vec<_>>(), [7]);
    }
}
