//! Mount bolts as they are entered: a thread and a class, each one figure in the file.
//!
//! The thread is its diameter in thousandths of a millimetre, so an inch thread is its size rounded to one; grades 5 and
//! 8 of inch bolts are those numbers. No two bolts of the list, and no two grades, share a figure.

use enclosure::strength::bolt::grade::Grade;
use enclosure::strength::bolt::{BOLTS, Bolt, Pitch};

/// The threads that may be chosen.
pub(crate) const THREADS: &str = "M5, M6, M8, M10, M12, M14, M16, 1/4-20, 5/16-18, 3/8-16, 7/16-14 or 1/2-13";
/// The classes and grades that may be chosen.
pub(crate) const GRADES: &str = "8.8, 10.9 or 12.9 for metric threads, grade 5 or grade 8 for inch threads";

/// The figure of a bolt: its thread in millimetres, to a thousandth.
fn figure(bolt: &Bolt) -> f64 {
    (bolt.diameter.as_mm() * 1000.0).round() / 1000.0
}

/// The bolt of the list whose figure that is.
pub(crate) fn by_figure(mm: f64) -> Option<&'static Bolt> {
    BOLTS.iter().find(|bolt| (figure(bolt) - mm).abs() < 1e-6)
}

/// The figure of a thread as written in a shop: `M10`, `10 mm`, `3/8-16`, `3/8`, `3/8"`; `None` when it is none.
pub(crate) fn read_thread(text: &str) -> Option<f64> {
    let lower = text.trim().to_ascii_lowercase();
    let bare = lower.trim_end_matches(['"', ' ']).trim_end_matches("in").trim_end();
    let inch = BOLTS.iter().find(|bolt| {
        let size = bolt.name.split_once('-').map(|(size, _)| size);
        bolt.name == bare || size == Some(bare)
    });
    if let Some(bolt) = inch {
        return Some(figure(bolt));
    }
    let metric = lower.strip_prefix('m').unwrap_or(&lower);
    number(metric.trim_end_matches("mm"))
}

/// The figure of a class or grade: `8.8`, `class 10.9`, `grade 5`, `8`; `None` when it is none.
pub(crate) fn read_grade(text: &str) -> Option<f64> {
    let lower = text.trim().to_ascii_lowercase();
    let bare = ["class", "grade", "sae"].iter().fold(lower.as_str(), |left, word| {
        left.trim_start().strip_prefix(word).unwrap_or(left)
    });
    number(bare)
}

/// A plain decimal above zero.
fn number(text: &str) -> Option<f64> {
    let text = text.trim();
    let plain = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    text.parse().ok().filter(|_| plain)
}

/// Each class or grade of mount bolts with its figure.
const MOUNT_GRADES: [(Grade, f64); 5] = [
    (Grade::Class8_8, 8.8),
    (Grade::Class10_9, 10.9),
    (Grade::Class12_9, 12.9),
    (Grade::Grade5, 5.0),
    (Grade::Grade8, 8.0),
];

/// The class or grade of mount bolts whose figure that is; none is taken for one that is not on the list.
pub(crate) fn grade_by_figure(class: f64) -> Option<Grade> {
    let mut known = MOUNT_GRADES.into_iter();
    known
        .find(|(_, figure)| (figure - class).abs() < 1e-6)
        .map(|(grade, _)| grade)
}

/// The figure of a class or grade of mount bolts.
pub(crate) fn grade_figure(grade: Grade) -> f64 {
    let mut known = MOUNT_GRADES.into_iter();
    known
        .find(|(known, _)| *known == grade)
        .map_or(8.8, |(_, figure)| figure)
}

/// What is taken for a thread of this figure while no class or grade is entered: 8.8, grade 5 of inch threads.
pub(crate) fn usual_grade(mm: f64) -> Grade {
    if is_inch_thread(mm) {
        Grade::Grade5
    } else {
        Grade::Class8_8
    }
}

/// Whether it is one of inch threads.
pub(crate) const fn is_inch_grade(grade: Grade) -> bool {
    matches!(grade, Grade::Grade5 | Grade::Grade8)
}

/// Whether a thread of this figure is made in the class or grade of this figure.
pub(crate) fn is_made(mm: f64, class: f64) -> bool {
    grade_by_figure(class).is_some_and(|grade| is_inch_grade(grade) == is_inch_thread(mm))
}

/// Whether a thread of this figure is an inch one; what is not on the list is taken as a metric one.
pub(crate) fn is_inch_thread(mm: f64) -> bool {
    by_figure(mm).is_some_and(|bolt| matches!(bolt.pitch, Pitch::PerInch(_)))
}

/// The thread as written in a shop, `M10`, or the figure of one that is not on the list.
pub(crate) fn thread_text(mm: f64) -> String {
    by_figure(mm).map_or_else(|| format!("{mm} mm"), |bolt| bolt.name.to_owned())
}

/// The class or grade as written in a shop, or the figure of one that is not on the list.
pub(crate) fn grade_text(class: f64) -> String {
    match grade_by_figure(class) {
        Some(grade) => grade_words(grade),
        None => format!("class {class}"),
    }
}

/// `class 8.8`, `grade 5`.
pub(crate) fn grade_words(grade: Grade) -> String {
    match grade {
        Grade::Class4_6 | Grade::Class8_8 | Grade::Class10_9 | Grade::Class12_9 => format!("class {}", grade.name()),
        Grade::Grade5 | Grade::Grade8 => grade.name().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[test]
    fn every_bolt_and_grade_reads_back() {
        for bolt in &BOLTS {
            let figure = read_thread(bolt.name).unwrap();
            assert_eq!(by_figure(figure).map(|b| b.name), Some(bolt.name));
            assert_eq!(thread_text(figure), bolt.name);
            assert!(THREADS.contains(bolt.name));
        }
        for (grade, figure) in MOUNT_GRADES {
            assert_eq!(read_grade(grade.name()), Some(figure));
            assert_eq!(grade_by_figure(figure), Some(grade));
            assert!(GRADES.contains(grade.name()));
        }
        assert_eq!([4.6, 5.8, 9.8, 10.0].map(grade_by_figure), [None; 4]);
    }

    #[rstest]
    #[case("10", Some("M10"))]
    #[case("10 mm", Some("M10"))]
    #[case("m8", Some("M8"))]
    #[case("3/8", Some("3/8-16"))]
    #[case("3/8\"", Some("3/8-16"))]
    #[case("1/2 in", Some("1/2-13"))]
    #[case("9 mm", None)]
    fn a_thread_is_read_as_a_shop_writes_it(#[case] text: &str, #[case] bolt: Option<&str>) {
        assert_eq!(read_thread(text).and_then(by_figure).map(|b| b.name), bolt);
    }

    #[rstest]
    #[case("")]
    #[case("M")]
    #[case("-3")]
    #[case("3/7")]
    #[case("thick")]
    fn what_is_no_thread_is_none(#[case] text: &str) {
        assert_eq!(read_thread(text), None);
    }
}
