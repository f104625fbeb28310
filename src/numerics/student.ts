/** 95 % quantile of Student's t by degrees of freedom, 1 to 20. Source: common tables (from memory); test/numerics checks it against the distribution. */
const T95 = [6.314, 2.92, 2.353, 2.132, 2.015, 1.943, 1.895, 1.86, 1.833, 1.812, 1.796, 1.782, 1.771, 1.761, 1.753, 1.746, 1.74, 1.734, 1.729, 1.725];

/** So many standard deviations each way hold 90 %: Student's t for degrees of freedom 1 and up, beyond 20 the normal distribution's 1.645 and a little more. */
export const student90 = (freedom: number): number => T95[freedom - 1] ?? 1.645 + 1.6 / freedom;
