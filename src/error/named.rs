//! Enums of named things, with a number each where C has them.

/// Makes an enum of named things whose name in print is a plain string, usable in `const`. Where each has a number, it is that of C;
/// where each has a range too, it is that of its value.
macro_rules! named {
    (@ $(#[$doc:meta])* $name:ident, $example:literal {
        $($(#[$item_doc:meta])* $item:ident $(= $number:tt)? => $text:tt,)*
    }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        #[non_exhaustive]
        pub enum $name { $($(#[$item_doc])* $item $(= $number)?,)* }

        impl $name {
            /// The name in words, with the unit where there is one.
            ///
            /// ```
            #[doc = $example]
            /// ```
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$item => $text,)* }
            }
        }

        impl core::fmt::Display for $name {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.write_str(self.name())
            }
        }

        #[cfg(feature = "defmt")]
        impl defmt::Format for $name {
            fn format(&self, f: defmt::Formatter<'_>) {
                match self { $(Self::$item => defmt::write!(f, $text),)* }
            }
        }
    };
    ($(#[$doc:meta])* $name:ident, $example:literal {
        $($(#[$item_doc:meta])* $item:ident => $text:tt,)*
    }) => {
        named! { @ $(#[$doc])* $name, $example { $($(#[$item_doc])* $item => $text,)* } }
    };
    ($(#[$doc:meta])* $name:ident, $example:literal {
        $($(#[$item_doc:meta])* $item:ident = $number:tt => $text:tt,)*
    }) => {
        named! { @ $(#[$doc])* $name, $example { $($(#[$item_doc])* $item = $number => $text,)* } }

        impl $name {
            /// All of them, in the order of their numbers.
            ///
            /// ```
            #[doc = concat!("use gaugewright::error::", stringify!($name), ";")]
            #[doc = concat!("assert!(", stringify!($name), "::ALL.is_sorted_by_key(|one| one.number()));")]
            /// ```
            pub const ALL: &'static [Self] = &[$(Self::$item),*];

            /// The number, which is that of C.
            ///
            /// ```
            #[doc = concat!("assert_eq!(gaugewright::error::", stringify!($name), "::ALL[0].number() % 100, 1);")]
            /// ```
            #[must_use]
            pub const fn number(self) -> u32 {
                self as u32
            }

            /// The one of this number.
            #[cfg(feature = "ffi")]
            pub(crate) fn of_number(number: u32) -> Option<Self> {
                Self::ALL.iter().copied().find(|one| one.number() == number)
            }

            /// The name for C.
            #[cfg(feature = "ffi")]
            pub(crate) const fn c_name(self) -> &'static core::ffi::CStr {
                match self { $(Self::$item => crate::error::c_text(concat!($text, "\0")),)* }
            }
        }
    };
    ($(#[$doc:meta])* $name:ident, $example:literal {
        $($(#[$item_doc:meta])* $item:ident = $number:tt => $text:tt in $range:tt,)*
    }) => {
        named! { $(#[$doc])* $name, $example {
            $(
                #[doc = concat!($text, ": `", stringify!($range), "`.")]
                ///
                $(#[$item_doc])*
                $item = $number => $text,
            )*
        } }

        impl $name {
            /// Lowest and highest value; not a number where they depend on other inputs.
            // Inlined: out of line it is a table of all of them.
            #[inline(always)]
            pub(crate) const fn limits(self) -> (f64, f64) {
                #[allow(non_upper_case_globals)]
                const depends: [f64; 2] = [f64::NAN; 2];
                let [low, high] = match self { $(Self::$item => $range,)* };
                (low, high)
            }
        }
    };
}
pub(crate) use named;
