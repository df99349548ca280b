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
    #[error("{path} is not a text file: what stands after its first {offset} bytes is no text (UTF-8)")]
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
    /// It is one of the files that were read.
    #[error("{path} is one of the files just read; give the result another name with --out")]
    Input {
        /// As typed.
        path: String,
    },
    /// It is no plain file.
    #[error("{path} is no plain file; write to standard output with `--out -` instead")]
    NotPlain {
        /// As typed.
        path: String,
    },
    /// Its folder does not exist.
    #[error("there is no folder {folder} to write {path} into")]
    NoFolder {
        /// The folder.
        folder: String,
        /// As typed.
        path: String,
    },
}

impl FileError {
    /// How a run ends that met this.
    pub(crate) fn outcome(&self) -> Outcome {
        match self {
            FileError::Exists { .. }
            | FileError::Input { .. }
            | FileError::NotPlain { .. }
            | FileError::NoFolder { .. } => Outcome::Usage,
            FileError::NotText { .. } => Outcome::BadInput,
            FileError::Write { .. } => Outcome::System,
            FileError::Read { why, .. } => match why.kind() {
                ErrorKind::NotFound
                | ErrorKind::IsADirectory
                | ErrorKind::NotADirectory
                | ErrorKind::InvalidData => Outcome::BadInput,
                _ => Outcome::System,
            },
        }
    }
}

/// Whether a path means standard input or output.
pub(crate) fn is_dash(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// Largest file that is read, bytes: no job and no program comes near it, a device that never ends does.
const LARGEST_FILE: u64 = 1 << 30;

/// Reads a text file; `-` is standard input.
pub(crate) fn read(path: &Path) -> Result<Arc<Source>, FileError> {
    let shown = path.display().to_string();
    let failed = |why| FileError::Read { path: shown.clone(), why };
    let mut bytes = Vec::new();
    let limit = LARGEST_FILE + 1;
    if is_dash(path) {
        std::io::stdin().lock().take(limit).read_to_end(&mut bytes).map_err(failed)?;
    } else {
        std::fs::File::open(path)
            .and_then(|file| file.take(limit).read_to_end(&mut bytes))
            .map_err(failed)?;
    }
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(failed(std::io::Error::new(ErrorKind::InvalidData, "it is larger than a gigabyte")));
    }
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

/// Says whether a result could be written to a path, before any work is done for it: its folder is there, it is a plain
/// file or none yet, and it is none of the files in `inputs`.
pub(crate) fn check_target(path: &Path, inputs: &[PathBuf]) -> Result<(), FileError> {
    let shown = path.display().to_string();
    let folder = folder_of(path);
    if !folder.is_dir() {
        return Err(FileError::NoFolder { folder: folder.display().to_string(), path: shown });
    }
    match std::fs::metadata(path) {
        Ok(data) if !data.is_file() => return Err(FileError::NotPlain { path: shown }),
        Ok(_) => {}
        Err(_) => return Ok(()),
    }
    let same = |input: &PathBuf| {
        let (a, b) = (std::fs::canonicalize(path), std::fs::canonicalize(input));
        a.is_ok() && a.ok() == b.ok()
    };
    if inputs.iter().any(same) { Err(FileError::Input { path: shown }) } else { Ok(()) }
}

fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    }
}

/// Writes a file whole: to a temporary file beside it that then takes its name. An existing file with other content
/// is kept unless `replace`; so is one whose content cannot be read. A link is followed, not replaced.
pub(crate) fn write(path: &Path, content: impl AsRef<[u8]>, replace: bool) -> Result<Written, FileError> {
    let content = content.as_ref();
    check_target(path, &[])?;
    let shown = path.display().to_string();
    let failed = |why| FileError::Write { path: shown.clone(), why };
    let real =
        if path.is_symlink() { std::fs::canonicalize(path).map_err(failed)? } else { path.to_path_buf() };
    if let Ok(data) = std::fs::metadata(&real) {
        // Comparing sizes first spares reading a large file to find out that it differs.
        let same = data.len() == content.len() as u64 && std::fs::read(&real).is_ok_and(|old| old == content);
        if same {
            return Ok(Written::Same);
        }
        if !replace {
            return Err(FileError::Exists { path: shown });
        }
    }
    let mut file = tempfile::Builder::new()
        .prefix(".threadwright-")
        .permissions(permissions())
        .tempfile_in(folder_of(&real))
        .map_err(failed)?;
    file.write_all(content).and_then(|()| file.as_file().sync_all()).map_err(failed)?;
    file.persist(&real).map_err(|error| failed(error.error))?;
    Ok(Written::New)
}

/// Whether a text looks like a program for a machine rather than a job: no line sets a key, and some line begins with a
/// word such as G0 or a percent sign.
pub(crate) fn looks_like_program(text: &str) -> bool {
    let is_word = |line: &str| {
        let line = line.trim_start();
        let mut bytes = line.bytes();
        line.starts_with('%')
            || (bytes.next().is_some_and(|b| b"GgMmNn".contains(&b))
                && bytes.next().is_some_and(|b| b.is_ascii_digit()))
    };
    text.lines().any(is_word) && !looks_like_job(text)
}

/// Whether a text looks like a job rather than a program: some line is a table such as `[screw]`.
pub(crate) fn looks_like_job(text: &str) -> bool {
    text.lines().any(|line| {
        let line = line.trim();
        line.starts_with('[') && line.split('#').next().is_some_and(|head| head.trim_end().ends_with(']'))
    })
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
