//! The copy set in type: shaped once in font units, broken into lines, placed in the panel's room, cast off.
//!
//! Nothing is known here of what words mean. The input is blocks of text, their type and a panel; the output is lines
//! with places. Everything is exact integer arithmetic on [`Em`](crate::units::Em) and
//! [`Length`](crate::units::Length); shapes alone are reckoned in floating point, and rounded to whole units.

pub mod naming;
pub mod shaping;
pub mod face;
pub mod built_in;
pub mod stretch;
pub mod faces;
pub mod breaks;
pub mod shaped;
mod slabs;
pub mod contour;
pub mod room;
pub mod rooms;
pub mod copy;
pub mod lines;
mod filler;
mod first_fit;
mod total_fit;
mod set;
pub mod findings;
pub mod castoff;
pub mod price;
pub mod outline;
pub mod glyphs;
mod hairline;
pub mod spine;

pub use castoff::Castoff;
pub use copy::{SettingMemory, ShapedCopy};
pub use faces::Faces;
pub use lines::{SetLine, Setting};
pub use price::Work;
pub use room::Room;
pub use rooms::{Rooms, RoomsMemory};
pub use spine::SpineTitle;
