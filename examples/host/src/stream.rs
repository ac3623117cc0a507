//! The flight as a logger's converters and thermometers deliver it: the format of a binary stream.
//!
//! Little endian, nothing between the numbers. First a header:
//!
//! | bytes | type | what |
//! |---|---|---|
//! | 0 to 7 | 8 bytes | [`MAGIC`], `gwflight` |
//! | 8 to 11 | `u32` | [`VERSION`], 1 |
//! | 12 to 15 | `u32` | rows |
//! | 16 to 19 | `u32` | bytes in a row |
//! | 20 to 23 | `u32` | rows a second |
//!
//! Then the rows. A row holds, for each channel in the order of `simulation::channels()`:
//!
//! | type | what |
//! |---|---|
//! | `i32` | code of the converter |
//! | `i32` | temperature of the gauge in Q20 degrees Celsius; of a raw sensor (`strut_south`, `valve_body`) what the library makes of it |
//! | `i32` | temperature of the free block in Q20 degrees Celsius, only for a channel that has one (`strut_spare`) |
//!
//! With eight channels and one block that is 68 bytes, and 3.5 MB for the flight. Time and true strain are left out: a
//! logger has neither.
//!
//! This file needs `core` alone, so that firmware can share it.

/// What a stream starts with.
pub const MAGIC: [u8; 8] = *b"gwflight";

/// Of the format.
pub const VERSION: u32 = 1;

/// What stands before the rows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Header {
    pub rows: u32,
    pub bytes_per_row: u32,
    pub rows_per_second: u32,
}

impl Header {
    pub const BYTES: usize = 24;

    pub fn to_bytes(self) -> [u8; Self::BYTES] {
        let mut bytes = [0; Self::BYTES];
        bytes[..8].copy_from_slice(&MAGIC);
        let numbers = [VERSION, self.rows, self.bytes_per_row, self.rows_per_second];
        for (place, number) in bytes[8..].chunks_exact_mut(4).zip(numbers) {
            place.copy_from_slice(&number.to_le_bytes());
        }
        bytes
    }

    /// # Errors
    /// If it is no header of this version.
    pub fn from_bytes(bytes: &[u8; Self::BYTES]) -> Result<Self, &'static str> {
        let number = |at: usize| u32::from_le_bytes([bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]]);
        if bytes[..8] != MAGIC {
            return Err("not the stream of a flight");
        }
        if number(8) != VERSION {
            return Err("the stream of a flight, in another version of the format");
        }
        Ok(Self { rows: number(12), bytes_per_row: number(16), rows_per_second: number(20) })
    }
}
