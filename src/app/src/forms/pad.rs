//! Large keys for a number, for gloves.

use leptos::prelude::*;
use season::words::text;

use crate::parts::Typed;

/// Digits that a number may have.
const DIGITS: usize = 7;

/// Keys under a number. The first digit takes the place of the number that was there.
#[component]
pub(super) fn Pad(typed: Typed) -> impl IntoView {
    let untouched = RwSignal::new(true);
    let digit = move |digit: u32| {
        let before = if untouched.get_untracked() {
            String::new()
        } else {
            typed.text_now()
        };
        untouched.set(false);
        typed.put(with_digit(&before, digit));
    };
    let clear = move |_| {
        untouched.set(false);
        typed.put("");
    };
    let back = move |_| {
        untouched.set(false);
        let mut text = typed.text_now();
        text.pop();
        typed.put(text);
    };
    let key = move |n: u32| {
        view! {
            <button class="pad__key" type="button" on:click=move |_| digit(n)>
                {n}
            </button>
        }
    };
    view! {
        <div class="pad__keys">
            {(1..=9).map(key).collect_view()}
            <button class="pad__key pad__key--word" type="button" on:click=clear>
                {text("pad.clear")}
            </button>
            {key(0)}
            <button
                class="pad__key pad__key--word"
                type="button"
                aria-label=text("pad.back_label")
                on:click=back
            >
                {text("pad.back")}
            </button>
        </div>
    }
}

fn with_digit(before: &str, digit: u32) -> String {
    let kept = before.trim_start_matches('0');
    if kept.len() >= DIGITS {
        return kept.to_owned();
    }
    format!("{kept}{digit}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_join_without_leading_noughts_and_stop_before_they_overflow() {
        assert_eq!(with_digit("", 4), "4");
        assert_eq!(with_digit("4", 5), "45");
        assert_eq!(with_digit("0", 5), "5");
        assert_eq!(with_digit("", 0), "0");
        assert_eq!(with_digit("1234567", 8), "1234567");
    }
}
