//! Telling the app that a connection was given up.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

/// Why a vault closed for good. The app opens a new one, or asks the user to
/// reload; nothing that was reported as saved is lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closing {
    /// Another tab runs a newer version and is changing the layout.
    Upgrading,
    /// The database is being deleted: the demo was left in another tab.
    Deleted,
}

type Listener = Rc<dyn Fn(Closing)>;

/// The app's ear, and what was said before it listened.
#[derive(Default)]
pub(crate) struct Notices {
    closing: Cell<Option<Closing>>,
    listener: RefCell<Option<Listener>>,
}

impl Notices {
    /// Why the vault closed for good, if it did.
    pub(crate) fn closing(&self) -> Option<Closing> {
        self.closing.get()
    }

    pub(crate) fn tell(&self, closing: Closing) {
        self.closing.set(Some(closing));
        // Cloned out, so that the callback may set another listener.
        let listener = self.listener.borrow().clone();
        if let Some(listener) = listener {
            listener(closing);
        }
    }

    /// Replaces the listener; one that comes late is told at once.
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
    fn a_late_listener_is_told() {
        let notices = Notices::default();
        assert_eq!(notices.closing(), None);
        notices.tell(Closing::Upgrading);
        let heard = Rc::new(RefCell::new(Vec::new()));
        let ear = Rc::clone(&heard);
        notices.listen(Rc::new(move |c| ear.borrow_mut().push(c)));
        assert_eq!(*heard.borrow(), [Closing::Upgrading]);
        notices.tell(Closing::Deleted);
        assert_eq!(*heard.borrow(), [Closing::Upgrading, Closing::Deleted]);
    }

    #[test]
    fn a_listener_may_replace_itself() {
        let notices = Rc::new(Notices::default());
        let inner = Rc::clone(&notices);
        notices.listen(Rc::new(move |_| inner.listen(Rc::new(|_| ()))));
        notices.tell(Closing::Deleted);
        assert_eq!(notices.closing(), Some(Closing::Deleted));
    }
}
