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
    #[error("{path} cannot be read: {}", plain(.why))]
    Read {
        /// As typed.
        path: String,
        /// Why.
        #[source]
        why: std::io::Error,
    },
    /// It is not there.
    #[error("{path} cannot be read: {}", missing(.folder.as_ref(), .near.as_ref()))]
    Missing {
        /// As typed.
        path: String,
        /// Its folder, if that is not there either.
        folder: Option<String>,
        /// A file in its folder with a name much like it.
        near: Option<String>,
    },
    /// It is not text.
    #[error(
        "{path} is not a text file: line {line} holds bytes that are no letters (UTF-8); take accents and odd \
         signs out of its comments, or save it as plain text"
    )]
    NotText {
        /// As typed.
        path: String,
        /// The line of the first such byte, from 1.
        line: usize,
    },
    /// It cannot be written.
    #[error("{path} cannot be written: {}", plain(.why))]
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

/// What the system says, without its number.
fn plain(why: &std::io::Error) -> String {
    if why.kind() == ErrorKind::IsADirectory {
        return "it is a folder; name a file in it".to_owned();
    }
    let words = why.to_string();
    words.split(" (os error").next().unwrap_or(&words).to_lowercase()
}

fn missing(folder: Option<&String>, near: Option<&String>) -> String {
    match (folder, near) {
        (Some(folder), _) => format!("there is no folder {folder}"),
        (None, Some(near)) => format!("there is no such file, but {near} is there"),
        (None, None) => "there is no such file".to_owned(),
    }
}

impl FileError {
    /// How a run ends that met this.
    pub(crate) fn outcome(&self) -> Outcome {
        match self {
            FileError::Exists { .. }
            | FileError::Input { .. }
            | FileError::NotPlain { .. }
            | FileError::NoFolder { .. } => Outcome::Usage,
            FileError::NotText { .. } | FileError::Missing { .. } => Outcome::BadInput,
            FileError::Write { .. } => Outcome::System,
            FileError::Read { why, .. } => match why.kind() {
                ErrorKind::IsADirectory | ErrorKind::NotADirectory | ErrorKind::InvalidData => {
                    Outcome::BadInput
                }
                _ => Outcome::System,
            },
        }
    }
}

/// Whether a path means standard input or output.
pub(crate) fn is_dash(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// What `-` is called where a file is read.
pub(crate) const STANDARD_INPUT: &str = "standard input";

/// What `-` is called where a file is written.
pub(crate) const STANDARD_OUTPUT: &str = "standard output";

/// Largest file that is read, bytes: no job and no program comes near it, a device that never ends does.
const LARGEST_FILE: u64 = 1 << 30;

/// How a path is named to the user: standard input and output have no path.
pub(crate) fn shown(path: &Path, dash: &str) -> String {
    if is_dash(path) { dash.to_owned() } else { path.display().to_string() }
}

/// Reads a text file; `-` is standard input.
pub(crate) fn read(path: &Path) -> Result<Arc<Source>, FileError> {
    let name = shown(path, STANDARD_INPUT);
    let failed = |why: std::io::Error| match why.kind() {
        ErrorKind::NotFound => not_there(path),
        _ => FileError::Read { path: name.clone(), why },
    };
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
    match String::from_utf8(bytes) {
        Ok(text) => Ok(Source::new(name, text)),
        Err(error) => {
            let before = &error.as_bytes()[..error.utf8_error().valid_up_to()];
            Err(FileError::NotText { path: name, line: memchr::memchr_iter(b'\n', before).count() + 1 })
        }
    }
}

/// Files looked at for a name like one that is not there: nobody keeps so many jobs in one folder.
const LOOKED_AT: usize = 10_000;

/// How alike two names must be, from 0 to 1, to be taken for a slip of the pen.
const ALIKE: f64 = 0.6;

/// Says that a file is not there, and what is there instead.
fn not_there(path: &Path) -> FileError {
    let folder = folder_of(path);
    let missing_folder = (!folder.is_dir()).then(|| folder.display().to_string());
    let wanted = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    let likeness = |name: &str| {
        let name = name.to_lowercase();
        let stem = name.rsplit_once('.').map_or(name.as_str(), |(stem, _)| stem);
        strsim::normalized_damerau_levenshtein(&wanted, &name)
            .max(strsim::normalized_damerau_levenshtein(&wanted, stem))
    };
    let mut names: Vec<String> = std::fs::read_dir(&folder)
        .into_iter()
        .flatten()
        .take(LOOKED_AT)
        .flatten()
        .filter(|entry| entry.path().is_file())
        .filter_map(|entry| entry.file_name().into_string().ok())
        .filter(|name| ALIKE < likeness(name))
        .collect();
    // Of equals a job before what was made from it.
    let made = |name: &String| !name.to_lowercase().ends_with(".toml");
    names.sort_by(|one, other| {
        let likelier = likeness(other).total_cmp(&likeness(one));
        likelier.then_with(|| made(one).cmp(&made(other))).then_with(|| one.cmp(other))
    });
    let near = names.first().map(|name| path.with_file_name(name).display().to_string());
    FileError::Missing { path: path.display().to_string(), folder: missing_folder, near }
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

/// Says whether a file could be written: it is none yet, holds the same already, or may be replaced.
pub(crate) fn check_content(path: &Path, text: &str, replace: bool) -> Result<(), FileError> {
    check_target(path, &[])?;
    let differs =
        std::fs::metadata(path).is_ok() && std::fs::read(path).is_ok_and(|old| old != text.as_bytes());
    if differs && !replace { Err(FileError::Exists { path: path.display().to_string() }) } else { Ok(()) }
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

/// Names that mean a device on some systems, whatever their ending.
const DEVICES: &[&str] = &["con", "prn", "aux", "nul"];

/// The name of a file without its folder and last ending, as every system takes it: no characters that some refuse, no
/// dot or blank at its end, no name of a device.
pub(crate) fn safe_stem(path: &Path) -> String {
    let stem = if is_dash(path) { None } else { path.file_stem() };
    let stem = stem.map_or_else(|| "screw".to_owned(), |stem| stem.to_string_lossy().into_owned());
    let plain = |c: char| !(c.is_control() || "<>:\"/\\|?*".contains(c));
    let name: String = stem.chars().map(|c| if plain(c) { c } else { '-' }).collect();
    let name = name.trim_end_matches(['.', ' ']);
    let first = name.split('.').next().unwrap_or("").to_lowercase();
    let numbered = first.strip_prefix("com").or_else(|| first.strip_prefix("lpt"));
    let device = DEVICES.contains(&first.as_str())
        || numbered.is_some_and(|rest| rest.len() == 1 && rest.bytes().all(|byte| byte.is_ascii_digit()));
    match name {
        "" => "screw".to_owned(),
        name if device => format!("screw-{name}"),
        name => name.to_owned(),
    }
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

/// Whether a text is a page, a drawing or a list of data: it opens with a mark that no program has.
pub(crate) fn looks_like_page(text: &str) -> bool {
    text.trim_start().starts_with(['<', '{'])
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_on_every_system() {
        let safe = |name: &str| safe_stem(Path::new(name));
        assert_eq!(safe("jobs/press.v2.toml"), "press.v2");
        assert_eq!(safe("press: \"big\"?.toml"), "press- -big--");
        assert_eq!(safe("aux.toml"), "screw-aux");
        assert_eq!(safe("COM1.v2.toml"), "screw-COM1.v2");
        assert_eq!(safe("trailing. .toml"), "trailing");
        assert_eq!(safe("-"), "screw");
        assert_eq!(safe("presse à rogner.toml"), "presse à rogner");
    }
}
