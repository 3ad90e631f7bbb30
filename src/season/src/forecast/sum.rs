//! Bands of stems summed: part of what makes a yield poor or good is the year, and the year is the same for all.

use agronomy::quantity::Spread;

/// Share of the variance of yields that a year's weather has in common for all batches: half. From memory of practice, where a poor
/// year is poor in every bed; no source.
pub const YIELD_SHARED: f64 = 0.5;

/// Stems summed, with what it takes to tell the band of the sum: whole sums can be summed again without their bands narrowing.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Sum {
    middle: f64,
    below: Half,
    above: Half,
}

/// One side of the bands summed.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Half {
    /// Sum of the widths.
    widths: f64,
    /// Sum of their squares.
    squares: f64,
}

impl Half {
    fn add(&mut self, other: Self) {
        self.widths += other.widths;
        self.squares += other.squares;
    }

    fn times(self, share: f64) -> Self {
        Self {
            widths: self.widths * share,
            squares: self.squares * share * share,
        }
    }

    fn width(self, shared: f64) -> f64 {
        ((1.0 - shared) * self.squares + shared * self.widths * self.widths).sqrt()
    }
}

impl From<f64> for Half {
    fn from(width: f64) -> Self {
        Self {
            widths: width,
            squares: width * width,
        }
    }
}

impl From<Spread<f64>> for Sum {
    fn from(stems: Spread<f64>) -> Self {
        Self {
            middle: stems.p50,
            below: Half::from(stems.p50 - stems.p10),
            above: Half::from(stems.p90 - stems.p50),
        }
    }
}

impl Sum {
    /// Adds stems, or another sum.
    pub fn add(&mut self, stems: impl Into<Self>) {
        let stems = stems.into();
        self.middle += stems.middle;
        self.below.add(stems.below);
        self.above.add(stems.above);
    }

    /// A share (0 to 1) of all of it.
    #[must_use]
    pub fn times(self, share: f64) -> Self {
        Self {
            middle: self.middle * share,
            below: self.below.times(share),
            above: self.above.times(share),
        }
    }

    /// The middle of the sum: the sum of the middles.
    pub fn middle(&self) -> f64 {
        self.middle
    }

    /// The sum's band, with [`YIELD_SHARED`] of the variance common to all.
    pub fn spread(&self) -> Spread<f64> {
        self.spread_with(YIELD_SHARED)
    }

    /// The sum's band with a share (0 to 1) of the variance common to all: at 0 they vary each on its own, at 1 all as one.
    fn spread_with(&self, shared: f64) -> Spread<f64> {
        Spread {
            p10: (self.middle - self.below.width(shared)).max(0.0),
            p50: self.middle,
            p90: self.middle + self.above.width(shared),
        }
    }
}

impl<S: Into<Sum>> FromIterator<S> for Sum {
    fn from_iter<I: IntoIterator<Item = S>>(stems: I) -> Self {
        let mut sum = Self::default();
        for stems in stems {
            sum.add(stems);
        }
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const A: Spread<f64> = Spread {
        p10: 60.0,
        p50: 100.0,
        p90: 160.0,
    };
    const B: Spread<f64> = Spread {
        p10: 170.0,
        p50: 200.0,
        p90: 280.0,
    };

    fn close(found: Spread<f64>, wanted: [f64; 3]) {
        for (found, wanted) in [found.p10, found.p50, found.p90].into_iter().zip(wanted) {
            assert!((found - wanted).abs() < 1e-9, "{found} for {wanted}");
        }
    }

    /// Widths 40 and 30 below, 60 and 80 above: with nothing in common the roots of the squares, 50 and 100; as one 70 and 140.
    #[test]
    fn what_has_nothing_in_common_evens_out_and_what_is_one_does_not() {
        let sum: Sum = [A, B].into_iter().collect();
        close(sum.spread_with(0.0), [250.0, 300.0, 400.0]);
        close(sum.spread_with(1.0), [230.0, 300.0, 440.0]);
        let half = |alone: f64, one: f64| ((alone * alone + one * one) / 2.0).sqrt();
        close(
            sum.spread(),
            [300.0 - half(50.0, 70.0), 300.0, 300.0 + half(100.0, 140.0)],
        );
    }

    #[test]
    fn one_line_alone_keeps_its_band_and_sums_sum_as_their_lines_do() {
        close(Sum::from(A).spread(), [60.0, 100.0, 160.0]);
        close(Sum::from(A).times(0.5).spread(), [30.0, 50.0, 80.0]);
        let all: Sum = [A, B, A, A].into_iter().collect();
        let halves: [Sum; 2] = [[A, B].into_iter().collect(), [A, A].into_iter().collect()];
        let (all, again) = (all.spread(), halves.into_iter().collect::<Sum>().spread());
        close(again, [all.p10, all.p50, all.p90]);
    }
}
