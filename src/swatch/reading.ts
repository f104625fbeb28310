/** Readings at the table -> a material: areal mass, rigidity lengthwise, crosswise and on the bias, with the spread that the readings allow. */

import type { Four, Three } from '../bag/types.ts';
import { fromStrips, materialBands, twistFromBias } from '../material/index.ts';
import { libm } from '../numerics/index.ts';
import { GRAVITY, rigidityFromBendingLength, rigidityFromOverhang, rigidityFromTipDrop } from '../units/index.ts';
import { type CornerResult, cornerResult } from './corner-reading.ts';
import { cantileverReadings } from './friction.ts';
import { cantileverFromSlope } from './published.ts';
import { LOOP_LOADS, loopReading, mm } from './ranges.ts';
import { DIRECTIONS, type Direction, type Method, type Readings, type StripReading } from './readings.ts';

/** Error of one careful home reading of an overhang, as a part of it; shrinks with the root of the repeats. Source: common practice. */
const HOME = 0.05;
/** Relative error above which a reading is said to limit the result. */
const LIMIT = 0.05;

/** What the readings of one direction come to. */
export interface DirectionResult {
  readonly direction: Direction;
  readonly methods: readonly Method[];
  readonly count: number;
  /** N*m */ readonly rigidity: Three;
  /** Overhang at 41.5 deg that a strip of this rigidity has, m. */ readonly overhang: Three;
  /** Back over face, in rigidity; null where only one side was read. */ readonly backOverFace: number | null;
  /** Relative error taken for the overhang. */ readonly error: number;
}

/** A material made of readings, with its error bars. */
export interface SwatchMaterial {
  readonly readings: Readings;
  /** kg/m2 */ readonly arealMass: number;
  /** Relative error of the areal mass, from scale and ruler. */ readonly massError: number;
  readonly directions: readonly DirectionResult[];
  /** D of the middle figures, N*m; its twist from the bias strip where there is one that fits, else null in `twist`. */ readonly bending: Four | null;
  /** The hinge of a sewn corner, where one was read. */ readonly corner?: CornerResult;
  readonly warnings: readonly string[];
}

interface Read {
  readonly reading: StripReading;
  readonly rigidity: number;
  /** Relative error of the rigidity from the ruler's half division. */ readonly ruled: number;
  /** Relative error of the rigidity from turning another tester's figure into this one. */ readonly convert?: number;
}

/**
 * A material from readings. Per direction: mean rigidity over repeats and both faces; low and high from the larger of the readings' own spread and 5 %
 * of the overhang over the root of their number (a home reading), the ruler's half division, and the error of the mass.
 * Formulas: m = M/(a b); overhang B = w (O/2)^3; tip drop B = w L^4/(8 d), d < L/10; heart and pear loop: exact elastica inverted; photo: B = w c^3.
 * D66 from the bias strip: 4/B45 = S11 + S22 + 2 S12 + 1/D66 (twistFromBias). Poisson's ratio as the preset `like`.
 * Assumes readings that parseReadings let pass. Source: Peirce 1930; common practice.
 */
export function swatchMaterial(readings: Readings): SwatchMaterial {
  const warnings: string[] = [];
  const [a, b] = readings.sides;
  const arealMass = readings.mass / (a * b);
  const scaleError = readings.scale / 2 / readings.mass;
  const massError = libm.hypot(scaleError, readings.ruler / 2 / a, readings.ruler / 2 / b);
  if (massError > LIMIT / 2)
    warnings.push(
      `the ${scaleError > massError / 2 ? 'scale' : 'ruler'} limits the mass to ${percent(massError)}, which goes straight into the rigidity: weigh a larger piece (30 x 30 cm) or several at once`,
    );
  const directions = DIRECTIONS.flatMap((d) => {
    const strips = readings.strips.filter((s) => s.direction === d);
    return strips.length === 0 ? [] : [combined(d, strips, readings, arealMass, massError, warnings)];
  });
  const corner = readings.corner && cornerResult(readings.corner, readings.ruler, arealMass, directions);
  const bending = fullBending(readings, directions, warnings);
  return { readings, arealMass, massError, directions, bending, ...(corner ? { corner } : {}), warnings: [...warnings, ...(corner?.warnings ?? [])] };
}

