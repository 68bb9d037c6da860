//! The pages: a sheet on each, or the bars of one section, with the cuts in their order.

use enclosure::nest::sheets::{Along, Cut, Cutting};
use job::Evaluation;
use job::nesting::{Nest, Nested, Nesting, place_text};
use plot::{Anchor, Base, Ink, Item, Layer, Orientation, Page, Path, Pen, Placement, Rect, Text};
use tape::Length;

use super::flat;
use super::label::{self, LEADING, Small};
use crate::page::paper::printer_paper;
use crate::page::{TEXT, THIN, fitted, wrapped};
use crate::{outline, shop, words};

/// The edge of the sheet or bar.
const STOCK: Ink = Ink::new(Pen::new(0.35, plot::Line::Continuous), Layer::new("STOCK"));
/// Cuts from edge to edge.
const CUT: Ink = Ink::new(Pen::new(0.25, plot::Line::LongDashDot), Layer::CUT);
/// What is worth keeping.
const KEEP: Ink = Ink::new(Pen::new(0.18, plot::Line::Dashed), Layer::new("OFFCUT"));
/// Edges of parts.
const PART: Ink = Ink::new(Pen::WIDE, Layer::CUT);

/// Round the page.
const MARGIN: f64 = 12.0;
/// How high words are.
const WORDS: f64 = 2.2;
/// How high a bar is drawn, whatever its section.
const BAR: f64 = 8.0;
/// From what is said of one bar to the next bar.
const BAR_AFTER: f64 = 5.0;
/// How high the words of where a bar is cut are.
const CUTS: f64 = 1.8;

/// What goes on one page.
enum Subject<'a> {
    Sheet(usize, &'a Nested, &'a Nest),
    Bars(&'a Nested, Vec<(usize, &'a Nest)>),
}

/// The pages in the order of the nests.
pub(super) fn pages(evaluation: &Evaluation, nesting: &Nesting, date: &str) -> Vec<Page> {
    let size = printer_paper(evaluation).size_mm(Orientation::Landscape);
    let room = Rect::new(MARGIN, MARGIN, size[0] - 2.0 * MARGIN, size[1] - 2.0 * MARGIN);
    let drafts: Vec<(String, Vec<Item>)> = subjects(nesting)
        .iter()
        .flat_map(|subject| match subject {
            Subject::Sheet(number, nested, nest) => sheet(evaluation, nesting, (*number, nested, nest), room),
            Subject::Bars(nested, bars) => bars_pages(evaluation, nesting, (*nested, bars), room),
        })
        .collect();
    let of = drafts.len();
    drafts
        .into_iter()
        .enumerate()
        .map(|(index, (title, items))| {
            let mut page = Page::new(size);
            // It is printed bold, which is wider than what is measured.
            let bold =
                Text::new(title.clone(), [0.0; 2], 1.0, TEXT).bold().width() / plot::text_width(&title, 1.0).max(1e-9);
            let (title, height) = fitted(&title, room.width / bold, [3.5, 2.2]);
            let top = room.high()[1] - 3.5;
            page.items
                .push(Text::new(title, [room.x, top], height, TEXT).bold().into());
            let said = format!("{}, {}", words::title(evaluation), words::plain(date));
            let sheet = format!("sheet {} / {of}", index + 1);
            // The number of the sheet stands at the end of the same line.
            let beside = room.width - plot::text_width(&sheet, WORDS) - 4.0;
            let (said, small) = fitted(&said, beside, [WORDS, 1.4]);
            page.items
                .push(Text::new(said, [room.x, top - LEADING * 1.4], small, TEXT).into());
            let sheet = Text::new(sheet, room.high(), WORDS, TEXT).anchored(Anchor::Right, Base::Baseline);
            page.items.push(
                Text {
                    at: [room.high()[0], top - LEADING * 1.4],
                    ..sheet
                }
                .into(),
            );
            page.items.extend(items);
            page
        })
        .collect()
}

/// How much of the top of the page its heading takes.
const HEAD: f64 = 14.0;

