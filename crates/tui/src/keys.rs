//! Keys are data: tables from key to command. The key bar and the help page print from the tables that drive them.

use ratatui::crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use crate::page::Page;

/// A named thing that a key does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// Shows the keys of this page with help.
    Help,
    /// Leaves the program, or goes back to the start page.
    Quit,
    /// Leaves the job for the start page.
    Another,
    /// Saves the job.
    Save,
    /// Saves the job under another name.
    SaveAs,
    /// Takes back the last edit.
    Undo,
    /// Does again what was taken back.
    Redo,
    /// The next page.
    NextPage,
    /// The page before.
    PreviousPage,
    /// Straight to a page.
    To(Page),
    /// Gives the mouse back to the terminal, or takes it again.
    Mouse,
    /// Stops the running task.
    Stop,
    /// What the program has to say, as a list.
    Findings,
    /// Up one row, or moves the selected thing up on the sheet.
    Up,
    /// Down one row, or moves the selected thing down on the sheet.
    Down,
    /// The choice before, or moves the selected thing left on the sheet.
    Left,
    /// The next choice, or moves the selected thing right on the sheet.
    Right,
    /// A page of rows up.
    PageUp,
    /// A page of rows down.
    PageDown,
    /// The first row.
    First,
    /// The last row.
    Last,
    /// The heading before.
    SectionUp,
    /// The next heading.
    SectionDown,
    /// Edits the value, opens the group, does what the row says.
    Enter,
    /// Takes the value away, so that its default holds.
    Clear,
    /// Confirms the assumed value.
    Confirm,
    /// Confirms every assumed value of the page.
    ConfirmAll,
    /// Changes where a reading was taken.
    Place,
    /// Decides on a reading that looks wrong: left out, or it stands.
    Decide,
    /// How a reading was taken.
    Taken,
    /// Another reading of the same line.
    Again,
    /// No tape passes along the line, or one does.
    Reach,
    /// States something of the line: level, plumb, parallel, square.
    State,
    /// More or less is told of each reading.
    Details,
    /// The picture, or the rows, where there is no room for both.
    Picture,
    /// Adds a cavity, kind, box or module, by page.
    Add,
    /// Adds a keep-out.
    AddKeepOut,
    /// Removes what is under the cursor.
    Remove,
    /// Works out a layout for the whole job.
    Fit,
    /// Asks what to lay out: the whole job, the cavity or the box.
    FitPart,
    /// Pins the module, or all of the box; or lets go again.
    Pin,
    /// Asks what to move apart.
    Spread,
    /// What one more module would take.
    Takes,
    /// The next module.
    Next,
    /// The module before.
    Previous,
    /// From the module to its box and back.
    Outer,
    /// The next cavity.
    Cavity,
    /// Looks from another side.
    View,
    /// Shows the whole cavity, or only the box.
    Zoom,
    /// A finer step.
    Finer,
    /// A coarser step.
    Coarser,
    /// Moves towards the viewer's left of the third direction (down in plan).
    Lower,
    /// Moves the other way along the third direction (up in plan).
    Higher,
    /// The next arrow moves until it touches.
    Touch,
    /// The next arrow moves until just the asked clearance is left.
    Keep,
    /// Moves until it touches, this way on the sheet.
    TouchNow(Toward),
    /// Turns to the next way the kind may stand.
    Turn,
    /// Moves the module to the next box.
    MoveToBox,
    /// Adds a box.
    AddBox,
    /// One module more in the stack.
    More,
    /// One module fewer in the stack.
    Fewer,
    /// The wiring on the sheet, or the layout again.
    Wiring,
    /// Works out the order of the wiring.
    Order,
    /// Moves the module one place nearer to the pack's minus.
    Earlier,
    /// Moves the module one place nearer to the pack's plus.
    Later,
    /// Keeps the module and the next one together, or lets them go.
    Lock,
    /// The leads leave at this box and side; the side after at each press.
    ExitHere,
    /// Proposes glands for the cables that leave boxes.
    Glands,
    /// Forgets the order of the wiring.
    Forget,
    /// Matches the tested units.
    Match,
    /// Reads a test sheet.
    ReadSheet,
    /// What is cut from which sheet and bar.
    Nests,
    /// Which way each box goes in.
    Ways,
    /// Adds a part of the bed.
    AddBedPart,
    /// Adds a sheet or bar on sale.
    AddStock,
    /// Adds an offcut on hand.
    AddOffcut,
    /// Adds a low point of the truck.
    AddPoint,
    /// Adds a load of the truck to a set.
    AddLoad,
    /// To the truck on the road, and back to the top.
    ToRoad,
    /// Writes the ticked papers.
    Write,
    /// Ticks the paper, or not.
    Tick,
    /// Ticks every paper, or none.
    TickAll,
    /// Notes what the shop gets, under the next letter.
    Issue,
    /// All that the last edit changed.
    Changed,
    /// Starts a new job.
    New,
    /// Opens a file.
    Open,
}

