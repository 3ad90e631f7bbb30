//! The camera while it looks for a label: asked for, looked through until a tray is found, and given back when the screen goes or
//! the page is put away.

use std::rc::Rc;

use leptos::html::Video;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::browser::{clock, page};
use crate::finding::{Scanned, scanned};
use crate::route::Route;
use crate::scan::camera::{Camera, CameraError};
use crate::scan::decode::ScanError;
use crate::scan::photo::PhotoError;
use crate::store::Store;

/// Between two looks, ms: some looks a second find a code as soon as the hand is still.
const BETWEEN_LOOKS_MS: i32 = 200;

/// How far looking has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    /// Not looking.
    Off,
    /// The camera was asked for.
    Asking,
    /// Looking.
    Looking,
    /// A photo is being read.
    Reading,
}

/// What came of it, where that is no tray to open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Outcome {
    /// No camera to look through.
    Camera(CameraError),
    /// A photo that gives no text.
    Photo(PhotoError),
    /// A tray that was recorded elsewhere.
    Unknown,
    /// No tray's label.
    NotOurs,
}

/// The search by label of one screen.
#[derive(Clone, Copy)]
pub(super) struct Sight {
    store: Store,
    pub(super) step: RwSignal<Step>,
    pub(super) outcome: RwSignal<Option<Outcome>>,
    /// A code is in the picture, but can't be read so far.
    pub(super) torn: RwSignal<bool>,
    pub(super) video: NodeRef<Video>,
    camera: StoredValue<Option<Rc<Camera>>, LocalStorage>,
}

impl Sight {
    /// Of one screen; the camera goes off with it, and while the page is out of view.
    pub(super) fn new() -> Self {
        let sight = Self {
            store: Store::here(),
            step: RwSignal::new(Step::Off),
            outcome: RwSignal::new(None),
            torn: RwSignal::new(false),
            video: NodeRef::new(),
            camera: StoredValue::new_local(None),
        };
        let hidden = window_event_listener_untyped("visibilitychange", move |_| {
            if !page::is_visible() {
                sight.stop();
            }
        });
        on_cleanup(move || {
            hidden.remove();
            sight.stop();
        });
        sight
    }

    /// Turns the camera on and looks through it.
    pub(super) fn start(self) {
        if self.step.get_untracked() != Step::Off {
            return;
        }
        self.step.set(Step::Asking);
        self.outcome.set(None);
        self.torn.set(false);
        spawn_local(async move {
            let opened = Camera::open().await;
            // The screen may be gone by now, or the grower may have thought better of it: then the camera goes off again here.
            if self.step.try_get_untracked() != Some(Step::Asking) {
                return;
            }
            match (opened, self.video.get_untracked()) {
                (Ok(camera), Some(video)) => {
                    camera.show(&video);
                    self.camera.set_value(Some(Rc::new(camera)));
                    self.step.set(Step::Looking);
                    self.look().await;
                }
                (Err(error), _) => self.end(Outcome::Camera(error)),
                (Ok(_), None) => self.stop(),
            }
        });
    }

    /// Turns the camera off.
    pub(super) fn stop(self) {
        self.camera.try_set_value(None);
        if let Some(Some(video)) = self.video.try_get_untracked() {
            video.set_src_object(None);
        }
        self.torn.try_set(false);
        if self.step.try_get_untracked() != Some(Step::Reading) {
            self.step.try_set(Step::Off);
        }
    }

    /// What the texts of a photo, or why there are none, come to.
    pub(super) fn photo(self, read: Result<Vec<String>, PhotoError>) {
        self.step.try_set(Step::Off);
        match read {
            Ok(texts) => match self.judge(&texts) {
                Some(outcome) => self.end(outcome),
                None => self.stop(),
            },
            Err(error) => self.end(Outcome::Photo(error)),
        }
    }

    async fn look(self) {
        loop {
            let camera = self.camera.try_get_value().flatten();
            let video = self.video.try_get_untracked().flatten();
            let (Some(camera), Some(video)) = (camera, video) else {
                return;
            };
            let seen = camera.look(&video).await;
            // Not held while waiting, so that it goes off at once when it is stopped.
            drop(camera);
            if self.step.try_get_untracked() != Some(Step::Looking) {
                return;
            }
            match seen {
                Ok(texts) => match self.judge(&texts) {
                    None => return self.stop(),
                    Some(Outcome::Unknown) => return self.end(Outcome::Unknown),
                    // A seed packet may lie beside the label: told, and looked on.
                    Some(outcome) => {
                        self.outcome.try_set(Some(outcome));
                    }
                },
                Err(error) => {
                    self.torn.try_set(error == ScanError::Torn);
                }
            }
            clock::pause(BETWEEN_LOOKS_MS).await;
        }
    }

    /// Opens the tray that texts name, or says why none is opened.
    fn judge(self, texts: &[String]) -> Option<Outcome> {
        match scanned(&self.store.season_now(), texts) {
            Scanned::Tray(id) => {
                page::go(&Route::Tray(id).href());
                None
            }
            Scanned::Unknown => Some(Outcome::Unknown),
            Scanned::NotOurs => Some(Outcome::NotOurs),
        }
    }

    fn end(self, outcome: Outcome) {
        self.stop();
        self.outcome.try_set(Some(outcome));
    }
}
