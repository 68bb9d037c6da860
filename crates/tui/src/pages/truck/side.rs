//! The truck seen from its left side: wheels, frame and boxes to one scale, what touches a ramp, axle loads as arrows.

use job::{Evaluation, GroundFigures, GroundResult, Outline, RampCorner, SideBox, degrees_words, mass_words};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use crate::model::Model;
use crate::theme::Meaning;
use crate::widgets::dots::{Dots, Weight};
use crate::widgets::pen::{Pen, cut, width};

/// Rows of the page that the rows keep, with the help under them.
const ROWS_KEPT: u16 = 8;
/// The most rows of the view.
const MOST_ROWS: u16 = 16;
/// Rows under the drawing: the axles, the angles.
const LABELS: u16 = 2;
/// What the view shows above the ground at least, metres.
const LEAST_HIGH_M: f64 = 1.05;
/// Blank beyond the ends of the truck, metres.
const BLANK_M: f64 = 0.25;
/// Straight pieces of a wheel.
const PIECES: u32 = 28;
/// What stands for dots, faint and strong, where a cell is one dot.
const SIGNS: [&str; 2] = [".", "#"];
/// A made-up cab, since nobody tapes one: heights of hood and roof, and the depth of a frame member, metres.
const HOOD_M: f64 = 1.0;
const ROOF_M: f64 = 1.7;
const MEMBER_M: f64 = 0.12;

/// The part of the page for the rows, and that for the view above them, when there is a wheelbase to draw.
pub fn split(model: &Model, body: Rect) -> (Rect, Option<Rect>) {
    let high = (body.height.saturating_sub(ROWS_KEPT)).min(MOST_ROWS);
    if model.other_way || super::road::is_here(model) || model.evaluation.vehicle.ground.is_none() || high < LABELS + 4
    {
        return (body, None);
    }
    let view = Rect { height: high, ..body };
    let rows = Rect {
        y: body.y + high,
        height: body.height - high,
        ..body
    };
    (rows, Some(view))
}

/// From metres of the truck to dots and cells.
struct Scale {
    area: Rect,
    /// Columns of a metre.
    columns: f64,
    /// The left edge of the view behind the front axle, metres.
    left_m: f64,
    fine: [u16; 2],
}

impl Scale {
    fn of(outline: &Outline, area: Rect, fine: [u16; 2]) -> Self {
        let [front, rear] = outline.ends_m;
        let long_m = rear - front + 2.0 * BLANK_M;
        // A cell is about twice as high as wide.
        let by_length = f64::from(area.width) / long_m;
        let by_height = f64::from(area.height) * 2.0 / LEAST_HIGH_M;
        let columns = by_length.min(by_height);
        let spare_m = f64::from(area.width) / columns - long_m;
        Self {
            area,
            columns,
            left_m: front - BLANK_M - spare_m / 2.0,
            fine,
        }
    }

    /// The dot of a place.
    fn dot(&self, x_m: f64, z_m: f64) -> [f64; 2] {
        let [across, down] = self.fine.map(f64::from);
        let rows = f64::from(self.area.height);
        [
            (x_m - self.left_m) * self.columns * across,
            rows * down - 1.0 - z_m * self.columns / 2.0 * down,
        ]
    }

    /// The column of a place, within the view.
    fn column(&self, x_m: f64) -> u16 {
        let [x, _] = self.dot(x_m, 0.0);
        let last = self.area.width.saturating_sub(1);
        self.area.x + cell(x / f64::from(self.fine[0]), last)
    }

    /// The row of a height, within the view.
    fn row(&self, z_m: f64) -> u16 {
        let [_, z] = self.dot(0.0, z_m);
        let last = self.area.height.saturating_sub(1);
        self.area.y + cell(z / f64::from(self.fine[1]), last)
    }
}

/// The cell that a place falls in, at most `last`.
fn cell(at: f64, last: u16) -> u16 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "float to integer casts saturate"
    )]
    let at = at.max(0.0) as u16;
    at.min(last)
}

