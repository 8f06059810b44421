//! Numbers and lists as a language writes them.

use jigless_model::units::{Unit, decimal};

use crate::{Words, said};

impl Words {
    /// A number that was written with a point.
    pub fn number(&self, written: &str) -> String {
        match self.decimal_mark {
            '.' => written.to_owned(),
            mark => written.replace('.', &mark.to_string()),
        }
    }

    /// A number with so many decimals at most.
    pub fn decimal(&self, value: f64, decimals: usize) -> String {
        self.number(&decimal(value, decimals))
    }

    /// A gauge or diameter as hardware is sold by: a number has the mark of the language, `#8` stays.
    pub fn gauge(&self, gauge: &str) -> String {
        match gauge.parse::<f64>() {
            Ok(_) => self.number(gauge),
            Err(_) => gauge.to_owned(),
        }
    }

    /// A number with just so many decimals, so that numbers under one another line up.
    pub fn aligned(&self, value: f64, decimals: usize) -> String {
        self.number(&format!("{value:.decimals$}"))
    }

    /// A sum of money.
    pub fn money(&self, sum: f64) -> String {
        self.aligned(sum, 2)
    }

    /// What one piece costs: as a sum, or with more decimals where it has them.
    pub fn price(&self, each: f64) -> String {
        if (each * 100.0 - (each * 100.0).round()).abs() < 1e-6 {
            self.money(each)
        } else {
            self.decimal(each, 4)
        }
    }

    /// A length with its unit.
    pub fn length(&self, unit: Unit, mm: f64) -> String {
        self.number(&unit.show(mm))
    }

    /// `a`, `a and b`, `a, b and c`.
    pub fn listed(&self, words: &[String]) -> String {
        match words {
            [] => String::new(),
            [one] => one.clone(),
            [first @ .., last] => said(self.steps.and, &[&first.join(", "), last]),
        }
    }

    /// `1 piece`, `3 pieces`.
    pub fn counted(&self, count: u32, one: &str, several: &str) -> String {
        format!("{count} {}", if count == 1 { one } else { several })
    }
}
