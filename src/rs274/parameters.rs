//! The numbered parameters of a control. Their values outlive programs, so a value that this program did not set is
//! not known here.

use super::formula::LAST_PARAMETER;

/// The parameters that the program has set so far.
#[derive(Default)]
pub(super) struct Parameters {
    values: Vec<Option<f64>>,
    /// A line that was to set some could not be read, which was told: that others are missing proves nothing now.
    pub(super) in_doubt: bool,
}

impl Parameters {
    /// The value of a parameter, if the program set it.
    pub(super) fn get(&self, index: usize) -> Option<f64> {
        self.values.get(index).copied().flatten()
    }

    /// Sets a parameter; `index` is at most [`LAST_PARAMETER`].
    pub(super) fn set(&mut self, index: usize, value: f64) {
        if self.values.is_empty() {
            self.values.resize(LAST_PARAMETER + 1, None);
        }
        self.values[index] = Some(value);
    }
}