/// A direction on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Toward {
    /// To the left of the sheet.
    Left,
    /// To the right of the sheet.
    Right,
    /// To the top of the sheet.
    Up,
    /// To the bottom of the sheet.
    Down,
}

/// One row of a key table.
#[derive(Clone, Copy, Debug)]
pub struct Binding {
    /// The keys that do it.
    pub keys: &'static [Key],
    /// How the keys are shown.
    pub show: &'static str,
    /// What they do, in a word or two.
    pub words: &'static str,
    /// The command of the first key; arrows share one row with four commands.
    pub commands: &'static [Command],
    /// Whether the key bar shows it; help shows all.
    pub bar: bool,
}

/// A key with its modifiers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Key(pub KeyCode, pub KeyModifiers);

const fn key(code: KeyCode) -> Key {
    Key(code, KeyModifiers::NONE)
}

const fn ch(c: char) -> Key {
    key(KeyCode::Char(c))
}

const fn ctrl(c: char) -> Key {
    Key(KeyCode::Char(c), KeyModifiers::CONTROL)
}

const fn shift(code: KeyCode) -> Key {
    Key(code, KeyModifiers::SHIFT)
}

/// A row in which each key has its own command, or all keys share the only one.
const fn row(
    keys: &'static [Key],
    show: &'static str,
    words: &'static str,
    commands: &'static [Command],
    bar: bool,
) -> Binding {
    Binding {
        keys,
        show,
        words,
        commands,
        bar,
    }
}

const ARROWS: [Key; 4] = [
    key(KeyCode::Left),
    key(KeyCode::Right),
    key(KeyCode::Up),
    key(KeyCode::Down),
];
const FOUR: [Command; 4] = [Command::Left, Command::Right, Command::Up, Command::Down];

/// Keys of every page of an open job, except where the page has its own.
const EVERYWHERE: &[Binding] = &[
    row(&[key(KeyCode::Tab)], "Tab", "next page", &[Command::NextPage], true),
    row(
        &[key(KeyCode::BackTab), shift(KeyCode::BackTab)],
        "Shift-Tab",
        "page before",
        &[Command::PreviousPage],
        false,
    ),
    row(
        &[
            key(KeyCode::F(2)),
            key(KeyCode::F(3)),
            key(KeyCode::F(4)),
            key(KeyCode::F(5)),
            key(KeyCode::F(6)),
            key(KeyCode::F(7)),
            key(KeyCode::F(8)),
            key(KeyCode::F(9)),
        ],
        "F2 to F9",
        "straight to a page",
        &[
            Command::To(Page::Tape),
            Command::To(Page::Modules),
            Command::To(Page::Layout),
            Command::To(Page::Pack),
            Command::To(Page::Boxes),
            Command::To(Page::Papers),
            Command::To(Page::Units),
            Command::To(Page::Truck),
        ],
        false,
    ),
    row(&[ch('u')], "u", "undo", &[Command::Undo], true),
    row(&[ch('y')], "y", "redo", &[Command::Redo], false),
    row(&[ch('s')], "s", "save", &[Command::Save], true),
    row(&[ch('S')], "S", "save under another name", &[Command::SaveAs], false),
    row(&[ch('O')], "O", "another job", &[Command::Another], false),
    row(&[ch('!')], "!", "findings", &[Command::Findings], true),
    row(&[ch('f')], "f", "lay out", &[Command::Fit], false),
    row(&[ch('w')], "w", "what one more takes", &[Command::Takes], false),
    row(
        &[key(KeyCode::Esc)],
        "Esc",
        "stop the running task",
        &[Command::Stop],
        false,
    ),
    row(&[ch('M')], "M", "mouse on or off", &[Command::Mouse], false),
    row(&[ch('?'), key(KeyCode::F(1))], "?", "help", &[Command::Help], true),
    row(&[ch('q'), ctrl('c')], "q", "quit", &[Command::Quit], true),
];

