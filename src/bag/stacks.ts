/** Written materials and stacks to SI records. */
import { libm } from '../numerics/index.ts';
import { GRAVITY, readQuantity, readRange } from '../units/index.ts';
import { resolveEase } from './ease.ts';
import { at, oneOf } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import type { SizeForm } from './schema-base.ts';
import type { BandedForm, BothWaysForm, DirectForm, LayerForm, MaterialForm, StackForm } from './schema-stacks.ts';
import { swatchBand } from './swatches.ts';
import type { Four, Join, Layer, OwnMaterial, Stack, Three } from './types.ts';
import { LIMITS, PRESET_IDS } from './words.ts';

const MASS = { min: 0, above: true, max: LIMITS.arealMass } as const;
const STIFF = { min: 0, above: true, max: LIMITS.inPlane } as const;
const BEND = { min: 0, above: true, max: LIMITS.bending } as const;
const THICK = { min: 0, max: LIMITS.thickness } as const;

/** Reading error of a home cantilever test, as a fraction of the overhang (so +-15 % in rigidity). Source: common practice. */
const OVERHANG_ERROR = 0.05;

type Kind = 'bending' | 'inPlane' | 'length';

/** Low, mid, high of a written figure. A single figure is spread by `spread` (a fraction) when it is a reading, else taken three times. */
function three(ctx: ParseContext, path: string, written: BandedForm, kind: Kind, spread = 0): Three | null {
  const range = kind === 'bending' ? BEND : kind === 'inPlane' ? STIFF : { min: 0, above: true, max: LIMITS.length };
  if (!Array.isArray(written)) {
    const v = ctx.quantity(path, written as SizeForm, kind, range);
    return v === null ? null : [v * (1 - spread), v, v * (1 + spread)];
  }
  const all = written.map((w, i) => ctx.quantity(at(path, i), w, kind, range));
  if (all.includes(null)) return null;
  const [low, mid, high] = all as [number, number, number];
  if (!(low <= mid && mid <= high)) {
    ctx.faults.add(path, written, 'three figures in rising order: low, middle, high');
    return null;
  }
  return [low, mid, high];
}

function bothWays(ctx: ParseContext, path: string, written: BothWaysForm, kind: Kind, spread: number): { warp: Three; weft: Three } | null {
  if (typeof written === 'object' && !Array.isArray(written)) {
    const warp = three(ctx, at(path, 'warp'), written.warp, kind, spread);
    const weft = three(ctx, at(path, 'weft'), written.weft, kind, spread);
    return warp && weft && { warp, weft };
  }
  const one = three(ctx, path, written as BandedForm, kind, spread);
  return one && { warp: one, weft: one };
}

const cube = (overhang: Three, arealMass: number): Three => overhang.map((o) => arealMass * GRAVITY * libm.cube(o / 2)) as unknown as Three;

/**
 * A material of the file's own, or null after its faults. An overhang at 41.5 deg becomes B = w (O/2)^3 (Peirce 1930); single readings carry
 * the error of a home test: +-5 % in overhang, +-15 % in rigidity.
 */
