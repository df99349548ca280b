//! A sign of life on standard error when something takes more than half a second. Shows itself on a terminal only.

use std::time::Duration;

use indicatif::{ProgressBar, ProgressStyle};

/// Runs `work` and shows `words` beside a turning mark if it takes long.
pub(crate) fn with_sign<T: Send>(words: &'static str, quiet: bool, work: impl FnOnce() -> T + Send) -> T {
    if quiet {
        return work();
    }
    std::thread::scope(|scope| {
        let (done, waiting) = std::sync::mpsc::channel::<()>();
        scope.spawn(move || {
            if waiting.recv_timeout(PATIENCE) == Err(std::sync::mpsc::RecvTimeoutError::Timeout) {
                let bar = ProgressBar::new_spinner().with_message(words);
                if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} {elapsed}") {
                    bar.set_style(style);
                }
                bar.enable_steady_tick(TICK);
                let _ = waiting.recv();
                bar.finish_and_clear();
            }
        });
        let result = work();
        drop(done);
        result
    })
}

/// How long to wait before showing anything.
const PATIENCE: Duration = Duration::from_millis(500);
/// How often the mark turns.
const TICK: Duration = Duration::from_millis(100);
