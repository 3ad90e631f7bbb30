//! Money as it is counted: exact decimals, never binary fractions.
//!
//! What a currency is called is the grower's; sums are only ever of one currency. A sum that ends in a part of the smallest coin is
//! rounded where it is asked for, halves away from zero, as is done at a till (common practice).

use core::fmt;

use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::words::Say;

/// Digits before the point that an amount may have.
const WHOLE_MAX: usize = 9;
/// Digits after the point that a price may have: fuel and seed are priced by tenths of a coin.
const PLACES_MAX: usize = 4;
/// Digits after the point of what is paid.
const COIN_PLACES: u32 = 2;

/// An amount of money.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Money(Decimal);

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(Decimal::ZERO);

    /// An amount as files write it: `12`, `12.5`, `-0.25`. `None` for anything else, for more than four digits after the point and
    /// for a thousand million and more.
    pub fn of_text(text: &str) -> Option<Self> {
        let digits = text.strip_prefix('-').unwrap_or(text);
        let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
        let plain = |s: &str| !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit());
        let short = whole.len() <= WHOLE_MAX && part.len() <= PLACES_MAX;
        if !short || !plain(whole) || !plain(part) {
            return None;
        }
        text.parse().ok().map(Self)
    }

    /// An amount as people type it, with point or comma before the last digits; not below zero.
    ///
    /// # Errors
    /// The sentence that says what is wrong.
    pub fn of_typed(text: &str) -> Result<Self, Say> {
        let text: String = text
            .chars()
            .filter(|c| !c.is_whitespace() && *c != '\'')
            .collect();
        if text.is_empty() {
            return Err(Say::new("money.none"));
        }
        let amount = Self::of_text(&plain(&text)).ok_or_else(|| Say::new("money.odd"))?;
        if amount < Self::ZERO {
            return Err(Say::new("money.below_zero"));
        }
        Ok(amount)
    }

    /// The sum of two amounts; held at the largest that can be told.
    pub fn plus(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }

    /// What is left after taking away.
    pub fn less(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }

    /// So many times the amount.
    pub fn times(self, n: u32) -> Self {
        Self(self.0.saturating_mul(Decimal::from(n)))
    }

    /// What `n` cost where the amount is for `per` of them (at least one), in whole coins.
    pub fn for_some(self, n: u32, per: u32) -> Self {
        let whole = self.0.saturating_mul(Decimal::from(n));
        let each = whole
            .checked_div(Decimal::from(per.max(1)))
            .unwrap_or(Decimal::ZERO);
        Self(each).in_coins()
    }

    /// The same in whole coins, halves away from zero.
    pub fn in_coins(self) -> Self {
        Self(
            self.0
                .round_dp_with_strategy(COIN_PLACES, RoundingStrategy::MidpointAwayFromZero),
        )
    }

    /// The amount as a number to reckon shares and rates with, never to add up.
    pub fn about(self) -> f64 {
        use core::str::FromStr;
        f64::from_str(&self.0.to_string()).unwrap_or(0.0)
    }

    /// The amount in words of figures: two digits after the point, the mark between them as given.
    pub fn written(self, point: char) -> String {
        let mut amount = self.0;
        if amount.scale() < COIN_PLACES {
            amount.rescale(COIN_PLACES);
        }
        let text = amount.to_string();
        if point == '.' {
            text
        } else {
            text.replace('.', &point.to_string())
        }
    }
}

impl core::iter::Sum for Money {
    fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
        amounts.fold(Self::ZERO, Self::plus)
    }
}

/// Marks between groups of three digits taken out, and a point before the part.
///
/// The last comma or point that is not followed by exactly three digits is the one before the part; `1.250` and `1,250` alone are
/// read as one thousand two hundred and fifty, as bills are written.
fn plain(text: &str) -> String {
    let last = text.rfind([',', '.']);
    let part = last.filter(|at| text.len() - at - 1 != 3 || text.starts_with("0"));
    text.char_indices()
        .filter_map(|(at, c)| match c {
            ',' | '.' if Some(at) == part => Some('.'),
            ',' | '.' => None,
            '\u{2212}' | '\u{2013}' => Some('-'),
            c => Some(c),
        })
        .collect()
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written('.'))
    }
}