export function resolveMaterial(ctx: ParseContext, id: string, form: MaterialForm): OwnMaterial | null {
  const path = at('materials', id);
  const { faults } = ctx;
  const before = faults.faults.length;
  const mass = ctx.quantity(at(path, 'mass'), form.mass, 'arealMass', MASS);
  const thickness = form.thickness === undefined ? null : ctx.quantity(at(path, 'thickness'), form.thickness, 'thickness', THICK);
  if (form.like !== undefined && !isPreset(form.like)) faults.add(at(path, 'like'), form.like, oneOf('a built-in material', form.like, PRESET_IDS));
  const bent = (['bending', 'overhang', 'swatches'] as const).filter((k) => form[k] !== undefined);
  if (bent.length > 1) faults.addText(path, `a material with ${bent.join(' and ')}`, 'at most one of them');
  const swatches = swatchBand(ctx, path, form, mass);
  let bend: { warp: Three; weft: Three } | null = swatches;
  if (bent[0] === 'bending') bend = bothWays(ctx, at(path, 'bending'), form.bending!, 'bending', 3 * OVERHANG_ERROR);
  else if (bent[0] === 'overhang') {
    const over = bothWays(ctx, at(path, 'overhang'), form.overhang!, 'length', OVERHANG_ERROR);
    if (over && mass !== null) bend = { warp: cube(over.warp, mass), weft: cube(over.weft, mass) };
  }
  const inPlane = form['in-plane'] === undefined ? null : three(ctx, at(path, 'in-plane'), form['in-plane'], 'inPlane');
  const shear = form.shear === undefined ? null : three(ctx, at(path, 'shear'), form.shear, 'inPlane');
  if (form.poisson !== undefined && !(form.poisson >= 0 && form.poisson < 0.9)) faults.add(at(path, 'poisson'), form.poisson, 'a number from 0 to 0.9');
  if (form.like === undefined) {
    const missing = [
      bent.length === 0 ? 'overhang, bending or swatches' : '',
      ...(['thickness', 'in-plane', 'shear'] as const).map((k) => (form[k] === undefined ? k : '')),
    ].filter((m) => m !== '');
    if (missing.length > 0)
      faults.addText(path, `a material without ${missing.join(', ')}`, 'these figures, or "like": a built-in material that stands in for them');
  }
  if (mass === null || faults.faults.length > before) return null;
  return {
    id,
    name: form.name ?? id,
    like: form.like ?? null,
    arealMass: mass,
    thickness,
    bendingWarp: bend?.warp ?? null,
    bendingWeft: bend?.weft ?? null,
    inPlane,
    shear,
    poisson: form.poisson ?? null,
    source: [swatches?.said, form.source ?? (swatches ? undefined : 'stated in the bag file')].filter((t) => t !== undefined).join('; '),
    measured: form.overhang !== undefined || swatches !== null,
    ...(swatches ? { swatches: { count: swatches.count, rule: swatches.rule } } : {}),
  };
}

const isPreset = (id: string): boolean => (PRESET_IDS as readonly string[]).includes(id);

function layerThickness(
  ctx: ParseContext,
  path: string,
  written: SizeForm | undefined,
): { thickness: number | null; range: readonly [number, number] | null } | null {
  if (written === undefined) return { thickness: null, range: null };
  const band = typeof written === 'string' ? readRange(written, 'thickness') : null;
  const limits = { min: 0, above: true, max: LIMITS.thickness } as const;
  // Both ends of "3-4 oz" are kept: the low and high runs use them.
  if (band && !readQuantity(String(written), 'thickness').ok) {
    if (band[1] <= limits.max) return { thickness: (band[0] + band[1]) / 2, range: band };
  }
  const value = ctx.quantity(path, written, 'thickness', limits);
  return value === null ? null : { thickness: value, range: null };
}

const JOIN_KEYS = ['material', 'loose', 'fused', 'bonded'] as const;

function layer(ctx: ParseContext, path: string, written: LayerForm, own: ReadonlySet<string>): Layer | null {
  const form = typeof written === 'string' ? { material: written } : written;
  const given = JOIN_KEYS.filter((k) => form[k] !== undefined);
  if (given.length !== 1) {
    ctx.faults.addText(
      path,
      given.length === 0 ? 'a layer without a material' : `a layer with ${given.join(' and ')}`,
      `exactly one of ${JOIN_KEYS.join(', ')}`,
    );
    return null;
  }
  const key = given[0];
  const material = form[key] as string;
  const before = ctx.faults.faults.length;
  const where = typeof written === 'string' ? path : at(path, key);
  if (!own.has(material) && !isPreset(material))
    ctx.faults.add(where, material, oneOf('a material of this bag or a built-in one', material, [...own, ...PRESET_IDS]));
  if (key !== 'material' && form.join !== undefined) ctx.faults.add(at(path, 'join'), form.join, `no join beside "${key}", which says it already`);
  const join: Join = key === 'material' ? (form.join ?? 'loose') : key;
  if (form.bond !== undefined && join !== 'fused') ctx.faults.add(at(path, 'bond'), form.bond, 'a bond only on a fused layer');
  if (form.bond !== undefined && !(form.bond >= 0 && form.bond <= 1)) ctx.faults.add(at(path, 'bond'), form.bond, 'a number from 0 (loose) to 1 (one piece)');
  const thick = layerThickness(ctx, at(path, 'thickness'), form.thickness);
  const angle = form.angle === undefined ? 0 : ctx.size(at(path, 'angle'), form.angle, 'angle', { min: -2 * Math.PI, max: 2 * Math.PI });
  const ease = resolveEase(ctx, path, form, join);
  const inset = form.inset === undefined ? null : ctx.quantity(at(path, 'inset'), form.inset, 'length', { min: 0, max: LIMITS.allowance });
  if (form.inset !== undefined && form['in seams'] === 'caught')
    ctx.faults.add(at(path, 'inset'), form.inset, 'no inset of a layer that is caught: it runs into the seam');
  if (!thick || angle === null || ctx.faults.faults.length > before) return null;
  return {
    material,
    thickness: thick.thickness,
    thicknessRange: thick.range,
    join,
    bond: form.bond ?? null,
    angle,
    ...(ease ? { ease } : {}),
    ...(form['in seams'] ? { inSeams: form['in seams'] } : {}),
    ...(inset === null ? {} : { inset }),
  };
}

