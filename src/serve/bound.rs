//! The server itself: bound to its address, and running until it is told to stop.

use super::key::Key;
use super::printers::Printers;
use super::shop::Shop;
use super::work::Pool;
use super::{Config, ServeError, link, routes};
use crate::store::Store;
use std::net::{SocketAddr, TcpListener};
use std::sync::Arc;
use std::time::Duration;

/// How long requests in hand are waited for after the server is told to stop.
const LAST_REQUESTS: Duration = Duration::from_secs(5);

/// A server that has its address.
pub struct Server {
    listener: TcpListener,
    address: SocketAddr,
    shop: Arc<Shop>,
}

impl Server {
    /// Opens the folder and takes the address.
    ///
    /// # Errors
    /// [`ServeError`]: a folder that can't be opened, an address that can't be had, a key that can't
    /// be kept.
    pub fn bind(config: Config) -> Result<Self, ServeError> {
        let store = Store::open(&config.folder)
            .map_err(|cause| ServeError::Folder(config.folder.clone(), cause))?;
        let key = match config.listen.is_loopback() {
            true => None,
            false => Some(Key::of(&store).map_err(ServeError::Key)?),
        };
        let wanted = SocketAddr::new(config.listen, config.port);
        let failed = |cause| ServeError::Address(wanted, cause);
        let listener = TcpListener::bind(wanted).map_err(failed)?;
        listener.set_nonblocking(true).map_err(failed)?;
        let address = listener.local_addr().map_err(failed)?;
        let shop = Arc::new(Shop {
            printers: Printers::of(&store),
            store,
            shapes: config.shapes,
            tools: config.tools,
            key,
            hosts: config.hosts,
            pool: Pool::of_processors(),
            scans: Pool::of(1),
        });
        Ok(Self {
            listener,
            address,
            shop,
        })
    }

    /// The link that opens the page: with its key, where it is served beyond this machine.
    pub fn link(&self) -> String {
        link::link(self.address, self.shop.key.as_ref())
    }

    /// The link as a code for a phone's camera, in lines of half blocks; none where only this
    /// machine can open it.
    pub fn code(&self) -> Option<String> {
        self.shop
            .key
            .as_ref()
            .and_then(|_| link::code(&self.link()))
    }

    /// Answers until the process is told to stop (SIGINT, SIGTERM), then ends the requests in hand.
    ///
    /// # Errors
    /// [`ServeError::Run`]: what the system says.
    pub fn run(self) -> Result<(), ServeError> {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .enable_all()
            .build()
            .map_err(ServeError::Run)?;
        let ended = runtime.block_on(self.answer());
        // Work that runs over is not waited for.
        runtime.shutdown_background();
        ended.map_err(ServeError::Run)
    }

    async fn answer(self) -> std::io::Result<()> {
        let listener = tokio::net::TcpListener::from_std(self.listener)?;
        let (tell, told) = tokio::sync::watch::channel(false);
        tokio::spawn(async move {
            stop().await;
            // Nobody listens where the server has fallen.
            let _ = tell.send(true);
        });
        let stopped = |mut told: tokio::sync::watch::Receiver<bool>| async move {
            let _ = told.wait_for(|stop| *stop).await;
        };
        let late = stopped(told.clone());
        let served = axum::serve(listener, routes(self.shop)).with_graceful_shutdown(stopped(told));
        tokio::select! {
            ended = served => ended,
            () = async { late.await; tokio::time::sleep(LAST_REQUESTS).await } => Ok(()),
        }
    }
}

/// Waits until the process is told to stop.
async fn stop() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut ended) = signal(SignalKind::terminate()) {
            tokio::select! {
                _ = tokio::signal::ctrl_c() => {}
                _ = ended.recv() => {}
            }
            return;
        }
    }
    let _ = tokio::signal::ctrl_c().await;
}
