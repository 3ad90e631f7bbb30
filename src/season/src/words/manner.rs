//! How figures are written for a reader: units and dates.

use agronomy::quantity::TemperatureDifference;
use chrono::{Datelike, NaiveDate};

use super::text;
use crate::month_day::MonthDay;

/// The reader's units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Celsius, metres, centimetres.
    #[default]
    Metric,
    /// Fahrenheit, feet, inches.
    Us,
}

/// How figures are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Manner {
    /// Units of temperature and length.
    pub units: Units,
}

const FEET_PER_METRE: f64 = 1.0 / 0.3048;
const CM_PER_INCH: f64 = 2.54;
const SQUARE_FEET_PER_SQUARE_METRE: f64 = FEET_PER_METRE * FEET_PER_METRE;
const GRAMS_PER_OUNCE: f64 = 28.349_523_125;

impl Manner {
    /// A weekday, day and month: "Sat 18 Jan".
    pub fn date(self, date: NaiveDate) -> String {
        let weekday = text(WEEKDAYS[date.weekday().num_days_from_monday() as usize % 7]);
        format!("{weekday} {}", self.day_month(date))
    }

    /// Day and month: "18 Jan".
    pub fn day_month(self, date: NaiveDate) -> String {
        let month = text(MONTHS[date.month0() as usize % 12]);
        format!("{} {month}", date.day())
    }

    /// A day of any year: "18 Jan".
    pub fn day_of_year(self, day: MonthDay) -> String {
        let month = text(MONTHS[(day.month() as usize + 11) % 12]);
        format!("{} {month}", day.day())
    }

    /// With the year: "Sat 18 Jan 2027".
    pub fn full_date(self, date: NaiveDate) -> String {
        format!("{} {}", self.date(date), date.year())
    }

    /// A temperature given in C.
    pub fn temperature(self, celsius: f64) -> String {
        match self.units {
            Units::Metric => format!("{} {}", rounded(celsius, 1), text("unit.c")),
            Units::Us => {
                let fahrenheit = rounded(self.temperature_value(celsius), 0);
                format!("{fahrenheit} {}", text("unit.f"))
            }
        }
    }

    /// How much warmer or colder, without the zero of the scale: 2 K are "2 °C" or "4 °F".
    pub fn temperature_difference(self, by: TemperatureDifference) -> String {
        match self.units {
            Units::Metric => format!("{} {}", rounded(by.0, 1), text("unit.c")),
            Units::Us => format!("{} {}", rounded(by.0 * 1.8, 0), text("unit.f")),
        }
    }

    /// A temperature given in C, as the number the reader would type.
    pub fn temperature_value(self, celsius: f64) -> f64 {
        match self.units {
            Units::Metric => celsius,
            Units::Us => celsius * 1.8 + 32.0,
        }
    }

    /// C of the number that the reader typed.
    pub fn temperature_of(self, typed: f64) -> f64 {
        match self.units {
            Units::Metric => typed,
            Units::Us => (typed - 32.0) / 1.8,
        }
    }

    /// A length given in m.
    pub fn length(self, metres: f64) -> String {
        format!(
            "{} {}",
            rounded(self.length_value(metres), 1),
            text(match self.units {
                Units::Metric => "unit.m",
                Units::Us => "unit.ft",
            })
        )
    }

    /// A length given in m, as the number the reader would type.
    pub fn length_value(self, metres: f64) -> f64 {
        match self.units {
            Units::Metric => metres,
            Units::Us => metres * FEET_PER_METRE,
        }
    }

    /// Metres of the number that the reader typed.
    pub fn length_of(self, typed: f64) -> f64 {
        match self.units {
            Units::Metric => typed,
            Units::Us => typed / FEET_PER_METRE,
        }
    }

    /// A distance between plants given in cm.
    pub fn spacing(self, cm: f64) -> String {
        match self.units {
            Units::Metric => format!("{} {}", rounded(cm, 0), text("unit.cm")),
            Units::Us => format!("{} {}", rounded(cm / CM_PER_INCH, 0), text("unit.in")),
        }
    }

    /// A distance between plants given in cm, as the number the reader would type.
    pub fn spacing_value(self, cm: f64) -> f64 {
        match self.units {
            Units::Metric => cm,
            Units::Us => cm / CM_PER_INCH,
        }
    }

    /// Centimetres of the number that the reader typed.
    pub fn spacing_of(self, typed: f64) -> f64 {
        match self.units {
            Units::Metric => typed,
            Units::Us => typed * CM_PER_INCH,
        }
    }

    /// A width as fine as print, given in mm.
    pub fn fine_width(self, mm: f64) -> String {
        match self.units {
            Units::Metric => format!("{} {}", rounded(mm, 2), text("unit.mm")),
            Units::Us => format!(
                "{} {}",
                rounded(mm / 10.0 / CM_PER_INCH, 3),
                text("unit.in")
            ),
        }
    }

    /// So much to a metre of bed, as so much to the reader's unit of length.
    pub fn per_length_value(self, per_metre: f64) -> f64 {
        match self.units {
            Units::Metric => per_metre,
            Units::Us => per_metre / FEET_PER_METRE,
        }
    }

    /// So much to a square metre.
    pub fn per_area(self, per_square_metre: f64) -> String {
        let unit = match self.units {
            Units::Metric => "unit.per_m2",
            Units::Us => "unit.per_ft2",
        };
        format!(
            "{} {}",
            rounded(self.per_area_value(per_square_metre), 2),
            text(unit)
        )
    }

