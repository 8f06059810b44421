//! Numbers as text, the way that every file gets them.
//!
//! A drawing is mostly numbers, and the standard formatter is made for any precision: it takes some two hundred
//! nanoseconds for each. A number of a plan has a few digits, so its rounded multiple fits a machine integer, and its
//! digits are then those of an integer. The rounding is exact (the whole product is kept, and its remainder looked at),
//! so the text is the same to the byte; whatever does not fit goes to the standard formatter.

use std::fmt;

/// Bytes of the longest text that is written without the standard formatter: a sign, twenty digits, a point.
const ROOM: usize = 24;
/// The most decimals for which a power of ten fits 64 bits.
const MOST_DECIMALS: usize = 19;

/// A number as text with at most so many decimals, without needless zeros and never `-0`, held without the heap.
///
/// For writers that put many numbers into one text: `text.push_str(Decimal::new(x, 4).as_str())`, or
/// [`Decimal::as_bytes`] for bytes.
#[derive(Clone)]
pub struct Decimal(Text);

#[derive(Clone)]
enum Text {
    /// The text is what stands from the given place on.
    Short([u8; ROOM], usize),
    Long(String),
}

impl Decimal {
    /// The text of `value`.
    pub fn new(value: f64, decimals: usize) -> Self {
        let Some(multiple) = rounded_multiple(value.abs(), decimals) else {
            return Self(Text::Long(formatted(value, decimals)));
        };
        let mut bytes = [0; ROOM];
        let mut start = ROOM;
        let mut rest = multiple;
        let mut places = decimals;
        // Most numbers have few decimals, and three noughts go at once.
        while places >= 3 && rest % 1000 == 0 {
            rest /= 1000;
            places -= 3;
        }
        for _ in 0..places {
            let digit = (rest % 10) as u8;
            rest /= 10;
            if start < ROOM || digit != 0 {
                start -= 1;
                bytes[start] = b'0' + digit;
            }
        }
        if start < ROOM {
            start -= 1;
            bytes[start] = b'.';
        }
        loop {
            start -= 1;
            bytes[start] = b'0' + (rest % 10) as u8;
            rest /= 10;
            if rest == 0 {
                break;
            }
        }
        if multiple != 0 && value < 0.0 {
            start -= 1;
            bytes[start] = b'-';
        }
        Self(Text::Short(bytes, start))
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        match &self.0 {
            // Only digits, a point and a sign stand there.
            Text::Short(..) => std::str::from_utf8(self.as_bytes()).unwrap_or_default(),
            Text::Long(text) => text,
        }
    }

    /// The text as bytes, all of them ASCII.
    pub fn as_bytes(&self) -> &[u8] {
        match &self.0 {
            Text::Short(bytes, start) => &bytes[*start..],
            Text::Long(text) => text.as_bytes(),
        }
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

impl fmt::Debug for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// A number with at most `decimals` decimals, without needless zeros and never `-0`.
///
/// Every text that reaches a file goes through here or through [`Decimal`], so that no machine's habits show in it.
pub fn decimal(value: f64, decimals: usize) -> String {
    match Decimal::new(value, decimals).0 {
        Text::Long(text) => text,
        short @ Text::Short(..) => Decimal(short).as_str().to_owned(),
    }
}

/// Adds to `text` what [`decimal`] gives.
pub fn push_decimal(text: &mut String, value: f64, decimals: usize) {
    text.push_str(Decimal::new(value, decimals).as_str());
}

/// `value` times the power of ten of `decimals`, rounded to the nearest; nothing where that is left to the standard
/// formatter: for what is exactly in the middle, for what does not fit, and for what is no number.
fn rounded_multiple(value: f64, decimals: usize) -> Option<u64> {
    if decimals > MOST_DECIMALS {
        return None;
    }
    // IEEE 754: 52 bits of fraction with a one before them, and the exponent with a bias of 1023. A number without
    // that one is below 1e-307, and rounds to zero below whatever its bits are.
    let bits = value.to_bits();
    let mantissa = (bits & ((1 << 52) - 1)) | (1 << 52);
    let down = 1075 - (bits >> 52) as i32;
    // From 2^52 on, which takes in what is infinite or no number, there is nothing after the point to round.
    if down <= 0 {
        return None;
    }
    // 53 bits by 64 bits: at most 117, of which a half of 2^118 and more leaves nothing.
    if down > 118 {
        return Some(0);
    }
    let product = u128::from(mantissa) * u128::from(10_u64.pow(decimals as u32));
    let whole = u64::try_from(product >> down).ok()?;
    let half = 1_u128 << (down - 1);
    let rest = product & ((half << 1) - 1);
    match rest.cmp(&half) {
        std::cmp::Ordering::Less => Some(whole),
        std::cmp::Ordering::Equal => None,
        std::cmp::Ordering::Greater => whole.checked_add(1),
    }
}

/// The text by the standard formatter, for every number and any count of decimals.
fn formatted(value: f64, decimals: usize) -> String {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_are_written_short() {
        assert_eq!(decimal(12.50, 4), "12.5");
        assert_eq!(decimal(-0.000_001, 4), "0");
        assert_eq!(decimal(100.0, 0), "100");
        assert_eq!(decimal(1200.0, 3), "1200");
        assert_eq!(decimal(-0.05, 2), "-0.05");
        assert_eq!(format!("{:>6}|", Decimal::new(1.5, 4)), "   1.5|");
        let mut text = "x=".to_owned();
        push_decimal(&mut text, 297.0 / 25.4, 4);
        assert_eq!(text, "x=11.6929");
    }

    /// Halves, zeros, the ends of the range and what is no number at all are as the standard formatter has them.
    #[test]
    fn odd_numbers_are_as_the_standard_formatter_has_them() {
        let odd = [
            0.0,
            0.5,
            1.5,
            2.5,
            0.125,
            0.375,
            1024.0625,
            0.05,
            0.95,
            0.999_95,
            9.999_95,
            1e-7,
            5e-324,
            1e-308,
            1e15,
            4_503_599_627_370_495.5,
            4_503_599_627_370_496.0,
            9_007_199_254_740_993.0,
            18_446_744_073_709_551_615.0,
            1e19,
            1e300,
            f64::MAX,
            f64::MIN_POSITIVE,
            f64::EPSILON,
            f64::INFINITY,
            f64::NAN,
        ];
        for value in odd {
            for decimals in 0..25 {
                for value in [value, -value] {
                    assert_eq!(
                        decimal(value, decimals),
                        formatted(value, decimals),
                        "{value:e}"
                    );
                }
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(20_000))]

        /// What a plan has: lengths, and places halfway between two texts.
        #[test]
        fn lengths_are_as_the_standard_formatter_has_them(
            value in -5000.0..5000.0_f64, steps in -80_000_i64..80_000, decimals in 0_usize..10,
        ) {
            prop_assert_eq!(decimal(value, decimals), formatted(value, decimals));
            let halfway = steps as f64 / 64.0;
            prop_assert_eq!(decimal(halfway, decimals), formatted(halfway, decimals));
            let near = (steps as f64 + 0.5) / 10_u64.pow(decimals as u32) as f64;
            prop_assert_eq!(decimal(near, decimals), formatted(near, decimals));
        }

        /// Any pattern of bits at all.
        #[test]
        fn any_number_is_as_the_standard_formatter_has_it(bits in any::<u64>(), decimals in 0_usize..22) {
            let value = f64::from_bits(bits);
            prop_assert_eq!(decimal(value, decimals), formatted(value, decimals));
        }
    }
}