/// A sheet is a page or more; bars of one section go together.
fn subjects(nesting: &Nesting) -> Vec<Subject<'_>> {
    let mut subjects = Vec::new();
    let mut number = 0;
    for nested in nesting.stocks.iter().filter(|nested| !nested.nests.is_empty()) {
        let numbered: Vec<(usize, &Nest)> = (number + 1..).zip(&nested.nests).collect();
        number += nested.nests.len();
        if nested.is_bar {
            subjects.push(Subject::Bars(nested, numbered));
        } else {
            subjects.extend(numbered.into_iter().map(|(n, nest)| Subject::Sheet(n, nested, nest)));
        }
    }
    subjects
}

/// What stands at the foot of every page.
fn foot(evaluation: &Evaluation, nesting: &Nesting, room: Rect) -> Vec<Item> {
    let mut said: Vec<String> = shop::rests_on(nesting)
        .iter()
        .flat_map(|line| wrapped(line, room.width, 1.6))
        .collect();
    said.extend(wrapped(&crate::cautions().join(" "), room.width, 1.6));
    if evaluation.headline.assumed.cut {
        said.insert(0, words::ASSUMED_SIZES.to_owned());
    }
    said.iter()
        .rev()
        .enumerate()
        .map(|(index, line)| {
            #[expect(clippy::cast_precision_loss, reason = "a few lines")]
            let y = room.y + index as f64 * 2.6;
            Text::new(line.clone(), [room.x, y], 1.6, TEXT).into()
        })
        .collect()
}

/// How much of the page its foot takes: eight lines.
const fn foot_height() -> f64 {
    23.0
}

/// A sheet to scale with its parts, and the cuts in their order beside it and on as many pages more as they need.
fn sheet(
    evaluation: &Evaluation,
    nesting: &Nesting,
    (number, nested, nest): (usize, &Nested, &Nest),
    room: Rect,
) -> Vec<(String, Vec<Item>)> {
    let units = evaluation.units;
    let list: Vec<String> = nest
        .cuts
        .iter()
        .enumerate()
        .map(|(index, cut)| format!("{}  {}", index + 1, shop::cut_words(nested, cut, units)))
        .collect();
    let column = if list.is_empty() { 0.0 } else { 72.0 };
    let view = Rect::new(
        room.x,
        room.y + foot_height(),
        room.width - column,
        room.height - HEAD - foot_height(),
    );
    let (place, to_one, mut items) = laid(evaluation, nesting, (nested, nest), view);
    let mut taken: Vec<Rect> = items.iter().filter_map(words_at).collect();
    for (index, cut) in nest.cuts.iter().enumerate() {
        let drawn = cut_line(place, cut, index + 1, &taken);
        taken.extend(drawn.iter().filter_map(words_at));
        items.extend(drawn);
    }
    items.extend(foot(evaluation, nesting, room));
    let title = format!("{}, 1:{to_one:.0}", shop::heading(number, nested, nest, units));
    with_list(items, &list, &title, room, view)
}

/// The parts of a sheet with their marks and sizes and what is kept, in a view: from the sheet to the page, the scale as one to
/// so much, and what is drawn.
///
/// Marks that are led out of small pieces and the key to their sizes take room from the sheet, and on a smaller sheet more pieces
/// are small: it is drawn again until the room is enough.
fn laid(
    evaluation: &Evaluation,
    nesting: &Nesting,
    (nested, nest): (&Nested, &Nest),
    view: Rect,
) -> (Placement, f64, Vec<Item>) {
    const TRIES: usize = 4;
    let [length, width] = nest.piece.sides.map(Length::as_mm);
    let mut beside = [0.0; 2];
    let mut tries = 0;
    loop {
        tries += 1;
        let [above, below] = beside;
        let free = (view.height - above - below).max(view.height * 0.3);
        // One to a whole number, so that a scale rule serves.
        let to_one = (length / view.width).max(width / free).ceil().max(1.0);
        let scale = 1.0 / to_one;
        let top = view.high()[1] - above;
        let place = Placement::scaled(scale, [view.x, top - width * scale]);
        let (mut items, small) = pieces(evaluation, nesting, (nested, nest), place);
        let whole = Rect::new(view.x, top - width * scale, length * scale, width * scale);
        let [upper, lower] = small.split(whole);
        let led = |half: &Small| if half.is_led() { label::LED } else { 0.0 };
        let key_top = whole.y - led(&lower);
        let needs = [led(&upper), led(&lower) + small.key_height(view.width)];
        if tries < TRIES && (needs[0] > above || whole.y - needs[1] < view.y) {
            beside = [above.max(needs[0]), below.max(needs[1])];
            continue;
        }
        items.extend(upper.led(whole, whole.high()[1]));
        items.extend(lower.led(whole, whole.y));
        items.extend(small.key(view.x, key_top, view.width));
        return (place, to_one, items);
    }
}

