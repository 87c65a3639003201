//! Published data sets with certified values, which the statistics here are held against: the Statistical
//! Reference Datasets of the National Institute of Standards and Technology (NIST StRD).

/// NIST StRD, Michelso: Michelson's hundred measurements of the speed of light in air. In
/// thousands of km/s it is 299 and so many hundredths.
pub(crate) const MICHELSO: [u16; 100] = [
    85, 74, 90, 107, 93, 85, 95, 98, 98, 88, 100, 98, 93, 65, 76, 81, 100, 100, 96, 96, 96, 94, 96,
    94, 88, 80, 85, 88, 90, 84, 83, 79, 81, 88, 88, 83, 80, 79, 76, 80, 88, 88, 88, 86, 72, 72, 62,
    86, 97, 95, 88, 91, 85, 87, 84, 84, 85, 84, 84, 84, 89, 81, 81, 82, 80, 77, 76, 74, 75, 76, 91,
    92, 89, 86, 88, 72, 84, 85, 85, 78, 89, 84, 78, 81, 76, 81, 79, 81, 82, 85, 87, 87, 81, 74, 81,
    94, 95, 80, 81, 87,
];
/// Its certified mean.
pub(crate) const MICHELSO_MEAN: f64 = 299.852_4;
/// Its certified standard deviation, of one measurement.
pub(crate) const MICHELSO_DEVIATION: f64 = 0.079_010_547_819_051_8;

/// NIST StRD, NumAcc3: 1000000.2, and then by turns 1000000.1 and 1000000.3, 1001 in all. Certified: a
/// mean of 1000000.2 and a standard deviation of 0.1.
pub(crate) fn num_acc_3() -> Vec<f64> {
    let rest = (0..1000).map(|n| if n % 2 == 0 { 1_000_000.1 } else { 1_000_000.3 });
    std::iter::once(1_000_000.2).chain(rest).collect()
}

/// NIST StRD, Norris: the calibration of ozone monitors, y and x.
pub(crate) const NORRIS: [(f64, f64); 36] = [
    (0.1, 0.2),
    (338.8, 337.4),
    (118.1, 118.2),
    (888.0, 884.6),
    (9.2, 10.1),
    (228.1, 226.5),
    (668.5, 666.3),
    (998.5, 996.3),
    (449.1, 448.6),
    (778.9, 777.0),
    (559.2, 558.2),
    (0.3, 0.4),
    (0.1, 0.6),
    (778.1, 775.5),
    (668.8, 666.9),
    (339.3, 338.0),
    (448.9, 447.5),
    (10.8, 11.6),
    (557.7, 556.0),
    (228.3, 228.1),
    (998.0, 995.8),
    (888.8, 887.6),
    (119.6, 120.2),
    (0.3, 0.3),
    (0.6, 0.3),
    (557.6, 556.8),
    (339.3, 339.1),
    (888.0, 887.2),
    (998.5, 999.0),
    (778.9, 779.0),
    (10.2, 11.1),
    (117.6, 118.3),
    (228.9, 229.2),
    (668.4, 669.1),
    (449.2, 448.9),
    (0.2, 0.5),
];
/// Its certified intercept and slope.
pub(crate) const NORRIS_LINE: [f64; 2] = [-0.262_323_073_774_029, 1.002_116_818_020_45];
/// Their certified standard deviations.
pub(crate) const NORRIS_DEVIATIONS: [f64; 2] = [0.232_818_234_301_152, 0.000_429_796_848_199_937];
/// The certified residual sum of squares, with 34 degrees of freedom.
pub(crate) const NORRIS_REST: f64 = 26.617_398_529_422_4;

/// NIST StRD, Misra1a: monomolecular adsorption in a dental study, y and x; y = b₁ (1 − exp(−b₂ x)).
pub(crate) const MISRA1A: [(f64, f64); 14] = [
    (10.07, 77.6),
    (14.73, 114.9),
    (17.94, 141.1),
    (23.93, 190.8),
    (29.61, 239.9),
    (35.18, 289.0),
    (40.02, 332.8),
    (44.82, 378.4),
    (50.76, 434.8),
    (55.05, 477.3),
    (61.01, 536.8),
    (66.4, 593.1),
    (75.47, 689.1),
    (81.78, 760.0),
];
/// Its certified b₁ and b₂.
pub(crate) const MISRA1A_CURVE: [f64; 2] = [238.942_129_18, 5.501_564_318_1e-4];
/// Their certified standard deviations.
pub(crate) const MISRA1A_DEVIATIONS: [f64; 2] = [2.707_007_524_1, 7.266_868_843_6e-6];
/// The certified residual sum of squares, with 12 degrees of freedom.
pub(crate) const MISRA1A_REST: f64 = 0.124_551_388_94;
