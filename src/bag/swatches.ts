/** Hides and bolts vary: a material of several swatches, its band measured. */
import { libm, student90 } from '../numerics/index.ts';
import { rigidityFromOverhang } from '../units/index.ts';
import { at } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import type { MaterialForm, SwatchForm } from './schema-stacks.ts';
import type { SwatchRule, Three } from './types.ts';
import { LIMITS } from './words.ts';

export interface SwatchBand {
  readonly count: number;
  readonly rule: SwatchRule;
  /** N*m */ readonly warp: Three;
  readonly weft: Three;
  /** What the band is, beside its figures. */ readonly said: string;
}

const SAID: Readonly<Record<SwatchRule, string>> = { 'min median max': 'softest, median, stiffest', 't interval': "90 % interval for one more by Student's t" };
/** A t interval of two is 6 standard deviations each way. */
const LEAST: Readonly<Record<SwatchRule, number>> = { 'min median max': 2, 't interval': 3 };
const MOST = 100;

/** One swatch's rigidity along warp and weft, N*m, or null with a fault. */
function one(ctx: ParseContext, path: string, form: SwatchForm, arealMass: number | null): readonly [number, number] | null {
  const given = (['overhang', 'bending'] as const).filter((k) => form[k] !== undefined);
  const mass = form.mass === undefined ? arealMass : ctx.quantity(at(path, 'mass'), form.mass, 'arealMass', { min: 0, above: true, max: LIMITS.arealMass });
  if (given.length !== 1) {
    ctx.faults.addText(path, given.length === 0 ? 'a swatch without overhang or bending' : 'a swatch with overhang and bending', 'exactly one of them');
    return null;
  }
  const key = given[0]!;
  const hung = key === 'overhang';
  const written = form[key]!;
  const both = typeof written === 'object' ? ([written.warp, written.weft] as const) : ([written, written] as const);
  const [warp, weft] = both.map((w, i) => {
    const where = typeof written === 'object' ? at(at(path, key), i === 0 ? 'warp' : 'weft') : at(path, key);
    const v = ctx.quantity(where, w, hung ? 'length' : 'bending', { min: 0, above: true, max: hung ? LIMITS.length : LIMITS.bending });
    return v === null || mass === null ? null : hung ? rigidityFromOverhang(v, mass) : v;
  });
  return warp == null || weft == null ? null : [warp, weft];
}

function bandOf(rule: SwatchRule, values: readonly number[]): Three {
  const n = values.length;
  if (rule === 'min median max') {
    const sorted = [...values].sort((a, b) => a - b);
    const half = n >> 1;
    return [sorted[0]!, n % 2 === 1 ? sorted[half]! : Math.sqrt(sorted[half - 1]! * sorted[half]!), sorted[n - 1]!];
  }
  const logs = values.map(libm.log);
  const mean = logs.reduce((s, v) => s + v, 0) / n;
  const spread = Math.sqrt(logs.reduce((s, v) => s + libm.square(v - mean), 0) / (n - 1));
  const reach = student90(n - 1) * spread * Math.sqrt(1 + 1 / n);
  return [libm.exp(mean - reach), libm.exp(mean), libm.exp(mean + reach)];
}

/**
 * The band of a material's "swatches", N*m along warp and weft: the softest, the median (of an even number the geometric mean of the middle two) and the stiffest; or
 * mean and 90 % prediction interval of one more swatch by Student's t on the logarithms. Null where there are none, or after faults.
 */
export function swatchBand(ctx: ParseContext, path: string, form: MaterialForm, mass: number | null): SwatchBand | null {
  const rule = form.rule ?? 'min median max';
  if (form.swatches === undefined) {
    if (form.rule !== undefined) ctx.faults.add(at(path, 'rule'), form.rule, 'a rule only beside "swatches"');
    return null;
  }
  const count = form.swatches.length;
  if (count < LEAST[rule] || count > MOST)
    ctx.faults.addText(at(path, 'swatches'), `${count} ${count === 1 ? 'swatch' : 'swatches'}`, `${LEAST[rule]} to ${MOST} of them for "${rule}"`);
  const read = form.swatches.slice(0, MOST).map((s, i) => one(ctx, at(at(path, 'swatches'), i), s, mass));
  const all = read.filter((b) => b !== null);
  if (all.length < read.length || count < LEAST[rule]) return null;
  const along = (i: 0 | 1): Three =>
    bandOf(
      rule,
      all.map((b) => b[i]),
    );
  return { count, rule, warp: along(0), weft: along(1), said: `${count} swatches: ${SAID[rule]}` };
}
