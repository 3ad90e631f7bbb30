//! The planner's thread: started, asked, listened to, ended.

use planner::post::{Ask, Tell};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{ErrorEvent, Event, MessageEvent, Worker, WorkerOptions, WorkerType};

use super::page;

/// A running thread. Dropping it ends it.
pub struct Thread {
    worker: Worker,
    // Kept as long as the thread may speak.
    _heard: Closure<dyn FnMut(MessageEvent)>,
    _broke: Closure<dyn FnMut(Event)>,
}

impl Thread {
    /// Starts the thread, which asks something as soon as it is ready, and hands on what it tells. `None` where this browser starts no
    /// such thread.
    pub fn start(ask: Ask, mut told: impl FnMut(Tell) + Clone + 'static) -> Option<Self> {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = Worker::new_with_options(&page::planner_script()?, &options).ok()?;
        let ask = serde_json::to_string(&ask).ok()?;
        let there = worker.clone();
        let mut broken = told.clone();
        let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let text = event.data().as_string().unwrap_or_default();
            match serde_json::from_str(&text) {
                Ok(Tell::Ready) => {
                    if there.post_message(&JsValue::from_str(&ask)).is_err() {
                        told(Tell::Failed(String::new()));
                    }
                }
                Ok(what) => told(what),
                Err(error) => told(Tell::Failed(error.to_string())),
            }
        });
        // A thread whose script could not be had says so by an event without a message.
        let broke = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
            event.prevent_default();
            let why = event.dyn_ref::<ErrorEvent>().map(ErrorEvent::message);
            broken(Tell::Failed(why.unwrap_or_default()));
        });
        worker.set_onmessage(Some(heard.as_ref().unchecked_ref()));
        worker.set_onerror(Some(broke.as_ref().unchecked_ref()));
        Some(Self {
            worker,
            _heard: heard,
            _broke: broke,
        })
    }
}

impl Drop for Thread {
    fn drop(&mut self) {
        self.worker.set_onmessage(None);
        self.worker.set_onerror(None);
        self.worker.terminate();
    }
}
