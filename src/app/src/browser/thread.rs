//! A thread beside the page: started, asked one thing, listened to, ended.

use js_sys::Array;
use serde::de::DeserializeOwned;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{ErrorEvent, Event, MessageEvent, Worker, WorkerOptions, WorkerType};

use super::page;

/// What a thread tells.
pub trait Tells: DeserializeOwned {
    /// Whether it tells that it can be asked.
    fn is_ready(&self) -> bool;

    /// That it could not be done: why, for those who look into it.
    fn failed(why: String) -> Self;
}

/// What a thread is asked, and what of it is handed over instead of copied.
pub struct Question {
    /// What is sent.
    pub message: JsValue,
    /// Buffers inside the message that the page gives up.
    pub given: Array,
}

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
    pub fn start<T: Tells>(
        question: Question,
        mut told: impl FnMut(T) + Clone + 'static,
    ) -> Option<Self> {
        let options = WorkerOptions::new();
        options.set_type(WorkerType::Module);
        let worker = Worker::new_with_options(&page::planner_script()?, &options).ok()?;
        let there = worker.clone();
        let mut broken = told.clone();
        let heard = Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let text = event.data().as_string().unwrap_or_default();
            match serde_json::from_str::<T>(&text) {
                Ok(what) if what.is_ready() => {
                    let Question { message, given } = &question;
                    if there.post_message_with_transfer(message, given).is_err() {
                        told(T::failed(String::new()));
                    }
                }
                Ok(what) => told(what),
                Err(error) => told(T::failed(error.to_string())),
            }
        });
        // A thread whose script could not be had says so by an event without a message.
        let broke = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
            event.prevent_default();
            let why = event.dyn_ref::<ErrorEvent>().map(ErrorEvent::message);
            broken(T::failed(why.unwrap_or_default()));
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
