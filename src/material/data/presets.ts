import type { PresetId } from '../../bag/index.ts';

/**
 * One row per built-in material that is no other one in a different weight (what each rests on: preset-notes.ts), in the units of its sources:
 * g/m2, mm, uN m (1e-6 N m), N/m. Each band is low / mid / high.
 * bendingUNm is cantilever-equivalent flexural rigidity per width, geometric mean of warp and weft, or what `meaning` says.
 * Every band is an ESTIMATE unless its status says published (both ends read in a named work, no unit inferred); none may gate a test. Facts behind the bands:
 * over 251 distinct cantilever-tested fabrics (Feng et al. 2022) B = 13.2 uN m (m/200 g/m2)^1.22 with one-sigma factor 2.29; bending
 * length 9.1 / 13.1 / 18.9 / 26.4 / 32.9 mm at the 1/10/50/90/99th percentile; stiffer over softer direction 1.08/1.67/3.74
 * (p10/50/90); B at 45 deg is 0.96 of the geometric mean (median). In-plane and bending stiffness of cloth are independent inputs: B
 * is not E t^3/12 of the low-load modulus. The slope of a pure-bending tester and cantilever B differ (friction): a 41.5 deg cantilever reads up to 1.7-2.8 x
 * that slope for cottons. A tenfold band in B is only x2.15 in bending length: a home cantilever test beats every estimate here.
 * Fused stacks: no readable measured triple was found; use a bond efficiency between the loose sum (0) and laminate theory (1),
 * default 0.5, labelled an estimate, fixed by a cantilever test of the fused strip. Wang 2011 files belong to a hinge model with E =
 * ke l2/(2(A1+A2)) theta2/4, so B = ke/4 (inferred).
 */
export interface PresetRow {
  readonly arealGsm: Row3;
  readonly thicknessMm: Row3;
  readonly bendingUNm: Row3;
  readonly stiffOverSoft: Row3 | null;
  readonly shear: Row3 | null;
  readonly inPlane: Row3;
  /** Left out: a plain estimate. */ readonly status?: string;
}
type Row3 = readonly [number, number, number];

