//! From a channel to a kernel: the same methods for channels of one and of two temperatures and for each arithmetic. (A trait's
//! methods cannot be `const`, so they are made by a macro.)

/// Makes them where `$compile(channel)` gives a kernel and what its model leaves out. `$use` and `$shown` are for
/// the examples: the module of the kernel's type, and the type.
macro_rules! forms {
    (
        $channel:ident, $example:ident, $kernel:ident[$($number:ident)?], $compile:ident,
        $arithmetic:literal, $use:ident, $shown:literal,
        $make:ident $try_make:ident $within:ident $try_within:ident $suggest:ident
    ) => {
        impl $channel {
            #[doc = concat!("Compiles the channel to ", $arithmetic, ", for constants in firmware: a channel that is wrong, or whose")]
            /// numbers do not fit, does not compile, and the message names the quantity.
            ///
            /// # Panics
            #[doc = concat!("Where [`", stringify!($try_make), "`](Self::", stringify!($try_make), ") gives an error.")]
            ///
            /// ```
            #[doc = concat!("use gaugewright::{example::", stringify!($example), ", ", stringify!($use), "};")]
            #[doc = concat!("static KERNEL: ", $shown, " = ", stringify!($example), ".", stringify!($make), "();")]
            /// ```
            #[must_use]
            #[track_caller]
            pub const fn $make<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
                &self,
            ) -> $kernel<$($number,)? DEGREE, FACTOR, PRODUCT> {
                crate::error::unwrap_const(self.$try_make())
            }

            #[doc = concat!("Compiles the channel to ", $arithmetic, " and insists that its error stays within `error_limit`.")]
            ///
            /// # Panics
            #[doc = concat!("Where [`", stringify!($try_within), "`](Self::", stringify!($try_within), ") gives an error. Where it is")]
            #[doc = concat!("the limit that is exceeded, the message has the [limits suggested](Self::", stringify!($suggest), ").")]
            ///
            /// ```
            #[doc = concat!("use gaugewright::{example::", stringify!($example), ", ", stringify!($use), ", units::*};")]
            #[doc = concat!("static KERNEL: ", $shown, " = ", stringify!($example), ".", stringify!($within), "(Nanostrain(20.0));")]
            /// ```
            #[must_use]
            #[track_caller]
            pub const fn $within<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
                &self,
                error_limit: Nanostrain,
            ) -> $kernel<$($number,)? DEGREE, FACTOR, PRODUCT> {
                match self.$try_within(error_limit) {
                    Err(
                        error @ (Error::Bound { .. }
                        | Error::Overflow { quantity: crate::error::Quantity::SignalGain, .. }),
                    ) => {
                        self.$suggest::<DEGREE, FACTOR, PRODUCT>(error_limit).stop(&error)
                    }
                    result => crate::error::unwrap_const(result),
                }
            }

            #[doc = concat!("Compiles the channel to ", $arithmetic, ", for channels that are made at run time.")]
            ///
            /// # Errors
            /// [`Error::Invalid`] for an input that is wrong, [`Error::Overflow`] for a constant, an intermediate
            /// or a degree that the kernel has no room for, and where its polynomial leaves more than a nanostrain out of a gauge factor
            /// that refers to the free foil.
            ///
            /// ```
            #[doc = concat!("use gaugewright::{example::", stringify!($example), ", ", stringify!($use), "};")]
            #[doc = concat!("let kernel: ", $shown, " = ", stringify!($example), ".", stringify!($try_make), "()?;")]
            /// # Ok::<(), gaugewright::Error>(())
            /// ```
            pub const fn $try_make<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
                &self,
            ) -> Result<$kernel<$($number,)? DEGREE, FACTOR, PRODUCT>, Error> {
                let (kernel, left_out) = try_const!($compile(self));
                try_const!(left_out.check_factor());
                Ok(kernel)
            }

            #[doc = concat!("As [`", stringify!($try_make), "`](Self::", stringify!($try_make), "), with an error limit.")]
            ///
            /// # Errors
            /// Also [`Error::Bound`] if the bound of either path of the kernel, what its map leaves out of the circuit
            /// ([`circuit_error`](Self::circuit_error)) and what its polynomial leaves out of a gauge factor that refers to the free
            /// foil are together larger than `error_limit`.
            ///
            /// ```
            #[doc = concat!("use gaugewright::{Error, example::", stringify!($example), ", units::*};")]
            #[doc = concat!(
                "let result = ", stringify!($example), ".", stringify!($try_within), "::<4, 1, 0>(Nanostrain(1e-12));"
            )]
            /// assert!(matches!(result, Err(Error::Bound { .. })));
            /// ```
            pub const fn $try_within<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
                &self,
                error_limit: Nanostrain,
            ) -> Result<$kernel<$($number,)? DEGREE, FACTOR, PRODUCT>, Error> {
                let (kernel, left_out) = try_const!($compile(self));
                // The parts of the bound are computed only where the error names the largest: each is an analysis of its own.
                if kernel.max_bound() + left_out.nanostrain() <= error_limit.0 {
                    return Ok(kernel);
                }
                try_const!(kernel.error_bound().check(error_limit, left_out));
                Ok(kernel)
            }

            #[doc = concat!("Narrower declarations that meet the error limit of [`", stringify!($try_within), "`](Self::", stringify!($try_within), "),")]
            /// tried in a search. None where nothing does, or the channel is wrong; ranges just below its own for a channel that
            /// meets the limit.
            ///
            /// ```
            #[doc = concat!("use gaugewright::{example::", stringify!($example), ", units::*};")]
            #[doc = concat!("assert!(", stringify!($example), ".", stringify!($suggest), "::<4, 1, 0>(Nanostrain(0.0)).is_none());")]
            /// ```
            #[must_use]
            pub const fn $suggest<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
                &self,
                error_limit: Nanostrain,
            ) -> SuggestedLimits {
                let mut search = Search::new(self.declared());
                while let Some(candidate) = search.next() {
                    let meets = match $compile::<DEGREE, FACTOR, PRODUCT>(&self.redeclared(candidate)) {
                        Ok((kernel, left_out)) => kernel.max_bound() + left_out.nanostrain() <= error_limit.0,
                        Err(_) => false,
                    };
                    search = search.answer(meets);
                }
                search.found()
            }
        }
    };
}
pub(super) use forms;
