//! The chance that a cuboid is inside the true walls.

use super::cuts::VERTICES;
use super::wall::Wall;

/// At least how likely all vertices are inside all walls.
pub(super) fn chance_inside(walls: &[Wall], vertices: &[[f64; 3]; VERTICES]) -> f64 {
    let mut outside = 0.0;
    for wall in walls {
        for vertex in vertices {
            let (distance, sigma) = (wall.distance(*vertex), wall.sigma(*vertex));
            if sigma > 0.0 {
                outside += 0.5 * libm::erfc(distance / sigma * std::f64::consts::FRAC_1_SQRT_2);
            }
        }
    }
    (1.0_f64 - outside).max(0.0)
}
