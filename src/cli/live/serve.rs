//! Questions in, answers out: what may be asked, how large it may be, and with which headers it is answered.

use std::future::{Future, IntoFuture};
use std::io;
use std::net::TcpListener;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::{Request, State};
use axum::http::{HeaderValue, Method, Response, StatusCode, header};

use super::desk::Desk;
use super::guard::{Asked, Guard, Refusal};
use super::lanes::{Kind, Lanes, Turn};
use crate::live::{self, Along, Ask, Begin, Find, OnDisk, Reply, Told, Trial, Try, received, sent};
use crate::read::MOST_BYTES;
use crate::render::html::live::{Depth, SCRIPT, offers, shell, style};

/// A question holds at most two texts of a brief, whose marks may be escaped.
const MOST: usize = 3 * MOST_BYTES;
/// Who sends slower than this is let go.
const PATIENCE: Duration = Duration::from_secs(10);

/// What a page may do: take its own script and style, ask its own server, and nothing else.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src data:; \
                      base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// What is sent with every answer.
const HEADERS: [(&str, &str); 7] = [
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cache-control", "no-store"),
];

/// What every question is answered from.
struct House {
    desk: Desk,
    guard: Guard,
    lanes: Lanes,
}

type Answer = Response<Body>;

/// Serves until the process ends.
pub async fn serve(listener: TcpListener, desk: Desk, guard: Guard) -> io::Result<()> {
    let listener = tokio::net::TcpListener::from_std(listener)?;
    let house = Arc::new(House { desk, guard, lanes: Lanes::default() });
    axum::serve(listener, Router::new().fallback(answered).with_state(house)).into_future().await
}

async fn answered(State(house): State<Arc<House>>, request: Request) -> Answer {
    let (parts, body) = request.into_parts();
    let path = match house.guard.admit(&parts.method, parts.uri.path(), &parts.headers) {
        Ok(Asked::Path(path)) => path,
        Ok(Asked::Visit) => return sent_on(&house.guard.address()),
        Err(refusal) => return refused(refusal),
    };
    if parts.method == Method::GET {
        return page(&house, &path);
    }
    let bytes = match tokio::time::timeout(PATIENCE, to_bytes(body, MOST)).await {
        Ok(Ok(bytes)) => bytes,
        Ok(Err(_)) => return refused((StatusCode::PAYLOAD_TOO_LARGE, "this is too large for a brief")),
        Err(_) => return refused((StatusCode::REQUEST_TIMEOUT, "this came too slowly")),
    };
    asked(house, &path, &bytes).await.unwrap_or_else(refused)
}

/// The page, its script, its style.
fn page(house: &House, path: &str) -> Answer {
    match path {
        "" => written("text/html; charset=utf-8", shell(house.desk.name().as_deref())),
        "live.js" => written("text/javascript; charset=utf-8", SCRIPT.to_owned()),
        "live.css" => written("text/css; charset=utf-8", style()),
        _ => refused((StatusCode::NOT_FOUND, "nothing is here")),
    }
}

const NOT_READ: Refusal = (StatusCode::BAD_REQUEST, "this question cannot be read");
/// A newer question was asked meanwhile: nothing comes of this one, and nothing is wrong.
const OLDER: Refusal = (StatusCode::NO_CONTENT, "");