/// Draws it.
pub fn draw(model: &Model, area: Rect, buf: &mut Buffer) {
    let evaluation = &model.evaluation;
    let Some(ground) = &evaluation.vehicle.ground else {
        return;
    };
    let drawing = Rect {
        x: area.x + 1,
        width: area.width.saturating_sub(2),
        height: area.height.saturating_sub(LABELS),
        ..area
    };
    let mut dots = Dots::new(drawing, model.theme.ascii);
    let scale = Scale::of(&ground.outline, drawing, dots.fine());
    body(&ground.outline, &scale, &mut dots);
    let now = ground.sunk.as_ref().unwrap_or(&ground.boxes);
    ramps(now, &ground.outline, &scale, &mut dots);
    wheels(&ground.outline, &scale, &mut dots);
    for battery_box in &ground.outline.boxes {
        outline_of(battery_box, &scale, &mut dots);
    }
    let mut pen = Pen::new(buf, area, model.theme);
    dots.draw(model.theme, SIGNS, &mut pen);
    names(model, &ground.outline.boxes, &scale, &mut pen);
    let under = drawing.bottom();
    axles(model, &scale, under, &mut pen);
    let words = angles(evaluation, ground, now);
    let room = area.width.saturating_sub(2);
    pen.text(
        area.x + 1,
        under + 1,
        &cut(
            words.iter().find(|words| width(words) <= room).unwrap_or(&words[2]),
            room,
        ),
        model.theme.style(Meaning::Plain),
    );
}

fn path(points: &[[f64; 2]], weight: Weight, scale: &Scale, dots: &mut Dots) {
    for pair in points.windows(2) {
        let [a, b] = [pair[0], pair[1]].map(|[x, z]| scale.dot(x, z));
        dots.stroke(a, b, weight);
    }
}

/// The ground, the frame, and a cab and bed that are only hinted at.
fn body(outline: &Outline, scale: &Scale, dots: &mut Dots) {
    let [front, rear] = outline.ends_m;
    let base = outline.wheelbase_m;
    let frame = outline.frame_m;
    let (bed, rail) = (frame + 2.0 * MEMBER_M, frame + 4.0 * MEMBER_M);
    let cab_rear = base * 0.55;
    let cab = [
        [front, frame],
        [front, HOOD_M * 0.9],
        [base * 0.14, HOOD_M],
        [base * 0.26, ROOF_M],
        [cab_rear, ROOF_M],
        [cab_rear, bed],
    ];
    path(&cab, Weight::Faint, scale, dots);
    path(
        &[[cab_rear, bed], [rear, bed], [rear, rail], [cab_rear, rail]],
        Weight::Faint,
        scale,
        dots,
    );
    let member = if outline.frame_entered {
        Weight::Strong
    } else {
        Weight::Faint
    };
    path(&[[front, frame], [rear, frame]], member, scale, dots);
    path(
        &[[front, frame + MEMBER_M], [rear, frame + MEMBER_M]],
        Weight::Faint,
        scale,
        dots,
    );
    let ends = [scale.left_m, rear + BLANK_M * 4.0].map(|x| [x, 0.0]);
    path(&ends, Weight::Strong, scale, dots);
}

fn wheels(outline: &Outline, scale: &Scale, dots: &mut Dots) {
    for (middle, radius) in [0.0, outline.wheelbase_m].into_iter().zip(outline.radius_m) {
        for share in [1.0, 0.25] {
            let at = |n: u32| {
                let angle = std::f64::consts::TAU * f64::from(n) / f64::from(PIECES);
                [
                    middle + share * radius * angle.cos(),
                    radius + share * radius * angle.sin(),
                ]
            };
            let round: Vec<[f64; 2]> = (0..=PIECES).map(at).collect();
            path(&round, Weight::Strong, scale, dots);
        }
    }
}

fn outline_of(battery_box: &SideBox, scale: &Scale, dots: &mut Dots) {
    let mut corners = battery_box.corners_m.clone();
    corners.extend(corners.first().copied());
    path(&corners, Weight::Strong, scale, dots);
    if let Some(raised) = battery_box.raised_m {
        path(&battery_box.x_m.map(|x| [x, raised]), Weight::Faint, scale, dots);
    }
}

/// The steepest ramps in front and behind, through the points that touch them.
fn ramps(now: &GroundFigures, outline: &Outline, scale: &Scale, dots: &mut Dots) {
    let mut ramp = |corner: &Option<RampCorner>, out_m: f64| {
        let Some(corner) = corner else { return };
        let slope = corner.degrees.to_radians().tan();
        let ([x, z], end) = ([corner.at.x_m, corner.at.z_m], corner.at.x_m + out_m);
        let foot = x - z / slope * out_m.signum();
        path(
            &[[foot, 0.0], [end, z + slope * out_m.abs()]],
            Weight::Faint,
            scale,
            dots,
        );
    };
    let out_m = outline.wheelbase_m;
    ramp(&now.approach, -out_m);
    ramp(&now.departure, out_m);
}

