//! What the page's start-up script offers, and what it is told: see `public/boot.js`.

use wasm_bindgen::JsCast;
use wasm_bindgen::prelude::Closure;
use web_sys::CustomEvent;

/// What the start-up script tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// The whole app is kept on this device.
    OfflineReady,
    /// This browser does not keep the app.
    OfflineRefused,
    /// A newer build waits to be taken.
    UpdateReady,
    /// The browser offers to install the app.
    CanInstall,
    /// It has been installed.
    Installed,
}

impl Told {
    const ALL: [(Self, &'static str); 5] = [
        (Self::OfflineReady, "stemtide:offline-ready"),
        (Self::OfflineRefused, "stemtide:offline-refused"),
        (Self::UpdateReady, "stemtide:update-ready"),
        (Self::CanInstall, "stemtide:can-install"),
        (Self::Installed, "stemtide:installed"),
    ];
}

/// Listens for as long as the page lives, and asks for what was told before.
pub fn listen(told: impl Fn(Told) + Clone + 'static) {
    let Some(window) = web_sys::window() else {
        return;
    };
    for (what, name) in Told::ALL {
        let told = told.clone();
        let heard = Closure::<dyn Fn()>::new(move || told(what));
        let _added = window.add_event_listener_with_callback(name, heard.as_ref().unchecked_ref());
        heard.forget();
    }
    say("stemtide:hello");
}

/// Agrees to the newer build; the page loads anew when it is there.
pub fn take_update() {
    say("stemtide:take-update");
}

/// Asks the browser to install the app.
pub fn install() {
    say("stemtide:install");
}

fn say(name: &str) {
    if let (Some(window), Ok(event)) = (web_sys::window(), CustomEvent::new(name)) {
        let _sent = window.dispatch_event(&event);
    }
}
