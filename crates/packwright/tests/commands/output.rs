//! Readers that go away, and disks that are full.

use std::io::{BufRead, BufReader};
use std::process::Stdio;

use rstest::rstest;

use crate::shop::{Ended, Shop};

#[rstest]
#[case::check(&["check", "job.json"])]
#[case::check_json(&["check", "job.json", "--json"])]
#[case::fit(&["fit", "job.json"])]
#[case::cutlist(&["cutlist", "job.json"])]
#[case::example(&["example", "mountain-rescue"])]
#[case::length(&["length", "41 5/8"])]
#[case::schema(&["schema"])]
#[case::completions(&["completions", "bash"])]
#[case::help(&["--help"])]
fn a_reader_that_is_gone_is_no_error(#[case] args: &[&str]) {
    let shop = Shop::with("orchard-flatbed");
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let mut command = shop.command(args);
    command.stdout(writer).stderr(Stdio::piped());
    let ended = Ended::from(command.spawn().unwrap().wait_with_output().unwrap());
    assert_eq!((ended.code, ended.err.as_str()), (Some(0), ""));
}

#[test]
fn a_reader_that_goes_after_one_line_is_no_error() {
    let shop = Shop::with("orchard-flatbed");
    let args = ["check", "job.json", "--json"];
    let whole = shop.run(&args).quiet();
    // More than a pipe holds, so the program is still writing when the reader goes.
    assert!(whole.len() > 64 * 1024, "{} bytes", whole.len());
    let mut command = shop.command(&args);
    command.stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    let mut first = String::new();
    let mut reader = BufReader::with_capacity(16, child.stdout.take().unwrap());
    reader.read_line(&mut first).unwrap();
    assert_eq!(first, "{\n");
    drop(reader);
    let ended = Ended::from(child.wait_with_output().unwrap());
    assert_eq!((ended.code, ended.err.as_str()), (Some(0), ""));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_an_error() {
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let shop = Shop::new();
    let mut command = shop.command(&["schema"]);
    command.stdout(full).stderr(Stdio::piped());
    let ended = Ended::from(command.spawn().unwrap().wait_with_output().unwrap());
    let said = ended.refused();
    assert!(
        said.starts_with("error: could not write to standard output: "),
        "{said}"
    );
}
