//! The server: binds, routes, and stops in good order.

use std::future::Future;
use std::net::{SocketAddr, TcpListener};
use std::sync::Arc;
use std::thread::JoinHandle;
use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::extract::{Path, Request, State};
use axum::http::{Response, StatusCode};
use axum::middleware::{self, Next};
use axum::routing::{any, post};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::Context;
use thiserror::Error;
use tokio::sync::oneshot;

use crate::assets::UiAssets;
use crate::guard::Guard;
use crate::{calls, pages};

/// Commands that run at the same time. They share one database, more would only wait there.
const WORKERS: usize = 8;

/// Time for running commands to end after the signal to stop.
const GRACE: Duration = Duration::from_secs(5);

/// Why a gateway does not run.
#[derive(Debug, Error)]
pub enum GatewayError {
    /// The address reaches beyond this machine.
    #[error("{0} would be open to other machines; the gateway answers only on 127.0.0.1 or ::1")]
    NotLoopback(SocketAddr),
    /// The address cannot be taken.
    #[error("{address} cannot be used: {source}. Another program may have it; choose another port")]
    Bind {
        /// The address.
        address: SocketAddr,
        /// What the system said.
        source: std::io::Error,
    },
    /// The server broke off.
    #[error("the gateway stopped: {0}")]
    Run(#[from] std::io::Error),
}

/// A gateway that has its address and does not answer yet.
pub struct Gateway {
    listener: TcpListener,
    address: SocketAddr,
    shared: Shared,
}

#[derive(Clone)]
struct Shared {
    context: Arc<Context>,
    assets: Arc<dyn UiAssets>,
    guard: Arc<Guard>,
}

impl Gateway {
    /// Takes an address of this machine; port 0 for any free one.
    ///
    /// # Errors
    /// For an address that other machines can reach, and where it is taken.
    pub fn bind(
        address: SocketAddr,
        context: Arc<Context>,
        assets: impl UiAssets + 'static,
    ) -> Result<Self, GatewayError> {
        if !address.ip().is_loopback() {
            return Err(GatewayError::NotLoopback(address));
        }
        let taken = |source| GatewayError::Bind { address, source };
        let listener = TcpListener::bind(address).map_err(taken)?;
        listener.set_nonblocking(true).map_err(taken)?;
        let address = listener.local_addr().map_err(taken)?;
        let guard = Arc::new(Guard::new(address));
        Ok(Self { listener, address, shared: Shared { context, assets: Arc::new(assets), guard } })
    }

    /// The address it has.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// The address to open in a browser.
    pub fn url(&self) -> String {
        format!("http://{}/", self.address)
    }

    /// Answers until the program is told to stop (Ctrl-C, or the system's request to end).
    ///
    /// # Errors
    /// Where the server breaks off.
    pub fn run(self) -> Result<(), GatewayError> {
        self.run_until(told_to_stop())
    }

    /// Answers in the background until the handle is dropped.
    pub fn spawn(self) -> Running {
        let (stop, stopped) = oneshot::channel();
        let address = self.address;
        let thread = std::thread::spawn(move || {
            self.run_until(async {
                // A dropped handle means the same as a word from it.
                let _ = stopped.await;
            })
        });
        Running { address, stop: Some(stop), thread: Some(thread) }
    }

    fn run_until(self, stop: impl Future<Output = ()> + Send + 'static) -> Result<(), GatewayError> {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .max_blocking_threads(WORKERS)
            .enable_all()
            .build()?;
        let served = runtime.block_on(async {
            let listener = tokio::net::TcpListener::from_std(self.listener)?;
            let (stopping, grace) = oneshot::channel();
            let stop = async move {
                stop.await;
                let _ = stopping.send(());
            };
            let server = axum::serve(listener, router(self.shared)).with_graceful_shutdown(stop);
            tokio::select! {
                served = server.into_future() => served,
                () = out_of_patience(grace) => Ok(()),
            }
        });
        runtime.shutdown_timeout(GRACE);
        Ok(served?)
    }
}

/// A gateway that answers in the background; it stops when this is dropped.
pub struct Running {
    address: SocketAddr,
    stop: Option<oneshot::Sender<()>>,
    thread: Option<JoinHandle<Result<(), GatewayError>>>,
}

impl Running {
    /// Its address.
    pub fn address(&self) -> SocketAddr {
        self.address
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        drop(self.stop.take());
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

fn router(shared: Shared) -> Router {
    Router::new()
        .route("/api/call/{name}", post(call))
        .route("/api/{*rest}", any(unknown))
        .fallback(ui)
        .layer(middleware::from_fn_with_state(shared.clone(), guarded))
        .with_state(shared)
}

/// Lets in only what is meant for this gateway, and makes every answer strict.
async fn guarded(State(shared): State<Shared>, request: Request, next: Next) -> Response<Body> {
    let response = match shared.guard.check_host(request.headers()) {
        Ok(()) => next.run(request).await,
        Err(failure) => calls::fail(StatusCode::MISDIRECTED_REQUEST, &failure),
    };
    pages::secure(response)
}

async fn call(State(shared): State<Shared>, Path(name): Path<String>, request: Request) -> Response<Body> {
    if let Err(failure) = shared.guard.check_call(request.headers()) {
        return calls::fail(calls::status_of(failure.code), &failure);
    }
    calls::answer(shared.context, name, request.into_body()).await
}

async fn unknown() -> Response<Body> {
    let failure = Failure::new(ErrorCode::NotFound, "There is nothing at this address.");
    calls::fail(StatusCode::NOT_FOUND, &failure)
}

async fn ui(State(shared): State<Shared>, request: Request) -> Response<Body> {
    pages::page(shared.assets.as_ref(), request.method(), request.uri().path(), request.headers())
}

async fn out_of_patience(stopping: oneshot::Receiver<()>) {
    match stopping.await {
        Ok(()) => tokio::time::sleep(GRACE).await,
        // The server ended by itself and dropped the sender.
        Err(_) => std::future::pending().await,
    }
}

async fn told_to_stop() {
    let interrupt = async {
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    tokio::select! {
        () = interrupt => {},
        () = terminate() => {},
    }
}

#[cfg(unix)]
async fn terminate() {
    use tokio::signal::unix::{SignalKind, signal};
    match signal(SignalKind::terminate()) {
        Ok(mut signal) => {
            signal.recv().await;
        }
        Err(_) => std::future::pending().await,
    }
}

#[cfg(not(unix))]
async fn terminate() {
    std::future::pending().await
}
