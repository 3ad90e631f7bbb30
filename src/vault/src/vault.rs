//! The vault as used by the app.

use crate::book::Book;
use crate::device::Device;
use crate::error::{Fault, VaultError};
use crate::idb::migrations::{MIGRATIONS, Migration};
use crate::idb::{Connection, open};
use crate::memory::Memory;
use crate::merge::Appended;
use crate::notices::{Closing, Notices};
use crate::row::{self, Row};
use std::cell::RefCell;
use std::rc::Rc;

/// An open book. Clones share it; dropping the last one closes it.
///
/// Dropping a future before it is ready aborts its transaction: await an append
/// to its end.
#[derive(Clone)]
pub struct Vault {
    backend: Rc<Backend>,
}

enum Backend {
    Browser(Browser),
    Memory(Memory),
}

struct Browser {
    name: String,
    migrations: &'static [Migration],
    notices: Rc<Notices>,
    link: RefCell<Rc<Connection>>,
}

impl Vault {
    /// Opens a book, creating or upgrading its database if needed. Never takes
    /// longer than [`OPEN_WAIT_MS`](crate::OPEN_WAIT_MS), except for an upgrade
    /// that has begun.
    ///
    /// # Errors
    /// [`VaultError::Unavailable`] or [`VaultError::Refused`] if there is no
    /// storage: continue with [`Vault::in_memory`] and tell the user.
    /// [`VaultError::Blocked`], [`VaultError::Newer`], [`VaultError::Quota`] or
    /// [`VaultError::Other`] as documented there.
    pub async fn open(book: Book) -> Result<Self, VaultError> {
        Self::open_as(book.name(), MIGRATIONS).await
    }

    /// Opens any database by its name with any migrations.
    ///
    /// # Errors
    /// As [`Vault::open`].
    #[cfg(feature = "trial")]
    pub async fn open_trial(
        name: &str,
        migrations: &'static [Migration],
    ) -> Result<Self, VaultError> {
        Self::open_as(name, migrations).await
    }

    async fn open_as(name: &str, migrations: &'static [Migration]) -> Result<Self, VaultError> {
        let notices = Rc::new(Notices::default());
        let link = Connection::open(name, migrations, Rc::clone(&notices)).await?;
        Ok(Self {
            backend: Rc::new(Backend::Browser(Browser {
                name: name.to_owned(),
                migrations,
                notices,
                link: RefCell::new(Rc::new(link)),
            })),
        })
    }

    /// An empty vault whose contents are lost with the page.
    #[must_use]
    pub fn in_memory() -> Self {
        Self {
            backend: Rc::new(Backend::Memory(Memory::default())),
        }
    }

    /// Whether appended rows are stored permanently.
    #[must_use]
    pub fn keeps(&self) -> bool {
        matches!(*self.backend, Backend::Browser(_))
    }

    /// Calls `callback` when the vault is closed permanently, immediately if it
    /// already is. A later call replaces an earlier one.
    pub fn on_closed(&self, callback: impl Fn(Closing) + 'static) {
        if let Backend::Browser(browser) = &*self.backend {
            browser.notices.listen(Rc::new(callback));
        }
    }

    /// All rows, ordered by id.
    ///
    /// # Errors
    /// [`VaultError::Closed`], or [`VaultError::Other`] with the browser's
    /// message.
    pub async fn read_all(&self) -> Result<Vec<Row>, VaultError> {
        match &*self.backend {
            Backend::Memory(memory) => Ok(memory.read_all()),
            Backend::Browser(browser) => browser.run(async |link| link.read_all().await).await,
        }
    }

    /// The stored rows among `ids`, in the order of `ids`.
    ///
    /// # Errors
    /// As [`Vault::read_all`].
    pub async fn read(&self, ids: &[String]) -> Result<Vec<Row>, VaultError> {
        match &*self.backend {
            _ if ids.is_empty() => Ok(Vec::new()),
            Backend::Memory(memory) => Ok(memory.read(ids)),
            Backend::Browser(browser) => browser.run(async |link| link.read(ids).await).await,
        }
    }

