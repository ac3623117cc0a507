//! Tables of expansion: the length at a point, and the curve between the points.

use crate::error::{Error, Field, try_const, within};
use crate::units::{Celsius, ExpansionPerCelsius, Strain};

/// Rows in rising order of temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) enum Table<'a> {
    /// Change of length over length, from whatever temperature.
    Lengths(&'a [(Celsius, Strain)]),
    /// Mean coefficient between a temperature common to all and that of the row.
    Means(f64, &'a [(Celsius, ExpansionPerCelsius)]),
    /// Coefficient at the temperature of the row.
    Coefficients(&'a [(Celsius, ExpansionPerCelsius)]),
}

impl Table<'_> {
    pub const fn points(&self) -> usize {
        match self {
            Self::Lengths(rows) => rows.len(),
            Self::Means(_, rows) | Self::Coefficients(rows) => rows.len(),
        }
    }

    pub const fn temperature(&self, k: usize) -> f64 {
        match self {
            Self::Lengths(rows) => rows[k].0.0,
            Self::Means(_, rows) | Self::Coefficients(rows) => rows[k].0.0,
        }
    }

    /// The column as it stands.
    const fn value(&self, k: usize) -> f64 {
        match self {
            Self::Lengths(rows) => rows[k].1.0,
            Self::Means(_, rows) | Self::Coefficients(rows) => rows[k].1.0,
        }
    }

    /// Change of length at a point; of a table of coefficients it is not in the row.
    const fn length(&self, k: usize) -> f64 {
        match self {
            Self::Means(from, rows) => rows[k].1.0 * (rows[k].0.0 - *from),
            _ => self.value(k),
        }
    }

    pub const fn check(&self) -> Result<(), Error> {
        let points = self.points();
        try_const!(Field::ExpansionPoints.check(points as f64));
        let mut above = -273.15;
        let mut k = 0;
        while k < points {
            let temperature = self.temperature(k);
            try_const!(within(Field::ExpansionPointTemperature, temperature, above, 2047.0));
            // Points closer together say more about their rounding than about a slope.
            above = temperature + 1e-3;
            match self {
                Self::Lengths(_) => try_const!(Field::ExpansionStrain.check(self.value(k))),
                _ => try_const!(Field::ExpansionCoefficient.check(self.value(k) * 1e6)),
            }
            k += 1;
        }
        match self {
            Self::Means(from, _) => Field::ExpansionOrigin.check(*from),
            _ => Ok(()),
        }
    }

    /// The smallest distance between two neighbours.
    pub const fn finest(&self) -> f64 {
        let mut finest = f64::INFINITY;
        let mut k = 1;
        while k < self.points() {
            let apart = self.temperature(k) - self.temperature(k - 1);
            if apart < finest {
                finest = apart;
            }
            k += 1;
        }
        finest
    }

    /// Change of length and its slope at a temperature inside the table.
    pub const fn length_and_slope(&self, temperature: f64) -> (f64, f64) {
        // The piece that holds it: from k - 1 to k.
        let mut k = 1;
        let mut sum = 0.0;
        while k + 1 < self.points() && temperature > self.temperature(k) {
            if let Self::Coefficients(_) = self {
                sum += (self.value(k - 1) + self.value(k)) / 2.0
                    * (self.temperature(k) - self.temperature(k - 1));
            }
            k += 1;
        }
        let (left, right) = (self.temperature(k - 1), self.temperature(k));
        let (width, x) = (right - left, temperature - left);
        if let Self::Coefficients(_) = self {
            // Straight between the points, so that the length is its integral exactly.
            let (first, rise) = (self.value(k - 1), (self.value(k) - self.value(k - 1)) / width);
            return (sum + x * (first + x * rise / 2.0), first + x * rise);
        }
        // The cubic with the slopes of the parabolas through three points each (Hermite).
        let chord = (self.length(k) - self.length(k - 1)) / width;
        let (first, last) = (self.point_slope(k - 1), self.point_slope(k));
        let second = (3.0 * chord - 2.0 * first - last) / width;
        let third = (first + last - 2.0 * chord) / (width * width);
        (
            self.length(k - 1) + x * (first + x * (second + x * third)),
            first + x * (2.0 * second + x * 3.0 * third),
        )
    }

    /// Slope at a point, of the parabola through it and its neighbours; at an end through the three there.
    const fn point_slope(&self, k: usize) -> f64 {
        let last = self.points() - 1;
        if last == 1 {
            return self.chord(0);
        }
        let middle = if k == 0 {
            1
        } else if k == last {
            last - 1
        } else {
            k
        };
        let (before, after) = (self.chord(middle - 1), self.chord(middle));
        let back = self.temperature(middle) - self.temperature(middle - 1);
        let ahead = self.temperature(middle + 1) - self.temperature(middle);
        // The chords are the slopes half way along their pieces, and the slope is straight between.
        let bend = (after - before) / (back + ahead);
        if k == 0 {
            before - bend * back
        } else if k == last {
            after + bend * ahead
        } else {
            before + bend * back
        }
    }

    const fn chord(&self, k: usize) -> f64 {
        (self.length(k + 1) - self.length(k)) / (self.temperature(k + 1) - self.temperature(k))
    }
}