export const PRESET_ROWS = {
  lawn: { arealGsm: [60, 75, 100], thicknessMm: [0.13, 0.17, 0.21], bendingUNm: [1.4, 3.5, 10], stiffOverSoft: [1.1, 1.7, 3.7], shear: [100, 190, 400], inPlane: [1500, 3500, 6000],
    status: "estimate, band from published statistics" },
  muslin: { arealGsm: [110, 140, 170], thicknessMm: [0.25, 0.3, 0.38], bendingUNm: [3, 10, 30], stiffOverSoft: [1.1, 1.7, 3.7], shear: [100, 200, 400], inPlane: [1500, 4000, 8000],
    status: "estimate, band from published statistics" },
  poplin: { arealGsm: [110, 120, 140], thicknessMm: [0.2, 0.24, 0.28], bendingUNm: [3, 10, 30], stiffOverSoft: [1.1, 1.7, 3.7], shear: [100, 190, 400], inPlane: [2800, 3600, 4500],
    status: "estimate, bracketed by published values" },
  quilting: { arealGsm: [130, 145, 160], thicknessMm: [0.25, 0.28, 0.33], bendingUNm: [3.5, 11, 28], stiffOverSoft: [1.1, 1.7, 3.7], shear: [100, 200, 400], inPlane: [3000, 4500, 6500],
    status: "estimate, band from published statistics" },
  canvas8: { arealGsm: [258, 271, 285], thicknessMm: [0.43, 0.49, 0.56], bendingUNm: [13, 38, 150], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 400, 976], inPlane: [2600, 5400, 9800],
    status: "estimate, band from published statistics and bounds" },
  canvas10: { arealGsm: [322, 339, 356], thicknessMm: [0.54, 0.61, 0.7], bendingUNm: [18, 55, 220], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 400, 1221], inPlane: [3300, 6800, 12200],
    status: "estimate, band from published statistics and bounds" },
  canvas12: { arealGsm: [387, 407, 427], thicknessMm: [0.65, 0.73, 0.84], bendingUNm: [24, 73, 290], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 400, 1465], inPlane: [3900, 8100, 14600],
    status: "estimate, band from published statistics and bounds" },
  duck10: { arealGsm: [474, 499, 524], thicknessMm: [0.79, 0.9, 1.03], bendingUNm: [34, 100, 410], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 400, 1797], inPlane: [4800, 10000, 18000],
    status: "estimate, band from published statistics and bounds" },
  canvas16: { arealGsm: [515, 542, 570], thicknessMm: [0.86, 0.98, 1.12], bendingUNm: [39, 120, 460], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 400, 1953], inPlane: [5300, 10800, 19500],
    status: "estimate, band from published statistics and bounds" },
  duck8: { arealGsm: [580, 610, 641], thicknessMm: [0.97, 1.1, 1.26], bendingUNm: [47, 140, 560], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 400, 2197], inPlane: [5900, 12200, 22000],
    status: "estimate, band from published statistics and bounds" },
  canvas24: { arealGsm: [773, 814, 854], thicknessMm: [1.29, 1.47, 1.69], bendingUNm: [74, 220, 890], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 400, 2929], inPlane: [7900, 16300, 29300],
    status: "estimate, band from published statistics and bounds" },
  waxed10: { arealGsm: [366, 393, 424], thicknessMm: [0.55, 0.62, 0.72], bendingUNm: [30, 110, 400], stiffOverSoft: [1.1, 1.7, 3.7], shear: [200, 800, 2000], inPlane: [3300, 6800, 12000] },
  denim11: { arealGsm: [300, 324, 407], thicknessMm: [0.5, 0.56, 0.68], bendingUNm: [16, 32, 80], stiffOverSoft: [1.2, 1.5, 2], shear: [84, 150, 1616], inPlane: [3200, 4500, 6000],
    status: "estimate: low to mid from published values, high end inferred" },
  denim14raw: { arealGsm: [450, 475, 500], thicknessMm: [0.72, 0.78, 0.86], bendingUNm: [50, 120, 400], stiffOverSoft: [1.2, 1.6, 2.5], shear: [150, 400, 1900], inPlane: [4000, 6000, 9000] },
  uphfabric: { arealGsm: [350, 420, 550], thicknessMm: [0.7, 0.9, 1.2], bendingUNm: [10, 35, 200], stiffOverSoft: [1.1, 1.7, 3.7], shear: [85, 300, 1500], inPlane: [3000, 6000, 15000],
    status: "estimate, band from published statistics" },
  lamb: { arealGsm: [352, 496, 672], thicknessMm: [0.64, 0.8, 0.96], bendingUNm: [110, 150, 260], stiffOverSoft: [1, 1.2, 2], shear: [910, 2430, 7600], inPlane: [2400, 6400, 20000],
    status: "estimate: published values, their unit inferred" },
  upholstery: { arealGsm: [585, 825, 1105], thicknessMm: [0.9, 1.1, 1.3], bendingUNm: [330, 670, 1300], stiffOverSoft: [1, 1.2, 2], shear: [1670, 5020, 14630], inPlane: [4400, 13200, 38500] },
  suede: { arealGsm: [495, 780, 1125], thicknessMm: [0.9, 1.2, 1.5], bendingUNm: [290, 580, 1400], stiffOverSoft: [1, 1.2, 2], shear: [1370, 4560, 13680], inPlane: [3600, 12000, 36000] },
  chrome16: { arealGsm: [980, 1248, 1530], thicknessMm: [1.4, 1.6, 1.8], bendingUNm: [1400, 3100, 8500], stiffOverSoft: [1, 1.2, 2], shear: [3650, 12160, 36480], inPlane: [9600, 32000, 96000],
    status: "estimate under a published ceiling" },
  chrome20: { arealGsm: [1260, 1560, 1870], thicknessMm: [1.8, 2, 2.2], bendingUNm: [2700, 6000, 17000], stiffOverSoft: [1, 1.2, 2], shear: [4560, 15200, 45600], inPlane: [12000, 40000, 120000],
    status: "estimate under a published ceiling" },
  veg12: { arealGsm: [850, 1140, 1470], thicknessMm: [1, 1.2, 1.4], bendingUNm: [2900, 6500, 16000], stiffOverSoft: [1, 1.2, 2], shear: [13680, 36480, 91200], inPlane: [36000, 96000, 240000] },
  veg20: { arealGsm: [1530, 1900, 2310], thicknessMm: [1.8, 2, 2.2], bendingUNm: [13000, 30000, 73000], stiffOverSoft: [1, 1.2, 2], shear: [22800, 60800, 152000], inPlane: [60000, 160000, 400000] },
  veg32: { arealGsm: [2550, 3040, 3570], thicknessMm: [3, 3.2, 3.4], bendingUNm: [55000, 120000, 300000], stiffOverSoft: [1, 1.2, 2], shear: [36480, 97280, 243200], inPlane: [96000, 256000, 640000] },
  fus_light: { arealGsm: [25, 30, 40], thicknessMm: [0.15, 0.2, 0.25], bendingUNm: [1, 5, 25], stiffOverSoft: [1.1, 2, 4], shear: [500, 2000, 4000], inPlane: [2000, 6000, 15000] },
  fus_heavy: { arealGsm: [60, 80, 100], thicknessMm: [0.3, 0.45, 0.6], bendingUNm: [10, 40, 200], stiffOverSoft: [1.1, 2, 3], shear: [2000, 6000, 12000], inPlane: [6000, 20000, 40000] },
  fus_woven: { arealGsm: [70, 100, 130], thicknessMm: [0.2, 0.27, 0.35], bendingUNm: [3, 9, 35], stiffOverSoft: [1.1, 1.7, 3], shear: [100, 300, 1000], inPlane: [2000, 4000, 7000],
    status: "estimate, band from published statistics" },
  fus_knit: { arealGsm: [50, 60, 70], thicknessMm: [0.2, 0.28, 0.38], bendingUNm: [0.5, 1.5, 6], stiffOverSoft: [1.1, 2, 4], shear: [30, 80, 250], inPlane: [80, 250, 1000] },
  sewin: { arealGsm: [150, 200, 250], thicknessMm: [0.4, 0.5, 0.6], bendingUNm: [20, 80, 300], stiffOverSoft: [1.5, 3, 8], shear: [85, 300, 800], inPlane: [2000, 5000, 9000] },
  fleece: { arealGsm: [90, 120, 150], thicknessMm: [1.5, 2.5, 4], bendingUNm: [5, 30, 150], stiffOverSoft: [1, 1.3, 2], shear: [100, 400, 1500], inPlane: [400, 1500, 4000] },
  foam: { arealGsm: [150, 200, 260], thicknessMm: [4, 5, 6], bendingUNm: [300, 1500, 10000], stiffOverSoft: [1, 1.2, 1.5], shear: [200, 1000, 4000], inPlane: [500, 4000, 15000] },
  pefoam: { arealGsm: [80, 100, 150], thicknessMm: [2.5, 3, 3.5], bendingUNm: [700, 2200, 5500], stiffOverSoft: [1, 1.1, 1.5], shear: [300, 1000, 2500], inPlane: [900, 3000, 7500] },
  nwboard: { arealGsm: [250, 350, 450], thicknessMm: [1, 1.4, 1.8], bendingUNm: [1700, 9000, 50000], stiffOverSoft: [1, 1.3, 2], shear: [8000, 20000, 60000], inPlane: [20000, 56000, 180000] },
  leatherboard: { arealGsm: [1000, 1150, 1250], thicknessMm: [1.1, 1.2, 1.3], bendingUNm: [22000, 43000, 115000], stiffOverSoft: [1, 1.2, 1.6], shear: [70000, 140000, 370000], inPlane: [180000, 360000, 960000],
    status: "estimate under a published analogue" },
  fibreboard1: { arealGsm: [700, 850, 1000], thicknessMm: [0.95, 1, 1.05], bendingUNm: [25000, 67000, 167000], stiffOverSoft: [1, 1.3, 1.8], shear: [115000, 310000, 770000], inPlane: [300000, 800000, 2000000] },
  "pp0.5": { arealGsm: [450, 452, 455], thicknessMm: [0.475, 0.5, 0.525], bendingUNm: [12000, 15000, 18000], stiffOverSoft: [1, 1.1, 1.3], shear: [206000, 255000, 303000], inPlane: [585000, 725000, 860000],
    status: "published modulus, B computed" },
  "pp0.8": { arealGsm: [720, 724, 728], thicknessMm: [0.76, 0.8, 0.84], bendingUNm: [50000, 62000, 73000], stiffOverSoft: [1, 1.1, 1.3], shear: [330000, 408000, 485000], inPlane: [936000, 1160000, 1376000],
    status: "published modulus, B computed" },
  pp1: { arealGsm: [900, 905, 910], thicknessMm: [0.95, 1, 1.05], bendingUNm: [98000, 120000, 140000], stiffOverSoft: [1, 1.1, 1.3], shear: [412000, 511000, 606000], inPlane: [1170000, 1450000, 1720000],
    status: "published modulus, B computed" },
  "pp1.5": { arealGsm: [1350, 1358, 1365], thicknessMm: [1.425, 1.5, 1.575], bendingUNm: [330000, 410000, 480000], stiffOverSoft: [1, 1.1, 1.3], shear: [618000, 766000, 908000], inPlane: [1755000, 2175000, 2580000],
    status: "published modulus, B computed" },
  ldpe1: { arealGsm: [912, 920, 925], thicknessMm: [0.95, 1, 1.05], bendingUNm: [5800, 11500, 17300], stiffOverSoft: [1, 1.1, 1.3], shear: [24000, 48000, 72000], inPlane: [69000, 138000, 207000],
    status: "estimate: second-hand modulus, B computed" },
  hdpe1: { arealGsm: [940, 955, 970], thicknessMm: [0.95, 1, 1.05], bendingUNm: [58000, 83000, 117000], stiffOverSoft: [1, 1.1, 1.3], shear: [250000, 350000, 490000], inPlane: [700000, 1000000, 1400000] },
  vinyl: { arealGsm: [550, 650, 800], thicknessMm: [0.9, 1, 1.2], bendingUNm: [250, 670, 2100], stiffOverSoft: [1, 1.3, 2], shear: [1200, 3800, 15000], inPlane: [3000, 10000, 40000] },
  coatedcotton: { arealGsm: [190, 230, 280], thicknessMm: [0.24, 0.28, 0.34], bendingUNm: [15, 40, 120], stiffOverSoft: [1.1, 1.6, 3], shear: [400, 1200, 3000], inPlane: [2500, 5000, 9000] },
  packcloth: { arealGsm: [210, 250, 320], thicknessMm: [0.3, 0.36, 0.45], bendingUNm: [15, 45, 150], stiffOverSoft: [1.1, 1.5, 2.5], shear: [400, 1200, 4000], inPlane: [5000, 12000, 30000] },
  cork: { arealGsm: [260, 330, 420], thicknessMm: [0.55, 0.7, 0.9], bendingUNm: [90, 360, 1200], stiffOverSoft: [1, 1.2, 1.8], shear: [2000, 5000, 12000], inPlane: [5000, 14000, 30000] },
  felt2: { arealGsm: [300, 400, 560], thicknessMm: [1.8, 2, 2.2], bendingUNm: [330, 1000, 3300], stiffOverSoft: [1, 1.3, 2], shear: [770, 3100, 11500], inPlane: [2000, 8000, 30000] },
  neoprene2: { arealGsm: [400, 500, 600], thicknessMm: [1.8, 2, 2.3], bendingUNm: [170, 420, 1250], stiffOverSoft: [1, 1.2, 1.6], shear: [170, 380, 1100], inPlane: [400, 900, 2600] },
  neoprene4: { arealGsm: [750, 900, 1050], thicknessMm: [3.6, 4, 4.4], bendingUNm: [1100, 2600, 7500], stiffOverSoft: [1, 1.2, 1.6], shear: [290, 620, 1750], inPlane: [700, 1500, 4200] },
  mesh: { arealGsm: [110, 150, 200], thicknessMm: [0.4, 0.55, 0.8], bendingUNm: [2, 6, 25], stiffOverSoft: [1.1, 2, 4], shear: [30, 100, 400], inPlane: [200, 800, 3000] },
  spacermesh: { arealGsm: [220, 280, 350], thicknessMm: [2.5, 3, 3.5], bendingUNm: [60, 300, 1300], stiffOverSoft: [1, 1.5, 2.5], shear: [60, 200, 800], inPlane: [100, 400, 1600] },
  web_pp: { arealGsm: [500, 710, 900], thicknessMm: [1.2, 1.6, 2], bendingUNm: [500, 2000, 8000], stiffOverSoft: null, shear: [5000, 20000, 60000], inPlane: [300000, 1000000, 3000000] },
  web_cotton: { arealGsm: [600, 900, 1200], thicknessMm: [1.5, 2, 2.5], bendingUNm: [150, 500, 2500], stiffOverSoft: null, shear: [2000, 8000, 30000], inPlane: [30000, 100000, 300000] },
  web_strap_leather: { arealGsm: [2900, 3040, 3500], thicknessMm: [3, 3.2, 3.4], bendingUNm: [55000, 120000, 300000], stiffOverSoft: null, shear: null, inPlane: [96000, 256000, 640000] },
} as const satisfies Partial<Record<PresetId, PresetRow>>;

