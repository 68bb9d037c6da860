//! Words that were typed wrongly after a command, told as every other trouble: what is wrong, and how to mend it.

use clap::error::{ContextKind, ContextValue, Error, ErrorKind};

use crate::trouble::Trouble;

/// What was asked for (help, the version), or what is wrong.
pub(crate) fn told(error: &Error) -> Result<(), Trouble> {
    if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) {
        // Nowhere to print to is no trouble of the person's.
        error.print().ok();
        return Ok(());
    }
    let text = error.render().to_string();
    let said: Vec<&str> = text
        .lines()
        .take_while(|line| {
            let is_advice = ["tip:", "Usage:", "For more information"];
            !is_advice.iter().any(|advice| line.trim_start().starts_with(advice))
        })
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect();
    let said = said.join(" ");
    let what = said.strip_prefix("error: ").unwrap_or(&said).to_owned();
    let usage = text.lines().find_map(|line| line.strip_prefix("Usage: "));
    let meant = [ContextKind::SuggestedArg, ContextKind::SuggestedValue].map(|kind| error.get(kind));
    let fix = match (meant.into_iter().flatten().find_map(first), usage) {
        (Some(meant), _) => format!("write {meant}"),
        (None, Some(usage)) => format!("{usage}; --help behind the command tells each"),
        (None, None) => "packwright --help lists the commands".to_owned(),
    };
    Err(Trouble::new(what, fix))
}

fn first(value: &ContextValue) -> Option<String> {
    match value {
        ContextValue::String(text) => Some(text.clone()),
        ContextValue::Strings(texts) => texts.first().cloned(),
        _ => None,
    }
}
