//! Why there is no cuboid.

use super::side::{Side, corner_name};

/// Why there is no cuboid.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoCuboid {
    /// A coordinate is no finite number.
    #[error("the {} corner has a coordinate that is no number", corner_name(*.corner))]
    NotAPlace {
        /// Which corner, 0 to 7.
        corner: usize,
    },
    /// The covariance is not 24 x 24 finite numbers with variances of zero or more.
    #[error("the covariance of the corners has to be 24 x 24 numbers with no variance below zero")]
    NotACovariance,
    /// Every corner is turned inside out: a mirror image, or the corners are in another order.
    #[error("the shape is a mirror image: its corners run the wrong way round")]
    Mirrored,
    /// The three edges at a corner do not open to the inside.
    #[error(
        "the shape is twisted: at the {} corner its sides are folded over; tape the lines to that corner again",
        corner_name(*.corner)
    )]
    Twisted {
        /// Which corner, 0 to 7: the one that is folded most.
        corner: usize,
    },
    /// The walls cross each other and leave no inside.
    #[error("the walls leave no space inside: the {wall} wall crosses the ones around it")]
    NoInterior {
        /// The wall that takes the most.
        wall: Side,
    },
    /// What is kept back takes all there is.
    #[error("nothing is left for sure: what is kept back takes it all, most at the {wall} wall")]
    NothingLeft {
        /// The wall that takes the most.
        wall: Side,
    },
    /// What is to be kept back is negative or no finite number.
    #[error("what is kept back has to be zero or more")]
    NotKeptBack,
    /// A side of the wanted cuboid is below zero.
    #[error("a cuboid cannot have a side below zero")]
    NotASize,
}
