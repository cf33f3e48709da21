//! `washline live [BRIEF]`: the page on which a brief is played with, served to the browser of this machine.
//!
//! Served with axum on tokio: of the small servers the ones that are kept best (both by the tokio project), under the MIT
//! licence, on few crates, most of them read by everybody who serves anything in Rust; a handler whose browser has gone is
//! dropped by itself, which is how a search is given up. Only HTTP/1 is built in, on one thread; searches have their own.

mod desk;
mod guard;
mod lanes;
mod serve;

use std::net::{SocketAddr, TcpListener};
use std::process::{Command, Stdio};

use rand::TryRng;
use rand::rngs::SysRng;

use super::args::LiveArgs;
use super::exit::{Exit, Failure};
use super::{output, signals};
use desk::Desk;
use guard::Guard;

/// Searches at a time: one that is given up ends within a few milliseconds.
const SEARCHES: usize = 8;

/// The port where none is asked for: no other program is known to use it.
const USUAL: u16 = 8471;

/// Serves the page until it is ended.
pub fn run(args: &LiveArgs) -> Result<Exit, Failure> {
    let desk = Desk::open(args.brief.as_deref(), args.house.as_deref())?;
    let listener = listener(args).map_err(|error| taken(args, &error))?;
    let at = listener.local_addr()?;
    listener.set_nonblocking(true)?;
    let guard = Guard::new(at, secret()?, secret()?);
    output::answer(&format!("{}\n", guard.address()))?;
    output::say(&said(args, &desk));
    if !args.no_open {
        open(&guard.ticket());
    }
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .max_blocking_threads(SEARCHES)
        .on_thread_start(signals::deaf)
        .build()?;
    runtime.block_on(serve::serve(listener, desk, guard))?;
    Ok(Exit::Answered)
}

/// At the port that is asked for; else at the usual one, where the browser finds unsaved changes again, or any that is free.
fn listener(args: &LiveArgs) -> std::io::Result<TcpListener> {
    let at = |port| TcpListener::bind(SocketAddr::new(args.listen, port));
    args.port.map_or_else(|| at(USUAL).or_else(|_| at(0)), at)
}

fn taken(args: &LiveArgs, error: &std::io::Error) -> Failure {
    let port = args.port.map_or_else(String::new, |port| format!(" port {port}"));
    let what = format!("cannot listen at {}{port}: {error}", args.listen);
    Failure::placeless("cannot-listen", what, "choose another --port, or leave it out for any that is free")
}

/// What is said once, for whoever started it.
fn said(args: &LiveArgs, desk: &Desk) -> String {
    let what = desk.name().unwrap_or_else(|| "A new brief".to_owned());
    let reach = if args.listen.is_loopback() {
        "Only this machine can reach it".to_owned()
    } else {
        format!(
            "Mind: everybody who can reach {} and has the address can read and change this brief, and what is sent is not \
             encrypted",
            args.listen
        )
    };
    format!("{what} is at this address. {reach}. Nothing is written unless you save. Ctrl-C ends it.\n")
}

/// Random letters that nobody can guess: 128 bits from the system.
fn secret() -> Result<String, Failure> {
    let mut bytes = [0_u8; 16];
    SysRng.try_fill_bytes(&mut bytes).map_err(|error| std::io::Error::other(error.to_string()))?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Opens the browser of the system, if there is one. The address that other users of the machine might read off the list
/// of processes is good for one visit only.
fn open(address: &str) {
    let (program, before): (&str, &[&str]) = match std::env::consts::OS {
        "macos" => ("open", &[]),
        "windows" => ("explorer", &[]),
        _ => ("xdg-open", &[]),
    };
    let mut command = Command::new(program);
    command.args(before).arg(address).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    // Without a browser the address is there to be copied.
    let _ = command.spawn();
}
