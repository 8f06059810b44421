//! Findings that an author accepts at their place, and what the plan sets of the checks.

use jigless_model::check::{Acceptance, CheckName, CheckSetting, LimitUnit};
use jigless_model::diag::{Finding, Severity, nearest};
use jigless_model::source::Spanned;

use super::field::{Field, Shape};
use super::fields::Fields;
use super::key_set::KeySet;
use super::key_types::{Distance, Number};
use crate::codes;
use crate::load::{Node, Value};
use crate::renamed;

/// The key that every feature, part and entry of `usage:` takes besides its own.
pub const ACCEPT: Field = Field::optional(
    "accept",
    Shape::Reasons,
    "findings of checks that are meant to be so, each with the reason, which is printed on the plan",
);
/// [`ACCEPT`] as a table, for maps that take it besides their own keys.
pub const COMMON_FIELDS: &[Field] = &[ACCEPT];

crate::fields! {
    /// The keys of an entry of `checks:` for a check without a limit.
    struct SeverityKeys {
        /// how much it matters in this plan
        severity: Option<Severity>,
    }
}

crate::fields! {
    /// The keys of an entry of `checks:` whose limit is a length.
    struct LengthKeys {
        severity: SeverityKeys,
        /// the limit in this plan
        limit: Option<Spanned<Distance>>,
    }
}

crate::fields! {
    /// The keys of an entry of `checks:` whose limit is a bare number.
    struct NumberKeys {
        severity: SeverityKeys,
        /// the limit in this plan
        limit: Option<Spanned<Number>>,
    }
}

/// The keys of an entry of `checks:` for a check with a limit of this unit, or without one.
pub fn check_fields(limit: Option<LimitUnit>) -> &'static [Field] {
    match limit {
        None => SeverityKeys::FIELDS,
        Some(LimitUnit::Millimetres) => LengthKeys::FIELDS,
        Some(LimitUnit::Number) => NumberKeys::FIELDS,
    }
}

/// Reads `accept` of a map that takes it.
pub(super) fn read_acceptances(fields: &Fields) -> Vec<Acceptance> {
    let Some(node) = fields.node(ACCEPT.key) else {
        return Vec::new();
    };
    let context = fields.context();
    let Value::Map(entries) = &node.value else {
        fields.wrong(&ACCEPT, node);
        return Vec::new();
    };
    let mut accepted = Vec::new();
    for entry in entries {
        let kind = known_check(fields, &entry.key);
        let reason = match entry.value.scalar() {
            Some(text) if !text.text.trim().is_empty() => {
                context.printable(&text.text, entry.value.span)
            }
            _ => {
                context.find(
                    Finding::error(
                        codes::NO_REASON,
                        entry.key.span,
                        format!("`{}` is accepted without a reason", entry.key.value),
                    )
                    .fix("write why it is meant to be so; the reason is printed on the plan"),
                );
                None
            }
        };
        if let (Some(kind), Some(reason)) = (kind, reason) {
            accepted.push(Acceptance {
                code: kind.code,
                reason: reason.value,
                span: entry.key.span,
            });
        }
    }
    accepted
}

/// Reads the `checks:` section.
pub(super) fn read_settings(fields: &Fields) -> Vec<CheckSetting> {
    let Some(node) = fields.node("checks") else {
        return Vec::new();
    };
    let entries = match &node.value {
        Value::Map(entries) => entries.as_slice(),
        Value::Null => &[],
        _ => {
            fields.wrong(fields.field("checks"), node);
            return Vec::new();
        }
    };
    let mut settings = Vec::new();
    for entry in entries {
        if let Some(kind) = known_check(fields, &entry.key) {
            settings.extend(read_setting(fields, kind, &entry.key, &entry.value));
        }
    }
    settings
}

fn read_setting(
    fields: &Fields,
    kind: CheckName,
    key: &Spanned<String>,
    node: &Node,
) -> Option<CheckSetting> {
    let what = format!("check `{}`", kind.code);
    let own = Fields::new(
        fields.context(),
        &what,
        key.span,
        node,
        check_fields(kind.limit),
    )?;
    let (severity, limit) = match kind.limit {
        None => (SeverityKeys::read(&own)?, None),
        Some(LimitUnit::Millimetres) => {
            let keys = LengthKeys::read(&own)?;
            (keys.severity, keys.limit)
        }
        Some(LimitUnit::Number) => {
            let keys = NumberKeys::read(&own)?;
            (keys.severity, keys.limit)
        }
    };
    Some(CheckSetting {
        code: kind.code,
        severity: severity.severity,
        limit,
    })
}

fn known_check(fields: &Fields, code: &Spanned<String>) -> Option<CheckName> {
    let checks = fields.context().checks;
    if let Some(renamed) = renamed::check(&code.value) {
        fields.context().find(renamed::finding(code.span, renamed));
        return checks.find(renamed.now);
    }
    let found = checks.find(&code.value);
    if found.is_none() {
        let text = super::context::shortened(&code.value);
        let message = if codes::CODES
            .iter()
            .any(|kind| kind.code == code.value.as_str())
        {
            format!("`{text}` is a fault of the plan, which cannot be set or accepted")
        } else {
            format!("there is no check `{text}`")
        };
        fields.context().find(
            Finding::error(codes::UNKNOWN_CHECK, code.span, message).fix(
                match nearest(&code.value, checks.codes()) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => "`jigless why` lists the checks".to_owned(),
                },
            ),
        );
    }
    found
}
