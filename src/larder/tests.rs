use super::*;
#[test]
fn parses() {
    assert!(all().len() >= 130);
    for e in all() {
        e.label.portion().unwrap_or_else(|f| panic!("{}: {f:?}", e.name));
    }
}
#[test]
fn timing() {
    let t = std::time::Instant::now();
    for _ in 0..20 {
        file::parse(file::TEXT).unwrap();
    }
    eprintln!("{:?}", t.elapsed() / 20);
}
