//! Today's date, as it stands on papers, and the time.

use std::time::{SystemTime, UNIX_EPOCH};

const SECONDS_A_DAY: u64 = 86_400;

/// Today as `2026-03-09`, in universal time: the system's clock knows no time zone.
pub(crate) fn today() -> String {
    date_of(seconds())
}

/// Now as `2026-03-09 14:05 UTC`.
pub(crate) fn now() -> String {
    let seconds = seconds();
    let minute = seconds % SECONDS_A_DAY / 60;
    format!("{} {:02}:{:02} UTC", date_of(seconds), minute / 60, minute % 60)
}

fn seconds() -> u64 {
    SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .unwrap_or_default()
        .as_secs()
}

fn date_of(seconds: u64) -> String {
    let (year, month, day) = civil(seconds / SECONDS_A_DAY);
    format!("{year:04}-{month:02}-{day:02}")
}

/// Year, month and day of the Gregorian calendar, `days` after 1970-01-01.
///
/// The year is reckoned from 1 March, so that the leap day is its last; 400 years are 146 097 days, 100 years one day
/// less than a quarter of that, and five months from March on are 153 days.
fn civil(days: u64) -> (u64, u64, u64) {
    let days = days + 719_468; // since 0000-03-01
    let (era, day_of_era) = (days / 146_097, days % 146_097);
    let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 {
        month_from_march + 3
    } else {
        month_from_march - 9
    };
    let year = era * 400 + year_of_era + u64::from(month <= 2);
    (year, month, day)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    // Days from the Unix time of each midnight, as `date -u -d 2000-02-29 +%s` gives it, divided by 86 400.
    #[rstest]
    #[case(0, (1970, 1, 1))]
    #[case(11_016, (2000, 2, 29))]
    #[case(11_017, (2000, 3, 1))]
    #[case(19_723, (2024, 1, 1))]
    #[case(47_540, (2100, 2, 28))]
    #[case(47_541, (2100, 3, 1))]
    fn days_have_dates(#[case] days: u64, #[case] date: (u64, u64, u64)) {
        assert_eq!(civil(days), date);
    }

    #[test]
    fn every_day_follows_the_one_before_for_five_centuries() {
        let leap = |year| year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let mut expected = (1970, 1, 1);
        for days in 0..500 * 365 {
            assert_eq!(civil(days), expected);
            let (year, month, day) = expected;
            let last = match month {
                2 if leap(year) => 29,
                2 => 28,
                4 | 6 | 9 | 11 => 30,
                _ => 31,
            };
            expected = match (month, day) {
                (12, 31) => (year + 1, 1, 1),
                (_, day) if day == last => (year, month + 1, 1),
                _ => (year, month, day + 1),
            };
        }
    }
}
