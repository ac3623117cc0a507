//! From a thermometer to a kernel: the same eight methods for both thermometers. (`const fn` is not generic in a trait, so
//! they are made by a macro.)

/// Makes them for a thermometer whose `integers` and `singles` compile it. `$sizes` and `$example` are for the examples: sizes
/// of a kernel, and a thermometer as the constant `T`.
macro_rules! forms {
    ($thermometer:ident, $kernel:ident[$($size:ident),+], $sizes:literal, $example:literal, $errors:literal) => {
        forms!(
            @ $thermometer, $kernel[$($size),+], i32, integers, "integers", $sizes, $example, $errors,
            fixed try_fixed fixed_within try_fixed_within
        );
        forms!(
            @ $thermometer, $kernel[$($size),+], f32, singles, "`f32`", $sizes, $example, $errors,
            float32 try_float32 float32_within try_float32_within
        );
    };
    (
        @ $thermometer:ident, $kernel:ident[$($size:ident),+], $number:ident, $compile:ident, $arithmetic:literal,
        $sizes:literal, $example:literal, $errors:literal,
        $make:ident $try_make:ident $within:ident $try_within:ident
    ) => {
        impl $thermometer {
            #[doc = concat!("Compiles the thermometer to ", $arithmetic, ", for constants in firmware.")]
            ///
            /// # Panics
            #[doc = concat!(
                "Where [`", stringify!($try_make), "`](Self::", stringify!($try_make),
                ") gives an error: the build stops with its words."
            )]
            ///
            /// ```
            /// use gaugewright::{Converter, temperature::*, units::*};
            #[doc = $example]
            #[doc = concat!(
                "static KERNEL: ", stringify!($kernel), "<", stringify!($number), ", ", $sizes, "> = T.",
                stringify!($make), "();"
            )]
            /// assert!(KERNEL.error_bound().0 < 0.01);
            /// ```
            #[must_use]
            #[track_caller]
            pub const fn $make<$(const $size: usize),+>(&self) -> $kernel<$number, $($size),+> {
                crate::error::unwrap_const(self.$try_make())
            }

            #[doc = concat!(
                "Compiles the thermometer to ", $arithmetic, " and insists that its error stays within `limit`."
            )]
            ///
            /// # Panics
            #[doc = concat!(
                "Where [`", stringify!($try_within), "`](Self::", stringify!($try_within),
                ") gives an error: the build stops with its words."
            )]
            ///
            /// ```
            /// use gaugewright::{Converter, temperature::*, units::*};
            #[doc = $example]
            #[doc = concat!(
                "static KERNEL: ", stringify!($kernel), "<", stringify!($number), ", ", $sizes, "> = T.",
                stringify!($within), "(Celsius(0.01));"
            )]
            /// ```
            #[must_use]
            #[track_caller]
            pub const fn $within<$(const $size: usize),+>(
                &self,
                limit: crate::units::Celsius,
            ) -> $kernel<$number, $($size),+> {
                crate::error::unwrap_const(self.$try_within(limit))
            }

            #[doc = concat!("Compiles the thermometer to ", $arithmetic, ", for thermometers that are made at run time.")]
            ///
            /// # Errors
            #[doc = $errors]
            ///
            /// ```
            /// use gaugewright::{Converter, temperature::*, units::*};
            #[doc = $example]
            #[doc = concat!("assert!(T.", stringify!($try_make), "::<", $sizes, ">().is_ok());")]
            #[doc = concat!(
                "assert!(T.between(Celsius(-300.0), Celsius(100.0)).", stringify!($try_make), "::<", $sizes, ">().is_err());"
            )]
            /// ```
            pub const fn $try_make<$(const $size: usize),+>(
                &self,
            ) -> Result<$kernel<$number, $($size),+>, crate::error::Error> {
                self.$compile()
            }

            #[doc = concat!(
                "As [`", stringify!($try_make), "`](Self::", stringify!($try_make), "), with an error limit in degrees."
            )]
            ///
            /// # Errors
            #[doc = concat!(
                "Those of [`", stringify!($try_make), "`](Self::", stringify!($try_make),
                "), and [`Error::TemperatureBound`](crate::Error::TemperatureBound) if the kernel's"
            )]
            #[doc = concat!("[`error_bound`](", stringify!($kernel), "::error_bound) is above the limit.")]
            ///
            /// ```
            /// use gaugewright::{Converter, Error, temperature::*, units::*};
            #[doc = $example]
            #[doc = concat!("let missed = T.", stringify!($try_within), "::<", $sizes, ">(Celsius(1e-9));")]
            /// assert!(matches!(missed, Err(Error::TemperatureBound { .. })));
            /// ```
            pub const fn $try_within<$(const $size: usize),+>(
                &self,
                limit: crate::units::Celsius,
            ) -> Result<$kernel<$number, $($size),+>, crate::error::Error> {
                let kernel = crate::error::try_const!(self.$try_make());
                let bound = kernel.error_bound();
                if bound.0 <= limit.0 {
                    Ok(kernel)
                } else {
                    Err(crate::error::Error::TemperatureBound { limit, bound })
                }
            }
        }
    };
}
pub(super) use forms;
