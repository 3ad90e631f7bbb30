//! Example climates to start from, until the grower types the figures of the nearest station. Clearly marked as examples.

use crate::month_day::MonthDay;

/// A station's normals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExampleClimate {
    /// Short word for choosing it; its text is `climate.<key>`.
    pub key: &'static str,
    /// The key of its text in the catalogue.
    pub label: &'static str,
    /// Latitude, degrees north.
    pub latitude: f64,
    /// Mean daily minimum by month, C.
    pub tmin: [f64; 12],
    /// Mean daily maximum by month, C.
    pub tmax: [f64; 12],
    /// Last spring frost, 50 and 10 in 100: month and day.
    pub last_frost: [(u32, u32); 2],
    /// First autumn frost, 50 and 10 in 100: month and day.
    pub first_frost: [(u32, u32); 2],
}

/// The examples.
pub const EXAMPLES: [ExampleClimate; 3] = [
    // NCEI U.S. Climate Normals 1991-2020, station USW00094765 (43.63 N), converted from F and rounded to 0.1 C; frost dates
    // at 32 F, PRBLST/PRBFST P50 and P10.
    ExampleClimate {
        key: "inland_44",
        label: "climate.inland_44",
        latitude: 43.6,
        tmin: [
            -12.6, -11.7, -6.3, -0.1, 6.5, 11.3, 14.3, 13.4, 9.2, 3.0, -2.4, -7.7,
        ],
        tmax: [
            -0.9, 1.1, 6.1, 13.7, 20.9, 25.5, 28.2, 27.3, 22.7, 15.4, 8.2, 1.9,
        ],
        last_frost: [(5, 9), (5, 24)],
        first_frost: [(10, 6), (9, 23)],
    },
    // NCEI U.S. Climate Normals 1981-2010, station USW00013740 (37.51 N), converted; frost dates from memory.
    ExampleClimate {
        key: "mild_38",
        label: "climate.mild_38",
        latitude: 37.5,
        tmin: [
            -2.1, -0.8, 2.8, 7.8, 12.8, 18.1, 20.5, 19.7, 15.6, 9.1, 4.1, -0.3,
        ],
        tmax: [
            8.6, 10.7, 15.6, 21.3, 25.5, 30.1, 32.1, 30.9, 27.3, 21.7, 16.3, 10.4,
        ],
        last_frost: [(4, 10), (4, 24)],
        first_frost: [(10, 28), (10, 15)],
    },
    // A maritime lowland near 52 N: round figures from memory, no station.
    ExampleClimate {
        key: "maritime_52",
        label: "climate.maritime_52",
        latitude: 52.0,
        tmin: [
            1.5, 1.4, 2.7, 4.5, 7.3, 10.3, 12.5, 12.3, 10.0, 7.4, 4.1, 2.0,
        ],
        tmax: [
            7.2, 7.8, 10.8, 14.1, 17.4, 20.4, 22.7, 22.3, 19.2, 14.9, 10.4, 7.7,
        ],
        last_frost: [(4, 25), (5, 12)],
        first_frost: [(10, 25), (10, 8)],
    },
];

impl ExampleClimate {
    /// The example nearest in latitude, north or south.
    pub fn nearest(latitude: f64) -> &'static Self {
        let mut best = &EXAMPLES[0];
        for example in &EXAMPLES {
            if (example.latitude - latitude.abs()).abs() < (best.latitude - latitude.abs()).abs() {
                best = example;
            }
        }
        best
    }

    /// Whether normals are an example's, filled in and not yet replaced: equal but for the rounding of whole degrees F.
    pub fn is_one(tmin: &[f64; 12], tmax: &[f64; 12]) -> bool {
        const ROUNDING_C: f64 = 0.3;
        let near = |ours: &[f64; 12], theirs: &[f64; 12]| {
            ours.iter()
                .zip(theirs)
                .all(|(a, b)| (a - b).abs() <= ROUNDING_C)
        };
        EXAMPLES.iter().any(|example| {
            [1.0, -1.0].into_iter().any(|latitude| {
                let (min, max) = example.normals_at(latitude);
                near(tmin, &min) && near(tmax, &max)
            })
        })
    }

    /// Its normals for a hemisphere: the year turned round south of the equator.
    pub fn normals_at(&self, latitude: f64) -> ([f64; 12], [f64; 12]) {
        if latitude >= 0.0 {
            return (self.tmin, self.tmax);
        }
        let turned = |months: [f64; 12]| core::array::from_fn(|m| months[(m + 6) % 12]);
        (turned(self.tmin), turned(self.tmax))
    }

    /// Last frost at 50 and 10 in 100, then first frost likewise, as days of the year for a hemisphere.
    pub fn frost_at(&self, latitude: f64) -> Option<[MonthDay; 4]> {
        let turn = |(month, day): (u32, u32)| {
            let month = if latitude < 0.0 {
                (month + 5) % 12 + 1
            } else {
                month
            };
            MonthDay::new(month, day.clamp(1, 28))
        };
        Some([
            turn(self.last_frost[0])?,
            turn(self.last_frost[1])?,
            turn(self.first_frost[0])?,
            turn(self.first_frost[1])?,
        ])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_examples_figures_are_known_again_and_a_stations_are_not() {
        for example in &EXAMPLES {
            let whole_f =
                |months: [f64; 12]| months.map(|c| ((c * 1.8 + 32.0).round() - 32.0) / 1.8);
            assert!(ExampleClimate::is_one(&example.tmin, &example.tmax));
            assert!(ExampleClimate::is_one(
                &whole_f(example.tmin),
                &whole_f(example.tmax)
            ));
            let (min, max) = example.normals_at(-40.0);
            assert!(ExampleClimate::is_one(&min, &max));
            let mut corrected = example.tmin;
            corrected[3] += 1.0;
            assert!(!ExampleClimate::is_one(&corrected, &example.tmax));
        }
    }
}
