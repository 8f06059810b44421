//! The date that may be printed. Nothing here asks a clock.

use std::ffi::OsString;

use chrono::{DateTime, NaiveDate, NaiveTime};

use crate::exit::Problem;

/// A day, which starts at midnight UTC, or a moment with its offset (RFC 3339), in seconds since 1970-01-01 UTC.
pub fn parse_date(text: &str) -> Result<i64, String> {
    if let Ok(day) = NaiveDate::parse_from_str(text, "%Y-%m-%d") {
        return Ok(day.and_time(NaiveTime::MIN).and_utc().timestamp());
    }
    DateTime::parse_from_rfc3339(text)
        .map(|moment| moment.timestamp())
        .map_err(|_| "a date is written 2026-03-31 or 2026-03-31T10:00:00Z".to_owned())
}

/// The date of the command line, or else that of `SOURCE_DATE_EPOCH`.
pub fn effective_date(given: Option<i64>, epoch: Option<OsString>) -> Result<Option<i64>, Problem> {
    if given.is_some() {
        return Ok(given);
    }
    let Some(epoch) = epoch.filter(|epoch| !epoch.is_empty()) else {
        return Ok(None);
    };
    let text = epoch.to_string_lossy();
    text.parse().map(Some).map_err(|_| {
        Problem::usage(format!("SOURCE_DATE_EPOCH is `{text}`, which is no date"))
            .fix("give whole seconds since 1970-01-01 UTC, or unset it")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_and_moments_are_read() {
        // 946684800 is 2000-01-01T00:00:00Z: `date -u -d @946684800`.
        assert_eq!(parse_date("2000-01-01"), Ok(946_684_800));
        assert_eq!(parse_date("2000-01-01T01:00:00+01:00"), Ok(946_684_800));
        assert!(parse_date("1/1/2000").is_err());
        assert!(parse_date("2000-02-30").is_err());
    }

    #[test]
    fn the_command_line_overrides_the_environment() {
        assert_eq!(effective_date(Some(5), Some("7".into())), Ok(Some(5)));
        assert_eq!(effective_date(None, Some("7".into())), Ok(Some(7)));
        assert_eq!(effective_date(None, Some("".into())), Ok(None));
        assert_eq!(effective_date(None, None), Ok(None));
        assert!(effective_date(None, Some("today".into())).is_err());
    }
}
