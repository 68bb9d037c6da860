//! The panel beside the sheet: what is selected, its clearances, and what there is to say of it.

use geometry::Face;
use job::{BoxResult, ClearanceResult, Evaluation, Id, SixClearances, Subject};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use tape::Length;

use super::{Reach, Thing};
use crate::model::{Model, finding_meaning};
use crate::theme::Meaning;
use crate::widgets::pen::{Pen, cut, width};
use crate::widgets::toast::wrap;

/// One line of the panel.
type Line = (String, Meaning);

/// What gives way in a small window, the first of these first: clearances move with every key, so they stay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Extra {
    /// The box that a module is in, which is named again over the box's clearances.
    InBox,
    /// Where it is.
    Place,
    /// What the clearances are told in, which the size tells too.
    Unit,
    /// That it is pinned, which the sheet shows.
    Pin,
    /// How large it is.
    Size,
}

impl Extra {
    const ALL: [Self; 5] = [Self::InBox, Self::Place, Self::Unit, Self::Pin, Self::Size];

    /// What is not seen without it; `None` where that stands elsewhere in the window.
    const fn lost(self) -> Option<&'static str> {
        match self {
            Self::Place => Some("place"),
            Self::Size => Some("size"),
            Self::InBox | Self::Unit | Self::Pin => None,
        }
    }
}

/// Lines with what each may give way as.
type Lines = Vec<(Line, Option<Extra>)>;

/// Takes out what gives way until there are no more lines than `most`, and names what is not seen then.
fn give_way(lines: &mut Lines, most: usize) -> Vec<&'static str> {
    let mut lost = Vec::new();
    for extra in Extra::ALL {
        let all = lines.len();
        if all <= most {
            break;
        }
        lines.retain(|(_, own)| *own != Some(extra));
        lost.extend(extra.lost().filter(|_| lines.len() < all));
    }
    lost
}

/// Draws the panel into `area`, with a bar at its left.
pub(super) fn draw(model: &Model, area: Rect, buf: &mut Buffer) {
    let rows = usize::from(area.height);
    let mut selected = selected_lines(model, area.width);
    let (found, findings) = finding_lines(model, area.width);
    let is_full = selected.len() + found.len() > rows;
    let lost = if is_full {
        give_way(&mut selected, rows.saturating_sub(1))
    } else {
        Vec::new()
    };
    // The line of the panel that each finding begins in.
    let begins: Vec<usize> = findings.into_iter().map(|at| selected.len() + at).collect();
    let unseen = selected.len().saturating_sub(rows.saturating_sub(1));
    let mut lines: Vec<Line> = selected.into_iter().map(|(line, _)| line).chain(found).collect();
    if is_full && rows > 0 {
        let left = begins.iter().filter(|at| **at >= rows - 1).count();
        lines.truncate(rows - 1);
        let more = match (unseen, lost.is_empty()) {
            (1.., _) => format!("{unseen} more lines"),
            (_, false) => format!("left out: {}", lost.join(", ")),
            (_, true) => String::new(),
        };
        lines.push((last_line(&more, left, area.width), Meaning::Dim));
    }
    let mut pen = Pen::new(buf, area, model.theme);
    let bar = model.theme.glyphs().light.down;
    for (y, i) in (area.top()..area.bottom()).zip(0..) {
        pen.text(area.x - 1, y, bar, model.theme.style(Meaning::Dim));
        if let Some((text, meaning)) = lines.get(i) {
            pen.text(area.x, y, &cut(text, area.width), model.theme.style(*meaning));
        }
    }
}

/// What a full panel ends with: what is not seen of the selected thing, and how many findings do not begin in it.
fn last_line(unseen: &str, findings: usize, columns: u16) -> String {
    match (unseen, findings) {
        ("", 0) => "! shows the rest".to_owned(),
        ("", 1) => "1 more finding: ! shows".to_owned(),
        ("", n) => format!("{n} more findings: ! shows"),
        (unseen, 0) => unseen.to_owned(),
        (unseen, n) => {
            let text = format!("{unseen}; ! {n}");
            let more = format!("{text} more");
            if width(&more) > columns { text } else { more }
        }
    }
}

