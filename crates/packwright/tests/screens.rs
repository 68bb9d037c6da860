//! The screens in a real terminal, one test a journey: the real program, its keys, what it shows and what it leaves.
#![cfg(unix)]

#[path = "../../../tests/terminal/by_hand.rs"]
mod by_hand;
#[path = "../../../tests/terminal/harness.rs"]
mod harness;
#[path = "../../../tests/terminal/keys.rs"]
mod keys;
#[path = "../../../tests/terminal/layouts.rs"]
mod layouts;
#[path = "../../../tests/terminal/main_job.rs"]
mod main_job;
#[path = "../../../tests/terminal/picture.rs"]
mod picture;
#[path = "../../../tests/terminal/recovery.rs"]
mod recovery;
#[path = "../../../tests/terminal/saves.rs"]
mod saves;
#[path = "../../../tests/terminal/shown.rs"]
mod shown;
#[path = "../../../tests/terminal/survey.rs"]
mod survey;
#[path = "../../../tests/terminal/window.rs"]
mod window;