    /// So much to a square metre, as the number the reader would type.
    pub fn per_area_value(self, per_square_metre: f64) -> f64 {
        match self.units {
            Units::Metric => per_square_metre,
            Units::Us => per_square_metre / SQUARE_FEET_PER_SQUARE_METRE,
        }
    }

    /// So much to a square metre, of the number that the reader typed.
    pub fn per_area_of(self, typed: f64) -> f64 {
        match self.units {
            Units::Metric => typed,
            Units::Us => typed * SQUARE_FEET_PER_SQUARE_METRE,
        }
    }

    /// So many to a gram.
    pub fn per_weight(self, per_gram: f64) -> String {
        let unit = match self.units {
            Units::Metric => "unit.per_gram",
            Units::Us => "unit.per_ounce",
        };
        format!(
            "{} {}",
            rounded(self.per_weight_value(per_gram), 1),
            text(unit)
        )
    }

    /// So many to a gram, as the number the reader would type.
    pub fn per_weight_value(self, per_gram: f64) -> f64 {
        match self.units {
            Units::Metric => per_gram,
            Units::Us => per_gram * GRAMS_PER_OUNCE,
        }
    }

    /// So many to a gram, of the number that the reader typed.
    pub fn per_weight_of(self, typed: f64) -> f64 {
        match self.units {
            Units::Metric => typed,
            Units::Us => typed / GRAMS_PER_OUNCE,
        }
    }

    /// Warmth summed, given in degree-days C.
    pub fn degree_days(self, celsius_days: f64) -> String {
        let unit = match self.units {
            Units::Metric => "unit.degree_days_c",
            Units::Us => "unit.degree_days_f",
        };
        format!(
            "{} {}",
            rounded(self.degree_days_value(celsius_days), 0),
            text(unit)
        )
    }

    /// Degree-days C, as the number the reader would type.
    pub fn degree_days_value(self, celsius_days: f64) -> f64 {
        match self.units {
            Units::Metric => celsius_days,
            Units::Us => celsius_days * 1.8,
        }
    }

    /// Degree-days C of the number that the reader typed.
    pub fn degree_days_of(self, typed: f64) -> f64 {
        match self.units {
            Units::Metric => typed,
            Units::Us => typed / 1.8,
        }
    }
}

/// A number with at most so many decimals, without trailing zeros, with a true minus sign.
pub(super) fn rounded(value: f64, decimals: usize) -> String {
    let plain = format!("{value:.decimals$}");
    let plain = if plain.contains('.') {
        plain.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        plain
    };
    match plain.as_str() {
        "-0" => "0".into(),
        text => text.replace('-', "\u{2212}"),
    }
}

const WEEKDAYS: [&str; 7] = [
    "weekday.1",
    "weekday.2",
    "weekday.3",
    "weekday.4",
    "weekday.5",
    "weekday.6",
    "weekday.7",
];
const MONTHS: [&str; 12] = [
    "month.1", "month.2", "month.3", "month.4", "month.5", "month.6", "month.7", "month.8",
    "month.9", "month.10", "month.11", "month.12",
];

#[cfg(test)]
mod tests {
    use super::*;

    /// Conversions of `culture/vocabulary.md`: F = C x 1.8 + 32, 1 in = 2.54 cm, 4 ft = 1.22 m.
    #[test]
    fn units_convert_both_ways() {
        let us = Manner { units: Units::Us };
        assert_eq!(us.temperature(21.0), "70 °F");
        assert_eq!(Manner::default().temperature(-2.25), "\u{2212}2.2 °C");
        let by = |k| us.temperature_difference(TemperatureDifference(k));
        assert_eq!(
            [by(2.0), by(3.0), by(-6.0)],
            ["4 °F", "5 °F", "\u{2212}11 °F"]
        );
        let metric = Manner::default().temperature_difference(TemperatureDifference(2.5));
        assert_eq!(metric, "2.5 °C");
        assert_eq!(us.spacing(23.0), "9 in");
        assert_eq!(us.fine_width(0.33), "0.013 in");
        // 1 ft2 = 0.0929 m2, 1 oz = 28.35 g.
        assert!((us.per_area_value(10.0) - 0.929).abs() < 1e-3);
        assert!((us.per_weight_value(100.0) - 2835.0).abs() < 0.1);
        assert!((us.per_length_value(10.0) - 3.048).abs() < 1e-9);
        assert!((us.per_area_of(us.per_area_value(9.0)) - 9.0).abs() < 1e-9);
        assert!((us.per_weight_of(us.per_weight_value(5500.0)) - 5500.0).abs() < 1e-9);
        assert!((us.degree_days_of(us.degree_days_value(900.0)) - 900.0).abs() < 1e-9);
        assert_eq!(us.length(1.22), "4 ft");
        assert!((us.temperature_of(us.temperature_value(4.6)) - 4.6).abs() < 1e-9);
        assert!((us.length_of(us.length_value(9.5)) - 9.5).abs() < 1e-9);
        assert!((us.spacing_of(us.spacing_value(15.0)) - 15.0).abs() < 1e-9);
    }

    #[test]
    fn dates_read_as_a_grower_says_them() {
        let date = NaiveDate::from_ymd_opt(2027, 1, 16).expect("date");
        assert_eq!(Manner::default().full_date(date), "Sat 16 Jan 2027");
    }
}
