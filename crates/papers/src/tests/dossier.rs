//! The dossier: everything that has to be shown, in one file.

use job::EXAMPLES;

use super::{job, papers_of};

#[test]
fn the_dossier_binds_every_page_and_drawing_that_has_to_be_shown() {
    for example in EXAMPLES {
        let papers = papers_of(&job(example.name), "2026-05-01");
        let text = |name: &str| {
            let paper = papers.iter().find(|p| p.file_name == name);
            paper.and_then(|p| p.content.text()).map(str::to_owned)
        };
        let dossier = text("dossier.html").unwrap();
        let sheets = papers.iter().filter(|p| p.file_name.starts_with("drawing-"));
        let drawn = sheets.filter(|p| p.content.text().is_some()).count();
        assert!(drawn > 0, "{}", example.name);
        let pictures = papers.iter().filter(|p| p.file_name.starts_with("layout-"));
        let pictures = pictures.filter(|p| p.content.text().is_some()).count();
        assert_eq!(
            dossier.matches("<img src=\"data:image/svg+xml,").count(),
            drawn + pictures
        );
        for name in [
            "weight-sheet.html",
            "strength.html",
            "inspector.html",
            "test-sheet.html",
            "wiring.html",
            "weld-map.html",
            "cut-list.html",
        ] {
            let page = text(name).unwrap();
            let (_, body) = page.split_once("<body>").unwrap();
            let (body, _) = body.split_once("</body>").unwrap();
            assert!(dossier.contains(body), "{name} of {}", example.name);
        }
        // One page, whatever was bound in.
        for once in ["<html", "</html>", "<body>", "</body>", "<title>Dossier"] {
            assert_eq!(dossier.matches(once).count(), 1, "{once}");
        }
        assert!(!dossier.contains("<script"));
        assert!(dossier.contains("<td>before the lid goes on</td>"));
    }
}

/// A picture comes back from its image as it was.
#[test]
fn drawings_in_the_dossier_are_the_files() {
    let papers = papers_of(&job("orchard-flatbed"), "2026-05-01");
    let text = |name: &str| {
        papers
            .iter()
            .find(|p| p.file_name == name)
            .unwrap()
            .content
            .text()
            .unwrap()
    };
    let dossier = text("dossier.html");
    let (_, from) = dossier.split_once("data:image/svg+xml,").unwrap();
    let (image, _) = from.split_once('"').unwrap();
    let mut plain = String::new();
    let mut rest = image;
    while let Some((before, after)) = rest.split_once('%') {
        plain.push_str(before);
        plain.push(char::from(u8::from_str_radix(&after[..2], 16).unwrap()));
        rest = &after[2..];
    }
    plain.push_str(rest);
    assert_eq!(plain, text("drawing-left-box-sheet-1.svg"));
}
