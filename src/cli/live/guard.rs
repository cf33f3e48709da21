//! Who may ask: the page that was opened by its address, on this machine, and nobody else's page.

use std::net::{IpAddr, SocketAddr};
use std::sync::Mutex;
use std::time::{Duration, Instant};

use axum::http::{HeaderMap, Method, StatusCode, header};

/// More questions in a second than any hand asks.
const MOST_A_SECOND: u32 = 400;

/// What is asked for, once it may be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Asked {
    /// What stands behind the token.
    Path(String),
    /// A first visit, to be sent on to the address.
    Visit,
}

/// The address of the page, and what is known of its visitors.
pub struct Guard {
    at: SocketAddr,
    token: String,
    ticket: Mutex<Option<String>>,
    rate: Mutex<(Instant, u32)>,
}

/// Why nothing is answered.
pub type Refusal = (StatusCode, &'static str);

impl Guard {
    /// Of a page at this address, under a token; the ticket opens it once.
    pub fn new(at: SocketAddr, token: String, ticket: String) -> Self {
        Self { at, token, ticket: Mutex::new(Some(ticket)), rate: Mutex::new((Instant::now(), 0)) }
    }

    /// The address of the page.
    pub fn address(&self) -> String {
        format!("http://{}/{}/", self.place(), self.token)
    }

    /// The address that opens the page once.
    pub fn ticket(&self) -> String {
        let ticket = self.ticket.lock().ok().and_then(|ticket| ticket.clone()).unwrap_or_default();
        format!("http://{}/{ticket}", self.place())
    }

    /// Where a browser of this machine finds it.
    fn place(&self) -> SocketAddr {
        let ip = match self.at.ip() {
            IpAddr::V4(ip) if ip.is_unspecified() => IpAddr::from([127, 0, 0, 1]),
            IpAddr::V6(ip) if ip.is_unspecified() => IpAddr::from([0, 0, 0, 0, 0, 0, 0, 1]),
            ip => ip,
        };
        SocketAddr::new(ip, self.at.port())
    }

    /// What a request asks for.
    ///
    /// # Errors
    /// Why it is not answered.
    pub fn admit(&self, method: &Method, path: &str, headers: &HeaderMap) -> Result<Asked, Refusal> {
        if !self.in_time() {
            return Err((StatusCode::TOO_MANY_REQUESTS, "too many questions at once"));
        }
        let host = text(headers, header::HOST.as_str()).unwrap_or_default();
        // A name that somebody else's page had turned to this machine is still that name here.
        if !self.is_here(host) {
            return Err((StatusCode::MISDIRECTED_REQUEST, "this is not the address that washline printed"));
        }
        Self::same_origin(method, host, headers)?;
        let mut parts = path.trim_start_matches('/').splitn(2, '/');
        let (first, rest) = (parts.next().unwrap_or_default(), parts.next());
        match rest {
            Some(rest) if alike(first, &self.token) => Ok(Asked::Path(rest.to_owned())),
            None if *method == Method::GET && self.visits(first) => Ok(Asked::Visit),
            _ => Err((StatusCode::NOT_FOUND, "nothing is here: open the address that washline printed")),
        }
    }

    fn same_origin(method: &Method, host: &str, headers: &HeaderMap) -> Result<(), Refusal> {
        let elsewhere = (StatusCode::FORBIDDEN, "this page may not be asked from another one");
        let origin = text(headers, header::ORIGIN.as_str());
        let own = origin.is_some_and(|origin| origin.strip_prefix("http://") == Some(host));
        let site = text(headers, "sec-fetch-site");
        let near =
            site.is_none_or(|site| site == "same-origin" || (site == "none" && *method == Method::GET));
        if !near || (origin.is_some() && !own) {
            return Err(elsewhere);
        }
        if *method == Method::GET {
            return Ok(());
        }
        let json = text(headers, header::CONTENT_TYPE.as_str())
            .is_some_and(|kind| kind.starts_with("application/json"));
        // A page elsewhere can send a form without asking, but no JSON.
        match (*method == Method::POST, own, json) {
            (false, ..) => Err((StatusCode::METHOD_NOT_ALLOWED, "this is neither GET nor POST")),
            (_, false, _) => Err(elsewhere),
            (.., false) => Err((StatusCode::UNSUPPORTED_MEDIA_TYPE, "questions are JSON")),
            _ => Ok(()),
        }
    }

    /// Whether a host is this machine by its address, at this port; a machine that listens to others has addresses of its
    /// own, but no name.
    fn is_here(&self, host: &str) -> bool {
        let Some((name, port)) = host.rsplit_once(':') else { return false };
        let address = name.trim_start_matches('[').trim_end_matches(']').parse::<IpAddr>();
        let known = match address {
            Ok(address) => address == self.at.ip() || address.is_loopback() || !self.at.ip().is_loopback(),
            Err(_) => name == "localhost",
        };
        known && port.parse() == Ok(self.at.port())
    }

    /// Takes the ticket, once.
    fn visits(&self, word: &str) -> bool {
        let Ok(mut ticket) = self.ticket.lock() else { return false };
        let fits = ticket.as_ref().is_some_and(|ticket| alike(word, ticket));
        if fits {
            *ticket = None;
        }
        fits
    }

    fn in_time(&self) -> bool {
        let Ok(mut rate) = self.rate.lock() else { return false };
        if rate.0.elapsed() > Duration::from_secs(1) {
            *rate = (Instant::now(), 0);
        }
        rate.1 += 1;
        rate.1 <= MOST_A_SECOND
    }
}

fn text<'h>(headers: &'h HeaderMap, name: &str) -> Option<&'h str> {
    // A header that stands twice, or is no text, fits nothing.
    let mut all = headers.get_all(name).iter();
    let first = all.next()?;
    Some(first.to_str().ok().filter(|_| all.next().is_none()).unwrap_or("?"))
}