function combined(d: Direction, strips: readonly StripReading[], r: Readings, m: number, massError: number, warnings: string[]): DirectionResult {
  const reads = strips.map((s) => readOne(s, r, m));
  const mid = mean(reads.map((q) => q.rigidity));
  const side = (name: 'face' | 'back') => reads.filter((q) => q.reading.side === name).map((q) => q.rigidity);
  const [face, back] = [side('face'), side('back')];
  const backOverFace = face.length > 0 && back.length > 0 ? mean(back) / mean(face) : null;
  if (backOverFace !== null && Math.abs(libm.log(backOverFace)) > libm.log(1.3))
    warnings.push(`${d}: face and back differ by ${percent(Math.abs(backOverFace - 1))} in rigidity (the cloth curls); their mean is taken`);
  // In overhang, of which rigidity is the cube.
  const spread = Math.max(...reads.map((q) => Math.abs(libm.cbrt(q.rigidity / mid) - 1)));
  const home = libm.norm(strips.map((q) => q.error ?? HOME)) / reads.length;
  const ruled = mean(reads.map((q) => q.ruled)) / 3;
  const convert = Math.max(...reads.map((q) => libm.cbrt(1 + (q.convert ?? 0)) - 1));
  const error = Math.min(0.5, libm.norm([Math.max(spread, home), ruled, convert, massError / 3]));
  const slopes = strips.filter((q) => q.method === 'pure bending');
  if (slopes.length > 0) warnings.push(frictionWords(d, slopes[0], m));
  if (ruled > LIMIT / 3) warnings.push(`${d}: the ruler's ${mm(r.ruler)} divisions alone leave ${percent(3 * ruled)} in rigidity`);
  if (strips.length === 1 && strips[0]!.method === 'photo') warnings.push(`${d}: one picture only; take both faces and both ends, which differ in most cloths`);
  else if (reads.length === 1 && slopes.length === 0) warnings.push(`${d}: one reading only; +-5 % in overhang is +-15 % in rigidity. Repeat it on both faces`);
  if (spread > 0.1) warnings.push(`${d}: the readings differ by up to ${percent(spread)} in overhang`);
  const rigidity: Three = [mid * libm.cube(1 - error), mid, mid * libm.cube(1 + error)];
  const overhang = rigidity.map((B) => 2 * libm.cbrt(B / (m * GRAVITY))) as unknown as Three;
  return { direction: d, methods: [...new Set(strips.map((s) => s.method))], count: reads.length, rigidity, overhang, backOverFace, error };
}

function readOne(s: StripReading, r: Readings, m: number): Read {
  const half = r.ruler / 2;
  if (s.method === 'overhang') return { reading: s, rigidity: rigidityFromOverhang(s.length, m), ruled: (3 * half) / s.length };
  if (s.method === 'photo') return { reading: s, rigidity: rigidityFromBendingLength(m, s.length), ruled: 0 };
  if (s.method === 'tip drop')
    return { reading: s, rigidity: rigidityFromTipDrop(m, s.length, s.value), ruled: libm.hypot(half / s.value, (4 * half) / s.length) };
  if (s.method === 'pure bending') {
    const [low, mid, high] = fromPureBending(s, m);
    return { reading: s, rigidity: mid, ruled: 0, convert: Math.max(high / mid, mid / low) - 1 };
  }
  const kind = s.method === 'pear loop' ? 'pear' : 'heart';
  const K = loadOfLoop(kind, s.value / s.length);
  const step = half / s.length;
  const ruled = Math.abs(libm.log(loadOfLoop(kind, s.value / s.length + step) / loadOfLoop(kind, s.value / s.length - step))) / 2;
  return { reading: s, rigidity: (m * GRAVITY * libm.cube(s.length)) / K, ruled };
}