async fn asked(house: Arc<House>, path: &str, bytes: &[u8]) -> Result<Answer, Refusal> {
    match path {
        "glass" => drink(house, received(bytes).ok_or(NOT_READ)?, Kind::Glass).await,
        "others" => drink(house, received(bytes).ok_or(NOT_READ)?, Kind::Others).await,
        "reasons" => drink(house, received(bytes).ok_or(NOT_READ)?, Kind::Reasons).await,
        "along" => {
            let ask: Along = received(bytes).ok_or(NOT_READ)?;
            let turn = house.lanes.begin(&ask.tab, Kind::Along, None).ok_or(OLDER)?;
            work(turn, move |stop| {
                let beside = house.desk.beside(&ask.text)?;
                live::along(&ask, &beside, stop)
            })
            .await
            .map(|found| json(sent(&found.unwrap_or_default())))
        }
        "tries" => {
            let ask: Try = received(bytes).ok_or(NOT_READ)?;
            let turn = house.lanes.begin(&ask.tab, Kind::Tries, None).ok_or(OLDER)?;
            let tried = work(turn, move |stop| match house.desk.beside(&ask.text) {
                Ok(beside) => live::tries(&ask, &beside, stop),
                Err(findings) => Trial { findings, ..Trial::default() },
            });
            tried.await.map(|found| json(sent(&found)))
        }
        "report" => {
            let ask: Ask = received(bytes).ok_or(NOT_READ)?;
            let turn = house.lanes.begin(&ask.tab, Kind::Tries, None).ok_or(OLDER)?;
            work(turn, move |stop| {
                let beside = house.desk.beside(&ask.text)?;
                live::report(&ask.text, &beside, &house.desk.imprint(&ask.text), stop)
            })
            .await
            .map(|page| json(sent(&on_page(page, |html| OnDisk { html, ..OnDisk::default() }))))
        }
        "find" => {
            let find: Find = received(bytes).ok_or(NOT_READ)?;
            let found = live::found(&find.words, &house.desk.house().0);
            Ok(json(sent(&OnDisk { html: offers(&found).into_string(), ..OnDisk::default() })))
        }
        "begin" => {
            let begin: Begin = received(bytes).ok_or(NOT_READ)?;
            let (beside, path) = house.desk.house();
            let begun = live::begun(&begin, &beside, path.as_deref());
            Ok(json(sent(&on_page(begun, |text| OnDisk { text, ..OnDisk::default() }))))
        }
        "disk" => Ok(json(sent(&house.desk.on_disk()))),
        // Written on the thread that takes signals, so that they wait.
        "save" => Ok(json(sent(&house.desk.save(&received(bytes).ok_or(NOT_READ)?)))),
        _ => Err((StatusCode::NOT_FOUND, "nothing is here")),
    }
}

/// What is asked of the drink, as deep as is asked.
async fn drink(house: Arc<House>, ask: Ask, kind: Kind) -> Result<Answer, Refusal> {
    let depth = match kind {
        Kind::Glass => Depth::Glass,
        Kind::Reasons => Depth::Reasons,
        _ => Depth::Others,
    };
    let turn = house.lanes.begin(&ask.tab, kind, Some(ask.seq)).ok_or(OLDER)?;
    let said = work(turn, move |stop| match house.desk.beside(text_of(&ask)) {
        Ok(beside) => live::answer(&ask, &beside, depth, stop),
        Err(findings) => Reply { seq: ask.seq, text: ask.text.clone(), findings, ..Reply::default() },
    });
    said.await.map(|reply| json(sent(&reply)))
}

/// The text whose house counts: one that is typed anew names its own.
fn text_of(ask: &Ask) -> &str {
    ask.edits.iter().rev().find_map(live::Play::whole).unwrap_or(&ask.text)
}

fn on_page(made: Result<String, Vec<Told>>, page: impl Fn(String) -> OnDisk) -> OnDisk {
    match made {
        Ok(made) => OnDisk { written: true, ..page(made) },
        Err(findings) => OnDisk { findings, ..OnDisk::default() },
    }
}

/// Works on a thread of its own; what was given up meanwhile has no answer.
fn work<T: Send + 'static>(
    turn: Turn,
    task: impl FnOnce(&crate::solve::Stop) -> T + Send + 'static,
) -> impl Future<Output = Result<T, Refusal>> {
    let stop = Arc::clone(&turn.stop);
    async move {
        let inner = Arc::clone(&stop);
        let done = tokio::task::spawn_blocking(move || task(&inner)).await;
        let older = stop.raised();
        drop(turn);
        match done {
            Ok(_) if older => Err(OLDER),
            Ok(done) => Ok(done),
            Err(_) => Err((StatusCode::INTERNAL_SERVER_ERROR, "a fault of the program, not of the brief")),
        }
    }
}

fn json(answer: String) -> Answer {
    written("application/json", answer)
}

fn written(kind: &'static str, text: String) -> Answer {
    let mut answer = Response::new(Body::from(text));
    answer.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static(kind));
    for (name, value) in HEADERS {
        answer.headers_mut().insert(name, HeaderValue::from_static(value));
    }
    answer
}

fn refused((status, why): Refusal) -> Answer {
    let why = if why.is_empty() { String::new() } else { format!("{why}\n") };
    let mut answer = written("text/plain; charset=utf-8", why);
    *answer.status_mut() = status;
    answer
}

/// The ticket is used up: from here on the address counts.
fn sent_on(address: &str) -> Answer {
    let mut answer = refused((StatusCode::SEE_OTHER, "the page is at the address that was printed"));
    if let Ok(place) = HeaderValue::from_str(address) {
        answer.headers_mut().insert(header::LOCATION, place);
    }
    answer
}
