//! The terminal as the drawing thread holds it.

use std::io::{self, BufWriter, Stdout, stdout};

use ratatui::backend::CrosstermBackend;
use ratatui::buffer::Buffer;
use ratatui::crossterm::style::force_color_output;
use ratatui::layout::{Rect, Size};
use ratatui::style::Color;
use ratatui::{Frame, Terminal};

use super::modes;

/// Room for one whole frame, so that it leaves in one piece.
const FRAME_BYTES: usize = 64 * 1024;

/// How the terminal is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Options {
    /// Whether colours may be written; bold, dim and reverse are written in any case.
    pub colour: bool,
    /// Whether the mouse reports to the program from the start.
    pub mouse: bool,
}

impl Options {
    /// Mouse on; colours unless the environment variable `NO_COLOR` is set to something.
    pub fn from_environment() -> Self {
        Self {
            colour: std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()),
            mouse: true,
        }
    }
}

/// The terminal while it is ours. Dropping it gives the terminal back, as do a panic and a deadly signal.
#[derive(Debug)]
pub struct Console {
    terminal: Terminal<CrosstermBackend<BufWriter<Stdout>>>,
    options: Options,
}

impl Console {
    /// Takes the terminal: raw mode, the alternate screen, pasted text marked as such, focus reports, the mouse.
    ///
    /// # Errors
    ///
    /// When there is no terminal or it cannot be switched; whatever had been switched is switched back.
    pub fn enter(options: Options) -> io::Result<Self> {
        modes::restore_on_panic();
        #[cfg(unix)]
        super::signals::watch()?;
        // Under NO_COLOR the library writes a full reset in place of a colour and so wipes out bold and reverse.
        // Colours are taken out of the cells instead, after drawing.
        force_color_output(true);
        modes::on(options.mouse)?;
        let out = BufWriter::with_capacity(FRAME_BYTES, stdout());
        match Terminal::new(CrosstermBackend::new(out)) {
            Ok(terminal) => Ok(Self { terminal, options }),
            Err(error) => {
                modes::leave();
                Err(error)
            }
        }
    }

    /// Draws one frame.
    ///
    /// # Errors
    ///
    /// When the terminal cannot be written to.
    pub fn draw(&mut self, view: impl FnOnce(&mut Frame)) -> io::Result<()> {
        let colour = self.options.colour;
        self.terminal
            .draw(|frame| {
                view(frame);
                if !colour {
                    reset_colours(frame.buffer_mut());
                }
            })
            .map(drop)
    }

    /// Draws everything anew with the next frame, for a screen that something else wrote on.
    ///
    /// Setting the size does this without asking the terminal for its cursor, which could wait for seconds.
    ///
    /// # Errors
    ///
    /// When the size cannot be read or the terminal cannot be written to.
    pub fn redraw(&mut self) -> io::Result<()> {
        let Size { width, height } = self.terminal.size()?;
        self.terminal.resize(Rect::new(0, 0, width, height))
    }

    /// Columns and rows of the window.
    ///
    /// # Errors
    ///
    /// When the size cannot be read.
    pub fn size(&self) -> io::Result<Size> {
        self.terminal.size()
    }

    /// Whether the mouse reports to the program.
    pub const fn mouse(&self) -> bool {
        self.options.mouse
    }

    /// Lets the mouse report to the program, or leaves it to the terminal's own text selection.
    ///
    /// # Errors
    ///
    /// When the terminal cannot be written to.
    pub fn set_mouse(&mut self, on: bool) -> io::Result<()> {
        self.options.mouse = on;
        modes::set_mouse(on)
    }

    /// Gives the terminal back, stops the program until the shell resumes it, and takes the terminal again.
    ///
    /// On systems that cannot stop a program this only draws everything anew.
    ///
    /// # Errors
    ///
    /// When the terminal cannot be taken again.
    pub fn suspend(&mut self) -> io::Result<()> {
        #[cfg(unix)]
        {
            modes::leave();
            let stopped = signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP);
            modes::on(self.options.mouse)?;
            stopped?;
        }
        self.redraw()
    }
}

impl Drop for Console {
    fn drop(&mut self) {
        modes::leave();
    }
}

/// Sets every cell back to the terminal's own colours; marks, weight and reverse stay.
pub fn reset_colours(buffer: &mut Buffer) {
    for cell in &mut buffer.content {
        cell.fg = Color::Reset;
        cell.bg = Color::Reset;
        cell.underline_color = Color::Reset;
    }
}
