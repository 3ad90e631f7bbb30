//! The device record.

use super::connection::Connection;
use super::migrations::META;
use super::scope;
use crate::device::Device;
use crate::error::Fault;
use indexed_db_futures::BuildPrimitive;
use indexed_db_futures::object_store::ObjectStore;
use indexed_db_futures::prelude::QuerySource;

/// Key of the device record in its object store.
const DEVICE: &str = "device";

impl Connection {
    pub(crate) async fn device(&self) -> Result<Option<Device>, Fault> {
        let transaction = scope::reading(&self.db, META)?;
        let store = transaction.object_store(META)?;
        kept(&store).await
    }

    /// Reads and writes in one transaction: if two tabs do so at once, the
    /// browser makes one of them wait, which then finds the id of the other.
    pub(crate) async fn set_device(&self, offered: &Device) -> Result<Device, Fault> {
        let transaction = scope::writing(&self.db, META)?;
        let store = transaction.object_store(META)?;
        let merged = offered.merged_with(kept(&store).await?);
        put(&store, &merged)?;
        drop(store);
        scope::commit(transaction).await?;
        Ok(merged)
    }

    pub(crate) async fn replace_device(&self, device: &Device) -> Result<(), Fault> {
        let transaction = scope::writing(&self.db, META)?;
        let store = transaction.object_store(META)?;
        put(&store, device)?;
        drop(store);
        scope::commit(transaction).await
    }
}

async fn kept(store: &ObjectStore<'_>) -> Result<Option<Device>, Fault> {
    let json: Option<String> = store.get(DEVICE).primitive()?.await?;
    let device = json.as_deref().map(Device::from_json).transpose()?;
    Ok(device)
}

fn put(store: &ObjectStore<'_>, device: &Device) -> Result<(), Fault> {
    store
        .put(device.to_json()?)
        .with_key(DEVICE)
        .without_key_type()
        .primitive()?;
    Ok(())
}
