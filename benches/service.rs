//! How long 20,000 serves of a spec take to draw and to measure, and all that is said of them.

use std::hint::black_box;
use std::num::NonZeroUsize;
use std::time::Duration;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use washline::explain::variation::service_on;
use washline::read::read;
use washline::solve::{Stop, solve};

/// Specs of four to six ingredients.
const DEMOS: [(&str, &str); 3] = [
    ("low-strength", include_str!("../problems-demo/low-strength.toml")),
    ("stirred-budget", include_str!("../problems-demo/stirred-budget.toml")),
    ("caffeine-free", include_str!("../problems-demo/caffeine-free.toml")),
];

fn service(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("service");
    group.sample_size(20).warm_up_time(Duration::from_millis(500)).measurement_time(Duration::from_secs(2));
    for (name, text) in DEMOS {
        let brief = read(text.as_bytes(), &[]).expect("a sound brief").brief;
        let best = solve(&brief, &Stop::default()).specs.remove(0);
        for threads in [1, 2] {
            let threads = NonZeroUsize::new(threads).expect("some");
            group.bench_function(BenchmarkId::new(name, threads), |bencher| {
                bencher.iter(|| black_box(service_on(&brief, &best.pours, threads)));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, service);
criterion_main!(benches);
