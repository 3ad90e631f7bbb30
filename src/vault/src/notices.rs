//! Notifies the app that a connection was released.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

/// Why a vault was closed permanently. The app opens a new one or asks the user
/// to reload; nothing that was reported as saved is lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closing {
    /// Another tab runs a newer version and is changing the schema.
    Upgrading,
    /// The database is being deleted: the demo was left in another tab.
    Deleted,
}

type Listener = Rc<dyn Fn(Closing)>;

/// The app's listener, and the notice that may have come before it.
#[derive(Default)]
pub(crate) struct Notices {
    closing: Cell<Option<Closing>>,
    listener: RefCell<Option<Listener>>,
}

impl Notices {
    /// Why the vault was closed permanently, if it was.
    pub(crate) fn closing(&self) -> Option<Closing> {
        self.closing.get()
    }

    pub(crate) fn notify(&self, closing: Closing) {
        self.closing.set(Some(closing));
        // Cloned, so that the callback may set another listener.
        let listener = self.listener.borrow().clone();
        if let Some(listener) = listener {
            listener(closing);
        }
    }

    /// Replaces the listener; a listener that is set late is called
    /// immediately.
    pub(crate) fn listen(&self, listener: Listener) {
        *self.listener.borrow_mut() = Some(Rc::clone(&listener));
        if let Some(closing) = self.closing.get() {
            listener(closing);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_late_listener_is_called() {
        let notices = Notices::default();
        assert_eq!(notices.closing(), None);
        notices.notify(Closing::Upgrading);
        let received = Rc::new(RefCell::new(Vec::new()));
        let sink = Rc::clone(&received);
        notices.listen(Rc::new(move |c| sink.borrow_mut().push(c)));
        assert_eq!(*received.borrow(), [Closing::Upgrading]);
        notices.notify(Closing::Deleted);
        assert_eq!(*received.borrow(), [Closing::Upgrading, Closing::Deleted]);
    }

    #[test]
    fn a_listener_may_replace_itself() {
        let notices = Rc::new(Notices::default());
        let inner = Rc::clone(&notices);
        notices.listen(Rc::new(move |_| inner.listen(Rc::new(|_| ()))));
        notices.notify(Closing::Deleted);
        assert_eq!(notices.closing(), Some(Closing::Deleted));
    }
}
