use crate::briefs::{Aims, seeded};
#[test]
fn debug_one() {
    let seed: u64 = std::env::var("SEED").unwrap().parse().unwrap();
    let brief = seeded(seed, Aims::Plain).brief();
    println!("{:?} {:?}", brief.aim, brief.targets);
    println!("serve {:?} menu {:?}", brief.serve, brief.menu);
    for c in &brief.candidates {
        println!(
            "{} {:?} {:?} least {} most {:?} must {} out {} step {:?} cost {:?}",
            c.name, c.label, c.carries, c.least, c.most, c.must, c.out, c.step, c.cost_per_unit
        );
    }
    println!("{:?} {:?}", brief.choose, brief.proportions);
    println!("{:?}", crate::exact::check(&seeded(seed, Aims::Plain)));
}
#[test]
fn debug_two() {
    let brief = seeded(155, Aims::Plain).brief();
    washline::solve::debug_check(&brief, &[(2, 15.0), (4, 10.0), (5, 1.5)]);
}
