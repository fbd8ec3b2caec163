//! What an author should know about a draft as soon as it is open, and the sentence for it.

use std::fmt;
use std::path::PathBuf;

use super::shelf::Holder;

const ALSO_OPEN: &str = "another desk has this draft open: of two that save, the second is asked first";

/// What the author should know as soon as a draft is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Notice {
    /// The file may not be written.
    ReadOnlyFile,
    /// No file in the draft's folder may be written.
    ReadOnlyFolder,
    /// No recovery file can be written.
    NoRecovery,
    /// The recovery file is in this folder, not in the draft's.
    RecoveryElsewhere(PathBuf),
    /// The recovery file is in this folder from now on, because it could not be written beside the draft.
    RecoveryMoved(PathBuf),
    /// Another desk has the draft open.
    AlsoOpen(Holder),
    /// The draft was read from a document, and is not on the disk before it is saved.
    FromDocument {
        /// The document, which is only read.
        document: PathBuf,
        /// The file of the draft.
        draft: PathBuf,
        /// What was left out of the document, a clause each.
        told: Vec<String>,
    },
}

impl fmt::Display for Notice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ReadOnlyFile => f.write_str(
                "you may read this draft but not change it: change its permissions, or save your changes under another \
                 name",
            ),
            Self::ReadOnlyFolder => f.write_str(
                "the draft's folder takes no new files, so changes cannot be saved there: save them in another folder",
            ),
            Self::NoRecovery => f.write_str(
                "unsaved words cannot be kept on the disk: if the desk is cut off, what was not saved is lost",
            ),
            Self::RecoveryElsewhere(folder) => {
                write!(f, "unsaved words are kept in {}, since the draft's folder takes no new files", folder.display())
            }
            Self::RecoveryMoved(folder) => write!(
                f,
                "the draft's folder takes nothing more: unsaved words are kept in {} from now on; make room before you \
                 save",
                folder.display()
            ),
            Self::FromDocument { document, draft, told } => {
                write!(f, "the copy of {}, which is only read: saving writes ", document.display())?;
                write!(f, "{} beside it", draft.display())?;
                told.iter().try_for_each(|clause| write!(f, "; {clause}"))
            }
            Self::AlsoOpen(holder) if holder.who.is_empty() => f.write_str(ALSO_OPEN),
            Self::AlsoOpen(holder) => write!(f, "{ALSO_OPEN} ({})", holder.who),
        }
    }
}
