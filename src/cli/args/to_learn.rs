//! Verbs that tell about the tool itself.

use std::path::PathBuf;

use clap::Args;
use clap::builder::PossibleValuesParser;
use clap_complete::Shell;

use crate::job::FileKind;

/// `explain`
#[derive(Debug, Args)]
pub(crate) struct Explain {
    /// A code, as it stands in brackets behind stop, care or note; without one, all codes
    pub(crate) code: Option<String>,
}

/// `completions`
#[derive(Debug, Args)]
pub(crate) struct Completions {
    /// The shell to complete in
    #[arg(value_enum)]
    pub(crate) shell: Shell,
}

/// `manual`
#[derive(Debug, Args)]
pub(crate) struct Manual {
    /// Folder to write the manual pages into: threadwright.1, threadwright-cut.1 and so on
    #[arg(long, short = 'o', value_name = "FOLDER", default_value = ".")]
    pub(crate) out: PathBuf,
    /// Replace existing files
    #[arg(long)]
    pub(crate) replace: bool,
}

/// `schema`
#[derive(Debug, Args)]
pub(crate) struct Schema {
    /// The kind of file
    #[arg(value_parser = PossibleValuesParser::new(FileKind::ALL.map(FileKind::name)))]
    pub(crate) kind: String,
}
