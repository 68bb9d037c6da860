//! The dossier: one page with everything that has to be shown, bound in the order in which it is asked for.

use std::fmt::Write as _;

use drawing::svg::escape;
use job::Evaluation;

use crate::Paper;
use crate::html::page::{Cell, Page};

/// The pages that are bound in, in this order.
const BOUND: [&str; 11] = [
    "weight-sheet.html",
    "strength.html",
    "inspector.html",
    "test-sheet.html",
    "wiring.html",
    "way-in.html",
    "lift-plan.html",
    "weld-map.html",
    "range-sheet.html",
    "cut-list.html",
    "changes.html",
];
/// How the names of the pictures begin that follow them.
const PICTURES: [&str; 2] = ["drawing-", "layout-"];

/// What to photograph, and when: some of it nobody can take again later.
const PHOTOS: [(&str, &str); 10] = [
    (
        "before work",
        "the truck from all four sides, and the plate with its ratings",
    ),
    ("before work", "each tyre's side wall: size and load index"),
    ("before work", "the weighbridge ticket, each axle by itself"),
    (
        "before paint",
        "each box's welds, bare, with its mark; the hole of each frame bolt",
    ),
    (
        "before modules go in",
        "each box empty, with liner, drain and earth bond",
    ),
    ("before links go on", "each box with its modules in, labels readable"),
    ("before the lid goes on", "each box with links, covers and torque marks"),
    (
        "before the bed goes on",
        "each box in its place: brackets, bolts, cables with glands and clips",
    ),
    (
        "before the bed goes on",
        "fuse, contactors, pre-charge and disconnect with their rating plates",
    ),
    (
        "at the end",
        "each meter reading with the meter in the picture, and the weighbridge ticket after",
    ),
];

/// The dossier of these papers; `date` is printed as given.
///
/// Pages are bound in as they are, each from its heading on, drawings as pictures of their own: what one page names does
/// not mix with what another does.
pub(crate) fn dossier_html(evaluation: &Evaluation, papers: &[Paper], date: &str) -> String {
    let text = |name: &str| papers.iter().find(|p| p.file_name == name)?.content.text();
    let pages: Vec<(&str, &str)> = BOUND
        .iter()
        .filter_map(|name| Some((*name, body(text(name)?)?)))
        .collect();
    let pictures: Vec<&Paper> = PICTURES
        .iter()
        .flat_map(|begins| papers.iter().filter(|p| p.file_name.starts_with(*begins)))
        .filter(|p| is_picture(p))
        .collect();
    let mut page = Page::new("Dossier", evaluation, date);
    page.paragraph(
        "What was measured, worked out, checked and left open, in one file. It replaces no inspection and no engineer: local \
         codes and licensed practice decide.",
    );
    page.heading("Photos, taken while it can still be seen");
    let photos = PHOTOS.map(|(when, what)| vec![Cell::Tick, Cell::text(when), Cell::text(what), Cell::Blank]);
    page.table(&["", "when", "what", "file or page"], photos);
    page.heading("In here");
    let name = |(file, html): &(&str, &str)| title(html).unwrap_or(*file).to_owned();
    page.unescaped_list(
        pages
            .iter()
            .map(name)
            .chain(pictures.iter().map(|p| escape(&p.file_name))),
    );
    for (_, html) in &pages {
        page.bound(html);
    }
    for picture in pictures {
        page.bound(&as_image(picture));
    }
    page.finish()
}

/// What stands between the tags of a page's body.
fn body(html: &str) -> Option<&str> {
    let (_, rest) = html.split_once("<body>")?;
    Some(rest.rsplit_once("</body>")?.0)
}

/// The first heading of a page, escaped as it is there.
fn title(html: &str) -> Option<&str> {
    let (_, rest) = html.split_once("<h1>")?;
    Some(rest.split_once("</h1>")?.0)
}

fn is_picture(paper: &Paper) -> bool {
    paper.content.text().is_some_and(|text| text.contains("<svg"))
}

/// A drawing as an image that carries its own source.
fn as_image(paper: &Paper) -> String {
    let mut source = String::new();
    for character in paper.content.text().unwrap_or_default().chars() {
        match character {
            '%' | '#' | '"' | '<' | '>' | '&' | '\n' | '\r' => {
                let _ = write!(source, "%{:02X}", u32::from(character));
            }
            _ => source.push(character),
        }
    }
    let name = escape(&paper.file_name);
    format!(
        "<figure>\n<img src=\"data:image/svg+xml,{source}\" alt=\"{name}\">\n<figcaption>{name}</figcaption>\n</figure>\n"
    )
}