const ROWS: Binding = row(&ARROWS, "arrows", "move, choose", &FOUR, false);
const ROW_PAGES: Binding = row(
    &[key(KeyCode::PageUp), key(KeyCode::PageDown)],
    "PgUp PgDn",
    "many rows",
    &[Command::PageUp, Command::PageDown],
    false,
);
const ROW_ENDS: Binding = row(
    &[key(KeyCode::Home), key(KeyCode::End)],
    "Home End",
    "first row, last row",
    &[Command::First, Command::Last],
    false,
);
const SECTIONS: Binding = row(
    &[ch('['), ch(']')],
    "[ ]",
    "section",
    &[Command::SectionUp, Command::SectionDown],
    true,
);
const ENTER: Binding = row(&[key(KeyCode::Enter)], "Enter", "edit", &[Command::Enter], true);
const CLEAR: Binding = row(
    &[key(KeyCode::Backspace)],
    "Backspace",
    "take the value away",
    &[Command::Clear],
    false,
);
const CONFIRM: Binding = row(&[ch('c')], "c", "confirm ~", &[Command::Confirm], true);
const CONFIRM_ALL: Binding = row(
    &[ch('C')],
    "C",
    "confirm every ~ of this page",
    &[Command::ConfirmAll],
    false,
);
const REMOVE: Binding = row(
    &[key(KeyCode::Delete), ch('x')],
    "x",
    "remove",
    &[Command::Remove],
    true,
);

const TAPE: &[Binding] = &[
    ROWS,
    ROW_PAGES,
    ROW_ENDS,
    SECTIONS,
    ENTER,
    CLEAR,
    row(&[ch('r')], "r", "tape it again", &[Command::Again], true),
    row(&[ch('e')], "e", "leave out / it stands", &[Command::Decide], true),
    row(&[ch('h')], "h", "how it was taken", &[Command::Taken], false),
    row(&[ch('n')], "n", "no tape passes here", &[Command::Reach], false),
    row(
        &[ch('l')],
        "l",
        "level, plumb, parallel, square",
        &[Command::State],
        false,
    ),
    row(&[ch('v')], "v", "picture or rows", &[Command::Picture], true),
    row(&[ch('d')], "d", "details", &[Command::Details], false),
    row(&[ch('p')], "p", "place of reading", &[Command::Place], false),
    row(&[ch('k')], "k", "add keep-out", &[Command::AddKeepOut], true),
    row(&[ch('a')], "a", "add cavity", &[Command::Add], true),
    REMOVE,
    CONFIRM,
    CONFIRM_ALL,
];

const MODULES: &[Binding] = &[
    ROWS,
    ROW_PAGES,
    ROW_ENDS,
    SECTIONS,
    ENTER,
    CLEAR,
    CONFIRM,
    CONFIRM_ALL,
    row(&[ch('a')], "a", "add kind", &[Command::Add], true),
    row(
        &[ch('x'), key(KeyCode::Delete)],
        "x",
        "remove kind",
        &[Command::Remove],
        true,
    ),
];

const PACK: &[Binding] = &[
    ROWS,
    ROW_PAGES,
    ROW_ENDS,
    SECTIONS,
    ENTER,
    CLEAR,
    CONFIRM,
    CONFIRM_ALL,
    row(&[ch('f')], "f", "lay out", &[Command::Fit], true),
    row(&[ch('l')], "l", "wiring", &[Command::Wiring], true),
];

const UNITS: &[Binding] = &[
    ROWS,
    ROW_PAGES,
    ROW_ENDS,
    SECTIONS,
    ENTER,
    CLEAR,
    row(&[ch('i')], "i", "read a test sheet", &[Command::ReadSheet], true),
    row(&[ch('m')], "m", "match", &[Command::Match], true),
    row(&[ch('a')], "a", "add unit", &[Command::Add], true),
    REMOVE,
];

const WIRING: &[Binding] = &[
    row(
        &ARROWS,
        "left right",
        "along the chain",
        &[Command::Previous, Command::Next, Command::Previous, Command::Next],
        true,
    ),
    row(
        &[ch('<'), ch('>')],
        "< >",
        "move it along",
        &[Command::Earlier, Command::Later],
        true,
    ),
    row(&[ch('t')], "t", "turn it round", &[Command::Turn], true),
    row(&[ch('i')], "i", "keep with the next", &[Command::Lock], true),
    row(&[ch('e')], "e", "leads leave here", &[Command::ExitHere], true),
    row(&[ch('f')], "f", "work out the order", &[Command::Order], true),
    row(
        &[ch('x'), key(KeyCode::Delete)],
        "x",
        "forget the order",
        &[Command::Forget],
        false,
    ),
    row(&[ch('v')], "v", "view", &[Command::View], false),
    row(&[ch('z')], "z", "zoom on the box", &[Command::Zoom], false),
    row(&[ch('c')], "c", "next cavity", &[Command::Cavity], true),
    row(&[ch('l')], "l", "layout", &[Command::Wiring], true),
];

