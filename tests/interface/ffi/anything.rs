//! Numbers that nobody has chosen, and texts as C gets them.

use std::ffi::{CStr, c_char};

pub struct Anything(pub u64);

impl Anything {
    pub fn word(&mut self) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 32) as u32
    }

    /// Of any size, and often at an end, where arithmetic wraps.
    pub fn number(&mut self) -> i32 {
        let any = self.word() as i32;
        match self.word() % 8 {
            0 => i32::MIN,
            1 => i32::MAX,
            2 => any.signum(),
            3 => 0,
            4 => any,
            _ => any >> (self.word() % 32),
        }
    }
}

/// The text that a function writes into a buffer whose size is said to be enough.
pub fn written<const SIZE: usize>(write: impl FnOnce(*mut c_char, usize) -> usize) -> String {
    let mut buffer = [0xffu8; SIZE];
    let length = write(buffer.as_mut_ptr().cast(), SIZE);
    assert!(length < SIZE, "{SIZE} bytes are said to be enough");
    let text = CStr::from_bytes_until_nul(&buffer).unwrap().to_str().unwrap().to_owned();
    assert_eq!(text.len(), length);
    text
}
