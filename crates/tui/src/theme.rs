//! How a meaning looks.
