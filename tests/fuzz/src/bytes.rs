//! Bytes read as what the targets need. When they run out they are zeros, so that every input means something.

pub struct Bytes<'a>(&'a [u8]);

impl<'a> Bytes<'a> {
    pub fn new(data: &'a [u8]) -> Self {
        Self(data)
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    fn take<const N: usize>(&mut self) -> [u8; N] {
        let mut taken = [0; N];
        let count = N.min(self.0.len());
        taken[..count].copy_from_slice(&self.0[..count]);
        self.0 = &self.0[count..];
        taken
    }

    pub fn byte(&mut self) -> u8 {
        let [byte] = self.take();
        byte
    }

    pub fn flag(&mut self) -> bool {
        self.byte() & 1 == 1
    }

    pub fn word(&mut self) -> i32 {
        i32::from_le_bytes(self.take())
    }

    /// Any `f64` at all once in a while, otherwise one of a range, in the middle if there are no bytes.
    pub fn number(&mut self, low: f64, high: f64) -> f64 {
        const ODD: [f64; 10] = [
            f64::NAN,
            f64::INFINITY,
            f64::NEG_INFINITY,
            0.0,
            -0.0,
            f64::MAX,
            f64::MIN_POSITIVE,
            f64::EPSILON,
            1.0,
            -1.0,
        ];
        match self.byte() {
            255 => f64::from_bits(u64::from_le_bytes(self.take())),
            254 => ODD[usize::from(self.byte()) % ODD.len()],
            253 => low,
            252 => high,
            _ => low + (high - low) * (f64::from(self.word()) / 4_294_967_296.0 + 0.5),
        }
    }

    /// One of these, or now and then any number.
    pub fn one_of(&mut self, usual: &[f64]) -> f64 {
        match self.byte() {
            255 => self.number(-1e3, 1e6),
            byte => usual[usize::from(byte) % usual.len()],
        }
    }

    /// A whole number from one end of a range to the other, or any at all; the ends and their neighbours are frequent.
    pub fn whole(&mut self, low: i32, high: i32) -> i32 {
        match self.byte() % 8 {
            0 => low.wrapping_add(i32::from(self.byte() as i8) >> 5),
            1 => high.wrapping_add(i32::from(self.byte() as i8) >> 5),
            2 => self.word(),
            3 => [i32::MIN, i32::MIN + 1, -1, 0, 1, i32::MAX - 1, i32::MAX][usize::from(self.byte()) % 7],
            _ => {
                let share = f64::from(self.word()) / 4_294_967_296.0 + 0.5;
                let span = f64::from(high) - f64::from(low);
                (f64::from(low) + (span * share).floor()).clamp(-2_147_483_648.0, 2_147_483_647.0) as i32
            }
        }
    }
}
