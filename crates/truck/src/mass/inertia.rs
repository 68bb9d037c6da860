//! Inertia of a box: only to compare layouts with each other.

use super::{Item, Place};
use crate::TruckError;
use crate::check::not_negative;

/// Moments of inertia about axes along x, y and z, kilogram-metres squared: roll, pitch, yaw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inertia {
    /// About x: roll.
    pub xx_kgm2: f64,
    /// About y: pitch.
    pub yy_kgm2: f64,
    /// About z: yaw.
    pub zz_kgm2: f64,
}

/// Outside sizes along x, y and z, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Along x.
    pub length_m: f64,
    /// Along y.
    pub width_m: f64,
    /// Along z.
    pub height_m: f64,
}

/// Inertia of an evenly filled box about its own centre: `Ixx = m (w^2 + h^2) / 12` and so on round.
///
/// Source: rigid bodies, any text of dynamics.
///
/// # Errors
///
/// [`TruckError`] for a size or mass below zero or no number.
pub fn of_box(mass_kg: f64, size: Size) -> Result<Inertia, TruckError> {
    const MEND: &str = "enter zero or more";
    let mass_kg = not_negative("mass", mass_kg, MEND)?;
    let squared = |field, size_m| not_negative(field, size_m, MEND).map(|size_m| size_m * size_m);
    let [length, width, height] = [
        squared("length", size.length_m)?,
        squared("width", size.width_m)?,
        squared("height", size.height_m)?,
    ];
    Ok(Inertia {
        xx_kgm2: mass_kg * (width + height) / 12.0,
        yy_kgm2: mass_kg * (length + height) / 12.0,
        zz_kgm2: mass_kg * (length + width) / 12.0,
    })
}

impl Inertia {
    /// The same about parallel axes through `about`, where `item` is the mass at its own centre: adds `m d^2`.
    ///
    /// Source: Steiner's rule of parallel axes.
    #[must_use]
    pub fn about(self, item: Item, about: Place) -> Self {
        let [x, y, z] = [
            (item.at.x_m - about.x_m).powi(2),
            (item.at.y_m - about.y_m).powi(2),
            (item.at.z_m - about.z_m).powi(2),
        ];
        Self {
            xx_kgm2: self.xx_kgm2 + item.mass_kg * (y + z),
            yy_kgm2: self.yy_kgm2 + item.mass_kg * (x + z),
            zz_kgm2: self.zz_kgm2 + item.mass_kg * (x + y),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn eight_small_boxes_are_one_large_one() {
        let size = |edge_m| Size {
            length_m: edge_m,
            width_m: edge_m,
            height_m: edge_m,
        };
        let whole = of_box(8.0, size(2.0)).unwrap();
        let small = of_box(1.0, size(1.0)).unwrap();
        let mut sum = 0.0;
        for (x_m, y_m, z_m) in (0..8).map(|i| (f64::from(i & 1), f64::from(i >> 1 & 1), f64::from(i >> 2))) {
            let item = Item {
                mass_kg: 1.0,
                at: Place { x_m, y_m, z_m },
            };
            let middle = Place {
                x_m: 0.5,
                y_m: 0.5,
                z_m: 0.5,
            };
            sum += small.about(item, middle).zz_kgm2;
        }
        assert!((sum - whole.zz_kgm2).abs() < 1e-12);
    }

    #[test]
    fn sizes_below_zero_are_refused() {
        let size = Size {
            length_m: 1.0,
            width_m: -1.0,
            height_m: 1.0,
        };
        assert!(of_box(1.0, size).is_err());
    }
}