/// Whether two secrets are the same, in a time that does not tell where they differ.
fn alike(given: &str, secret: &str) -> bool {
    let differ = given.bytes().zip(secret.bytes()).fold(0, |all, (a, b)| all | (a ^ b));
    given.len() == secret.len() && differ == 0
}

#[cfg(test)]
mod tests {
    use axum::http::HeaderValue;

    use super::*;

    fn guard() -> Guard {
        Guard::new(SocketAddr::from(([127, 0, 0, 1], 8123)), "t0ken".to_owned(), "t1cket".to_owned())
    }

    fn admitted(guard: &Guard, path: &str) -> Result<Asked, Refusal> {
        let headers = HeaderMap::from_iter([(header::HOST, HeaderValue::from_static("127.0.0.1:8123"))]);
        guard.admit(&Method::GET, path, &headers)
    }

    #[test]
    fn a_ticket_is_good_for_one_visit() {
        let guard = guard();
        assert!(guard.ticket().ends_with("/t1cket") && guard.address().ends_with("/t0ken/"));
        assert_eq!(admitted(&guard, "/t1cket"), Ok(Asked::Visit));
        assert!(admitted(&guard, "/t1cket").is_err());
        assert_eq!(admitted(&guard, "/t0ken/live.js"), Ok(Asked::Path("live.js".to_owned())));
        assert!(admitted(&guard, "/t0ken").is_err() && admitted(&guard, "/t0kem/").is_err());
        assert!(admitted(&guard, "/").is_err());
    }

    #[test]
    fn more_than_any_hand_asks_is_refused() {
        let guard = guard();
        let refused = (0..=MOST_A_SECOND).filter(|_| admitted(&guard, "/t0ken/").is_err()).count();
        assert_eq!(refused, 1);
    }

    #[test]
    fn only_an_address_of_this_machine_is_here() {
        let loopback = guard();
        assert!(loopback.is_here("127.0.0.1:8123") && loopback.is_here("localhost:8123"));
        for host in [
            "127.0.0.1",
            "127.0.0.1:8124",
            "evil.example:8123",
            "10.0.0.3:8123",
            "localhost.evil.example:8123",
        ] {
            assert!(!loopback.is_here(host), "{host}");
        }
        let open = Guard::new(SocketAddr::from(([0, 0, 0, 0], 8123)), String::new(), String::new());
        assert!(
            open.is_here("10.0.0.3:8123") && open.is_here("[::1]:8123") && !open.is_here("bar.example:8123")
        );
        assert!(open.address().starts_with("http://127.0.0.1:8123/"));
    }
}
