//! A database that is connected to, and ready.

use postgres::{Client, NoTls, Transaction};

use crate::address::{Address, Tls};
use crate::{SyncError, schema, tls};

/// So often a transaction is begun again that another one stood in the way of.
const TRIES: usize = 5;

/// A database with the tables of records in it.
pub struct Server {
    pub(crate) client: Client,
    name: String,
}

impl Server {
    /// Connects, and makes the tables where there are none; old ones are brought up to today's schema.
    pub fn connect(address: &Address) -> Result<Self, SyncError> {
        let name = address.to_string();
        let connected = match &address.tls {
            Tls::None => address.config.connect(NoTls),
            Tls::By(root) => address.config.connect(tls::by(root.as_deref())?),
        };
        let client = connected.map_err(|error| SyncError::connecting(&name, &error))?;
        let mut server = Self { client, name };
        let encoding: String =
            server.ask(|client| Ok(client.query_one("SHOW server_encoding", &[])?.get(0)))?;
        if encoding != "UTF8" {
            return Err(SyncError::NotUtf8 { server: server.name, encoding });
        }
        let found = server.ask(schema::bring_up)?;
        if found > schema::KNOWN {
            return Err(SyncError::Later { server: server.name, found, known: schema::KNOWN });
        }
        Ok(server)
    }

    /// Asks for something.
    pub(crate) fn ask<T>(
        &mut self,
        question: impl FnOnce(&mut Client) -> Result<T, postgres::Error>,
    ) -> Result<T, SyncError> {
        question(&mut self.client).map_err(|error| SyncError::asking(&self.name, &error))
    }

    /// One transaction. What the database says of the data in it comes back as `Ok(Err(_))`.
    pub(crate) fn at_once<T>(
        &mut self,
        mut change: impl FnMut(&mut Transaction<'_>) -> Result<T, postgres::Error>,
    ) -> Result<Result<T, postgres::Error>, SyncError> {
        let mut tries = 0;
        loop {
            let changed = self.client.transaction().and_then(|mut all| {
                let changed = change(&mut all)?;
                all.commit()?;
                Ok(changed)
            });
            let error = match changed {
                Ok(changed) => return Ok(Ok(changed)),
                Err(error) => error,
            };
            tries += 1;
            match error.code().map(|state| &state.code()[..2]) {
                // Serialization, deadlock.
                Some("40") if tries < TRIES => {}
                // The data, a constraint, a limit.
                Some("22" | "23" | "54") => return Ok(Err(error)),
                _ => return Err(SyncError::asking(&self.name, &error)),
            }
        }
    }
}
