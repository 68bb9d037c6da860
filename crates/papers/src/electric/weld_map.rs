//! The weld map: every seam, in which order, what to measure, what the joints draw in.

use enclosure::weld::{Run, SHRINKAGE_KNOWN_BY, SHRINKAGE_SOURCE, STITCH_KNOWN_BY, STITCH_SOURCE, Seam};
use geometry::Axis;
use job::{BoxResult, Evaluation, known_words};
use tape::Units;
use tape::show::{caliper, hole_inches, inches, inches_first, own_first};

use crate::html::page::{Cell, Page};
use crate::words;

/// What to heed before an arc is struck.
const CAUTIONS: [&str; 6] = [
    "Never weld, grind or cut with modules in the box or near it. Take them out, and keep them away until the box is cold.",
    "Zinc fumes make ill: grind the coating off beside every seam of galvanised sheet, and draw the fumes away.",
    "On the truck, take the cables off its 12 V battery and off the drive's electronics before you weld.",
    "Earth clamp on the piece, close to the weld, on bare metal: never so that the current goes through a bearing, a cable or a hinge.",
    "Nothing that burns behind the sheet, a fire blanket and an extinguisher at hand, and look again half an hour after.",
    "Seals want full seams. After welding try them for leaks before anything is coated.",
];

/// The welds of every box. `date` is printed as given.
pub fn weld_map_html(evaluation: &Evaluation, date: &str) -> String {
    let mut page = Page::with_cautions("Weld map", evaluation, date, &CAUTIONS);
    for battery_box in &evaluation.boxes {
        let Some(welds) = &battery_box.welds else {
            continue;
        };
        if welds.seams.is_empty() {
            continue;
        }
        page.heading(&format!(
            "{}: {} of weld in {} seams, {:.0} g of weld metal",
            battery_box.name,
            words::run(evaluation, welds.welded().as_mm() / 1000.0),
            welds.count(),
            welds.metal_g()
        ));
        let head = [
            "seam",
            "joins",
            "where",
            "joint",
            "length",
            "number off",
            "leg",
            "side",
            "run",
            "tacks each",
            "draws in across",
            "draws in along",
            "done",
        ];
        page.table(&head, welds.seams.iter().map(|seam| row(evaluation, seam)));
        page.paragraph("Diagonals to hit, after tacking and after welding: both of a face, outside.");
        let head = [
            "face",
            "number off",
            "sides",
            "diagonal",
            "within, and apart at most",
            "first",
            "second",
        ];
        let rows = welds.diagonals.iter().map(|d| {
            vec![
                Cell::text(d.face),
                Cell::figure(d.count.to_string()),
                Cell::figure(d.sides.map(|side| evaluation.near(side)).join(" x ")),
                Cell::figure(own_first(d.aim, evaluation.units)),
                Cell::figure(caliper(d.within, evaluation.units)),
                Cell::Blank,
                Cell::Blank,
            ]
        });
        page.table(&head, rows);
        page.paragraph("In this order; letters go round the box, so that a and c of four are opposite. What goes in and on it comes \
                        after the shell, each sort with its reason:");
        page.steps(welds.order.iter().map(|step| step.words()));
        added(&mut page, evaluation, battery_box);
    }
    let bare = words::masking_lines(evaluation);
    if !bare.is_empty() {
        page.heading("Before paint");
        page.list(bare.into_iter().map(|line| format!("{line}.")));
    }
    page.heading("Where the figures come from");
    page.list([
        format!("Shrinkage: {SHRINKAGE_SOURCE} ({}).", known_words(SHRINKAGE_KNOWN_BY)),
        format!("Stitches: {STITCH_SOURCE} ({}).", known_words(STITCH_KNOWN_BY)),
        "Diagonals: what the shop is asked to hold, the class of ISO 13920 or its own figure, taken for a length of that size. \
         The standard has no line for diagonals."
            .to_owned(),
        "Weld metal: a triangle of the leg, without what stands proud.".to_owned(),
        format!(
            "Tacks at most {} apart, and the order: common practice ({}).",
            own_first(enclosure::weld::TACK_PITCH, evaluation.units),
            known_words(enclosure::weld::TACK_KNOWN_BY)
        ),
    ]);
    page.finish()
}

