//! A command that was mistyped: `packwright chekc job.json` would be taken for two files.

use std::ffi::OsString;
use std::path::Path;

use clap::CommandFactory;

use crate::args::Args;
use crate::trouble::Trouble;

/// What is wrong when the first word is neither a command nor a file that is there, but stands where a command would:
/// close to the name of one, or with a word behind it.
pub(crate) fn mistyped(words: &[OsString]) -> Option<Trouble> {
    let (first, rest) = (words.first()?, &words[1..]);
    let word = first.to_str().filter(|word| !word.starts_with('-'))?;
    let names: Vec<String> = Args::command()
        .get_subcommands()
        .map(|command| command.get_name().to_owned())
        .collect();
    if names.iter().any(|name| name == word) || Path::new(first).exists() {
        return None;
    }
    let nearest = names.iter().min_by_key(|name| slips(word, name))?;
    let is_near = slips(word, nearest) <= 2.min(nearest.len() / 3);
    let second_word = rest
        .first()
        .is_some_and(|word| !word.to_string_lossy().starts_with('-'));
    let fix = if is_near {
        format!("packwright {nearest}")
    } else if second_word {
        format!("use one of {}", names.join(", "))
    } else {
        return None;
    };
    Some(Trouble::new(
        format!("{word:?} is no command, and no file of that name is there"),
        fix,
    ))
}

/// How many slips of the finger lie between two words: a letter too many, one too few, a wrong one, two swapped.
fn slips(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut rows: Vec<Vec<usize>> = vec![(0..=b.len()).collect()];
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let wrong = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut least = wrong.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(rows[i - 2][j - 2] + 1);
            }
            row.push(least);
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn told(words: &[&str]) -> Option<String> {
        let words: Vec<OsString> = words.iter().map(OsString::from).collect();
        mistyped(&words).map(|trouble| trouble.to_string())
    }

    #[rstest]
    #[case::swapped(&["chekc", "o.json"], "fix: packwright check")]
    #[case::one_too_few(&["cutlst", "o.json", "--to", "x"], "fix: packwright cutlist")]
    #[case::alone(&["exmaple"], "fix: packwright example")]
    #[case::far_off(&["bolt", "o.json"], "fix: use one of example, survey, check")]
    fn a_mistyped_command_is_told_with_the_one_that_was_meant(#[case] words: &[&str], #[case] fix: &str) {
        let told = told(words).unwrap();
        assert!(told.contains(fix), "{told}");
        assert!(told.contains(&format!("{:?} is no command", words[0])), "{told}");
    }

    #[rstest]
    #[case::a_command(&["check", "o.json"])]
    #[case::a_new_file(&["truck.json"])]
    #[case::a_new_file_with_an_option(&["truck.json", "--ascii"])]
    #[case::an_option(&["--help"])]
    #[case::nothing(&[])]
    fn what_may_be_meant_is_left_alone(#[case] words: &[&str]) {
        assert_eq!(told(words), None);
    }

    #[test]
    fn slips_are_counted() {
        assert_eq!(
            (slips("chekc", "check"), slips("fit", "fit"), slips("", "fit")),
            (1, 0, 3)
        );
        assert_eq!(slips("kitten", "sitting"), 3);
    }
}
