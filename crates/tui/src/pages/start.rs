//! The start page: a new job, a file, the examples, work left behind.

use job::{EXAMPLES, Job, UnitsName, load};

use crate::model::{Effect, Model};

/// One thing that the start page offers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Offer {
    /// A new job in these units.
    New(UnitsName),
    /// Opens a file.
    Open,
    /// Opens a built-in job.
    Example(usize),
    /// Takes work left behind by a killed program.
    Recover(usize),
}

/// Everything the page offers: work left behind first, since it is what a person looks for then.
pub fn offers(model: &Model) -> Vec<Offer> {
    let left = (0..model.start.left_behind.len()).map(Offer::Recover);
    let new = [
        Offer::New(UnitsName::Inch),
        Offer::New(UnitsName::Millimetre),
        Offer::Open,
    ];
    left.chain(new).chain((0..EXAMPLES.len()).map(Offer::Example)).collect()
}

/// What is shown for an offer: what it does, and what it is.
pub fn words(model: &Model, offer: &Offer) -> (String, String) {
    match offer {
        Offer::New(UnitsName::Inch) => ("new job in inches".to_owned(), "opens on the first reading".to_owned()),
        Offer::New(UnitsName::Millimetre) => (
            "new job in millimetres".to_owned(),
            "opens on the first reading".to_owned(),
        ),
        Offer::Open => ("open a file".to_owned(), "a job saved before".to_owned()),
        Offer::Example(i) => (format!("example: {}", EXAMPLES[*i].name), EXAMPLES[*i].about.to_owned()),
        Offer::Recover(i) => {
            let left = &model.start.left_behind[*i];
            let title = if left.readable {
                "take up again"
            } else {
                "cannot be read"
            };
            (title.to_owned(), left.words.clone())
        }
    }
}

/// Does what an offer says.
pub fn take(model: &Model, offer: &Offer) -> Option<Effect> {
    match offer {
        Offer::New(units) => Some(Effect::Begin(Box::new(Job::empty(*units)))),
        Offer::Open => None,
        Offer::Example(i) => load(EXAMPLES[*i].text.as_bytes())
            .ok()
            .map(|job| Effect::Begin(Box::new(job))),
        Offer::Recover(i) => {
            let left = model.start.left_behind.get(*i).filter(|l| l.readable)?;
            Some(if left.has_file {
                Effect::Open(left.path.clone())
            } else {
                Effect::Adopt(left.path.clone())
            })
        }
    }
}