/// Where the parts go that are neither shell nor lid, and the holes that they ask for in the frame.
fn added(page: &mut Page, evaluation: &Evaluation, battery_box: &BoxResult) {
    let assembly = drawing::assembly(evaluation, battery_box);
    let pieces: Vec<_> = assembly
        .iter()
        .flat_map(|assembly| &assembly.pieces)
        .filter(|piece| piece.role.is_added() && !piece.role.is_liner())
        .collect();
    if pieces.is_empty() {
        return;
    }
    page.paragraph(
        "What goes on it and in it, from the front-left-bottom corner of its outside to the nearest corner of each piece; an \
         angle has a line for each leg. What of it is welded is among the seams above; the rest is screwed, riveted, bonded or \
         loose.",
    );
    let rows = pieces.iter().map(|piece| {
        let lo = piece.solid.lo();
        let mut cells = vec![Cell::text(piece.mark.clone()), Cell::text(piece.role.name())];
        cells.extend(Axis::ALL.map(|axis| {
            let at = lo[axis];
            Cell::figure(own_first(at, evaluation.units))
        }));
        cells.push(Cell::figure(extent(piece, evaluation.units)));
        cells
    });
    let head = ["mark", "what", "rearward", "to the right", "up", "along those"];
    page.table(&head, rows);
    if !battery_box.added.frame_holes.is_empty() {
        page.paragraph("Holes in the frame for its brackets, from the cavity's front (or left) and floor:");
        page.list(
            battery_box
                .added
                .frame_holes
                .iter()
                .map(|hole| evaluation.frame_hole_text(hole)),
        );
    }
}

/// How large a piece is along the three axes, in an inch job in inches first: what is cut to the nearest mark, what is bought so thick
/// to 0.001 in.
fn extent(piece: &drawing::Piece, units: Units) -> String {
    let size = piece.solid.size();
    let millimetres = Axis::ALL.map(|axis| format!("{:.1}", size[axis].as_mm())).join(" x ");
    let own = |axis: Axis| {
        if axis == piece.thin {
            hole_inches(size[axis])
        } else {
            inches(
                size[axis],
                tape::show::Fraction::Sixteenth,
                tape::show::Rounding::Nearest,
            )
        }
    };
    inches_first(format!("{millimetres} mm"), units, || Axis::ALL.map(own).join(" x "))
}

/// What a joint draws in, from and to, in an inch job to 0.001 in first: `1.0 to 1.5 mm`, `0.039" to 0.059" (1.0 to 1.5 mm)`.
fn told_mm(mm: &[f64], decimals: usize, units: Units) -> String {
    let all = |each: &dyn Fn(&f64) -> String| mm.iter().map(each).collect::<Vec<_>>().join(" to ");
    let millimetres = all(&|mm| format!("{mm:.decimals$}"));
    inches_first(format!("{millimetres} mm"), units, || {
        all(&|mm| format!("{:.3}\"", mm / 25.4))
    })
}

fn row(evaluation: &Evaluation, seam: &Seam) -> Vec<Cell> {
    let run = match seam.run {
        Run::Full if seam.seals => "full: it seals".to_owned(),
        Run::Full if seam.at.carries() => "full: it carries".to_owned(),
        Run::Full => "full".to_owned(),
        // A pitch rounded to a mark would not add up to the seam.
        Run::Stitch { runs, each, .. } => format!(
            "stitch: {runs} of {}, the first and the last at the ends, {} equal gaps between",
            own_first(each, evaluation.units),
            runs.saturating_sub(1)
        ),
    };
    let shrinkage = seam.form.shrinkage();
    let [from, to] = shrinkage.across_mm;
    let across = if from < to {
        told_mm(&[from, to], 1, evaluation.units)
    } else {
        told_mm(&[from], 1, evaluation.units)
    };
    let along = shrinkage.along_mm_per_m * seam.length.as_mm() / 1000.0;
    vec![
        Cell::text(seam.number.to_string()),
        Cell::text(seam.joins.map(enclosure::Role::name).join(" to ")),
        Cell::text(seam.place),
        Cell::text(seam.form.name()),
        Cell::figure(own_first(seam.length, evaluation.units)),
        Cell::figure(seam.count.to_string()),
        Cell::figure(caliper(seam.leg, evaluation.units)),
        Cell::text(seam.side.name()),
        Cell::text(run),
        Cell::figure(seam.tacks.to_string()),
        Cell::figure(across),
        Cell::figure(told_mm(&[along], 2, evaluation.units)),
        Cell::Tick,
    ]
}