const BOXES: &[Binding] = &[
    ROWS,
    ROW_PAGES,
    ROW_ENDS,
    SECTIONS,
    ENTER,
    CLEAR,
    row(&[ch('n')], "n", "nests", &[Command::Nests], true),
    row(&[ch('v')], "v", "picture or rows", &[Command::Picture], true),
    CONFIRM,
    CONFIRM_ALL,
    row(&[ch('a')], "a", "add fitting", &[Command::Add], true),
    row(&[ch('p')], "p", "propose glands", &[Command::Glands], false),
    row(&[ch('g')], "g", "add a part of the bed", &[Command::AddBedPart], false),
    row(&[ch('b')], "b", "add stock to buy", &[Command::AddStock], false),
    row(&[ch('o')], "o", "add an offcut", &[Command::AddOffcut], false),
    row(
        &[ch('d')],
        "d",
        "what the last edit changed",
        &[Command::Changed],
        false,
    ),
    REMOVE,
];

// What this page alone does stands first, so that a narrow key bar shows it.
const TRUCK: &[Binding] = &[
    row(&[ch('v')], "v", "view", &[Command::Picture], true),
    row(&[ch('a')], "a", "add component", &[Command::Add], true),
    row(&[ch('g')], "g", "road", &[Command::ToRoad], true),
    ROWS,
    ROW_PAGES,
    ROW_ENDS,
    SECTIONS,
    ENTER,
    CLEAR,
    CONFIRM,
    CONFIRM_ALL,
    row(&[ch('k')], "k", "add low point", &[Command::AddPoint], false),
    row(&[ch('j')], "j", "add a load to a set", &[Command::AddLoad], false),
    REMOVE,
];

const PAPERS: &[Binding] = &[
    row(
        &[key(KeyCode::Up), key(KeyCode::Down)],
        "up down",
        "another paper",
        &[Command::Up, Command::Down],
        false,
    ),
    row(
        &[key(KeyCode::PageUp), key(KeyCode::PageDown)],
        "PgUp PgDn",
        "read on in it",
        &[Command::PageUp, Command::PageDown],
        false,
    ),
    row(&[ch(' '), key(KeyCode::Enter)], "Space", "tick", &[Command::Tick], true),
    row(&[ch('w')], "w", "write the ticked", &[Command::Write], true),
    row(&[ch('a')], "a", "all or none", &[Command::TickAll], true),
    row(&[ch('i')], "i", "issue to the shop", &[Command::Issue], true),
];

const LAYOUT: &[Binding] = &[
    row(&ARROWS, "arrows", "nudge", &FOUR, true),
    row(
        &[ch('<'), ch('>')],
        "< >",
        "nudge in depth",
        &[Command::Lower, Command::Higher],
        false,
    ),
    row(
        &[ch('['), ch(']')],
        "[ ]",
        "step",
        &[Command::Finer, Command::Coarser],
        true,
    ),
    row(&[ch('n')], "n", "next", &[Command::Next], true),
    row(&[ch('p')], "p", "the one before", &[Command::Previous], false),
    row(&[ch('o')], "o", "its box", &[Command::Outer], true),
    row(
        &[ch('j')],
        "j",
        "then an arrow: move till it may touch",
        &[Command::Touch],
        false,
    ),
    row(
        &[ch('k')],
        "k",
        "then an arrow: move till margin or gap is sure",
        &[Command::Keep],
        false,
    ),
    row(
        &[
            shift(KeyCode::Left),
            shift(KeyCode::Right),
            shift(KeyCode::Up),
            shift(KeyCode::Down),
        ],
        "Shift-arrows",
        "move till it may touch",
        &[
            Command::TouchNow(Toward::Left),
            Command::TouchNow(Toward::Right),
            Command::TouchNow(Toward::Up),
            Command::TouchNow(Toward::Down),
        ],
        false,
    ),
    row(&[ch('t')], "t", "turn", &[Command::Turn], true),
    row(&[ch('a')], "a", "add", &[Command::Add], true),
    row(
        &[ch('x'), key(KeyCode::Delete)],
        "x",
        "remove",
        &[Command::Remove],
        true,
    ),
    row(
        &[ch('+'), ch('='), ch('-')],
        "+ -",
        "more or fewer in the stack",
        &[Command::More, Command::More, Command::Fewer],
        false,
    ),
    row(&[ch('b')], "b", "move to another box", &[Command::MoveToBox], false),
    row(&[ch('B')], "B", "add a box here", &[Command::AddBox], false),
    row(&[ch('f')], "f", "lay out", &[Command::Fit], true),
    row(
        &[ch('F')],
        "F",
        "lay out only this cavity or box",
        &[Command::FitPart],
        false,
    ),
    row(
        &[ch('i')],
        "i",
        "pin where it stands, or let go",
        &[Command::Pin],
        false,
    ),
    row(&[ch('d')], "d", "spread", &[Command::Spread], true),
    row(&[ch('w')], "w", "what one more takes", &[Command::Takes], true),
    row(&[ch('g')], "g", "ways in", &[Command::Ways], true),
    row(&[ch('v')], "v", "view", &[Command::View], true),
    row(&[ch('z')], "z", "zoom on the box", &[Command::Zoom], false),
    row(&[ch('l')], "l", "wiring", &[Command::Wiring], true),
    row(&[ch('c')], "c", "next cavity", &[Command::Cavity], true),
];

