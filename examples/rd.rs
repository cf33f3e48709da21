fn main() {
    let b = std::fs::read(std::env::args().nth(1).unwrap()).unwrap();
    let t = std::time::Instant::now();
    let r = washline::read::read(&b, &[]);
    println!(
        "{:?} {:?}",
        t.elapsed(),
        r.map(|r| r.warnings.len()).map_err(|e| (e.len(), e.into_iter().next()))
    );
    let t = std::time::Instant::now();
    let r = washline::read::read(&b, &[]);
    println!("again {:?} {}", t.elapsed(), r.is_ok());
}