/// What is selected, where it stands, and its six clearances with their neighbours.
fn selected_lines(model: &Model, width: u16) -> Lines {
    let shown = model.shown();
    let selected = model.sheet.selected_in(shown);
    let mut lines = match selected {
        None => vec![(("nothing selected".to_owned(), Meaning::Dim), None)],
        Some(Thing::Box(id)) => shown
            .battery_box(id)
            .map_or_else(Lines::new, |b| box_lines(shown, b, width)),
        Some(Thing::Module(id)) => module_lines(model, id, width),
    };
    if let Some(around) = model.sheet.around(shown) {
        let unit = format!("clear, {}", unit(shown));
        lines.push(((unit, Meaning::Dim), Some(Extra::Unit)));
        lines.extend(six_lines(shown, around, width).map(kept));
        let is_corner = around.faces.iter().all(|c| c.distance > around.nearest.distance);
        if is_corner {
            lines.push(kept(clearance_line(shown, &around.nearest, "corner", width)));
        }
    }
    // For a module, the box's own tightest clearance moves with it: that is what the nudging is for.
    let of_box = match selected {
        Some(Thing::Module(_)) => model.sheet.battery_box(shown).and_then(|id| shown.battery_box(id)),
        _ => None,
    };
    match of_box.and_then(|b| Some((b, b.around.as_ref()?))) {
        Some((b, around)) => {
            lines.push(kept((format!("{}:", b.name), Meaning::Heading)));
            lines.extend(six_lines(shown, around, width).map(kept));
        }
        // The box is named nowhere else.
        None => {
            for (_, extra) in &mut lines {
                *extra = extra.filter(|extra| *extra != Extra::InBox);
            }
        }
    }
    let reach = match model.sheet.reach {
        None => format!("step {}", shown.near(model.sheet.nudge(shown.units))),
        Some(Reach::Touch) => "arrow: till it may touch".to_owned(),
        Some(Reach::Keep) => "arrow: margin or gap, sure".to_owned(),
    };
    lines.push(kept((reach, Meaning::Key)));
    lines
}

/// A line that does not give way.
const fn kept(line: Line) -> (Line, Option<Extra>) {
    (line, None)
}

fn box_lines(shown: &Evaluation, b: &BoxResult, width: u16) -> Lines {
    let mut lines: Lines = said(width, &b.name, Meaning::Heading).map(kept).collect();
    if let Some(built) = &b.built {
        let size = said(width, &size_words(shown, built.body), Meaning::Plain);
        lines.extend(size.map(|line| (line, Some(Extra::Size))));
    }
    if let Some(step) = &b.step {
        let [run, rise] = [step.run, step.rise].map(|length| shown.near(length));
        let words = format!("step at {}: {run} in, {rise} up", step.at.name());
        lines.extend(said(width, &words, Meaning::Dim).map(kept));
    }
    let mass = format!("{:.0} kg loaded", job::Grams(b.mass.total_g()).kg());
    lines.push(kept((mass, Meaning::Plain)));
    if let Some(body) = &b.body {
        let at = said(width, &at_words(shown, body.lo()), Meaning::Dim);
        lines.extend(at.map(|line| (line, Some(Extra::Place))));
    }
    lines
}

fn module_lines(model: &Model, id: Id, width: u16) -> Lines {
    let shown = model.shown();
    let Some((b, m)) = shown.module(id) else {
        return Lines::new();
    };
    let kind = shown.kind(m.kind).map_or("", |k| k.name.as_str());
    let count = if m.count > 1 {
        format!(" x {}", m.count)
    } else {
        String::new()
    };
    let mut lines = vec![kept((format!("{}  {kind}{count}", m.label), Meaning::Heading))];
    let mut say = |text: &str, meaning: Meaning, extra: Extra| {
        lines.extend(said(width, text, meaning).map(|line| (line, Some(extra))));
    };
    say(&format!("in {}", b.name), Meaning::Plain, Extra::InBox);
    say(&size_words(shown, m.cuboid.size().0), Meaning::Plain, Extra::Size);
    say(&at_words(shown, m.cuboid.lo()), Meaning::Dim, Extra::Place);
    if m.pinned {
        let pin = model.theme.glyphs().pin;
        say(&format!("{pin} pinned: stays where it is"), Meaning::Plain, Extra::Pin);
    }
    lines
}