/** A built-in material that is another one in a different weight (to g/m2, with the power of the mass that its bending follows) or thickness (to mm). */
export type ScaledRow = readonly [base: keyof typeof PRESET_ROWS, to: number, power?: number];

/**
 * A weight or thickness of a family of which one row stands above; powers and their reasons: preset-notes.ts.
 * Thickness (one piece of one modulus): mass and in-plane stiffness go with t, B with t^3. Mass m: in-plane and shear stiffness go with m,
 * thickness with m^0.8 (a heavier one is a little denser), B with m^power: 1 free fibres, 3 one piece.
 */
export const SCALED_ROWS: Readonly<Record<Exclude<PresetId, keyof typeof PRESET_ROWS>, ScaledRow>> = {
  chrome_skived: ['chrome16', 0.8],
  veg_skived: ['veg12', 0.8],
  fus_medium: ['fus_light', 50, 2.1],
  fus_woven_light: ['fus_woven', 65, 1.22],
  fus_woven_heavy: ['fus_woven', 150, 1.22],
  fus_knit_light: ['fus_knit', 35, 1.22],
  fus_knit_heavy: ['fus_knit', 90, 1.22],
  fleece_light: ['fleece', 80, 2],
  fleece_heavy: ['fleece', 200, 2],
  "leatherboard0.8": ['leatherboard', 0.8],
  "leatherboard1.6": ['leatherboard', 1.6],
  "fibreboard0.6": ['fibreboard1', 0.6],
  "fibreboard1.5": ['fibreboard1', 1.5],
  felt4: ['felt2', 4],
};
