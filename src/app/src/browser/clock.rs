//! The device's calendar and clock.

use chrono::NaiveDate;

/// Milliseconds since 1970 by the device's clock.
pub fn now_ms() -> u64 {
    // A clock before 1970 counts as 1970.
    js_sys::Date::now().max(0.0) as u64
}

/// The civil date where the device is; 1 January 2000 for a clock that shows no date.
pub fn today() -> NaiveDate {
    let now = js_sys::Date::new_0();
    date(&now).unwrap_or_else(|| NaiveDate::from_ymd_opt(2000, 1, 1).unwrap_or_default())
}

/// Milliseconds until the device's calendar turns to the next day; at least a second.
pub fn ms_to_midnight() -> u32 {
    let now = js_sys::Date::new_0();
    let next = js_sys::Date::new_with_year_month_day(
        now.get_full_year(),
        now.get_month() as i32,
        now.get_date() as i32 + 1,
    );
    let left = next.get_time() - now.get_time();
    // A day of a clock change has at most 25 hours.
    left.clamp(1_000.0, 25.0 * 60.0 * 60.0 * 1_000.0) as u32
}

/// The clock's time in UTC as RFC 3339.
pub fn now_rfc3339() -> String {
    chrono::DateTime::from_timestamp_millis(now_ms() as i64)
        .map(|now| now.to_rfc3339_opts(chrono::SecondsFormat::Millis, true))
        .unwrap_or_default()
}

/// The civil date of a time (ms since 1970) where the device is.
pub fn date_of(ms: u64) -> Option<NaiveDate> {
    date(&js_sys::Date::new(&(ms as f64).into()))
}

/// Waits so many milliseconds.
pub async fn pause(ms: i32) {
    let waited = js_sys::Promise::new(&mut |done, _| {
        if let Some(window) = web_sys::window() {
            let _asked = window.set_timeout_with_callback_and_timeout_and_arguments_0(&done, ms);
        }
    });
    // Nothing rejects it.
    let _over = wasm_bindgen_futures::JsFuture::from(waited).await;
}

/// The hour and minute of a time (ms since 1970) where the device is: "08:05".
pub fn time_of(ms: u64) -> String {
    let at = js_sys::Date::new(&(ms as f64).into());
    format!("{:02}:{:02}", at.get_hours(), at.get_minutes())
}

fn date(at: &js_sys::Date) -> Option<NaiveDate> {
    let year = i32::try_from(at.get_full_year()).ok()?;
    NaiveDate::from_ymd_opt(year, at.get_month() + 1, at.get_date())
}
