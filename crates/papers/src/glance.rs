//! A first look at a file: what it is, how large, and how it begins.

use crate::{Content, Paper};

/// What is seen of a file at a glance.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Glance {
    /// Its form, its sheets and its size, as `PDF, 3 sheets of 420 x 297 mm, 31 kB`.
    pub form: String,
    /// How it begins, when it is of words: no line is empty twice running.
    pub lines: Vec<String>,
}

/// Words of a sheet no farther apart in height than this, in its millimetres, stand in one line.
const ONE_LINE: f64 = 0.9;
/// The most lines that are kept.
const MOST: usize = 200;

/// A first look at `paper`.
pub fn glance(paper: &Paper) -> Glance {
    let bytes = paper.content.as_ref();
    let ending = paper.file_name.rsplit('.').next().unwrap_or_default();
    let mut form = match ending {
        "html" => "page to print".to_owned(),
        "md" | "txt" => "text".to_owned(),
        "csv" => "table".to_owned(),
        "pdf" | "svg" | "dxf" | "json" => ending.to_uppercase(),
        other => other.to_owned(),
    };
    let mut lines = Vec::new();
    match (&paper.content, ending) {
        (Content::Text(text), "html") => lines = begin(&words_of_html(text)),
        (Content::Text(text), "svg") => {
            if let Some(size) = size_of_svg(text) {
                form = format!("{form}, {size}");
            }
            lines = begin(&words_of_svg(text));
        }
        (Content::Text(_), "dxf") => form = format!("{form}, full size in mm"),
        (Content::Text(text), _) => lines = begin(text),
        (Content::Bytes(bytes), "pdf") => {
            let sheets = sheets_of_pdf(bytes);
            form = format!("{form}, {}", sheets_in_words(&sheets));
        }
        (Content::Bytes(_), _) => {}
    }
    let kilobytes = bytes.len().div_ceil(1000);
    Glance {
        form: format!("{form}, {kilobytes} kB"),
        lines,
    }
}

fn begin(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for line in text.lines().map(str::trim_end) {
        let is_gap = line.is_empty();
        if is_gap && lines.last().is_none_or(String::is_empty) {
            continue;
        }
        if lines.len() == MOST {
            break;
        }
        lines.push(line.to_owned());
    }
    if lines.last().is_some_and(String::is_empty) {
        lines.pop();
    }
    lines
}

/// The words of a page of ours: a line for each block or row of a table, cells two spaces apart, no pictures.
fn words_of_html(html: &str) -> String {
    let mut out = String::new();
    let mut rest = html;
    while let Some(open) = rest.find('<') {
        let (text, tag) = rest.split_at(open);
        push_words(&mut out, text);
        let end = tag.find('>').map_or(tag.len(), |end| end + 1);
        let name: String = tag[1..]
            .chars()
            .take_while(|c| c.is_ascii_alphanumeric() || *c == '/')
            .collect();
        rest = &tag[end..];
        match name.trim_start_matches('/') {
            inner @ ("head" | "style" | "svg" | "script") if !name.starts_with('/') => {
                let close = format!("</{inner}>");
                rest = rest.find(&close).map_or("", |at| &rest[at + close.len()..]);
            }
            "td" | "th" if name.starts_with('/') => out.push_str("  "),
            "h1" | "h2" | "h3" | "p" | "li" | "tr" | "table" | "section" | "div" | "ul" | "ol" | "br" | "caption"
            | "dt" | "dd" | "figcaption" => end_line(&mut out),
            _ => {}
        }
    }
    push_words(&mut out, rest);
    out
}

/// The words on a sheet of ours from the top down, those at one height in one line.
fn words_of_svg(svg: &str) -> String {
    let mut said: Vec<(f64, f64, String)> = Vec::new();
    for text in svg.split("<text ").skip(1) {
        let Some((tag, rest)) = text.split_once('>') else {
            continue;
        };
        let number = |name: &str| -> f64 {
            let value = tag.split_once(&format!("{name}=\"")).map_or("", |(_, value)| value);
            value
                .split('"')
                .next()
                .and_then(|number| number.parse().ok())
                .unwrap_or(0.0)
        };
        let mut words = String::new();
        push_words(&mut words, rest.split('<').next().unwrap_or_default());
        let at = tag.strip_prefix("x=\"").map_or_else(|| number(" x"), |_| number("x"));
        said.push((number(" y"), at, words));
    }
    said.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut out = String::new();
    let mut height = f64::NEG_INFINITY;
    for (y, _, words) in said {
        if y - height > ONE_LINE {
            end_line(&mut out);
            height = y;
        } else {
            out.push_str("  ");
        }
        out.push_str(&words);
    }
    out
}

fn end_line(out: &mut String) {
    while out.ends_with(' ') {
        out.pop();
    }
    if !out.is_empty() && !out.ends_with('\n') {
        out.push('\n');
    }
}

