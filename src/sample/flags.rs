//! Flags that a reading carries: the two sets of them, of strain and of temperature, are made alike.

/// Makes a set of flags. `$path` is its name as a user writes it, `$first` and `$last` two of its flags: for the examples.
macro_rules! flags {
    (
        $(#[$doc:meta])* $name:ident($word:ty), $path:literal, $first:ident, $last:ident;
        $(#[$clear_doc:meta])* CLEAR;
        $($(#[$flag_doc:meta])* $flag:ident = $bit:literal => $text:literal;)*
    ) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Default, PartialEq, Eq, Hash)]
        #[repr(transparent)]
        pub struct $name($word);

        impl $name {
            $(#[$clear_doc])*
            ///
            /// ```
            #[doc = concat!("assert!(", $path, "::CLEAR.is_clear());")]
            /// ```
            pub const CLEAR: Self = Self(0);

            $(
                $(#[$flag_doc])*
                ///
                /// ```
                #[doc = concat!("assert_eq!(", $path, "::", stringify!($flag), ".bits(), ", stringify!($bit), ");")]
                /// ```
                pub const $flag: Self = Self($bit);
            )*

            /// Every flag there is, with its name, in the order in which they are listed.
            ///
            /// ```
            #[doc = concat!("assert_eq!(", $path, "::ALL[0].0, ", $path, "::", stringify!($first), ");")]
            /// ```
            pub const ALL: [(Self, &'static str); [$($bit),*].len()] = [$((Self::$flag, $text)),*];

            /// No flag is raised.
            ///
            /// ```
            #[doc = concat!("assert!(!", $path, "::", stringify!($first), ".is_clear());")]
            /// ```
            #[must_use]
            #[inline]
            pub const fn is_clear(self) -> bool {
                self.0 == 0
            }

            /// All flags of `other` are raised.
            ///
            /// ```
            #[doc = concat!("type Flags = ", $path, ";")]
            #[doc = concat!("assert!(!Flags::", stringify!($first), ".contains(Flags::", stringify!($last), "));")]
            /// ```
            #[must_use]
            #[inline]
            pub const fn contains(self, other: Self) -> bool {
                self.0 & other.0 == other.0
            }

            /// The flags as bits, for a log or a bus.
            ///
            /// ```
            #[doc = concat!("assert_eq!(", $path, "::CLEAR.bits(), 0);")]
            /// ```
            #[must_use]
            #[inline]
            pub const fn bits(self) -> u8 {
                self.0 as u8
            }

            /// The flags of a logged byte; `None` if it has bits that are no flag.
            ///
            /// ```
            #[doc = concat!("type Flags = ", $path, ";")]
            #[doc = concat!(
                "assert_eq!(Flags::from_bits(Flags::", stringify!($last), ".bits()), Some(Flags::", stringify!($last), "));"
            )]
            /// assert_eq!(Flags::from_bits(128), None);
            /// ```
            #[must_use]
            pub const fn from_bits(bits: u8) -> Option<Self> {
                if (bits as usize) < 1 << Self::ALL.len() { Some(Self(bits as $word)) } else { None }
            }

            /// `self` if `raised`, otherwise clear.
            #[inline]
            pub(crate) const fn when(self, raised: bool) -> Self {
                Self(self.0 * raised as $word)
            }

            #[inline]
            pub(crate) const fn union(self, other: Self) -> Self {
                Self(self.0 | other.0)
            }
        }

        impl core::ops::BitOr for $name {
            type Output = Self;

            fn bitor(self, other: Self) -> Self {
                self.union(other)
            }
        }

        impl core::ops::BitOrAssign for $name {
            fn bitor_assign(&mut self, other: Self) {
                *self = self.union(other);
            }
        }

        /// The names of the flags that are raised, as `Flags(CODE_AT_RAIL | STRAIN_OUTSIDE)`.
        impl core::fmt::Debug for $name {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.write_str(concat!(stringify!($name), "("))?;
                let mut separator = "";
                $(
                    if self.contains(Self::$flag) {
                        write!(f, "{separator}{}", stringify!($flag))?;
                        separator = " | ";
                    }
                )*
                f.write_str(if separator.is_empty() { "CLEAR)" } else { ")" })
            }
        }

        impl core::fmt::Display for $name {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                let mut separator = "";
                for (flag, name) in Self::ALL {
                    if self.contains(flag) {
                        write!(f, "{separator}{name}")?;
                        separator = ", ";
                    }
                }
                if self.is_clear() { f.write_str("clear") } else { Ok(()) }
            }
        }

        /// The words of [`Display`](core::fmt::Display); none of them is kept in the firmware.
        #[cfg(feature = "defmt")]
        impl defmt::Format for $name {
            fn format(&self, f: defmt::Formatter<'_>) {
                let mut is_first = true;
                $(
                    if self.contains(Self::$flag) {
                        if !core::mem::take(&mut is_first) {
                            defmt::write!(f, ", ");
                        }
                        defmt::write!(f, $text);
                    }
                )*
                if is_first {
                    defmt::write!(f, "clear");
                }
            }
        }
    };
}
pub(crate) use flags;
