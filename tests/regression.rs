//! Least squares against the certified values of NIST's Statistical Reference Datasets (`StRD`), linear regression,
//! <https://www.itl.nist.gov/div898/strd/lls/lls.shtml>: data and certified values read in public copies
//! of Norris, Longley and `NoInt1`; Wampler1's follow from its definition (y is the polynomial itself).

use washline::calibrate::regression::{Errors, Fit, Observation, Prior, fit, interval_factor};

fn observed(rows: &[(Vec<f64>, f64)]) -> Vec<Observation> {
    rows.iter().map(|(row, value)| Observation { row: row.clone(), value: *value, deviation: 1.0 }).collect()
}

fn fitted(rows: &[(Vec<f64>, f64)]) -> Fit {
    let width = rows[0].0.len();
    fit(&observed(rows), &vec![None; width], Errors::FromResiduals).expect("a fit")
}

fn near(found: f64, certified: f64, digits: i32) {
    let off = ((found - certified) / certified).abs();
    assert!(off < 10f64.powi(-digits), "{found} for {certified}: off by {off:e}");
}

#[test]
fn norris() {
    let y = [
        0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8,
        339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9,
        10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
    ];
    let x = [
        0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9,
        338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0,
        11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
    ];
    let rows: Vec<(Vec<f64>, f64)> = x.iter().zip(y).map(|(x, y)| (vec![1.0, *x], y)).collect();
    let found = fitted(&rows);
    near(found.coefficients[0], -0.262_323_073_774_029, 10);
    near(found.coefficients[1], 1.002_116_818_020_45, 13);
    near(found.errors[0], 0.232_818_234_301_152, 11);
    near(found.errors[1], 0.429_796_848_199_937e-3, 11);
    near(found.residual, 0.884_796_396_144_373, 11);
    near(found.freedom, 34.0, 14);
    near(found.leverages.iter().sum(), 2.0, 12);
    assert!(found.outliers().is_empty(), "{:?}", found.studentized);
}

/// Six economic series that nearly depend on one another: what the normal equations lose here is most digits.
#[test]
fn longley() {
    let rows: [[f64; 7]; 16] = [
        [60323.0, 83.0, 234_289.0, 2356.0, 1590.0, 107_608.0, 1947.0],
        [61122.0, 88.5, 259_426.0, 2325.0, 1456.0, 108_632.0, 1948.0],
        [60171.0, 88.2, 258_054.0, 3682.0, 1616.0, 109_773.0, 1949.0],
        [61187.0, 89.5, 284_599.0, 3351.0, 1650.0, 110_929.0, 1950.0],
        [63221.0, 96.2, 328_975.0, 2099.0, 3099.0, 112_075.0, 1951.0],
        [63639.0, 98.1, 346_999.0, 1932.0, 3594.0, 113_270.0, 1952.0],
        [64989.0, 99.0, 365_385.0, 1870.0, 3547.0, 115_094.0, 1953.0],
        [63761.0, 100.0, 363_112.0, 3578.0, 3350.0, 116_219.0, 1954.0],
        [66019.0, 101.2, 397_469.0, 2904.0, 3048.0, 117_388.0, 1955.0],
        [67857.0, 104.6, 419_180.0, 2822.0, 2857.0, 118_734.0, 1956.0],
        [68169.0, 108.4, 442_769.0, 2936.0, 2798.0, 120_445.0, 1957.0],
        [66513.0, 110.8, 444_546.0, 4681.0, 2637.0, 121_950.0, 1958.0],
        [68655.0, 112.6, 482_704.0, 3813.0, 2552.0, 123_366.0, 1959.0],
        [69564.0, 114.2, 502_601.0, 3931.0, 2514.0, 125_368.0, 1960.0],
        [69331.0, 115.7, 518_173.0, 4806.0, 2572.0, 127_852.0, 1961.0],
        [70551.0, 116.9, 554_894.0, 4007.0, 2827.0, 130_081.0, 1962.0],
    ];
    let rows: Vec<(Vec<f64>, f64)> = rows.iter().map(|row| ([&[1.0], &row[1..]].concat(), row[0])).collect();
    let found = fitted(&rows);
    let certified = [
        (-3_482_258.634_595_82, 890_420.383_607_373),
        (15.061_872_271_373_3, 84.914_925_774_766_9),
        (-0.358_191_792_925_910e-1, 0.334_910_077_722_432e-1),
        (-2.020_229_803_816_83, 0.488_399_681_651_699),
        (-1.033_226_867_173_59, 0.214_274_163_161_675),
        (-0.511_041_056_535_807e-1, 0.226_073_200_069_370),
        (1_829.151_464_613_55, 455.478_499_142_212),
    ];
    for (at, (value, error)) in certified.into_iter().enumerate() {
        near(found.coefficients[at], value, 8);
        near(found.errors[at], error, 8);
    }
    near(found.residual, 304.854_073_561_965, 9);
}