    /// Appends all rows or none, in one transaction, and completes only when
    /// they are on the disk. A row that is already stored with the same text is
    /// left alone, so that a batch may always be sent again.
    ///
    /// # Errors
    /// [`VaultError::Conflict`] if an id is stored with a different text,
    /// [`VaultError::Quota`] if there is no space, [`VaultError::Limit`] if a
    /// limit is exceeded, [`VaultError::Closed`] or [`VaultError::Other`].
    pub async fn append(&self, rows: &[Row]) -> Result<Appended, VaultError> {
        row::check(rows)?;
        match &*self.backend {
            _ if rows.is_empty() => Ok(Appended::default()),
            Backend::Memory(memory) => memory.append(rows),
            Backend::Browser(browser) => browser.run(async |link| link.append(rows).await).await,
        }
    }

    /// This device's id and name, if they have been set in this book.
    ///
    /// # Errors
    /// As [`Vault::read_all`]; [`VaultError::Other`] for a damaged record.
    pub async fn device(&self) -> Result<Option<Device>, VaultError> {
        match &*self.backend {
            Backend::Memory(memory) => Ok(memory.device()),
            Backend::Browser(browser) => browser.run(async |link| link.device().await).await,
        }
    }

    /// Offers an id and a name, and returns the stored record: the id that was
    /// written first, in whichever tab, and the most recent name.
    ///
    /// # Errors
    /// As [`Vault::append`], without conflicts.
    pub async fn set_device(&self, offered: &Device) -> Result<Device, VaultError> {
        offered.check()?;
        match &*self.backend {
            Backend::Memory(memory) => Ok(memory.set_device(offered)),
            Backend::Browser(browser) => {
                browser
                    .run(async |link| link.set_device(offered).await)
                    .await
            }
        }
    }

    /// Gives this device a new id because its old one is in use elsewhere, for
    /// example after restoring a backup. Other open tabs should read it again.
    ///
    /// # Errors
    /// As [`Vault::set_device`].
    pub async fn replace_device(&self, device: &Device) -> Result<(), VaultError> {
        device.check()?;
        match &*self.backend {
            Backend::Memory(memory) => {
                memory.replace_device(device);
                Ok(())
            }
            Backend::Browser(browser) => {
                browser
                    .run(async |link| link.replace_device(device).await)
                    .await
            }
        }
    }

    /// Deletes the demo's database. It takes no book, so that it cannot affect
    /// the grower's own. Drop the demo's vault first; other tabs that have it
    /// open are notified with [`Closing::Deleted`].
    ///
    /// # Errors
    /// [`VaultError::Blocked`] if another tab does not release it in time: it
    /// is deleted as soon as that tab does. Otherwise as [`Vault::open`].
    pub async fn forget_demo() -> Result<(), VaultError> {
        open::delete(Book::Demo.name()).await
    }
}

impl Browser {
    /// Runs `work`; if the connection turns out to be lost (a phone drops
    /// connections in the background), opens it again and retries once. All
    /// operations may be repeated.
    async fn run<T>(
        &self,
        work: impl AsyncFn(&Connection) -> Result<T, Fault>,
    ) -> Result<T, VaultError> {
        if self.notices.closing().is_some() {
            return Err(VaultError::Closed);
        }
        let link = Rc::clone(&self.link.borrow());
        if !link.is_lost() {
            match work(&link).await {
                Ok(done) => return Ok(done),
                Err(Fault::Is(error)) => return Err(error),
                Err(Fault::Lost) => {}
            }
        }
        if self.notices.closing().is_some() {
            return Err(VaultError::Closed);
        }
        let link = self.after(&link).await?;
        match work(&link).await {
            Ok(done) => Ok(done),
            Err(Fault::Is(error)) => Err(error),
            Err(Fault::Lost) => Err(VaultError::Closed),
        }
    }

    /// The connection after a lost one: one that another caller opened, or a
    /// new one.
    async fn after(&self, lost: &Rc<Connection>) -> Result<Rc<Connection>, VaultError> {
        let current = Rc::clone(&self.link.borrow());
        if !Rc::ptr_eq(&current, lost) {
            return Ok(current);
        }
        let opened =
            Connection::open(&self.name, self.migrations, Rc::clone(&self.notices)).await?;
        let opened = Rc::new(opened);
        *self.link.borrow_mut() = Rc::clone(&opened);
        Ok(opened)
    }
}
