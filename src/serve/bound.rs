//! The server itself: bound to its address, and running until it is told to stop.

use super::key::Key;
use super::printers::Printers;
use super::shop::Shop;
use super::work::Pool;
use super::{Config, ServeError, link, routes};
use crate::store::Store;
use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::net::SocketAddr;
use std::pin::pin;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;
use tokio::task::JoinSet;
use tokio::time::{sleep, timeout};

/// How long requests in hand are waited for after the server is told to stop.
const LAST_REQUESTS: Duration = Duration::from_secs(5);

/// Longest time for the head of a request, from the end of the one before it: who sends it a letter at
/// a time, or nothing, holds no connection open.
const LONGEST_HEAD: Duration = Duration::from_secs(10);

/// How long to wait after a connection that could not be taken.
const BREATH: Duration = Duration::from_millis(50);

/// A server that has its address.
pub struct Server {
    listener: std::net::TcpListener,
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
        let listener = std::net::TcpListener::bind(wanted).map_err(failed)?;
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
        let listener = TcpListener::from_std(self.listener)?;
        let (tell, told) = watch::channel(false);
        let router = routes(self.shop);
        let mut connections = JoinSet::new();
        let mut stopped = pin!(stop());
        loop {
            tokio::select! {
                () = &mut stopped => break,
                arrived = listener.accept() => match arrived {
                    Ok((stream, _)) => {
                        connections.spawn(connection(stream, router.clone(), told.clone()));
                    }
                    // No more can be open, or it was gone again.
                    Err(_) => sleep(BREATH).await,
                },
                // What has ended is not kept.
                Some(_) = connections.join_next() => {}
            }
        }
        drop(listener);
        // Nobody listens where no connection is open.
        let _ = tell.send(true);
        let ended = async { while connections.join_next().await.is_some() {} };
        // Requests that are never ended are not waited for.
        let _ = timeout(LAST_REQUESTS, ended).await;
        Ok(())
    }
}

/// Answers all that comes on one connection, and ends it after the request in hand when it is told to.
async fn connection(stream: TcpStream, router: Router, mut told: watch::Receiver<bool>) {
    // Answers are sent as soon as they are there.
    let _ = stream.set_nodelay(true);
    let service = TowerToHyperService::new(router);
    let served = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(LONGEST_HEAD)
        .serve_connection(TokioIo::new(stream), service);
    let mut served = pin!(served);
    tokio::select! {
        _ = &mut served => return,
        _ = told.wait_for(|stop| *stop) => served.as_mut().graceful_shutdown(),
    }
    // Whoever is gone needs no answer.
    let _ = served.await;
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