fn six_lines(shown: &Evaluation, around: &SixClearances, width: u16) -> impl Iterator<Item = Line> {
    Face::ALL
        .into_iter()
        .map(move |face| clearance_line(shown, &around.faces[face.index()], face.name(), width))
}

/// Text over as many lines as it takes, those after the first set in.
fn said(columns: u16, text: &str, meaning: Meaning) -> impl Iterator<Item = Line> + use<> {
    let lines = if width(text) <= columns {
        vec![text.to_owned()]
    } else {
        wrap(text, columns.saturating_sub(2))
    };
    let set_in = move |(i, line)| (if i == 0 { line } else { format!("  {line}") }, meaning);
    lines.into_iter().enumerate().map(set_in)
}

fn size_words(shown: &Evaluation, size: [Length; 3]) -> String {
    let [x, y, z] = size.map(|l| shown.style().near_bare(l));
    format!("{x} x {y} x {z} {}", unit(shown))
}

fn at_words(shown: &Evaluation, at: geometry::Point) -> String {
    let [x, y, z] = at.0.map(|l| shown.style().near_bare(l));
    format!("at {x}, {y}, {z} {}", unit(shown))
}

/// The unit of the panel's numbers, told once a line.
const fn unit(shown: &Evaluation) -> &'static str {
    match shown.units {
        tape::Units::Inch => "in",
        tape::Units::Millimetre => "mm",
    }
}

/// Columns from which a clearance is told with its give or take.
const WIDE: u16 = 32;

/// `ok left    1/2"  right wall`.
fn clearance_line(shown: &Evaluation, clearance: &ClearanceResult, name: &str, width: u16) -> Line {
    let (mark, meaning) = match (clearance.distance.is_negative(), clearance.is_short()) {
        (true, _) => ("!!", Meaning::Stop),
        (false, true) => ("! ", Meaning::Caution),
        (false, false) => ("  ", Meaning::Plain),
    };
    let take = job::give_or_take(
        shown.style(),
        Length::from_mm_up(clearance.sigma.as_mm() * shown.sigmas),
    );
    let take = if clearance.sigma > Length::ZERO && width >= WIDE {
        format!(" +-{}", take.trim_end_matches(['"', 'm', ' ']))
    } else {
        String::new()
    };
    let text = format!(
        "{mark}{name:<6}{:>8}{take} {}",
        shown.style().down_bare(clearance.distance),
        clearance.name
    );
    (cut(&text, width), meaning)
}

/// What the program has to say of what is selected, then of the rest, the gravest first; and the line that each of it
/// begins in.
fn finding_lines(model: &Model, width: u16) -> (Vec<Line>, Vec<usize>) {
    let shown = model.shown();
    let subject = match model.sheet.selected_in(shown) {
        Some(Thing::Box(id)) => Some(Subject::Box(id)),
        Some(Thing::Module(id)) => Some(Subject::Module(id)),
        None => None,
    };
    let grave = shown.findings.iter().filter(|f| f.grave != job::Grave::Note);
    let (own, other): (Vec<_>, Vec<_>) = grave.partition(|f| Some(f.subject) == subject);
    let (mut lines, mut begins) = (Vec::new(), Vec::new());
    for finding in own.into_iter().chain(other) {
        begins.push(lines.len());
        let meaning = finding_meaning(finding);
        let text = format!("{} {}: {}", meaning.mark(), finding.name, finding.words);
        lines.extend(said(width, &text, meaning));
    }
    (lines, begins)
}