/// Adds text between two tags, runs of space as one.
fn push_words(out: &mut String, text: &str) {
    let plain = text
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&nbsp;", " ")
        .replace("&amp;", "&");
    for c in plain.chars() {
        let is_space = c.is_whitespace();
        if !is_space {
            out.push(c);
        } else if !out.is_empty() && !out.ends_with([' ', '\n']) {
            out.push(' ');
        }
    }
}

/// Width and height that a picture names, as `420 x 297 mm`.
fn size_of_svg(svg: &str) -> Option<String> {
    let head = &svg[..svg.find('>')?];
    let side = |name: &str| {
        let value = head.split_once(&format!(" {name}=\""))?.1;
        let number: f64 = value[..value.find('"')?].strip_suffix("mm")?.parse().ok()?;
        Some(number)
    };
    Some(sides([side("width")?, side("height")?]))
}

/// Two sides in millimetres, as the sheet is called: in inches where it is one of inches, as `17 x 11 in`.
fn sides(mm: [f64; 2]) -> String {
    // No sheet of the ISO series comes nearer to half inches than this.
    const WITHIN_MM: f64 = 0.3;
    let halves = mm.map(|side| (side / 12.7).round());
    let is_inches = mm
        .iter()
        .zip(halves)
        .all(|(side, half)| (side - half * 12.7).abs() < WITHIN_MM);
    let [wide, high] = if is_inches {
        halves.map(|half| half / 2.0)
    } else {
        mm.map(f64::round)
    };
    format!("{wide} x {high} {}", if is_inches { "in" } else { "mm" })
}

/// Width and height of each sheet of a PDF of ours, in millimetres.
///
/// Its sheets stand outside of what is packed, each with its `/MediaBox`.
fn sheets_of_pdf(bytes: &[u8]) -> Vec<[f64; 2]> {
    const BOX: &[u8] = b"/MediaBox [";
    let mut sheets = Vec::new();
    let mut rest = bytes;
    while let Some(at) = rest.windows(BOX.len()).position(|window| window == BOX) {
        rest = &rest[at + BOX.len()..];
        let end = rest.iter().position(|&byte| byte == b']').unwrap_or(rest.len());
        let numbers: Vec<f64> = String::from_utf8_lossy(&rest[..end])
            .split_whitespace()
            .filter_map(|word| word.parse().ok())
            .collect();
        if let [left, low, right, high] = numbers[..] {
            sheets.push([right - left, high - low].map(|points| points * 25.4 / 72.0));
        }
    }
    sheets
}

fn sheets_in_words(sheets: &[[f64; 2]]) -> String {
    let text = |mm: &[f64; 2]| sides(*mm);
    let Some(first) = sheets.first() else {
        return "no sheets".to_owned();
    };
    match (sheets.len(), sheets.iter().all(|sheet| text(sheet) == text(first))) {
        (1, _) => format!("1 sheet of {}", text(first)),
        (n, true) => format!("{n} sheets of {}", text(first)),
        (n, false) => format!("{n} sheets, the first {}", text(first)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(file_name: &str, content: &str) -> Paper {
        Paper {
            file_name: file_name.to_owned(),
            content: Content::Text(content.to_owned()),
        }
    }

    #[test]
    fn a_page_is_read_as_its_words_without_style_and_pictures() {
        let page = "<html><head><title>no</title><style>h1 { a: b }</style></head><body>\n<h1>Cut list: 3 &lt; 4</h1>\n\
                    <svg><text>no</text></svg><table><tr><th>mark</th><th>size</th></tr>\n<tr><td>A1</td>\n<td>46 3/8&quot;</td></tr></table>\
                    <p>one\n  two</p></body></html>";
        let seen = glance(&text("cut-list.html", page));
        assert_eq!(seen.lines, ["Cut list: 3 < 4", "mark  size", "A1  46 3/8\"", "one two"]);
        assert_eq!(seen.form, "page to print, 1 kB");
    }

    #[test]
    fn text_begins_as_it_is_with_single_gaps() {
        let seen = glance(&text("report.txt", "\n\none \n\n\n  two\n\n"));
        assert_eq!(seen.lines, ["one", "", "  two"]);
    }

    #[test]
    fn a_picture_tells_its_size() {
        let seen = glance(&text(
            "layout.svg",
            "<svg xmlns=\"x\" width=\"297mm\" height=\"210.4mm\"><g/></svg>",
        ));
        assert_eq!(seen.form, "SVG, 297 x 210 mm, 1 kB");
        assert!(seen.lines.is_empty());
    }

    #[test]
    fn a_sheet_is_read_from_the_top_down() {
        let sheet = "<svg><text x=\"40\" y=\"9\" font-size=\"2\">A1</text><text x=\"10\" y=\"9.5\">parts &amp; list</text>\
                     <text x=\"5\" y=\"2\">seen from above</text></svg>";
        let seen = glance(&text("drawing-box-sheet-1.svg", sheet));
        assert_eq!(seen.lines, ["seen from above", "A1  parts & list"]);
    }
}