const START: &[Binding] = &[
    ROWS,
    row(&[key(KeyCode::Enter)], "Enter", "do it", &[Command::Enter], true),
    row(&[ch('n')], "n", "new job", &[Command::New], true),
    row(&[ch('o')], "o", "open a file", &[Command::Open], true),
    row(&[ch('M')], "M", "mouse on or off", &[Command::Mouse], false),
    row(&[ch('?'), key(KeyCode::F(1))], "?", "help", &[Command::Help], true),
    row(
        &[ch('q'), ctrl('c'), key(KeyCode::Esc)],
        "q",
        "quit",
        &[Command::Quit],
        true,
    ),
];

/// The keys that work on `page`, its own first.
pub fn table(page: Page) -> Vec<&'static Binding> {
    let own = match page {
        Page::Start => return START.iter().collect(),
        Page::Tape => TAPE,
        Page::Modules => MODULES,
        Page::Layout => LAYOUT,
        Page::Pack => PACK,
        Page::Boxes => BOXES,
        Page::Papers => PAPERS,
        Page::Units => UNITS,
        Page::Truck => TRUCK,
        Page::Wiring => WIRING,
    };
    let taken = |b: &&Binding| !own.iter().any(|o| o.keys.iter().any(|k| b.keys.contains(k)));
    own.iter().chain(EVERYWHERE.iter().filter(taken)).collect()
}

/// What `event` does on `page`.
pub fn command(page: Page, event: &KeyEvent) -> Option<Command> {
    // Shift is already in the character; only arrows and the like need it told.
    let modifiers = match event.code {
        KeyCode::Char(_) => event.modifiers - KeyModifiers::SHIFT,
        _ => event.modifiers,
    };
    let pressed = Key(event.code, modifiers);
    table(page).into_iter().find_map(|binding| {
        let at = binding.keys.iter().position(|&key| key == pressed)?;
        binding.commands.get(at).or(binding.commands.first()).copied()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_means_two_things_on_one_page() {
        for page in Page::ALL.into_iter().chain([Page::Start, Page::Wiring]) {
            let keys: Vec<Key> = table(page).iter().flat_map(|b| b.keys.iter().copied()).collect();
            for (i, key) in keys.iter().enumerate() {
                assert!(!keys[..i].contains(key), "{key:?} twice on {}", page.name());
            }
        }
    }

    #[test]
    fn keys_that_terminals_mix_up_are_unbound() {
        // Ctrl-I is Tab, Ctrl-M is Enter, Ctrl-H may be Backspace.
        for page in Page::ALL {
            for binding in table(page) {
                for key in binding.keys {
                    assert!(!"imh".chars().any(|c| *key == ctrl(c)), "{key:?}");
                }
            }
        }
    }

    #[test]
    fn every_row_has_one_command_or_one_for_each_key() {
        for page in Page::ALL.into_iter().chain([Page::Start, Page::Wiring]) {
            for binding in table(page) {
                assert!(
                    binding.commands.len() == 1 || binding.commands.len() == binding.keys.len(),
                    "{}",
                    binding.show
                );
            }
        }
    }
}