/**
 * Rigidity that a hanging strip shows, low / mid / high, N*m, from a pure-bending test: from its slope, as though the yarns slid freely, to the reading of a
 * strip that is bent up for the first time against the whole of its friction; between them their geometric mean. Without the hysteresis the published range.
 */
function fromPureBending(s: StripReading, m: number): Three {
  if (s.hysteresis === null || s.hysteresis === undefined) return cantileverFromSlope(s.value);
  const { bentUp } = cantileverReadings(s.value, s.hysteresis, m);
  return [s.value, Math.sqrt(s.value * bentUp), bentUp];
}

/** What friction makes of a pure-bending reading, in words. */
function frictionWords(d: Direction, s: StripReading, m: number): string {
  if (s.hysteresis === null || s.hysteresis === undefined)
    return `${d}: a pure-bending slope leaves out the friction of the yarns; a hanging strip reads 1 to 2.8 times as much, 1.7 is taken. With its hysteresis 2HB the range is this cloth's own`;
  const { bentUp, letBack } = cantileverReadings(s.value, s.hysteresis, m);
  const times = (B: number) => Number((B / s.value).toPrecision(2));
  return `${d}: a pure-bending slope leaves out the friction of the yarns (2HB); pushed out over an edge this cloth reads up to ${times(bentUp)} times the slope, bent further and let back down to ${times(letBack)} times; 1 to ${times(bentUp)} is taken, ${times(Math.sqrt(s.value * bentUp))} as the middle`;
}

/** Load w L^3/B of a hanging loop from its height (heart) or width (pear) over L; the ends of LOOP_LOADS stand for what lies beyond. */
function loadOfLoop(kind: keyof typeof LOOP_LOADS, read: number): number {
  const miss = (logK: number): number => (loopReading(kind, libm.exp(logK)) ?? Number.POSITIVE_INFINITY) - read;
  let [a, b] = [libm.log(LOOP_LOADS[kind][0]), libm.log(LOOP_LOADS[kind][1])];
  let [missA, missB] = [miss(a), miss(b)];
  if (missA * missB >= 0) return libm.exp(Math.abs(missA) < Math.abs(missB) ? a : b);
  // Regula falsi, the end that stays halved (Illinois): each figure is a whole ladder of loads, and this needs a third of what bisection does.
  for (let i = 0; i < 20; i++) {
    const c = (a * missB - b * missA) / (missB - missA);
    const missC = miss(c);
    if (missC * missB < 0) [a, missA] = [b, missB];
    else missA /= 2;
    [b, missB] = [c, missC];
    if (Math.abs(missC) < 1e-8) break;
  }
  return libm.exp(b);
}

/** The middle figures as D, when there is a bias strip that warp and weft allow. */
function fullBending(r: Readings, directions: readonly DirectionResult[], warnings: string[]): Four | null {
  const mid = (d: Direction) => directions.find((q) => q.direction === d)?.rigidity[1];
  const [warp, weft, bias] = [mid('warp'), mid('weft'), mid('bias')];
  if (warp === undefined || weft === undefined) return null;
  if (bias === undefined) {
    warnings.push('no bias strip: the twisting rigidity is an estimate');
    return null;
  }
  const nu = materialBands(r.like)?.poisson ?? 0;
  const [d11, d22, d12] = fromStrips(warp, weft, nu, 1);
  const twist = twistFromBias(d11, d22, d12, bias);
  if (twist === null) {
    warnings.push('the bias strip reads stiffer than its warp and weft allow: test it again; the twisting rigidity is an estimate until then');
    return null;
  }
  return [d11, d22, d12, twist];
}

const mean = (list: readonly number[]): number => list.reduce((s, v) => s + v, 0) / list.length;
const percent = (part: number): string => `${Number((100 * part).toPrecision(2))} %`;
