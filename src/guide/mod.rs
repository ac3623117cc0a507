//! Guides by task; the [front page](crate#guides) lists them in the order in which they are useful.

macro_rules! guides {
    ($($name:ident)*) => {
        $(
            #[doc = include_str!(concat!(stringify!($name), ".md"))]
            pub mod $name {}
        )*
    };
}
guides!(correction getting_started from_c circuits temperature commissioning accuracy microcontrollers limits);
