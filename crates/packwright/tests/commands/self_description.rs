//! What other programs and new users ask for.

use rstest::rstest;

use crate::shop::Shop;

#[test]
fn the_schema_is_json() {
    let schema = Shop::new().run(&["schema"]);
    assert_eq!(schema.out, job::schema_text());
    assert!(schema.json().is_object());
}

#[rstest]
fn completions_know_the_commands(#[values("bash", "zsh", "fish", "powershell", "elvish")] shell: &str) {
    let script = Shop::new().run(&["completions", shell]).quiet();
    assert!(
        ["check", "cutlist", "papers"]
            .iter()
            .all(|command| script.contains(command))
    );
}

#[test]
fn version_and_help_are_data() {
    let shop = Shop::new();
    assert_eq!(
        shop.run(&["--version"]).quiet(),
        format!("packwright {}\n", env!("CARGO_PKG_VERSION"))
    );
    let help = shop.run(&["--help"]).quiet();
    for command in [
        "example",
        "check",
        "fit",
        "cutlist",
        "nest",
        "way-in",
        "truck",
        "papers",
        "issue",
        "changes",
        "length",
        "schema",
        "completions",
    ] {
        assert!(
            help.contains(&format!("\n  {command} ")),
            "{command} is missing from\n{help}"
        );
        assert!(shop.run(&[command, "--help"]).quiet().contains("Usage: packwright "));
    }
}

#[rstest]
#[case::unknown_option(&["--colour"])]
#[case::unknown_command_with_file(&["inspect", "job.json"])]
#[case::no_file(&["check"])]
#[case::no_folder(&["papers", "job.json"])]
#[case::unknown_form(&["cutlist", "job.json", "--format", "stone"])]
#[case::force_alone(&["example", "orchard-flatbed", "--force"])]
#[case::to_and_open(&["example", "orchard-flatbed", "--to", "x.json", "--open"])]
#[case::no_length(&["length"])]
#[case::unknown_units(&["length", "1", "--units", "hands"])]
fn wrong_use_ends_with_two_and_prints_no_data(#[case] args: &[&str]) {
    let shop = Shop::new();
    let ended = shop.run(args);
    assert_eq!((ended.code, ended.out.as_str()), (Some(2), ""));
    assert!(ended.err.starts_with("error: "), "{}", ended.err);
    assert!(shop.names().is_empty());
}

/// Every refusal ends with what to do, as those of the fields do.
#[rstest]
#[case::unknown_option(&["cutlist", "job.json", "--jsno"], "'--jsno'", "fix: ")]
#[case::missing_file(&["check"], "FILE", "fix: packwright check")]
#[case::too_many(&["check", "a.json", "b.json"], "'b.json'", "fix: packwright check")]
#[case::below_zero(&["nest", "job.json", "--kerf", "-3"], "--kerf: ", "fix: ")]
#[case::wanted(&["fit", "job.json", "--wanted", "-6s2p"], "-6s2p", "fix: ")]
#[case::feet(&["nest", "job.json", "--stock", "4x8"], "has no unit", "fix: write --stock \"4x8 ft\"")]
#[case::no_html(&["tape-sheet", "job.json", "--to", "sheet.docx"], ".docx", "fix: let the name end in .html")]
fn words_typed_wrongly_are_told_with_a_fix(#[case] words: &[&str], #[case] what: &str, #[case] fix: &str) {
    let said = Shop::with("orchard-flatbed").run(words).refused();
    assert!(said.starts_with("error: ") && said.contains(what), "{said}");
    assert!(
        said.contains(fix) && !said.contains("tip:") && !said.contains("-- -"),
        "{said}"
    );
}
