//! Where the three views of a drawing stand: by first or by third angle (ISO 5456-2).

use job::ProjectionName;
use plot::Rect;

/// The scales of ISO 5455 from full size down, for every drawn paper.
pub(crate) const SCALES: [u32; 8] = [1, 2, 5, 10, 20, 50, 100, 200];

/// Room round a view, in millimetres.
pub(crate) struct Around {
    /// On its left, for sizes.
    pub(crate) beside: f64,
    /// Under it, for sizes.
    pub(crate) below: f64,
    /// Above it, for its name.
    pub(crate) name: f64,
    /// Between two views side by side.
    pub(crate) between: f64,
}

/// Where plan, view from the left and view from the rear stand, of the given sizes, from the upper left of `room`.
///
/// By third angle the plan stands above the view from the left and the view from the rear
/// on its right; by first angle under it and on its left.
pub(crate) fn arrange(
    [plan, left, rear]: [[f64; 2]; 3],
    room: Rect,
    projection: ProjectionName,
    around: &Around,
) -> [Rect; 3] {
    let top = room.high()[1] - around.name;
    let first = room.x + around.beside;
    let next = around.between + around.beside;
    let under = around.below + around.name;
    let (x_left, x_rear, y_left, y_plan) = match projection {
        ProjectionName::Third => {
            let y_plan = top - plan[1];
            (first, first + left[0] + next, y_plan - under - left[1], y_plan)
        }
        ProjectionName::First => {
            let y_left = top - left[1];
            (first + rear[0] + next, first, y_left, y_left - under - plan[1])
        }
    };
    [
        Rect::new(x_left, y_plan, plan[0], plan[1]),
        Rect::new(x_left, y_left, left[0], left[1]),
        Rect::new(x_rear, y_left, rear[0], rear[1]),
    ]
}
