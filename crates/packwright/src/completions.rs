//! `packwright completions`: what the shell needs to complete commands.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use crate::trouble::{Trouble, Verdict};
use crate::{args, output};

/// Print what a shell needs to complete commands with the tab key
///
/// For bash: packwright completions bash > ~/.local/share/bash-completion/completions/packwright
#[derive(Debug, Args)]
pub(crate) struct CompletionsArgs {
    /// Which shell
    shell: Shell,
}

pub(crate) fn run(args: &CompletionsArgs) -> Result<Verdict, Trouble> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut args::Args::command(), "packwright", &mut script);
    output::data(&String::from_utf8_lossy(&script))?;
    Ok(Verdict::Fine)
}
