//! The built-in jobs: invented, and set in our own scenarios.

/// A built-in job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// Its name, as typed on the command line.
    pub name: &'static str,
    /// What it is, in one line.
    pub about: &'static str,
    /// The job file's text.
    pub text: &'static str,
}

/// All built-in jobs, the easiest first.
pub const EXAMPLES: [Example; 3] = [
    Example {
        name: "orchard-flatbed",
        about: "easy, inches: 10 upright modules in two saddle boxes, one bolt tail in the way",
        text: include_str!("../../../assets/examples/orchard-flatbed.json"),
    },
    Example {
        name: "harbour-tender",
        about: "middle, millimetres: two long narrow boxes beside the propshaft, brake pipe to avoid",
        text: include_str!("../../../assets/examples/harbour-tender.json"),
    },
    Example {
        name: "mountain-rescue",
        about: "hard, inches: 48 modules in clamped stacks, under half an inch a side",
        text: include_str!("../../../assets/examples/mountain-rescue.json"),
    },
];

/// The built-in job of this name.
pub fn example(name: &str) -> Option<&'static Example> {
    EXAMPLES.iter().find(|e| e.name == name)
}
