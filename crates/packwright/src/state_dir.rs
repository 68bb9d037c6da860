//! Where recovery files of jobs without a file are kept.

use std::env;
use std::ffi::OsString;
use std::path::PathBuf;

const NAME: &str = "packwright";

/// The folder for what the program keeps between runs; it need not exist.
pub(crate) fn state_dir() -> PathBuf {
    choose(cfg!(windows), |name| env::var_os(name))
        .unwrap_or_else(env::temp_dir)
        .join(NAME)
}

/// The folder that the environment names. Relative names are passed over, as the XDG base directory rules say: they
/// would mean another folder wherever the program is started.
fn choose(windows: bool, variable: impl Fn(&str) -> Option<OsString>) -> Option<PathBuf> {
    let folder = |name| variable(name).map(PathBuf::from).filter(|path| path.is_absolute());
    if windows {
        folder("LOCALAPPDATA")
    } else {
        folder("XDG_STATE_HOME").or_else(|| folder("HOME").map(|home| home.join(".local").join("state")))
    }
}

#[cfg(all(test, unix))]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::both(false, &[("XDG_STATE_HOME", "/state"), ("HOME", "/home/shop")], Some("/state"))]
    #[case::home_only(false, &[("HOME", "/home/shop")], Some("/home/shop/.local/state"))]
    #[case::empty(false, &[("XDG_STATE_HOME", ""), ("HOME", "/home/shop")], Some("/home/shop/.local/state"))]
    #[case::relative(false, &[("XDG_STATE_HOME", "state"), ("HOME", "/home/shop")], Some("/home/shop/.local/state"))]
    #[case::nothing(false, &[], None)]
    #[case::other_system(true, &[("LOCALAPPDATA", "/local"), ("HOME", "/home/shop")], Some("/local"))]
    #[case::other_system_without(true, &[("HOME", "/home/shop")], None)]
    fn the_environment_names_the_folder(
        #[case] windows: bool,
        #[case] variables: &[(&str, &str)],
        #[case] folder: Option<&str>,
    ) {
        let variable = |name: &str| {
            variables
                .iter()
                .find(|(n, _)| *n == name)
                .map(|(_, value)| value.into())
        };
        assert_eq!(choose(windows, variable), folder.map(PathBuf::from));
    }
}
