//! Arithmetic that more than one module uses: polynomials, intervals, elementary functions in `const fn`, Student's t.

mod double_angle;
mod elementary;
mod float;
mod interpolation;
mod interval;
mod maximum;
mod polynomial;
mod student;

pub use float::Float;
pub use polynomial::Polynomial;
pub use student::coverage_factor;

pub(crate) use double_angle::double_angle;
pub(crate) use elementary::{exp, ln};
#[doc(hidden)]
pub use float::ConstantsRounding;
pub(crate) use float::{ascending, value_and_slope};
pub(crate) use interpolation::{PLACES, largest_difference, polynomial_through, powers_through};
pub(crate) use interval::Interval;
pub(crate) use maximum::{by_golden_section, place_of_maximum};
