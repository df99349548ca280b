//! Reading and writing files: whole or not at all, and never over something that was there unless asked.

use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use thiserror::Error;

use super::Outcome;
use crate::source::Source;

/// What can go wrong with a file.
#[derive(Debug, Error)]
pub(crate) enum FileError {
    /// It cannot be read.
    #[error("{path} cannot be read: {why}")]
    Read {
        /// As typed.
        path: String,
        /// Why.
        #[source]
        why: std::io::Error,
    },
    /// It is not text.
    #[error("{path} is not a text file: the byte at offset {offset} is no UTF-8")]
    NotText {
        /// As typed.
        path: String,
        /// Where the text ends.
        offset: usize,
    },
    /// It cannot be written.
    #[error("{path} cannot be written: {why}")]
    Write {
        /// As typed.
        path: String,
        /// Why.
        #[source]
        why: std::io::Error,
    },
    /// It exists with other content.
    #[error("{path} exists and holds something else; add --replace to write over it")]
    Exists {
        /// As typed.
        path: String,
    },
}

impl FileError {
    /// How a run ends that met this.
    pub(crate) fn outcome(&self) -> Outcome {
        match self {
            FileError::Exists { .. } => Outcome::Usage,
            FileError::NotText { .. } => Outcome::BadInput,
            FileError::Write { .. } => Outcome::System,
            FileError::Read { why, .. } => match why.kind() {
                ErrorKind::NotFound | ErrorKind::IsADirectory | ErrorKind::NotADirectory => Outcome::BadInput,
                _ => Outcome::System,
            },
        }
    }
}

/// Whether a path means standard input or output.
pub(crate) fn is_dash(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Reads a text file; `-` is standard input.
pub(crate) fn read(path: &Path) -> Result<Arc<Source>, FileError> {
    let shown = path.display().to_string();
    let failed = |why| FileError::Read { path: shown.clone(), why };
    let bytes = if is_dash(path) {
        let mut bytes = Vec::new();
        std::io::stdin().lock().read_to_end(&mut bytes).map_err(failed)?;
        bytes
    } else {
        std::fs::read(path).map_err(failed)?
    };
    let name = if is_dash(path) { "standard input".to_owned() } else { shown.clone() };
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Source::new(name, text)),
        Err(error) => Err(FileError::NotText { path: name, offset: error.utf8_error().valid_up_to() }),
    }
}

/// What became of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Written {
    /// It is new, or was replaced.
    New,
    /// It already held these bytes.
    Same,
}

/// Writes a file whole: to a temporary file beside it that then takes its name. An existing file with other content
/// is kept unless `replace`.
pub(crate) fn write(path: &Path, text: &str, replace: bool) -> Result<Written, FileError> {
    let shown = path.display().to_string();
    match std::fs::read(path) {
        Ok(old) if old == text.as_bytes() => return Ok(Written::Same),
        Ok(_) if !replace => return Err(FileError::Exists { path: shown }),
        _ => {}
    }
    let failed = |why| FileError::Write { path: shown.clone(), why };
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    };
    let mut file = tempfile::Builder::new()
        .prefix(".threadwright-")
        .permissions(permissions())
        .tempfile_in(&folder)
        .map_err(failed)?;
    file.write_all(text.as_bytes()).and_then(|()| file.as_file().sync_all()).map_err(failed)?;
    file.persist(path).map_err(|error| failed(error.error))?;
    Ok(Written::New)
}

/// What a file of the user's normally gets: read and write, less what the system's mask takes away.
#[cfg(unix)]
fn permissions() -> std::fs::Permissions {
    std::os::unix::fs::PermissionsExt::from_mode(0o666)
}

#[cfg(not(unix))]
fn permissions() -> std::fs::Permissions {
    // Elsewhere a temporary file takes the folder's rights anyway; this value is not looked at.
    std::fs::metadata(".").map(|data| data.permissions()).expect("the current folder can be asked")
}