function direct(ctx: ParseContext, path: string, name: string, form: DirectForm): Stack | null {
  const mass = ctx.quantity(at(path, 'mass'), form.mass, 'arealMass', MASS);
  const thickness = form.thickness === undefined ? 0 : ctx.quantity(at(path, 'thickness'), form.thickness, 'thickness', THICK);
  const four = (letter: 'D' | 'C', kind: 'bending' | 'inPlane'): Four | null => {
    const range = kind === 'bending' ? BEND : STIFF;
    const key = (n: string) => `${letter}${n}` as keyof DirectForm;
    const main = ['11', '22', '66'].map((n) => ctx.quantity(at(path, key(n)), form[key(n)] as SizeForm, kind, range));
    const coupling =
      form[key('12')] === undefined ? 0 : ctx.quantity(at(path, key('12')), form[key('12')] as SizeForm, kind, { min: -range.max, max: range.max });
    if (main.includes(null) || coupling === null) return null;
    const [a, b, twist] = main as [number, number, number];
    // Otherwise some bending or stretching would give energy away and the sheet would fly apart.
    if (coupling * coupling >= a * b) {
      ctx.faults.add(at(path, key('12')), form[key('12')], `less than the geometric mean of ${key('11')} and ${key('22')}`);
      return null;
    }
    return [a, b, coupling, twist];
  };
  const bending = four('D', 'bending');
  const inPlane = four('C', 'inPlane');
  const angle = form.angle === undefined ? 0 : ctx.size(at(path, 'angle'), form.angle, 'angle', { min: -2 * Math.PI, max: 2 * Math.PI });
  if (mass === null || thickness === null || !bending || !inPlane || angle === null) return null;
  return { name, kind: 'direct', arealMass: mass, thickness, bending, inPlane, angle, source: form.source ?? null };
}

/** A stack, or null after its faults. Parameters: name and written form; names of the file's own materials (broken ones included). */
export function resolveStack(ctx: ParseContext, name: string, form: StackForm, own: ReadonlySet<string>): Stack | null {
  const path = at('stacks', name);
  if (!Array.isArray(form)) return direct(ctx, path, name, form as DirectForm);
  if (form.length === 0 || form.length > 20) {
    ctx.faults.addText(path, `${form.length} layers`, 'one to twenty layers');
    return null;
  }
  const layers = form.map((l, i) => layer(ctx, at(path, i), l, own));
  if (layers[0]?.ease) ctx.faults.addText(at(at(path, 0), 'ease'), 'ease on the first layer', 'an ease only on a layer behind the first, which is the panel');
  if (layers[0]?.inset)
    ctx.faults.addText(at(at(path, 0), 'inset'), 'an inset of the first layer', 'none: the first layer is the shell, which is what a seam joins');
  if (layers[0]?.inSeams === 'cut out')
    ctx.faults.add(at(at(path, 0), 'in seams'), 'cut out', '"caught": the first layer is the shell, which is what a seam joins');
  return layers.includes(null) ? null : { name, kind: 'layers', layers: layers as Layer[] };
}
