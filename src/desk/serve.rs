//! Sockets and connections.

use std::collections::VecDeque;
use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, UdpSocket};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use axum::Router;
use axum::extract::Request;
use axum::http::StatusCode;
use axum::response::Response;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use tokio::net::{TcpListener, TcpStream};
use tokio::task::AbortHandle;
use tower_service::Service;

use super::folder::Folder;
use super::keys::{Keys, Right, Use};
use super::pages::trouble;
use super::{Opening, Shared, State, routes};

/// Connections at once: who holds one without asking anything loses it to the next. House
/// rule: a browser holds six.
const MOST: usize = 256;
/// Until a request's head has come, and until it is answered. House rules.
const HEAD_WITHIN: Duration = Duration::from_secs(10);
const ANSWER_WITHIN: Duration = Duration::from_mins(1);
/// Bytes of a request's head. House rule.
const LARGEST_HEAD: usize = 32 * 1024;

/// A desk that listens.
pub(crate) struct Desk {
    state: Shared,
    listeners: Vec<std::net::TcpListener>,
    /// The address for this computer, with its secret.
    pub(crate) address: String,
    room: Option<(SocketAddr, Right)>,
}

/// Opens a desk: from now on it listens, and answers once it is [served](Desk::serve).
pub(crate) fn open_desk(opening: Opening) -> io::Result<Desk> {
    let folder = Folder::open(&opening.folder)?;
    let own = std::net::TcpListener::bind((Ipv4Addr::LOCALHOST, opening.port))?;
    let port = own.local_addr()?.port();
    let mut listeners = vec![own];
    let mut hosts = vec![format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    let room = match opening.share {
        None => None,
        Some(right) => {
            let address = SocketAddr::new(in_the_room()?, port);
            listeners.push(std::net::TcpListener::bind(address)?);
            hosts.push(address.to_string());
            Some((address, right))
        }
    };
    let mut keys = Keys::default();
    let secret = keys
        .link(Right::Measure, Use::Always)
        .map_err(io::Error::other)?;
    let state = State {
        folder,
        table: opening.table,
        keys: Mutex::new(keys),
        writing: Mutex::default(),
        hosts,
        used: tokio::sync::Notify::new(),
    };
    Ok(Desk {
        state: Arc::new(state),
        listeners,
        address: format!("http://127.0.0.1:{port}/enter/{secret}"),
        room,
    })
}

/// This computer's address in the local network. Nothing is sent: a datagram socket only
/// looks which way it would go. 192.0.2.1 stands for no computer (RFC 5737).
fn in_the_room() -> io::Result<IpAddr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0))?;
    let found = socket
        .connect((Ipv4Addr::new(192, 0, 2, 1), 9))
        .and_then(|()| socket.local_addr());
    let found = found.map(|address| address.ip());
    found
        .ok()
        .filter(|ip| !ip.is_loopback() && !ip.is_unspecified())
        .ok_or_else(|| {
            io::Error::new(
                io::ErrorKind::NetworkUnreachable,
                "this computer is in no local network: leave `--share` out, or join one",
            )
        })
}

impl Desk {
    /// A new link for somebody in the room, good once; nothing where the desk is not shared.
    fn link(&self) -> Option<String> {
        let (address, right) = self.room?;
        let mut keys = self
            .state
            .keys
            .lock()
            .unwrap_or_else(PoisonError::into_inner);
        let secret = keys.link(right, Use::Once).ok()?;
        Some(format!("http://{address}/enter/{secret}"))
    }

    /// Answers until the program is told to end. `links` is told each new link for the
    /// room.
    pub(crate) fn serve(self, mut links: impl FnMut(&str)) -> io::Result<()> {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()?;
        runtime.block_on(async {
            let router = routes::all(Arc::clone(&self.state));
            let connections = Arc::new(Connections::default());
            for listener in &self.listeners {
                let listener = listener.try_clone()?;
                listener.set_nonblocking(true)?;
                let listener = TcpListener::from_std(listener)?;
                tokio::spawn(accept(listener, router.clone(), Arc::clone(&connections)));
            }
            loop {
                if let Some(link) = self.link() {
                    links(&link);
                }
                self.state.used.notified().await;
            }
        })
    }
}

async fn accept(listener: TcpListener, router: Router, connections: Arc<Connections>) {
    loop {
        match listener.accept().await {
            Ok((stream, _)) => connections.take(stream, router.clone()),
            // Out of files, for one: the next may fare better.
            Err(_) => tokio::time::sleep(Duration::from_millis(50)).await,
        }
    }
}

/// The connections that are open, the oldest first.
#[derive(Default)]
struct Connections(Mutex<VecDeque<(AbortHandle, Arc<AtomicBool>)>>);

impl Connections {
    fn take(&self, stream: TcpStream, router: Router) {
        let busy = Arc::new(AtomicBool::new(false));
        let task = tokio::spawn(converse(stream, router, Arc::clone(&busy)));
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.retain(|(task, _)| !task.is_finished());
        all.push_back((task.abort_handle(), busy));
        if all.len() > MOST {
            let idle = all
                .iter()
                .position(|(_, busy)| !busy.load(Ordering::Relaxed));
            if let Some((task, _)) = idle.and_then(|index| all.remove(index)) {
                task.abort();
            }
        }
    }
}

async fn converse(stream: TcpStream, router: Router, busy: Arc<AtomicBool>) {
    let _ = stream.set_nodelay(true);
    let service = service_fn(move |request: hyper::Request<Incoming>| {
        busy.store(true, Ordering::Relaxed);
        let (mut router, busy) = (router.clone(), Arc::clone(&busy));
        async move {
            let request: Request = request.map(axum::body::Body::new);
            let answer = tokio::time::timeout(ANSWER_WITHIN, router.call(request)).await;
            busy.store(false, Ordering::Relaxed);
            answer.unwrap_or_else(|_| Ok(late()))
        }
    });
    // A connection that breaks off is nobody's fault.
    let _ = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_WITHIN)
        .max_buf_size(LARGEST_HEAD)
        .serve_connection(TokioIo::new(stream), service)
        .await;
}

fn late() -> Response {
    trouble::plain(
        StatusCode::REQUEST_TIMEOUT,
        "This took too long",
        "try again; for many boards, use the commands",
    )
}
