//! The planner's thread.

use js_sys::Array;
use planner::protocol::{Request, Response};
use wasm_bindgen::JsValue;

use super::thread::{self, Question, Tells};

impl Tells for Response {
    fn is_ready(&self) -> bool {
        matches!(self, Self::Ready)
    }

    fn failed(why: String) -> Self {
        Self::Failed(why)
    }
}

/// A running thread. Dropping it ends it.
pub struct Thread {
    _running: thread::Thread,
}

impl Thread {
    /// Starts the thread, which asks something as soon as it is ready, and hands on what it tells. `None` where this browser starts no
    /// such thread.
    pub fn start(ask: Request, told: impl FnMut(Response) + Clone + 'static) -> Option<Self> {
        let question = Question {
            message: JsValue::from_str(&serde_json::to_string(&ask).ok()?),
            given: Array::new(),
        };
        let running = thread::Thread::start(question, told)?;
        Some(Self { _running: running })
    }
}
