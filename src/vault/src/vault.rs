//! The vault as the app sees it.

use crate::book::Book;
use crate::device::Device;
use crate::error::{Fault, VaultError};
use crate::idb::ladder::{LADDER, Step};
use crate::idb::{Connection, open};
use crate::memory::Memory;
use crate::notices::{Closing, Notices};
use crate::row::{self, Row};
use crate::settle::Appended;
use std::cell::RefCell;
use std::rc::Rc;

/// One book, open. Clones share it; the last one to go releases it.
///
/// A future that is dropped before it is ready abandons its transaction: run
/// an append to its end.
#[derive(Clone)]
pub struct Vault {
    keep: Rc<Keep>,
}

enum Keep {
    Browser(Browser),
    Memory(Memory),
}

struct Browser {
    name: String,
    ladder: &'static [Step],
    notices: Rc<Notices>,
    link: RefCell<Rc<Connection>>,
}

impl Vault {
    /// Opens a book, laying it out or upgrading it where needed. Never takes
    /// longer than [`OPEN_WAIT_MS`](crate::OPEN_WAIT_MS), but for an upgrade
    /// that has begun.
    ///
    /// # Errors
    /// [`VaultError::Unavailable`] or [`VaultError::Refused`] when there is no
    /// storage to be had: go on with [`Vault::in_memory`] and say so.
    /// [`VaultError::Blocked`], [`VaultError::Newer`], [`VaultError::Quota`]
    /// or [`VaultError::Other`] as they say.
    pub async fn open(book: Book) -> Result<Self, VaultError> {
        Self::open_as(book.name(), LADDER).await
    }

    /// Opens any database by its name with any ladder.
    ///
    /// # Errors
    /// As [`Vault::open`].
    #[cfg(feature = "trial")]
    pub async fn open_trial(name: &str, ladder: &'static [Step]) -> Result<Self, VaultError> {
        Self::open_as(name, ladder).await
    }

    async fn open_as(name: &str, ladder: &'static [Step]) -> Result<Self, VaultError> {
        let notices = Rc::new(Notices::default());
        let link = Connection::open(name, ladder, Rc::clone(&notices)).await?;
        Ok(Self {
            keep: Rc::new(Keep::Browser(Browser {
                name: name.to_owned(),
                ladder,
                notices,
                link: RefCell::new(Rc::new(link)),
            })),
        })
    }

    /// An empty vault that forgets everything with the page.
    #[must_use]
    pub fn in_memory() -> Self {
        Self {
            keep: Rc::new(Keep::Memory(Memory::default())),
        }
    }

    /// Whether what is appended outlives the page.
    #[must_use]
    pub fn keeps(&self) -> bool {
        matches!(*self.keep, Keep::Browser(_))
    }

    /// Calls `told` once the vault has closed for good; at once if it has
    /// already. A later call replaces an earlier one.
    pub fn on_closed(&self, told: impl Fn(Closing) + 'static) {
        if let Keep::Browser(browser) = &*self.keep {
            browser.notices.listen(Rc::new(told));
        }
    }

    /// All rows, in order of their ids.
    ///
    /// # Errors
    /// [`VaultError::Closed`], or [`VaultError::Other`] as the browser says.
    pub async fn read_all(&self) -> Result<Vec<Row>, VaultError> {
        match &*self.keep {
            Keep::Memory(memory) => Ok(memory.read_all()),
            Keep::Browser(browser) => browser.run(async |link| link.read_all().await).await,
        }
    }

    /// Those rows of `ids` that are stored, in the order of `ids`.
    ///
    /// # Errors
    /// As [`Vault::read_all`].
    pub async fn read(&self, ids: &[String]) -> Result<Vec<Row>, VaultError> {
        match &*self.keep {
            _ if ids.is_empty() => Ok(Vec::new()),
            Keep::Memory(memory) => Ok(memory.read(ids)),
            Keep::Browser(browser) => browser.run(async |link| link.read(ids).await).await,
        }
    }

    /// Appends all rows or none, in one transaction, and is ready only when
    /// they are on the disk. A row that is there with the same text is left
    /// alone, so that a batch may always be sent again.
    ///
    /// # Errors
    /// [`VaultError::Conflict`] when an id is there with another text,
    /// [`VaultError::Quota`] when there is no room, [`VaultError::Limit`]
    /// over a named limit, [`VaultError::Closed`] or [`VaultError::Other`].
    pub async fn append(&self, rows: &[Row]) -> Result<Appended, VaultError> {
        row::check(rows)?;
        match &*self.keep {
            _ if rows.is_empty() => Ok(Appended::default()),
            Keep::Memory(memory) => memory.append(rows),
            Keep::Browser(browser) => browser.run(async |link| link.append(rows).await).await,
        }
    }

    /// This device's id and name, if they have been set in this book.
    ///
    /// # Errors
    /// As [`Vault::read_all`]; [`VaultError::Other`] for a damaged record.
    pub async fn device(&self) -> Result<Option<Device>, VaultError> {
        match &*self.keep {
            Keep::Memory(memory) => Ok(memory.device()),
            Keep::Browser(browser) => browser.run(async |link| link.device().await).await,
        }
    }

    /// Offers an id and a name, and gives back what stands: the id that was
    /// written first, in whichever tab, and the name given last.
    ///
    /// # Errors
    /// As [`Vault::append`], without conflicts.
    pub async fn set_device(&self, offered: &Device) -> Result<Device, VaultError> {
        offered.check()?;
        match &*self.keep {
            Keep::Memory(memory) => Ok(memory.set_device(offered)),
            Keep::Browser(browser) => {
                browser
                    .run(async |link| link.set_device(offered).await)
                    .await
            }
        }
    }

    /// Gives this device a new id, when its old one turned out to be in use
    /// elsewhere: a restored backup. Other open tabs should read it again.
    ///
    /// # Errors
    /// As [`Vault::set_device`].
    pub async fn replace_device(&self, device: &Device) -> Result<(), VaultError> {
        device.check()?;
        match &*self.keep {
            Keep::Memory(memory) => {
                memory.replace_device(device);
                Ok(())
            }
            Keep::Browser(browser) => {
                browser
                    .run(async |link| link.replace_device(device).await)
                    .await
            }
        }
    }

    /// Deletes the demo's database. It takes no book, so that it cannot reach
    /// the grower's own. Drop the demo's vault first; other tabs that have it
    /// open are told [`Closing::Deleted`].
    ///
    /// # Errors
    /// [`VaultError::Blocked`] when another tab does not let go in time: it is
    /// deleted as soon as that tab goes. Otherwise as [`Vault::open`].
    pub async fn forget_demo() -> Result<(), VaultError> {
        open::delete(Book::Demo.name()).await
    }
}

impl Browser {
    /// Does `work`; when the connection proves lost (a phone drops them in
    /// the background), opens it again and repeats once. All our work may be
    /// repeated.
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

    /// The connection after a lost one: another caller's, or a new one.
    async fn after(&self, lost: &Rc<Connection>) -> Result<Rc<Connection>, VaultError> {
        let current = Rc::clone(&self.link.borrow());
        if !Rc::ptr_eq(&current, lost) {
            return Ok(current);
        }
        let opened = Connection::open(&self.name, self.ladder, Rc::clone(&self.notices)).await?;
        let opened = Rc::new(opened);
        *self.link.borrow_mut() = Rc::clone(&opened);
        Ok(opened)
    }
}