/// A sheet with its parts and what is kept of it, and what has to be said of small ones beside it.
fn pieces(
    evaluation: &Evaluation,
    nesting: &Nesting,
    (nested, nest): (&Nested, &Nest),
    place: Placement,
) -> (Vec<Item>, Small) {
    let units = evaluation.units;
    let mut small = Small::default();
    let rect = |at: [Length; 2], sides: [Length; 2]| {
        let [x, y] = place.point(outline::mm(at));
        let [wide, high] = outline::mm(sides);
        Rect::new(x, y, wide * place.scale, high * place.scale)
    };
    let mut items = vec![Item::rect(rect([Length::ZERO; 2], nest.piece.sides), STOCK)];
    for part in &nest.parts {
        let outline = flat::line(evaluation, nesting, nested, part)
            .filter(|_| nesting.question.how.cutting == Cutting::Free)
            .map(|line| plot::Flat {
                notes: Vec::new(),
                ..flat::placed(line, part)
            });
        let whole = rect(part.at, part.sides);
        match outline {
            Some(flat) => items.push(Item::Placed {
                placement: place,
                items: flat.items(),
            }),
            None => items.push(Item::rect(whole, PART)),
        }
        let [wide, high] = part.sides.map(|side| place_text(side, units));
        let mark = words::mark(evaluation.headline.assumed.cut);
        items.extend(small.put(whole, &part.mark, &format!("{mark}{wide} x {high}")));
    }
    for offcut in &nest.offcuts {
        let whole = rect([offcut.x, offcut.y], offcut.sides);
        items.push(Item::rect(whole.grown(-0.4), KEEP));
        let [wide, high] = offcut.sides.map(|side| evaluation.down(side));
        items.extend(label::kept(whole, &format!("{wide} x {high}")));
    }
    (items, small)
}

/// The list of cuts in a column beside the view, and on as many pages as it needs.
fn with_list(items: Vec<Item>, list: &[String], title: &str, room: Rect, view: Rect) -> Vec<(String, Vec<Item>)> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "some tens of lines"
    )]
    let most = ((view.height / LEADING) as usize).max(2) - 1;
    let mut pages = vec![(title.to_owned(), items)];
    for (index, lines) in list.chunks(most).enumerate() {
        let (x, width) = if index == 0 {
            (view.high()[0] + 4.0, room.high()[0] - view.high()[0] - 4.0)
        } else {
            pages.push((format!("{title}, cuts continued"), Vec::new()));
            (room.x, room.width)
        };
        let Some((_, page)) = pages.last_mut() else { continue };
        let mut y = view.high()[1] - WORDS;
        page.push(
            Text::new("cuts in their order, near side", [x, y], WORDS, TEXT)
                .bold()
                .into(),
        );
        for line in lines {
            y -= LEADING;
            let (line, height) = fitted(line, width, [WORDS, 1.4]);
            page.push(Text::new(line, [x, y], height, TEXT).into());
        }
    }
    pages
}

/// Where an item has words.
fn words_at(item: &Item) -> Option<Rect> {
    matches!(item, Item::Text(_)).then(|| item.bounds()).flatten()
}