/// The names of the boxes in them; boxes that stand behind each other share a place.
fn names(model: &Model, boxes: &[SideBox], scale: &Scale, pen: &mut Pen<'_>) {
    let mut told: Vec<(&SideBox, String)> = Vec::new();
    for battery_box in boxes {
        let same = told.iter_mut().find(|(other, _)| {
            let [a, b] = [battery_box, other].map(|b| f64::midpoint(b.x_m[0], b.x_m[1]));
            (other.x_m[0]..=other.x_m[1]).contains(&a) && (battery_box.x_m[0]..=battery_box.x_m[1]).contains(&b)
        });
        match same {
            Some((_, words)) => {
                words.push_str(", ");
                words.push_str(&battery_box.name);
            }
            None => told.push((battery_box, battery_box.name.clone())),
        }
    }
    for (battery_box, words) in told {
        let [left, right] = battery_box.x_m.map(|x| scale.column(x));
        let words = cut(&words, right.saturating_sub(left + 1));
        let row = scale.row(f64::midpoint(battery_box.z_m[0], battery_box.z_m[1]));
        let blank = right.saturating_sub(left + width(&words)) / 2;
        pen.text(left + blank.max(1), row, &words, model.theme.style(Meaning::Module));
    }
}

/// An arrow under each axle with what it carries.
fn axles(model: &Model, scale: &Scale, y: u16, pen: &mut Pen<'_>) {
    let style = model.theme.style(Meaning::Heading);
    let vehicle = &model.evaluation.vehicle;
    let Some(ground) = &vehicle.ground else { return };
    let up = pen.glyphs().up;
    let [front, rear] = [0.0, ground.outline.wheelbase_m].map(|x| scale.column(x));
    let Some(axles) = &vehicle.axles else {
        for at in [front, rear] {
            pen.text(at, y, up, style);
        }
        return;
    };
    let mark = if axles.loads_assumed { "~" } else { "" };
    let loads = axles.after;
    let both = |words: fn(f64) -> String| {
        [("front", loads.front_kg), ("rear", loads.rear_kg)].map(|(name, kg)| format!("{name} {mark}{}", words(kg)))
    };
    // The words of the rear axle stand behind its arrow where there is room for them, else before it.
    let after = rear + 2;
    let is_behind = |of_rear: &str| after + width(of_rear) < scale.area.right();
    let room = |of_rear: &str| {
        let taken = if is_behind(of_rear) { 0 } else { width(of_rear) + 1 };
        rear.saturating_sub(front + 4 + taken)
    };
    let with_pounds = both(mass_words);
    let [of_front, of_rear] = if width(&with_pounds[0]) <= room(&with_pounds[1]) {
        with_pounds
    } else {
        both(|kg| format!("{kg:.0} kg"))
    };
    let fits_after = is_behind(&of_rear);
    pen.text(front, y, &format!("{up} {}", cut(&of_front, room(&of_rear))), style);
    let x = if fits_after {
        after
    } else {
        rear.saturating_sub(width(&of_rear) + 1)
    };
    pen.text(rear, y, up, style);
    pen.text(x, y, &of_rear, style);
}

/// `approach 30.5  breakover 27.8  departure 19.8 degrees; lowest 6 7/8"`, the longest first.
fn angles(evaluation: &Evaluation, ground: &GroundResult, now: &GroundFigures) -> [String; 3] {
    let mark = if ground.is_assumed { "~" } else { "" };
    let one = |name: &str, corner: &Option<RampCorner>| {
        let figure = corner.as_ref().map_or_else(
            || "-".to_owned(),
            |corner| format!("{mark}{}", degrees_words(corner.degrees)),
        );
        format!("{name} {figure}")
    };
    let lowest = now.lowest.as_ref().map_or(String::new(), |low| {
        let height = evaluation.down(tape::Length::from_mm(low.z_m * 1_000.0));
        format!("; lowest {height}")
    });
    let sunk = if ground.sunk.is_some() { "sunk" } else { "not sunk" };
    let three = |[approach, breakover, departure]: [&str; 3]| {
        [
            one(approach, &now.approach),
            one(breakover, &now.breakover),
            one(departure, &now.departure),
        ]
    };
    let whole = three(["approach", "breakover", "departure"]);
    [
        format!("{} degrees{lowest}, {sunk}; front on the left", whole.join("  ")),
        format!("{} degrees{lowest}, {sunk}", whole.join("  ")),
        format!("{}{lowest}, {sunk}", whole.join(" ")),
    ]
}