impl Serialize for Money {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Money {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        Self::of_text(&text).ok_or_else(|| serde::de::Error::custom("not an amount of money"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn money(text: &str) -> Money {
        Money::of_text(text).unwrap()
    }

    #[test]
    fn amounts_come_back_as_they_were_written() {
        for text in ["0", "12", "12.5", "12.50", "-0.25", "999999999.9999"] {
            let json = serde_json::to_string(&money(text)).unwrap();
            assert_eq!(json, format!("\"{text}\""));
            assert_eq!(
                serde_json::from_str::<Money>(&json).unwrap().to_string(),
                money(text).to_string()
            );
        }
        for text in [
            "",
            "-",
            ".5",
            "5.",
            "1e3",
            "1,5",
            "+3",
            " 3",
            "0.00001",
            "1000000001",
            "١",
        ] {
            assert_eq!(Money::of_text(text), None, "{text:?}");
        }
    }

    #[test]
    fn amounts_are_read_as_they_are_typed() {
        for (typed, wanted) in [
            ("12", "12"),
            ("12,5", "12.5"),
            (" 1 250.75 ", "1250.75"),
            ("1'250,75", "1250.75"),
            ("1.250,75", "1250.75"),
            ("1,250", "1250"),
            ("0.125", "0.125"),
        ] {
            assert_eq!(Money::of_typed(typed), Ok(money(wanted)), "{typed}");
        }
        for typed in ["", "a", "-3", "1.2.3,4,5x", "9999999999"] {
            assert!(Money::of_typed(typed).is_err(), "{typed:?}");
        }
    }

    /// 35 stems at 12.50 a bunch of ten; a third of a coin goes down and half a coin up.
    #[test]
    fn stems_are_charged_by_the_bunch_and_rounded_to_the_coin() {
        assert_eq!(money("12.50").for_some(35, 10), money("43.75"));
        assert_eq!(money("1").for_some(1, 3), money("0.33"));
        assert_eq!(money("0.25").for_some(1, 10), money("0.03"));
        assert_eq!(money("4").for_some(5, 0), money("20"));
        assert_eq!(money("4.5").written(','), "4,50");
    }

    fn cents() -> impl Strategy<Value = i64> {
        -100_000_000i64..100_000_000
    }

    fn of_cents(cents: i64) -> Money {
        let sign = if cents < 0 { "-" } else { "" };
        let n = cents.unsigned_abs();
        money(&format!("{sign}{}.{:02}", n / 100, n % 100))
    }

    proptest! {
        /// The same sums in whole cents, which integers keep exactly.
        #[test]
        fn sums_are_those_of_whole_cents(amounts in proptest::collection::vec(cents(), 0..60)) {
            let sum: Money = amounts.iter().map(|n| of_cents(*n)).sum();
            prop_assert_eq!(sum, of_cents(amounts.iter().sum()));
            let mut other = amounts.clone();
            other.reverse();
            let again: Money = other.into_iter().map(of_cents).sum();
            prop_assert_eq!(sum, again);
        }

        #[test]
        fn a_bill_is_as_much_as_its_parts(price in 0i64..1_000_000, n in 0u32..5_000, per in 1u32..200) {
            let price_each = of_cents(price);
            prop_assert_eq!(price_each.times(n), of_cents(price * i64::from(n)));
            // Rounded halves away from zero, reckoned in whole numbers.
            let twice = 2 * price * i64::from(n) + i64::from(per);
            prop_assert_eq!(price_each.for_some(n, per), of_cents(twice / (2 * i64::from(per))));
            prop_assert_eq!(price_each.for_some(n * per, per), price_each.times(n));
            prop_assert_eq!(of_cents(price).less(of_cents(price)), Money::ZERO);
        }

        #[test]
        fn whatever_is_typed_is_read_or_refused(text in ".{0,24}") {
            if let Ok(amount) = Money::of_typed(&text) {
                prop_assert!(amount >= Money::ZERO);
                prop_assert!(serde_json::to_string(&amount).is_ok());
            }
        }
    }
}