/// A cut with its number beside it, as near to its beginning as other words leave room.
fn cut_line(place: Placement, cut: &Cut, number: usize, taken: &[Rect]) -> [Item; 2] {
    /// From one place along the cut to the next that is tried.
    const STEP: f64 = 1.5;
    let [at, from, to] = [cut.at, cut.from, cut.to].map(Length::as_mm);
    let ends = match cut.along {
        Along::X => [[from, at], [to, at]],
        Along::Y => [[at, from], [at, to]],
    };
    let [from, to] = ends.map(|end| place.point(end));
    let text = |on: f64, side: f64| {
        let beside = match cut.along {
            Along::X => [from[0] + 1.2 + on, from[1] + 1.2 * side],
            Along::Y => [from[0] - 1.2 * side, from[1] + 1.6 + on],
        };
        Item::from(Text::new(number.to_string(), beside, 1.6, TEXT).anchored(Anchor::Middle, Base::Middle))
    };
    let long = (to[0] - from[0]).max(to[1] - from[1]);
    let steps = std::iter::successors(Some(0.0), |on| Some(on + STEP)).take_while(|on| *on == 0.0 || on + 2.0 < long);
    let mut places = steps.flat_map(|on| [text(on, 1.0), text(on, -1.0)]);
    let free = |item: &Item| words_at(item).is_none_or(|own| taken.iter().all(|other| own.common(*other).is_none()));
    let number = places.find(free).unwrap_or_else(|| text(0.0, 1.0));
    [Item::line(from, to, CUT), number]
}

/// Bars of one section under each other, their length to scale, on as many pages as they need.
fn bars_pages(
    evaluation: &Evaluation,
    nesting: &Nesting,
    (nested, bars): (&Nested, &[(usize, &Nest)]),
    room: Rect,
) -> Vec<(String, Vec<Item>)> {
    let title = format!("{}: {}", nested.label, nested.summary(evaluation.units));
    let top = room.high()[1] - HEAD;
    let lowest = room.y + foot_height();
    let mut pages = vec![Vec::new()];
    let mut y = top;
    for &(number, nest) in bars {
        let (mut items, mut low) = bar(evaluation, (number, nested, nest), room, y);
        if low < lowest && y < top {
            pages.push(Vec::new());
            (items, low) = bar(evaluation, (number, nested, nest), room, top);
        }
        y = low - BAR_AFTER;
        items.push(Item::line([room.x, low], [room.high()[0], low], THIN));
        pages.last_mut().into_iter().for_each(|page| page.append(&mut items));
    }
    let titled = pages
        .into_iter()
        .map(|items| (title.clone(), [items, foot(evaluation, nesting, room)].concat()));
    titled.collect()
}

