//! The automatic layout.

mod request;

pub use request::{
    Answer, BoundBy, BoxPlace, BoxRule, Budget, Cavity, Ended, KeepOut, Kind, Layout, MassLimit, Placement, Progress,
    Request, RequestError, Rim, Stack, Unwatched, Wanted, Watch,
};
