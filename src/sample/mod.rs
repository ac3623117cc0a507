//! What goes into a kernel and what comes out: converters, the two number formats, input ranges, flags, readings.

mod converter;
mod flags;
mod formats;
mod input_range;
mod product;
mod reading;
#[cfg(feature = "record")]
mod stored;
mod window;

pub use converter::{Converter, Instrument};
pub use formats::{Strain, Temperature};
pub use reading::{Flags, Reading};
#[cfg(feature = "record")]
pub use stored::{KnownAnswer, Reader, Stored, Writer};

pub(crate) use flags::flags;
pub(crate) use formats::nearest;
pub(crate) use input_range::{InputRange, scale};
pub(crate) use product::{mla, mla_small, mul, square};
#[cfg(feature = "record")]
pub(crate) use stored::{at_most, two_thirds, whole_within};
pub(crate) use window::{clamped_offset, code_flags, same_length};