/// A bar from a height down with where it is cut, and how low that reaches.
fn bar(
    evaluation: &Evaluation,
    (number, nested, nest): (usize, &Nested, &Nest),
    room: Rect,
    top: f64,
) -> (Vec<Item>, f64) {
    let units = evaluation.units;
    let scale = room.width / nested.longest.as_mm().max(1.0);
    let assumed = words::mark(evaluation.headline.assumed.cut);
    let said = shop::heading(number, nested, nest, units);
    let mut items = vec![Text::new(said, [room.x, top - WORDS], WORDS, TEXT).into()];
    let mut y = top - WORDS - 2.0 - BAR;
    let rect = |from: Length, long: Length| Rect::new(room.x + from.as_mm() * scale, y, long.as_mm() * scale, BAR);
    items.push(Item::rect(rect(Length::ZERO, nest.piece.sides[0]), STOCK));
    let mut small = Small::default();
    for part in &nest.parts {
        let whole = rect(part.at[0], part.sides[0]);
        items.push(Item::path(Path::rect(whole), PART));
        let size = format!("{assumed}{}", place_text(part.sides[0], units));
        items.extend(small.put(whole, &part.mark, &size));
    }
    for offcut in &nest.offcuts {
        let whole = rect(offcut.x, offcut.sides[0]);
        items.push(Item::rect(whole.grown(-0.4), KEEP));
        items.extend(label::kept(whole, &evaluation.down(offcut.sides[0])));
    }
    if small.is_led() {
        items.extend(small.led(Rect::new(room.x, y, room.width, BAR), y));
        y -= label::LED;
    }
    let ends: Vec<String> = nest.cuts.iter().map(|cut| place_text(cut.at, units)).collect();
    let cuts = format!("trim the end, then cut at {}", ends.join(", "));
    y -= 1.2;
    for line in wrapped(&cuts, room.width, CUTS) {
        y -= CUTS * 1.5;
        items.push(Text::new(line, [room.x, y], CUTS, TEXT).into());
    }
    items.extend(small.key(room.x, y - 0.6, room.width));
    y -= small.key_height(room.width);
    (items, y - 2.4)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every piece of every nest has its mark, high enough to be read at arm's length, on it or led out of it; its size stands
    /// on it or in the key, and no words lie on others or run off the page.
    #[test]
    fn small_pieces_are_read_at_arms_length() {
        let (mut led, mut faults) = (0, Vec::new());
        for mut job in crate::tests::in_every_way() {
            job.settings.sheets.paper = Some(job::PaperName::A4);
            let evaluation = job::evaluate(&job);
            let nesting = job::shopping::to_buy(&job, &evaluation).nesting;
            let sizes = evaluation.cut.list.tables.iter().flat_map(|table| &table.lines);
            let marks: Vec<&str> = sizes.map(|line| line.mark.as_str()).collect();
            for page in pages(&evaluation, &nesting, "") {
                let paper = Rect::new(0.0, 0.0, page.width_mm, page.height_mm).grown(-MARGIN + 2.0);
                let texts: Vec<(&Text, Rect)> = page
                    .items
                    .iter()
                    .filter_map(|item| match item {
                        Item::Text(text) => Some((text, item.bounds()?.grown(-0.35))),
                        _ => None,
                    })
                    .collect();
                let of_marks = texts.iter().filter(|(text, _)| marks.contains(&text.words.as_str()));
                for (text, _) in of_marks {
                    if text.height_mm < label::MARK {
                        faults.push(format!("{} is {} high", text.words, text.height_mm));
                    }
                    let own = texts.iter().any(|(other, _)| {
                        !std::ptr::eq(*other, *text) && other.words.starts_with(&format!("{}  ", text.words))
                    });
                    led += usize::from(own);
                }
                for (index, (text, space)) in texts.iter().enumerate() {
                    if paper.with(*space) != paper {
                        faults.push(format!("{} runs off the page", text.words));
                    }
                    for (other, its) in &texts[index + 1..] {
                        if space.common(*its).is_some() {
                            faults.push(format!("{}: {} / {}", evaluation.name, text.words, other.words));
                        }
                    }
                }
            }
        }
        assert!(led > 20, "some pieces are small");
        assert!(faults.is_empty(), "{} {faults:#?}", faults.len());
    }

    #[test]
    fn numbers_of_cuts_lie_on_no_other_words() {
        let mut numbers = 0;
        for name in job::EXAMPLES.iter().map(|example| example.name) {
            let mut sheared = crate::tests::job(name);
            sheared.stock.cutting = Some(job::CuttingName::Shear);
            let evaluation = job::evaluate(&sheared);
            let nesting = job::shopping::to_buy(&sheared, &evaluation).nesting;
            for page in pages(&evaluation, &nesting, "") {
                let texts: Vec<(&str, Rect)> = page
                    .items
                    .iter()
                    .filter_map(|item| match item {
                        Item::Text(text) => Some((text.words.as_str(), item.bounds()?)),
                        _ => None,
                    })
                    .collect();
                for (index, (number, own)) in texts.iter().enumerate() {
                    if number.parse::<u32>().is_err() {
                        continue;
                    }
                    numbers += 1;
                    for (other, its) in texts
                        .iter()
                        .enumerate()
                        .filter(|(at, _)| *at != index)
                        .map(|(_, text)| text)
                    {
                        assert!(own.common(*its).is_none(), "{name}: {number} / {other}");
                    }
                }
            }
        }
        assert!(numbers > 10, "cuts have numbers");
    }
}