#[test]
fn a_line_through_the_origin() {
    let rows: Vec<(Vec<f64>, f64)> =
        (0..11).map(|at| (vec![60.0 + f64::from(at)], 130.0 + f64::from(at))).collect();
    let found = fitted(&rows);
    near(found.coefficients[0], 2.074_380_165_289_26, 13);
    near(found.errors[0], 0.165_289_256_198_347e-1, 12);
    near(found.residual, 3.567_530_340_063_38, 12);
}

/// Wampler1: y = 1 + x + … + x⁵ for x from 0 to 20; every coefficient is 1, nothing is left over.
#[test]
fn a_polynomial_of_degree_five() {
    let powers = |x: f64| (0..6).map(|power| x.powi(power)).collect::<Vec<f64>>();
    let rows: Vec<(Vec<f64>, f64)> =
        (0..21).map(|x| (powers(f64::from(x)), powers(f64::from(x)).iter().sum())).collect();
    fitted(&rows).coefficients.iter().for_each(|one| near(*one, 1.0, 7));
}

/// Two sources of one figure with known errors: the mean weighted by 1/σ², and 1/√(Σ 1/σ²) (a pencil).
#[test]
fn a_prior_counts_as_one_more_measurement() {
    let seen = [Observation { row: vec![1.0], value: 60.0, deviation: 3.0 }];
    let prior = Prior { mean: 50.0, deviation: 4.0 };
    let found = fit(&seen, &[Some(prior)], Errors::Known).expect("a fit");
    near(found.coefficients[0], (60.0 * 16.0 + 50.0 * 9.0) / 25.0, 12);
    near(found.errors[0], 12.0 / 5.0, 12);
}

#[test]
fn what_does_not_determine_the_figures_is_told_by_none() {
    let twice: Vec<(Vec<f64>, f64)> = (0..5).map(|x| (vec![f64::from(x), 2.0 * f64::from(x)], 1.0)).collect();
    assert!(fit(&observed(&twice), &[None, None], Errors::FromResiduals).is_none());
    assert!(fit(&observed(&twice[..1]), &[None, None], Errors::FromResiduals).is_none());
    assert!(fit(&[], &[], Errors::Known).is_none());
}

/// One of ten is three times what the others are: it is named, and nothing else is.
#[test]
fn one_that_is_far_off_is_named() {
    let values = [10.1, 9.9, 10.0, 10.2, 9.8, 10.1, 30.0, 9.9, 10.0, 10.1];
    let rows: Vec<(Vec<f64>, f64)> = values.iter().map(|v| (vec![1.0], *v)).collect();
    assert_eq!(fitted(&rows).outliers(), [6]);
}

/// Student's t, 97.5 %: 12.706 at 1, 2.228 at 10, 1.960 without end (any printed table).
#[test]
fn intervals_are_students() {
    for (freedom, factor) in [(1.0, 12.706), (10.0, 2.228), (34.0, 2.032)] {
        assert!((interval_factor(Some(freedom)) - factor).abs() < 5e-4);
    }
    assert!((interval_factor(None) - 1.960).abs() < 5e-4);
}
