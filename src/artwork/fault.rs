//! Why art cannot be read from a file.

/// What is wrong with a file of art, and what to do. Neither part ends in a full stop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ArtFault {
    /// What was found.
    pub problem: String,
    /// What to do.
    pub remedy: &'static str,
}

impl ArtFault {
    pub(super) fn new(problem: impl Into<String>, remedy: &'static str) -> Self {
        Self { problem: problem.into(), remedy }
    }

    /// A file that breaks off before its last row.
    pub(super) fn cut_short() -> Self {
        Self::new("the picture ends before its last row", SAVE_AGAIN)
    }

    /// A file whose parts contradict each other.
    pub(super) fn damaged() -> Self {
        Self::new("the picture is damaged", SAVE_AGAIN)
    }

    /// A file that asks for more memory than a picture needs.
    pub(super) fn greedy() -> Self {
        Self::new("reading it would take too much memory", SAVE_AGAIN)
    }
}

pub(super) const SAVE_AGAIN: &str = "export it again from the program that made it";
