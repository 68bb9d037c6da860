//! What a clamped stack of cells does over its life.

/// Growth of a stack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    /// With each charge and back, millimetres.
    pub reversible_mm: f64,
    /// For good, by the end of life, millimetres.
    pub irreversible_mm: f64,
    /// Both, millimetres.
    pub total_mm: f64,
}

/// Growth of `cells` cells, each `thick_mm`, as shares of the thickness.
pub fn growth(cells: u32, thick_mm: f64, reversible: f64, irreversible: f64) -> Growth {
    let thick = f64::from(cells) * thick_mm;
    let (reversible_mm, irreversible_mm) = (thick * reversible, thick * irreversible);
    Growth {
        reversible_mm,
        irreversible_mm,
        total_mm: reversible_mm + irreversible_mm,
    }
}

/// Force on an end plate, newtons: pressure in kPa times width and height in millimetres.
pub fn end_plate_force_n(kilopascal: f64, width_mm: f64, height_mm: f64) -> f64 {
    kilopascal * 1000.0 * width_mm * height_mm * 1e-6
}
