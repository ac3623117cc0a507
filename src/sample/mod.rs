//! What goes into a kernel and what comes out: converters, the two number formats, input ranges, flags, readings.

mod converter;
mod flags;
mod formats;
mod input_range;
mod mean_code;
mod product;
mod quotient;
mod reading;
mod span;
#[cfg(feature = "record")]
mod stored;
mod window;

pub use converter::{Converter, Instrument};
pub use formats::{Strain, Temperature};
pub use mean_code::MeanCode;
pub use reading::{Flags, Reading};
pub use span::Span;
#[cfg(feature = "record")]
pub use stored::{KnownAnswer, Reader, Stored, Writer};

pub(crate) use flags::flags;
pub(crate) use formats::nearest;
pub(crate) use input_range::{InputRange, scale};
pub(crate) use product::{is_mixed, mla, mla_mixed, mla_small, mul, square, unraised, with_square};
pub(crate) use quotient::number;
#[cfg(feature = "record")]
pub(crate) use stored::two_thirds;
pub(crate) use window::{clamped_offset, code_flags, same_length};
