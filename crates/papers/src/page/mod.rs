//! What all drawn pages share: pens, frame, title block, words and tables.

pub(crate) mod arrange;
pub(crate) mod flow;
pub(crate) mod paper;
pub(crate) mod sizes;
pub(crate) mod title;

use plot::{Ink, Item, Layer, Page, Pen, Rect};

use title::Title;

pub(crate) const TEXT: Layer = Layer::TEXT;
/// Sizes, leaders and rules.
pub(crate) const THIN: Ink = Ink::new(Pen::new(0.18, plot::Line::Continuous), TEXT);
/// Frames.
pub(crate) const FRAME: Ink = Ink::new(Pen::new(0.5, plot::Line::Continuous), TEXT);

/// The frame of a page: more room on the left, where it is filed.
pub(crate) fn frame([width, height]: [f64; 2]) -> Rect {
    Rect::between([20.0, 10.0], [width - 10.0, height - 10.0])
}

/// A page with its frame, what is drawn on it, and its title block.
pub(crate) fn framed(size: [f64; 2], items: Vec<Item>, title: &Title<'_>) -> Page {
    let frame = frame(size);
    let mut page = Page::new(size);
    page.items.push(Item::rect(frame, FRAME));
    page.items.extend(items);
    page.items.extend(title.items(frame));
    page
}

/// Words broken into lines of at most `width` millimetres; a longer word is cut off with dots.
pub(crate) fn wrapped(text: &str, width: f64, height: f64) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in &words_of(text) {
        let last = lines.last().map_or("", String::as_str);
        let longer = if last.is_empty() {
            word.clone()
        } else {
            format!("{last} {word}")
        };
        if plot::text_width(&longer, height) <= width {
            lines.pop();
            lines.push(longer);
        } else {
            lines.push(fitted(word, width, [height, height]).0);
        }
    }
    lines.retain(|line| !line.is_empty());
    lines
}

/// The words of a text; a length is one of them, `15 3/16"` as well as `385.0 mm`.
fn words_of(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let after_number = words
            .last()
            .is_some_and(|last| last.ends_with(|c: char| c.is_ascii_digit()));
        let goes_on = word.starts_with("mm") || (word.contains('/') && word.starts_with(|c: char| c.is_ascii_digit()));
        match words.last_mut() {
            Some(last) if after_number && goes_on => *last = format!("{last} {word}"),
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Words that fit `width`: first made lower, down to the second height, then cut off with dots.
pub(crate) fn fitted(text: &str, width: f64, [high, low]: [f64; 2]) -> (String, f64) {
    let whole = plot::text_width(text, high);
    if whole <= width {
        return (text.to_owned(), high);
    }
    let height = (high * width / whole).max(low);
    let mut words = text.to_owned();
    // Words made just as low as they have to be are not longer than the width, but for what a float rounds off.
    while plot::text_width(&words, height) > width * (1.0 + 1e-9) && !words.is_empty() {
        let mut chars: Vec<char> = words.trim_end_matches('…').chars().collect();
        chars.pop();
        words = chars.into_iter().collect::<String>() + "…";
        if words == "…" {
            break;
        }
    }
    (words, height)
}

/// Places as near as may be to those wanted, which rise, but a step apart, and within ends where all of them have room there.
pub(crate) fn spaced(wanted: &[f64], step: f64, [low, high]: [f64; 2]) -> Vec<f64> {
    // Runs of places that touch, each by its beginning and how many: a run lies about the middle of what it wants.
    let mut runs: Vec<(f64, Vec<f64>)> = Vec::new();
    let within = |start: f64, run: &[f64]| start.min(high - step * (count(run) - 1.0)).max(low);
    for &want in wanted {
        let mut run = (within(want, &[want]), vec![want]);
        while let Some((start, before)) = runs.pop() {
            if start + step * count(&before) <= run.0 {
                runs.push((start, before));
                break;
            }
            let all = [before, run.1].concat();
            let middle = all.iter().sum::<f64>() / count(&all);
            run = (within(middle - step * (count(&all) - 1.0) / 2.0, &all), all);
        }
        runs.push(run);
    }
    let places = |(start, run): (f64, Vec<f64>)| {
        let mut next = start - step;
        run.into_iter()
            .map(move |_| {
                next += step;
                next
            })
            .collect::<Vec<f64>>()
    };
    runs.into_iter().flat_map(places).collect()
}

fn count(run: &[f64]) -> f64 {
    f64::from(u32::try_from(run.len()).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_stays_on_one_line() {
        let lines = wrapped("37 1/2\" (953.0 mm) x 15 3/16\" (385.0 mm)", 18.0, 2.0);
        assert!(lines.len() > 2, "{lines:?}");
        assert!(lines[0].starts_with("37 1/2\""), "{lines:?}");
        assert!(lines.iter().any(|line| line.contains("15 3/16\"")), "{lines:?}");
        assert!(lines.iter().any(|line| line.contains("385.0 mm")), "{lines:?}");
    }
}
